"""Flights with something wrong, what their changes lead back to, and the promise that nothing is lost."""

from dataclasses import replace
from functools import cache

from tests.aircraft.files import changed, day_sector_text
from tests.flight.flights import alder, day_sector, edit
from wetwing.flight.clock import seconds
from wetwing.flight.fly import fly
from wetwing.flight.record import Change, Flight
from wetwing.flight.script import Script, parse_script, with_edits

ATMOSPHERE_BAR = 1.01325
GRAVITY_M_S2 = 9.80665
FOOT_M = 0.3048
POLARISATION_M3_KG = 0.335e-3
"""C of the Clausius-Mossotti relation, 0.335 cm³/g."""


@cache
def flown_as(*edits: str, **changes: float) -> Flight:
    """The demonstration flight with these edits, and these fields of its script changed."""
    script = replace(day_sector(), **changes)  # type: ignore[arg-type]
    return fly(alder(), with_edits(script, tuple(edit(text) for text in edits), alder()))


def scripted(*troubles: str) -> Script:
    """The demonstration script with these rows of troubles."""
    title = 'title = "Day sector"'
    text = changed(day_sector_text(), (title, f"{title}\ntroubles = [{', '.join(troubles)}]"))
    return parse_script(text, "day.toml", alder())


@cache
def flown_with(*troubles: str) -> Flight:
    """The demonstration flight with these rows of troubles in its script."""
    return fly(alder(), scripted(*troubles))


def looks(*times: str) -> tuple[str, ...]:
    """Edits that change nothing: the record then has a keyframe at each of these times, so a figure there is
    none between two others.
    """
    return tuple(f"{time} apu-run=off" for time in times)


def at_s(time: str) -> float:
    """Seconds from `h:mm:ss`."""
    return seconds(time, "a test's time")


def value(flight: Flight, quantity: str, time: str | float) -> float:
    """A quantity at a time, `h:mm:ss` or seconds."""
    return flight.quantity(quantity, at_s(time) if isinstance(time, str) else time)


def gained(flight: Flight, quantity: str, start: str | float, end: str | float) -> float:
    """What a quantity gains between two times."""
    return value(flight, quantity, end) - value(flight, quantity, start)


def led_by(flight: Flight, change: Change) -> set[str]:
    """Parts of all the changes that led to a change, itself included."""
    seen: set[int] = set()
    waiting = list(change.reason.causes)
    while waiting:
        index = waiting.pop()
        if index not in seen:
            seen.add(index)
            waiting += flight.changes[index].reason.causes
    return {change.part, *(flight.changes[index].part for index in seen)}


def alerts(flight: Flight, since_s: float = 0.0) -> list[str]:
    """Names of the alerts that sound, in order of their first sounding."""
    found = [
        change.part
        for change in flight.changes
        if flight.aircraft.parts[change.part].kind == "alert"
        and change.after == "on"
        and change.time_s >= since_s
    ]
    return list(dict.fromkeys(found))


def density_kg_m3(celsius: float, at_15c: float = 804.0) -> float:
    """Density of fuel: it falls by 0.74 kg/m³ a kelvin."""
    return at_15c - 0.74 * (celsius - 15.0)


def ambient_bar(altitude_ft: float) -> float:
    """Pressure of the standard atmosphere, up to 11 km and a little above."""
    metres: float = altitude_ft * FOOT_M
    if metres <= 11_000.0:
        found: float = ATMOSPHERE_BAR * (1.0 - 0.0065 * metres / 288.15) ** 5.25588
        return found
    above: float = 0.2233605 * ATMOSPHERE_BAR * 2.718281828459045 ** (-(metres - 11_000.0) / 6341.62)
    return above


def assert_balanced(flight: Flight) -> None:
    """Loaded + uplifted = on board + burned + vented + leaked + discharged, at every keyframe."""
    loaded_kg = sum(tank.actual_kg for tank in flight.script.tanks.values())
    went = ("on_board", "burned", "vented", "leaked", "discharged")
    columns = [flight.quantities[f"total.{name}_kg"] for name in went]
    for k, uplifted_kg in enumerate(flight.quantities["total.uplifted_kg"]):
        came = loaded_kg + uplifted_kg
        is_or_went = sum(column[k] for column in columns)
        assert abs(came - is_or_went) <= 1e-9 * came, f"{came - is_or_went} kg lost at {flight.time_s[k]} s"

"""A flight phase by phase in figures: for aircraft that fly scripts of their own."""

from dataclasses import dataclass

from wetwing.flight.record import Flight
from wetwing.teach.differences.figures import marked
from wetwing.teach.words import listed, number, span

SAMPLES = 40
MOSTLY = 0.25
"""The share of a phase for which a pump has to deliver before its tank counts as feeding in it."""


@dataclass(frozen=True, slots=True)
class Stage:
    """One phase: its name, and its figures in words with marks, in the order of `HEADS`."""

    phase: str
    label: str
    figures: tuple[str, ...]


HEADS = (
    "lasts",
    "burned",
    "on board at its end",
    "highest",
    "coldest fuel",
    "balance",
    "pumps deliver from",
)


def stages(flight: Flight) -> list[Stage]:
    """Each phase of a flight in figures."""
    starts = [phase.start_s for phase in flight.phases]
    ends = [*starts[1:], flight.duration_s]
    return [
        Stage(phase.name, phase.label, _figures(flight, phase.start_s, min(end_s, flight.duration_s)))
        for phase, end_s in zip(flight.phases, ends, strict=True)
        if phase.start_s < flight.duration_s
    ]


def _figures(flight: Flight, start_s: float, end_s: float) -> tuple[str, ...]:
    last_s = max(start_s, end_s - 0.001)
    times = [start_s + (last_s - start_s) * step / SAMPLES for step in range(SAMPLES + 1)]
    inside = [start_s, *(time_s for time_s in flight.time_s if start_s < time_s < last_s), last_s]
    burned_kg = flight.quantity("total.burned_kg", last_s) - flight.quantity("total.burned_kg", start_s)
    balance = [flight.quantity("flight.cg_percent", time_s) for time_s in inside]
    low, high = min(balance), max(balance)
    return (
        span(end_s - start_s),
        _rounded(burned_kg, "kg"),
        _rounded(flight.quantity("total.on_board_kg", last_s), "kg"),
        _rounded(max(flight.quantity("flight.altitude_ft", time_s) for time_s in inside), "ft"),
        _coldest(flight, inside),
        f"{{{low:.1f} %}} to {{{high:.1f} %}}",
        _feeding(flight, times),
    )


def _rounded(value: float, unit: str) -> str:
    return marked(float(round(value / 10.0)) * 10.0, unit)


def _coldest(flight: Flight, times: list[float]) -> str:
    found = min(
        (flight.quantity(f"{tank.name}.temperature_c", time_s), tank.label)
        for tank in flight.aircraft.tanks
        for time_s in times
    )
    return f"{{{number(found[0])} °C}}, {found[1]}"


def _feeding(flight: Flight, times: list[float]) -> str:
    """The tanks from which a pump delivers for a good part of a phase."""
    tanks: dict[str, None] = {}
    for pump in flight.aircraft.pumps:
        share = sum(flight.state(pump.name, time_s) == "delivering" for time_s in times) / len(times)
        if pump.tank and share >= MOSTLY:
            tanks.setdefault(flight.aircraft.parts[pump.tank].label)
    return listed(list(tanks)) or "no tank"

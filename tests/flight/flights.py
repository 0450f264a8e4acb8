"""Flights for tests, named for what is done in them, and the promises that every flight keeps."""

from dataclasses import replace
from functools import cache
from itertools import pairwise

from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.clock import seconds
from wetwing.flight.fly import fly
from wetwing.flight.record import Change, Flight
from wetwing.flight.script import Edit, Script, read_script, with_edits


@cache
def alder() -> Aircraft:
    return read_aircraft("alder-165")


@cache
def day_sector() -> Script:
    return read_script("day-sector", alder())


def edit(text: str) -> Edit:
    """An edit from `h:mm:ss part=state`."""
    time, _, setting = text.partition(" ")
    part, _, state = setting.partition("=")
    return Edit(seconds(time, "a test's edit"), part, state)


@cache
def flown(*edits: str, density_15c_kg_m3: float | None = None) -> Flight:
    """The demonstration flight, with these edits (`h:mm:ss part=state`)."""
    script = with_edits(day_sector(), tuple(edit(text) for text in edits), alder())
    if density_15c_kg_m3:
        script = replace(script, density_15c_kg_m3=density_15c_kg_m3)
    return fly(alder(), script)


def switched(times: int) -> Script:
    """The demonstration flight in which the cross-feed is opened and shut so often."""
    edits = (
        Edit(5000.0 + 18000.0 * i / times, "cross-feed", "open" if i % 2 == 0 else "shut")
        for i in range(times)
    )
    return with_edits(day_sector(), tuple(edits), alder())


def turns(flight: Flight, part: str, after: str | None = None, since_s: float = 0.0) -> list[Change]:
    """A part's changes since a time, in order; only those into `after` where one is given."""
    flight.indices(part)  # an unknown part is the test's slip, not an empty answer
    return [
        change
        for change in flight.changes
        if change.part == part and change.time_s >= since_s and after in (None, change.after)
    ]


def turn(flight: Flight, part: str, after: str, since_s: float = 0.0) -> Change:
    """A part's first change into a state since a time; there has to be one."""
    found = turns(flight, part, after, since_s)
    assert found, f"{part} never becomes {after}"
    return found[0]


def phase_s(flight: Flight, name: str) -> float:
    return next(phase.start_s for phase in flight.phases if phase.name == name)


def hold(flight: Flight, number: int = 1) -> tuple[Change, Change]:
    """The first, second ... return-flow hold: the change that begins it and the one that ends it."""
    sides = ("return-flow-hold-left", "return-flow-hold-right")
    begun = [c for c in flight.changes if c.part in sides and c.after == "active"][number - 1]
    return begun, turn(flight, begun.part, "inactive", begun.time_s)


def chain(flight: Flight, change: Change) -> list[Change]:
    """A change and all that led to it."""
    found, waiting = [], [change]
    while waiting:
        found.append(waiting.pop(0))
        waiting += [flight.changes[i] for i in found[-1].reason.causes]
    return found


WENT = ("burned", "vented", "leaked", "discharged")


def assert_conserved(flight: Flight) -> None:
    """Loaded + uplifted = on board + burned + vented + leaked + discharged, at every keyframe; on board is in
    tanks and in the vents' surge spaces.
    """
    total = {name: flight.quantities[f"total.{name}_kg"] for name in ("on_board", "uplifted", *WENT)}
    loaded_kg = sum(tank.actual_kg for tank in flight.script.tanks.values())
    held = [flight.quantities[f"{tank.name}.actual_kg"] for tank in flight.aircraft.tanks]
    held += [flight.quantities[f"{vent.name}.surge_kg"] for vent in flight.aircraft.vents]
    for k, time_s in enumerate(flight.time_s):
        came = loaded_kg + total["uplifted"][k]
        is_or_went = total["on_board"][k] + sum(total[name][k] for name in WENT)
        assert abs(came - is_or_went) <= 1e-9 * came, f"{came - is_or_went} kg lost at {time_s} s"
        assert abs(sum(column[k] for column in held) - total["on_board"][k]) <= 1e-9 * came


def assert_tanks_hold_what_tanks_can(flight: Flight) -> None:
    """No mass below nothing, none above what the overflow lets stand."""
    for tank in flight.aircraft.tanks:
        assert min(flight.quantities[f"{tank.name}.actual_kg"]) >= 0.0, tank.name
        assert max(flight.quantities[f"{tank.name}.volume_l"]) <= tank.overflow.at_l + 0.1, tank.name
        assert min(flight.quantities[f"{tank.name}.gauged_kg"]) >= 0.0, tank.name
    for vent in flight.aircraft.vents:
        column = flight.quantities[f"{vent.name}.surge_kg"]
        assert min(column) >= -1e-6, vent.name  # its end is an event, found within a hair
        assert max(column) <= 1e-3 * vent.surge_l * flight.script.density_15c_kg_m3 + 0.1, vent.name


def assert_in_order(flight: Flight) -> None:
    """Times run forward, three equal ones nowhere; causes are earlier changes; each change starts where the
    part stands.
    """
    times = flight.time_s
    assert times[0] == 0.0
    assert times[-1] == flight.duration_s
    assert all(a <= b for a, b in pairwise(times))
    states = dict(flight.start_states)
    last_s = 0.0
    for index, change in enumerate(flight.changes):
        assert change.time_s >= last_s
        last_s = change.time_s
        assert states[change.part] == change.before != change.after
        assert all(0 <= cause < index for cause in change.reason.causes), change
        allowed = flight.aircraft.parts[change.part].states
        assert not allowed or change.after in allowed, change
        states[change.part] = change.after


def assert_sums_only_grow(flight: Flight) -> None:
    """What came and what went never falls."""
    for name in ("uplifted", *WENT):
        column = flight.quantities[f"total.{name}_kg"]
        assert all(a <= b + 1e-9 for a, b in pairwise(column)), name


def assert_ends(flight: Flight) -> None:
    """At its script's end, or before it with a reason."""
    if flight.ended is None:
        assert flight.duration_s == flight.script.ends_s
    else:
        assert flight.ended.time_s == flight.duration_s < flight.script.ends_s
        assert flight.ended.sentence.endswith(".")


def assert_sound(flight: Flight) -> None:
    """All that every flight promises."""
    assert_conserved(flight)
    assert_tanks_hold_what_tanks_can(flight)
    assert_in_order(flight)
    assert_sums_only_grow(flight)
    assert_ends(flight)

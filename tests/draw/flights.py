"""The demonstration flight, flown once for all tests of the drawing."""

from functools import cache

from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight
from wetwing.flight.script import Edit, read_script, with_edits


@cache
def alder() -> Aircraft:
    return read_aircraft("alder-165")


@cache
def day_sector(*edits: tuple[float, str, str]) -> Flight:
    script = read_script("day-sector", alder())
    if edits:
        script = with_edits(script, tuple(Edit(*edit) for edit in edits), alder())
    return fly(alder(), script)


@cache
def telling_moments() -> tuple[float, ...]:
    """A moment in each phase, and just after every change of a pump, a valve, a vent or a tank."""
    flight = day_sector()
    kinds = {"pump", "valve", "vent", "tank", "supply", "engine", "apu"}
    parts = {name for name, part in flight.aircraft.parts.items() if part.kind in kinds}
    times = {phase.start_s for phase in flight.phases} | {flight.duration_s}
    times |= {change.time_s + 1.0 for change in flight.changes if change.part in parts}
    return tuple(sorted(time for time in times if time <= flight.duration_s))

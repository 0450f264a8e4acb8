"""The flights that the pages show, flown here: what a panel must show is what these say."""

from functools import cache

from wetwing.aircraft.read import read_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.record import Change, Flight
from wetwing.flight.script import Edit, read_script, with_edits

AIRCRAFT = "alder-165"
SCRIPT = "day-sector"


@cache
def flown(*edits: Edit) -> Flight:
    """The demonstration flight, with edits."""
    aircraft = read_aircraft(AIRCRAFT)
    return fly(aircraft, with_edits(read_script(SCRIPT, aircraft), edits, aircraft))


def first(flight: Flight, part: str, after: str, from_s: float = 0.0) -> Change:
    """The first change of a part into a state from a time on."""
    return next(c for c in flight.changes if c.part == part and c.after == after and c.time_s >= from_s)


def first_hold() -> Change:
    """The moment at which return flow first holds the centre."""
    flight = flown()
    return next(c for c in flight.changes if c.part.startswith("return-flow-hold") and c.after == "active")

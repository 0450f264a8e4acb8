"""The flights that the pages show, flown here: what a panel must show is what these say."""

import json
from functools import cache

from wetwing.aircraft.read import read_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.record import Change, Flight
from wetwing.flight.script import Edit, read_script, with_edits

AIRCRAFT = "alder-165"
SCRIPT = "day-sector"


def flown(*edits: Edit) -> Flight:
    """The demonstration flight, with edits."""
    return flown_by(AIRCRAFT, SCRIPT, *edits)


@cache
def flown_by(name: str, script: str, *edits: Edit) -> Flight:
    """A flight of an aircraft of the fleet, with edits."""
    aircraft = read_aircraft(name)
    return fly(aircraft, with_edits(read_script(script, aircraft), edits, aircraft))


def flown_in(record: str) -> Flight:
    """The flight that a record on a page says it is."""
    told = json.loads(record)
    edits = [Edit(edit["time_s"], edit["part"], edit["state"]) for edit in told["edits"]]
    return flown_by(told["aircraft"]["name"], told["script"]["name"], *edits)


def first(flight: Flight, part: str, after: str, from_s: float = 0.0) -> Change:
    """The first change of a part into a state from a time on."""
    return next(c for c in flight.changes if c.part == part and c.after == after and c.time_s >= from_s)


def first_hold() -> Change:
    """The moment at which return flow first holds the centre."""
    flight = flown()
    return next(c for c in flight.changes if c.part.startswith("return-flow-hold") and c.after == "active")

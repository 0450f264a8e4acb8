"""The fleet's normal flights, by aircraft, and what every test of them asks."""

from functools import cache
from itertools import pairwise

from tests.flight.flights import edit, turn
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.record import Change, Flight
from wetwing.flight.script import read_script, with_edits

FLIGHTS = {
    "alder-165": "day-sector",
    "alder-165-b": "day-sector",
    "juniper-285": "juniper-long",
    "rowan-54": "rowan-hop",
}


@cache
def flown(name: str, *edits: str) -> Flight:
    aircraft = read_aircraft(name)
    script = read_script(FLIGHTS[name], aircraft)
    return fly(aircraft, with_edits(script, tuple(edit(text) for text in edits), aircraft))


def airborne_s(flight: Flight) -> tuple[float, float]:
    """When the wheels leave the ground and when they are back."""
    in_the_air = [(a, b) for a, b in pairwise(flight.script.path) if not b.ground]
    return in_the_air[0][0].time_s, in_the_air[-1][1].time_s


def first_start_s(flight: Flight) -> float:
    engines = [engine.name for engine in flight.aircraft.engines]
    return min(turn(flight, name, "starting").time_s for name in engines)


def raised(flight: Flight) -> list[Change]:
    names = {alert.name for alert in flight.aircraft.alerts}
    return [change for change in flight.changes if change.part in names and change.after == "on"]

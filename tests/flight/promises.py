"""All that is promised of any flight whatever, for flights drawn by chance."""

import re
from itertools import pairwise
from math import isfinite

from tests.flight.agreements import assert_flows_fit_states
from tests.flight.flights import assert_sound
from tests.flight.random_scripts import Drawn, cut_short, drawn
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight

KINDS = {"action", "physics", "rule", "trouble"}
_BROKEN = re.compile(r"None|nan|inf\b|\{\}|  | [,.]|\.\.")
_SENTENCE = re.compile(r"[A-Z{].*\.", re.DOTALL)
COLDEST_C, HOTTEST_C = -80.0, 90.0


def assert_numbers(flight: Flight) -> None:
    """Every figure is a number, no user burns less than nothing, no fuel is hotter or colder than can be."""
    for name, column in flight.quantities.items():
        assert len(column) == len(flight.time_s), name
        assert all(map(isfinite, column)), name
    for user in (*flight.aircraft.engines, *flight.aircraft.apus):
        assert min(flight.quantities[f"{user.name}.flow_kg_h"]) >= 0.0, user.name
    for tank in flight.aircraft.tanks:
        column = flight.quantities[f"{tank.name}.temperature_c"]
        assert COLDEST_C < min(column) <= max(column) < HOTTEST_C, tank.name
        share = flight.quantities[f"{tank.name}.air_share"]
        assert 0.0 <= min(share) <= max(share) <= 1.1, tank.name


def assert_reasons(flight: Flight) -> None:
    """No change without a reason that can be read, and none that comes before its causes."""
    for change in flight.changes:
        reason = change.reason
        assert reason.kind in KINDS, change
        assert reason.name, change
        assert reason.sentence.strip(), change
        assert not _BROKEN.search(reason.sentence), change
        assert _SENTENCE.fullmatch(reason.sentence), change
        if reason.kind == "rule":
            assert reason.facts or reason.causes, change
        assert len(set(reason.causes)) == len(reason.causes), change
        for cause in reason.causes:
            assert flight.changes[cause].time_s <= change.time_s, change


def assert_troubles_come_and_go(flight: Flight) -> None:
    """A trouble is told when it comes and when it goes, once each, and only within its times."""
    for trouble in flight.script.troubles:
        turns = [change for change in flight.changes if change.part == trouble.name]
        assert [change.after for change in turns] in ([], ["present"], ["present", "absent"]), trouble
        if turns and trouble.at_s is not None:
            assert turns[0].time_s == trouble.at_s
        if trouble.at_s is not None and trouble.at_s < flight.duration_s:
            assert turns, trouble
        for begun, ended in pairwise(turns):
            if trouble.lasts_s is not None:
                assert abs(ended.time_s - begun.time_s - trouble.lasts_s) < 1e-6


def assert_promises(flight: Flight) -> None:
    """Everything."""
    assert_sound(flight)
    assert_numbers(flight)
    assert_flows_fit_states(flight)
    assert_reasons(flight)
    assert_troubles_come_and_go(flight)


def tried(seed: int) -> tuple[Flight | None, str]:
    """The flight of a number, and what is broken by it; nothing where all promises are kept."""
    found: Drawn = cut_short(drawn(seed))
    flight = None
    try:
        flight = fly(found.aircraft, found.script)
        assert_promises(flight)
    except Exception as fault:
        said = " ".join(str(fault).split())[:300]
        return flight, f"{type(fault).__name__}: {said}\n  {found.told()}"
    return flight, ""


def checked(seed: int) -> str:
    """What is broken by the flight of a number; nothing where all promises are kept."""
    return tried(seed)[1]

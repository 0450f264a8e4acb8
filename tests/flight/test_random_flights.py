"""Any loading, any settings, any troubles at any time, with every aircraft: every promise is kept, and the
first flights are those recorded, to the last bit.

`RANDOM_FLIGHTS=200` in the environment flies that many instead, and `python -m tests.flight.soak` as many as
one likes. Most of them end early: see `cut_short`.
"""

import os

import pytest

from tests.flight.fingerprint import GROUP, GROUPED, assert_as_recorded, group_name, grouped, recorded
from tests.flight.promises import assert_promises, checked, tried
from tests.flight.random_scripts import MOST_TROUBLES, cut_short, drawn, fleet, flights_of
from wetwing.flight.fly import fly
from wetwing.flight.troubles import CATALOGUE

COUNT = int(os.environ.get("RANDOM_FLIGHTS", "2000"))


@pytest.mark.parametrize("first", range(0, COUNT, GROUP))
def test_random_flights_keep_their_promises(first: int) -> None:
    """A group is enough of them to keep a test's own cost small, few enough to share out."""
    flights, said = zip(*map(tried, range(first, min(first + GROUP, COUNT))), strict=True)
    broken = [found for found in said if found]
    assert not broken, "\n".join(broken)
    if first < GROUPED and len(flights) == GROUP:
        known = [line for line in recorded() if line.startswith(group_name(first))]
        assert_as_recorded(known, [grouped(first, flights)])


# A tank drawn below nothing through a check valve; a sum that fell by micrograms at the end of a taxi, and
# one by half a gram as a spill died away; an end for want of engines that came at a script's own end.
ONCE_BROKEN = (2134, 6947, 24989, 26251)


@pytest.mark.parametrize("seed", ONCE_BROKEN)
def test_a_flight_that_once_broke_a_promise_keeps_it(seed: int) -> None:
    whole = drawn(seed)
    assert_promises(fly(whole.aircraft, whole.script))
    assert checked(seed) == ""


def test_a_point_that_leaks_comes_below_ambient_pressure_at_a_keyframe() -> None:
    # Engine 1 leaks after its meter, and lives on suction from a tank that runs dry.
    found = drawn(3112)
    flight = fly(found.aircraft, found.script)
    times, column = flight.time_s, flight.quantities["manifold-left.pressure_bar"]
    leaked = flight.quantities["total.leaked_kg"]
    ends = [k for k in range(1, len(times)) if times[k] > times[k - 1] and column[k - 1] > 1e-6 > column[k]]
    assert any(
        abs(column[k]) < 1e-6 and leaked[k] > leaked[k - 1] and leaked[k + 1] == leaked[k] for k in ends
    )


def test_a_number_makes_the_same_flight_again() -> None:
    assert drawn(17).told() == drawn(17).told()
    assert drawn(17).script == drawn(17).script


def test_chance_reaches_every_aircraft_and_every_kind_of_trouble() -> None:
    flights = [drawn(seed) for seed in range(1500)]
    assert {flight.aircraft.name for flight in flights} == {name for name in fleet() if flights_of(name)}
    troubles = [(f.aircraft.parts[t.part].kind, t.kind) for f in flights for t in f.script.troubles]
    known = {kind: {found.kind for found in kinds} for kind, kinds in CATALOGUE.items()}
    known["control"] = known.pop("control with a number") | known.pop("control with settings")
    for kind, kinds in known.items():
        assert {trouble for part, trouble in troubles if part == kind} == kinds, kind
    assert max(len(flight.script.troubles) for flight in flights) == MOST_TROUBLES


def test_chance_ends_flights_in_every_phase_and_leaves_some_whole() -> None:
    flights = [(drawn(seed), cut_short(drawn(seed))) for seed in range(300)]
    assert 10 < sum(cut.script == whole.script for whole, cut in flights) < 60
    lengths = [(cut.script.ends_s, whole.script.ends_s) for whole, cut in flights if cut != whole]
    assert all(0.0 < cut_s < whole_s for cut_s, whole_s in lengths)
    last = {cut.script.phases[-1].name for whole, cut in flights if cut != whole}
    assert last == {phase.name for whole, _ in flights for phase in whole.script.phases}


def test_a_broken_promise_is_told_with_its_flight(monkeypatch: pytest.MonkeyPatch) -> None:
    def breaks(flight: object) -> None:
        raise AssertionError("a promise")

    monkeypatch.setattr("tests.flight.promises.assert_promises", breaks)
    said = checked(3)
    assert said.startswith("AssertionError: a promise\n  seed 3: ")

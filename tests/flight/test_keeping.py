"""A flight taken up where another stood is the same flight, to the last bit, as one flown from the start."""

from dataclasses import replace

import pytest

from tests.flight.flights import alder, day_sector, edit, flown
from tests.flight.random_scripts import drawn, one_more
from wetwing.flight.fly import Flying, fly
from wetwing.flight.keeping import parts_at_s
from wetwing.flight.record import Flight
from wetwing.flight.script import with_edits

CHAINS = [
    ("1:23:20 centre-feed=manual", "2:30:00 main-left=leak 1500", "2:30:00 main-left=mended"),
    ("3:00:00 cross-feed=open", "3:00:00 main-left-forward=failed", "3:30:00 ac-1=lost"),
    ("1:10:00 probe-main-left-1=frozen", "5:00:00 cross-feed=indication frozen", "5:10:00 cross-feed=open"),
    ("0:03:30 preselect=wrong units", "0:03:30 high-level-main-left=stuck dry"),
    # Of a valve that has moved before.
    ("5:00:00 shut-off-1=indication frozen", "5:10:00 engine-1-run=off", "5:20:00 shut-off-1=mended"),
]


def assert_same(one: Flight, other: Flight) -> None:
    for name in ("time_s", "changes", "commands", "start_states", "start_settings", "ended", "duration_s"):
        assert getattr(one, name) == getattr(other, name), name
    for name, column in one.quantities.items():
        assert other.quantities[name] == column, name


@pytest.mark.parametrize("chain", CHAINS)
def test_edits_one_after_another_give_what_each_gives_from_the_start(chain: tuple[str, ...]) -> None:
    known = flown()
    for count in range(1, len(chain) + 1):
        script = with_edits(day_sector(), tuple(edit(text) for text in chain[:count]), alder())
        taken_up = fly(alder(), script, known)
        assert_same(fly(alder(), script), taken_up)
        known = taken_up
    # And back again: an edit taken away.
    assert_same(flown(), fly(alder(), day_sector(), known))


@pytest.mark.parametrize("seed", range(12))
def test_an_edit_by_chance_of_a_flight_by_chance_gives_what_it_gives_from_the_start(seed: int) -> None:
    plain = drawn(seed)
    edited = one_more(plain)
    first, second = fly(plain.aircraft, plain.script), fly(edited.aircraft, edited.script)
    assert_same(second, fly(edited.aircraft, edited.script, first))
    assert_same(first, fly(plain.aircraft, plain.script, second))


def test_a_flight_split_at_any_rest_and_continued_is_the_same_flight() -> None:
    whole = flown("1:40:00 main-right=leak 900", "2:00:00 cross-feed=open")
    kept = whole.kept
    assert kept is not None
    assert len(kept.rests) > 40
    for rest in kept.rests[::3]:
        assert_same(whole, Flying(alder(), whole.script).go_on(kept, rest))


def test_scripts_part_where_the_first_edit_differs() -> None:
    plain = day_sector()
    once = with_edits(plain, (edit("2:00:00 cross-feed=open"),), alder())
    twice = with_edits(once, (edit("1:00:00 cross-feed=shut"),), alder())
    assert parts_at_s(plain, once) == 7200.0
    assert parts_at_s(once, twice) == 3600.0
    assert parts_at_s(once, once) == float("inf")
    assert parts_at_s(plain, replace(plain, zero_fuel_kg=70000.0)) == -1.0
    assert (
        parts_at_s(plain, with_edits(plain, (edit("2:00:00 cross-feed=indication frozen"),), alder())) == -1.0
    )


def test_nothing_is_taken_from_a_flight_with_another_load() -> None:
    other = replace(day_sector(), zero_fuel_kg=70000.0)
    assert_same(fly(alder(), other), fly(alder(), other, flown()))

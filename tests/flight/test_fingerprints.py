"""Every flight is the one that was recorded, to the last bit, whatever machine and Python flies it."""

import pytest

from tests.flight.coverage import staged
from tests.flight.fingerprint import (
    BY_CHANCE,
    GROUP,
    GROUPED,
    assert_as_recorded,
    by_chance,
    figures,
    group_name,
    lines,
    of_the_staged,
    recorded,
    shipped,
    words,
)
from tests.flight.flights import flown
from tests.flight.random_scripts import fleet, flights_of

ALL = recorded()
RECORDED = ALL[: len(ALL) - GROUPED // GROUP]
"""But for those of `test_random_flights`, which are compared there."""

STAGED = len(staged())
COUNT = len(RECORDED) - STAGED - BY_CHANCE
"""Of those that ship; then come those that are staged, and the rest are drawn by chance."""


def test_flights_that_ship_are_what_they_were_to_the_last_bit() -> None:
    assert_as_recorded(RECORDED[:COUNT], lines(shipped()))


@pytest.mark.parametrize("aircraft", fleet())
def test_staged_flights_are_what_they_were_to_the_last_bit(aircraft: str) -> None:
    mine = [line for line in RECORDED[COUNT:-BY_CHANCE] if line.startswith(f"{aircraft}, ")]
    assert_as_recorded(mine, lines(of_the_staged(aircraft)))


def test_flights_by_chance_are_what_they_were_to_the_last_bit() -> None:
    assert_as_recorded(RECORDED[-BY_CHANCE:], lines(by_chance()))


def test_the_record_tells_flights_apart() -> None:
    rows = [line.split(" | ") for line in RECORDED]
    assert len([name for name in fleet() if flights_of(name)]) <= COUNT
    # Chance may leave a flight as it ships.
    assert len({row[1] for row in rows}) >= len(rows) - 3
    assert len({row[2] for row in rows}) >= len(rows) - 3
    groups = [line.split(" | ") for line in ALL[len(RECORDED) :]]
    assert [row[0] for row in groups] == [group_name(first) for first in range(0, GROUPED, GROUP)]
    assert len({row[1] for row in groups}) == len({row[2] for row in groups}) == len(groups)


def test_another_switch_is_another_flight() -> None:
    plain, other = flown(), flown("7:20:00 apu-run=on")
    assert figures(plain) != figures(other)
    assert words(plain) != words(other)
    assert figures(plain) == figures(flown())

"""Every flight is the one that was recorded, to the last bit, whatever machine and Python flies it."""

from difflib import unified_diff

from tests.flight.fingerprint import BY_CHANCE, FILE, by_chance, figures, lines, shipped, words
from tests.flight.flights import flown
from tests.flight.random_scripts import fleet, flights_of

RECORDED = FILE.read_text(encoding="utf-8").splitlines()[1:]
COUNT = len(RECORDED) - BY_CHANCE
"""Of those that ship; the rest are drawn by chance."""


def assert_as_recorded(recorded: list[str], found: list[str]) -> None:
    difference = "\n".join(unified_diff(recorded, found, "recorded", "flown now", lineterm="", n=0))
    assert not difference, f"if this is meant, run python -m tests.flight.fingerprint\n{difference}"


def test_flights_that_ship_are_what_they_were_to_the_last_bit() -> None:
    assert_as_recorded(RECORDED[:COUNT], lines(shipped()))


def test_flights_by_chance_are_what_they_were_to_the_last_bit() -> None:
    assert_as_recorded(RECORDED[COUNT:], lines(by_chance()))


def test_the_record_tells_flights_apart() -> None:
    rows = [line.split(" | ") for line in RECORDED]
    assert len([name for name in fleet() if flights_of(name)]) <= COUNT
    # Chance may leave a flight as it ships.
    assert len({row[1] for row in rows}) >= len(rows) - 3
    assert len({row[2] for row in rows}) >= len(rows) - 3


def test_another_switch_is_another_flight() -> None:
    plain, other = flown(), flown("7:20:00 apu-run=on")
    assert figures(plain) != figures(other)
    assert words(plain) != words(other)
    assert figures(plain) == figures(flown())

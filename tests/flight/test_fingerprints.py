"""Every flight is the one that was recorded, to the last bit, whatever machine and Python flies it."""

from difflib import unified_diff

from tests.flight.fingerprint import BY_CHANCE, FILE, figures, lines, words
from tests.flight.flights import flown


def test_flights_are_what_they_were_to_the_last_bit() -> None:
    recorded = FILE.read_text(encoding="utf-8").splitlines()
    difference = "\n".join(unified_diff(recorded, lines(), "recorded", "flown now", lineterm="", n=0))
    assert not difference, f"if this is meant, run python -m tests.flight.fingerprint\n{difference}"


def test_the_record_tells_flights_apart() -> None:
    rows = [line.split(" | ") for line in FILE.read_text(encoding="utf-8").splitlines()[1:]]
    assert len(rows) > BY_CHANCE + 3
    # Chance may leave a flight as it ships.
    assert len({row[1] for row in rows}) >= len(rows) - 3
    assert len({row[2] for row in rows}) >= len(rows) - 3


def test_another_switch_is_another_flight() -> None:
    plain, other = flown(), flown("7:20:00 apu-run=on")
    assert figures(plain) != figures(other)
    assert words(plain) != words(other)
    assert figures(plain) == figures(flown())

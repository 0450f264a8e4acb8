"""The demonstration flight's whole log, change by change."""

from difflib import unified_diff

from tests.flight.flights import flown
from tests.flight.golden import FILE, log


def test_the_demonstration_flight_goes_as_recorded() -> None:
    recorded = FILE.read_text(encoding="utf-8").splitlines()
    found = log(flown())
    difference = "\n".join(unified_diff(recorded, found, "recorded", "flown now", lineterm="", n=2))
    assert not difference, f"if this is meant, run python -m tests.flight.golden\n{difference}"


def test_the_record_is_of_a_whole_flight() -> None:
    recorded = FILE.read_text(encoding="utf-8")
    assert recorded.count("\n") > 150
    for meant in (
        "outboard-release",
        "return-flow-hold",
        "proving-run-1",
        "wings-full",
        "gross-weight",
        "apu",
    ):
        assert meant in recorded
    assert all(line.count(" | ") == 4 for line in recorded.splitlines()[1:-1])

"""A tank that is as good as empty comes to rest, whatever still trickles into it."""

from collections import defaultdict

import pytest

from tests.flight.fleet_flights import flown
from tests.flight.flights import turn, turns
from wetwing.flight.record import Flight

MOST_TURNS, WINDOW_S = 8, 900.0


def restless(flight: Flight) -> dict[str, int]:
    """Parts that turn more often than a machine does: how often within a quarter of an hour."""
    times: dict[str, list[float]] = defaultdict(list)
    for change in flight.changes:
        times[change.part].append(change.time_s)
    worst = {
        part: max(sum(start <= t < start + WINDOW_S for t in own) for start in own)
        for part, own in times.items()
    }
    return {part: often for part, often in worst.items() if often > MOST_TURNS}


@pytest.mark.parametrize(
    ("name", "edits"),
    [
        ("alder-165", ("3:00:00 outboard-release=false start",)),
        (
            "alder-165",
            ("1:37:00 main-left-forward=check valve stuck open", "2:30:00 main-left-forward=mended"),
        ),
        ("alder-165-b", ("1:21:00 centre-left=check valve stuck open", "1:30:00 centre-left=mended")),
        (
            "alder-165-b",
            ("3:00:00 outboard-valve-left=stuck open", "3:00:00 outboard-valve-right=stuck open"),
        ),
    ],
)
def test_no_flap_chatters_at_a_nearly_empty_tank(name: str, edits: tuple[str, ...]) -> None:
    assert restless(flown(name, *edits)) == {}


def test_what_comes_into_an_open_empty_outboard_goes_straight_on() -> None:
    """Return flow into an outboard whose valve is open: its pipe runs part full, and takes just that."""
    flight = flown("alder-165", "3:00:00 outboard-release=false start")
    emptied = turn(flight, "transfer-left", "resting", turn(flight, "transfer-left", "flowing").time_s)
    again = turn(flight, "transfer-left", "flowing", emptied.time_s)
    assert again.time_s - emptied.time_s == pytest.approx(60.0, abs=2.0)  # 10 kg at 600 kg/h
    assert "holds {14 kg}" in again.reason.sentence
    ends = turn(flight, "return-left", "resting", again.time_s).time_s
    for share in (0.2, 0.5, 0.8):
        time_s = again.time_s + share * (ends - again.time_s)
        assert flight.quantity("transfer-left.flow_kg_h", time_s) == pytest.approx(600.0, abs=15.0)
        assert 4.0 < flight.quantity("outboard-left.actual_kg", time_s) < 4.0 + 60.0
    # When nothing comes any more, the rest runs down and the pipe is dry again.
    last = turn(flight, "transfer-left", "resting", ends)
    assert last.time_s - ends < 600.0
    assert flight.quantity("outboard-left.actual_kg", last.time_s) == pytest.approx(5.0, abs=0.1)
    assert len(turns(flight, "transfer-left")) == 4


def test_a_full_pipe_empties_its_tank_to_the_mouth_as_before() -> None:
    """Nothing trickles in: the pipe stays full until air reaches its mouth at the unusable fuel."""
    flight = flown("alder-165")
    rests = turn(flight, "transfer-left", "resting", turn(flight, "transfer-left", "flowing").time_s)
    assert flight.quantity("outboard-left.actual_kg", rests.time_s) == pytest.approx(4.0, abs=0.01)
    assert len(turns(flight, "transfer-left")) == 2

"""What a flight costs, counted: how often the network is worked out, which hangs on no machine."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

import wetwing.flight.fly as flying
from tests.flight.flights import alder, day_sector
from wetwing.flight.fly import fly
from wetwing.flight.plant import Plant
from wetwing.flight.record import Flight
from wetwing.flight.script import Edit, Script, with_edits

FLOWS, STEPS = 2_016, 298
"""Of the demonstration flight, as it was when this was written."""

SLACK = 1.02


class Count:
    """How many steps were tried, and how often all flows were worked out."""

    def __init__(self) -> None:
        self.steps = self.flows = 0


@contextmanager
def counted(patch: pytest.MonkeyPatch) -> Iterator[Count]:
    """Count within."""
    count = Count()
    step, flows = flying.step, Plant.flows

    def counted_step(*given: object) -> object:
        count.steps += 1
        return step(*given)  # type: ignore[arg-type]

    def counted_flows(*given: object, **named: object) -> object:
        count.flows += 1
        return flows(*given, **named)  # type: ignore[arg-type]

    with patch.context() as within:
        within.setattr(flying, "step", counted_step)
        within.setattr(Plant, "flows", counted_flows)
        yield count


def flown_and_counted(patch: pytest.MonkeyPatch, script: Script) -> tuple[Flight, Count]:
    with counted(patch) as count:
        flight = fly(alder(), script)
    return flight, count


def switched(times: int) -> Script:
    """The demonstration flight in which the cross-feed is opened and shut so often."""
    edits = (
        Edit(5000.0 + 18000.0 * i / times, "cross-feed", "open" if i % 2 == 0 else "shut")
        for i in range(times)
    )
    return with_edits(day_sector(), tuple(edits), alder())


def test_the_demonstration_flight_takes_no_more_steps_than_it_did(monkeypatch: pytest.MonkeyPatch) -> None:
    _, count = flown_and_counted(monkeypatch, day_sector())
    assert count.steps <= SLACK * STEPS
    assert count.flows <= SLACK * FLOWS


def test_the_cost_grows_with_what_happens_and_no_faster(monkeypatch: pytest.MonkeyPatch) -> None:
    few, few_count = flown_and_counted(monkeypatch, switched(20))
    many, many_count = flown_and_counted(monkeypatch, switched(200))
    assert len(many.changes) > 1.8 * len(few.changes)
    assert many_count.flows / len(many.changes) <= 1.1 * few_count.flows / len(few.changes)


def test_what_is_taken_up_from_a_flight_before_costs_what_is_new(monkeypatch: pytest.MonkeyPatch) -> None:
    known, whole = flown_and_counted(monkeypatch, day_sector())
    late = with_edits(day_sector(), (Edit(0.75 * known.duration_s, "cross-feed", "open"),), alder())
    with counted(monkeypatch) as count:
        fly(alder(), late, known)
    assert count.flows < 0.6 * whole.flows

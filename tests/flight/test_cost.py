"""What a flight costs, counted: how often the network is worked out, which hangs on no machine."""

from unittest.mock import patch

import wetwing.flight.fly as flying
from tests.flight.flights import alder, day_sector, switched
from wetwing.flight.fly import fly
from wetwing.flight.plant import Plant
from wetwing.flight.record import Flight
from wetwing.flight.script import Edit, Script, with_edits

FLOWS, STEPS = 1_943, 286
"""Of the demonstration flight, as it was when this was written."""

SLACK = 1.02


def counted(script: Script, known: Flight | None = None) -> tuple[Flight, int, int]:
    """A flight, how many steps were tried for it, and how often all flows were worked out."""
    flows = patch.object(Plant, "flows", autospec=True, side_effect=Plant.flows)
    with patch.object(flying, "step", side_effect=flying.step) as steps, flows as worked_out:
        flight = fly(alder(), script, known)
    return flight, steps.call_count, worked_out.call_count


def test_the_demonstration_flight_takes_no_more_steps_than_it_did() -> None:
    _, steps, flows = counted(day_sector())
    assert steps <= SLACK * STEPS
    assert flows <= SLACK * FLOWS


def test_the_cost_grows_with_what_happens_and_no_faster() -> None:
    few, _, few_flows = counted(switched(20))
    many, _, many_flows = counted(switched(200))
    assert len(many.changes) > 1.8 * len(few.changes)
    assert many_flows / len(many.changes) <= 1.1 * few_flows / len(few.changes)


def test_what_is_taken_up_from_a_flight_before_costs_what_is_new() -> None:
    known, _, whole = counted(day_sector())
    late = with_edits(day_sector(), (Edit(0.75 * known.duration_s, "cross-feed", "open"),), alder())
    assert counted(late, known)[2] < 0.6 * whole

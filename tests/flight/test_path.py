"""The way through the air, and the fuel flow that it asks for, against hand calculations."""

from itertools import pairwise

import pytest

from tests.flight.by_hand import flow_kg_h, full_flow_kg_h, pressure_pa
from tests.flight.flights import alder, day_sector, flown, phase_s, turn
from wetwing.flight.path import place, segments


def test_flow_in_a_level_cruise() -> None:
    flight = flown()
    at_s = phase_s(flight, "cruise") + 1800.0
    assert flight.quantity("flight.altitude_ft", at_s) == pytest.approx(35_000.0)
    gross_kg = flight.quantity("flight.gross_kg", at_s)
    wanted = flow_kg_h(35_000 * 0.3048, 0.78, gross_kg, 0.0, 0.0)
    for engine in ("engine-1", "engine-2"):
        assert flight.quantity(f"{engine}.flow_kg_h", at_s) == pytest.approx(wanted, rel=2e-3)


def test_flow_in_the_climb() -> None:
    flight = flown()
    at_s = 57.0 * 60.0  # between 10,000 ft at 0:53:30 and 24,000 ft at 1:01:00
    share = (at_s - 3210.0) / 450.0
    altitude_m = (10_000.0 + 14_000.0 * share) * 0.3048
    wanted = flow_kg_h(
        altitude_m,
        0.46 + 0.24 * share,
        flight.quantity("flight.gross_kg", at_s),
        14_000.0 * 0.3048 / 450.0,
        0.24 / 450.0,
    )
    assert flight.quantity("engine-1.flow_kg_h", at_s) == pytest.approx(wanted, rel=3e-3)


def test_flow_of_an_idling_engine_on_the_stand_and_in_the_descent() -> None:
    flight = flown()
    stand_s = turn(flight, "engine-1", "running").time_s + 60.0
    assert flight.quantity("engine-1.flow_kg_h", stand_s) == pytest.approx(365.0)
    descent_s = phase_s(flight, "descent") + 120.0
    altitude_m = flight.quantity("flight.altitude_ft", descent_s) * 0.3048
    ratio = pressure_pa(altitude_m) / 101_325.0 if altitude_m < 11_000.0 else 0.2234
    wanted = 365.0 * (0.7 + 0.3 * ratio)
    assert flight.quantity("engine-1.flow_kg_h", descent_s) == pytest.approx(wanted, abs=3.0)


def test_an_engine_keeps_the_flow_of_the_taxi_up_to_the_stand() -> None:
    flight = flown("7:10:32 engine-1-run=on")
    assert flight.state("engine-1", flight.duration_s) == "running"
    column = flight.quantities["engine-1.flow_kg_h"]
    idle = alder().engines[0].idle_flow_kg_h
    assert column[-1] == pytest.approx(column[-2], rel=1e-3)
    assert column[-1] > idle


def test_flow_is_never_more_than_that_of_the_whole_thrust() -> None:
    flight = flown()
    flows = flight.quantities["engine-1.flow_kg_h"]
    assert max(flows) <= full_flow_kg_h() * (1.0 + 1e-9)
    # The climb asks one engine alone for more than it has, and it gives all of it.
    alone = flown("0:52:00 engine-1-run=off")
    assert max(alone.quantities["engine-2.flow_kg_h"]) == pytest.approx(full_flow_kg_h(), rel=1e-9)


def test_the_way_has_no_gap_and_a_kink_of_the_air_ends_a_segment() -> None:
    found = segments(day_sector(), alder().airframe)
    assert found[0].start_s == 0.0
    assert found[-1].end_s >= day_sector().ends_s
    for a, b in pairwise(found):
        assert a.end_s == b.start_s
        before, after = place(a, a.end_s, -3.0), place(b, b.start_s, -3.0)
        assert before.altitude_m == pytest.approx(after.altitude_m, abs=1e-6)
        assert before.mach == pytest.approx(after.mach, abs=1e-9)
        assert before.skin_c == pytest.approx(after.skin_c, abs=1e-6)
    for segment in found:
        ends = sorted(
            [segment.altitude_m, segment.altitude_m + segment.climb_m_s * (segment.end_s - segment.start_s)]
        )
        assert ends[1] <= 11_000.0 + 1e-6 or ends[0] >= 11_000.0 - 1e-6
    assert any(segment.above_tropopause for segment in found)

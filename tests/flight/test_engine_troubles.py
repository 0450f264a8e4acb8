"""What goes wrong with engines, the APU, filters, the jet pump and the airframe."""

from math import exp

import pytest

from tests.flight.flights import alder, flown, turn, turns
from tests.flight.trouble_flights import (
    ATMOSPHERE_BAR,
    GRAVITY_M_S2,
    alerts,
    ambient_bar,
    assert_balanced,
    at_s,
    flown_as,
    gained,
    led_by,
    looks,
    value,
)
from wetwing.flight.record import Flight

CRUISE = "2:00:00"


def engine_flow_kg_h(thrust_n: float, engines: int) -> float:
    """flow = s c1 (1 - exp(-c2 x exp(c3 x))), x = (T/n)/T0."""
    x = thrust_n / engines / 130_000.0
    return 4110.0 * 0.93756 * (1.0 - exp(-1.97676 * x * exp(1.39548 * x)))


def level_drag_n(flight: Flight, time: str, zero_lift: float) -> float:
    """D = (c_D0 + k C_L²) q S in level flight."""
    pressure_pa = ambient_bar(value(flight, "flight.altitude_ft", time)) * 1e5
    q_s = 0.7 * pressure_pa * value(flight, "flight.mach", time) ** 2 * 152.0
    weight_n = value(flight, "flight.gross_kg", time) * GRAVITY_M_S2
    return q_s * zero_lift + 0.042 * weight_n * weight_n / q_s


# ------------------------------------------------------------------ engines


def test_a_failed_engine_leaves_the_whole_drag_to_the_other() -> None:
    flight = flown_as(f"{CRUISE} engine-1=failed", *looks("2:10:00"))
    failed = turn(flight, "engine-1", "failed")
    assert failed.time_s == at_s(CRUISE)
    assert led_by(flight, failed) == {"engine-1", "edit-1"}
    assert value(flight, "engine-1.flow_kg_h", "2:10:00") == 0.0
    drag_n = level_drag_n(flight, "2:10:00", 0.0182)
    wanted = engine_flow_kg_h(drag_n, 1)
    assert value(flight, "engine-2.flow_kg_h", "2:10:00") == pytest.approx(wanted, rel=2e-3)
    # Only the wing of the running engine burns: imbalance, and on this aircraft the centre stops as well.
    assert turn(flight, "imbalance", "on").time_s > at_s(CRUISE)
    assert flight.state("centre-right", at_s(CRUISE)) == "stopped by automatics"
    assert "edit-1" in led_by(flight, turn(flight, "imbalance", "on"))


def test_a_failed_apu_stops_and_does_not_start() -> None:
    running = flown_as("0:30:00 apu=failed")
    stops = turn(running, "apu", "failed")
    assert stops.time_s == at_s("0:30:00")
    assert led_by(running, stops) == {"apu", "edit-1"}
    assert gained(running, "total.burned_kg", "0:30:01", "0:30:59") == 0.0
    before = flown_as("0:15:00 apu=failed")
    assert turns(before, "apu") == []
    assert before.state("apu-valve", at_s("0:21:00")) == "open"


# ------------------------------------------------------------------ filters


def test_a_filter_clogs_by_the_hour_until_its_bypass_opens() -> None:
    flight = flown_as("2:00:00 filter-1=clogging 0.6", *looks("1:59:00", "3:00:00"))
    opens = turn(flight, "filter-1", "bypassed")
    assert led_by(flight, opens) == {"filter-1", "edit-1"}
    assert value(flight, "filter-1.differential_bar", opens.time_s) == pytest.approx(1.2, abs=1e-3)
    assert turn(flight, "filter-1-bypassed", "on").time_s == opens.time_s
    # An hour adds 0.6 bar at 1 t/h: so much for each tonne an hour that is drawn.
    drawn = value(flight, "engine-1.flow_kg_h", "2:30:00") + value(flight, "return-left.flow_kg_h", "2:30:00")
    added = value(flight, "filter-1.differential_bar", "2:30:00") - value(
        flown_as(*looks("2:30:00")), "filter-1.differential_bar", "2:30:00"
    )
    assert added == pytest.approx(0.5 * 0.6 * drawn / 1000.0, rel=1e-2)
    # The other filter is clear, and with its bypass open the engine is fed all the same.
    assert turns(flight, "filter-2") == []
    assert turns(flight, "engine-1", "stopped for want of fuel") == []


def test_a_blocked_filter_is_passed_round_at_once_while_its_engine_runs() -> None:
    flight = flown_as("2:00:00 filter-1=blocked")
    assert turn(flight, "filter-1", "bypassed").time_s == at_s("2:00:00")
    assert value(flight, "filter-1.differential_bar", "3:00:00") == pytest.approx(1.2)
    clears = turn(flight, "filter-1", "clear")
    assert clears.time_s == turn(flight, "engine-1", "off").time_s


def test_water_freezes_on_the_filters_once_cold_fuel_brings_it() -> None:
    flight = flown_as("2:00:00 main-left=water 40", "2:00:00 main-right=water 40")
    opened = [turn(flight, f"filter-{n}", "bypassed") for n in (1, 2)]
    for change, trouble in zip(opened, ("edit-1", "edit-2"), strict=True):
        assert trouble in led_by(flight, change)
        # Not before the wings feed: the centre's fuel is dry. And not before the fuel is below freezing.
        side = "left" if trouble == "edit-1" else "right"
        assert value(flight, f"main-{side}.temperature_c", change.time_s) < 0.0
    assert {"filter-1-bypassed", "filter-2-bypassed"} <= set(alerts(flight))
    # Half the water, half the ice; none above 0 °C.
    warm = flown_as("2:00:00 main-left=water 40", deviation_k=30.0)
    assert turns(warm, "filter-1", "bypassed") == []
    few = flown_as("3:10:00 main-left=water 4", *looks("5:00:00"))
    clean = flown_as(*looks("5:00:00"))
    drawn = (
        value(few, "engine-1.flow_kg_h", "5:00:00") + value(few, "return-left.flow_kg_h", "5:00:00")
    ) / 1000.0
    added = value(few, "filter-1.differential_bar", "5:00:00") - value(
        clean, "filter-1.differential_bar", "5:00:00"
    )
    assert value(few, "main-left.temperature_c", "5:00:00") < -10.0
    assert added == pytest.approx(1.2 * 4.0 / 40.0 * drawn, rel=1e-2)


# ------------------------------------------------------------------ jet pump


def test_a_blocked_jet_pump_leaves_the_rest_of_the_centre() -> None:
    flight = flown_as("2:00:00 scavenge=blocked")
    dried_s = turn(flight, "centre-right", "dry").time_s
    left_kg = value(flight, "centre.actual_kg", dried_s)
    assert left_kg > 80.0
    assert value(flight, "centre.actual_kg", "6:00:00") == pytest.approx(left_kg, abs=0.1)
    assert value(flown(), "centre.actual_kg", "6:00:00") < 10.0
    assert turns(flight, "scavenge", "flowing") == []


def test_a_weak_jet_pump_takes_so_much_longer() -> None:
    weak = flown_as("2:00:00 scavenge=low output 0.5")
    times = []
    for flight in (flown(), weak):
        begins = turn(flight, "scavenge", "flowing", at_s("2:00:00"))
        times.append(turn(flight, "scavenge", "dry", begins.time_s).time_s - begins.time_s)
    assert times[1] == pytest.approx(2.0 * times[0], rel=0.01)
    start = turn(weak, "scavenge", "flowing", at_s("2:00:00")).time_s + 10.0
    assert value(weak, "scavenge.flow_kg_h", start) == pytest.approx(
        0.5 * value(flown(), "scavenge.flow_kg_h", start), rel=0.01
    )


# ------------------------------------------------------------------ airframe


@pytest.mark.parametrize("share", [0.1, 0.5])
def test_extra_drag_raises_the_flow_as_the_polar_says(share: float) -> None:
    flight = flown_as(f"{CRUISE} airframe=extra drag {share}", *looks("2:10:00"))
    drag_n = level_drag_n(flight, "2:10:00", 0.0182 * (1.0 + share))
    wanted = engine_flow_kg_h(drag_n, 2)
    assert value(flight, "engine-1.flow_kg_h", "2:10:00") == pytest.approx(wanted, rel=2e-3)
    assert value(flight, "engine-1.flow_kg_h", "2:10:00") > value(flown(), "engine-1.flow_kg_h", "2:10:00")
    # Gauge and meter agree about it: nothing is missing, there is only less of it.
    assert value(flight, "total.discrepancy_kg", "3:00:00") == pytest.approx(
        value(flown(), "total.discrepancy_kg", "3:00:00"), abs=0.5
    )
    assert_balanced(flight)


def test_the_pressure_of_the_standard_air_used_here() -> None:
    # So that the drag above is known from outside: FL350 is 23.84 kPa, FL370 21.66.
    assert ambient_bar(0.0) == ATMOSPHERE_BAR
    assert ambient_bar(35_000.0) == pytest.approx(0.2384, abs=1e-4)
    assert ambient_bar(37_000.0) == pytest.approx(0.2166, abs=1e-4)
    assert alder().airframe.engine_thrust_n == 130_000.0

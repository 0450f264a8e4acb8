"""What goes wrong with pumps and check valves, and what it does to the feed."""

from math import exp

import pytest

from tests.flight.flights import alder, flown, turn, turns
from tests.flight.trouble_flights import (
    ATMOSPHERE_BAR,
    ambient_bar,
    assert_balanced,
    at_s,
    density_kg_m3,
    flown_as,
    gained,
    led_by,
    value,
)
from wetwing.flight.record import Flight

LEFT_PUMPS = ("main-left-forward", "main-left-aft", "centre-left")
SHUT_OFF_BAR = {"main-left-forward": 2.62, "main-left-aft": 2.59}
QUIET = "0:30:00"
"""On the ground with pumps on and nothing drawn: the APU is off from a minute before."""


def quiet(*edits: str) -> Flight:
    return flown_as("0:29:00 apu-run=off", *edits)


def suction_at(time: str) -> Flight:
    """Every pump of the left side fails at a time."""
    return flown_as(*(f"{time} {pump}=failed" for pump in LEFT_PUMPS))


def stops(flight: Flight) -> list[float]:
    return [change.time_s for change in turns(flight, "engine-1", "stopped for want of fuel")]


# ------------------------------------------------------------------ a pump that gives less


@pytest.mark.parametrize("kind", ["low output", "drawing vapour"])
@pytest.mark.parametrize("share", [0.3, 0.6, 0.95])
def test_a_weak_pump_has_its_share_of_the_pressure_and_all_of_the_level_s(kind: str, share: float) -> None:
    sound = quiet()
    weak = quiet(f"0:29:30 main-left-forward={kind} {share}")
    density = density_kg_m3(value(sound, "main-left.temperature_c", QUIET))
    lost_bar = (1.0 - share) * SHUT_OFF_BAR["main-left-forward"] * density / 800.0
    before = value(sound, "main-left-forward.pressure_bar", QUIET)
    after = value(weak, "main-left-forward.pressure_bar", QUIET)
    assert before - after == pytest.approx(lost_bar, rel=1e-4)


def test_a_weak_pump_leaves_its_twin_to_feed() -> None:
    flight = flown_as("3:10:00 main-left-forward=low output 0.6")
    held = turn(flight, "main-left-forward", "running, held back", at_s("3:10:00"))
    assert held.time_s == at_s("3:10:00")
    assert "edit-1" in led_by(flight, held)
    # By then the centre is empty, and no jet pump draws on the manifold besides.
    drawn = value(flight, "engine-1.flow_kg_h", "4:05:00") + value(flight, "return-left.flow_kg_h", "4:05:00")
    assert value(flight, "main-left-aft.flow_kg_h", "4:05:00") == pytest.approx(drawn, rel=1e-6)
    assert value(flight, "main-left-forward.flow_kg_h", "4:05:00") == 0.0


@pytest.mark.parametrize(("kind", "state"), [("failed", "failed"), ("breaker open", "no power")])
def test_of_two_pumps_one_feeds_the_engine_when_the_other_fails(kind: str, state: str) -> None:
    flight = flown_as(f"3:10:00 main-left-forward={kind}", "4:00:00 main-left-forward=mended")
    failed = turn(flight, "main-left-forward", state)
    assert failed.time_s == at_s("3:10:00")
    assert led_by(flight, failed) == {"main-left-forward", "edit-1"}
    assert value(flight, "main-left-forward.pressure_bar", "3:20:00") == 0.0
    drawn = value(flight, "engine-1.flow_kg_h", "3:20:00") + value(flight, "return-left.flow_kg_h", "3:20:00")
    assert value(flight, "main-left-aft.flow_kg_h", "3:20:00") == pytest.approx(drawn, rel=1e-6)
    # The jet pump is driven by the forward pump and stops with it (14 CFR 25.955 asks nothing of it).
    assert flight.state("scavenge", at_s("3:20:00")) == "resting"
    # Mended, it takes its part again.
    assert flight.state("main-left-forward", at_s("4:00:00")) == "delivering"
    assert not stops(flight)


def test_a_failed_centre_pump_leaves_its_side_on_the_wing_and_the_wings_unequal() -> None:
    flight = flown_as("1:40:00 centre-left=failed")
    assert flight.state("main-left-forward", at_s("1:40:00")) == "delivering"
    assert flight.state("centre-right", at_s("1:40:00")) == "delivering"
    burned = -gained(flight, "main-left.actual_kg", "1:45:00", "1:55:00")
    filled = gained(flight, "main-right.actual_kg", "1:45:00", "1:55:00")
    # The left feeds engine 1, whose return comes back; the right takes only its return flow.
    assert burned == pytest.approx(1540.0 / 6.0, rel=0.02)
    assert filled == pytest.approx(600.0 / 6.0, rel=0.02)


# ------------------------------------------------------------------ suction feed


def test_with_both_main_pumps_failed_the_engine_is_fed_through_the_bypass() -> None:
    flight = suction_at("0:45:00")
    feeds = turn(flight, "bypass-left", "feeding", at_s("0:45:00"))
    assert feeds.time_s == at_s("0:45:00")
    assert {"edit-1", "edit-2"} & led_by(flight, feeds)
    at_take_off = "0:47:10"
    assert flight.state("engine-1", at_s(at_take_off)) == "running"
    drawn = value(flight, "engine-1.flow_kg_h", at_take_off)
    assert value(flight, "bypass-left.flow_kg_h", at_take_off) == pytest.approx(drawn, rel=1e-6)
    # The manifold has the fuel's own head, less what the bypass takes: no pump's pressure.
    assert -0.1 < value(flight, "manifold-left.pressure_bar", at_take_off) < 0.15


def needed_inlet_bar(flight: Flight, time_s: float) -> float:
    """p = p_v + L p_s / (L + X): Henry's, Dalton's and Boyle's laws, for fuel that has kept its air."""
    celsius = value(flight, "main-left.temperature_c", time_s)
    vapour_bar = 1.5 * exp(21.281 - 4551.4 / (celsius + 273.15)) * 1e-5
    share = value(flight, "main-left.air_share", time_s)
    return vapour_bar + 0.18 * share * ATMOSPHERE_BAR / (0.18 + 0.35)


def viscosity_mm2_s(celsius: float) -> float:
    kelvin = celsius + 273.15
    return 225697.23 * exp(-0.042631022 * kelvin) - 0.0030984177 * kelvin + 1.9017552


def inlet_bar(flight: Flight, time_s: float) -> float:
    """What stands before engine 1's own pump: air, manifold, less what line and filter take."""
    drawn = (
        value(flight, "engine-1.flow_kg_h", time_s) + value(flight, "return-left.flow_kg_h", time_s)
    ) / 1000.0
    celsius = value(flight, "main-left.temperature_c", time_s)
    # 2.05 mm²/s is the viscosity at 15 °C, for which the lines' resistances are given.
    thickness = viscosity_mm2_s(celsius) / viscosity_mm2_s(15.0)
    line = 0.005 * thickness * drawn + 0.002 * drawn * drawn
    filter_ = 0.02 * thickness * drawn + 0.004 * drawn * drawn
    air = ambient_bar(value(flight, "flight.altitude_ft", time_s))
    return air + value(flight, "manifold-left.pressure_bar", time_s) - line - filter_


def test_in_the_climb_fresh_fuel_stops_the_engine_at_the_suction_ceiling() -> None:
    flight = suction_at("0:50:30")
    (stopped_s,) = stops(flight)
    altitude_ft = value(flight, "flight.altitude_ft", stopped_s)
    assert 15_000 < altitude_ft < 30_000
    just_before = stopped_s - 0.5
    assert value(flight, "main-left.air_share", just_before) > 0.95
    assert inlet_bar(flight, just_before) == pytest.approx(needed_inlet_bar(flight, just_before), abs=1e-3)
    assert value(flight, "engine-1.inlet_margin_bar", just_before) == pytest.approx(0.0, abs=1e-3)
    stopped = turn(flight, "engine-1", "stopped for want of fuel")
    assert {"edit-1", "edit-2", "edit-3"} & led_by(flight, stopped)


def test_at_height_fuel_that_has_given_off_its_air_feeds_by_suction_and_fresh_fuel_does_not() -> None:
    fresh, settled = suction_at("1:12:00"), suction_at("2:25:00")
    assert value(fresh, "flight.altitude_ft", "1:12:00") == value(settled, "flight.altitude_ft", "2:25:00")
    assert stops(fresh) == [at_s("1:12:00")]
    assert value(fresh, "main-left.air_share", "1:12:00") > 0.8
    # An hour and a quarter at FL350: more than half of the way to what air of that height can keep dissolved.
    assert value(settled, "main-left.air_share", "2:25:00") < 0.55
    later = at_s("3:25:00")
    assert settled.state("engine-1", later) == "running"
    assert settled.state("bypass-left", later) == "feeding"
    assert inlet_bar(settled, later) - needed_inlet_bar(settled, later) == pytest.approx(
        value(settled, "engine-1.inlet_margin_bar", later), abs=1e-3
    )
    # A climb to a higher level takes the margin away again.
    assert settled.state("engine-1", at_s("4:14:00")) == "stopped for want of fuel"


def test_both_main_pumps_back_before_the_ceiling_keep_the_engine_running() -> None:
    mended = [f"0:53:00 {pump}=mended" for pump in LEFT_PUMPS]
    flight = flown_as(*(f"0:50:30 {pump}=failed" for pump in LEFT_PUMPS), *mended)
    assert not stops(flight)
    assert flight.state("centre-left", at_s("0:53:00")) == "delivering"


# ------------------------------------------------------------------ check valves


def test_a_check_valve_of_the_centre_stuck_open_lets_a_wing_fall_and_the_centre_rise() -> None:
    flight = flown_as("1:21:00 centre-left=check valve stuck open")
    back = turn(flight, "centre-left", "flowing back")
    # It shows when the automatics hold the centre: the stopped pump no longer pushes against the wing's.
    assert "edit-1" in led_by(flight, turn(flight, "abnormal-transfer-centre", "on"))
    start, end = back.time_s + 60.0, back.time_s + 660.0
    returned = -value(flight, "centre-left.flow_kg_h", start)
    assert returned > 1000.0
    assert gained(flight, "centre.actual_kg", start, end) > 1000.0
    assert gained(flight, "main-left.actual_kg", start, end) < -1000.0
    # What a wing loses beyond its engine's burn is what the centre gains: nothing is lost.
    right = value(flight, "centre-right.flow_kg_h", start)
    assert right == 0.0
    assert gained(flight, "total.discrepancy_kg", start, end) == pytest.approx(0.0, abs=0.5)
    on_board = gained(flight, "total.on_board_kg", start, end)
    assert on_board == pytest.approx(-gained(flight, "total.metered_kg", start, end), abs=1e-6)
    assert_balanced(flight)


def test_a_check_valve_of_a_main_pump_stuck_open_lets_the_centre_fill_the_main() -> None:
    flight = flown_as("1:37:00 main-left-forward=check valve stuck open")
    back = turn(flight, "main-left-forward", "flowing back")
    alert = turn(flight, "abnormal-transfer-left", "on")
    assert back.time_s < alert.time_s
    assert {"edit-1", "centre-left"} <= led_by(flight, alert)
    # Wing and centre pump meet at one pressure: the centre's curve forwards, the main's backwards.
    time_s = back.time_s + 30.0
    forwards = value(flight, "centre-left.flow_kg_h", time_s) / 1000.0
    backwards = -value(flight, "main-left-forward.flow_kg_h", time_s) / 1000.0
    celsius = value(flight, "centre.temperature_c", time_s)
    density = density_kg_m3(celsius)
    thickness = viscosity_mm2_s(celsius) / viscosity_mm2_s(15.0)
    own = 3.78 * density / 800.0 - (0.034 * thickness + 0.0091 * forwards) * forwards
    density = density_kg_m3(value(flight, "main-left.temperature_c", time_s))
    rival = 2.62 * density / 800.0 + (0.030 * thickness + 0.0080 * backwards) * backwards
    # The levels' heads differ between the tanks, by a tenth of a bar at the most.
    assert own == pytest.approx(rival, abs=0.1)
    drawn = value(flight, "engine-1.flow_kg_h", time_s) + value(flight, "return-left.flow_kg_h", time_s)
    assert 1000.0 * (forwards - backwards) == pytest.approx(drawn, rel=1e-6)
    assert_balanced(flight)


def test_a_check_valve_stuck_shut_takes_its_pump_out_of_the_feed() -> None:
    flight = flown_as("3:10:00 main-left-forward=check valve stuck shut")
    held = turn(flight, "main-left-forward", "running, held back", at_s("3:10:00"))
    assert "edit-1" in led_by(flight, held)
    assert max(flight.quantities["main-left-forward.flow_kg_h"][flight.keyframe(at_s("3:10:01")) :]) == 0.0
    assert value(flight, "main-left-forward.pressure_bar", "3:20:00") > 2.6
    assert (held.reason.kind, held.reason.name) == ("trouble", "check valve stuck shut")


def test_a_bypass_stuck_shut_leaves_no_suction_feed() -> None:
    pumps = [f"0:45:00 {pump}=failed" for pump in LEFT_PUMPS]
    flight = flown_as("0:40:00 bypass-left=check valve stuck shut", *pumps)
    stopped = turn(flight, "engine-1", "stopped for want of fuel")
    assert stopped.time_s == at_s("0:45:00")
    assert flight.state("manifold-left", at_s("0:45:01")) == "unfed"
    assert {"edit-1", "edit-2", "edit-3"} & led_by(flight, stopped)


def test_a_bypass_stuck_open_lets_the_pumps_push_into_their_own_tank() -> None:
    sound = flown()
    flight = flown_as("4:00:00 bypass-left=check valve stuck open")
    back = turn(flight, "bypass-left", "flowing back")
    assert back.time_s == at_s("4:00:00")
    assert "edit-1" in led_by(flight, back)
    # What goes round and round takes the pumps' pressure, and moves nothing from tank to tank.
    lower = value(flight, "manifold-left.pressure_bar", "4:05:00")
    assert lower < value(sound, "manifold-left.pressure_bar", "4:05:00") - 0.3
    for tank in alder().tanks:
        kg = value(sound, f"{tank.name}.actual_kg", "4:06:00")
        assert value(flight, f"{tank.name}.actual_kg", "4:06:00") == pytest.approx(kg, abs=1.0)


@pytest.mark.parametrize("state", ["open", "shut"])
def test_the_apu_line_s_check_valve(state: str) -> None:
    flight = flown_as(f"0:19:00 apu-check=stuck {state}")
    if state == "shut":
        # The battery pump feeds until the mains come on; then nothing reaches the APU.
        stopped = turn(flight, "apu", "stopped for want of fuel")
        assert stopped.time_s == at_s("0:22:00")
        assert flight.state("main-left-forward", at_s("0:22:00")) == "running, nothing drawn"
        assert "edit-1" in led_by(flight, stopped)
    else:
        # The battery pump presses backwards on the manifold, which nothing draws on yet.
        pressed = value(flight, "manifold-left.pressure_bar", "0:21:30")
        assert pressed > value(flown(), "manifold-left.pressure_bar", "0:21:30") + 0.5

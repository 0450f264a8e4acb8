"""Learners' questions about feed, sequence and cold, each answered by flights."""

from dataclasses import replace

import pytest

from tests.flight.asked import asked
from tests.flight.flights import alder, day_sector, turn, turns
from tests.flight.trouble_flights import GRAVITY_M_S2, alerts, at_s, flown_as, gained, led_by, looks, value
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight


def endurance_h(flight: Flight, time: str, usable_kg: float) -> float:
    flow = value(flight, "engine-1.flow_kg_h", time) + value(flight, "engine-2.flow_kg_h", time)
    return usable_kg / flow


def stops(flight: Flight) -> list[float]:
    return [change.time_s for change in turns(flight, "engine-1", "stopped for want of fuel")]


# Both centre pumps stopped with tonnes left: is that intended?
def test_the_rule_that_stopped_the_centre_pumps_tells_whether_it_is_meant() -> None:
    intended, false = asked("centre-stopped", "intended"), asked("centre-stopped", "false-stop")
    meant = turn(intended, "centre-left", "stopped by automatics", at_s("1:00:00"))
    assert meant.reason.name == "return-flow-hold-right"
    assert value(intended, "centre.gauged_kg", meant.time_s) > 3000.0
    again = turn(intended, "centre-left", "delivering", meant.time_s)
    assert again.reason.name == "return-flow-hold-right"
    assert again.time_s - meant.time_s < 20 * 60.0
    stopped = turn(false, "centre-left", "stopped by automatics", at_s("2:00:00"))
    assert stopped.reason.name == "slat-hold"
    # The rule says that the slats are out; they are in. That is how to tell.
    assert false.state("slats", stopped.time_s) == "in"
    assert turns(false, "centre-left", "delivering", stopped.time_s) == []
    time = "3:00:00"
    usable = value(false, "total.gauged_kg", time)
    stranded = value(false, "centre.gauged_kg", time)
    assert stranded > 2500.0
    with_it, without = endurance_h(false, time, usable), endurance_h(false, time, usable - stranded)
    assert with_it - without == pytest.approx(0.9, abs=0.1)
    # The selector at manual takes the pumps out of the automatics' hands.
    freed = asked("centre-stopped", "false-stop", "3:00:00 centre-feed=manual")
    assert freed.state("centre-left", at_s("3:00:00")) == "delivering"


# Why is the cross-feed shut for take-off and landing?
def test_with_the_cross_feed_open_unequal_pumps_feed_both_engines_from_one_tank() -> None:
    shut, open_ = asked("cross-feed-for-take-off", "shut"), asked("cross-feed-for-take-off", "open")
    start, end = "0:47:00", "0:50:00"
    shares = []
    for flight in (shut, open_):
        left = -gained(flight, "main-left.actual_kg", start, end)
        right = -gained(flight, "main-right.actual_kg", start, end)
        shares.append(left / (left + right))
    assert shares[0] == pytest.approx(0.5, abs=0.01)
    assert shares[1] < 0.1
    # On the taxiway, with less flow still, a single right pump feeds both engines.
    assert open_.state("main-left-forward", at_s("0:46:30")) == "running, held back"
    assert open_.state("main-right-aft", at_s("0:46:30")) == "running, held back"


# Why burn the centre tank first?
def test_wing_fuel_kept_to_the_last_relieves_the_root_and_can_feed_by_itself() -> None:
    centre, wings = asked("centre-first", "centre-first"), asked("centre-first", "wings-first")
    time = "2:50:00"
    assert value(wings, "total.on_board_kg", time) == pytest.approx(
        value(centre, "total.on_board_kg", time), abs=20.0
    )
    moved = value(wings, "centre.actual_kg", time) - value(centre, "centre.actual_kg", time)
    assert moved > 6000.0
    more = value(wings, "flight.root_bending_kn_m", time) - value(centre, "flight.root_bending_kn_m", time)
    # As much fuel, in the fuselage instead of the mains: half of it a side, at the arm of a main.
    assert more == pytest.approx(0.5 * moved * GRAVITY_M_S2 / 1000.0 * 6.5, rel=0.15)
    # No bypass leads from the centre: without pumps only wing fuel reaches an engine.
    assert {bypass.tank for bypass in alder().bypasses} == {"main-left", "main-right"}


# Pumps push equally, cross-feed open, and one tank drained: why?
def test_one_per_cent_between_the_pumps_drains_one_tank() -> None:
    # As built, the right pumps have 0.4 and 0.8 % more pressure than the left ones.
    flight = asked("one-tank-drained", "one-per-cent")
    at = at_s("4:05:00")
    pressures = [value(flight, f"main-{side}-forward.pressure_bar", at) for side in ("left", "right")]
    # Joined by the cross-feed they work at nearly one pressure, and so the stronger one gives more.
    assert 0.0 < pressures[1] / pressures[0] - 1.0 < 0.01
    at_no_flow = [pump.shut_off_bar for pump in alder().pumps if pump.name.endswith("-forward")]
    assert 0.003 < at_no_flow[1] / at_no_flow[0] - 1.0 < 0.01
    flows = [
        value(flight, f"main-{side}-forward.flow_kg_h", at) + value(flight, f"main-{side}-aft.flow_kg_h", at)
        for side in ("left", "right")
    ]
    assert flows[1] / flows[0] > 1.08
    # The trend never turns, and after hours the advisory comes.
    trend = [value(flight, "total.imbalance_kg", f"{hour}:00:00") for hour in (3, 4, 5, 6)]
    assert trend == sorted(trend, reverse=True)
    assert trend[-1] < -700.0
    assert "imbalance" in alerts(flight)
    # At 10 % the stronger side keeps the other's check valves shut: one tank feeds both engines.
    shut = asked("one-tank-drained", "ten-per-cent")
    assert shut.state("main-left-forward", at_s("3:05:00")) == "running, held back"
    assert value(shut, "main-left-forward.flow_kg_h", "3:05:00") == 0.0
    assert turn(shut, "imbalance", "on").time_s < at_s("3:45:00")


# One wing falls and the centre rises, uncommanded: how?
def test_a_check_valve_stuck_open_moves_fuel_and_loses_none() -> None:
    flight = asked("centre-rises", "stuck-check-valve")
    start, end = "1:23:00", "1:30:00"
    fallen = -gained(flight, "main-left.actual_kg", start, end)
    risen = gained(flight, "centre.actual_kg", start, end)
    burned = gained(flight, "engine-1.used_kg", start, end)
    assert fallen > 1000.0
    assert risen > 1000.0
    # The left main gives its engine's burn and what goes back; return flow comes back over the outboard.
    assert fallen == pytest.approx(burned + risen, abs=5.0)
    assert gained(flight, "total.discrepancy_kg", start, end) == pytest.approx(0.0, abs=0.5)
    assert value(flight, "total.leaked_kg", end) == 0.0
    assert "edit-1" in led_by(flight, turn(flight, "abnormal-transfer-centre", "on"))


# Is the cold limit about static, total or fuel temperature; what helps?
def test_the_fuel_lags_the_total_temperature_and_speed_or_height_helps_late() -> None:
    cold = {"deviation_k": -12.0}
    usual = flown_as(*looks("6:30:00"), **cold)
    air, total, fuel = (
        value(usual, name, "6:30:00")
        for name in ("flight.air_temperature_c", "flight.total_temperature_c", "main-left.temperature_c")
    )
    # T_total = T (1 + 0.2 M²), and the fuel is still above it after five hours.
    assert total + 273.15 == pytest.approx((air + 273.15) * (1.0 + 0.2 * 0.78 * 0.78), rel=1e-6)
    assert air < total < fuel
    assert fuel + 47.0 == pytest.approx(value(usual, "main-left.freezing_margin_c", "6:30:00"), abs=1e-6)

    def later(mach: float, altitude_ft: float) -> Flight:
        path = tuple(
            replace(point, mach=mach, altitude_ft=altitude_ft)
            if at_s("4:14:00") <= point.time_s <= at_s("6:39:00")
            else point
            for point in day_sector().path
        )
        return fly(alder(), replace(usual.script, path=path))

    for flight in (later(0.82, 37_000.0), later(0.78, 31_000.0)):
        warmer = [
            value(flight, "flight.total_temperature_c", time)
            - value(usual, "flight.total_temperature_c", time)
            for time in ("4:24:00", "6:30:00")
        ]
        assert min(warmer) > 2.5
        gain = [
            value(flight, "main-left.temperature_c", time) - value(usual, "main-left.temperature_c", time)
            for time in ("4:24:00", "6:30:00")
        ]
        # Ten minutes do little; two hours bring a good part of it.
        assert gain[0] < 0.2 * warmer[1]
        assert gain[1] > 0.35 * warmer[1]


# What becomes of the last of the centre fuel?
def test_a_jet_pump_takes_the_last_of_the_centre_to_the_left_main() -> None:
    flight, blocked = asked("last-of-the-centre", "sound"), asked("last-of-the-centre", "blocked")
    begins = turn(flight, "scavenge", "flowing", at_s("2:00:00")).time_s
    pressure = value(flight, "manifold-left.pressure_bar", begins + 60.0)
    # Motive flow by the root of the pressure, and 0.42 of it drawn along.
    wanted = 0.42 * 260.0 * pressure**0.5
    assert value(flight, "scavenge.flow_kg_h", begins + 60.0) == pytest.approx(wanted, rel=2e-3)
    left = value(flight, "centre.actual_kg", "4:00:00")
    assert left == pytest.approx(8.0, abs=1.0)
    assert value(blocked, "centre.actual_kg", "4:00:00") - left == pytest.approx(84.0, abs=6.0)
    # It has no switch, and stops with the pump that drives it.
    off = asked("last-of-the-centre", "sound", "3:00:00 main-left-forward=off")
    assert value(off, "scavenge.flow_kg_h", "3:10:00") == 0.0


# Both pumps of one wing fail at altitude: does the engine stop?
def test_whether_an_engine_lives_on_suction_depends_on_how_long_the_fuel_has_been_high() -> None:
    fresh, settled = asked("both-pumps-failed", "fresh"), asked("both-pumps-failed", "settled")
    assert stops(fresh) == [at_s("1:12:00")]
    assert settled.state("engine-1", at_s("3:30:00")) == "running"
    assert settled.state("bypass-left", at_s("3:30:00")) == "feeding"
    shares = value(fresh, "main-left.air_share", "1:11:59"), value(settled, "main-left.air_share", "2:25:00")
    assert shares[0] > 0.85
    assert shares[1] < 0.55
    assert value(settled, "engine-1.inlet_margin_bar", "2:30:00") > 0.0
    assert value(settled, "manifold-left.pressure_bar", "2:30:00") < 0.1


# How did balancing flame an engine out?
def test_pumps_off_before_the_cross_feed_is_open_or_after_it_is_shut_stop_an_engine() -> None:
    right = asked("balancing", "right-order")
    assert stops(right) == []
    assert value(right, "cross-feed.flow_kg_h", "1:28:00") != 0.0
    # While both engines draw on the right, only return flow moves the left.
    assert gained(right, "main-left.actual_kg", "1:24:00", "1:32:00") > 0.0
    early = asked("balancing", "pumps-before-cross-feed")
    assert stops(early) == [at_s("1:23:00")]
    late = asked("balancing", "not-restored")
    assert stops(late) == [at_s("1:33:03")]
    assert {"cross-feed", "main-left-forward"} & led_by(
        late, turn(late, "engine-1", "stopped for want of fuel")
    )
    assert value(late, "manifold-left.pressure_bar", "1:32:59") > 2.0

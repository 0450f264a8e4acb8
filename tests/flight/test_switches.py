"""The crew's selector and every switch, at any time, with the right consequence."""

import pytest

from tests.flight.by_hand import flow_kg_h, inlet_margin_bar, loss_bar
from tests.flight.flights import alder, assert_sound, chain, flown, hold, phase_s, turn, turns
from wetwing.flight.clock import clock
from wetwing.flight.path import segments
from wetwing.flight.record import Flight
from wetwing.physics.tank_shape import TankShape

WING_PUMPS = ("main-left-forward", "main-left-aft", "main-right-forward", "main-right-aft")


def at_first_hold(*settings: str, after_s: float = 60.0) -> tuple[Flight, float]:
    """The flight with these settings made a minute into the first hold, and that time."""
    time_s = round(hold(flown())[0].time_s + after_s)
    return flown(*(f"{clock(time_s)} {setting}" for setting in settings)), float(time_s)


# ------------------------------------------------------------------ the selector


def test_manual_at_the_first_hold_lets_the_centre_feed_at_once() -> None:
    flight, time_s = at_first_hold("centre-feed=manual")
    for side in ("left", "right"):
        feeds = turn(flight, f"centre-{side}", "delivering", time_s)
        assert feeds.time_s == time_s
        assert ("centre-feed", "manual") in [(fact.name, fact.state) for fact in feeds.reason.facts]


@pytest.mark.parametrize("side", ["left", "right"])
def test_manual_at_the_first_hold_overfills_a_main_and_vents(side: str) -> None:
    flight, time_s = at_first_hold("centre-feed=manual")
    spills = turn(flight, f"main-{side}", "spilling", time_s)
    assert flight.quantity(f"main-{side}.volume_l", spills.time_s) == pytest.approx(8300.0, abs=0.01)
    assert f"goes over into vent {side}" in spills.reason.sentence
    # The vent's surge space takes the first 110 L, at the density of 15 °C; only then is fuel lost.
    assert turn(flight, f"vent-{side}", "holding", time_s).time_s == spills.time_s
    leaves = turn(flight, f"vent-{side}", "spilling", time_s)
    assert leaves.time_s > spills.time_s + 300.0
    surge = f"vent-{side}.surge_kg"
    assert flight.quantity(surge, leaves.time_s) == pytest.approx(0.110 * 804.0, abs=1e-3)
    assert "surge space is full at {110 L}" in leaves.reason.sentence
    alert = turn(flight, f"main-{side}-spilling", "on", time_s)
    assert alert.time_s == leaves.time_s
    assert spills in chain(flight, alert)
    ends = turn(flight, f"main-{side}", "holding", spills.time_s)
    assert turn(flight, f"main-{side}-spilling", "off", spills.time_s).time_s == ends.time_s
    # What the surge space holds drains back when the main has made room: none of it is lost.
    drained = turn(flight, f"vent-{side}", "dry", ends.time_s)
    assert flight.quantity(surge, drained.time_s) == 0.0
    assert flight.quantity("total.vented_kg", drained.time_s) == flight.quantities["total.vented_kg"][-1]
    lost = flight.quantity("total.vented_kg", ends.time_s)
    assert lost > 100.0
    assert_sound(flight)


def test_automatic_never_vents() -> None:
    assert max(flown().quantities["total.vented_kg"]) == 0.0
    assert not turns(flown(), "main-left-spilling")


def test_manual_keeps_a_dry_pump_running_until_the_alert_and_the_selector_back_stops_it() -> None:
    flight, _ = at_first_hold("centre-feed=manual")
    dry = turn(flight, "centre-left", "dry")
    alert = turn(flight, "centre-running-dry", "on", dry.time_s)
    assert alert.time_s == pytest.approx(dry.time_s + 20.0)
    later_s = round(dry.time_s + 300.0)
    back = flown(
        f"{clock(hold(flown())[0].time_s + 60.0)} centre-feed=manual",
        f"{clock(later_s)} centre-feed=automatic",
    )
    assert turn(back, "centre-left", "stopped by automatics", dry.time_s).time_s == later_s
    assert turn(back, "centre-running-dry", "off", dry.time_s).time_s == later_s


def test_manual_before_take_off_feeds_from_the_centre_with_slats_out() -> None:
    flight = flown("0:40:00 centre-feed=manual")
    assert flight.state("slats", phase_s(flight, "climb")) == "out"
    assert flight.state("centre-left", phase_s(flight, "climb") + 10.0) == "delivering"
    assert flight.state("main-left-forward", phase_s(flight, "climb") + 10.0) == "running, held back"


def test_automatic_again_takes_the_hold_up_again() -> None:
    held_s = hold(flown())[0].time_s
    flight = flown(
        f"{clock(held_s + 60.0)} centre-feed=manual", f"{clock(held_s + 180.0)} centre-feed=automatic"
    )
    back_s = turn(flight, "centre-feed", "automatic").time_s
    assert flight.state("centre-left", back_s - 1.0) == "delivering"
    assert flight.state("centre-left", back_s + 1.0) == "stopped by automatics"


# ------------------------------------------------------------------ pump switches


@pytest.mark.parametrize("pump", [pump.name for pump in alder().pumps if pump.crew])
@pytest.mark.parametrize("time", ["0:45:00", "0:48:00", "1:15:00", "1:30:00", "4:00:00", "6:45:00"])
def test_every_pump_switch_is_honoured_at_any_time(pump: str, time: str) -> None:
    flight = flown(f"{time} {pump}=off")
    change = turn(flight, pump, "off", phase_s(flight, "start"))
    assert clock(change.time_s) == time
    assert change.reason.kind == "action"
    end_s = turn(flight, "engine-2", "off").time_s if flight.ended is None else flight.duration_s
    assert not turns(flight, pump, None, change.time_s + 1.0)
    first = next(k for k, t in enumerate(flight.time_s) if t > change.time_s)
    assert not any(flight.quantities[f"{pump}.flow_kg_h"][first:])
    assert flight.setting(pump, end_s - 1.0) == "off"
    assert_sound(flight)


@pytest.mark.parametrize(("pump", "twin"), [("forward", "aft"), ("aft", "forward")])
@pytest.mark.parametrize(("side", "engine"), [("left", "engine-1"), ("right", "engine-2")])
def test_a_wing_pump_s_twin_carries_the_whole_flow(pump: str, twin: str, side: str, engine: str) -> None:
    flight, time_s = at_first_hold(f"main-{side}-{pump}=off")
    needed = flight.quantity(f"{engine}.flow_kg_h", time_s) + flight.quantity(
        f"return-{side}.flow_kg_h", time_s
    )
    assert flight.quantity(f"main-{side}-{twin}.flow_kg_h", time_s) == pytest.approx(needed)
    assert flight.state(engine, time_s + 600.0) == "running"
    assert not turns(flight, "feed-pressure-1", "on")


def test_one_centre_pump_off_lets_its_side_feed_from_the_wing() -> None:
    flight = flown("1:15:00 centre-left=off")
    at_s = 4500.0
    assert flight.state("main-left-forward", at_s) == "delivering"
    assert flight.state("centre-right", at_s) == "delivering"
    assert flight.quantity("centre.rate_kg_h", at_s) == pytest.approx(
        -flight.quantity("centre-right.flow_kg_h", at_s)
    )


def test_a_pump_switched_on_again_delivers_again() -> None:
    flight = flown("1:15:00 centre-left=off", "1:17:00 centre-left=on")
    on = turn(flight, "centre-left", "delivering", 4620.0)
    assert on.time_s == 4620.0
    assert on.reason.kind == "action"
    assert flight.state("main-left-forward", 4620.0) == "running, held back"


def test_a_pump_set_to_what_it_is_changes_nothing() -> None:
    plain, same = flown(), flown("1:15:00 centre-left=on", "1:15:00 cross-feed=shut")
    assert [(c.part, c.after) for c in same.changes] == [(c.part, c.after) for c in plain.changes]
    assert [c.time_s for c in same.changes] == pytest.approx([c.time_s for c in plain.changes], abs=0.01)
    assert len(same.commands) == len(plain.commands) + 2


# ------------------------------------------------------------------ suction feed


ALL_PUMPS = (*WING_PUMPS, "centre-left", "centre-right")
SIDES = (("left", "1"), ("right", "2"))


def all_pumps(time: str, state: str) -> tuple[str, ...]:
    return tuple(f"{time} {pump}={state}" for pump in ALL_PUMPS)


def test_with_no_pump_in_the_climb_suction_feeds_both_engines_and_a_warning_tells() -> None:
    flight = flown(*all_pumps("0:51:00", "off"), *all_pumps("0:53:00", "on"))
    off_s, on_s = 3060.0, 3180.0
    pitch_deg = flight.quantity("flight.pitch_deg", off_s)
    for side, engine in SIDES:
        assert turn(flight, f"bypass-{side}", "feeding").time_s == off_s
        needed = flight.quantity(f"engine-{engine}.flow_kg_h", off_s)
        needed += flight.quantity(f"return-{side}.flow_kg_h", off_s)
        assert flight.quantity(f"bypass-{side}.flow_kg_h", off_s) == pytest.approx(needed)
        # Static head of the main, less what the bypass takes.
        tank = next(tank for tank in alder().tanks if tank.name == f"main-{side}")
        celsius = flight.quantity(f"main-{side}.temperature_c", off_s)
        density = 804.0 - 0.74 * (celsius - 15.0)
        shape = TankShape(
            tank.outline_m,
            tank.bottom_m,
            tank.dihedral_deg,
            tank.depth_m,
            tank.depth_outboard_m,
            tank.capacity_l,
        )
        level_m = shape.at(pitch_deg, 0.0).level_m(flight.quantity(f"main-{side}.volume_l", off_s))
        head = 0.02 * density / 800.0 + 1e-5 * density * 9.80665 * (level_m - tank.bottom_m)
        manifold_bar = head - loss_bar(0.006, 0.004, needed, celsius)
        assert flight.quantity(f"manifold-{side}.pressure_bar", off_s) == pytest.approx(
            manifold_bar, abs=1e-5
        )
        assert all(flight.state(f"engine-{engine}", t) == "running" for t in (off_s, on_s - 1.0, on_s))
        alert = turn(flight, f"feed-pressure-{engine}", "on")
        assert alert.time_s == off_s
        # The pumps' return ends it.
        assert turn(flight, f"bypass-{side}", "resting", off_s).time_s == on_s
        assert turn(flight, f"feed-pressure-{engine}", "off", off_s).time_s == on_s


def test_what_an_engine_has_in_hand_on_suction_is_pressure_less_losses_vapour_and_air() -> None:
    flight = flown(*all_pumps("0:51:00", "off"))
    assert flight.ended is not None
    ends = [k for k, t in enumerate(flight.time_s) if 3060.0 < t < flight.duration_s]
    assert len(ends) > 3
    for k in ends:
        time_s = flight.time_s[k]
        for side, engine in SIDES:
            margin_bar = inlet_margin_bar(
                flight, f"engine-{engine}", f"manifold-{side}", f"main-{side}", time_s
            )
            recorded_bar = flight.quantity(f"engine-{engine}.inlet_margin_bar", time_s)
            assert recorded_bar == pytest.approx(margin_bar, abs=1e-5)


def test_suction_ends_in_the_climb_where_fresh_fuel_gives_off_too_much_air() -> None:
    flight = flown(*all_pumps("0:48:00", "off"))
    assert flight.ended is not None
    assert flight.ended.name == "fuel-exhausted"
    stopped = [turn(flight, f"engine-{engine}", "stopped for want of fuel") for _, engine in SIDES]
    assert max(change.time_s for change in stopped) == flight.ended.time_s == flight.duration_s
    first = min(stopped, key=lambda change: change.time_s)
    engine = first.part[-1]
    side = {number: side for side, number in SIDES}[engine]
    # Up to there it has something in hand, and there nothing.
    time_s = first.time_s - 1e-6
    margin_bar = inlet_margin_bar(flight, first.part, f"manifold-{side}", f"main-{side}", time_s)
    assert margin_bar == pytest.approx(0.0, abs=1e-5)
    earlier_bar = inlet_margin_bar(flight, first.part, f"manifold-{side}", f"main-{side}", time_s - 60.0)
    assert earlier_bar > 0.01
    for change in stopped:
        assert change.reason.name == "starvation"
        assert "too little for its pump" in change.reason.sentence
    assert {f"main-{side}-forward", f"main-{side}-aft"} & {change.part for change in chain(flight, first)}
    assert_sound(flight)


def test_suction_is_too_little_early_in_the_cruise_and_enough_when_the_air_has_gone() -> None:
    held, time_s = at_first_hold(*(f"{pump}=off" for pump in WING_PUMPS))
    assert held.ended is not None
    assert held.ended.time_s == time_s
    for _, engine in SIDES:
        assert turn(held, f"engine-{engine}", "stopped for want of fuel").time_s == time_s
    late = flown(*all_pumps("3:30:00", "off"), *all_pumps("3:50:00", "on"))
    assert late.ended is None
    assert late.quantity("flight.altitude_ft", 12_600.0) == held.quantity("flight.altitude_ft", time_s)
    for side, engine in SIDES:
        assert late.quantity(f"main-{side}.air_share", 12_600.0) < 0.6 * held.quantity(
            f"main-{side}.air_share", time_s
        )
        assert late.state(f"bypass-{side}", 12_600.0) == "feeding"
        margin_bar = inlet_margin_bar(late, f"engine-{engine}", f"manifold-{side}", f"main-{side}", 12_600.0)
        assert margin_bar > 0.02
        assert late.state(f"engine-{engine}", 13_800.0) == "running"
        assert turn(late, f"feed-pressure-{engine}", "off").time_s == 13_800.0


def test_the_same_switches_on_the_ground_stop_no_flight() -> None:
    flight = flown(
        *(f"0:40:00 {pump}=off" for pump in WING_PUMPS), *(f"0:46:00 {pump}=on" for pump in WING_PUMPS)
    )
    assert flight.ended is None
    assert turn(flight, "bypass-left", "feeding").time_s == 2400.0
    assert turn(flight, "bypass-left", "resting", 2400.0).time_s == 2760.0
    assert flight.state("engine-1", 2700.0) == "running"


def test_both_run_switches_off_in_the_air_end_the_flight() -> None:
    flight = flown("2:00:00 engine-1-run=off", "2:00:00 engine-2-run=off")
    assert flight.ended is not None
    assert (flight.ended.name, flight.ended.time_s) == ("no-engine", 7200.0)
    assert flight.ended.sentence == "No engine runs, in the air."
    assert flight.time_s[-1] == 7200.0


def test_a_flight_without_engines_ends_where_it_would_leave_the_ground() -> None:
    flight = flown("0:46:00 engine-1-run=off", "0:46:00 engine-2-run=off")
    assert flight.ended is not None
    leaves_s = next(s.start_s for s in segments(flight.script, flight.aircraft.airframe) if not s.ground)
    assert 2760.0 < leaves_s < flight.script.ends_s
    assert (flight.ended.name, flight.ended.time_s, flight.duration_s) == ("no-engine", leaves_s, leaves_s)


def test_too_little_fuel_ends_the_flight_when_the_last_engine_stops() -> None:
    flight = flown("0:03:30 preselect=9000")
    assert flight.ended is not None
    assert flight.ended.name == "fuel-exhausted"
    assert flight.quantities["total.gauged_kg"][-1] < 60.0
    stopped = [turn(flight, engine, "stopped for want of fuel").time_s for engine in ("engine-1", "engine-2")]
    assert max(stopped) == flight.duration_s
    assert min(stopped) < max(stopped)
    assert turn(flight, "low-level-left", "on").time_s < min(stopped) - 1200.0
    assert_sound(flight)


# ------------------------------------------------------------------ the cross-feed


def test_the_cross_feed_lets_the_right_wing_feed_both_engines() -> None:
    flight, time_s = at_first_hold("cross-feed=open", "main-left-forward=off", "main-left-aft=off")
    opens = turn(flight, "cross-feed", "open")
    assert opens.time_s == pytest.approx(time_s + 3.0)
    at_s = opens.time_s
    left_needs = flight.quantity("engine-1.flow_kg_h", at_s) + flight.quantity("return-left.flow_kg_h", at_s)
    assert flight.quantity("cross-feed.flow_kg_h", at_s) == pytest.approx(-left_needs)
    assert flight.quantity("main-right-forward.flow_kg_h", at_s) > left_needs
    assert flight.state("bypass-left", at_s) == "resting"
    before, after = (
        flight.quantity("main-left.actual_kg", t) - flight.quantity("main-right.actual_kg", t)
        for t in (at_s, at_s + 600.0)
    )
    assert after > before + 500.0


def test_unequal_pumps_drain_one_wing_through_an_open_cross_feed() -> None:
    flight, time_s = at_first_hold("cross-feed=open")
    at_s = time_s + 3.0
    flows = [
        sum(flight.quantity(f"main-{side}-{pump}.flow_kg_h", at_s) for pump in ("forward", "aft"))
        for side in ("left", "right")
    ]
    assert flows[1] > flows[0] + 300.0
    assert flight.quantity("cross-feed.flow_kg_h", at_s) < 0.0
    assert sum(flows) == pytest.approx(
        sum(
            flight.quantity(f"{name}.flow_kg_h", at_s)
            for name in ("engine-1", "engine-2", "return-left", "return-right")
        )
    )


def test_a_shut_cross_feed_lets_nothing_through() -> None:
    flight, time_s = at_first_hold("cross-feed=open")
    shut = flown(f"{clock(time_s)} cross-feed=open", f"{clock(time_s + 300.0)} cross-feed=shut")
    closed = turn(shut, "cross-feed", "shut")
    assert closed.time_s == pytest.approx(time_s + 303.0)
    assert shut.quantity("cross-feed.flow_kg_h", time_s + 299.0) < 0.0
    assert shut.quantity("cross-feed.flow_kg_h", closed.time_s) == 0.0
    assert flight.quantity("cross-feed.flow_kg_h", closed.time_s) < 0.0


def test_a_valve_turned_back_on_its_way_takes_its_stroke_again() -> None:
    flight = flown("2:00:00 cross-feed=open", "2:00:01 cross-feed=shut")
    assert [(change.after, change.time_s) for change in turns(flight, "cross-feed")] == [
        ("moving", 7200.0),
        ("shut", 7204.0),
    ]


# ------------------------------------------------------------------ engines, slats, refuelling


def test_one_engine_off_in_cruise_gives_the_other_its_thrust_and_stops_the_centre() -> None:
    flight = flown("2:00:00 engine-1-run=off", "2:10:00 engine-1-run=on")
    assert turn(flight, "engine-1", "off").time_s == 7200.0
    gross_kg = flight.quantity("flight.gross_kg", 7200.0)
    for engines, time_s in ((2, 7199.0), (1, 7200.0)):
        wanted = flow_kg_h(35_000 * 0.3048, 0.78, gross_kg, 0.0, 0.0, engines)
        assert flight.quantity("engine-2.flow_kg_h", time_s) == pytest.approx(wanted, rel=2e-3)
    assert turn(flight, "centre-right", "stopped by automatics", 7200.0).time_s == 7200.0
    used = flight.quantity("engine-1.used_kg", 7500.0)
    assert used == flight.quantity("engine-1.used_kg", 7790.0) > 1000.0
    again = turn(flight, "engine-1", "starting", 7800.0)
    assert again.time_s == 7802.0
    assert flight.quantity("engine-1.used_kg", again.time_s) == 0.0
    assert turn(flight, "proving-run-1", "active", 7800.0).time_s == 7852.0


def test_slats_out_in_cruise_hold_the_centre_and_stop_the_return_flow() -> None:
    flight = flown("2:00:00 slats=out", "2:05:00 slats=in")
    assert turn(flight, "slat-hold", "active", 7000.0).time_s == 7200.0
    for side in ("left", "right"):
        assert turn(flight, f"centre-{side}", "stopped by automatics", 7000.0).time_s == 7200.0
        assert turn(flight, f"cooling-return-{side}", "inactive", 7000.0).time_s == 7200.0
        assert turn(flight, f"centre-{side}", "delivering", 7000.0).time_s == 7500.0


def test_slats_out_in_cruise_cost_fuel() -> None:
    flight = flown("2:00:00 slats=out", "2:05:00 slats=in")
    assert flight.quantity("engine-1.flow_kg_h", 7200.0) > 1.5 * flown().quantity(
        "engine-1.flow_kg_h", 7200.0
    )


def test_a_smaller_preselected_total_leaves_the_centre_empty() -> None:
    flight = flown("0:03:30 preselect=12000")
    ends = turn(flight, "refuelling", "inactive")
    assert flight.quantity("total.gauged_kg", ends.time_s) == pytest.approx(12_000.0, abs=0.01)
    assert not turns(flight, "refuel-valve-centre")
    assert flight.quantities["preselect.value_kg"][-1] == 12_000.0


def test_a_total_beyond_the_tanks_stops_at_every_high_level_sensor() -> None:
    flight = flown("0:03:30 preselect=24000")
    # The controller stays on, yet every valve is shut by its own sensor and nothing is spilt.
    assert turn(flight, "high-level-centre", "wet")
    assert flight.quantity("centre.volume_l", 1250.0) < 9500.0
    assert max(flight.quantities["total.vented_kg"]) == 0.0


def test_the_panel_door_shut_early_stops_the_refuelling() -> None:
    flight = flown("0:08:00 refuel-door=shut")
    assert turn(flight, "refuelling", "inactive").time_s == 480.0
    for tank in ("main-left", "main-right", "outboard-left", "outboard-right"):
        assert turn(flight, f"refuel-valve-{tank}", "shut").time_s == 483.0


def test_the_apu_runs_in_flight_too_and_its_burn_is_nobody_s_fuel_used() -> None:
    flight = flown("3:00:00 apu-run=on")
    assert turn(flight, "apu", "running", 10_800.0).time_s == 10_842.0
    burned, used = (
        [flight.quantity(name, t) for t in (11_000.0, 14_600.0)]
        for name in ("total.burned_kg", "engine-1.used_kg")
    )
    second = [flight.quantity("engine-2.used_kg", t) for t in (11_000.0, 14_600.0)]
    assert burned[1] - burned[0] == pytest.approx(used[1] - used[0] + second[1] - second[0] + 130.0, abs=1.0)


def test_edits_at_the_very_start_and_the_very_end_are_honoured() -> None:
    flight = flown("0:00:00 cross-feed=open", "7:21:00 slats=out")
    assert turn(flight, "cross-feed", "moving").time_s == 0.0
    assert turn(flight, "slats", "out", 26_460.0).time_s == flight.duration_s == 26_460.0


def test_of_two_settings_at_one_time_the_later_in_the_list_stands() -> None:
    flight = flown("1:15:00 slats=out", "1:15:00 slats=in")
    assert flight.state("slats", 4500.0) == "in"
    assert flight.setting("slats", 4500.0) == "in"
    # An edit comes after the script's own action of that time.
    assert flown("6:57:00 slats=in").state("slats", 6 * 3600.0 + 57 * 60.0) == "in"

"""What goes wrong at refuelling: sensors, valves, the supply, the vents, and what people enter."""

from dataclasses import replace

import pytest

from tests.flight.flights import alder, day_sector, edit, flown, turn, turns
from tests.flight.trouble_flights import (
    alerts,
    assert_balanced,
    at_s,
    density_kg_m3,
    flown_as,
    gained,
    led_by,
    looks,
    value,
)
from wetwing.flight.fly import fly
from wetwing.flight.script import with_edits
from wetwing.physics.ledger import uplift_check

DOOR_OPENS, LOADED, ORDER_KG = "0:02:30", "0:19:30", 22700.0
SHUT_OFF_L = 8085.0


# ------------------------------------------------------------------ level sensors


def test_a_sensor_stuck_dry_lets_a_tank_overfill_and_its_vent_spill() -> None:
    flight = flown_as(f"{DOOR_OPENS} high-level-main-left=stuck dry", "0:13:00 refuel-hose=disconnected")
    spills = turn(flight, "vent-left", "spilling")
    alert = turn(flight, "main-left-spilling", "on")
    assert spills.time_s == alert.time_s < at_s("0:13:00")
    assert {"edit-1", "refuel-valve-main-left", "main-left"} <= led_by(flight, alert)
    # The surge space takes its 110 L first; what comes after that is lost.
    held = value(flight, "vent-left.surge_kg", spills.time_s)
    assert held == pytest.approx(110.0 * 0.804, rel=1e-3)
    lost = gained(flight, "total.vented_kg", spills.time_s, "0:13:03")
    assert lost > 500.0
    full = next(tank for tank in alder().tanks if tank.name == "main-left")
    assert value(flight, "main-left.volume_l", "0:12:30") == pytest.approx(full.overflow.at_l, abs=0.1)
    # With the hose off, the alert leaves as the spill ends.
    assert flight.state("main-left-spilling", at_s("0:25:00")) == "off"
    assert_balanced(flight)


def test_a_vent_without_a_surge_space_loses_what_spills_at_once() -> None:
    bare = replace(alder(), vents=tuple(replace(vent, surge_l=0.0) for vent in alder().vents))
    script = with_edits(
        day_sector(),
        tuple(
            map(edit, (f"{DOOR_OPENS} high-level-main-left=stuck dry", "0:13:00 refuel-hose=disconnected"))
        ),
        bare,
    )
    flight = fly(bare, script)
    spills = turn(flight, "vent-left", "spilling")
    assert spills.time_s == turn(flight, "main-left", "spilling").time_s
    assert spills.before == "dry"
    assert spills.reason.sentence.startswith("Fuel leaves the aircraft here at ")
    assert max(flight.quantities["vent-left.surge_kg"]) == 0.0
    ends = turn(flight, "vent-left", "dry", spills.time_s)
    assert ends.reason.sentence == "No tank spills into it any more."
    assert_balanced(flight)


def test_a_sensor_stuck_wet_leaves_its_tank_unfilled_and_the_wings_unequal() -> None:
    flight = flown_as(f"{DOOR_OPENS} high-level-main-left=stuck wet")
    assert turns(flight, "refuel-valve-main-left", "open") == []
    alert = turn(flight, "imbalance", "on")
    assert alert.time_s < at_s(LOADED)
    assert value(flight, "main-left.actual_kg", LOADED) == pytest.approx(1985.0, abs=25.0)
    # All else is full, and the order cannot be met: it ends when the hose comes off, not by the gauges.
    short = ORDER_KG - value(flight, "total.gauged_kg", "0:20:00")
    assert short == pytest.approx(value(flown(), "main-left.gauged_kg", "0:20:00") - 1985.0, abs=100.0)
    assert "hose is disconnected" in turn(flight, "refuelling", "inactive").reason.sentence


@pytest.mark.parametrize("litres", [-200.0, 150.0])
def test_a_sensor_that_is_wrong_by_litres_stops_so_much_earlier_or_later(litres: float) -> None:
    flight = flown_as(f"{DOOR_OPENS} high-level-main-left=biased {litres:g}")
    wets = turn(flight, "high-level-main-left", "wet", at_s(DOOR_OPENS))
    assert value(flight, "main-left.volume_l", wets.time_s) == pytest.approx(SHUT_OFF_L - litres, abs=0.1)
    assert "edit-1" in led_by(flight, wets)


def test_a_sensor_that_drifts_is_wrong_by_the_hour() -> None:
    flight = flown_as(f"{DOOR_OPENS} high-level-main-left=drifting -600")
    wets = turn(flight, "high-level-main-left", "wet", at_s(DOOR_OPENS))
    hours = (wets.time_s - at_s(DOOR_OPENS)) / 3600.0
    assert value(flight, "main-left.volume_l", wets.time_s) == pytest.approx(
        SHUT_OFF_L + 600.0 * hours, abs=0.1
    )


def test_a_frozen_sensor_keeps_its_state_and_a_dead_one_has_none() -> None:
    frozen = flown_as(f"{DOOR_OPENS} high-level-main-left=frozen", "0:13:00 refuel-hose=disconnected")
    assert turns(frozen, "high-level-main-left", "wet", at_s(DOOR_OPENS)) == []
    assert turns(frozen, "main-left", "spilling")
    dead = flown_as(f"{DOOR_OPENS} high-level-main-left=no signal")
    silent = turn(dead, "high-level-main-left", "no signal", at_s(DOOR_OPENS))
    assert led_by(dead, silent) == {"high-level-main-left", "edit-1"}
    # A valve opens on a sensor that is dry, and a dead sensor is not: the tank stays as it was, on the safe
    # side.
    assert turns(dead, "refuel-valve-main-left", "open") == []


# ------------------------------------------------------------------ supply, valves, gallery


def test_a_weak_supply_takes_longer_for_the_same_order() -> None:
    weak = flown_as("0:04:30 refuel-supply=low output 0.5")
    ends = [turn(flight, "refuelling", "inactive").time_s for flight in (flown(), weak)]
    assert value(weak, "refuel-supply.pressure_bar", "0:04:31") < 0.5 * 3.45
    # Where losses grow with the square of the flow, half the pressure gives sqrt(1/2) of it.
    times = [end - at_s("0:04:03") for end in ends]
    assert 1.25 < times[1] / times[0] < 1.0 / 0.5
    assert value(weak, "total.gauged_kg", "0:30:00") == pytest.approx(ORDER_KG, abs=60.0)


def test_a_valve_stuck_shut_fills_nothing_and_one_stuck_open_does_not_stop() -> None:
    shut = flown_as("0:04:30 refuel-valve-main-left=stuck shut")
    moves = turn(shut, "refuel-valve-main-left", "moving", at_s("0:04:30"))
    assert led_by(shut, moves) == {"refuel-valve-main-left", "edit-1"}
    assert value(shut, "refuel-valve-main-left.flow_kg_h", "0:05:00") == 0.0
    open_ = flown_as("0:04:30 refuel-valve-main-left=stuck open", "0:12:30 refuel-hose=disconnected")
    assert turns(open_, "high-level-main-left", "wet")
    assert open_.state("refuel-valve-main-left", at_s("0:30:00")) == "open"
    spills = turn(open_, "main-left", "spilling")
    assert "edit-1" in led_by(open_, spills)


def test_a_slow_valve_lets_in_more_than_the_sensor_reckons_with() -> None:
    flight = flown_as(f"{DOOR_OPENS} refuel-valve-main-left=slow 10")
    opens = turns(flight, "refuel-valve-main-left", "open")[0]
    # Ten times its stroke of 3 s, after the controller has looked at the gauges for 20 s.
    assert opens.time_s - at_s("0:04:20") == pytest.approx(30.0)
    shuts = turn(flight, "refuel-valve-main-left", "shut", opens.time_s)
    wets = turn(flight, "high-level-main-left", "wet", at_s(DOOR_OPENS))
    assert shuts.time_s - wets.time_s == pytest.approx(30.0)
    over = max(flight.quantities["main-left.volume_l"]) - SHUT_OFF_L
    usual = max(flown().quantities["main-left.volume_l"][: flown().keyframe(at_s(LOADED))]) - SHUT_OFF_L
    assert over > 5.0 * usual


def test_a_leak_of_the_gallery_is_uplifted_and_not_on_board() -> None:
    flight = flown_as("0:04:30 gallery=leak 2000")
    leaked = value(flight, "total.leaked_kg", "0:30:00")
    assert leaked > 500.0
    uplifted = [value(one, "total.uplifted_kg", "0:30:00") for one in (flown(), flight)]
    assert uplifted[1] - uplifted[0] == pytest.approx(leaked, abs=60.0)
    assert value(flight, "total.gauged_kg", LOADED) == pytest.approx(ORDER_KG, abs=60.0)
    assert_balanced(flight)


# ------------------------------------------------------------------ vents


def test_a_full_tank_against_a_blocked_vent_bursts() -> None:
    flight = flown_as(f"{DOOR_OPENS} vent-left=blocked", f"{DOOR_OPENS} high-level-main-left=stuck dry")
    assert flight.ended is not None
    assert flight.ended.name == "structure-limit"
    assert "Vent left" in flight.ended.sentence
    full_s = turn(flight, "main-left", "spilling").time_s
    assert flight.ended.time_s == full_s


def test_in_flight_a_blocked_vent_takes_the_relief_s_pressure_from_the_feed() -> None:
    flight = flown_as("3:10:00 vent-left=blocked", *looks("4:00:00"))
    sound = flown_as(*looks("4:00:00"))
    relief = next(vent for vent in alder().vents if vent.name == "vent-left").relief_bar
    sides = [
        value(sound, f"manifold-{side}.pressure_bar", "4:00:00")
        - value(flight, f"manifold-{side}.pressure_bar", "4:00:00")
        for side in ("left", "right")
    ]
    assert sides == pytest.approx([relief, 0.0], abs=1e-3)


# ------------------------------------------------------------------ people: units and the ticket


def test_an_order_in_pounds_taken_as_kilograms_leaves_45_per_cent() -> None:
    flight = flown_as(f"{DOOR_OPENS} preselect=wrong units")
    loaded = value(flight, "total.gauged_kg", LOADED)
    assert loaded == pytest.approx(0.45359237 * ORDER_KG, abs=60.0)
    assert flight.setting("preselect", at_s(LOADED)) == "22700 kg"
    ends = turn(flight, "refuelling", "inactive")
    assert "{10,297 kg}" in ends.reason.sentence
    assert "edit-1" in led_by(flight, ends)
    assert flight.ended is not None
    assert flight.ended.name == "fuel-exhausted"
    assert {"low-level-left", "low-level-right"} <= set(alerts(flight))


def test_the_wrong_unit_s_factor_is_its_severity() -> None:
    for factor in (0.4, 0.8):
        flight = flown_as(f"{DOOR_OPENS} preselect=wrong units {factor}")
        assert value(flight, "preselect.value_kg", LOADED) == pytest.approx(factor * ORDER_KG)
        assert value(flight, "total.gauged_kg", LOADED) == pytest.approx(factor * ORDER_KG, abs=60.0)


def test_a_ticket_with_a_wrong_density_disagrees_with_the_gauges() -> None:
    # 0.84 kg/L on the ticket, 0.804 in the tanks: 4.5 % of the uplift.
    flight = flown_as(declared_density_15c_kg_m3=840.0)
    arrival = value(flown(), "total.gauged_kg", "0:01:00")
    gauged = value(flight, "total.gauged_kg", LOADED)
    litres = value(flight, "total.uplifted_l", LOADED)
    script = flight.script
    ticket = density_kg_m3(script.uplift_temperature_c, script.declared_density_15c_kg_m3) / 1000.0
    true = density_kg_m3(script.uplift_temperature_c) / 1000.0
    check = uplift_check(arrival, 0.0, litres, ticket, gauged)
    assert not check.agrees
    assert check.difference_kg == pytest.approx(-0.036 * litres, rel=0.03)
    assert uplift_check(arrival, 0.0, litres, true, gauged).agrees
    # 1.77, which is lb/L taken for kg/L, is told apart by its size alone.
    assert not uplift_check(arrival, 0.0, litres, 1.77, gauged).agrees

"""The Juniper 285's long sector: transfer, trim, outers, jettison."""

import pytest

from tests.flight.fleet_flights import airborne_s, first_start_s, flown
from tests.flight.flights import turn, turns


def test_wings_first_then_the_centre_and_the_tail_only_for_a_great_load() -> None:
    flight = flown("juniper-285")
    full = turn(flight, "wings-full", "active")
    wings = ("outer-left", "inner-left", "inner-right", "outer-right")
    last = max(turn(flight, f"high-level-{tank}", "wet").time_s for tank in wings)
    assert full.time_s == last
    assert turn(flight, "refuel-valve-centre", "moving").time_s == last
    assert not turns(flight, "refuel-valve-tail")
    assert flight.quantity("tail.gauged_kg", first_start_s(flight)) < 10.0
    great = flown("juniper-285", "0:04:30 preselect=85500")
    centre = turn(great, "high-level-centre", "wet")
    assert turn(great, "refuel-valve-tail", "moving").time_s == centre.time_s
    assert great.quantity("tail.gauged_kg", first_start_s(great)) > 1500.0
    just_less = flown("juniper-285", "0:04:30 preselect=84500")
    assert not turns(just_less, "refuel-valve-tail")


def test_each_engine_feeds_from_its_own_inner_tank_all_the_way() -> None:
    flight = flown("juniper-285")
    off_s, on_s = airborne_s(flight)
    for step in range(1, 40):
        at_s = off_s + (on_s - off_s) * step / 40.0
        for number, side in ((1, "left"), (2, "right")):
            own = sum(
                flight.quantity(f"inner-{side}-{which}.flow_kg_h", at_s) for which in ("first", "second")
            )
            assert own == pytest.approx(flight.quantity(f"engine-{number}.flow_kg_h", at_s), rel=1e-4)
    assert max(flight.quantities["cross-feed.flow_kg_h"]) == 0.0


def test_the_centre_refills_the_inner_tanks_from_their_threshold_to_their_sensor() -> None:
    flight = flown("juniper-285")
    for side in ("left", "right"):
        begun = turn(flight, f"centre-to-{side}", "active")
        assert flight.quantity(f"inner-{side}.gauged_kg", begun.time_s) == pytest.approx(20_800.0, abs=0.5)
        ended = turn(flight, f"centre-to-{side}", "inactive", begun.time_s)
        wet = turn(flight, f"high-level-inner-{side}", "wet", begun.time_s)
        assert ended.time_s == wet.time_s
        assert flight.quantity(f"inner-{side}.volume_l", wet.time_s) == pytest.approx(30_250.0, abs=0.5)
        # It can only fill because the transfer brings more than the engine takes.
        middle_s = 0.5 * (begun.time_s + ended.time_s)
        brought = flight.quantity(f"centre-valve-{side}.flow_kg_h", middle_s)
        rate = flight.quantity(f"inner-{side}.rate_kg_h", middle_s)
        engine = f"engine-{1 if side == 'left' else 2}"
        assert rate == pytest.approx(brought - flight.quantity(f"{engine}.flow_kg_h", middle_s), rel=1e-3)
        assert rate > 3000.0


def test_the_centre_pumps_stop_when_one_has_run_dry() -> None:
    flight = flown("juniper-285")
    pumps = ("centre-transfer-left", "centre-transfer-right")
    dry = min(turn(flight, pump, "dry").time_s for pump in pumps)
    stop = turn(flight, "centre-dry", "active", dry)
    assert stop.time_s == pytest.approx(dry + 8.0)
    for pump in pumps:
        assert turn(flight, pump, "stopped by automatics", dry).time_s == stop.time_s
    # The tail's fuel starts them again in the descent.
    again = turn(flight, "centre-dry", "inactive", stop.time_s)
    assert flight.quantity("centre.gauged_kg", again.time_s) == pytest.approx(600.0, abs=0.5)
    assert again.time_s > turn(flight, "tail-emptied", "active").time_s


def test_the_tail_moves_the_balance_aft_then_forward_and_is_empty_for_the_landing() -> None:
    flight = flown("juniper-285")
    armed = turn(flight, "trim-armed", "active")
    assert flight.quantity("flight.altitude_ft", armed.time_s) == pytest.approx(21_500.0, abs=0.1)
    (aft,) = turns(flight, "trim-aft", "active")
    assert aft.time_s == armed.time_s
    assert flight.quantity("flight.cg_percent", aft.time_s) < 29.0
    enough = turn(flight, "trim-aft", "inactive")
    assert flight.quantity("flight.cg_percent", enough.time_s) == pytest.approx(32.0, abs=1e-3)
    forward = turn(flight, "trim-forward", "active")
    assert forward.time_s > enough.time_s
    assert flight.quantity("flight.cg_percent", forward.time_s) == pytest.approx(34.0, abs=1e-3)
    done = turn(flight, "trim-forward", "inactive")
    assert flight.quantity("flight.cg_percent", done.time_s) == pytest.approx(33.0, abs=1e-3)
    assert max(flight.quantities["flight.cg_percent"]) <= 34.0 + 1e-3
    emptied = turn(flight, "tail-emptied", "active")
    # A minute after the aircraft has come down through 18,000 ft.
    assert flight.quantity("flight.altitude_ft", emptied.time_s - 60.0) == pytest.approx(18_000.0, abs=0.1)
    landing_s = airborne_s(flight)[1]
    assert turn(flight, "tail-emptied", "inactive", emptied.time_s).time_s < landing_s
    assert flight.quantity("tail.gauged_kg", landing_s) < 30.0
    # Fuel is in the tail above the window alone.
    held = [k for k, kg in enumerate(flight.quantities["tail.gauged_kg"]) if kg > 30.0]
    assert min(flight.time_s[k] for k in held) >= armed.time_s


def test_a_kilogram_in_the_tail_weighs_more_than_one_anywhere_else() -> None:
    """The balance moves as the moments say: dx = m (x_tail - x_centre) / gross."""
    flight = flown("juniper-285")
    begun, ended = (turn(flight, "trim-aft", state).time_s + 1.0 for state in ("active", "inactive"))
    aircraft, script = flight.aircraft, flight.script
    mac_m, lemac_m = aircraft.balance.mac_m, aircraft.balance.lemac_m
    arms = {"outer": 36.2556, "inner": 29.4055, "centre": 25.85, "tail": 45.0354}
    for at_s in (begun, ended):
        moment = script.zero_fuel_kg * (lemac_m + 0.23 * mac_m)
        gross = script.zero_fuel_kg
        for tank in aircraft.tanks:
            kg = flight.quantity(f"{tank.name}.actual_kg", at_s)
            moment += kg * arms[tank.name.partition("-")[0]]
            gross += kg
        assert flight.quantity("flight.cg_percent", at_s) == pytest.approx(
            100.0 * (moment / gross - lemac_m) / mac_m, abs=0.01
        )


def test_the_crew_can_send_the_tail_s_fuel_forward_themselves() -> None:
    flight = flown("juniper-285", "6:00:00 trim-selector=forward")
    assert turn(flight, "tail-emptied", "active").time_s == 6 * 3600.0 + 60.0
    assert flight.quantity("tail.gauged_kg", 7 * 3600.0) < 30.0
    assert not turns(flight, "trim-aft", "active", 6 * 3600.0)


def test_the_outers_stay_full_until_an_inner_is_low() -> None:
    flight = flown("juniper-285")
    release = turn(flight, "outer-release", "active")
    inners = [flight.quantity(f"inner-{side}.gauged_kg", release.time_s) for side in ("left", "right")]
    assert min(inners) == pytest.approx(4600.0, abs=0.05)
    for side in ("left", "right"):
        full, late = (
            flight.quantity(f"outer-{side}.actual_kg", s) for s in (first_start_s(flight), release.time_s)
        )
        assert late == pytest.approx(full, abs=0.1)
        assert flight.quantity(f"outer-{side}.gauged_kg", airborne_s(flight)[1]) < 5.0
    # Their weight far out relieves the root: with it inboard the root bends more, of a lighter aircraft.
    gone_s = turn(flight, "outer-transfer-left", "resting", release.time_s).time_s
    before, after = (flight.quantity("flight.root_bending_kn_m", s) for s in (release.time_s, gone_s))
    assert after > before


def test_jettison_stops_at_its_floor() -> None:
    flight = flown("juniper-285", "2:10:00 jettison-floor=42000", "2:12:00 jettison-switch=on")
    begun, ended = (turn(flight, "jettison", state) for state in ("active", "inactive"))
    assert begun.time_s == 2 * 3600.0 + 12 * 60.0
    assert flight.quantity("total.gauged_kg", ended.time_s) == pytest.approx(42_000.0, abs=0.5)
    for side in ("left", "right"):
        assert turn(flight, f"jettison-outlet-{side}", "flowing").time_s == begun.time_s
        assert turn(flight, f"jettison-outlet-{side}", "dry", begun.time_s).time_s == ended.time_s
        # 0.006 Q + 0.001 Q² = 3.1 bar and the fuel's own head: 52 to 56 t/h a side.
        rate = flight.quantity(f"jettison-outlet-{side}.flow_kg_h", begun.time_s + 60.0)
        assert 51_000.0 < rate < 56_000.0
    on, off = (turn(flight, "jettison-runs", state) for state in ("on", "off"))
    assert (on.time_s, off.time_s) == (begun.time_s, ended.time_s)
    total = {
        key: flight.quantities[f"total.{key}_kg"][-1]
        for key in ("on_board", "burned", "uplifted", "discharged")
    }
    loaded = sum(tank.actual_kg for tank in flight.script.tanks.values())
    assert loaded + total["uplifted"] == pytest.approx(
        total["on_board"] + total["burned"] + total["discharged"], rel=1e-9
    )
    assert total["discharged"] > 20_000.0


def test_jettison_leaves_what_its_pumps_cannot_reach_and_the_leak_alert_keeps_still() -> None:
    """Their pick-ups stand high: whatever the floor, an inner tank keeps 4,200 L."""
    flight = flown("juniper-285", "7:00:00 jettison-switch=on", "7:40:00 jettison-switch=off")
    for side in ("left", "right"):
        dry = turn(flight, f"jettison-pump-{side}", "dry")
        assert flight.quantity(f"inner-{side}.volume_l", dry.time_s) == pytest.approx(4200.0, abs=0.5)
    assert turn(flight, "jettison", "inactive").time_s == 7 * 3600.0 + 40 * 60.0


def test_nothing_is_jettisoned_on_the_ground() -> None:
    flight = flown("juniper-285", "1:15:00 jettison-switch=on", "1:20:00 jettison-switch=off")
    assert not turns(flight, "jettison", "active")


def test_the_apu_draws_on_the_centre_until_the_left_pumps_run() -> None:
    flight = flown("juniper-285")
    running = turn(flight, "apu", "running")
    assert flight.state("apu-pump", running.time_s) == "delivering"
    assert flight.quantity("apu-pump.flow_kg_h", running.time_s) == pytest.approx(205.0, rel=1e-6)
    pump = turn(flight, "inner-left-first", "delivering")
    assert flight.state("apu-pump", pump.time_s + 1.0) == "off"
    assert flight.quantity("apu-check.flow_kg_h", pump.time_s + 1.0) == pytest.approx(205.0, rel=1e-6)

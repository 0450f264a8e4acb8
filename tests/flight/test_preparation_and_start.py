"""The demonstration flight on the ground: a cold aircraft, refuelling, the APU, and both engine starts."""

import pytest

from tests.flight.flights import alder, flown, phase_s, turn, turns

WING_TANKS = ("outboard-left", "main-left", "main-right", "outboard-right")
SWITCHED = (
    "main-left-forward",
    "main-left-aft",
    "centre-left",
    "centre-right",
    "main-right-forward",
    "main-right-aft",
)


# ------------------------------------------------------------------ the cold aircraft


def test_a_cold_aircraft_still_shows_the_last_flight_s_fuel_used() -> None:
    start = flown().moment(0.0)
    assert start.quantity("engine-1.used_kg") == 7310.0
    assert start.quantity("engine-2.used_kg") == 7280.0


def test_a_cold_aircraft_has_every_pump_off_and_no_gross_weight() -> None:
    start = flown().moment(0.0)
    assert all(start.state(pump.name) == "off" for pump in alder().pumps)
    assert start.state("gross-weight") == "not available"
    assert all(start.state(engine) == "off" for engine in ("engine-1", "engine-2", "apu"))


def test_a_cold_aircraft_has_its_outboard_valves_open_and_every_other_one_shut() -> None:
    start = flown().moment(0.0)
    for valve in alder().valves:
        latched = valve.name.startswith("outboard-valve")
        assert start.state(valve.name) == ("open" if latched else "shut"), valve.name


def test_the_refuelling_door_shuts_the_outboard_valves() -> None:
    flight = flown()
    door = turn(flight, "refuel-door", "open")
    for side in ("left", "right"):
        told = turn(flight, f"outboard-valve-{side}", "moving")
        assert told.time_s == door.time_s
        assert told.reason.name == "outboard-release"
        assert turn(flight, f"outboard-valve-{side}", "shut").time_s == pytest.approx(door.time_s + 4.0)


# ------------------------------------------------------------------ refuelling


def test_wings_are_filled_first() -> None:
    flight = flown()
    begins = turn(flight, "refuelling", "active")
    centre_opens = turn(flight, "refuel-valve-centre", "moving")
    for tank in WING_TANKS:
        assert turn(flight, f"refuel-valve-{tank}", "moving").time_s == begins.time_s
        assert turn(flight, f"high-level-{tank}", "wet").time_s <= centre_opens.time_s
    assert centre_opens.reason.name == "wings-full"
    centre_kg = [flight.quantity("centre.actual_kg", t) for t in (begins.time_s, centre_opens.time_s)]
    assert centre_kg[1] == pytest.approx(centre_kg[0])


def test_each_wing_tank_s_high_level_sensor_shuts_its_own_valve() -> None:
    flight = flown()
    for tank in WING_TANKS:
        wet = turn(flight, f"high-level-{tank}", "wet")
        valve = turns(flight, f"refuel-valve-{tank}", "moving")[1]
        assert valve.time_s == wet.time_s
        assert [(fact.name, fact.state) for fact in valve.reason.facts] == [(f"high-level-{tank}", "wet")]
        assert turn(flight, f"refuel-valve-{tank}", "shut").time_s == pytest.approx(wet.time_s + 3.0)


def test_refuelling_stops_at_the_preselected_total_and_spreads_it() -> None:
    flight = flown()
    ends = turn(flight, "refuelling", "inactive")
    preselected_kg = flight.quantity("preselect.value_kg", ends.time_s)
    assert flight.quantity("total.gauged_kg", ends.time_s) == pytest.approx(preselected_kg, abs=0.01)
    # The centre's valve takes its stroke to shut: a little more comes in.
    after = flight.moment(phase_s(flight, "start"))
    assert preselected_kg < after.quantity("total.gauged_kg") + 25.0
    assert after.quantity("total.gauged_kg") < preselected_kg + 25.0
    # The wings stand above their sensors by what came in while the valves shut; the centre has the rest.
    for sensor in alder().sensors:
        if sensor.tank in WING_TANKS and sensor.name.startswith("high-level"):
            shut_s = turn(flight, f"refuel-valve-{sensor.tank}", "shut").time_s
            beyond_l = flight.quantity(f"{sensor.tank}.volume_l", shut_s) - sensor.wet_at_l
            assert 0.0 < beyond_l < 0.01 * sensor.wet_at_l, sensor.tank
    for side in ("left", "right"):
        assert after.quantity(f"main-{side}.actual_kg") == pytest.approx(6550.0, abs=60.0)
        assert after.quantity(f"outboard-{side}.actual_kg") == pytest.approx(1140.0, abs=20.0)
    assert after.quantity("centre.actual_kg") == pytest.approx(7350.0, abs=150.0)
    assert max(flight.quantities["total.vented_kg"]) == 0.0


def test_what_is_uplifted_is_what_the_tanks_gain() -> None:
    flight = flown()
    before, after = (
        flight.moment(turn(flight, "refuel-hose", s).time_s) for s in ("connected", "disconnected")
    )
    gained = after.quantity("total.on_board_kg") - before.quantity("total.on_board_kg")
    burned = after.quantity("total.burned_kg") - before.quantity("total.burned_kg")
    assert after.quantity("total.uplifted_kg") == pytest.approx(gained + burned, rel=1e-12)
    assert after.quantity("total.uplifted_kg") > 18_000.0


# ------------------------------------------------------------------ pumps and the APU


def test_pumps_are_switched_on_one_at_a_time() -> None:
    flight = flown()
    times = [turns(flight, pump)[0].time_s for pump in SWITCHED]
    assert times == sorted(times)
    assert len(set(times)) == len(times)
    assert all(turns(flight, pump)[0].reason.kind == "action" for pump in SWITCHED)


def test_a_centre_pump_that_is_switched_on_waits_for_the_automatics() -> None:
    switched_on = turns(flown(), "centre-left")[0]
    assert switched_on.after == "stopped by automatics"
    assert "selector is automatic" in switched_on.reason.sentence


def test_the_apu_valve_opens_then_its_line_is_fed_by_the_battery_pump() -> None:
    flight = flown()
    opens = turn(flight, "apu-valve", "open")
    fed = turn(flight, "apu-pump", "delivering")
    starts = turn(flight, "apu", "starting")
    assert turn(flight, "apu-run", "on").time_s < opens.time_s == starts.time_s == fed.time_s
    assert flight.quantity("apu-pump.flow_kg_h", fed.time_s) == pytest.approx(95.0)
    assert flight.quantity("main-left.rate_kg_h", fed.time_s) == pytest.approx(-95.0, rel=0.01)


def test_the_left_manifold_takes_the_apu_line_over_from_the_battery_pump() -> None:
    flight = flown()
    on = turn(flight, "main-left-forward", "delivering")
    held = turn(flight, "apu-pump", "running, held back")
    assert held.time_s == on.time_s
    assert turn(flight, "apu-pump", "off", on.time_s).time_s == on.time_s
    assert turn(flight, "apu-check", "passing").time_s == on.time_s
    assert flight.quantity("apu-check.flow_kg_h", on.time_s) == pytest.approx(130.0)
    assert flight.quantity("apu-pump.flow_kg_h", on.time_s) == 0.0
    assert flight.state("apu", on.time_s + 1.0) == "running"


# ------------------------------------------------------------------ engine starts


@pytest.mark.parametrize(("engine", "shut_off"), [("engine-2", "shut-off-2"), ("engine-1", "shut-off-1")])
def test_each_engine_s_shut_off_opens_and_its_fuel_used_starts_again_from_zero(
    engine: str, shut_off: str
) -> None:
    flight = flown()
    opens = turn(flight, shut_off, "open")
    starts = turn(flight, engine, "starting")
    assert opens.time_s == starts.time_s
    assert flight.changes.index(opens) in starts.reason.causes
    assert flight.quantity(f"{engine}.used_kg", starts.time_s - 0.001) > 7000.0
    assert flight.quantity(f"{engine}.used_kg", starts.time_s) == 0.0
    assert flight.quantity(f"{engine}.flow_kg_h", starts.time_s) == 900.0
    runs = turn(flight, engine, "running")
    assert runs.time_s == pytest.approx(starts.time_s + 50.0)
    assert flight.quantity(f"{engine}.used_kg", runs.time_s) == pytest.approx(12.5, abs=0.01)
    assert flight.quantity(f"{engine}.flow_kg_h", runs.time_s) == pytest.approx(365.0)


def test_gross_weight_appears_with_the_first_engine() -> None:
    flight = flown()
    first = turn(flight, "engine-2", "running")
    assert first.time_s < turn(flight, "engine-1", "running").time_s
    shown = turn(flight, "gross-weight", "shown")
    assert shown.time_s == first.time_s
    assert flight.quantity("flight.gross_kg", shown.time_s) == pytest.approx(
        75_500.0 + flight.quantity("total.on_board_kg", shown.time_s)
    )


@pytest.mark.parametrize(
    ("engine", "proving"), [("engine-2", "proving-run-2"), ("engine-1", "proving-run-1")]
)
def test_the_centre_proves_itself_after_each_engine_start(engine: str, proving: str) -> None:
    flight = flown()
    runs = turn(flight, engine, "running")
    begins, ends = turn(flight, proving, "active"), turn(flight, proving, "inactive")
    assert begins.time_s == runs.time_s
    assert ends.time_s == pytest.approx(begins.time_s + 150.0)
    for side in ("left", "right"):
        assert flight.state(f"centre-{side}", begins.time_s + 1.0) in ("delivering", "running, nothing drawn")
        assert flight.state(f"centre-{side}", ends.time_s - 1.0) == "delivering"
        assert flight.state(f"main-{side}-forward", begins.time_s + 1.0) == "running, held back"


def test_engine_2_is_fed_by_the_centre_alone_during_the_proving_run() -> None:
    flight = flown()
    at_s = turn(flight, "proving-run-2", "active").time_s + 20.0
    assert flight.quantity("centre-right.flow_kg_h", at_s) == pytest.approx(
        flight.quantity("engine-2.flow_kg_h", at_s)
    )
    assert flight.quantity("main-right-forward.flow_kg_h", at_s) == 0.0


def test_two_hundredths_of_every_tank_stay_free_after_refuelling() -> None:
    # 14 CFR 25.969: expansion space that normal refuelling cannot fill.
    flight = flown()
    after_s = turn(flight, "refuel-hose", "disconnected").time_s
    for tank in alder().tanks:
        column = flight.quantities[f"{tank.name}.volume_l"]
        filled = [v for t, v in zip(flight.time_s, column, strict=True) if t <= after_s]
        assert max(filled) <= 0.98 * tank.capacity_l, tank.name

"""The fleet's normal flights: planned well, within every limit, and quiet where nothing is wrong."""

import pytest

from tests.flight.fleet_flights import FLIGHTS, airborne_s, first_start_s, flown, raised
from tests.flight.flights import assert_sound, turns
from wetwing.aircraft.read import fleet
from wetwing.flight.script import scripts
from wetwing.physics.burn import Aeroplane, holding_flow_kg_h

NAMES = sorted(FLIGHTS)

QUIET_RULES = {
    # The left wing is the lighter one at the start, and the right one's hold ends the left one's gain.
    "alder-165": {"return-flow-hold-left"},
    "alder-165-b": {"return-flow-hold-left"},
    # Nobody jettisons on a normal flight, and this one's fuel needs no tail on the ground.
    "juniper-285": {"jettison", "tail-refuelling"},
    "rowan-54": set(),
}
ALERTS = {
    "alder-165": set(),
    "alder-165-b": set(),
    "juniper-285": set(),
    "rowan-54": {"pump-by-itself-1", "pump-by-itself-2"},
}


def test_every_aircraft_and_every_script_is_flown_here() -> None:
    assert tuple(NAMES) == fleet()
    assert set(FLIGHTS.values()) <= set(scripts())


@pytest.mark.parametrize("name", NAMES)
def test_the_flight_is_sound_and_reaches_its_blocks(name: str) -> None:
    flight = flown(name)
    assert_sound(flight)
    assert flight.ended is None
    for engine in flight.aircraft.engines:
        assert len(turns(flight, engine.name, "running")) == 1
        assert not turns(flight, engine.name, "stopped for want of fuel")
    assert flight.quantities["total.vented_kg"][-1] == 0.0


@pytest.mark.parametrize("name", NAMES)
def test_masses_and_balance_stay_within_the_limits(name: str) -> None:
    flight = flown(name)
    limits = flight.aircraft.limits
    off_s, on_s = airborne_s(flight)
    assert flight.script.zero_fuel_kg <= limits.zero_fuel_kg
    assert flight.quantity("flight.gross_kg", off_s) <= limits.take_off_kg
    assert flight.quantity("flight.gross_kg", on_s) <= limits.landing_kg
    forward, aft = flight.aircraft.balance.cg_limits_percent
    column = flight.quantities["flight.cg_percent"]
    # Not near them either: normal flights leave a hundredth of the chord.
    assert forward + 1.0 <= min(column)
    assert max(column) <= aft - 1.0
    assert max(flight.quantities["flight.altitude_ft"]) <= limits.ceiling_ft


@pytest.mark.parametrize("name", NAMES)
def test_the_plan_is_loaded_flown_and_its_reserves_are_intact(name: str) -> None:
    flight = flown(name)
    plan = flight.script.plan_kg
    off_s, on_s = airborne_s(flight)
    gauged = [flight.quantity("total.gauged_kg", at_s) for at_s in (first_start_s(flight) - 1, off_s, on_s)]
    block, off, on = gauged
    assert sum(plan.values()) <= block <= 1.02 * sum(plan.values())
    # The trip takes what was planned for it, to a twentieth, and no more.
    assert 0.95 * plan["trip_kg"] <= off - on <= plan["trip_kg"]
    assert on >= plan["contingency_kg"] + plan["alternate_kg"] + plan["final_reserve_kg"]


@pytest.mark.parametrize("name", ["juniper-285", "rowan-54"])
def test_the_taxi_takes_what_was_planned_for_it(name: str) -> None:
    flight = flown(name)
    started, off = (
        flight.quantity("total.gauged_kg", at_s)
        for at_s in (first_start_s(flight) - 1.0, airborne_s(flight)[0])
    )
    planned = flight.script.plan_kg["taxi_kg"]
    assert 0.9 * planned <= started - off <= planned


@pytest.mark.parametrize("name", NAMES)
def test_the_reserves_are_what_the_rule_asks(name: str) -> None:
    """CAT.OP.MPA.181, ICAO Annex 6, 4.3.6: 5 % of the trip, never under 5 minutes' holding; in reserve 30
    minutes' holding at the mass of arrival at the alternate.
    """
    flight = flown(name)
    plan, craft = flight.script.plan_kg, flight.aircraft.airframe
    aeroplane = Aeroplane(
        craft.wing_area_m2,
        craft.drag_zero_lift,
        craft.drag_induced,
        craft.engine_thrust_n,
        craft.static_flow_kg_h,
    )
    landing_kg = flight.quantity("flight.gross_kg", airborne_s(flight)[1])
    holding_kg_h = holding_flow_kg_h(aeroplane, landing_kg)
    last_kg_h = holding_flow_kg_h(aeroplane, landing_kg - plan["alternate_kg"])
    assert 0.5 * last_kg_h <= plan["final_reserve_kg"] <= 0.55 * last_kg_h
    least = max(0.05 * plan["trip_kg"], holding_kg_h / 12.0)
    assert least <= plan["contingency_kg"] <= 1.1 * least


@pytest.mark.parametrize("name", NAMES)
def test_no_alert_sounds_that_should_not(name: str) -> None:
    assert {change.part for change in raised(flown(name))} == ALERTS[name]


@pytest.mark.parametrize("name", NAMES)
def test_every_rule_acts(name: str) -> None:
    flight = flown(name)
    acted = {rule.name for rule in flight.aircraft.rules if turns(flight, rule.name, "active")}
    assert {rule.name for rule in flight.aircraft.rules} - acted == QUIET_RULES[name]


@pytest.mark.parametrize("name", NAMES)
def test_refuelling_leaves_two_hundredths_of_each_tank(name: str) -> None:
    """14 CFR 25.969, and so nothing spills while a refuelling valve travels."""
    flight = flown(name)
    watched = {sensor.tank for sensor in flight.aircraft.sensors if sensor.name.startswith("high-level")}
    on_blocks = [k for k, at_s in enumerate(flight.time_s) if at_s < first_start_s(flight)]
    for tank in flight.aircraft.tanks:
        if tank.name in watched:
            litres = flight.quantities[f"{tank.name}.volume_l"]
            assert max(litres[k] for k in on_blocks) <= 0.98 * tank.capacity_l, tank.name


@pytest.mark.parametrize("name", NAMES)
def test_the_low_level_alert_would_leave_thirty_minutes_of_cruise(name: str) -> None:
    """AMC 25.1305(a)(2), at the flow of early cruise, which is the highest."""
    flight = flown(name)
    cruise_s = next(phase.start_s for phase in flight.phases if phase.name == "cruise") + 600.0
    tanks = {tank.name: tank for tank in flight.aircraft.tanks}
    sensors = [sensor for sensor in flight.aircraft.sensors if sensor.name.startswith("low-level")]
    assert len(sensors) == len(flight.aircraft.engines)
    for sensor, engine in zip(sensors, flight.aircraft.engines, strict=True):
        usable_kg = sensor.dry_at_l * 0.803 - tanks[sensor.tank].unusable_kg
        hours = usable_kg / flight.quantity(f"{engine.name}.flow_kg_h", cruise_s)
        assert 0.45 <= hours <= 0.8, sensor.name


@pytest.mark.parametrize("name", NAMES)
def test_every_engine_s_inlet_keeps_its_margin_and_no_fuel_comes_near_freezing(name: str) -> None:
    flight = flown(name)
    off_s, on_s = airborne_s(flight)
    inside = [k for k, at_s in enumerate(flight.time_s) if off_s <= at_s <= on_s]
    for engine in flight.aircraft.engines:
        margins = flight.quantities[f"{engine.name}.inlet_margin_bar"]
        assert min(margins[k] for k in inside) > 0.3
    for tank in flight.aircraft.tanks:
        margins = flight.quantities[f"{tank.name}.freezing_margin_c"]
        assert min(margins[k] for k in inside) > 3.0

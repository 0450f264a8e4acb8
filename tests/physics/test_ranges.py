"""Each formula takes its range from end to end, and refuses the next number beyond either end."""

from collections.abc import Callable
from math import inf, nextafter

import pytest

from wetwing.physics import (
    air,
    balance,
    burn,
    dielectric,
    dissolved_air,
    freezing,
    fuel,
    jettison,
    ledger,
    planning,
    suction,
    surge,
    units,
    vapour,
)

MOST_KG = 1e6


def aeroplane(**one: float) -> burn.Aeroplane:
    figures = {
        "wing_area_m2": 125.0,
        "drag_zero_lift": 0.020,
        "induced_factor": 0.041,
        "static_thrust_n": 120e3,
        "static_flow_kg_h": 4111.0,
    }
    return burn.Aeroplane(**{**figures, **one})  # type: ignore[arg-type]


def plan(**one: float) -> planning.Plan:
    purposes = ("taxi_kg", "trip_kg", "contingency_kg", "alternate_kg", "final_reserve_kg")
    return planning.Plan(**{**dict.fromkeys(purposes, 100.0), **one})


def uplift(**one: float) -> ledger.UpliftCheck:
    figures = {
        "arrival_kg": 3100.0,
        "ground_burn_kg": 100.0,
        "uplift_l": 11e3,
        "density_kg_l": 0.8,
        "gauged_kg": 1e4,
    }
    return ledger.uplift_check(**{**figures, **one})


def wave(**one: float) -> float:
    figures = {
        "density_kg_m3": 800.0,
        "bulk_modulus_pa": 1.35e9,
        "bore_m": 0.1,
        "wall_m": 0.0001,
        "wall_modulus_pa": 7e10,
    }
    return surge.wave_speed_m_s(**{**figures, **one})


def take_off(**one: float) -> balance.TakeOffLimit:
    names = ("structural_kg", "performance_kg", "landing_limit_kg", "zero_fuel_limit_kg", "take_off_fuel_kg")
    return balance.take_off_limit(**{**dict.fromkeys(names, 7e4), "trip_kg": 0.0, **one})


def named(make: Callable[..., object], name: str) -> Callable[[float], object]:
    return lambda value: make(**{name: value})


ROWS: list[tuple[str, Callable[[float], object], float, float]] = [
    ("total temperature: Mach number", lambda v: air.total_temperature_k(216.65, v), 0.0, 1.0),
    ("static temperature: Mach number", lambda v: air.static_temperature_k(216.65, v), 0.0, 1.0),
    ("static temperature: recovery factor", lambda v: air.static_temperature_k(216.65, 0.8, v), 0.0, 1.0),
    ("air pressure: altitude", air.pressure_pa, -1000.0, 20_000.0),
    ("air pressure: flight level", air.flight_level_pressure_pa, -30.0, 650.0),
    ("air density: pressure", lambda v: air.density_kg_m3(v, 288.15), 1000.0, 120_000.0),
    ("air density: temperature", lambda v: air.density_kg_m3(101_325.0, v), 150.0, 350.0),
    ("pressure altitude: pressure", air.altitude_m, 5474.0, 113_930.0),
    ("masses: zero_fuel_kg", lambda v: balance.flight_masses(v, 0.0, 0.0), 0.0, MOST_KG),
    ("masses: take_off_fuel_kg", lambda v: balance.flight_masses(6e4, v, 0.0), 0.0, MOST_KG),
    ("masses: trip_kg", lambda v: balance.flight_masses(6e4, 8000.0, v), 0.0, 8000.0),
    *(
        (f"take-off limit: {name}", named(take_off, name), 0.0, MOST_KG)
        for name in ("structural_kg", "performance_kg", "landing_limit_kg", "zero_fuel_limit_kg")
    ),
    ("take-off limit: take_off_fuel_kg", named(take_off, "take_off_fuel_kg"), 0.0, MOST_KG),
    ("take-off limit: trip_kg", named(take_off, "trip_kg"), 0.0, 7e4),
    (
        "centre of gravity: mass_kg",
        lambda v: balance.centre_of_gravity_m([(v, 1.0), (1.0, 1.0)]),
        0.0,
        MOST_KG,
    ),
    ("centre of gravity: arm_m", lambda v: balance.centre_of_gravity_m([(1.0, v)]), -500.0, 500.0),
    ("chord: mac_m", lambda v: balance.percent_mac(1.0, v), 0.1, 50.0),
    ("chord: mac_m", lambda v: balance.arm_of_percent_m(25.0, v), 0.1, 50.0),
    ("root bending: gross_kg", lambda v: balance.root_bending_n_m(v, [], 7.0), 0.0, MOST_KG),
    ("root bending: lift_arm_m", lambda v: balance.root_bending_n_m(7e4, [], v), 0.0, 100.0),
    ("root bending: load_factor", lambda v: balance.root_bending_n_m(7e4, [], 7.0, v), -1.0, 3.0),
    ("root bending: fuel arm_m", lambda v: balance.root_bending_n_m(7e4, [(1.0, v)], 7.0), 0.0, 100.0),
    ("aeroplane: wing_area_m2", named(aeroplane, "wing_area_m2"), 1.0, 2000.0),
    ("aeroplane: drag_zero_lift", named(aeroplane, "drag_zero_lift"), 0.001, 0.5),
    ("aeroplane: induced_factor", named(aeroplane, "induced_factor"), 0.001, 0.5),
    ("aeroplane: static_thrust_n", named(aeroplane, "static_thrust_n"), 1e3, 1e6),
    ("aeroplane: static_flow_kg_h", named(aeroplane, "static_flow_kg_h"), 10.0, 50_000.0),
    ("aeroplane: engines", named(aeroplane, "engines"), 1, 8),
    ("flow: thrust_share", lambda v: burn.flow_kg_h(4111.0, v), 0.0, 1.0),
    ("flow: bleed_factor", lambda v: burn.engine_flow_kg_h(4111.0, 0.2, 300.0, v), 1.0, 1.5),
    ("flow: wear_factor", lambda v: burn.engine_flow_kg_h(4111.0, 0.2, 300.0, 1.0, v), 1.0, 1.5),
    ("cruise: gross_kg", lambda v: burn.cruise_drag_n(aeroplane(), v, 0.0, 0.5), 1.0, 1e6),
    ("cruise: altitude_m", lambda v: burn.cruise_drag_n(aeroplane(), 7e4, v, 0.5), -1000.0, 20_000.0),
    ("cruise: mach", lambda v: burn.cruise_drag_n(aeroplane(), 7e4, 0.0, v), 0.1, 1.0),
    (
        "holding: gross_kg",
        lambda v: burn.holding_flow_kg_h(aeroplane(static_thrust_n=1e6), v),
        1.0,
        1e6,
    ),
    ("best level: gross_kg", lambda v: burn.best_pressure_pa(aeroplane(), v, 0.5), 1.0, 1e6),
    ("best level: mach", lambda v: burn.best_pressure_pa(aeroplane(), 7e4, v), 0.1, 1.0),
    ("density from dielectric constant: K", dielectric.density_from_dielectric_kg_m3, 1.0, 90.0),
    ("capacitance ratio: K", lambda v: dielectric.capacitance_ratio(v, 0.5), 1.0, 90.0),
    ("capacitance ratio: wetted share", lambda v: dielectric.capacitance_ratio(2.0, v), 0.0, 1.0),
    ("wetted share: capacitance ratio", lambda v: dielectric.wetted_share(v, 2.0), 0.0, 90.0),
    ("wetted share: K", lambda v: dielectric.wetted_share(1.5, v), 1.5, 90.0),
    ("polarisation", lambda v: dielectric.dielectric_constant(800.0, v), 0.0003, 0.00037),
    ("Ostwald coefficient", lambda v: dissolved_air.dissolved_volume_ratio(1.0, v), 0.1, 0.3),
    ("share of dissolved air", dissolved_air.dissolved_volume_ratio, 0.0, 1.2),
    ("ambient pressure", lambda v: dissolved_air.equilibrium_share(v, 0.0), 0.0, 1.2),
    ("vapour pressure", lambda v: dissolved_air.equilibrium_share(1.0, v), 0.0, 1.0),
    ("time constant", lambda v: dissolved_air.share_rate_per_s(1.0, 0.5, v), 1.0, 1e6),
    ("elapsed time", lambda v: dissolved_air.share_after(1.0, 0.5, 60.0, v), 0.0, 30_000.0),
    ("share of the first batch", lambda v: freezing.blend_freezing_c(v, -47.0, -40.0), 0.0, 1.0),
    ("first batch", lambda v: freezing.blend_freezing_c(0.5, v, -40.0), -80.0, -20.0),
    ("second batch", lambda v: freezing.blend_freezing_c(0.5, -47.0, v), -80.0, -20.0),
    ("freezing point", lambda v: freezing.freezing_margin_c(-40.0, v), -80.0, -20.0),
    ("x: fuel temperature", lambda v: fuel.check_fuel_temperature_c("x", v), -60.0, 120.0),
    ("x: density", lambda v: fuel.check_density_kg_m3("x", v), 745.0, 885.0),
    ("jettison: from_kg", lambda v: jettison.time_to_floor_min(v, 1e4, 9e4), 0.0, MOST_KG),
    ("jettison: floor_kg", lambda v: jettison.time_to_floor_min(1e4, v, 9e4), 0.0, MOST_KG),
    ("jettison: flow_kg_h", lambda v: jettison.time_to_floor_min(1e4, 1e3, v, 1.0), 0.0, MOST_KG),
    ("jettison: burn_kg_h", lambda v: jettison.time_to_floor_min(1e4, 1e3, 9e4, v), 0.0, MOST_KG),
    ("jettison: amount_kg", jettison.least_flow_kg_h, 0.0, MOST_KG),
    ("jettison: minutes", lambda v: jettison.least_flow_kg_h(18e3, v), 0.1, 1440.0),
    ("ledger: departure_kg", lambda v: ledger.discrepancy_kg(v, 0.0, 0.0), 0.0, MOST_KG),
    ("ledger: on_board_kg", lambda v: ledger.discrepancy_kg(0.0, v, 0.0), 0.0, MOST_KG),
    ("ledger: used_kg", lambda v: ledger.discrepancy_kg(0.0, 0.0, v), 0.0, MOST_KG),
    ("finding: tolerance_kg", lambda v: ledger.finding([0.0] * 5, v), 0.0, MOST_KG),
    ("leak: hours", lambda v: ledger.leak_flow_kg_h(0.0, 100.0, v), 1.0 / 60.0, 24.0),
    *(
        (f"uplift check: {name}", named(uplift, name), 0.0, MOST_KG)
        for name in ("arrival_kg", "ground_burn_kg", "uplift_l", "gauged_kg", "tolerance_kg")
    ),
    ("uplift check: density_kg_l", named(uplift, "density_kg_l"), 0.0, 100.0),
    ("uplift check: tolerance_share", named(uplift, "tolerance_share"), 0.0, 0.2),
    *(
        (f"plan: {name}", named(plan, name), 0.0, MOST_KG)
        for name in ("taxi_kg", "trip_kg", "contingency_kg", "alternate_kg", "final_reserve_kg")
    ),
    *(
        (f"plan: {name}", named(plan, name), 0.0, MOST_KG)
        for name in ("additional_kg", "extra_kg", "discretionary_kg")
    ),
    ("contingency: trip_kg", lambda v: planning.contingency_kg(v, 2340.0), 0.0, MOST_KG),
    ("contingency: holding_flow_kg_h", lambda v: planning.contingency_kg(8900.0, v), 0.0, MOST_KG),
    ("contingency: share", lambda v: planning.contingency_kg(8900.0, 2340.0, v), 0.03, 0.05),
    ("final reserve: holding_flow_kg_h", planning.final_reserve_kg, 0.0, MOST_KG),
    ("final reserve: minutes", lambda v: planning.final_reserve_kg(2340.0, v), 30.0, 120.0),
    ("predicted_landing_kg", lambda v: planning.standing_of(v, 1170.0, True), -MOST_KG, MOST_KG),
    ("standing: final_reserve_kg", lambda v: planning.standing_of(1500.0, v, True), 0.0, MOST_KG),
    ("standing: change_kg", lambda v: planning.standing_of(1500.0, 1170.0, True, v), 0.0, MOST_KG),
    ("carriage: extra_kg", lambda v: planning.carriage_cost_kg(v, 5.0, 0.03), 0.0, MOST_KG),
    ("carriage: wanted_kg", lambda v: planning.loaded_for_kg(v, 5.0, 0.03), 0.0, MOST_KG),
    ("carriage: hours", lambda v: planning.carriage_cost_kg(2000.0, v, 0.03), 0.0, 24.0),
    ("carriage: share_h", lambda v: planning.carriage_cost_kg(2000.0, 5.0, v), 0.0, 0.2),
    ("head of fuel: height", lambda v: suction.column_bar(804.0, v), -20.0, 20.0),
    ("lowest inlet pressure: gas limit", lambda v: suction.lowest_inlet_bar(0.0, 1.0, 0.18, v), 0.05, 1.0),
    (
        "suction feed: ambient pressure",
        lambda v: suction.suction_margin_bar(v, 0.0, 0.0, 0.005, 1.0),
        0.0,
        1.2,
    ),
    ("settled ceiling: gas limit", lambda v: suction.settled_ceiling_m(0.0, 0.1, 0.0, 0.18, v), 0.05, 1.0),
    ("settled ceiling: vapour pressure", lambda v: suction.settled_ceiling_m(0.0, 0.1, v), 0.0, 1.0),
    ("suction feed: head", lambda v: suction.settled_ceiling_m(v, 0.1, 0.0), -10.0, 10.0),
    ("suction feed: line loss", lambda v: suction.settled_ceiling_m(0.0, v, 0.0), 0.0, 100.0),
    ("wave speed: density_kg_m3", named(wave, "density_kg_m3"), 500.0, 1500.0),
    ("wave speed: bulk_modulus_pa", named(wave, "bulk_modulus_pa"), 1e8, 1e10),
    ("wave speed: wall_modulus_pa", named(wave, "wall_modulus_pa"), 1e6, 1e12),
    ("wave speed: bore_m", named(wave, "bore_m"), 0.001, 1.0),
    ("wave speed: wall_m", named(wave, "wall_m"), 1e-5, 0.01),
    ("surge: density_kg_m3", lambda v: surge.instant_rise_pa(v, 1200.0, 3.0), 500.0, 1500.0),
    ("surge: wave_speed_m_s", lambda v: surge.instant_rise_pa(800.0, v, 3.0), 10.0, 2000.0),
    ("surge: speed_change_m_s", lambda v: surge.instant_rise_pa(800.0, 1200.0, v), 0.0, 50.0),
    ("surge: length_m", lambda v: surge.closing_rise_pa(800.0, 1200.0, 3.0, v, 3.0), 0.0, 5000.0),
    ("surge: closing_s", lambda v: surge.closing_rise_pa(800.0, 1200.0, 3.0, 15.0, v), 0.0, 3600.0),
    ("pipe: flow_l_min", lambda v: surge.pipe_speed_m_s(v, 0.1), 0.0, 100_000.0),
    ("pipe: bore_m", lambda v: surge.pipe_speed_m_s(2271.0, v), 0.001, 1.0),
    ("uplift: figure_taken", lambda v: units.uplifted_share(v, 0.8), 1e-6, 1e6),
    ("vapour pressure: light ends", lambda v: vapour.vapour_pressure_pa(20.0, v), 1.0, 3.0),
]


@pytest.mark.parametrize(("place", "ask", "least", "most"), ROWS, ids=[row[0] for row in ROWS])
def test_a_range_is_taken_to_its_ends_and_no_further(
    place: str, ask: Callable[[float], object], least: float, most: float
) -> None:
    for end in (least, most):
        ask(end)
    for beyond in (nextafter(least, -inf), nextafter(most, inf)):
        with pytest.raises(ValueError) as refused:
            ask(beyond)
        assert f"{place} is " in str(refused.value)
        assert f"allowed is {least:g} to {most:g}" in str(refused.value)


def test_a_finding_needs_five_readings() -> None:
    assert ledger.finding([0.0] * 5, 10.0) == "agrees"
    with pytest.raises(ValueError, match="finding: number of readings is 4; allowed is 5 to 1e"):
        ledger.finding([0.0] * 4, 10.0)

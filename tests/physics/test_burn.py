"""Fuel flow against the published formula in another arithmetic, a public table, and searches for a least."""

import math
from itertools import pairwise

import pytest
from scipy import optimize

from wetwing.physics import burn
from wetwing.physics.air import FOOT_M, SEA_LEVEL_PA, pressure_ratio

TWIN = burn.Aeroplane(
    wing_area_m2=125.0,
    drag_zero_lift=0.020,
    induced_factor=0.041,
    static_thrust_n=120_000.0,
    static_flow_kg_h=4111.0,
)
MACH = 0.78
TABLE = [
    (70, 310, 2829), (70, 350, 2659), (70, 370, 2608),
    (80, 310, 3077), (80, 350, 2960), (80, 370, 2940),
    (90, 310, 3355), (90, 350, 3296), (90, 370, 3309),
]  # fmt: skip


def level_m(level: float) -> float:
    return level * 100.0 * FOOT_M


def best_level(gross_kg: float) -> float:
    """Search the level of least flow, in hundreds of feet."""
    found = optimize.minimize_scalar(
        lambda level: burn.cruise_flow_kg_h(TWIN, gross_kg, level_m(level), MACH),
        bounds=(200.0, 500.0),
        method="bounded",
        options={"xatol": 1e-6},
    )
    return float(found.x)


@pytest.mark.parametrize(("gross_t", "level", "flow_kg_h"), TABLE)
def test_cruise_flow_of_the_table(gross_t: int, level: int, flow_kg_h: int) -> None:
    computed = burn.cruise_flow_kg_h(TWIN, gross_t * 1000.0, level_m(level), MACH)
    assert computed == pytest.approx(flow_kg_h, rel=0.002)


@pytest.mark.parametrize("share", [0.0, 1e-9, 0.05, 0.18, 0.5, 0.85, 1.0])
def test_flow_against_the_formula_in_another_arithmetic(share: float) -> None:
    wanted = 4111.0 * 0.93756 * -math.expm1(-1.97676 * share * math.exp(1.39548 * share))
    assert burn.flow_kg_h(4111.0, share) == pytest.approx(wanted, rel=1e-13, abs=1e-12)


def test_flow_worked_figures() -> None:
    assert burn.flow_kg_h(4111.0, 0.18) == pytest.approx(1415, abs=0.5)
    assert burn.engine_flow_kg_h(4111.0, 0.18, 367.0, 1.03, 1.02) == pytest.approx(1486, abs=0.5)
    assert burn.cruise_drag_n(TWIN, 70_000.0, 10_668.0, MACH) == pytest.approx(40_600, abs=50)
    assert burn.holding_flow_kg_h(TWIN, 62_000.0) == pytest.approx(2283, abs=0.5)
    assert burn.carriage_share_h(TWIN, 80_000.0, 10_668.0, MACH) == pytest.approx(0.0319, abs=5e-5)


def test_an_engine_idles_below_and_is_rated_above() -> None:
    assert burn.engine_flow_kg_h(4111.0, -0.3, 367.0) == 367.0
    assert burn.engine_flow_kg_h(4111.0, 0.01, 367.0) == 367.0
    assert burn.engine_flow_kg_h(4111.0, 7.0, 367.0) == burn.flow_kg_h(4111.0, 1.0)
    assert burn.engine_flow_kg_h(4111.0, -0.3, 367.0, 1.1, 1.2) == pytest.approx(367.0 * 1.1 * 1.2, rel=1e-14)


def test_bleed_and_wear_multiply_cruise_and_holding() -> None:
    plain = burn.cruise_flow_kg_h(TWIN, 75_000.0, level_m(350), MACH)
    assert burn.cruise_flow_kg_h(TWIN, 75_000.0, level_m(350), MACH, 1.04, 1.05) == pytest.approx(
        plain * 1.04 * 1.05, rel=1e-14
    )
    holding = burn.holding_flow_kg_h(TWIN, 62_000.0)
    assert burn.holding_flow_kg_h(TWIN, 62_000.0, 1.04, 1.05) == pytest.approx(
        holding * 1.04 * 1.05, rel=1e-14
    )


def test_holding_is_the_least_of_all_speeds() -> None:
    altitude_m = 1500.0 * FOOT_M
    found = optimize.minimize_scalar(
        lambda mach: burn.cruise_flow_kg_h(TWIN, 62_000.0, altitude_m, mach),
        bounds=(0.2, 0.8),
        method="bounded",
        options={"xatol": 1e-9},
    )
    assert burn.holding_flow_kg_h(TWIN, 62_000.0) == pytest.approx(float(found.fun), rel=1e-10)


@pytest.mark.parametrize("gross_kg", [65_000.0, 70_000.0, 80_000.0, 90_000.0])
def test_best_level_is_the_one_that_a_search_finds(gross_kg: float) -> None:
    pressure_pa = SEA_LEVEL_PA * pressure_ratio(level_m(best_level(gross_kg)))
    assert burn.best_pressure_pa(TWIN, gross_kg, MACH) == pytest.approx(pressure_pa, rel=1e-5)


def test_the_best_level_falls_as_mass_rises() -> None:
    levels = [best_level(mass_t * 1000.0) for mass_t in range(64, 96, 4)]
    assert all(lighter > heavier + 5.0 for lighter, heavier in pairwise(levels))
    assert best_level(90_000.0) == pytest.approx(351, abs=0.5)


@pytest.mark.parametrize(("gross_t", "level", "flow_kg_h"), TABLE)
def test_carriage_is_the_slope_of_the_flow(gross_t: int, level: int, flow_kg_h: int) -> None:
    gross_kg, altitude_m = gross_t * 1000.0, level_m(level)
    slope = (
        burn.cruise_flow_kg_h(TWIN, gross_kg + 1.0, altitude_m, MACH)
        - burn.cruise_flow_kg_h(TWIN, gross_kg - 1.0, altitude_m, MACH)
    ) / 2.0
    assert burn.carriage_share_h(TWIN, gross_kg, altitude_m, MACH) == pytest.approx(slope, rel=1e-7)


@pytest.mark.parametrize(("low", "high", "level"), [(2829, 3077, 310), (2659, 2960, 350), (2608, 2940, 370)])
def test_carriage_between_two_masses_of_the_table(low: int, high: int, level: int) -> None:
    # Each of the two rounded flows is right to 0.5 kg/h, so their slope over 10 t is to 0.0001.
    slope = burn.carriage_share_h(TWIN, 75_000.0, level_m(level), MACH)
    assert slope == pytest.approx((high - low) / 10_000.0, abs=2e-4)


def test_more_engines_for_one_drag_burn_at_a_smaller_share() -> None:
    single = burn.Aeroplane(125.0, 0.020, 0.041, 240_000.0, 8222.0, engines=1)
    altitude_m = level_m(350)
    assert burn.cruise_flow_kg_h(single, 70_000.0, altitude_m, MACH) == pytest.approx(
        burn.cruise_flow_kg_h(TWIN, 70_000.0, altitude_m, MACH), rel=1e-14
    )


def test_what_the_formula_can_t_take_is_refused() -> None:
    with pytest.raises(ValueError, match=r"flow: thrust_share is 1.2; allowed is 0 to 1"):
        burn.flow_kg_h(4111.0, 1.2)
    with pytest.raises(ValueError, match=r"flow: thrust_share is nan"):
        burn.flow_kg_h(4111.0, math.nan)
    with pytest.raises(ValueError, match=r"flow: wear_factor is 0.9; allowed is 1 to 1.5"):
        burn.engine_flow_kg_h(4111.0, 0.2, 367.0, wear_factor=0.9)
    with pytest.raises(ValueError, match=r"flow: bleed_factor is 0.99"):
        burn.engine_flow_kg_h(4111.0, 0.2, 367.0, bleed_factor=0.99)
    with pytest.raises(ValueError, match=r"the thrust needed is \d+ N; allowed is at most 240000"):
        burn.cruise_flow_kg_h(TWIN, 400_000.0, level_m(390), MACH)
    with pytest.raises(ValueError, match=r"cruise: mach is 1.4; allowed is 0.1 to 1"):
        burn.cruise_flow_kg_h(TWIN, 70_000.0, level_m(350), 1.4)
    with pytest.raises(ValueError, match=r"aeroplane: engines is 0; allowed is 1 to 8"):
        burn.Aeroplane(125.0, 0.020, 0.041, 120_000.0, 4111.0, engines=0)

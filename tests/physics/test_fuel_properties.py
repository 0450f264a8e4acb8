"""Properties of fuel against figures worked by hand, closed forms, and laws of every temperature."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from scipy.integrate import quad  # type: ignore[import-untyped]

from wetwing.physics import dielectric, freezing, fuel, vapour, viscosity

FUEL_C = some.floats(-60.0, 120.0)
DENSITY = some.floats(745.0, 885.0)
FREEZING_C = some.floats(-80.0, -20.0)
repeatable = settings(deadline=None, derandomize=True)


@pytest.mark.parametrize("density_kg_m3", [745.0, 804.0, 885.0])
def test_densities_of_fuel_pass(density_kg_m3: float) -> None:
    fuel.check_density_kg_m3("truck", density_kg_m3)


@pytest.mark.parametrize(
    "density_kg_m3", [744.9, 885.1, 0.804, 1.77, 6.7, 1000.0, math.nan, math.inf, -804.0]
)
def test_slips_of_units_are_told(density_kg_m3: float) -> None:
    with pytest.raises(ValueError, match=r"truck: density is .* kg/m³; allowed is 745 to 885 kg/m³"):
        fuel.check_density_kg_m3("truck", density_kg_m3)


def test_the_range_of_density_is_that_of_the_specification_over_the_temperatures_of_flight() -> None:
    assert fuel.density_kg_m3(775.0, 55.0) == pytest.approx(745.4)
    assert fuel.density_kg_m3(840.0, -45.0) == pytest.approx(884.4)


@pytest.mark.parametrize("temperature_c", [-60.0, -40.0, 15.0, 75.0, 120.0])
def test_enthalpy_is_the_integral_of_specific_heat(temperature_c: float) -> None:
    wanted, _ = quad(fuel.specific_heat_j_kg_k, 15.0, temperature_c)
    assert fuel.enthalpy_j_kg(temperature_c) == pytest.approx(wanted, rel=1e-12, abs=1e-9)


def test_enthalpy_figures() -> None:
    assert fuel.enthalpy_j_kg(15.0) == 0.0
    assert fuel.enthalpy_j_kg(-40.0) == pytest.approx(-1895.0 * 55.0 + 2.05 * 3025.0)
    # Return flow of 400 kg/h that is 60 K above a tank of 15 °C brings about 14 kW.
    assert 400.0 / 3600.0 * fuel.enthalpy_j_kg(75.0) == pytest.approx(14000.0, abs=600.0)


@repeatable
@given(FUEL_C)
def test_viscosity_against_the_machine_s_own_exponential(temperature_c: float) -> None:
    kelvin = temperature_c + 273.15
    wanted = 225697.23 * math.exp(-0.042631022 * kelvin) - 0.0030984177 * kelvin + 1.9017552
    assert viscosity.viscosity_mm2_s(temperature_c) == pytest.approx(wanted, rel=1e-12)


@repeatable
@given(FUEL_C, FUEL_C)
def test_warm_fuel_is_thinner_and_has_more_vapour(first_c: float, second_c: float) -> None:
    cold, warm = sorted((first_c, second_c))
    if warm - cold > 1e-6:
        assert viscosity.viscosity_mm2_s(cold) > viscosity.viscosity_mm2_s(warm) > 0.0
        assert 0.0 < vapour.vapour_pressure_pa(cold) < vapour.vapour_pressure_pa(warm)
        assert fuel.enthalpy_j_kg(cold) < fuel.enthalpy_j_kg(warm)


def test_a_typical_fuel_is_within_the_specification_s_viscosity() -> None:
    assert (viscosity.LIMIT_C, viscosity.LIMIT_MM2_S) == (-20.0, 8.0)
    assert viscosity.viscosity_mm2_s(viscosity.LIMIT_C) < viscosity.LIMIT_MM2_S


def test_viscosity_factor() -> None:
    assert viscosity.viscosity_factor(15.0) == 1.0
    assert viscosity.viscosity_factor(-40.0) == pytest.approx(12.1 / 2.05, rel=0.007)
    assert viscosity.viscosity_factor(40.0) == pytest.approx(1.29 / 2.05, rel=0.007)


@repeatable
@given(FUEL_C)
def test_vapour_pressure_against_the_machine_s_own_exponential(temperature_c: float) -> None:
    wanted = math.exp(21.281 - 4551.4 / (temperature_c + 273.15))
    assert vapour.vapour_pressure_pa(temperature_c) == pytest.approx(wanted, rel=1e-12)
    assert vapour.vapour_pressure_pa(temperature_c, 2.5) == pytest.approx(2.5 * wanted, rel=1e-12)
    assert vapour.vapour_pressure_bar(temperature_c) == pytest.approx(wanted / 1e5, rel=1e-12)


def test_hot_fuel_of_many_light_ends_is_far_from_boiling_at_sea_level() -> None:
    # 14 CFR 25.961 asks for a climb with fuel of 43 °C: the vapour takes 3 % of the pressure at sea level.
    assert vapour.vapour_pressure_bar(43.0, 3.0) == pytest.approx(0.0297, abs=0.0005)


@repeatable
@given(DENSITY)
def test_dielectric_constant_obeys_its_law_and_its_inverse(density_kg_m3: float) -> None:
    constant = dielectric.dielectric_constant(density_kg_m3)
    assert (constant - 1.0) / (constant + 2.0) == pytest.approx(0.335 * density_kg_m3 / 1000.0, rel=1e-13)
    assert dielectric.density_from_dielectric_kg_m3(constant) == pytest.approx(density_kg_m3, rel=1e-13)


@repeatable
@given(some.floats(0.0, 1.0), DENSITY)
def test_a_probe_reads_what_it_is_wetted(share: float, density_kg_m3: float) -> None:
    constant = dielectric.dielectric_constant(density_kg_m3)
    ratio = dielectric.capacitance_ratio(constant, share)
    assert 1.0 <= ratio <= constant * (1.0 + 1e-15)
    assert dielectric.wetted_share(ratio, constant) == pytest.approx(share, abs=1e-14)


def test_a_compensator_in_water_corrupts_the_gauge() -> None:
    fuel_k, water_k = dielectric.dielectric_constant(804.0), 80.0
    ratio = dielectric.capacitance_ratio(fuel_k, 0.5)
    assert dielectric.wetted_share(ratio, water_k) == pytest.approx(0.5 * (fuel_k - 1.0) / 79.0)
    assert dielectric.density_from_dielectric_kg_m3(water_k) == pytest.approx(79.0 / 82.0 / 0.000335)


def test_grades() -> None:
    assert freezing.grade_limit_c("Jet A-1") == -47.0
    assert freezing.grade_limit_c("Jet A") == -40.0
    with pytest.raises(ValueError, match=r"freezing point: grade 'Jet B' is not one of Jet A-1, Jet A"):
        freezing.grade_limit_c("Jet B")


@repeatable
@given(some.floats(0.0, 1.0), FREEZING_C, FREEZING_C)
def test_a_blend_freezes_between_its_batches_and_above_their_mean(
    share: float, a_c: float, b_c: float
) -> None:
    blend_c = freezing.blend_freezing_c(share, a_c, b_c)
    assert min(a_c, b_c) - 1e-9 <= blend_c <= max(a_c, b_c) + 1e-9
    assert blend_c >= share * a_c + (1.0 - share) * b_c - 1e-9  # the power mean is above the plain one
    assert blend_c == pytest.approx(freezing.blend_freezing_c(1.0 - share, b_c, a_c), abs=1e-9)
    index = share * (a_c + 273.15) ** 20 + (1.0 - share) * (b_c + 273.15) ** 20
    assert blend_c + 273.15 == pytest.approx(index**0.05, rel=1e-12)


def test_a_blend_at_its_ends() -> None:
    assert freezing.blend_freezing_c(1.0, -50.0, -41.0) == pytest.approx(-50.0, abs=1e-10)
    assert freezing.blend_freezing_c(0.0, -50.0, -41.0) == pytest.approx(-41.0, abs=1e-10)
    assert freezing.blend_freezing_c(0.3, -47.0, -47.0) == -47.0
    assert freezing.blend_freezing_c(0.5, -47.0, -40.0) == pytest.approx(-43.0, abs=0.005)


def test_margin_to_freezing() -> None:
    assert freezing.freezing_margin_c(-40.0, -47.0) == 7.0
    assert freezing.freezing_margin_c(-42.0, -40.0) == -2.0


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (
            lambda: viscosity.viscosity_mm2_s(-60.1),
            "viscosity: fuel temperature is -60.1 °C; allowed is -60 to 120",
        ),
        (lambda: viscosity.viscosity_factor(math.nan), "viscosity: fuel temperature is nan °C; allowed is"),
        (lambda: vapour.vapour_pressure_pa(121.0), "vapour pressure: fuel temperature is 121 °C; allowed is"),
        (
            lambda: vapour.vapour_pressure_pa(20.0, 0.9),
            "vapour pressure: light ends is 0.9; allowed is 1 to 3",
        ),
        (
            lambda: vapour.vapour_pressure_bar(20.0, 3.1),
            "vapour pressure: light ends is 3.1; allowed is 1 to 3",
        ),
        (
            lambda: dielectric.dielectric_constant(0.8),
            "dielectric constant: density is 0.8 kg/m³; allowed is",
        ),
        (lambda: dielectric.dielectric_constant(800.0, 0.335), "polarisation is 0.335 m³/kg; allowed is"),
        (lambda: dielectric.density_from_dielectric_kg_m3(0.5), "K is 0.5; allowed is 1 to 90"),
        (lambda: dielectric.capacitance_ratio(2.1, 1.01), "wetted share is 1.01; allowed is 0 to 1"),
        (lambda: dielectric.wetted_share(1.5, 1.0), "wetted share: K is 1; allowed is 1.5 to 90"),
        (
            lambda: freezing.blend_freezing_c(1.1, -47.0, -40.0),
            "share of the first batch is 1.1; allowed is 0 to 1",
        ),
        (
            lambda: freezing.blend_freezing_c(0.5, -90.0, -40.0),
            "first batch is -90 °C; allowed is -80 to -20 °C",
        ),
        (
            lambda: freezing.blend_freezing_c(0.5, -47.0, 0.0),
            "second batch is 0 °C; allowed is -80 to -20 °C",
        ),
        (
            lambda: freezing.freezing_margin_c(0.0, -10.0),
            "freezing point is -10 °C; allowed is -80 to -20 °C",
        ),
    ],
)
def test_what_is_outside_the_range_is_refused(ask: Callable[[], float], told: str) -> None:
    with pytest.raises(ValueError) as refused:
        ask()
    assert told in str(refused.value)

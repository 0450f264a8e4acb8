"""Fuel, air and thrust against published tables and figures worked out by hand."""

import math

import pytest

from wetwing.physics import air, fuel, thrust


def test_density_falls_by_three_quarters_of_a_kilogram_a_degree() -> None:
    assert fuel.density_kg_m3(804.0, 15.0) == 804.0
    assert fuel.density_kg_m3(804.0, -40.0) == pytest.approx(844.7)
    assert fuel.density_kg_m3(804.0, 25.0) - fuel.density_kg_m3(804.0, 15.0) == pytest.approx(-7.4)


def test_volume_and_mass_undo_each_other() -> None:
    assert fuel.volume_l(804.0, 804.0, 15.0) == pytest.approx(1000.0)
    for temperature_c in (-47.0, 0.0, 15.0, 50.0):
        volume_l = fuel.volume_l(6500.0, 790.0, temperature_c)
        assert fuel.mass_kg(volume_l, 790.0, temperature_c) == pytest.approx(6500.0, rel=1e-14)


def test_warm_fuel_of_one_mass_takes_more_room() -> None:
    assert fuel.volume_l(6500.0, 804.0, 35.0) > fuel.volume_l(6500.0, 804.0, 5.0)


def test_specific_heat() -> None:
    assert fuel.specific_heat_j_kg_k(15.0) == 1895.0
    assert fuel.specific_heat_j_kg_k(-40.0) == pytest.approx(1669.5)


@pytest.mark.parametrize(
    ("level_ft", "pressure_kpa"),
    [(0, 101.325), (10_000, 69.7), (20_000, 46.6), (30_000, 30.1), (35_000, 23.8), (39_000, 19.7)],
)
def test_standard_pressures_by_flight_level(level_ft: int, pressure_kpa: float) -> None:
    ratio = air.pressure_ratio(level_ft * air.FOOT_M)
    assert ratio * air.SEA_LEVEL_PA / 1000.0 == pytest.approx(pressure_kpa, abs=0.05)


@pytest.mark.parametrize("altitude_m", [0.0, 500.0, 5000.0, 10_999.9, 11_000.0, 11_000.1, 15_000.0, 20_000.0])
def test_pressure_against_the_closed_form(altitude_m: float) -> None:
    exponent = 9.80665 / (287.05287 * 0.0065)
    if altitude_m < 11_000.0:
        wanted = (1.0 - 0.0065 * altitude_m / 288.15) ** exponent
    else:
        wanted = (216.65 / 288.15) ** exponent * math.exp(
            -9.80665 * (altitude_m - 11_000.0) / (287.05287 * 216.65)
        )
    assert air.pressure_ratio(altitude_m) == pytest.approx(wanted, rel=1e-13)


def test_pressure_has_no_step_at_the_tropopause() -> None:
    below, above = (air.pressure_ratio(air.TROPOPAUSE_M + side) for side in (-1e-6, 1e-6))
    assert below == pytest.approx(above, rel=1e-9)
    assert below > above


def test_standard_temperatures() -> None:
    assert air.standard_temperature_k(0.0) == 288.15
    assert air.standard_temperature_k(10_668.0) == pytest.approx(218.81, abs=0.005)
    assert air.standard_temperature_k(11_000.0) == pytest.approx(216.65, abs=1e-9)
    assert air.standard_temperature_k(15_000.0) == 216.65


def test_sound_speed_at_sea_level() -> None:
    assert air.sound_speed_m_s(288.15) == pytest.approx(340.29, abs=0.005)


def test_skin_and_total_temperature_of_a_cold_cruise() -> None:
    static_k = 273.15 - 56.5
    assert air.recovery_temperature_k(static_k, 0.78) - 273.15 == pytest.approx(-32.8, abs=0.05)
    assert air.recovery_temperature_k(static_k, 0.78, 1.0) - 273.15 == pytest.approx(-30.1, abs=0.05)
    assert air.recovery_temperature_k(static_k, 0.0) == static_k


def test_drag_of_a_cruise() -> None:
    pressure_pa = 23_842.0
    assert thrust.lift_free_drag_n(pressure_pa, 0.78, 152.0, 0.0182) == pytest.approx(28_090, abs=5)
    assert thrust.induced_drag_n(pressure_pa, 0.78, 152.0, 0.042, 900_000.0) == pytest.approx(22_040, abs=5)


def test_drag_is_least_where_both_kinds_are_equal() -> None:
    # For a fixed lift, D = a M² + b / M²: its minimum lies where the two parts are equal.
    def parts(mach: float) -> tuple[float, float]:
        return (
            thrust.lift_free_drag_n(23_842.0, mach, 152.0, 0.0182),
            thrust.induced_drag_n(23_842.0, mach, 152.0, 0.042, 900_000.0),
        )

    free, induced = parts(1.0)
    best = math.sqrt(math.sqrt(induced / free))
    at_best = parts(best)
    assert at_best[0] == pytest.approx(at_best[1], rel=1e-12)
    assert all(sum(parts(best * factor)) > sum(at_best) for factor in (0.98, 1.02))


def test_idle_flow_falls_with_the_air_s_pressure() -> None:
    assert thrust.idle_flow_kg_h(365.0, 1.0) == pytest.approx(365.0)
    assert thrust.idle_flow_kg_h(365.0, 0.0) == pytest.approx(0.7 * 365.0)

"""Air and the flammable band: inverses, closed forms, and a check of one public source against another."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from wetwing.physics import air, flammability
from wetwing.physics.vapour import vapour_pressure_pa

ALTITUDE_M = some.floats(-1000.0, 20000.0)
MACH = some.floats(0.0, 1.0)
STATIC_K = some.floats(180.0, 330.0)
repeatable = settings(deadline=None, derandomize=True)


@repeatable
@given(STATIC_K, MACH, some.floats(0.0, 1.0))
def test_static_temperature_undoes_recovery(static_k: float, mach: float, recovery: float) -> None:
    measured_k = air.recovery_temperature_k(static_k, mach, recovery)
    assert air.static_temperature_k(measured_k, mach, recovery) == pytest.approx(static_k, rel=1e-14)
    assert static_k <= measured_k <= air.total_temperature_k(static_k, mach) * (1.0 + 1e-15)


@repeatable
@given(STATIC_K, MACH)
def test_total_temperature_is_the_air_s_energy(static_k: float, mach: float) -> None:
    speed_m_s = mach * air.sound_speed_m_s(static_k)
    heat_j_kg_k = 3.5 * air.GAS_CONSTANT_J_KG_K
    wanted_k = static_k + speed_m_s * speed_m_s / (2.0 * heat_j_kg_k)
    assert air.total_temperature_k(static_k, mach) == pytest.approx(wanted_k, rel=1e-13)


@repeatable
@given(ALTITUDE_M)
def test_altitude_undoes_pressure(altitude_m: float) -> None:
    assert air.altitude_m(air.pressure_pa(altitude_m)) == pytest.approx(altitude_m, abs=1e-7)


@repeatable
@given(ALTITUDE_M, ALTITUDE_M)
def test_pressure_falls_with_altitude(first_m: float, second_m: float) -> None:
    low_m, high_m = sorted((first_m, second_m))
    if high_m - low_m > 1e-6:
        assert air.pressure_pa(low_m) > air.pressure_pa(high_m)


@pytest.mark.parametrize("altitude_m", [0.0, 3000.0, 9000.0, 10_999.0, 11_001.0, 15_000.0])
def test_the_air_carries_its_own_weight(altitude_m: float) -> None:
    # dp/dh = -rho g, the law that the standard atmosphere is built on.
    slope = (air.pressure_pa(altitude_m + 0.5) - air.pressure_pa(altitude_m - 0.5)) / 1.0
    density = air.density_kg_m3(air.pressure_pa(altitude_m), air.standard_temperature_k(altitude_m))
    assert slope == pytest.approx(-density * air.GRAVITY_M_S2, rel=1e-6)


def test_altitude_at_the_tropopause() -> None:
    edge_pa = air.pressure_pa(11_000.0)
    below_m, above_m = (air.altitude_m(edge_pa * (1.0 + side)) for side in (1e-9, -1e-9))
    assert below_m == pytest.approx(11_000.0, abs=1e-4)
    assert below_m < above_m < below_m + 1e-4


def test_air_figures() -> None:
    assert air.density_kg_m3(101325.0, 288.15) == pytest.approx(1.2250, abs=0.00005)
    assert air.flight_level_pressure_pa(350) == air.pressure_pa(350 * 100 * 0.3048)
    assert air.altitude_m(101325.0) == 0.0
    assert air.altitude_m(22632.06) == pytest.approx(11_000.0, abs=0.01)  # ISO 2533's pressure there


def test_the_band_between_and_beyond_the_table_s_points() -> None:
    assert flammability.lower_limit_c(5000.0 * 0.3048) == pytest.approx(31.8)
    assert flammability.upper_limit_c(25000.0 * 0.3048) == pytest.approx(57.75)
    assert flammability.lower_limit_c(45000.0 * 0.3048) == pytest.approx(9.2 - 3.25)
    assert flammability.upper_limit_c(40000.0 * 0.3048) == pytest.approx(41.4)
    for altitude_ft in (-1000.5, 45000.5):
        with pytest.raises(ValueError, match=r"flammable band: altitude is .*; allowed is -1000 to 45000 ft"):
            flammability.lower_limit_c(altitude_ft * 0.3048)
    assert flammability.upper_limit_c(-1000.0 * 0.3048) == pytest.approx(85.0 + 1.09)


@repeatable
@given(some.floats(-300.0, 13700.0), some.floats(-300.0, 13700.0))
def test_both_limits_fall_with_altitude(first_m: float, second_m: float) -> None:
    low_m, high_m = sorted((first_m, second_m))
    if high_m - low_m > 1e-3:
        assert flammability.lower_limit_c(low_m) > flammability.lower_limit_c(high_m)
        assert flammability.upper_limit_c(low_m) > flammability.upper_limit_c(high_m)
    assert flammability.lower_limit_c(low_m) < flammability.upper_limit_c(low_m)


def test_the_band_and_the_vapour_pressure_agree_on_how_much_vapour_burns() -> None:
    """Two public sources meet: at the limits the vapour is about 0.7 % and 5 % of the air by volume, between
    which kerosene vapour burns. The lower rises to 0.9 % at 40,000 ft.
    """
    for altitude_ft in (0.0, 10000.0, 20000.0, 30000.0, 40000.0):
        altitude_m = altitude_ft * 0.3048
        thin, rich = (
            100.0 * vapour_pressure_pa(limit(altitude_m)) / air.pressure_pa(altitude_m)
            for limit in (flammability.lower_limit_c, flammability.upper_limit_c)
        )
        assert 0.6 <= thin <= 1.0
        assert 4.7 <= rich <= 5.3


@pytest.mark.parametrize(
    ("temperature_c", "altitude_ft", "burns"),
    [
        (40.0, 0.0, True),
        (20.0, 0.0, False),
        (20.0, 30000.0, True),
        (86.0, 0.0, False),
        (35.0, 0.0, True),
        (-20.0, 35000.0, False),
        (60.0, 35000.0, False),
    ],
)
def test_what_is_flammable(temperature_c: float, altitude_ft: float, burns: bool) -> None:
    assert flammability.is_flammable(temperature_c, altitude_ft * 0.3048) is burns


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (
            lambda: air.total_temperature_k(220.0, 1.2),
            "total temperature: Mach number is 1.2; allowed is 0 to 1",
        ),
        (
            lambda: air.static_temperature_k(220.0, -0.1),
            "static temperature: Mach number is -0.1; allowed is 0 to 1",
        ),
        (lambda: air.static_temperature_k(220.0, 0.8, 1.1), "recovery factor is 1.1; allowed is 0 to 1"),
        (lambda: air.pressure_pa(20001.0), "air pressure: altitude is 20001 m; allowed is -1000 to 20000 m"),
        (lambda: air.flight_level_pressure_pa(35000.0), "flight level is 35000; allowed is -30 to 650"),
        (
            lambda: air.density_kg_m3(1013.25, -56.5),
            "air density: temperature is -56.5 K; allowed is 150 to 350 K",
        ),
        (
            lambda: air.density_kg_m3(1.01325, 288.15),
            "air density: pressure is 1.01325 Pa; allowed is 1000 to 120000",
        ),
        (
            lambda: air.altitude_m(math.nan),
            "pressure altitude: pressure is nan Pa; allowed is 5474 to 113930 Pa",
        ),
        (
            lambda: flammability.is_flammable(20.0, 15000.0),
            "flammable band: altitude is 49212.6 ft; allowed is",
        ),
    ],
)
def test_what_is_outside_the_range_is_refused(ask: Callable[[], float], told: str) -> None:
    with pytest.raises(ValueError) as refused:
        ask()
    assert told in str(refused.value)

"""Dissolved air and suction feed: the laws they come from, an independent solver, and plausible ceilings."""

import math
from collections.abc import Callable

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as some
from scipy.integrate import solve_ivp  # type: ignore[import-untyped]
from scipy.optimize import brentq  # type: ignore[import-untyped]

from wetwing.physics import air, dissolved_air, suction
from wetwing.physics.vapour import vapour_pressure_bar

OSTWALD = some.floats(0.1, 0.3)
GAS_LIMIT = some.floats(0.05, 1.0)
SHARE = some.floats(0.0, 1.2)
VAPOUR_BAR = some.floats(0.0, 0.1)
repeatable = settings(deadline=None, derandomize=True)


def test_fuel_at_sea_level_is_saturated() -> None:
    assert dissolved_air.equilibrium_share(1.01325, 0.0) == pytest.approx(1.0, rel=1e-15)
    assert dissolved_air.equilibrium_share(1.01325, 0.01325) == pytest.approx(1.0 / 1.01325, rel=1e-15)
    assert dissolved_air.equilibrium_share(0.238, 0.003) == pytest.approx(0.232, abs=0.0005)
    assert dissolved_air.equilibrium_share(0.01, 0.02) == 0.0


def test_a_thousand_litres_hold_as_much_air_as_henry_s_law_says() -> None:
    assert 1000.0 * dissolved_air.dissolved_volume_ratio(1.0, 0.18) == pytest.approx(180.0)
    # At half the pressure the same volume of thinner air: half as much, brought to one pressure.
    half = dissolved_air.dissolved_volume_ratio(0.5, 0.18)
    assert half == pytest.approx(0.5 * dissolved_air.dissolved_volume_ratio(1.0, 0.18))


def test_share_after_an_hour_against_the_exponential() -> None:
    assert dissolved_air.share_after(1.0, 0.23, 3600.0, 3600.0) == pytest.approx(
        0.23 + 0.77 / math.e, rel=1e-14
    )
    assert dissolved_air.share_after(1.0, 0.23, 3600.0, 0.0) == 1.0
    assert dissolved_air.share_rate_per_s(1.0, 0.23, 3600.0) == pytest.approx(-0.77 / 3600.0)
    assert dissolved_air.share_rate_per_s(0.4, 0.4, 3600.0) == 0.0


def test_release_against_an_independent_solver() -> None:
    def slope(_: float, share: list[float]) -> list[float]:
        return [dissolved_air.share_rate_per_s(share[0], 0.3, 2400.0)]

    solved = solve_ivp(slope, (0.0, 7200.0), [0.97], method="DOP853", rtol=1e-11, atol=1e-13)
    assert dissolved_air.share_after(0.97, 0.3, 2400.0, 7200.0) == pytest.approx(solved.y[0][-1], rel=1e-9)


@repeatable
@given(VAPOUR_BAR, some.floats(0.05, 1.2), OSTWALD, some.floats(0.01, 1.2))
def test_no_air_is_lost_between_the_fuel_and_the_gas(
    vapour_bar: float, share: float, ostwald: float, inlet_bar: float
) -> None:
    """Henry's and Boyle's laws, counted: what was dissolved is still dissolved or is in the gas."""
    air_bar = inlet_bar - vapour_bar
    saturation_bar = share * 1.01325
    assume(1e-3 < air_bar < saturation_bar)
    gas = suction.gas_volume_ratio(inlet_bar, vapour_bar, share, ostwald)
    assert gas * air_bar + ostwald * air_bar == pytest.approx(ostwald * saturation_bar, rel=1e-9)


def test_no_gas_above_the_saturation_pressure_and_no_end_of_it_at_the_vapour_pressure() -> None:
    assert suction.gas_volume_ratio(1.1, 0.005, 1.0) == 0.0
    assert suction.gas_volume_ratio(0.005, 0.005, 1.0) == math.inf
    assert suction.gas_volume_ratio(-0.2, 0.005, 1.0) == math.inf
    assert suction.gas_volume_ratio(0.35, 0.0045, 1.0, 0.18) == pytest.approx(0.348, abs=0.0005)


@repeatable
@given(VAPOUR_BAR, some.floats(0.05, 1.2), OSTWALD, GAS_LIMIT)
def test_the_lowest_inlet_pressure_is_where_the_gas_reaches_the_limit(
    vapour_bar: float, share: float, ostwald: float, limit: float
) -> None:
    lowest_bar = suction.lowest_inlet_bar(vapour_bar, share, ostwald, limit)
    assert suction.gas_volume_ratio(lowest_bar, vapour_bar, share, ostwald) == pytest.approx(limit, rel=1e-9)
    found = brentq(
        lambda bar: suction.gas_volume_ratio(bar, vapour_bar, share, ostwald) - limit,
        vapour_bar + 1e-4,
        vapour_bar + 1.5,
        xtol=1e-14,
    )
    assert lowest_bar == pytest.approx(found, rel=1e-9)


@repeatable
@given(SHARE, SHARE, VAPOUR_BAR, OSTWALD, GAS_LIMIT)
def test_more_dissolved_air_never_helps(
    first: float, second: float, vapour_bar: float, ostwald: float, limit: float
) -> None:
    less, more = sorted((first, second))
    lowest = suction.lowest_inlet_bar(vapour_bar, less, ostwald, limit)
    assert lowest <= suction.lowest_inlet_bar(vapour_bar, more, ostwald, limit)
    margins = [
        suction.suction_margin_bar(0.4, 0.05, 0.1, vapour_bar, share, ostwald, limit)
        for share in (less, more)
    ]
    assert margins[0] >= margins[1]
    ceilings = [
        suction.suction_ceiling_m(0.05, 0.1, vapour_bar, share, ostwald, limit) for share in (less, more)
    ]
    assert ceilings[0] >= ceilings[1]


@repeatable
@given(some.floats(0.0, 0.1), some.floats(0.0, 0.3), VAPOUR_BAR, OSTWALD, GAS_LIMIT)
def test_margin_is_nothing_at_the_ceiling(
    head_bar: float, loss_bar: float, vapour_bar: float, ostwald: float, limit: float
) -> None:
    ceiling_m = suction.suction_ceiling_m(head_bar, loss_bar, vapour_bar, 1.0, ostwald, limit)
    assume(-1000.0 < ceiling_m < 20000.0)
    ambient_bar = air.pressure_pa(ceiling_m) / 1e5
    margin_bar = suction.suction_margin_bar(ambient_bar, head_bar, loss_bar, vapour_bar, 1.0, ostwald, limit)
    assert margin_bar == pytest.approx(0.0, abs=1e-9)


@repeatable
@given(some.floats(0.0, 0.1), some.floats(0.0, 0.3), VAPOUR_BAR, OSTWALD, GAS_LIMIT)
def test_margin_is_nothing_at_the_settled_ceiling(
    head_bar: float, loss_bar: float, vapour_bar: float, ostwald: float, limit: float
) -> None:
    ceiling_m = suction.settled_ceiling_m(head_bar, loss_bar, vapour_bar, ostwald, limit)
    assume(-1000.0 < ceiling_m < 20000.0 and loss_bar > head_bar)
    ambient_bar = air.pressure_pa(ceiling_m) / 1e5
    share = dissolved_air.equilibrium_share(ambient_bar, vapour_bar)
    margin_bar = suction.suction_margin_bar(
        ambient_bar, head_bar, loss_bar, vapour_bar, share, ostwald, limit
    )
    assert margin_bar == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("ostwald", "limit", "loss_bar", "temperature_c", "light_ends"),
    [(0.18, 0.35, 0.10, 25.0, 1.5), (0.20, 0.30, 0.20, 40.0, 1.5), (0.15, 0.45, 0.10, 15.0, 1.0)],
)
def test_ceilings_of_fresh_fuel_are_the_usual_ones(
    ostwald: float, limit: float, loss_bar: float, temperature_c: float, light_ends: float
) -> None:
    vapour_bar = vapour_pressure_bar(temperature_c, light_ends)
    ceiling_m = suction.suction_ceiling_m(0.05, loss_bar, vapour_bar, 1.0, ostwald, limit)
    assert 15000.0 <= ceiling_m / 0.3048 <= 30000.0


def test_the_ceiling_rises_with_time_at_height() -> None:
    """Fuel that stays at FL250 for hours gives off its air: each hour's ceiling is above the last one's."""
    vapour_bar = vapour_pressure_bar(10.0, 1.5)
    equilibrium = dissolved_air.equilibrium_share(air.flight_level_pressure_pa(250) / 1e5, vapour_bar)
    ceilings_ft = [
        suction.suction_ceiling_m(
            0.05, 0.10, vapour_bar, dissolved_air.share_after(1.0, equilibrium, 3600.0, hour * 3600.0)
        )
        / 0.3048
        for hour in range(6)
    ]
    assert ceilings_ft == sorted(ceilings_ft)
    assert ceilings_ft[0] < 25000.0 < ceilings_ft[1]
    assert ceilings_ft[5] - ceilings_ft[0] > 10000.0
    assert ceilings_ft[5] < suction.settled_ceiling_m(0.05, 0.10, vapour_bar) / 0.3048


def test_ceilings_stay_within_the_atmosphere_of_the_model() -> None:
    assert suction.suction_ceiling_m(1.0, 0.0, 0.005, 1.0) == 20000.0
    assert suction.suction_ceiling_m(0.0, 5.0, 0.005, 1.0) == -1000.0
    assert suction.settled_ceiling_m(0.1, 0.05, 0.005) == 20000.0


def test_settled_fuel_with_head_to_spare_feeds_until_it_boils() -> None:
    ceiling_m = suction.settled_ceiling_m(0.1, 0.05, 0.3)
    assert air.pressure_pa(ceiling_m) / 1e5 == pytest.approx(0.3, rel=1e-9)


def test_margin_falls_by_what_a_line_loses() -> None:
    easy, hard = (suction.suction_margin_bar(0.5, 0.1, loss, 0.005, 1.0) for loss in (0.05, 0.25))
    assert easy - hard == pytest.approx(0.2)
    # At FL350 fresh fuel fails, and fuel that has given off its air does not.
    assert suction.suction_margin_bar(0.238, 0.10, 0.05, 0.0045, 1.0) == pytest.approx(-0.061, abs=0.0005)
    assert suction.suction_margin_bar(0.238, 0.10, 0.05, 0.0045, 0.23) == pytest.approx(0.204, abs=0.0005)


def test_head_of_a_column() -> None:
    assert suction.column_bar(804.0, 1.0) == pytest.approx(804.0 * 9.80665 / 1e5, rel=1e-15)
    assert suction.column_bar(804.0, 2.5) == pytest.approx(804.0 * 9.80665 * 2.5 / 1e5, rel=1e-15)
    assert suction.column_bar(804.0, -2.0) == -suction.column_bar(804.0, 2.0)


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (
            lambda: dissolved_air.equilibrium_share(1.3, 0.0),
            "ambient pressure is 1.3 bar; allowed is 0 to 1.2 bar",
        ),
        (
            lambda: dissolved_air.equilibrium_share(1.0, -0.1),
            "vapour pressure is -0.1 bar; allowed is 0 to 1 bar",
        ),
        (
            lambda: dissolved_air.dissolved_volume_ratio(1.0, 0.5),
            "Ostwald coefficient is 0.5; allowed is 0.1 to 0.3",
        ),
        (
            lambda: dissolved_air.dissolved_volume_ratio(-0.1),
            "share of dissolved air is -0.1; allowed is 0 to 1.2",
        ),
        (
            lambda: dissolved_air.share_rate_per_s(1.0, 2.0, 60.0),
            "release of air: equilibrium: share of dissolved",
        ),
        (
            lambda: dissolved_air.share_rate_per_s(1.0, 0.5, 0.0),
            "time constant is 0 s; allowed is 1 to 1e+06 s",
        ),
        (
            lambda: dissolved_air.share_after(1.0, 0.5, 60.0, -1.0),
            "elapsed time is -1 s; allowed is 0 to 30000 s",
        ),
        (
            lambda: suction.gas_volume_ratio(0.5, 2.0, 1.0),
            "gas at the inlet: vapour pressure is 2 bar; allowed is",
        ),
        (lambda: suction.lowest_inlet_bar(0.005, 1.0, 0.18, 0.0), "gas limit is 0; allowed is 0.05 to 1"),
        (lambda: suction.settled_ceiling_m(0.0, 0.1, 0.0, 0.18, 2.0), "gas limit is 2; allowed is 0.05 to 1"),
        (
            lambda: suction.suction_margin_bar(2.0, 0.0, 0.1, 0.005, 1.0),
            "ambient pressure is 2 bar; allowed is",
        ),
        (
            lambda: suction.suction_margin_bar(-0.1, 0.0, 0.1, 0.005, 1.0),
            "ambient pressure is -0.1 bar; allowed is 0 to 1.2 bar",
        ),
        (
            lambda: suction.lowest_inlet_bar(-0.1, 1.0),
            "lowest inlet pressure: vapour pressure is -0.1 bar; allowed is 0 to 1 bar",
        ),
        (
            lambda: suction.suction_margin_bar(0.5, 0.0, -0.1, 0.005, 1.0),
            "line loss is -0.1 bar; allowed is 0 to 100",
        ),
        (
            lambda: suction.suction_ceiling_m(math.nan, 0.1, 0.005, 1.0),
            "head is nan bar; allowed is -10 to 10 bar",
        ),
        (
            lambda: suction.column_bar(0.804, 1.0),
            "head of fuel: density is 0.804 kg/m³; allowed is 745 to 885",
        ),
        (lambda: suction.column_bar(804.0, 100.0), "head of fuel: height is 100 m; allowed is -20 to 20 m"),
    ],
)
def test_what_is_outside_the_range_is_refused(ask: Callable[[], float], told: str) -> None:
    with pytest.raises(ValueError) as refused:
        ask()
    assert told in str(refused.value)

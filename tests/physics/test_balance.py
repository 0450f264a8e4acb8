"""Masses, centre of gravity, limits and root bending against figures worked out by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wetwing.physics import balance

ARMS_M = (0.60, 1.60, 3.60)
ZERO_FUEL = (62_000.0, 0.25 * 4.5)
KG = st.floats(1.0, 50_000.0)
ARM = st.floats(-20.0, 20.0)


@pytest.mark.parametrize(
    ("load_t", "percent"),
    [((6, 12, 2), 27.0), ((0, 12, 2), 28.1), ((0, 2, 2), 27.0), ((0, 2, 0), 25.3)],
)
def test_centre_of_gravity_of_the_table(load_t: tuple[int, int, int], percent: float) -> None:
    load_kg = [1000.0 * tonnes for tonnes in load_t]
    assert balance.travel_percent(ZERO_FUEL, ARMS_M, [load_kg], 4.5) == [pytest.approx(percent, abs=0.05)]


def test_travel_goes_aft_while_the_centre_empties_then_forward() -> None:
    loads = [(6000.0, 12_000.0, 2000.0), (0.0, 12_000.0, 2000.0), (0.0, 2000.0, 2000.0), (0.0, 2000.0, 0.0)]
    travel = balance.travel_percent(ZERO_FUEL, ARMS_M, loads, 4.5)
    assert travel[0] < travel[1] > travel[2] > travel[3]


def test_percent_and_arm_undo_each_other() -> None:
    assert balance.percent_mac(1.2165, 4.5) == pytest.approx(27.0, abs=0.05)
    assert balance.arm_of_percent_m(25.0, 4.5) == 1.125
    assert balance.arm_of_percent_m(25.0, 4.6, 14.2) == pytest.approx(15.35)
    assert balance.percent_mac(balance.arm_of_percent_m(31.7, 4.6, 14.2), 4.6, 14.2) == pytest.approx(31.7)


@given(st.lists(st.tuples(KG, ARM), min_size=1, max_size=6), ARM)
def test_arms_from_another_origin_move_the_centre_by_the_same(
    masses: list[tuple[float, float]], shift_m: float
) -> None:
    moved = [(mass_kg, arm_m + shift_m) for mass_kg, arm_m in masses]
    centre_m = balance.centre_of_gravity_m(masses)
    assert balance.centre_of_gravity_m(moved) == pytest.approx(centre_m + shift_m, abs=1e-9)
    arms_m = [arm_m for _, arm_m in masses]
    assert min(arms_m) - 1e-9 <= centre_m <= max(arms_m) + 1e-9


@pytest.mark.parametrize(
    ("percent", "beyond"), [(13.5, -1.5), (15.0, 0.0), (25.0, 0.0), (36.0, 0.0), (37.25, 1.25)]
)
def test_beyond_limits(percent: float, beyond: float) -> None:
    assert balance.beyond_percent(percent, 15.0, 36.0) == beyond


def test_masses_of_a_flight() -> None:
    masses = balance.flight_masses(62_000.0, 12_015.0, 8900.0)
    assert (masses.zero_fuel_kg, masses.take_off_kg, masses.landing_kg) == (62_000.0, 74_015.0, 65_115.0)


@pytest.mark.parametrize(
    ("limits_kg", "limit_kg", "governs"),
    [
        ((79_000.0, 77_500.0, 66_000.0, 62_500.0), 74_515.0, "zero fuel"),
        ((79_000.0, 77_500.0, 65_500.0, 64_000.0), 74_400.0, "landing"),
        ((79_000.0, 71_200.0, 66_000.0, 64_000.0), 71_200.0, "performance"),
        ((70_000.0, 77_500.0, 66_000.0, 64_000.0), 70_000.0, "structural"),
        ((74_015.0, 74_015.0, 65_115.0, 62_000.0), 74_015.0, "structural"),
    ],
)
def test_the_least_limit_governs(
    limits_kg: tuple[float, float, float, float], limit_kg: float, governs: str
) -> None:
    found = balance.take_off_limit(*limits_kg, trip_kg=8900.0, take_off_fuel_kg=12_015.0)
    assert found == balance.TakeOffLimit(limit_kg, governs)


def test_root_bending_worked_figures() -> None:
    fuel = [(6000.0, 4.0), (1000.0, 11.0)]
    assert balance.root_bending_n_m(70_000.0, fuel, 7.0) == pytest.approx(2.06e6, abs=5e3)
    assert balance.root_bending_n_m(70_000.0, [], 7.0) == pytest.approx(2.40e6, abs=5e3)
    assert balance.root_bending_n_m(70_000.0, fuel, 7.0, 2.5) == pytest.approx(
        2.5 * balance.root_bending_n_m(70_000.0, fuel, 7.0), rel=1e-14
    )


def test_root_bending_against_the_integral_of_shear() -> None:
    # Lift and fuel as loads spread evenly over stretches of the half span: M is the integral of shear.
    gross_kg, half_span_m, steps = 70_000.0, 16.0, 64_000
    dy = half_span_m / steps
    moment = 0.0
    for n in range(steps):
        y = (n + 0.5) * dy
        lift = gross_kg / 2.0 / 14.0 if y < 14.0 else 0.0
        weight = (6000.0 / 6.0 if 1.0 < y < 7.0 else 0.0) + (1000.0 / 4.0 if 9.0 < y < 13.0 else 0.0)
        moment += (lift - weight) * y * dy * 9.80665
    found = balance.root_bending_n_m(gross_kg, [(6000.0, 4.0), (1000.0, 11.0)], 7.0)
    assert found == pytest.approx(moment, rel=1e-9)


def test_fuel_in_the_wing_bends_its_root_less_than_the_same_mass_in_the_body() -> None:
    # Two wings take 2 t each; or the body takes 4 t. Out at the lift's arm, fuel adds no bending at all.
    base = balance.root_bending_n_m(66_000.0, [], 7.0)
    in_body = balance.root_bending_n_m(70_000.0, [], 7.0)
    at_lift = balance.root_bending_n_m(70_000.0, [(2000.0, 7.0)], 7.0)
    inboard = balance.root_bending_n_m(70_000.0, [(2000.0, 3.0)], 7.0)
    assert base == pytest.approx(at_lift, rel=1e-14)
    assert base < inboard < in_body
    assert in_body - inboard == pytest.approx(9.80665 * 2000.0 * 3.0)


def test_bad_input_is_refused() -> None:
    with pytest.raises(ValueError, match=r"the masses sum to 0 kg"):
        balance.centre_of_gravity_m([(0.0, 1.0)])
    with pytest.raises(ValueError, match=r"mass_kg is -5; allowed is 0 to 1e\+06"):
        balance.centre_of_gravity_m([(-5.0, 1.0)])
    with pytest.raises(ValueError, match=r"arm_m is nan"):
        balance.centre_of_gravity_m([(5.0, math.nan)])
    with pytest.raises(ValueError, match=r"mac_m is 0; allowed is 0.1 to 50"):
        balance.percent_mac(1.0, 0.0)
    with pytest.raises(ValueError, match=r"trip_kg is 9000; allowed is 0 to 8000"):
        balance.flight_masses(62_000.0, 8000.0, 9000.0)
    with pytest.raises(ValueError, match=r"forward is 36 %, aft 15 %"):
        balance.beyond_percent(20.0, 36.0, 15.0)
    with pytest.raises(ValueError, match=r"forward is 15 %, aft 15 %; forward has to be the less"):
        balance.beyond_percent(20.0, 15.0, 15.0)
    with pytest.raises(ValueError, match=r"load_factor is 9; allowed is -1 to 3"):
        balance.root_bending_n_m(70_000.0, [], 7.0, 9.0)
    with pytest.raises(ValueError, match=r"one wing's fuel_kg is 40000; allowed is 0 to 35000"):
        balance.root_bending_n_m(70_000.0, [(40_000.0, 4.0)], 7.0)
    with pytest.raises(ValueError, match=r"zip"):
        balance.travel_percent(ZERO_FUEL, ARMS_M, [(1000.0, 2000.0)], 4.5)

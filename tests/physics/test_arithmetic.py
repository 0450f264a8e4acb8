"""Exponential, logarithm, power and tangent from the four operations, against the machine's own library."""

import math
import random
from fractions import Fraction

import pytest

from wetwing.physics.arithmetic import exp, log, power, tan_deg


def ulps(found: float, wanted: float) -> float:
    """How many units in the last place of `wanted` the two are apart."""
    return abs(found - wanted) / math.ulp(wanted)


def spread(least: float, most: float, count: int = 4000) -> list[float]:
    """The same numbers in every run, both ends among them."""
    chance = random.Random(31)
    return [least, most, *(chance.uniform(least, most) for _ in range(count))]


@pytest.mark.parametrize(("least", "most"), [(-700.0, 700.0), (-1.0, 1.0), (-1e-9, 1e-9)])
def test_exponential_to_two_units_in_the_last_place(least: float, most: float) -> None:
    assert max(ulps(exp(x), math.exp(x)) for x in spread(least, most)) <= 2.0


@pytest.mark.parametrize(("least", "most"), [(-300.0, 300.0), (-1.0, 1.0), (-1e-6, 1e-6)])
def test_logarithm_to_three_units_in_the_last_place(least: float, most: float) -> None:
    found = [10.0**x for x in spread(least, most)]
    assert max(ulps(log(x), math.log(x)) for x in found if x != 1.0) <= 3.0
    assert log(1.0) == 0.0


def test_logarithm_of_the_smallest_and_the_largest_number() -> None:
    for x in (5e-324, 2.2250738585072014e-308, 1.7976931348623157e308):
        assert ulps(log(x), math.log(x)) <= 2.0


def test_power_to_what_its_logarithm_allows() -> None:
    # An error in e ln b, which is up to e ln b times the last place of 1, comes out as a relative error.
    chance = random.Random(32)
    for _ in range(4000):
        base, exponent = 10.0 ** chance.uniform(-3, 3), chance.uniform(-10, 10)
        wanted = base**exponent
        assert ulps(power(base, exponent), wanted) <= 4.0 * (1.0 + abs(exponent * math.log(base)))


def test_worked_figures() -> None:
    assert exp(0.0) == 1.0
    assert ulps(exp(1.0), math.e) <= 1.0
    assert log(10.0) == pytest.approx(2.302585092994046, rel=1e-15)
    assert power(2.0, 0.5) == pytest.approx(math.sqrt(2.0), rel=1e-15)
    assert power(7.0, 0.0) == 1.0


@pytest.mark.parametrize("x", [700.1, -700.1, math.inf, -math.inf, math.nan])
def test_exponential_refuses_what_it_cannot_give(x: float) -> None:
    with pytest.raises(ValueError, match=r"exp: .* is outside -700 to 700"):
        exp(x)


@pytest.mark.parametrize("x", [0.0, -1.0, math.nan])
def test_logarithm_refuses_what_has_none(x: float) -> None:
    with pytest.raises(ValueError, match=r"log: .* is not above zero"):
        log(x)


@pytest.mark.parametrize("most", [45.0, 1.0, 1e-6])
def test_tangent_to_a_millionth_of_a_billionth(most: float) -> None:
    # math.tan takes radians, whose own rounding its slope carries on; what that does is taken out again.
    for degrees in spread(-most, most):
        radians = math.radians(degrees)
        slip = Fraction(degrees) * Fraction("3.14159265358979323846264338327950288") / 180 - Fraction(radians)
        wanted = math.tan(radians) + (1.0 + math.tan(radians) ** 2) * float(slip)
        assert abs(tan_deg(degrees) - wanted) <= 1e-15 * abs(wanted)


def test_tangents_known_from_the_triangle() -> None:
    assert tan_deg(0.0) == 0.0
    assert tan_deg(45.0) == pytest.approx(1.0, rel=1e-15)
    assert tan_deg(30.0) == pytest.approx(1.0 / math.sqrt(3.0), rel=1e-15)
    assert tan_deg(22.5) == pytest.approx(math.sqrt(2.0) - 1.0, rel=1e-15)
    assert tan_deg(15.0) == pytest.approx(2.0 - math.sqrt(3.0), rel=1e-15)


def test_tangent_is_odd_to_the_last_bit() -> None:
    assert all(tan_deg(-x) == -tan_deg(x) for x in spread(0.0, 45.0))


@pytest.mark.parametrize("x", [45.000001, -60.0, math.inf, math.nan])
def test_tangent_refuses_what_is_steeper(x: float) -> None:
    with pytest.raises(ValueError, match=r"tan_deg: .* is outside -45 to 45"):
        tan_deg(x)

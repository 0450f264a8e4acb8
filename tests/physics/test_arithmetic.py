"""Exponential, logarithm and power from the four operations, against the machine's own library."""

import math
import random

import pytest

from wetwing.physics.arithmetic import exp, log, power


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

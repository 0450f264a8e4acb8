"""The Runge-Kutta step: its order, its error estimate, its cubic, and what it conserves."""

import math
from itertools import pairwise

import pytest

from wetwing.physics.steps import Vector, between, step


def swing(time_s: float, state: Vector) -> Vector:
    """A pendulum of period 2 pi with a push that depends on time: x'' = -x + sin(2 t)."""
    return [state[1], -state[0] + math.sin(2.0 * time_s)]


def swing_exact(time_s: float) -> Vector:
    """From x = 1, x' = 0: x = cos t + (2 sin t - sin 2t) / 3."""
    return [
        math.cos(time_s) + (2.0 * math.sin(time_s) - math.sin(2.0 * time_s)) / 3.0,
        -math.sin(time_s) + (2.0 * math.cos(time_s) - 2.0 * math.cos(2.0 * time_s)) / 3.0,
    ]


def error_at_the_end(steps: int) -> float:
    state, time_s, length_s = [1.0, 0.0], 0.0, 6.0 / steps
    first = swing(0.0, state)
    for _ in range(steps):
        state, first, _, _ = step(swing, swing, time_s, state, first, length_s)
        time_s += length_s
    return math.dist(state, swing_exact(6.0))


def test_order_of_convergence_is_three() -> None:
    errors = [error_at_the_end(steps) for steps in (40, 80, 160, 320)]
    for wide, narrow in pairwise(errors):
        assert math.log2(wide / narrow) == pytest.approx(3.0, abs=0.1)


def test_error_estimate_is_of_third_order_and_larger_than_the_error() -> None:
    found = []
    for length_s in (0.2, 0.1, 0.05):
        state = swing_exact(0.7)
        after, _, _, estimate = step(swing, swing, 0.7, state, swing(0.7, state), length_s)
        error = math.dist(after, swing_exact(0.7 + length_s))
        assert math.hypot(*estimate) > error
        found.append(math.hypot(*estimate))
    for wide, narrow in pairwise(found):
        assert math.log2(wide / narrow) == pytest.approx(3.0, abs=0.25)


def test_a_quadratic_in_time_is_integrated_exactly() -> None:
    def slopes(time_s: float, state: Vector) -> Vector:
        return [3.0 * time_s * time_s - 2.0 * time_s + 5.0]

    after, last, middle, _ = step(slopes, slopes, 1.0, [0.0], slopes(1.0, [0.0]), 2.0)
    assert after[0] == pytest.approx(26.0 - 8.0 + 10.0, rel=1e-14)
    assert last == slopes(3.0, [0.0])
    assert middle == slopes(2.0, [0.0])


def test_the_end_is_asked_of_its_own_function_once() -> None:
    asked = []

    def at_the_end(time_s: float, state: Vector) -> Vector:
        asked.append(time_s)
        return swing(time_s, state)

    step(swing, at_the_end, 0.0, [1.0, 0.0], swing(0.0, [1.0, 0.0]), 0.5)
    assert asked == [0.5]


def test_between_meets_both_ends_and_their_slopes() -> None:
    before, length_s = [1.0, 0.0], 0.3
    first = swing(0.0, before)
    after, last, _, _ = step(swing, swing, 0.0, before, first, length_s)
    assert between(0.0, length_s, before, first, after, last) == before
    assert between(1.0, length_s, before, first, after, last) == after
    tiny = 1e-6
    near = between(tiny, length_s, before, first, after, last)
    assert [(b - a) / (tiny * length_s) for a, b in zip(before, near, strict=True)] == pytest.approx(
        first, abs=1e-5
    )
    near = between(1.0 - tiny, length_s, before, first, after, last)
    assert [(b - a) / (tiny * length_s) for a, b in zip(near, after, strict=True)] == pytest.approx(
        last, abs=1e-5
    )


def test_between_is_the_cubic_of_a_cubic() -> None:
    def cubic(x: float) -> float:
        return 2.0 * x**3 - x**2 + 4.0 * x - 7.0

    def slope(x: float) -> float:
        return 6.0 * x**2 - 2.0 * x + 4.0

    for share in (0.1, 0.35, 0.5, 0.9):
        found = between(share, 3.0, [cubic(1.0)], [slope(1.0)], [cubic(4.0)], [slope(4.0)])
        assert found[0] == pytest.approx(cubic(1.0 + 3.0 * share), rel=1e-13)


def test_what_the_slopes_conserve_is_conserved_by_the_step_and_between() -> None:
    def slopes(time_s: float, state: Vector) -> Vector:
        flow = math.sqrt(max(state[0], 0.0)) * (1.0 + 0.5 * math.sin(time_s))
        spill = 0.3 * state[1]
        return [-flow, flow - spill, spill]

    before = [4000.0, 1200.0, 300.0]
    first = slopes(0.0, before)
    after, last, _, _ = step(slopes, slopes, 0.0, before, first, 30.0)
    assert sum(after) == pytest.approx(5500.0, rel=1e-14)
    for share in (0.01, 0.3, 0.77, 0.999):
        assert sum(between(share, 30.0, before, first, after, last)) == pytest.approx(5500.0, rel=1e-14)

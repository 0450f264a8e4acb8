"""The Runge-Kutta step: its order, its error estimate, its polynomial, and what it conserves."""

import math
from itertools import pairwise

import pytest

from wetwing.physics.steps import Vector, step


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
        taken = step(swing, swing, time_s, state, first, length_s)
        state, first = taken.after, taken.last
        time_s += length_s
    return math.dist(state, swing_exact(6.0))


def test_order_of_convergence_is_five() -> None:
    errors = [error_at_the_end(steps) for steps in (20, 40, 80, 160)]
    for wide, narrow in pairwise(errors):
        assert math.log2(wide / narrow) == pytest.approx(5.0, abs=0.25)


def test_error_estimate_is_of_fifth_order_and_larger_than_the_error() -> None:
    found = []
    for length_s in (0.4, 0.2, 0.1):
        state = swing_exact(0.7)
        taken = step(swing, swing, 0.7, state, swing(0.7, state), length_s)
        error = math.dist(taken.after, swing_exact(0.7 + length_s))
        assert math.hypot(*taken.error) > error
        found.append(math.hypot(*taken.error))
    for wide, narrow in pairwise(found):
        assert math.log2(wide / narrow) == pytest.approx(5.0, abs=0.4)


def test_the_polynomial_s_ends_are_the_step_s_own_bits() -> None:
    state = swing_exact(0.7)
    taken = step(swing, swing, 0.7, state, swing(0.7, state), 0.37)
    assert taken.at(0.0) == taken.before
    assert taken.at(1.0) == taken.after


def test_the_end_within_a_step_is_the_end_itself_to_the_last_bit() -> None:
    # before + (after - before) is another number for many of these.
    def steady(_time_s: float, state: Vector) -> Vector:
        return [1.0 / state[2], -3.0 * state[2], 0.0]

    for i in range(1, 200):
        state = [0.1, 0.7, float(i)]
        taken = step(steady, steady, 0.0, state, steady(0.0, state), 0.3)
        assert taken.at(1.0) == taken.after


def test_the_bend_is_how_far_the_middle_lies_from_the_chord_and_asks_for_nothing_before() -> None:
    first = swing(0.0, swing_exact(0.0))
    taken = step(swing, swing, 0.0, swing_exact(0.0), first, 0.5)
    bend = taken.bend()
    chord = [0.5 * (a + b) for a, b in zip(taken.before, taken.after, strict=True)]
    assert bend == pytest.approx([m - c for m, c in zip(taken.at(0.5), chord, strict=True)], abs=1e-15)
    assert max(abs(value) for value in bend) > 1e-3


def test_order_within_a_step_is_four() -> None:
    """The error of one step's polynomial falls with the fifth power of its length."""
    for share in (0.13, 0.5, 0.83):
        found = []
        for length_s in (0.4, 0.2, 0.1):
            state = swing_exact(0.7)
            taken = step(swing, swing, 0.7, state, swing(0.7, state), length_s)
            found.append(math.dist(taken.at(share), swing_exact(0.7 + share * length_s)))
        for wide, narrow in pairwise(found):
            assert math.log2(wide / narrow) > 4.4


def test_a_quartic_in_time_is_integrated_exactly_and_shown_so() -> None:
    def slopes(time_s: float, state: Vector) -> Vector:
        return [4.0 * time_s**3 - 6.0 * time_s * time_s + 2.0]

    def exact(time_s: float) -> float:
        return time_s**4 - 2.0 * time_s**3 + 2.0 * time_s

    taken = step(slopes, slopes, 1.0, [exact(1.0)], slopes(1.0, [0.0]), 2.0)
    assert taken.after[0] == pytest.approx(exact(3.0), rel=1e-13)
    assert taken.last == slopes(3.0, [0.0])
    for share in (0.1, 0.35, 0.5, 0.9):
        assert taken.at(share)[0] == pytest.approx(exact(1.0 + 2.0 * share), abs=1e-11)
    middle = exact(2.0) - 0.5 * (exact(1.0) + exact(3.0))
    assert taken.bend()[0] == pytest.approx(middle, rel=1e-12)


def test_the_end_is_asked_of_its_own_function_once() -> None:
    asked = []

    def at_the_end(time_s: float, state: Vector) -> Vector:
        asked.append(time_s)
        return swing(time_s, state)

    step(swing, at_the_end, 0.0, [1.0, 0.0], swing(0.0, [1.0, 0.0]), 0.5)
    assert asked == [0.5]


def test_within_a_step_both_ends_and_their_slopes_are_met() -> None:
    before, length_s = [1.0, 0.0], 0.3
    first = swing(0.0, before)
    taken = step(swing, swing, 0.0, before, first, length_s)
    assert taken.at(0.0) == before
    assert taken.at(1.0) == taken.after
    tiny = 1e-6
    near = taken.at(tiny)
    assert [(b - a) / (tiny * length_s) for a, b in zip(before, near, strict=True)] == pytest.approx(
        first, abs=1e-5
    )
    near = taken.at(1.0 - tiny)
    assert [(b - a) / (tiny * length_s) for a, b in zip(near, taken.after, strict=True)] == pytest.approx(
        taken.last, abs=1e-5
    )


def test_what_the_slopes_conserve_is_conserved_by_the_step_and_within_it() -> None:
    def slopes(time_s: float, state: Vector) -> Vector:
        flow = math.sqrt(max(state[0], 0.0)) * (1.0 + 0.5 * math.sin(time_s))
        spill = 0.3 * state[1]
        return [-flow, flow - spill, spill]

    before = [4000.0, 1200.0, 300.0]
    taken = step(slopes, slopes, 0.0, before, slopes(0.0, before), 3.0)
    assert sum(taken.after) == pytest.approx(5500.0, rel=1e-14)
    for share in (0.01, 0.3, 0.77, 0.999):
        assert sum(taken.at(share)) == pytest.approx(5500.0, rel=1e-14)

"""One step of a third-order Runge-Kutta method with its error and a cubic between its ends.

Source: Bogacki and Shampine, "A 3(2) pair of Runge-Kutta formulas", Applied Mathematics Letters 2 (1989). The
last slope of a step is the first of the next, so a step costs three evaluations. Every stage is a linear
combination of slopes, so a sum that the slopes conserve is conserved by the step and by the cubic, to
rounding.
"""

from collections.abc import Callable

Vector = list[float]
Slopes = Callable[[float, Vector], Vector]


def step(
    slopes: Slopes, slopes_after: Slopes, time_s: float, state: Vector, first: Vector, length_s: float
) -> tuple[Vector, Vector, Vector, Vector]:
    """State after `length_s`, slope there, slope in the middle, and the estimated error of each component.

    `slopes_after` is asked once, for the end of the step: there a caller may want to keep more than the
    slopes.
    """
    half = 0.5 * length_s
    second = slopes(time_s + half, [y + half * k for y, k in zip(state, first, strict=True)])
    most = 0.75 * length_s
    third = slopes(time_s + most, [y + most * k for y, k in zip(state, second, strict=True)])
    a, b, c = length_s * (2.0 / 9.0), length_s * (3.0 / 9.0), length_s * (4.0 / 9.0)
    after = [y + a * k1 + b * k2 + c * k3 for y, k1, k2, k3 in zip(state, first, second, third, strict=True)]
    last = slopes_after(time_s + length_s, after)
    d1, d2, d3, d4 = (length_s * part for part in (-5.0 / 72.0, 1.0 / 12.0, 1.0 / 9.0, -1.0 / 8.0))
    error = [
        d1 * k1 + d2 * k2 + d3 * k3 + d4 * k4
        for k1, k2, k3, k4 in zip(first, second, third, last, strict=True)
    ]
    return after, last, second, error


def between(
    share: float, length_s: float, before: Vector, first: Vector, after: Vector, last: Vector
) -> Vector:
    """State at `share` (0 to 1) of a step: the cubic that has both ends' values and slopes."""
    rest = 1.0 - share
    a = rest * rest * (1.0 + 2.0 * share)
    b = share * share * (3.0 - 2.0 * share)
    c = share * rest * rest * length_s
    d = -share * share * rest * length_s
    return [
        a * y0 + b * y1 + c * k0 + d * k1 for y0, y1, k0, k1 in zip(before, after, first, last, strict=True)
    ]

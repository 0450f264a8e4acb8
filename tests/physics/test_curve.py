"""The rising curve: through its points, smooth, and never falling."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wetwing.physics.curve import Curve

STEPS = st.lists(
    st.tuples(st.floats(1e-3, 1e3), st.floats(0.0, 1e3), st.one_of(st.none(), st.floats(0.0, 1e6))),
    min_size=2,
    max_size=12,
)


def built(steps: list[tuple[float, float, float | None]]) -> tuple[Curve, list[float], list[float]]:
    points, values = [0.0], [0.0]
    for width, rise, _ in steps:
        points.append(points[-1] + width)
        values.append(values[-1] + rise)
    return Curve(points, values, [None, *(slope for _, _, slope in steps)]), points, values


@given(STEPS)
def test_it_passes_its_points_and_never_falls(steps: list[tuple[float, float, float | None]]) -> None:
    curve, points, values = built(steps)
    for point, value in zip(points, values, strict=True):
        assert curve.at(point) == value
    # Below the least normal number a product is rounded to whole steps of 5e-324.
    tiny = max(1e-12 * values[-1], 1e-300)
    for i in range(len(points) - 1):
        line = [curve.at(points[i] + (points[i + 1] - points[i]) * k / 20) for k in range(21)]
        assert all(later >= earlier - tiny for earlier, later in pairwise(line))


@given(STEPS)
def test_its_slope_is_the_same_on_both_sides_of_a_point(
    steps: list[tuple[float, float, float | None]],
) -> None:
    curve, points, values = built(steps)
    for i in range(1, len(points) - 1):
        near = 1e-4 * min(points[i] - points[i - 1], points[i + 1] - points[i])
        left = (curve.at(points[i]) - curve.at(points[i] - near)) / near
        right = (curve.at(points[i] + near) - curve.at(points[i])) / near
        steepest = max((values[j + 1] - values[j]) / (points[j + 1] - points[j]) for j in range(i - 1, i + 1))
        # The floor is for the least numbers, which are rounded to whole steps of 5e-324.
        rounding = max(1e-13 * values[-1], 1e-300) / near
        assert left == pytest.approx(right, abs=2e-3 * steepest + rounding)


def test_a_straight_line_stays_straight() -> None:
    curve = Curve([0.0, 1.0, 4.0, 5.0], [1.0, 3.0, 9.0, 11.0], [None, None, 2.0, None])
    for k in range(80):
        assert curve.at(k / 10.0) == pytest.approx(1.0 + 2.0 * k / 10.0, rel=1e-14)


def test_a_cubic_is_met_when_its_slopes_are_given() -> None:
    points = [1.0, 1.5, 2.0, 3.0]
    curve = Curve(points, [x * x * x for x in points], [3.0 * x * x for x in points])
    for k in range(41):
        x = 1.0 + k / 20.0
        assert curve.at(x) == pytest.approx(x * x * x, rel=1e-13)


def test_a_parabola_is_met_by_slopes_from_the_neighbours() -> None:
    points = [1.0, 1.5, 2.75, 3.0, 5.0]
    curve = Curve(points, [x * x for x in points], [None] * 5)
    for k in range(81):
        x = 1.0 + k / 20.0
        assert curve.at(x) == pytest.approx(x * x, rel=1e-13)


def test_below_it_stays_and_above_it_goes_on_straight() -> None:
    curve = Curve([0.0, 1.0, 2.0], [5.0, 6.0, 8.0], [None, None, 0.5])
    assert curve.at(-3.0) == 5.0
    assert curve.at(4.0) == 9.0


@pytest.mark.parametrize(
    ("points", "values", "reason"),
    [
        ([0.0], [0.0], "points must be two or more and rise"),
        ([0.0, 0.0], [0.0, 1.0], "points must be two or more and rise"),
        ([0.0, 1.0], [1.0, 0.0], "values must not fall"),
    ],
)
def test_what_does_not_rise_is_refused(points: list[float], values: list[float], reason: str) -> None:
    with pytest.raises(ValueError, match=f"curve: {reason}"):
        Curve(points, values, [None] * len(points))

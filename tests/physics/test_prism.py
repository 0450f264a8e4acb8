"""A prism cut by a level: worked figures, and the two functions against each other."""

import pytest

from wetwing.physics.prism import mean_under_m, share_under


def test_worked_figures() -> None:
    # Two corners at 0 and one at 1 m: at 0.5 m all but a similar triangle of half the size is covered.
    assert share_under(0.5, (0.0, 0.0, 1.0)) == 0.75
    assert mean_under_m(0.5, (0.0, 0.0, 1.0)) == pytest.approx(0.5 - 1.0 / 3.0 + 0.125 / 3.0, rel=1e-15)
    # One corner at 0 and two at 1 m: a similar triangle of half the size, with a pyramid on it.
    assert share_under(0.5, (0.0, 1.0, 1.0)) == 0.25
    assert mean_under_m(0.5, (0.0, 1.0, 1.0)) == pytest.approx(0.25 * 0.5 / 3.0, rel=1e-15)


def test_above_and_below_all_corners() -> None:
    corners = (0.2, 0.5, 0.6)
    assert mean_under_m(0.1, corners) == share_under(0.1, corners) == 0.0
    assert mean_under_m(1.0, corners) == pytest.approx(1.0 - 1.3 / 3.0, rel=1e-15)
    assert share_under(1.0, corners) == 1.0


@pytest.mark.parametrize("corners", [(0.0, 0.3, 1.0), (0.0, 0.0, 1.0), (0.0, 1.0, 1.0), (0.4, 0.5, 0.6)])
def test_the_share_is_the_slope_of_the_mean(corners: tuple[float, ...]) -> None:
    for k in range(1, 40):
        level = k / 40.0 + 0.0003
        slope = (mean_under_m(level + 1e-5, corners) - mean_under_m(level - 1e-5, corners)) / 2e-5
        assert slope == pytest.approx(share_under(level, corners), abs=1e-8)


def test_corners_a_hair_apart() -> None:
    assert mean_under_m(2e-200, (0.0, 1e-200, 3e-200)) < 1e-199
    assert 0.0 < share_under(2e-200, (0.0, 1e-200, 3e-200)) < 1.0
    assert mean_under_m(0.5, (0.0, 0.0, 0.0)) == 0.5

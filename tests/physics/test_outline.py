"""Outlines: area, centre, cutting, what is inside, and what is refused."""

import math
import random

import pytest

from wetwing.physics import outline
from wetwing.physics.outline import Place

SQUARE: tuple[Place, ...] = ((1.0, 1.0), (4.0, 1.0), (4.0, 3.0), (1.0, 3.0))
ANGLE: tuple[Place, ...] = ((0.0, 0.0), (3.0, 0.0), (3.0, 1.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0))
"""Two bars of 3 m by 1 m that share a corner: 5 m²."""


def test_area_and_its_sign() -> None:
    assert outline.area_m2(SQUARE) == 6.0
    assert outline.area_m2(tuple(reversed(SQUARE))) == -6.0
    assert outline.area_m2(ANGLE) == 5.0


def test_centroid() -> None:
    assert outline.centroid_m(((0.0, 0.0), (3.0, 0.0), (0.0, 3.0))) == (1.0, 1.0)
    assert outline.centroid_m(SQUARE) == pytest.approx((2.5, 2.0), rel=1e-15)
    # A bar 3 × 1 with its centre at (1.5, 0.5) and one of 1 × 2 at (0.5, 2).
    assert outline.centroid_m(ANGLE) == pytest.approx(((3 * 1.5 + 2 * 0.5) / 5, (3 * 0.5 + 2 * 2) / 5))


def test_centroid_does_not_depend_on_the_way_round() -> None:
    assert outline.centroid_m(tuple(reversed(ANGLE))) == pytest.approx(outline.centroid_m(ANGLE), rel=1e-15)


def test_the_two_sides_of_a_cut_make_the_whole() -> None:
    chance = random.Random(5)
    for _ in range(200):
        through = (chance.uniform(0.0, 3.0), chance.uniform(0.0, 3.0))
        angle = chance.uniform(0.0, 2.0 * math.pi)
        towards = (math.cos(angle), math.sin(angle))
        one = outline.beside(ANGLE, through, towards)
        two = outline.beside(ANGLE, through, (-towards[0], -towards[1]))
        areas = [outline.area_m2(part) if len(part) > 2 else 0.0 for part in (one, two)]
        assert sum(areas) == pytest.approx(5.0, rel=1e-12)
        assert all(area >= -1e-12 for area in areas)


def test_a_cut_by_hand() -> None:
    assert outline.beside(SQUARE, (0.0, 2.5), (0.0, 1.0)) == ((4.0, 2.5), (4.0, 3.0), (1.0, 3.0), (1.0, 2.5))
    assert outline.beside(SQUARE, (0.0, 0.0), (0.0, 1.0)) == SQUARE
    assert outline.beside(SQUARE, (0.0, 0.0), (0.0, -1.0)) == ()


@pytest.mark.parametrize(
    ("place", "inside"),
    [
        ((0.5, 2.0), True),
        ((2.0, 0.5), True),
        ((2.0, 2.0), False),
        ((1.0, 2.0), True),  # on the edge
        ((3.0, 1.0), True),  # on a corner
        ((-0.001, 0.0), False),
        ((3.001, 0.5), False),
        ((0.5, 3.5), False),
    ],
)
def test_what_is_inside(place: Place, inside: bool) -> None:
    assert outline.holds(ANGLE, place) is inside


def test_sound_outlines_pass() -> None:
    for sound in (SQUARE, ANGLE, tuple(reversed(ANGLE))):
        assert outline.checked(sound) == sound


@pytest.mark.parametrize(
    ("places", "reason"),
    [
        (((0.0, 0.0), (1.0, 0.0)), r"2 places; at least 3"),
        (((0.0, 0.0), (1.0, 0.0), (math.nan, 1.0)), r"place \(nan, 1.0\) is not finite"),
        (((0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)), r"edges 1 and 3 meet"),
        (((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (1.0, 0.0), (0.0, 2.0)), r"edges 1 and 3 meet"),
        (((2.0, 2.0), (1.0, 0.0), (0.0, 2.0), (0.0, 0.0), (2.0, 0.0)), r"edges 1 and 4 meet"),
        (((0.0, 0.0), (0.2, 0.2), (0.2, 0.0), (0.0, 0.2)), r"edges 1 and 3 meet"),
        (((0.0, 0.0), (2.0, 0.0), (2.0, 0.0), (0.0, 2.0)), r"edges 1 and 2 meet"),
        (((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (2.0, 1.0), (0.0, 1.0)), r"edges 2 and 3 meet"),
        (((0.0, 0.0), (1.0, 0.0), (2.0, 0.0)), r"edges 1 and 3 meet"),
        (((0.0, 0.0), (1e-3, 0.0), (0.0, 1e-3)), r"area .* m²; at least 0.0001"),
    ],
)
def test_what_bounds_no_area_is_refused(places: tuple[Place, ...], reason: str) -> None:
    with pytest.raises(ValueError, match=rf"outline: {reason}"):
        outline.checked(places)

"""The fuel in a tank at any attitude: closed forms, an independent integration, and what must always hold."""

import math
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.physics.shapes import CENTRE, MAIN, OUTBOARD, box, centre_tank, main_tank, outboard_tank
from wetwing.physics import outline
from wetwing.physics.outline import Place
from wetwing.physics.tank_shape import Attitude, TankShape

TANKS = {"main": main_tank, "outboard": outboard_tank, "centre": centre_tank, "box": box}
ATTITUDES = [(0.0, 0.0), (5.0, 0.0), (-3.0, 2.0), (0.0, -4.5), (0.0, 4.5), (15.0, -10.0), (-20.0, 30.0)]
EVERY = [(name, *attitude) for name in TANKS for attitude in ATTITUDES]


@cache
def at(name: str, pitch_deg: float, roll_deg: float) -> Attitude:
    return TANKS[name]().at(pitch_deg, roll_deg)


def tan(angle_deg: float) -> float:
    return math.tan(math.radians(angle_deg))


# ---------------------------------------------------------------- closed forms


def test_an_upright_box_fills_in_proportion() -> None:
    level = box().at(0.0, 0.0)
    for k in range(101):
        assert level.level_m(27.0 * k) == pytest.approx(0.2 + 0.005 * k, rel=1e-12)
        assert level.volume_at_level_l(0.2 + 0.005 * k) == pytest.approx(27.0 * k, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize(("pitch_deg", "wall_x"), [(5.0, 12.0), (-5.0, 10.0)])
def test_a_pitched_box_by_its_wedges(pitch_deg: float, wall_x: float) -> None:
    # Nose up, the first fuel is a wedge against the aft wall: length l, height l tan(5°).
    pitched = box().at(pitch_deg, 0.0)
    slope = tan(5.0)
    for length in (0.1, 0.5, 1.0, 1.7, 2.0):
        wedge_l = 900.0 * 0.5 * length * length * slope * 3.0
        assert pitched.volume_below_l(wall_x, 2.0, 0.2 + length * slope) == pytest.approx(wedge_l, rel=1e-12)
        # And the last air is the same wedge, under the roof at the other wall.
        other_x = 22.0 - wall_x
        assert pitched.volume_below_l(other_x, 2.0, 0.7 - length * slope) == pytest.approx(2700.0 - wedge_l)
    # Between, floor wholly covered and roof dry, the level at the middle is that of the upright box.
    for volume in (600.0, 1350.0, 2000.0):
        assert pitched.level_m(volume) == pytest.approx(0.2 + volume / 5400.0, rel=1e-12)


@pytest.mark.parametrize(("roll_deg", "wall_y"), [(4.0, 4.0), (-4.0, 1.0)])
def test_a_rolled_box_by_its_wedge(roll_deg: float, wall_y: float) -> None:
    rolled = box().at(0.0, roll_deg)
    wedge_l = 900.0 * 0.5 * 1.5 * 1.5 * tan(4.0) * 2.0
    assert rolled.volume_below_l(11.0, wall_y, 0.2 + 1.5 * tan(4.0)) == pytest.approx(wedge_l, rel=1e-12)


def test_a_pitched_and_rolled_box_by_its_corner() -> None:
    # A corner cut by the surface is a pyramid of three right angles: volume a b c / 6.
    tilted = box().at(6.0, 8.0)
    high = 0.15
    along, across = high / (tan(6.0) / math.cos(math.radians(8.0))), high / tan(8.0)
    wanted_l = 900.0 * high * along * across / 6.0
    assert tilted.volume_below_l(12.0, 4.0, 0.2 + high) == pytest.approx(wanted_l, rel=1e-12)


def test_a_wing_with_dihedral_begins_as_a_triangular_wedge() -> None:
    # Chord 1.5 m, floor rising 4 m × tan(4.5°) = 0.315 m, depth 0.4 m: below 0.315 m the fuel is a wedge.
    wing = TankShape(((0.0, 1.0), (1.5, 1.0), (1.5, 5.0), (0.0, 5.0)), 0.0, 4.5, 0.4, 0.4, 2160.0)
    level = wing.at(0.0, 0.0)
    for height in (0.01, 0.1, 0.2, 0.31):
        wanted_l = 900.0 * 1.5 * height * height / (2.0 * tan(4.5))
        assert level.volume_at_level_l(height) == pytest.approx(wanted_l, rel=1e-12)
        assert level.level_m(wanted_l) == pytest.approx(height, abs=3e-4)


def test_rolled_by_its_dihedral_a_wing_is_a_box() -> None:
    wing = TankShape(((0.0, 1.0), (1.5, 1.0), (1.5, 5.0), (0.0, 5.0)), 0.0, 4.5, 0.4, 0.4, 2160.0)
    parallel = wing.at(0.0, 4.5)
    for k in range(11):
        assert parallel.level_m(216.0 * k) - parallel.empty_m == pytest.approx(0.04 * k, abs=1e-9)


def test_a_roof_that_falls_to_the_floor() -> None:
    # Depth from 0.5 m to none over 4 m: below height h there are h - h²/(2 × 0.5) of the plan's area.
    wedge = TankShape(((0.0, 1.0), (1.5, 1.0), (1.5, 5.0), (0.0, 5.0)), 0.0, 0.0, 0.5, 0.0, 1500.0)
    assert wedge.share == pytest.approx(1.0, rel=1e-12)
    level = wedge.at(0.0, 0.0)
    for height in (0.05, 0.2, 0.45, 0.5):
        assert level.volume_at_level_l(height) == pytest.approx(
            6000.0 * (height - height * height), rel=1e-12
        )


def test_an_outline_with_a_corner_taken_out() -> None:
    angle = ((0.0, 0.5), (3.0, 0.5), (3.0, 1.5), (1.0, 1.5), (1.0, 3.5), (0.0, 3.5))
    assert TankShape(angle, 0.0, 0.0, 0.4, 0.4, 1800.0).share == pytest.approx(0.9, rel=1e-12)
    # Rolled, the first fuel lies in the far arm alone, a wedge 1 m wide.
    rolled = TankShape(angle, 0.0, 0.0, 0.4, 0.4, 1800.0).at(0.0, 5.0)
    wanted_l = 900.0 * 0.5 * 1.8 * 1.8 * tan(5.0)
    assert rolled.volume_below_l(0.5, 3.5, 1.8 * tan(5.0)) == pytest.approx(wanted_l, rel=1e-12)


# ---------------------------------------------------------------- gravity


@pytest.mark.parametrize(("pitch_deg", "roll_deg"), ATTITUDES)
def test_the_surface_is_across_gravity(pitch_deg: float, roll_deg: float) -> None:
    # Turn the vertical into the aircraft's axes (forward, right, down) by matrices: pitch first, then roll.
    p, r = math.radians(pitch_deg), math.radians(roll_deg)
    pitch = np.array([[math.cos(p), 0.0, -math.sin(p)], [0.0, 1.0, 0.0], [math.sin(p), 0.0, math.cos(p)]])
    roll = np.array([[1.0, 0.0, 0.0], [0.0, math.cos(r), math.sin(r)], [0.0, -math.sin(r), math.cos(r)]])
    down = roll @ pitch @ np.array([0.0, 0.0, 1.0])
    tilted = at("box", pitch_deg, roll_deg)
    origin = np.array([0.0, 0.0, -tilted.tilt_m(0.0, 0.0)])
    for x, y in ((1.0, 0.0), (0.0, 1.0), (3.0, -2.0)):
        along = np.array([-x, y, -tilted.tilt_m(x, y)]) - origin
        assert float(down @ along) == pytest.approx(0.0, abs=1e-12)


def test_nose_up_brings_fuel_aft_and_right_wing_down_brings_it_right() -> None:
    assert at("box", 5.0, 0.0).height_at_m(1350.0, 12.0, 2.5) > at("box", 5.0, 0.0).height_at_m(
        1350.0, 10.0, 2.5
    )
    assert at("box", 0.0, 5.0).height_at_m(1350.0, 11.0, 4.0) > at("box", 0.0, 5.0).height_at_m(
        1350.0, 11.0, 1.0
    )


# ---------------------------------------------------------------- an independent integration


def inside(outline_m: tuple[Place, ...], x: np.ndarray, y: np.ndarray) -> np.ndarray:
    found = np.zeros(x.shape, dtype=bool)
    for (x0, y0), (x1, y1) in zip(outline_m, (*outline_m[1:], outline_m[0]), strict=True):
        if y0 != y1:
            found ^= ((y0 > y) != (y1 > y)) & (x < x0 + (x1 - x0) * (y - y0) / (y1 - y0))
    return found


@pytest.mark.parametrize(
    ("name", "outline_m", "figures"),
    [
        ("main", MAIN, (0.2, 4.5, 0.54, 0.34, 8300.0)),
        ("outboard", OUTBOARD, (0.94, 4.5, 0.36, 0.26, 1450.0)),
        ("centre", CENTRE, (-0.3, 0.0, 0.8, 0.8, 9500.0)),
    ],
)
@pytest.mark.parametrize(("pitch_deg", "roll_deg"), ATTITUDES)
def test_volumes_against_a_fine_grid(
    name: str, outline_m: tuple[Place, ...], figures: tuple[float, ...], pitch_deg: float, roll_deg: float
) -> None:
    bottom, dihedral, depth_in, depth_out, capacity = figures
    xs, ys = [p[0] for p in outline_m], [p[1] for p in outline_m]
    count = 600
    mid = (np.arange(count) + 0.5) / count
    x, y = np.meshgrid(min(xs) + mid * (max(xs) - min(xs)), min(ys) + mid * (max(ys) - min(ys)))
    kept = inside(outline_m, x, y)
    x, y = x[kept], y[kept]
    inboard = 0.0 if min(ys) < 0.0 else min(ys)
    outboard = max(abs(v) for v in ys)
    out = (np.abs(y) - inboard) / (outboard - inboard)
    floor = bottom + tan(dihedral) * (np.abs(y) - inboard)
    depth = depth_in + (depth_out - depth_in) * out
    tilted = at(name, pitch_deg, roll_deg)
    x_c, y_c = tilted.shape.centroid_m
    tilt = tan(pitch_deg) / math.cos(math.radians(roll_deg)) * (x - x_c) + tan(roll_deg) * (y - y_c)
    for share in (0.003, 0.1, 0.35, 0.6, 0.9, 0.997):
        level = tilted.level_m(share * capacity)
        wet = np.clip(level + tilt - floor, 0.0, depth)
        assert capacity * wet.sum() / depth.sum() == pytest.approx(share * capacity, abs=0.002 * capacity)
        exact = tilted.volume_at_level_l(level)
        assert capacity * wet.sum() / depth.sum() == pytest.approx(exact, abs=0.001 * capacity)


# ---------------------------------------------------------------- what must always hold


@pytest.mark.parametrize(("name", "pitch_deg", "roll_deg"), EVERY)
def test_ends_are_exact_and_the_level_rises(name: str, pitch_deg: float, roll_deg: float) -> None:
    tilted = at(name, pitch_deg, roll_deg)
    capacity = tilted.shape.capacity_l
    assert tilted.level_m(0.0) == tilted.empty_m == tilted.level_m(-1.0)
    assert tilted.level_m(capacity) == tilted.full_m
    assert tilted.volume_at_level_l(tilted.empty_m) == 0.0
    assert tilted.volume_at_level_l(tilted.full_m) == capacity
    assert tilted.volume_at_level_l(tilted.full_m - 1e-9) == pytest.approx(capacity, rel=1e-7)
    levels = [tilted.level_m(capacity * k / 1500.0) for k in range(1531)]
    assert all(later > earlier for earlier, later in pairwise(levels))


@pytest.mark.parametrize(("name", "pitch_deg", "roll_deg"), EVERY)
def test_the_curve_is_within_half_a_millimetre_up_to_fifteen_degrees(
    name: str, pitch_deg: float, roll_deg: float
) -> None:
    tilted = at(name, pitch_deg, roll_deg)
    allowed_m = 0.5e-3 if abs(pitch_deg) <= 15.0 and abs(roll_deg) <= 15.0 else 3e-3
    capacity = tilted.shape.capacity_l
    for k in range(1, 400):
        volume = capacity * k / 400.0
        assert tilted.level_m(volume) == pytest.approx(tilted.level_exactly_m(volume), abs=allowed_m)


@pytest.mark.parametrize(("name", "pitch_deg", "roll_deg"), EVERY)
def test_the_level_goes_on_straight_above_the_capacity(name: str, pitch_deg: float, roll_deg: float) -> None:
    tilted = at(name, pitch_deg, roll_deg)
    capacity = tilted.shape.capacity_l
    near = 1e-10 * capacity
    before = tilted.full_m - tilted.level_m(capacity - near)
    first = tilted.level_m(capacity + near) - tilted.full_m
    assert first == pytest.approx(before, rel=2e-2)
    assert tilted.level_m(capacity * 1.01) - tilted.full_m == pytest.approx(1e8 * first, rel=1e-4)


@pytest.mark.parametrize(("name", "pitch_deg", "roll_deg"), EVERY)
def test_level_and_volume_undo_each_other(name: str, pitch_deg: float, roll_deg: float) -> None:
    tilted = at(name, pitch_deg, roll_deg)
    for share in (0.001, 0.02, 0.3, 0.5, 0.77, 0.99, 1.0):
        volume = share * tilted.shape.capacity_l
        assert tilted.volume_at_level_l(tilted.level_exactly_m(volume)) == pytest.approx(volume, rel=1e-9)


def test_an_exact_level_is_asked_for_from_none_to_the_capacity() -> None:
    level = box().at(0.0, 0.0)
    assert level.level_exactly_m(0.0) == 0.2
    assert level.level_exactly_m(0.54) == pytest.approx(0.2001, rel=1e-12)
    assert level.level_exactly_m(2700.0) == pytest.approx(0.7, rel=1e-12)
    for volume in (-1e-9, 2700.0 + 1e-9):
        with pytest.raises(ValueError, match=r"is outside the tank, 0 to 2700.0 L"):
            level.level_exactly_m(volume)


@pytest.mark.parametrize("name", ["main", "outboard", "centre"])
@pytest.mark.parametrize(("pitch_deg", "roll_deg"), ATTITUDES)
def test_a_mirrored_tank_gives_the_same_bits(name: str, pitch_deg: float, roll_deg: float) -> None:
    outline_m = {"main": MAIN, "outboard": OUTBOARD, "centre": (*CENTRE[:2], (18.9, 1.7), (18.8, -1.8))}[name]
    figures = {"main": (0.2, 4.5, 0.54, 0.34, 8300.0), "outboard": (0.94, 4.5, 0.36, 0.26, 1450.0)}
    rest = figures.get(name, (-0.3, 2.0, 0.8, 0.7, 9000.0))
    right = TankShape(outline_m, *rest).at(pitch_deg, roll_deg)
    left = TankShape(tuple((x, -y) for x, y in outline_m), *rest).at(pitch_deg, -roll_deg)
    assert right.volumes_l == left.volumes_l
    assert right.levels_m == left.levels_m
    for k in range(50):
        volume = rest[-1] * k / 49.0
        assert right.level_m(volume) == left.level_m(volume)
        assert right.height_at_m(volume, 17.0, 1.25) == left.height_at_m(volume, 17.0, -1.25)
        assert right.wetted_share(volume, 18.0, 1.25) == left.wetted_share(volume, 18.0, -1.25)
        level = right.level_m(volume)
        assert right.volume_below_l(18.0, 1.25, level) == left.volume_below_l(18.0, -1.25, level)


@settings(max_examples=50, deadline=None)
@given(
    radii=st.lists(st.floats(0.4, 3.0), min_size=3, max_size=8),
    middle_y=st.floats(-8.0, 8.0),
    dihedral_deg=st.floats(-3.0, 8.0),
    depth_outboard_m=st.floats(0.0, 1.0),
    pitch_deg=st.floats(-45.0, 45.0),
    roll_deg=st.floats(-45.0, 45.0),
)
def test_any_tank_holds_its_capacity_and_rises(
    radii: list[float],
    middle_y: float,
    dihedral_deg: float,
    depth_outboard_m: float,
    pitch_deg: float,
    roll_deg: float,
) -> None:
    turn = 2.0 * math.pi / len(radii)
    star = tuple(
        (20.0 + r * math.cos(i * turn + 0.1), middle_y + r * math.sin(i * turn + 0.1))
        for i, r in enumerate(radii)
    )
    # Depth is linear on each side of the centre line, so its mean there is that at the side's centroid.
    inboard = 0.0 if min(y for _, y in star) < 0.0 < max(y for _, y in star) else min(abs(y) for _, y in star)
    taper = (depth_outboard_m - 0.6) / (max(abs(y) for _, y in star) - inboard)
    sides = [outline.beside(star, (0.0, 0.0), (0.0, side)) for side in (1.0, -1.0)]
    space_l = sum(
        1000.0 * outline.area_m2(side) * (0.6 + taper * (abs(outline.centroid_m(side)[1]) - inboard))
        for side in sides
        if len(side) > 2
    )
    shape = TankShape(star, 0.0, dihedral_deg, 0.6, depth_outboard_m, 0.9 * space_l)
    assert shape.share == pytest.approx(0.9, rel=1e-9)
    tilted = shape.at(pitch_deg, roll_deg)
    capacity = tilted.shape.capacity_l
    height = tilted.full_m - tilted.empty_m
    volumes = [tilted.volume_at_level_l(tilted.empty_m + height * k / 100.0) for k in range(101)]
    assert all(b >= a - 1e-9 * capacity for a, b in pairwise(volumes))
    assert volumes[0] == 0.0
    assert volumes[-1] == pytest.approx(capacity, rel=1e-12)
    assert tilted.volume_at_level_l(tilted.full_m) == capacity
    assert tilted.volume_at_level_l(tilted.full_m - 1e-7 * height) == pytest.approx(capacity, rel=1e-5)
    levels = [tilted.level_m(capacity * k / 400.0) for k in range(401)]
    assert all(b >= a for a, b in pairwise(levels))
    for k in range(1, 20):
        level = tilted.level_m(capacity * k / 20.0)
        assert tilted.volume_at_level_l(level) == pytest.approx(capacity * k / 20.0, abs=2e-3 * capacity)


# ---------------------------------------------------------------- sensors and probes


@pytest.mark.parametrize("name", ["main", "outboard", "centre"])
def test_a_sensor_turns_at_its_volume_when_level(name: str) -> None:
    shape = TANKS[name]()
    x, y = shape.centroid_m
    for share in (0.35, 0.5, 0.6):
        volume = share * shape.capacity_l
        height = shape.height_for_m(volume, x, y)
        assert shape.at(0.0, 0.0).volume_below_l(x, y, height) == pytest.approx(volume, rel=1e-9)


def test_a_sensor_aft_turns_earlier_nose_up() -> None:
    shape = main_tank()
    height = shape.height_for_m(960.0, 18.3, 3.0)
    assert shape.at(4.0, 0.0).volume_below_l(18.3, 3.0, height) < 960.0
    assert shape.at(-4.0, 0.0).volume_below_l(18.3, 3.0, height) > 960.0


@pytest.mark.parametrize(
    ("volume_l", "place", "reason"),
    [
        (960.0, (14.0, 3.0), r"place \(14.0, 3.0\) is outside the outline"),
        (8400.0, (18.0, 3.0), r"volume 8400.0 L is outside the tank, 0 to 8300.0 L"),
        (-1.0, (18.0, 3.0), r"volume -1.0 L is outside the tank"),
        (500.0, (20.4, 11.0), r"500.0 L stand .* m high; at place .* the tank reaches from 0.861 to"),
        (8200.0, (18.0, 3.0), r"8200.0 L stand .* m high; at place .* the tank reaches from 0.231 to"),
    ],
)
def test_a_sensor_that_cannot_be_there_is_refused(volume_l: float, place: Place, reason: str) -> None:
    with pytest.raises(ValueError, match=reason):
        main_tank().height_for_m(volume_l, *place)


def test_wetted_share_of_an_upright_probe() -> None:
    # The box pitched 5°, half full: at the walls the surface stands 87.5 mm above and below the middle.
    pitched = at("box", 5.0, 0.0)
    assert pitched.wetted_share(1350.0, 11.0, 2.0) == pytest.approx(0.5, rel=1e-12)
    assert pitched.wetted_share(1350.0, 12.0, 2.0) == pytest.approx(0.5 + tan(5.0) / 0.5, rel=1e-12)
    assert pitched.wetted_share(1350.0, 10.0, 2.0) == pytest.approx(0.5 - tan(5.0) / 0.5, rel=1e-12)
    assert pitched.wetted_share(0.0, 12.0, 2.0) == pytest.approx(0.0, abs=1e-12)
    assert pitched.wetted_share(2700.0, 10.0, 2.0) == pytest.approx(1.0, rel=1e-12)
    assert at("main", 0.0, 0.0).wetted_share(400.0, 20.5, 11.0) == 0.0
    assert at("main", 0.0, 0.0).wetted_share(8000.0, 18.0, 3.0) == 1.0


# ---------------------------------------------------------------- refusals


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"bottom_m": math.nan}, r"bottom nan m is not finite"),
        ({"depth_m": 0.0}, r"depth 0.0 m is not above zero"),
        ({"depth_outboard_m": -0.1}, r"outboard depth -0.1 m is below zero"),
        ({"capacity_l": 0.0}, r"capacity 0.0 L is not above zero"),
        ({"capacity_l": 3001.0}, r"3001.0 L is 1.000 of the space of 3000 L; allowed are 0.4 to 1"),
        ({"capacity_l": 1100.0}, r"1100.0 L is 0.367 of the space of 3000 L"),
        ({"dihedral_deg": 50.0}, r"50.0 is outside -45 to 45"),
        ({"outline_m": ((0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0))}, r"edges 1 and 3 meet"),
    ],
)
def test_figures_that_make_no_tank_are_refused(change: dict[str, object], reason: str) -> None:
    sound = {
        "outline_m": ((10.0, 1.0), (12.0, 1.0), (12.0, 4.0), (10.0, 4.0)),
        "bottom_m": 0.2,
        "dihedral_deg": 0.0,
        "depth_m": 0.5,
        "depth_outboard_m": 0.5,
        "capacity_l": 2700.0,
    }
    with pytest.raises(ValueError, match=reason):
        TankShape(**(sound | change))  # type: ignore[arg-type]


def test_an_attitude_too_steep_is_refused() -> None:
    with pytest.raises(ValueError, match=r"46.0 is outside -45 to 45"):
        box().at(46.0, 0.0)

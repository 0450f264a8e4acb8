"""Gauging by probes: exact when level, nearly so off level, and what a lost probe does."""

from itertools import pairwise

import pytest

from tests.physics.shapes import box, centre_tank, main_tank, outboard_tank
from wetwing.physics.outline import Place
from wetwing.physics.probes import Gauge
from wetwing.physics.tank_shape import Attitude, TankShape

MAIN_PROBES: tuple[Place, ...] = (
    (16.0, 2.7), (18.5, 2.7), (17.5, 5.5), (19.2, 5.5), (19.0, 8.6), (20.2, 8.6), (20.4, 11.3),
)  # fmt: skip
OUTBOARD_PROBES: tuple[Place, ...] = ((20.8, 12.2), (21.8, 14.2), (22.5, 16.1))
CENTRE_PROBES: tuple[Place, ...] = ((16.0, -1.0), (16.0, 1.0), (18.1, -1.0), (18.1, 1.0))


def volumes_l(shape: TankShape, gauge: Gauge, lost: tuple[int, ...] = ()) -> list[float]:
    """A hundred volumes between the least and the most that the gauge sees."""
    least, most = gauge.seen_l(lost)
    assert 0.0 <= least < most <= shape.capacity_l
    return [max(least, 1e-3) + (most - max(least, 1e-3)) * k / 99.0 for k in range(100)]


@pytest.mark.parametrize(
    ("shape", "points"),
    [(main_tank(), MAIN_PROBES), (outboard_tank(), OUTBOARD_PROBES), (centre_tank(), CENTRE_PROBES)],
    ids=["main", "outboard", "centre"],
)
def test_level_it_reads_what_is_there(shape: TankShape, points: tuple[Place, ...]) -> None:
    gauge = Gauge(shape, points)
    level = shape.at(0.0, 0.0)
    for lost in ((), (1,), (0, 2)):
        for volume in volumes_l(shape, gauge, lost):
            if _seen(shape, points, lost, volume):
                assert gauge.reads_l(level, volume, lost) == pytest.approx(volume, rel=1e-6)


def _seen(shape: TankShape, points: tuple[Place, ...], lost: tuple[int, ...], volume: float) -> bool:
    """True where at least one probe that is left is covered in part."""
    level = shape.at(0.0, 0.0)
    return any(
        0.01 < level.wetted_share(volume, x, y) < 0.99 for i, (x, y) in enumerate(points) if i not in lost
    )


def test_one_probe_in_a_pitched_box_errs_by_its_distance() -> None:
    # 0.8 m aft of the middle the surface stands 0.8 tan(5°) = 70.0 mm high, which is 378 L of this box.
    shape = box()
    pitched = shape.at(5.0, 0.0)
    aft = Gauge(shape, ((11.8, 2.5),))
    forward = Gauge(shape, ((10.2, 2.5),))
    assert aft.reads_l(pitched, 1350.0) - 1350.0 == pytest.approx(5400.0 * 0.8 * 0.0874886635259, rel=1e-9)
    assert forward.reads_l(pitched, 1350.0) - 1350.0 == pytest.approx(
        -5400.0 * 0.8 * 0.0874886635259, rel=1e-9
    )


def test_two_probes_in_a_pitched_box_cancel() -> None:
    shape = box()
    pair = Gauge(shape, ((11.8, 2.5), (10.2, 2.5)))
    assert pair.weights[0] == pytest.approx(pair.weights[1], rel=1e-12)
    for volume in (700.0, 1350.0, 2000.0):
        assert pair.reads_l(shape.at(5.0, 0.0), volume) == pytest.approx(volume, rel=1e-9)
        assert pair.reads_l(shape.at(-5.0, 0.0), volume) == pytest.approx(volume, rel=1e-9)


def test_weights_are_the_space_nearest_to_each_probe() -> None:
    # The line halfway between x = 10.4 and x = 11.2 cuts the box 0.8 m from its front wall.
    gauge = Gauge(box(), ((10.4, 2.0), (11.2, 2.0)))
    assert gauge.weights == pytest.approx((0.8 * 3.0 * 0.5, 1.2 * 3.0 * 0.5), rel=1e-12)
    assert sum(Gauge(main_tank(), MAIN_PROBES).weights) == pytest.approx(8.3 / main_tank().share, rel=2e-2)


def test_given_weights_are_used() -> None:
    shape = box()
    gauge = Gauge(shape, ((11.8, 2.5), (10.2, 2.5)), (3.0, 1.0))
    wanted = 1350.0 + 0.5 * 5400.0 * 0.8 * 0.0874886635259
    assert gauge.reads_l(shape.at(5.0, 0.0), 1350.0) == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize(
    ("pitch_deg", "roll_deg"), [(2.5, 0.0), (5.0, 0.0), (-3.0, 0.0), (0.0, 2.0), (0.0, -2.0)]
)
def test_seven_probes_stay_within_four_percent_of_full_and_beat_three(
    pitch_deg: float, roll_deg: float
) -> None:
    shape = main_tank()
    tilted = shape.at(pitch_deg, roll_deg)
    seven, three = Gauge(shape, MAIN_PROBES), Gauge(shape, ((17.1, 3.0), (18.3, 6.0), (20.3, 11.0)))
    volumes = [8300.0 * k / 100.0 for k in range(2, 98)]
    errors = [
        max(abs(gauge.reads_l(tilted, volume) - volume) / 8300.0 for volume in volumes)
        for gauge in (seven, three)
    ]
    assert errors[0] < 0.04
    assert errors[0] < errors[1]


def test_a_lost_probe_shows_only_off_level() -> None:
    shape = box()
    gauge = Gauge(shape, ((11.8, 2.5), (10.2, 2.5)))
    assert gauge.reads_l(shape.at(0.0, 0.0), 1350.0, (0,)) == pytest.approx(1350.0, rel=1e-9)
    alone = Gauge(shape, ((10.2, 2.5),))
    pitched = shape.at(5.0, 0.0)
    assert gauge.reads_l(pitched, 1350.0, (0,)) == pytest.approx(alone.reads_l(pitched, 1350.0), rel=1e-12)


@pytest.mark.parametrize(("pitch_deg", "roll_deg"), [(0.0, 0.0), (6.0, -3.0), (-10.0, 12.0)])
def test_the_reading_never_falls_while_the_tank_fills(pitch_deg: float, roll_deg: float) -> None:
    shape = main_tank()
    gauge, tilted = Gauge(shape, MAIN_PROBES), shape.at(pitch_deg, roll_deg)
    for lost in ((), (0, 1), (2, 3, 4, 5)):
        readings = [gauge.reads_l(tilted, 8.3 * k, lost) for k in range(-10, 1010)]
        assert all(b >= a for a, b in pairwise(readings))
        assert readings[0] >= 0.0
        assert readings[-1] <= 8300.0


def test_a_probe_of_the_whole_depth_sees_the_whole_box() -> None:
    assert Gauge(box(), ((11.8, 2.5),)).seen_l() == pytest.approx((0.0, 2700.0), abs=1e-9)


def test_what_no_probe_sees_is_not_read() -> None:
    # A probe half way out a wing with dihedral stands clear of the first fuel.
    shape = main_tank()
    gauge = Gauge(shape, ((18.0, 6.0),))
    level = shape.at(0.0, 0.0)
    least, most = gauge.seen_l()
    assert least == pytest.approx(level.volume_below_l(18.0, 6.0, shape.floor_m(18.0, 6.0)), rel=1e-9)
    assert gauge.reads_l(level, 0.0) == gauge.reads_l(level, 0.5 * least) == pytest.approx(least, rel=1e-12)
    assert gauge.reads_l(level, 8300.0) == pytest.approx(most, rel=1e-12)


@pytest.mark.parametrize(("pitch_deg", "roll_deg"), [(2.5, 0.0), (-3.0, 1.0), (0.0, -2.0)])
def test_the_reading_is_the_level_volume_of_the_mean_share(pitch_deg: float, roll_deg: float) -> None:
    # Found here by halving the level tank's volume, not by the gauge's own tables.
    shape = main_tank()
    gauge, tilted, level = Gauge(shape, MAIN_PROBES), shape.at(pitch_deg, roll_deg), shape.at(0.0, 0.0)

    def covered(volume: float, attitude: Attitude) -> float:
        at_m = attitude.level_exactly_m(volume)
        total = 0.0
        for (x, y), weight in zip(MAIN_PROBES, gauge.weights, strict=True):
            over = at_m + attitude.tilt_m(x, y) - shape.floor_m(x, y)
            total += weight * min(1.0, max(0.0, over / shape.depth_at_m(x, y)))
        return total

    for k in range(4, 97, 4):
        wanted, low, high = covered(83.0 * k, tilted), 0.0, 8300.0
        for _ in range(40):
            middle = 0.5 * (low + high)
            low, high = (middle, high) if covered(middle, level) < wanted else (low, middle)
        assert gauge.reads_l(tilted, 83.0 * k) == pytest.approx(low, abs=0.001 * 8300.0)


def test_mirrored_probes_read_the_same_bits() -> None:
    right = main_tank()
    left = TankShape(tuple((x, -y) for x, y in right.outline_m), 0.2, 4.5, 0.54, 0.34, 8300.0)
    one = Gauge(right, MAIN_PROBES)
    two = Gauge(left, tuple((x, -y) for x, y in MAIN_PROBES))
    rolled, other = right.at(2.0, 3.0), left.at(2.0, -3.0)
    for k in range(100):
        assert one.reads_l(rolled, 83.0 * k, (2,)) == two.reads_l(other, 83.0 * k, (2,))


@pytest.mark.parametrize(
    ("points", "weights", "reason"),
    [
        ((), None, r"no probes; at least 1"),
        (((9.0, 2.0),), None, r"probe at \(9.0, 2.0\) is outside the tank's outline"),
        (((11.0, 2.0), (11.0, 2.0)), None, r"two probes stand at one place"),
        (((11.0, 2.0),), (0.0,), r"weights \(0.0,\); 1 above zero are needed"),
        (((11.0, 2.0),), (1.0, 1.0), r"weights \(1.0, 1.0\); 1 above zero"),
    ],
)
def test_probes_that_cannot_be_are_refused(
    points: tuple[Place, ...], weights: tuple[float, ...] | None, reason: str
) -> None:
    with pytest.raises(ValueError, match=f"gauge: {reason}"):
        Gauge(box(), points, weights)


def test_a_probe_where_the_tank_has_no_depth_is_refused() -> None:
    wedge = TankShape(((0.0, 1.0), (1.5, 1.0), (1.5, 5.0), (0.0, 5.0)), 0.0, 0.0, 0.5, 0.0, 1400.0)
    with pytest.raises(ValueError, match=r"probe at \(1.0, 5.0\) has no length"):
        Gauge(wedge, ((1.0, 5.0),))


def test_readings_that_cannot_be_are_refused() -> None:
    shape = box()
    gauge = Gauge(shape, ((11.8, 2.5), (10.2, 2.5)))
    with pytest.raises(ValueError, match=r"no probe 2 to lose; allowed are 0 to 1"):
        gauge.reads_l(shape.at(0.0, 0.0), 100.0, (2,))
    with pytest.raises(ValueError, match=r"every probe is lost"):
        gauge.reads_l(shape.at(0.0, 0.0), 100.0, (0, 1))
    with pytest.raises(ValueError, match=r"the attitude is that of another tank"):
        gauge.reads_l(box().at(0.0, 0.0), 100.0)

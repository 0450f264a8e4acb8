"""Gauging: what a set of upright probes reads of a tank.

Each probe stands from floor to roof and measures the share of itself that is covered. The weighted mean of
the shares, through the calibration at level attitude, gives the volume. One probe off level reads too much or
too little; several, well placed, err in opposite directions. Read through the calibration at the attitude
itself, which a computer can do that knows pitch and roll, they err no more than where no probe sees the
surface.
"""

from bisect import bisect_left, bisect_right
from itertools import pairwise

from wetwing.physics import outline
from wetwing.physics.outline import Place
from wetwing.physics.tank_shape import Attitude, TankShape

Table = tuple[list[float], list[float]]
"""Volumes in the tank, rising, and what the gauge reads at each; straight lines between."""


DRY_SHARE = 1e-6
"""Of the probes together: covered no further than this they are dry."""


class Gauge:
    """Probes at places on a tank's plan.

    Without `weights` a probe weighs the space nearest to it: plan area times mean depth. The sum is then a
    quadrature of the volume, so that errors of pitch and of roll nearly cancel. A lost probe is left out, and
    the rest are read through a calibration of their own, so at level attitude the gauge stays right and only
    its errors off level grow.

    No probe sees the first litres, below the lowest foot, and the last, above the highest head: between 0 and
    `seen_l()[0]` the gauge reads `seen_l()[0]`, and above `seen_l()[1]` that.
    """

    def __init__(
        self, shape: TankShape, points: tuple[Place, ...], weights: tuple[float, ...] | None = None
    ) -> None:
        if not points:
            raise ValueError("gauge: no probes; at least 1 is needed")
        for x, y in points:
            if not outline.holds(shape.outline_m, (x, y)):
                raise ValueError(f"gauge: probe at ({x}, {y}) is outside the tank's outline")
            if not shape.depth_at_m(x, y) > 0.0:
                raise ValueError(f"gauge: probe at ({x}, {y}) has no length; the tank has no depth there")
        if len(set(points)) < len(points):
            raise ValueError(f"gauge: two probes stand at one place, found {points}")
        if weights is None:
            weights = tuple(_nearest_space_m3(shape, points, i) for i in range(len(points)))
        if len(weights) != len(points) or not all(weight > 0.0 for weight in weights):
            raise ValueError(f"gauge: weights {weights}; {len(points)} above zero are needed")
        self.shape = shape
        self.points = points
        self.weights = weights
        self._level = shape.at(0.0, 0.0)
        self._spans = [(shape.floor_m(x, y), shape.depth_at_m(x, y)) for x, y in points]
        self._tables: dict[tuple[Attitude, tuple[int, ...], bool], Table] = {}

    def reads_l(
        self, attitude: Attitude, volume_l: float, lost: tuple[int, ...] = (), corrected: bool = False
    ) -> float:
        """What the gauge reads of a volume; `lost` are probes by number, from 0. `corrected`: it knows the
        attitude, and takes the shares for those of the tank so tilted;
        probes that are all dry then read nothing.

        The first reading at an attitude takes a millisecond, a further one a microsecond: keep the attitude.
        """
        table = self._tables.get((attitude, lost, corrected))
        if table is None:
            table = self._table(attitude, self._left(lost), corrected)
            self._tables[attitude, lost, corrected] = table
        volumes, readings = table
        if volume_l <= volumes[0]:
            return readings[0]
        if volume_l >= volumes[-1]:
            return readings[-1]
        i = bisect_right(volumes, volume_l)
        share = (volume_l - volumes[i - 1]) / (volumes[i] - volumes[i - 1])
        return readings[i - 1] + share * (readings[i] - readings[i - 1])

    def seen_l(self, lost: tuple[int, ...] = ()) -> tuple[float, float]:
        """Least and most that the gauge can read."""
        _, readings = self._table(self._level, self._left(lost), corrected=False)
        return readings[0], readings[-1]

    def _left(self, lost: tuple[int, ...]) -> list[int]:
        for number in lost:
            if not 0 <= number < len(self.points):
                raise ValueError(f"gauge: no probe {number} to lose; allowed are 0 to {len(self.points) - 1}")
        left = [i for i in range(len(self.points)) if i not in lost]
        if not left:
            raise ValueError("gauge: every probe is lost; at least 1 must be left")
        return left

    def _table(self, attitude: Attitude, left: list[int], corrected: bool) -> Table:
        if attitude.shape is not self.shape:
            raise ValueError("gauge: the attitude is that of another tank")
        heights = sorted(height for i in left for height in (self._spans[i][0], sum(self._spans[i])))
        sums = [self._covered(left, [height] * len(left)) for height in heights]
        tilts = [attitude.tilt_m(*self.points[i]) for i in left]
        # Where a probe begins or ends to be covered here, the reading bends; and where it would, when level.
        ends = sorted(
            end - tilt
            for i, tilt in zip(left, tilts, strict=True)
            for end in (self._spans[i][0], sum(self._spans[i]))
        )
        end_sums = [self._covered(left, [level + tilt for tilt in tilts]) for level in ends]
        bends = [*ends, *(_where(covered, end_sums, ends) for covered in sums)]
        taken_for, told_by, told_at = (
            (attitude, end_sums, ends) if corrected else (self._level, sums, heights)
        )
        between = [0.5 * (low + high) for low, high in pairwise(attitude.levels_m)]
        dry = DRY_SHARE * sum(self.weights[i] for i in left)
        volumes: list[float] = []
        readings: list[float] = []
        for level in sorted([*attitude.levels_m, *between, *bends]):
            volume = attitude.volume_at_level_l(level)
            covered = self._covered(left, [level + tilt for tilt in tilts])
            reading = taken_for.volume_at_level_l(_where(covered, told_by, told_at))
            if corrected and covered <= dry:
                reading = 0.0  # the tilted corner that no probe sees is no fuel to count on
            if volumes and volume <= volumes[-1]:
                readings[-1] = max(readings[-1], reading)
                continue
            volumes.append(volume)
            readings.append(max(reading, readings[-1]) if readings else reading)
        return volumes, readings

    def _covered(self, left: list[int], surfaces_m: list[float]) -> float:
        """Weighted sum of the covered shares, for the surface's height at each probe."""
        total = 0.0
        for i, surface in zip(left, surfaces_m, strict=True):
            floor, depth = self._spans[i]
            total += self.weights[i] * min(1.0, max(0.0, (surface - floor) / depth))
        return total


def _where(covered: float, sums: list[float], heights: list[float]) -> float:
    """Height of a level surface that covers the probes this far; the lowest where several do."""
    i = bisect_left(sums, covered)
    if i == 0:
        return heights[max(0, bisect_right(sums, covered) - 1)]
    if i == len(sums):
        return heights[bisect_left(sums, sums[-1])]
    return heights[i - 1] + (covered - sums[i - 1]) / (sums[i] - sums[i - 1]) * (heights[i] - heights[i - 1])


def _nearest_space_m3(shape: TankShape, points: tuple[Place, ...], number: int) -> float:
    """Plan area that is nearer to one probe than to the others, times the depth at its centroid."""
    x, y = points[number]
    cell = shape.outline_m
    for i, (other_x, other_y) in enumerate(points):
        if i != number:
            halfway = (0.5 * (x + other_x), 0.5 * (y + other_y))
            cell = outline.beside(cell, halfway, (x - other_x, y - other_y))
    return abs(outline.area_m2(cell)) * shape.depth_at_m(*outline.centroid_m(cell))

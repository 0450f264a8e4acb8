"""The space in a tank, and how the fuel lies in it at any attitude.

The fuel's surface is a plane across gravity. Volume below it is exact: floor and roof are planes over each
half of the outline, so the space is cut into upright prisms on triangles, and a plane cuts a prism in closed
form. What a flight asks thousands of times a second is read from a curve through exact points.
"""

from collections.abc import Callable
from math import isfinite, sqrt

from wetwing.physics import outline
from wetwing.physics.arithmetic import tan_deg
from wetwing.physics.curve import Curve
from wetwing.physics.outline import Place
from wetwing.physics.prism import mean_under_m, share_under

Prism = tuple[float, tuple[Place, ...]]
"""Signed area of a triangle, and its corners."""

LEAST_SHARE = 0.4
"""Structure never takes more than six tenths of a tank; a smaller share is a slip in its figures."""

_FILL_POINTS = 80
_NEAREST_POINTS = 1e-4
"""Of the whole height: points of the curve that are nearer than this are one."""

_LEAST_STEP = 1e-5
"""Of the capacity: in a corner the surface is a point and the level leaps. No step of volume is smaller, so
that the curve's slope stays within bounds."""

_STEEPEST_TOP = 10.0
"""Times the mean slope: an overfull tank's level rises no faster, though its last corner is a point."""


class TankShape:
    """Outline, floor, roof and capacity of a tank.

    The floor rises from `bottom_m` at the outline's inboard edge, where |y| is least, by tan(dihedral) for
    each metre outboard. The depth goes in a straight line from `depth_m` at the inboard edge to
    `depth_outboard_m` at the outboard one. Structure takes the same share of every horizontal section, so
    that `capacity_l` is the volume of the whole: share = capacity / geometric volume, 0.4 to 1.

    Worked figure: 2 m by 3 m by 0.5 m deep holds 3000 L; with a capacity of 2700 L the share is 0.9.
    """

    def __init__(
        self,
        outline_m: tuple[Place, ...],
        bottom_m: float,
        dihedral_deg: float,
        depth_m: float,
        depth_outboard_m: float,
        capacity_l: float,
    ) -> None:
        if not isfinite(bottom_m):
            raise ValueError(f"tank shape: bottom {bottom_m} m is not finite")
        if not (depth_m > 0.0 and isfinite(depth_m)):
            raise ValueError(f"tank shape: depth {depth_m} m is not above zero")
        if not (depth_outboard_m >= 0.0 and isfinite(depth_outboard_m)):
            raise ValueError(f"tank shape: outboard depth {depth_outboard_m} m is below zero")
        if not (capacity_l > 0.0 and isfinite(capacity_l)):
            raise ValueError(f"tank shape: capacity {capacity_l} L is not above zero")
        self.outline_m = outline.checked(tuple(outline_m))
        self.capacity_l = capacity_l
        self.centroid_m = outline.centroid_m(self.outline_m)
        self._bottom_m = bottom_m
        self._rise = tan_deg(dihedral_deg)
        self._depth_m = depth_m
        across = [y for _, y in self.outline_m]
        reach = [abs(y) for y in across]
        self._inboard_m = 0.0 if min(across) < 0.0 < max(across) else min(reach)
        self._taper = (depth_outboard_m - depth_m) / (max(reach) - self._inboard_m)
        self.corners_m, self.halves = self._cut()
        geometric_l = 1000.0 * sum(
            sum(area * self._mean_depth_m(corners) for area, corners in half) for half in self.halves
        )
        self.share = capacity_l / geometric_l
        if not LEAST_SHARE <= self.share <= 1.0 + 1e-12:
            raise ValueError(
                f"tank shape: {capacity_l} L is {self.share:.3f} of the space of {geometric_l:.0f} L;"
                f" allowed are {LEAST_SHARE} to 1"
            )
        self._level = Attitude(self, 0.0, 0.0)

    def at(self, pitch_deg: float, roll_deg: float) -> "Attitude":
        """The tank at an attitude, within 45 degrees; nose up and right wing down are positive. Takes
        milliseconds: keep it.
        """
        return Attitude(self, pitch_deg, roll_deg)

    def floor_m(self, x: float, y: float) -> float:
        """Height of the floor at a place on the plan."""
        return self._bottom_m + self._rise * (abs(y) - self._inboard_m)

    def depth_at_m(self, x: float, y: float) -> float:
        """Height of the roof above the floor at a place on the plan."""
        return max(0.0, self._depth_m + self._taper * (abs(y) - self._inboard_m))

    def height_for_m(self, volume_l: float, x: float, y: float) -> float:
        """Height of a sensor at a place on the plan that the fuel reaches at a volume, attitude level.

        Raises ValueError for a place outside the outline, a volume outside the tank, and a height below the
        floor or above the roof there: such a sensor would hang outside the tank.
        """
        if not outline.holds(self.outline_m, (x, y)):
            raise ValueError(f"tank shape: place ({x}, {y}) is outside the outline")
        height = self._level.level_exactly_m(volume_l)
        floor, roof = self.floor_m(x, y), self.floor_m(x, y) + self.depth_at_m(x, y)
        if not floor - 1e-9 <= height <= roof + 1e-9:
            raise ValueError(
                f"tank shape: {volume_l} L stand {height:.3f} m high; at place ({x}, {y}) the tank reaches"
                f" from {floor:.3f} to {roof:.3f} m"
            )
        return height

    def _cut(self) -> tuple[tuple[Place, ...], tuple[tuple[Prism, ...], ...]]:
        """Corners of the halves to the right and the left of the centre line, and signed triangles that fan
        out from each half's centroid.

        Where the outline is hollow, triangles overlap and their signs cancel, so they sum to the outline.
        Halves are summed apart: an aircraft and its mirror image then add the same numbers in the same order.
        """
        turn = 1.0 if outline.area_m2(self.outline_m) > 0.0 else -1.0
        corners: list[Place] = []
        halves: list[tuple[Prism, ...]] = []
        for side in (1.0, -1.0):
            half = outline.beside(self.outline_m, (0.0, 0.0), (0.0, side))
            if len(half) < 3 or outline.area_m2(half) == 0.0:
                continue
            corners.extend(half)
            centre = outline.centroid_m(half)
            triangles = [(centre, half[i], half[(i + 1) % len(half)]) for i in range(len(half))]
            areas = [turn * outline.area_m2(triangle) for triangle in triangles]
            halves.append(tuple(pair for pair in zip(areas, triangles, strict=True) if pair[0] != 0.0))
        return tuple(corners), tuple(halves)

    def _mean_depth_m(self, corners: tuple[Place, ...]) -> float:
        return sum(self.depth_at_m(x, y) for x, y in corners) / len(corners)


class Attitude:
    """A tank at one pitch and roll: where the surface stands for any volume.

    In the aircraft's own axes, x aft, y right and z up, gravity is across the plane

        z = level + (x - x_c) tan(pitch) / cos(roll) + (y - y_c) tan(roll),

    for the aircraft pitched, then rolled; 1 / cos = sqrt(1 + tan²). Nose up brings fuel aft, right wing down
    brings it right. (x_c, y_c) is the outline's centroid, and the level is the surface's height there.
    Worked figure: pitch 5°, roll 0: the surface rises by 87.5 mm for each metre aft.
    """

    def __init__(self, shape: TankShape, pitch_deg: float, roll_deg: float) -> None:
        self.shape = shape
        self.pitch_deg = pitch_deg
        self.roll_deg = roll_deg
        self._slope_y = tan_deg(roll_deg)
        self._slope_x = tan_deg(pitch_deg) * sqrt(1.0 + self._slope_y * self._slope_y)
        # Heights of the floor's and the roof's corners above the surface, were its level zero.
        self._halves = [
            [
                (1000.0 * shape.share * area, self._sorted(corners, 0.0), self._sorted(corners, 1.0))
                for area, corners in half
            ]
            for half in shape.halves
        ]
        floors = self._sorted(shape.corners_m, 0.0)
        roofs = self._sorted(shape.corners_m, 1.0)
        self.empty_m = floors[0]
        self.full_m = roofs[-1]
        self.levels_m, self.volumes_l = self._points(sorted([*floors, *roofs]))
        self._curve = self._drawn()

    def level_m(self, volume_l: float) -> float:
        """Height of the surface at the outline's centroid; for no fuel and less, of the lowest corner.

        A rising curve through exact points: to half a millimetre up to 15 degrees, but to 2 cm in the first
        and the last ten-thousandth of the capacity, in the corners. Above the capacity it goes on straight.
        """
        return self._curve.at(volume_l)

    def height_at_m(self, volume_l: float, x: float, y: float) -> float:
        """Height of the surface at a place on the plan."""
        return self._curve.at(volume_l) + self.tilt_m(x, y)

    def tilt_m(self, x: float, y: float) -> float:
        """Height of the surface at a place above its level."""
        x_c, y_c = self.shape.centroid_m
        return self._slope_x * (x - x_c) + self._slope_y * (y - y_c)

    def wetted_share(self, volume_l: float, x: float, y: float) -> float:
        """Share, 0 to 1, of an upright probe from floor to roof that the fuel covers."""
        over = self.height_at_m(volume_l, x, y) - self.shape.floor_m(x, y)
        if over <= 0.0:
            return 0.0
        depth = self.shape.depth_at_m(x, y)
        return 1.0 if over >= depth else over / depth

    def volume_below_l(self, x: float, y: float, z: float) -> float:
        """Volume at which the surface passes a point, exact: none for a point below all, the capacity above.

        What a level sensor at that point turns at.
        """
        return self.volume_at_level_l(z - self.tilt_m(x, y))

    def volume_at_level_l(self, level_m: float) -> float:
        """Volume under the surface at a level, exact: share × sum of area × (mean depth under the surface,
        floor less roof).
        """
        if level_m <= self.empty_m:
            return 0.0
        if level_m >= self.full_m:
            return self.shape.capacity_l
        total = self._summed(mean_under_m, level_m)
        return min(max(total, 0.0), self.shape.capacity_l)

    def level_exactly_m(self, volume_l: float) -> float:
        """Level of a volume, by halving, to the last bits of a metre; slow."""
        if not 0.0 <= volume_l <= self.shape.capacity_l:
            raise ValueError(
                f"tank shape: volume {volume_l} L is outside the tank, 0 to {self.shape.capacity_l} L"
            )
        if volume_l == 0.0:
            return self.empty_m
        low, high = self.empty_m, self.full_m
        while True:
            middle = 0.5 * (low + high)
            if not low < middle < high:
                return high
            if self.volume_at_level_l(middle) < volume_l:
                low = middle
            else:
                high = middle

    def _summed(self, under: Callable[[float, tuple[float, ...]], float], level_m: float) -> float:
        """Sum over the prisms of share × area × (floor's less roof's value of `under`)."""
        total = 0.0
        for half in self._halves:
            part = 0.0
            for litres_per_m, floor, roof in half:
                part += litres_per_m * (under(level_m, floor) - under(level_m, roof))
            total += part
        return total

    def _sorted(self, corners: tuple[Place, ...], roof: float) -> tuple[float, ...]:
        shape = self.shape
        return tuple(
            sorted(
                shape.floor_m(x, y) + roof * shape.depth_at_m(x, y) - self.tilt_m(x, y) for x, y in corners
            )
        )

    def _points(self, corners_m: list[float]) -> tuple[list[float], list[float]]:
        """Levels of the curve's points, with their volumes: every corner, where the surface changes its
        shape, and between them closer together near the bottom and the top.
        """
        height = self.full_m - self.empty_m
        fill = []
        for k in range(1, _FILL_POINTS):
            t = k / _FILL_POINTS
            fill.append(self.empty_m + height * t * t * (3.0 - 2.0 * t))
        capacity = self.shape.capacity_l
        levels, volumes = [self.empty_m], [0.0]
        for level in sorted([*corners_m, *fill]):
            volume = self.volume_at_level_l(level)
            clear = level - levels[-1] > _NEAREST_POINTS * height and self.full_m - level > (
                _NEAREST_POINTS * height
            )
            if clear and volume - volumes[-1] > _LEAST_STEP * capacity < capacity - volume:
                levels.append(level)
                volumes.append(volume)
        return [*levels, self.full_m], [*volumes, capacity]

    def _drawn(self) -> Curve:
        slopes: list[float | None] = [None]
        for level in self.levels_m[1:-1]:
            surface = self._summed(share_under, level)  # litres for each metre of level
            slopes.append(1.0 / surface if surface > 0.0 else None)
        last_chord = (self.levels_m[-1] - self.levels_m[-2]) / (self.volumes_l[-1] - self.volumes_l[-2])
        mean_chord = (self.full_m - self.empty_m) / self.shape.capacity_l
        slopes.append(min(last_chord, _STEEPEST_TOP * mean_chord))
        return Curve(self.volumes_l, self.levels_m, slopes)

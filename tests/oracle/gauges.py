"""What a set of probes reads, from the geometry.

A gauge off level reads through a table with straight lines between its points: that is part of the model.
Where the points lie is taken from the simulation's gauge; what stands there is computed here.
"""

from bisect import bisect_left
from functools import cache

import numpy as np

from tests.oracle.shapes import Lie, lie_of, space_of
from wetwing.aircraft.model import Tank
from wetwing.physics.probes import Gauge
from wetwing.physics.tank_shape import TankShape

Place = tuple[float, float]


def _nearer(cell: list[Place], own: Place, other: Place) -> list[Place]:
    """The part of a polygon that is nearer to `own` than to `other`."""

    def lead(p: Place) -> float:
        return (p[0] - other[0]) ** 2 + (p[1] - other[1]) ** 2 - (p[0] - own[0]) ** 2 - (p[1] - own[1]) ** 2

    kept = []
    for a, b in zip(cell, [*cell[1:], cell[0]], strict=True):
        la, lb = lead(a), lead(b)
        if la >= 0.0:
            kept.append(a)
        if la * lb < 0.0:
            share = la / (la - lb)
            kept.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
    return kept


def _measure(cell: list[Place]) -> tuple[float, Place]:
    """Area and centre of a polygon."""
    area = x = y = 0.0
    for (x0, y0), (x1, y1) in zip(cell, [*cell[1:], cell[0]], strict=True):
        cross = x0 * y1 - x1 * y0
        area += 0.5 * cross
        x += (x0 + x1) * cross / 6.0
        y += (y0 + y1) * cross / 6.0
    return abs(area), (x / area, y / area)


@cache
def weights(tank: Tank, probes: tuple[Place, ...]) -> list[float]:
    """Each probe weighs the space that is nearest to it."""
    found = []
    for own in probes:
        cell = list(tank.outline_m)
        for other in probes:
            if other != own:
                cell = _nearer(cell, own, other)
        area, (_, y) = _measure(cell)
        found.append(area * space_of(tank).high(y))
    return found


class Probes:
    """The probes of a tank at one attitude, without those that are lost."""

    def __init__(
        self,
        tank: Tank,
        probes: tuple[Place, ...],
        lost: tuple[int, ...],
        pitch_deg: float,
        roll_deg: float,
        knows_attitude: bool,
    ) -> None:
        space = space_of(tank)
        self.here = lie_of(tank, pitch_deg, roll_deg)
        self.flat: Lie = lie_of(tank, 0.0, 0.0)
        weigh = weights(tank, probes)
        self.kept = [
            (weigh[i], space.floor(y), space.high(y), self.here.tilt(x, y))
            for i, (x, y) in enumerate(probes)
            if i not in lost
        ]
        # What the computer takes the tank to be: level, or lying as it knows it to lie.
        self.tilted = knows_attitude
        self.taken = self.here if knows_attitude else self.flat
        ends = set()
        for _, floor, high, tilt in self.kept:
            own = tilt if knows_attitude else 0.0
            ends |= {floor - own, floor + high - own}
        self.heights = sorted(ends)
        self.sums = [self._wet(z, tilted=self.tilted) for z in self.heights]
        self.table_l = _points(tank, probes, lost, pitch_deg, roll_deg, knows_attitude)
        self.table_reads = [self.exactly_l(litres) for litres in self.table_l]

    def _wet(self, level: float, *, tilted: bool) -> float:
        total = 0.0
        for weight, floor, high, tilt in self.kept:
            over = level + (tilt if tilted else 0.0) - floor
            total += weight * min(1.0, max(0.0, over / high))
        return total

    def reads_l(self, litres: float) -> float:
        """What the gauge reads."""
        return float(np.interp(litres, self.table_l, self.table_reads))

    def exactly_l(self, litres: float) -> float:
        """The volume that would cover the probes as far, in the tank as it is taken to lie."""
        wet = self._wet(self.here.level(litres), tilted=True)
        at = bisect_left(self.sums, wet)
        if self.tilted and wet <= 1e-6 * sum(weight for weight, *_ in self.kept):
            return 0.0
        if at == 0:
            height = self.heights[0]
        elif at == len(self.sums):
            height = self.heights[self.sums.index(self.sums[-1])]
        else:
            low, top = self.sums[at - 1], self.sums[at]
            z0, z1 = self.heights[at - 1], self.heights[at]
            height = z0 + (wet - low) / (top - low) * (z1 - z0)
        return self.taken.volume(height)


@cache
def _gauge(tank: Tank, probes: tuple[Place, ...]) -> Gauge:
    return Gauge(
        TankShape(
            *(tank.outline_m, tank.bottom_m, tank.dihedral_deg, tank.depth_m),
            *(tank.depth_outboard_m, tank.capacity_l),
        ),
        probes,
    )


def _points(
    tank: Tank,
    probes: tuple[Place, ...],
    lost: tuple[int, ...],
    pitch_deg: float,
    roll_deg: float,
    knows_attitude: bool,
) -> list[float]:
    gauge = _gauge(tank, probes)
    attitude = gauge.shape.at(pitch_deg, roll_deg)
    gauge.reads_l(attitude, 0.0, lost, knows_attitude)
    return list(gauge._tables[attitude, lost, knows_attitude][0])


@cache
def probes_of(
    tank: Tank,
    probes: tuple[Place, ...],
    lost: tuple[int, ...],
    pitch_deg: float,
    roll_deg: float,
    knows_attitude: bool = False,
) -> Probes:
    """Made once for an attitude."""
    return Probes(tank, probes, lost, pitch_deg, roll_deg, knows_attitude)

"""Tanks by slices: the space is cut across the span, each slice integrated along the chord in closed form,
and the slices by Gauss's rule between the places where a slice changes its form: exact but for rounding.

It shares no step with the simulation's way, which adds prisms on triangles and reads levels from a curve.
"""

from bisect import bisect_right
from functools import cache
from itertools import pairwise
from math import radians, sqrt, tan

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq  # type: ignore[import-untyped]

from wetwing.aircraft.model import Tank

Array = NDArray[np.float64]
LEVELS = 700
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(3)


class Space:
    """The space of one tank."""

    def __init__(self, tank: Tank) -> None:
        self.points = tank.outline_m
        self.capacity = tank.capacity_l
        ys = [y for _, y in self.points]
        self.inboard = 0.0 if min(ys) < 0.0 < max(ys) else min(abs(y) for y in ys)
        self.bottom = tank.bottom_m
        self.rise = tan(radians(tank.dihedral_deg))
        self.depth = tank.depth_m
        self.taper = (tank.depth_outboard_m - tank.depth_m) / (max(abs(y) for y in ys) - self.inboard)
        self.panels = self._panels(ys)
        self.centre = self._centre()
        self.litres_per_m3 = 1.0
        # Fuel that stands above everything fills all.
        self.litres_per_m3 = self.capacity / float(self.volumes(np.array([1e3]), 0.0, 0.0)[0])

    def floor(self, y: float) -> float:
        """Height of the floor."""
        return self.bottom + self.rise * (abs(y) - self.inboard)

    def high(self, y: float) -> float:
        """Depth at a place."""
        return self.depth + self.taper * (abs(y) - self.inboard)

    def _panels(self, ys: list[float]) -> list[tuple[float, float, tuple[float, float], tuple[float, float]]]:
        """Strips across the span with, for each, the two edges (x = p + q y) between which a chord lies."""
        cuts = sorted({*ys, 0.0} if min(ys) < 0.0 < max(ys) else set(ys))
        found = []
        for low, top in pairwise(cuts):
            middle = 0.5 * (low + top)
            crossing = []
            for (x0, y0), (x1, y1) in zip(self.points, self.points[1:] + self.points[:1], strict=True):
                if min(y0, y1) < middle < max(y0, y1):
                    q = (x1 - x0) / (y1 - y0)
                    crossing.append((x0 - q * y0 + q * middle, (x0 - q * y0, q)))
            crossing.sort()
            for fore, aft in zip(crossing[::2], crossing[1::2], strict=True):
                found.append((low, top, fore[1], aft[1]))
        return found

    def _centre(self) -> tuple[float, float]:
        area = along = across = 0.0
        for low, top, (p0, q0), (p1, q1) in self.panels:
            for node, weight in zip(_NODES.tolist(), _WEIGHTS.tolist(), strict=True):
                y = 0.5 * (low + top) + 0.5 * (top - low) * node
                w = 0.5 * (top - low) * weight
                fore, aft = p0 + q0 * y, p1 + q1 * y
                area += w * (aft - fore)
                along += w * 0.5 * (aft * aft - fore * fore)
                across += w * y * (aft - fore)
        self.plan_m2 = area
        return along / area, across / area

    def _slices(self, levels: Array, sx: float, sy: float) -> tuple[Array, Array]:
        """Litres under the surface, and litres that a metre more would add, for each level."""
        volume = np.zeros_like(levels)
        surface = np.zeros_like(levels)
        xc, yc = self.centre
        for low, top, fore, aft in self.panels:
            sign = 1.0 if low + top > 0.0 else -1.0
            # Height of the surface over the floor at a chord's end is a + b y; the depth is d + e y.
            d, e = self.depth - self.taper * self.inboard, sign * self.taper
            ends = []
            for p, q in (fore, aft):
                a = levels + sx * (p - xc) - sy * yc - self.bottom + self.rise * self.inboard
                ends.append((a, sx * q + sy - sign * self.rise))
            breaks = [np.full_like(levels, low), np.full_like(levels, top)]
            for a, b in ends:
                with np.errstate(divide="ignore", invalid="ignore"):
                    breaks += [-a / b, (a - d) / (e - b)]
            cuts = np.sort(np.clip(np.nan_to_num(np.array(breaks), nan=low), low, top), axis=0)
            for left, right in pairwise(cuts):
                for node, weight in zip(_NODES, _WEIGHTS, strict=True):
                    y = 0.5 * (left + right) + 0.5 * (right - left) * node
                    w = 0.5 * (right - left) * weight
                    high = d + e * y
                    u = [a + b * y for a, b in ends]
                    if sx == 0.0:
                        chord = (aft[0] + aft[1] * y) - (fore[0] + fore[1] * y)
                        volume += w * chord * np.clip(u[0], 0.0, high)
                        surface += w * chord * ((u[0] > 0.0) & (u[0] < high))
                    else:
                        volume += w * (_ramp(u[1], high) - _ramp(u[0], high)) / sx
                        surface += w * (np.clip(u[1], 0.0, high) - np.clip(u[0], 0.0, high)) / sx
        return volume * self.litres_per_m3, surface * self.litres_per_m3

    def volumes(self, levels: Array, sx: float, sy: float) -> Array:
        """Litres under the surface at each level."""
        return self._slices(levels, sx, sy)[0]


def _ramp(u: Array, high: Array) -> Array:
    """Integral of what is wet, from the dry end."""
    inside = np.clip(u, 0.0, high)
    return 0.5 * inside * inside + high * (np.maximum(u, high) - high)


class Lie:
    """How fuel lies in a space at one attitude: volume and level to and fro."""

    def __init__(self, space: Space, pitch_deg: float, roll_deg: float) -> None:
        self.space = space
        self.sy = tan(radians(roll_deg))
        self.sx = tan(radians(pitch_deg)) * sqrt(1.0 + self.sy**2)
        xc, yc = space.centre
        corners = []
        for low, top, fore, aft in space.panels:
            for y in (low, top):
                for p, q in (fore, aft):
                    tilt = self.sx * (p + q * y - xc) + self.sy * (y - yc)
                    corners += [space.floor(y) - tilt, space.floor(y) + space.high(y) - tilt]
        self.low, self.top = min(corners), max(corners)
        t = np.linspace(0.0, 1.0, LEVELS)
        graded = self.low + (self.top - self.low) * t * t * (3.0 - 2.0 * t)
        self.table = sorted({*graded.tolist(), *corners})
        levels = np.array(self.table)
        tiny = 1e-10
        volumes, _ = space._slices(levels, self.sx, self.sy)
        before = space._slices(levels - tiny, self.sx, self.sy)[1]
        after = space._slices(levels + tiny, self.sx, self.sy)[1]
        # A cubic for each piece, with the slopes on its own side of a corner.
        self.litres: list[float] = []
        self.pieces: list[tuple[float, float, float, float]] = []
        for i in range(len(levels) - 1):
            v0, v1, z0, z1 = volumes[i], volumes[i + 1], levels[i], levels[i + 1]
            if not v1 - v0 > 1e-9 * space.capacity:
                continue
            width, chord = v1 - v0, (z1 - z0) / (v1 - v0)
            s0 = min(1.0 / after[i], 3.0 * chord) if after[i] > 0.0 else 3.0 * chord
            s1 = min(1.0 / before[i + 1], 3.0 * chord) if before[i + 1] > 0.0 else 3.0 * chord
            self.litres.append(float(v0))
            self.pieces.append(
                (
                    float(z0),
                    float(s0),
                    float((3.0 * chord - 2.0 * s0 - s1) / width),
                    float((s0 + s1 - 2.0 * chord) / width**2),
                )
            )

    def tilt(self, x: float, y: float) -> float:
        """Height of the surface at a place over that at the centre."""
        return self.sx * (x - self.space.centre[0]) + self.sy * (y - self.space.centre[1])

    def level(self, litres: float) -> float:
        """Height of the surface at the centre."""
        if litres <= self.litres[0]:
            return self.low
        held = min(litres, self.space.capacity)
        i = bisect_right(self.litres, held) - 1
        past = held - self.litres[i]
        a, b, c, d = self.pieces[i]
        slope = b + past * (2.0 * c + past * 3.0 * d)
        # A step that the integrator tries and takes back may hold more than the tank: straight on from there.
        return a + past * (b + past * (c + past * d)) + (litres - held) * slope

    def volume(self, level: float) -> float:
        """Litres under a level, exact."""
        litres: Array = self.space.volumes(np.array([min(max(level, self.low), self.top)]), self.sx, self.sy)
        return float(litres[0])

    def exact_level(self, litres: float) -> float:
        """The level by search on the exact volume."""
        return float(brentq(lambda z: self.volume(z) - litres, self.low, self.top, xtol=1e-13, rtol=1e-14))


@cache
def space_of(tank: Tank) -> Space:
    """The space of a tank, made once."""
    return Space(tank)


@cache
def lie_of(tank: Tank, pitch_deg: float, roll_deg: float) -> Lie:
    """How its fuel lies, made once for an attitude."""
    return Lie(space_of(tank), pitch_deg, roll_deg)


@cache
def reached_l(
    tank: Tank, litres: float, at_m: tuple[float, float], pitch_deg: float, roll_deg: float
) -> float:
    """What the tank holds when the fuel reaches a point that it reaches at `litres` when level."""
    if pitch_deg == roll_deg == 0.0:
        return litres
    here = lie_of(tank, pitch_deg, roll_deg)
    z = lie_of(tank, 0.0, 0.0).exact_level(litres) if litres > 0.0 else lie_of(tank, 0.0, 0.0).low
    return max(here.volume(z - here.tilt(*at_m)), 0.3 * litres)

"""One step of a fifth-order Runge-Kutta method with its error and a polynomial between its ends.

Source: Dormand and Prince, "A family of embedded Runge-Kutta formulae", Journal of Computational and Applied
Mathematics 6 (1980); the polynomial is that of Hairer, Norsett and Wanner, "Solving Ordinary Differential
Equations I", II.6. The last slope of a step is the first of the next, so a step costs six evaluations. Every
stage and the polynomial are linear combinations of slopes, so a sum that the slopes conserve is conserved
everywhere, to rounding.
"""

from collections.abc import Callable
from dataclasses import dataclass

Vector = list[float]
Slopes = Callable[[float, Vector], Vector]

_A3 = (3.0 / 40.0, 9.0 / 40.0)
_A4 = (44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0)
_A5 = (19372.0 / 6561.0, -25360.0 / 2187.0, 64448.0 / 6561.0, -212.0 / 729.0)
_A6 = (9017.0 / 3168.0, -355.0 / 33.0, 46732.0 / 5247.0, 49.0 / 176.0, -5103.0 / 18656.0)
_B = (35.0 / 384.0, 500.0 / 1113.0, 125.0 / 192.0, -2187.0 / 6784.0, 11.0 / 84.0)
_E = (71.0 / 57600.0, -71.0 / 16695.0, 71.0 / 1920.0, -17253.0 / 339200.0, 22.0 / 525.0, -1.0 / 40.0)
_D = (
    -12715105075.0 / 11282082432.0,
    87487479700.0 / 32700410799.0,
    -10690763975.0 / 1880347072.0,
    701980252875.0 / 199316789632.0,
    -1453857185.0 / 822651844.0,
    69997945.0 / 29380423.0,
)


@dataclass(slots=True)
class Step:
    """A step taken: both ends, the slopes there, and the error of each component."""

    start_s: float
    length_s: float
    before: Vector
    after: Vector
    first: Vector
    last: Vector
    error: Vector
    stages: tuple[Vector, Vector, Vector, Vector]
    _bends: list[tuple[float, float, float, float]] | None = None

    def at(self, share: float) -> Vector:
        """State at `share` (0 to 1) of the step; fourth order, with both ends' values and slopes."""
        if share == 1.0:
            return self.after
        bends = self._bends
        if bends is None:
            bends = self._bends = self._polynomial()
        rest = 1.0 - share
        return [
            y + share * (a + rest * (b + share * (c + rest * d)))
            for y, (a, b, c, d) in zip(self.before, bends, strict=True)
        ]

    def bend(self) -> Vector:
        """How far the middle of the step lies from the straight line between its ends, by component."""
        bends = self._bends
        if bends is None:
            bends = self._bends = self._polynomial()
        return [0.25 * (b + 0.5 * (c + 0.5 * d)) for _, b, c, d in bends]

    def _polynomial(self) -> list[tuple[float, float, float, float]]:
        h = self.length_s
        d1, d3, d4, d5, d6, d7 = (h * part for part in _D)
        k3, k4, k5, k6 = self.stages
        found = []
        ends = zip(self.before, self.after, self.first, self.last, strict=True)
        for (y, z, first, last), p, q, r, s in zip(ends, k3, k4, k5, k6, strict=True):
            rise = z - y
            b = h * first - rise
            c = rise - h * last - b
            d = d1 * first + d3 * p + d4 * q + d5 * r + d6 * s + d7 * last
            found.append((rise, b, c, d))
        return found


def step(
    slopes: Slopes, slopes_after: Slopes, time_s: float, state: Vector, first: Vector, length_s: float
) -> Step:
    """One step of `length_s` from a state whose slopes are `first`.

    `slopes_after` is asked once, for the end of the step: there a caller may want to keep more than the
    slopes.
    """
    h = length_s
    a1 = 0.2 * h
    k2 = slopes(time_s + a1, [y + a1 * k for y, k in zip(state, first, strict=True)])
    a1, a2 = (h * a for a in _A3)
    k3 = slopes(time_s + 0.3 * h, [y + a1 * p + a2 * q for y, p, q in zip(state, first, k2, strict=True)])
    a1, a2, a3 = (h * a for a in _A4)
    k4 = slopes(
        time_s + 0.8 * h,
        [y + a1 * p + a2 * q + a3 * r for y, p, q, r in zip(state, first, k2, k3, strict=True)],
    )
    a1, a2, a3, a4 = (h * a for a in _A5)
    k5 = slopes(
        time_s + h * (8.0 / 9.0),
        [
            y + a1 * p + a2 * q + a3 * r + a4 * s
            for y, p, q, r, s in zip(state, first, k2, k3, k4, strict=True)
        ],
    )
    a1, a2, a3, a4, a5 = (h * a for a in _A6)
    k6 = slopes(
        time_s + h,
        [
            y + a1 * p + a2 * q + a3 * r + a4 * s + a5 * t
            for y, p, q, r, s, t in zip(state, first, k2, k3, k4, k5, strict=True)
        ],
    )
    b1, b3, b4, b5, b6 = (h * b for b in _B)
    after = [
        y + b1 * p + b3 * q + b4 * r + b5 * s + b6 * t
        for y, p, q, r, s, t in zip(state, first, k3, k4, k5, k6, strict=True)
    ]
    last = slopes_after(time_s + h, after)
    e1, e3, e4, e5, e6, e7 = (h * e for e in _E)
    error = [
        e1 * p + e3 * q + e4 * r + e5 * s + e6 * t + e7 * u
        for p, q, r, s, t, u in zip(first, k3, k4, k5, k6, last, strict=True)
    ]
    return Step(time_s, h, state, after, first, last, error, (k3, k4, k5, k6))

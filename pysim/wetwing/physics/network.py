"""A pressure network: pumps and lines between points, solved for the pressure of each point.

Every branch obeys one law, `head + p_from - p_to = a Q + k Q |Q|`, with Q in t/h, pressures in bar above
ambient, and may let fuel pass one way only. A pump is a branch from its tank with `head` its shut-off
pressure; a line has no head. Precedence needs no script: of two pumps on one point the stronger holds the
weaker one's check valve shut.

Source: mass balance at every point; the balance is the minimum of a convex function, so its solution is
unique.
"""

from dataclasses import dataclass
from math import sqrt

OUTSIDE = -1
"""The end of a branch that stands in a tank, at ambient pressure; hydrostatic head goes into `head_bar`."""

BALANCED_T_H = 1e-11
"""Imbalance left at a point, t/h: ten micrograms an hour."""

_LARGEST_STEP_BAR = 2.0
_STILL_T_H = 1e-9
"""Less than this is no flow: a milligram an hour of rounding."""

_BOUNDLESS_BAR = 1e12

type _Row = tuple[int, int, float, float, float, bool]
"""A branch as it is now, by the fields of `Branch` in their order. A network is solved thousands of times a
flight, and to unpack a tuple takes a fraction of what five attributes take.
"""


@dataclass(frozen=True, slots=True)
class Branch:
    """One branch from point `tail` to point `tip`; `OUTSIDE` stands for a tank."""

    tail: int
    tip: int
    head_bar: float
    linear_bar_h_t: float
    square_bar_h2_t2: float
    one_way: bool

    def flow_t_h(self, difference_bar: float) -> tuple[float, float]:
        """Flow and its slope for a driving pressure; the slope at rest is that of the open branch."""
        a, k = self.linear_bar_h_t, self.square_bar_h2_t2
        if difference_bar >= 0.0:
            root = sqrt(a * a + 4.0 * k * difference_bar)
            return 2.0 * difference_bar / (a + root), 1.0 / root
        if self.one_way:
            return 0.0, 0.0
        root = sqrt(a * a - 4.0 * k * difference_bar)
        return 2.0 * difference_bar / (a + root), 1.0 / root


@dataclass(frozen=True, slots=True)
class Solution:
    """Pressures by point and flows by branch, in the order given. `fed` is false at a point that no source
    can reach.
    """

    pressures_bar: list[float]
    flows_t_h: list[float]
    fed: list[bool]


class Network:
    """Points that hang together, numbered from 0, with their branches; ready to be solved for any demand.

    Pressures come from a start that depends on the branches and their heads alone, so the same network always
    gives the same bits.
    """

    def __init__(self, points: int, branches: tuple[Branch, ...]) -> None:
        self.points = points
        self.branches = branches
        self.heads_bar = [branch.head_bar for branch in branches]
        self.from_outside = [i for i, branch in enumerate(branches) if branch.tail == OUTSIDE]
        self.one_point = points == 1 and all(branch.one_way and branch.tip != OUTSIDE for branch in branches)
        self.fed = _reached(points, branches)

    def solve(
        self, demand_t_h: list[float], heads_bar: list[float] | None = None, thickness: float = 1.0
    ) -> Solution:
        """Pressures of the points and flows of the branches that meet `demand_t_h` drawn at each point.

        `heads_bar` stand in for the branches' own, as density and levels make them; `thickness` is the fuel's
        viscosity over that of the branches' linear terms. Demand where no source reaches is not met: `fed` is
        false there. Raises ArithmeticError if no balance is found, which the convexity rules out.
        """
        branches = self.branches
        if not self.from_outside:
            return Solution([0.0] * self.points, [0.0] * len(branches), self.fed)
        heads = self.heads_bar if heads_bar is None else heads_bar
        if self.one_point:
            strongest, second = self.ranked(heads)
            top = heads[strongest]
            demand = demand_t_h[0]
            if demand <= 0.0:
                return Solution([top], [0.0] * len(branches), self.fed)
            alone = branches[strongest]
            pressure = top - (alone.linear_bar_h_t * thickness + alone.square_bar_h2_t2 * demand) * demand
            if pressure >= second:
                flows = [0.0] * len(branches)
                flows[strongest] = demand
                return Solution([pressure], flows, self.fed)
            pressure, flows = _one_point(branches, heads, thickness, demand, pressure, second)
            return Solution([pressure], flows, self.fed)
        met = [drawn if reached else 0.0 for drawn, reached in zip(demand_t_h, self.fed, strict=True)]
        rows = [
            (b.tail, b.tip, head, b.linear_bar_h_t * thickness, b.square_bar_h2_t2, b.one_way)
            for b, head in zip(branches, heads, strict=True)
        ]
        top = max([heads[i] for i in self.from_outside])
        pressures, flows = _many_points(self.points, rows, met, top)
        _settle_still_points(rows, pressures, flows)
        return Solution(pressures, flows, self.fed)

    def ranked(self, heads_bar: list[float]) -> tuple[int, float]:
        """The branch of the highest head, and the next one's head; for a network of one point."""
        strongest, second = 0, -_BOUNDLESS_BAR
        for i in range(1, len(heads_bar)):
            head = heads_bar[i]
            if head > heads_bar[strongest]:
                second = heads_bar[strongest]
                strongest = i
            elif head > second:
                second = head
        return strongest, second


def _reached(points: int, branches: tuple[Branch, ...]) -> list[bool]:
    reached = [False] * points
    grew = True
    while grew:
        grew = False
        for branch in branches:
            tail = branch.tail == OUTSIDE or reached[branch.tail]
            tip = branch.tip != OUTSIDE and reached[branch.tip]
            if tail and branch.tip != OUTSIDE and not reached[branch.tip]:
                reached[branch.tip] = grew = True
            if tip and not branch.one_way and branch.tail != OUTSIDE and not reached[branch.tail]:
                reached[branch.tail] = grew = True
    return reached


def _one_point(
    branches: tuple[Branch, ...],
    heads: list[float],
    thickness: float,
    demand: float,
    low: float,
    high: float,
) -> tuple[float, list[float]]:
    # Supply falls as pressure rises: at `low` it is more than enough, at `high` too little. Newton inside the
    # bracket.
    flows = [0.0] * len(branches)
    pressure = high
    for _ in range(200):
        excess, slope = -demand, 0.0
        for i, branch in enumerate(branches):
            difference = heads[i] - pressure
            if difference >= 0.0:
                a, k = branch.linear_bar_h_t * thickness, branch.square_bar_h2_t2
                root = sqrt(a * a + 4.0 * k * difference)
                flow = 2.0 * difference / (a + root)
                excess += flow
                slope += 1.0 / root
                flows[i] = flow
            else:
                flows[i] = 0.0
        if -BALANCED_T_H < excess < BALANCED_T_H:
            return pressure, flows
        if excess > 0.0:
            low = pressure
        else:
            high = pressure
        following = pressure + excess / slope if slope > 0.0 else high
        pressure = following if low < following < high else 0.5 * (low + high)
        if pressure in (low, high):
            return pressure, flows
    raise ArithmeticError("network: no balance at one point")


def _balance(
    rows: list[_Row],
    demand: list[float],
    pressures: list[float],
    flows: list[float],
    slopes: list[float],
) -> tuple[list[float], float]:
    # `Branch.flow_t_h` for every branch.
    excess = [-drawn for drawn in demand]
    for i, (tail, tip, difference, a, k, one_way) in enumerate(rows):
        if tail != OUTSIDE:
            difference += pressures[tail]
        if tip != OUTSIDE:
            difference -= pressures[tip]
        if difference >= 0.0:
            root = sqrt(a * a + 4.0 * k * difference)
        elif one_way:
            flows[i] = slopes[i] = 0.0
            continue
        else:
            root = sqrt(a * a - 4.0 * k * difference)
        flows[i] = flow = 2.0 * difference / (a + root)
        slopes[i] = 1.0 / root
        if tail != OUTSIDE:
            excess[tail] -= flow
        if tip != OUTSIDE:
            excess[tip] += flow
    return excess, max(map(abs, excess))


def _many_points(
    points: int, rows: list[_Row], demand: list[float], top: float
) -> tuple[list[float], list[float]]:
    pressures = [top] * points
    flows = [0.0] * len(rows)
    slopes = [0.0] * len(rows)
    excess, worst = _balance(rows, demand, pressures, flows, slopes)
    for _ in range(200):
        if worst < BALANCED_T_H:
            break
        steps = _newton_step(points, rows, excess, slopes)
        descent = _along(excess, steps)
        longest = max(map(abs, steps))
        # No step runs far beyond the pressures so far, which grow with each step where lines resist strongly.
        most = max(_LARGEST_STEP_BAR, max(map(abs, pressures)))
        share = 1.0 if longest <= most else most / longest
        # The imbalance is the slope of a convex function: a step that overshoots its valley shows by a turned
        # sign.
        for _ in range(60):
            tried = [pressure + share * step for pressure, step in zip(pressures, steps, strict=True)]
            excess, worst = _balance(rows, demand, tried, flows, slopes)
            if worst < BALANCED_T_H or _along(excess, steps) >= -0.5 * descent:
                break
            share *= 0.5
        if tried == pressures:
            # Rounding is all that is left: the last bit of a pressure moves a flow by more than the target.
            break
        pressures = tried
    if worst > 1e-9:
        raise ArithmeticError("network: no balance")
    return pressures, flows


def _settle_still_points(rows: list[_Row], pressures: list[float], flows: list[float]) -> None:
    # Where nothing flows, any pressure that keeps the check valves shut balances. A shut-in point stands at
    # the strongest of what pushes on it, and at ambient pressure where nothing does.
    moving = {
        end
        for row, flow in zip(rows, flows, strict=True)
        if not -_STILL_T_H < flow < _STILL_T_H
        for end in row[:2]
    }
    still = [point for point in range(len(pressures)) if point not in moving]
    if not still:
        return
    for i, (tail, tip, *_) in enumerate(rows):
        if tail in still or tip in still:
            flows[i] = 0.0
    pushed = dict.fromkeys(still, -_BOUNDLESS_BAR)

    def at(end: int) -> float:
        return 0.0 if end == OUTSIDE else pushed.get(end, pressures[end])

    for _ in still:
        for tail, tip, head_bar, _, _, one_way in rows:
            if tip in pushed:
                pushed[tip] = max(pushed[tip], head_bar + at(tail))
            if tail in pushed and not one_way:
                pushed[tail] = max(pushed[tail], at(tip))
    for point in still:
        # A point that nothing pushes on stands at ambient pressure, or at the suction beyond its own valve.
        unpushed = pushed[point] < -0.5 * _BOUNDLESS_BAR
        pressures[point] = min(0.0, pressures[point]) if unpushed else pushed[point]


def _along(excess: list[float], steps: list[float]) -> float:
    return sum([e * s for e, s in zip(excess, steps, strict=True)])


def _newton_step(points: int, rows: list[_Row], excess: list[float], slopes: list[float]) -> list[float]:
    # The slope matrix of a network is symmetric and diagonally dominant: elimination needs no pivoting.
    matrix = [[0.0] * points for _ in range(points)]
    for (tail, tip, *_), slope in zip(rows, slopes, strict=True):
        if tail != OUTSIDE:
            matrix[tail][tail] += slope
        if tip != OUTSIDE:
            matrix[tip][tip] += slope
        if tail != OUTSIDE and tip != OUTSIDE:
            matrix[tail][tip] -= slope
            matrix[tip][tail] -= slope
    right = list(excess)
    for i in range(points):
        # A point that every branch has shut off may float; the small term lets it move towards its demand.
        matrix[i][i] += 1e-6
        for j in range(i + 1, points):
            if matrix[j][i] == 0.0:
                continue
            factor = matrix[j][i] / matrix[i][i]
            for column in range(i, points):
                matrix[j][column] -= factor * matrix[i][column]
            right[j] -= factor * right[i]
    for i in reversed(range(points)):
        for column in range(i + 1, points):
            right[i] -= matrix[i][column] * right[column]
        right[i] /= matrix[i][i]
    return right

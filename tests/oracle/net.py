"""Pressures of joined points, by a search within a search: each branch of a tree of points is asked, for a
pressure at its foot, what it gives; the answer falls as the pressure rises, so Brent's method finds the
foot's.

The simulation moves all pressures at once, by Newton's method.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from math import sqrt

from scipy.optimize import brentq  # type: ignore[import-untyped]

FLOOR_BAR = -1e7


@dataclass
class Source:
    """Pushes into `node` with `head`, unless dry; passes fuel back where its check valve is stuck open."""

    index: int
    node: int
    linear: float
    square: float
    two_way: bool
    dry: bool = False


@dataclass
class Line:
    """Between two points, from `tail` to `tip` alone where it is one-way."""

    index: int
    tail: int
    tip: int
    linear: float
    square: float
    one_way: bool


@dataclass
class Mouth:
    """Out of `node`, to ambient pressure, outward alone."""

    kind: str
    index: int
    line: int
    node: int
    linear: float
    square: float


def passed(linear: float, square: float, drop: float) -> float:
    """Q of `drop = a Q + k Q²`, drop not below zero."""
    return 2.0 * drop / (linear + sqrt(linear * linear + 4.0 * square * drop))


@dataclass
class Pool:
    """Points that open lines join: which of them a source reaches, and the tree that joins those."""

    nodes: list[int]
    sources: list[Source]
    lines: list[Line]
    mouths: list[Mouth]
    reached: set[int] = field(default_factory=set)
    root: int = -1
    children: dict[int, list[tuple[int, Line]]] = field(default_factory=dict)
    above: dict[int, tuple[int, Line]] = field(default_factory=dict)
    order: list[int] = field(default_factory=list)
    looped: bool = False

    def __post_init__(self) -> None:
        """Find what is reached, and span it."""
        reached = {s.node for s in self.sources if not s.dry}
        while True:
            more = {line.tip for line in self.lines if line.tail in reached}
            more |= {line.tail for line in self.lines if line.tip in reached and not line.one_way}
            if more <= reached:
                break
            reached |= more
        self.reached = reached
        if not reached:
            return
        self.root = max(reached, key=lambda n: (sum(s.node == n for s in self.sources), -n))
        self.order = [self.root]
        used = set()
        for node in self.order:
            self.children[node] = []
            for line in self.lines:
                if line.index in used or node not in (line.tail, line.tip):
                    continue
                other = line.tip if line.tail == node else line.tail
                if other not in reached:
                    continue
                used.add(line.index)
                if other in self.above or other == self.root:
                    self.looped = True
                    continue
                self.above[other] = (node, line)
                self.children[node].append((other, line))
                self.order.append(other)

    def sources_at(self, node: int) -> list[Source]:
        """Sources of one point."""
        return [s for s in self.sources if s.node == node]

    def mouths_at(self, node: int) -> list[Mouth]:
        """Ways out of one point."""
        return [m for m in self.mouths if m.node == node]


class Balance:
    """One pool at one time: heads by source, demand by node (t/h), and how thick the fuel is."""

    def __init__(self, pool: Pool, heads: dict[int, float], demand: list[float], thick: float) -> None:
        self.pool = pool
        self.thick = thick
        self.demand = demand
        self.at = {
            node: (
                [(heads[s.index], s.linear * thick, s.square, s) for s in pool.sources_at(node)],
                [(m.linear * thick, m.square) for m in pool.mouths_at(node)],
            )
            for node in pool.order
        }
        self.top = max(heads[s.index] for s in pool.sources if not s.dry)
        self.bar: dict[int, float] = {}

    def through(self, line: Line, tail_bar: float, tip_bar: float) -> float:
        """Flow of a line."""
        drop = tail_bar - tip_bar
        if drop >= 0.0:
            return passed(line.linear * self.thick, line.square, drop)
        return 0.0 if line.one_way else -passed(line.linear * self.thick, line.square, -drop)

    def through_source(self, source: Source, drop: float) -> float:
        """Flow of a source for what is left of its head."""
        linear = source.linear * self.thick
        if drop >= 0.0:
            return 0.0 if source.dry else passed(linear, source.square, drop)
        return -passed(linear, source.square, -drop) if source.two_way else 0.0

    def out_of(self, mouth: Mouth, bar: float) -> float:
        """Flow of a way out."""
        return passed(mouth.linear * self.thick, mouth.square, max(bar, 0.0))

    def spare(self, node: int, bar: float) -> float:
        """What comes to a point beyond what leaves it, but for the line towards the root."""
        pushes, leaks = self.at[node]
        total = -self.demand[node]
        for head, linear, square, source in pushes:
            if head > bar:
                total += 0.0 if source.dry else passed(linear, square, head - bar)
            elif source.two_way:
                total -= passed(linear, square, bar - head)
        if bar > 0.0:
            for linear, square in leaks:
                total -= passed(linear, square, bar)
        for child, line in self.pool.children[node]:
            total += self._given(child, line, bar)
        return total

    def _given(self, child: int, line: Line, bar: float) -> float:
        pushes, leaks = self.at[child]
        if not pushes and not leaks and not self.pool.children[child]:
            # Nothing but a demand: it takes just that, and stands where the line's loss puts it.
            drawn = self.demand[child]
            loss = (line.linear * self.thick + line.square * drawn) * drawn
            self.bar[child] = bar - loss
            return -drawn
        inward = line.tip == child

        def flow(own: float) -> float:
            return self.through(line, own, bar) if not inward else -self.through(line, bar, own)

        own = _fall(lambda own: self.spare(child, own) - flow(own), max(self.top, bar))
        self.bar[child] = own
        return flow(own)

    def solve(self) -> dict[int, float]:
        """Pressure of every reached point."""
        pool = self.pool
        if pool.looped:
            return self._relax()
        self.bar[pool.root] = bar = _fall(lambda bar: self.spare(pool.root, bar), self.top)
        self.spare(pool.root, bar)
        return self.bar

    def _relax(self) -> dict[int, float]:
        """Points in a ring: one after the other, again and again."""
        bars = dict.fromkeys(self.pool.order, self.top)
        for _ in range(3000):
            moved = 0.0
            for node in self.pool.order:
                near = [line for line in self.pool.lines if node in (line.tail, line.tip)]

                def left(bar: float, node: int = node, near: list[Line] = near) -> float:
                    total = -self.demand[node]
                    pushes, leaks = self.at[node]
                    for head, linear, square, source in pushes:
                        if head > bar:
                            total += 0.0 if source.dry else passed(linear, square, head - bar)
                        elif source.two_way:
                            total -= passed(linear, square, bar - head)
                    for linear, square in leaks:
                        total -= passed(linear, square, max(bar, 0.0))
                    for line in near:
                        other = line.tip if line.tail == node else line.tail
                        if other in bars:
                            total += (
                                -self.through(line, bar, bars[other])
                                if line.tail == node
                                else self.through(line, bars[other], bar)
                            )
                    return total

                found = _fall(left, self.top)
                moved = max(moved, abs(found - bars[node]))
                bars[node] = found
            if moved < 1e-13:
                break
        self.bar = bars
        return bars


def _fall(function: Callable[[float], float], high: float) -> float:
    """Highest zero of a falling function, not above `high`."""
    if function(high) >= 0.0:
        return high
    step, low = 0.25, high - 0.25
    while function(low) < 0.0:
        step *= 4.0
        low -= step
        if low < FLOOR_BAR:
            raise ArithmeticError("oracle: a demand that nothing meets")
    return float(brentq(function, low, high, xtol=1e-14, rtol=1e-14, maxiter=300))

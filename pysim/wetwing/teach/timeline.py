"""When a condition is true in a flight: exactly, because between two keyframes every quantity is linear.

The flight is cut wherever a keyframe or a change stands, and each cut again where two compared lines cross.
Inside such a piece nothing can change its truth, so one look at the middle decides it. A condition that fails
for an isolated instant alone (two lines that touch) counts as true there.

A comparison with a figure that no instrument shows is neither true nor false: it is open. So is what hangs on
it: `or` with something true is true all the same, and `and` with something false is false.
"""

from bisect import bisect_right
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from wetwing.aircraft.condition import All, Any, Compare, Condition, Is, Node, Not
from wetwing.flight.record import Flight, Moment
from wetwing.teach.blank import BLANK, ever_silent, may_be_blank, quantity_is_blank

NOTHING = float("nan")
READS = "reads"

StateOf = Callable[[str], str]
ValueOf = Callable[[str], float]


@dataclass(frozen=True, slots=True)
class Piece:
    """An open interval of the flight in which a condition is true, or false, or open, throughout."""

    start_s: float
    end_s: float
    holds: bool | None


class Timeline:
    """One flight, arranged for questions about any time of it."""

    def __init__(self, flight: Flight) -> None:
        self.flight = flight
        self._cuts = sorted({*flight.time_s, *(change.time_s for change in flight.changes)})
        self._silent = ever_silent(flight)

    def line(self, name: str, start_s: float, end_s: float) -> tuple[float, float]:
        """A quantity just after `start_s` and just before `end_s`, between which no keyframe may stand."""
        column = self.flight.quantities[name]
        times = self.flight.time_s
        right = bisect_right(times, start_s)
        left = right - 1
        if right >= len(times):
            return column[left], column[left]
        width = times[right] - times[left]

        def at(time_s: float) -> float:
            return column[left] + (column[right] - column[left]) * (time_s - times[left]) / width

        return at(start_s), at(end_s)

    def holds(self, condition: Condition, time_s: float) -> bool:
        """Tell whether a condition is true after every change at `time_s`."""
        return self.truth(condition, time_s) is True

    def truth(self, condition: Condition, time_s: float) -> bool | None:
        """Whether a condition is true after every change at `time_s`; None where that is open."""
        moment = self.flight.moment(time_s)

        def value(name: str) -> float:
            return NOTHING if self.is_blank(name, time_s) else moment.quantity(name)

        return _true(condition.node, self._state_of(moment), value)

    def is_blank(self, quantity: str, time_s: float) -> bool:
        """Whether an instrument shows nothing of a quantity after every change at `time_s`."""
        if not self._silent or not may_be_blank(quantity):
            return False
        return quantity_is_blank(self.flight.aircraft, self.flight.moment(time_s), quantity)

    def first_blank(self, quantity: str, start_s: float, end_s: float) -> float | None:
        """The first time between two, from the first on, at which nothing is shown of a quantity, or None."""
        times = [start_s, *(cut for cut in self._cuts if start_s < cut < end_s)]
        return next((time_s for time_s in times if self.is_blank(quantity, time_s)), None)

    def _state_of(self, moment: Moment) -> StateOf:
        def state(name: str) -> str:
            if may_be_blank(name):
                return BLANK if self.is_blank(name, moment.time_s) else READS
            return moment.state(name)

        return state

    def pieces(self, condition: Condition, start_s: float, end_s: float) -> Iterator[Piece]:
        """Every piece of the condition's truth between two times, in order, none of zero length."""
        for low, high in self._intervals(start_s, end_s):
            edges = [low, *self._crossings(condition, low, high), high]
            for left, right in pairwise(edges):
                if right > left:
                    yield Piece(left, right, self._true_inside(condition, low, high, left, right))

    def first_true(self, condition: Condition, start_s: float) -> float | None:
        """The first time from `start_s` on at which the condition is true, or None."""
        end_s = self.flight.duration_s
        if self.holds(condition, start_s):
            return start_s
        for piece in self.pieces(condition, start_s, end_s):
            if piece.holds:
                # Where `<` begins to be true at the crossing itself it is not yet: a millisecond later it is.
                return (
                    piece.start_s
                    if self.holds(condition, piece.start_s)
                    else min(piece.start_s + 0.001, piece.end_s)
                )
        return end_s if self.holds(condition, end_s) else None

    def _intervals(self, start_s: float, end_s: float) -> Iterator[tuple[float, float]]:
        inside = [cut for cut in self._cuts if start_s < cut < end_s]
        edges = [start_s, *inside, end_s]
        yield from ((low, high) for low, high in pairwise(edges) if high > low)

    def _crossings(self, condition: Condition, low: float, high: float) -> list[float]:
        found: set[float] = set()
        for leaf in condition.leaves():
            if isinstance(leaf, Compare):
                left, right = self.line(leaf.left, low, high), self._right(leaf, low, high)
                at_low, at_high = left[0] - right[0], left[1] - right[1]
                if at_low * at_high < 0.0:
                    found.add(low + (high - low) * at_low / (at_low - at_high))
        return sorted(found)

    def _right(self, leaf: Compare, low: float, high: float) -> tuple[float, float]:
        if not isinstance(leaf.right, str):
            return leaf.right, leaf.right
        start, end = self.line(leaf.right, low, high)
        return start + leaf.beyond, end + leaf.beyond

    def _true_inside(
        self, condition: Condition, low: float, high: float, left: float, right: float
    ) -> bool | None:
        middle = left + (right - left) / 2.0
        share = (middle - low) / (high - low)

        def value(name: str) -> float:
            if self.is_blank(name, middle):
                return NOTHING
            start, end = self.line(name, low, high)
            return start + (end - start) * share

        return _true(condition.node, self._state_of(self.flight.moment(middle)), value)


def _true(node: Node, state: StateOf, value: ValueOf) -> bool | None:
    match node:
        case Is(part, wanted, negated):
            return (state(part) == wanted) != negated
        case Compare():
            return _compares(node, value)
        case Not(inner):
            truth = _true(inner, state, value)
            return None if truth is None else not truth
        case All(inner) | Any(inner):
            decisive = isinstance(node, Any)
            is_open = False
            for child in inner:
                truth = _true(child, state, value)
                if truth is decisive:
                    return decisive
                is_open = is_open or truth is None
            return None if is_open else not decisive


def _compares(leaf: Compare, value: ValueOf) -> bool | None:
    left = value(leaf.left)
    right = value(leaf.right) + leaf.beyond if isinstance(leaf.right, str) else leaf.right
    if left != left or right != right:
        return None
    match leaf.op:
        case "<":
            return left < right
        case "<=":
            return left <= right
        case ">":
            return left > right
        case _:
            return left >= right

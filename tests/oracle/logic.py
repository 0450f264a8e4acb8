"""Conditions read anew from their trees: what holds, and which comparisons could still turn it."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from tests.oracle.equations import Now
from tests.oracle.readings import Read, Readings, Vector
from wetwing.aircraft.condition import All, Any, Compare, Condition, Is, Node, Not


@dataclass
class Question:
    """A condition, with what its quantities were when its rule became active."""

    condition: Condition
    since: dict[str, float] = field(default_factory=dict)


class Conditions:
    """Asks conditions about the states and readings of one flight."""

    def __init__(self, readings: Readings) -> None:
        self.readings = readings
        self.seen = readings.seen

    def margin(self, leaf: Compare, question: Question) -> Read:
        """How far a comparison is from turning; above zero (or at it, unless strict) where it holds."""
        left = self.readings.quantity(leaf.left)
        sign = 1.0 if leaf.op[0] == ">" else -1.0
        base = question.since.get(leaf.left, 0.0) if leaf.change else 0.0
        turn = -1.0 if leaf.change == "fallen" else 1.0
        if isinstance(leaf.right, str):
            right = self.readings.quantity(leaf.right)
            gap = leaf.by
            return lambda t, y, now: sign * (turn * (left(t, y, now) - base) - right(t, y, now)) - gap
        number = leaf.right
        return lambda t, y, now: sign * (turn * (left(t, y, now) - base) - number)

    def holds(self, question: Question, t: float, y: Vector, now: Now) -> bool:
        """Whether a condition holds."""
        return self._holds(question.condition.node, question, t, y, now)

    def _holds(self, node: Node, question: Question, t: float, y: Vector, now: Now) -> bool:
        if isinstance(node, Is):
            return (self.seen.states[node.part] == node.state) is not node.negated
        if isinstance(node, Compare):
            margin = self.margin(node, question)(t, y, now)
            return margin >= 0.0 if "=" in node.op else margin > 0.0
        if isinstance(node, Not):
            return not self._holds(node.inner, question, t, y, now)
        found = [self._holds(child, question, t, y, now) for child in node.inner]
        return all(found) if isinstance(node, All) else any(found)

    def open(self, question: Question) -> Iterator[Compare]:
        """Comparisons that matter while every part keeps its state."""
        if self._known(question.condition.node) is None:
            yield from self._open(question.condition.node)

    def _known(self, node: Node) -> bool | None:
        """Whether states alone decide, and how."""
        if isinstance(node, Is):
            return (self.seen.states[node.part] == node.state) is not node.negated
        if isinstance(node, Compare):
            return None
        if isinstance(node, Not):
            inner = self._known(node.inner)
            return None if inner is None else not inner
        known = [self._known(child) for child in node.inner]
        decisive = isinstance(node, Any)
        if decisive in known:
            return decisive
        return None if None in known else not decisive

    def _open(self, node: Node) -> Iterator[Compare]:
        if isinstance(node, Compare):
            yield node
        elif isinstance(node, Not):
            yield from self._open(node.inner)
        elif isinstance(node, All | Any):
            for child in node.inner:
                if self._known(child) is None:
                    yield from self._open(child)

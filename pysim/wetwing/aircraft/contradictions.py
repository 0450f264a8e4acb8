"""Conditions that cannot do what they say: one that can never hold, and an end that holds at every start.

Only what is certain is refused: comparisons of one quantity with numbers (or of the same two quantities), and
states of one part.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

from wetwing.aircraft.condition import All, Any, Compare, Condition, Is, Node, Not
from wetwing.aircraft.mistakes import Mistake

Key = tuple[str, str | None, str]


@dataclass(frozen=True, slots=True)
class Span:
    """The values that a comparison allows; an end that is `shut` is itself allowed."""

    least: float = -inf
    most: float = inf
    least_shut: bool = False
    most_shut: bool = False

    def both(self, other: "Span") -> "Span":
        """What both allow."""
        low = max((self.least, not self.least_shut), (other.least, not other.least_shut))
        high = min((self.most, self.most_shut), (other.most, other.most_shut))
        return Span(low[0], high[0], not low[1], high[1])

    def empty(self) -> bool:
        """Whether no value is allowed."""
        return self.least > self.most or (
            self.least == self.most and not (self.least_shut and self.most_shut)
        )


def _span(leaf: Compare) -> tuple[Key, Span]:
    # Two quantities are compared by their difference, whose threshold is the margin, or nothing.
    other = leaf.right if isinstance(leaf.right, str) else ""
    value = leaf.beyond if isinstance(leaf.right, str) else leaf.right
    shut = leaf.op in ("<=", ">=")
    span = Span(most=value, most_shut=shut) if leaf.op[0] == "<" else Span(least=value, least_shut=shut)
    return (leaf.left, leaf.change, other), span


def check_can_hold(condition: Condition, place: str) -> None:
    """Raise Mistake where two parts of one `and` exclude each other."""
    for terms in _conjunctions(condition.node):
        spans: dict[Key, tuple[Span, str]] = {}
        states: dict[str, Is] = {}
        for leaf in terms:
            if isinstance(leaf, Compare):
                key, span = _span(leaf)
                before, said = spans.get(key, (Span(), ""))
                now = before.both(span)
                if now.empty():
                    raise _never(place, said, written(leaf))
                spans[key] = (now, written(leaf) if now != before else said)
            elif isinstance(leaf, Is):
                if leaf.part in states and _excludes(states[leaf.part], leaf):
                    raise _never(place, written(states[leaf.part]), written(leaf))
                if leaf.part not in states or not leaf.negated:
                    states[leaf.part] = leaf


def _never(place: str, one: str, other: str) -> Mistake:
    return Mistake(
        place, f"it can never hold: '{one}' and '{other}' exclude each other", "terms that can hold together"
    )


def check_ends(starts: Condition, ends: Condition, place: str) -> None:
    """Raise Mistake where a rule's end holds whenever its start does, or both can hold in one quantity."""
    overlap = False
    if isinstance(starts.node, Compare) and isinstance(ends.node, Compare):
        (key, one), (other, two) = _span(starts.node), _span(ends.node)
        overlap = key == other and not one.both(two).empty()
    if overlap or _implies(starts.node, ends.node):
        when = "can hold while starts does" if overlap else "holds whenever starts does"
        raise Mistake(
            place,
            f"it {when}: starts '{starts.text}', ends '{ends.text}'",
            "an end that is false when the rule starts",
        )


def _conjunctions(node: Node) -> Iterator[list[Node]]:
    # Brackets within one `and` say nothing new; what stands under `or` or `not` is looked at by itself.
    match node:
        case All(inner):
            terms: list[Node] = []
            waiting = list(inner)
            while waiting:
                term = waiting.pop(0)
                if isinstance(term, All):
                    waiting = [*term.inner, *waiting]
                else:
                    terms.append(term)
            yield terms
            for term in terms:
                yield from _conjunctions(term)
        case Any(inner):
            for child in inner:
                yield from _conjunctions(child)
        case Not(inner):
            yield from _conjunctions(inner)
        case _:
            return


def _excludes(one: Is, other: Is) -> bool:
    same = one.state == other.state
    if one.negated and other.negated:
        return False
    return same if one.negated != other.negated else not same


def _implies(one: Node, other: Node) -> bool:
    if one == other:
        return True
    if isinstance(one, Any):
        return all(_implies(child, other) for child in one.inner)
    if isinstance(other, All):
        return all(_implies(one, child) for child in other.inner)
    if isinstance(one, All) and any(_implies(child, other) for child in one.inner):
        return True
    if isinstance(other, Any):
        return any(_implies(one, child) for child in other.inner)
    if isinstance(one, Compare) and isinstance(other, Compare):
        (key, span), (key_of_other, wider) = _span(one), _span(other)
        return key == key_of_other and span.both(wider) == span
    if isinstance(one, Is) and isinstance(other, Is) and one.part == other.part and other.negated:
        return not one.negated and one.state != other.state
    return False


def written(leaf: Node) -> str:
    """A comparison as people write it."""
    if isinstance(leaf, Is):
        state = f'"{leaf.state}"' if " " in leaf.state else leaf.state
        return f"{leaf.part} is {'not ' if leaf.negated else ''}{state}"
    assert isinstance(leaf, Compare)
    left = f"{leaf.change}({leaf.left})" if leaf.change else leaf.left
    right = leaf.right if isinstance(leaf.right, str) else f"{leaf.right:g} {leaf.unit}".rstrip()
    margin = f" by {leaf.by:g} {leaf.unit}".rstrip() if leaf.by else ""
    return f"{left} {leaf.op} {right}{margin}"

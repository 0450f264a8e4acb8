"""The condition language of rules: parsed into a small tree, checked against known names, never evaluated as
code.

    centre-feed is automatic and (main-left.gauged_kg <= 900 kg or main-right.gauged_kg <= 900 kg)
    main-left-aft is not "running, held back"
    fallen(main-right.gauged_kg) >= 430 kg          since the rule last became active
    total.gauged_kg < preselect.value_kg            two quantities of one unit
    total.gauged_kg < preselect.value_kg by 200 kg  and a margin between them

A state of several words stands in quotes. A number always carries its unit.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from wetwing.aircraft.mistakes import Mistake, unknown

UNITS = {
    "kg": "kg",
    "kg_h": "kg/h",
    "l": "L",
    "bar": "bar",
    "kn_m": "kN·m",
    "c": "°C",
    "deg": "°",
    "ft": "ft",
    "s": "s",
    "percent": "%",
    "mach": "",
    "share": "",
}
"""The unit that belongs to each ending of a quantity's name."""

_TOKEN = re.compile(
    r"""\s*(?:
      (?P<number>[-+]?\d[\d,]*(?:\.\d+)?)
    | (?P<quoted>"[^"]*")
    | (?P<op><=|>=|<|>|[()])
    | (?P<unit>°C|°|%|kN·m)
    | (?P<word>[A-Za-z][A-Za-z0-9-]*(?:\.[a-z][a-z0-9_]*)?)
    | (?P<slash>/)
    | (?P<bad>\S)
    )""",
    re.VERBOSE,
)


@dataclass(frozen=True, slots=True)
class Is:
    """`part is state` or, negated, `part is not state`."""

    part: str
    state: str
    negated: bool = False


@dataclass(frozen=True, slots=True)
class Compare:
    """`left op right`, where right is a number in `unit` or a second quantity, and `change` may be fallen or
    risen. `by` is the margin between two quantities, in `unit`.
    """

    left: str
    op: str
    right: float | str
    unit: str
    change: str | None = None
    by: float = 0.0

    @property
    def beyond(self) -> float:
        """What is added to `right` before it is compared: the margin, by the way that `op` looks."""
        return -self.by if self.op[0] == "<" else self.by


@dataclass(frozen=True, slots=True)
class Not:
    """The opposite of `inner`."""

    inner: "Node"


@dataclass(frozen=True, slots=True)
class All:
    """True when every one of `inner` is."""

    inner: tuple["Node", ...]


@dataclass(frozen=True, slots=True)
class Any:
    """True when at least one of `inner` is."""

    inner: tuple["Node", ...]


Node = Is | Compare | Not | All | Any
Leaf = Is | Compare


@dataclass(frozen=True, slots=True)
class Condition:
    """A parsed condition with the text that it came from."""

    text: str
    node: Node

    def leaves(self) -> Iterator[Leaf]:
        """Every comparison in the order of the text."""
        yield from _leaves(self.node)


def _leaves(node: Node) -> Iterator[Leaf]:
    match node:
        case Is() | Compare():
            yield node
        case Not(inner):
            yield from _leaves(inner)
        case All(inner) | Any(inner):
            for child in inner:
                yield from _leaves(child)


def parse(text: str, place: str) -> Condition:
    """Parse `text`; `place` names it in errors. Raises Mistake."""
    shown = " ".join(text.split())
    parser = _Parser(shown, place)
    node = parser.any_of()
    parser.finish()
    return Condition(shown, node)


class _Parser:
    def __init__(self, text: str, place: str) -> None:
        self.place = place
        self.text = text
        self.tokens: list[tuple[str, str, int]] = []
        for found in _TOKEN.finditer(text):
            kind = found.lastgroup
            if kind is None:
                continue
            if kind == "bad":
                raise Mistake(
                    place,
                    f"cannot read '{found.group(kind)}' in \"{text}\" at character {found.start(kind) + 1}",
                )
            self.tokens.append((kind, found.group(kind), found.start(kind)))
        self.at = 0
        self.depth = 0

    def fail(self, wanted: str) -> Mistake:
        if self.at < len(self.tokens):
            _, found, start = self.tokens[self.at]
            return Mistake(self.place, f"found '{found}' at character {start + 1} of \"{self.text}\"", wanted)
        return Mistake(self.place, f'"{self.text}" ends too soon', wanted)

    def peek(self) -> str:
        return self.tokens[self.at][1] if self.at < len(self.tokens) else ""

    def kind(self) -> str:
        return self.tokens[self.at][0] if self.at < len(self.tokens) else ""

    def take(self) -> str:
        token = self.tokens[self.at][1]
        self.at += 1
        return token

    def finish(self) -> None:
        if self.at < len(self.tokens):
            raise self.fail("'and', 'or' or the end")

    def any_of(self) -> Node:
        # Depth is bounded so that hostile text ends in a message, not in an exhausted stack.
        self.depth += 1
        if self.depth > 40:
            raise Mistake(self.place, "brackets nested too deeply", "at most 40 levels")
        parts = [self.all_of()]
        while self.peek() == "or":
            self.take()
            parts.append(self.all_of())
        self.depth -= 1
        return parts[0] if len(parts) == 1 else Any(tuple(parts))

    def all_of(self) -> Node:
        parts = [self.one()]
        while self.peek() == "and":
            self.take()
            parts.append(self.one())
        return parts[0] if len(parts) == 1 else All(tuple(parts))

    def one(self) -> Node:
        if self.peek() == "not":
            self.take()
            self.depth += 1
            if self.depth > 40:
                raise Mistake(self.place, "'not' repeated too often", "at most 40 levels")
            inner = self.one()
            self.depth -= 1
            return Not(inner)
        if self.peek() == "(":
            self.take()
            node = self.any_of()
            if self.peek() != ")":
                raise self.fail("')'")
            self.take()
            return node
        return self.comparison()

    def comparison(self) -> Node:
        if self.kind() != "word":
            raise self.fail("a part or a quantity")
        subject = self.take()
        if subject in ("fallen", "risen") and self.peek() == "(":
            self.take()
            if self.kind() != "word":
                raise self.fail("a quantity")
            quantity = self.take()
            if self.peek() != ")":
                raise self.fail("')'")
            self.take()
            return self.numeric(quantity, subject)
        if self.peek() == "is":
            self.take()
            negated = False
            if self.peek() == "not":
                self.take()
                negated = True
            if self.kind() == "quoted":
                return Is(subject, self.take()[1:-1], negated)
            if self.kind() in ("word", "number"):
                return Is(subject, self.take(), negated)
            raise self.fail("a state")
        return self.numeric(subject, None)

    def numeric(self, quantity: str, change: str | None) -> Compare:
        if self.peek() not in ("<", "<=", ">", ">="):
            raise self.fail("'is', '<', '<=', '>' or '>='")
        op = self.take()
        if self.kind() == "number":
            number = float(self.take().replace(",", ""))
            return Compare(quantity, op, number, self.unit(), change)
        if self.kind() == "word":
            right = self.take()
            if self.peek() != "by":
                return Compare(quantity, op, right, "", change)
            self.take()
            if self.kind() != "number":
                raise self.fail("a margin above zero with its unit")
            margin = float(self.take().replace(",", ""))
            if margin <= 0.0:
                self.at -= 1
                raise self.fail("a margin above zero with its unit")
            return Compare(quantity, op, right, self.unit(), change, margin)
        raise self.fail("a number with its unit, or a quantity")

    def unit(self) -> str:
        if self.kind() == "unit":
            return self.take()
        if self.kind() == "word" and self.peek() not in ("and", "or", "at", "from"):
            unit = self.take()
            if self.kind() == "slash":
                self.take()
                unit += "/" + (self.take() if self.kind() == "word" else "")
            return unit
        return ""


def unit_of(quantity: str) -> str | None:
    """The unit of a quantity by the ending of its name, or None where the ending is none of `UNITS`."""
    attribute = quantity.rpartition(".")[2]
    for ending in sorted(UNITS, key=len, reverse=True):
        if attribute == ending or attribute.endswith("_" + ending):
            return UNITS[ending]
    return "" if attribute == "fill" else None


def check(
    condition: Condition, place: str, states: Mapping[str, tuple[str, ...]], quantities: Mapping[str, str]
) -> None:
    """Check every name, state and unit. `states` maps a part to its states (empty: any), `quantities` a
    quantity to its unit.
    """
    for leaf in condition.leaves():
        if isinstance(leaf, Is):
            if leaf.part not in states:
                raise unknown(place, "part", leaf.part, states)
            allowed = states[leaf.part]
            if allowed and leaf.state not in allowed:
                raise unknown(place, f"state of {leaf.part}", leaf.state, allowed)
            continue
        if leaf.left not in quantities:
            raise unknown(place, "quantity", leaf.left, quantities)
        unit = quantities[leaf.left]
        if isinstance(leaf.right, str):
            if leaf.right not in quantities:
                raise unknown(place, "quantity", leaf.right, quantities)
            if quantities[leaf.right] != unit:
                raise Mistake(
                    place,
                    f"{leaf.left} is in {unit}, {leaf.right} in {quantities[leaf.right]}",
                    "two quantities of one unit",
                )
            if leaf.by and leaf.unit != unit:
                found = f"unit '{leaf.unit}'" if leaf.unit else f"{leaf.by:g} with no unit"
                raise Mistake(place, f"{found} for a margin of {leaf.left}", unit or "no unit")
        elif leaf.unit != unit:
            found = f"unit '{leaf.unit}'" if leaf.unit else f"{leaf.right:g} with no unit"
            raise Mistake(place, f"{found} for {leaf.left}", unit or "no unit")

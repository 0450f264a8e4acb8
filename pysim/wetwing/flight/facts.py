"""What conditions see: compiled readers of states and quantities, and which of them can still turn a
condition.

A compiled test is a tree of closures over the flight's lists. Nothing is evaluated as code.
"""

from collections.abc import Callable
from dataclasses import dataclass

from wetwing.aircraft.condition import All, Any, Compare, Condition, Is, Node, Not
from wetwing.aircraft.model import Aircraft
from wetwing.flight.plant import Flows, Plant
from wetwing.flight.readers import Reader, read_quantity

Holds = Callable[[float, list[float], Flows], bool]


@dataclass(slots=True)
class Watch:
    """A quantity against a threshold: true where the margin is above zero, or at it unless `strict`."""

    margin: Reader
    strict: bool
    needs_flows: bool

    def true(self, time_s: float, state: list[float], flows: Flows) -> bool:
        """Whether it holds."""
        margin = self.margin(time_s, state, flows)
        return margin > 0.0 if self.strict else margin >= 0.0


@dataclass(slots=True)
class Test:
    """A compiled condition."""

    condition: Condition
    holds: Holds
    watches: dict[Compare, Watch]
    parts: frozenset[int]


class Facts:
    """Readers over one flight's discrete states (`states`, by part index) and continuous state."""

    def __init__(self, aircraft: Aircraft, plant: Plant, states: list[str], index: dict[str, int]) -> None:
        self.aircraft = aircraft
        self.plant = plant
        self.states = states
        self.index = index
        self.values: dict[str, float] = {}
        self.departure_kg = 0.0
        self.departure_metered_kg = 0.0
        self.departure_discharged_kg = 0.0
        self.departed = False
        self.readers: dict[str, tuple[Reader, bool]] = {}

    def depart(self, time_s: float, state: list[float]) -> None:
        """The first engine starts: what is computed from here on counts from what is gauged now."""
        plant = self.plant
        gauged_kg = plant.gauging.total_kg(time_s, state, plant.posture)
        self.departure_kg = gauged_kg if gauged_kg == gauged_kg else sum(state[: plant.tanks])
        self.departure_metered_kg = state[plant.metered_at]
        self.departure_discharged_kg = state[plant.discharged_at]
        self.departed = True

    def reader(self, quantity: str) -> tuple[Reader, bool]:
        """A quantity's reader, and whether it needs the flows. Raises KeyError for an unknown quantity."""
        found = self.readers.get(quantity)
        if found is None:
            found = self.readers[quantity] = self._reader(quantity)
        return found

    def _reader(self, quantity: str) -> tuple[Reader, bool]:
        return read_quantity(self, quantity)

    def watch(self, leaf: Compare, baseline: dict[str, float]) -> Watch:
        """A comparison's watch; `baseline` holds what a quantity was when its rule became active."""
        left, needs = self.reader(leaf.left)
        if leaf.change:
            name, value, falls = leaf.left, left, leaf.change == "fallen"

            def left(t: float, y: list[float], f: Flows) -> float:
                moved = value(t, y, f) - baseline.get(name, 0.0)
                return -moved if falls else moved

        if not isinstance(leaf.right, str):
            number = leaf.right
            if leaf.op in (">", ">="):
                return Watch(lambda t, y, f: left(t, y, f) - number, leaf.op == ">", needs)
            return Watch(lambda t, y, f: number - left(t, y, f), leaf.op == "<", needs)
        right, right_needs = self.reader(leaf.right)
        needs, by = needs or right_needs, leaf.by
        if leaf.op in (">", ">="):
            return Watch(lambda t, y, f: left(t, y, f) - right(t, y, f) - by, leaf.op == ">", needs)
        return Watch(lambda t, y, f: right(t, y, f) - left(t, y, f) - by, leaf.op == "<", needs)

    def test(self, condition: Condition, baseline: dict[str, float] | None = None) -> Test:
        """Compile a condition."""
        watches: dict[Compare, Watch] = {}
        parts: set[int] = set()
        holds = self._compile(condition.node, {} if baseline is None else baseline, watches, parts)
        return Test(condition, holds, watches, frozenset(parts))

    def _compile(
        self, node: Node, baseline: dict[str, float], watches: dict[Compare, Watch], parts: set[int]
    ) -> Holds:
        match node:
            case Is(part, state, negated):
                states, at = self.states, self.index[part]
                parts.add(at)
                if negated:
                    return lambda t, y, f: states[at] != state
                return lambda t, y, f: states[at] == state
            case Compare():
                if node not in watches:
                    watches[node] = self.watch(node, baseline)
                return watches[node].true
            case Not(inner):
                holds = self._compile(inner, baseline, watches, parts)
                return lambda t, y, f: not holds(t, y, f)
            case All(inner):
                every = [self._compile(child, baseline, watches, parts) for child in inner]

                def all_hold(t: float, y: list[float], f: Flows) -> bool:
                    # A loop: this is asked tens of thousands of times a flight, and a generator takes longer.
                    for one in every:  # noqa: SIM110
                        if not one(t, y, f):
                            return False
                    return True

                return all_hold
            case Any(inner):
                some = [self._compile(child, baseline, watches, parts) for child in inner]

                def any_holds(t: float, y: list[float], f: Flows) -> bool:
                    for one in some:  # noqa: SIM110
                        if one(t, y, f):
                            return True
                    return False

                return any_holds

    def open_watches(self, test: Test) -> list[Watch]:
        """The comparisons that could still turn a condition while every part keeps its state."""
        if not test.watches:
            return []
        settled, leaves = self._undecided(test.condition.node)
        return [] if settled is not None else [test.watches[leaf] for leaf in leaves]

    def _undecided(self, node: Node) -> tuple[bool | None, list[Compare]]:
        match node:
            case Is(part, state, negated):
                return (self.states[self.index[part]] == state) != negated, []
            case Compare():
                return None, [node]
            case Not(inner):
                settled, leaves = self._undecided(inner)
                return (None if settled is None else not settled), leaves
            case All(inner) | Any(inner):
                decisive = isinstance(node, Any)
                found: list[Compare] = []
                open_ = False
                for child in inner:
                    settled, leaves = self._undecided(child)
                    if settled is decisive:
                        return decisive, []
                    open_ = open_ or settled is None
                    found += leaves
                return (None if open_ else not decisive), found

    def deciding(self, test: Test, truth: bool, t: float, y: list[float], f: Flows) -> list[Is | Compare]:
        """The comparisons that make a condition true, or false, as it now is."""
        return self._deciding(test, test.condition.node, truth, t, y, f)

    def _deciding(
        self, test: Test, node: Node, truth: bool, t: float, y: list[float], f: Flows
    ) -> list[Is | Compare]:
        match node:
            case Is(part, state, negated):
                held = (self.states[self.index[part]] == state) != negated
                return [node] if held is truth else []
            case Compare():
                return [node] if test.watches[node].true(t, y, f) is truth else []
            case Not(inner):
                return self._deciding(test, inner, not truth, t, y, f)
            case All(inner) | Any(inner):
                each = [self._deciding(test, child, truth, t, y, f) for child in inner]
                needs_all = isinstance(node, All) is truth
                if needs_all and not all(each):
                    return []
                return [leaf for leaves in each for leaf in leaves]

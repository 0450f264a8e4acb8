"""What conditions see: compiled readers of states and quantities, and which of them can still turn a
condition.

A compiled test is a tree of closures over the flight's lists. Nothing is evaluated as code.
"""

from collections.abc import Callable
from dataclasses import dataclass

from wetwing.aircraft.condition import All, Any, Compare, Condition, Is, Node, Not
from wetwing.aircraft.model import Aircraft
from wetwing.flight.plant import DRY_SHARE, Flows, Plant
from wetwing.physics.air import FOOT_M, ZERO_CELSIUS_K

Reader = Callable[[float, list[float], Flows], float]
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
        self.readers: dict[str, tuple[Reader, bool]] = {}

    def reader(self, quantity: str) -> tuple[Reader, bool]:
        """A quantity's reader, and whether it needs the flows. Raises KeyError for an unknown quantity."""
        found = self.readers.get(quantity)
        if found is None:
            found = self.readers[quantity] = self._reader(quantity)
        return found

    def _reader(self, quantity: str) -> tuple[Reader, bool]:
        subject, _, attribute = quantity.partition(".")
        plant = self.plant
        if subject in plant.tank_index:
            return self._tank(plant.tank_index[subject], attribute)
        if subject == "total":
            return self._total(attribute), False
        if subject == "flight":
            return self._flight(attribute)
        if subject in plant.node_index:
            node = plant.node_index[subject]
            return lambda t, y, f: f.node_bar[node], True
        if subject in plant.user_index:
            user = plant.user_index[subject]
            if attribute == "used_kg":
                used = plant.used_at + user
                return lambda t, y, f: y[used], False
            return lambda t, y, f: f.user_kg_h[user], True
        if subject in plant.source_index:
            source = plant.source_index[subject]
            if attribute == "flow_kg_h":
                return lambda t, y, f: f.source_kg_h[source], True
            return lambda t, y, f: source_bar(plant, self.states, self.index, source, f), True
        if attribute.startswith("value_"):
            values = self.values
            return lambda t, y, f: values[subject], False
        return self._mover(subject), True

    def _tank(self, tank: int, attribute: str) -> tuple[Reader, bool]:
        plant = self.plant
        part = plant.aircraft.tanks[tank]
        if attribute == "actual_kg":
            return lambda t, y, f: y[tank], False
        if attribute == "gauged_kg":
            unusable = part.unusable_kg
            return lambda t, y, f: y[tank] - unusable if y[tank] > unusable else 0.0, False
        if attribute == "temperature_c":
            at = plant.tanks + tank
            return lambda t, y, f: y[at], False
        if attribute == "volume_l":
            return lambda t, y, f: plant.volume_l(tank, y), False
        if attribute == "fill":
            capacity = part.capacity_l
            return lambda t, y, f: plant.volume_l(tank, y) / capacity, False
        return lambda t, y, f: f.slopes[tank] * 3600.0, True

    def _total(self, attribute: str) -> Reader:
        plant = self.plant
        n = plant.tanks
        if attribute == "gauged_kg":
            unusable = [tank.unusable_kg for tank in plant.aircraft.tanks]
            return lambda t, y, f: sum(y[i] - unusable[i] if y[i] > unusable[i] else 0.0 for i in range(n))
        if attribute == "on_board_kg":
            return lambda t, y, f: sum(y[:n])
        at = {"burned_kg": plant.burned_at, "uplifted_kg": plant.uplifted_at, "vented_kg": plant.vented_at}[
            attribute
        ]
        return lambda t, y, f: y[at]

    def _flight(self, attribute: str) -> tuple[Reader, bool]:
        readers: dict[str, Reader] = {
            "altitude_ft": lambda t, y, f: f.place.altitude_m / FOOT_M,
            "mach": lambda t, y, f: f.place.mach,
            "air_temperature_c": lambda t, y, f: f.place.air_k - ZERO_CELSIUS_K,
            "skin_temperature_c": lambda t, y, f: f.place.skin_c,
            "gross_kg": lambda t, y, f: f.gross_kg,
            "time_s": lambda t, y, f: t,
        }
        return readers[attribute], attribute != "time_s"

    def _mover(self, subject: str) -> Reader:
        plant = self.plant
        lines = {part.name: i for i, part in enumerate(plant.lines)}
        if subject in lines:
            line = lines[subject]
            return lambda t, y, f: f.line_kg_h[line]
        if subject in plant.vent_index:
            vent = plant.vent_index[subject]
            return lambda t, y, f: f.vent_kg_h[vent]
        movers = {t.name: (i, "transfer") for i, (_, _, t) in enumerate(plant.transfers)}
        movers |= {r.name: (i, "return") for i, (_, _, r) in enumerate(plant.returns)}
        movers |= {j.name: (i, "jet") for i, (_, _, _, j) in enumerate(plant.jets)}
        at, kind = movers[subject]
        if kind == "transfer":
            return lambda t, y, f: f.transfer_kg_h[at]
        if kind == "return":
            return lambda t, y, f: f.return_kg_h[at]
        return lambda t, y, f: f.jet_kg_h[at]

    def watch(self, leaf: Compare, baseline: dict[str, float]) -> Watch:
        """A comparison's watch; `baseline` holds what a quantity was when its rule became active."""
        left, needs = self.reader(leaf.left)
        if leaf.change:
            name, value, falls = leaf.left, left, leaf.change == "fallen"

            def left(t: float, y: list[float], f: Flows) -> float:
                moved = value(t, y, f) - baseline.get(name, 0.0)
                return -moved if falls else moved

        if isinstance(leaf.right, str):
            right, right_needs = self.reader(leaf.right)
            needs = needs or right_needs
        else:
            number = leaf.right

            def right(t: float, y: list[float], f: Flows) -> float:
                return number

        if leaf.op in (">", ">="):
            return Watch(lambda t, y, f: left(t, y, f) - right(t, y, f), leaf.op == ">", needs)
        return Watch(lambda t, y, f: right(t, y, f) - left(t, y, f), leaf.op == "<", needs)

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
                    return all(one(t, y, f) for one in every)

                return all_hold
            case Any(inner):
                some = [self._compile(child, baseline, watches, parts) for child in inner]

                def any_holds(t: float, y: list[float], f: Flows) -> bool:
                    return any(one(t, y, f) for one in some)

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


def source_bar(plant: Plant, states: list[str], index: dict[str, int], source: int, flows: Flows) -> float:
    """Pressure that a pump, bypass or supply gives at its outlet, before its check valve, bar."""
    part = plant.sources[source]
    state = states[index[part.name]]
    if state == "dry":
        return DRY_SHARE * part.shut_off_bar
    if state in ("off", "stopped by automatics", "failed"):
        return 0.0
    flow_t_h = flows.source_kg_h[source] / 1000.0
    return part.shut_off_bar - (part.linear_bar_h_t + part.square_bar_h2_t2 * flow_t_h) * flow_t_h

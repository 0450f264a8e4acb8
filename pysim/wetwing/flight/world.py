"""The discrete side of a flight in the making: every part's state, who changed it and why."""

from dataclasses import dataclass, field

from wetwing.aircraft.condition import Compare, Is
from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft, Control, Pump, Valve
from wetwing.aircraft.names import PHASE
from wetwing.flight.clock import clock
from wetwing.flight.facts import Facts, Test
from wetwing.flight.phrases import clauses, leaf_words, rule_words
from wetwing.flight.plant import Flows, Plant
from wetwing.flight.record import Change, Command, Fact, Reason
from wetwing.flight.script import Script

NEVER = float("inf")
MOST_CHANGES_AT_ONCE = 400
MOST_TURNS_AT_ONCE = 12
"""How often one part may turn at one instant before it is refused as turning for ever."""

_ACTIVE = {"delivering", "flowing", "feeding", "spilling", "open", "moving", "passing"}


@dataclass(slots=True)
class World:
    """Where everything stands at `time_s`, and the record so far."""

    aircraft: Aircraft
    script: Script
    plant: Plant
    index: dict[str, int]
    states: list[str]
    facts: Facts
    settings: dict[str, str]
    time_s: float = 0.0
    state: list[float] = field(default_factory=list)
    flows: Flows = field(init=False)
    changes: list[Change] = field(default_factory=list)
    commands: list[Command] = field(default_factory=list)
    last: list[int] = field(default_factory=list)
    touched: set[int] = field(default_factory=set)
    feeders: list[tuple[tuple[int, ...], tuple[int, ...]]] = field(default_factory=list)
    turns: dict[int, int] = field(default_factory=dict)

    def is_in(self, part: str, *states: str) -> bool:
        """Whether a part is in one of these states."""
        return self.states[self.index[part]] in states

    def begin_instant(self) -> None:
        """Forget how often parts have turned: a new instant begins."""
        self.turns.clear()

    def forget(self) -> None:
        """Take everything as it stands for the start: what was recorded so far was only coming to rest."""
        self.changes.clear()
        self.last = [-1] * len(self.states)

    def change(self, part: str, after: str, reason: Reason) -> None:
        """Put a part into a state and record it; nothing happens where it already is in it. Raises Mistake if
        it turns for ever.
        """
        i = self.index[part]
        before = self.states[i]
        if before == after:
            return
        self.states[i] = after
        self.touched.add(i)
        turns = self.turns[i] = self.turns.get(i, 0) + 1
        if turns > MOST_TURNS_AT_ONCE:
            seen = clauses([fact.name for fact in reason.facts]) or reason.name
            kind = self.aircraft.parts[part].kind
            raise Mistake(
                f"{self.aircraft.name}, {kind} {part}",
                f"turns for ever between {before} and {after} at {clock(self.time_s, 1)} (it follows {seen})",
                "conditions that let it rest, such as an end some way from its start",
            )
        if part != PHASE:
            self.last[i] = len(self.changes)
            self.changes.append(Change(self.time_s, part, before, after, reason))

    def explain(self, test: Test, truth: bool, kind: str, name: str, lead: str = "") -> Reason:
        """The reason that a condition now is true, or false: its deciding comparisons as facts, words and
        causes.
        """
        leaves = self.facts.deciding(test, truth, self.time_s, self.state, self.flows)
        facts: list[Fact] = []
        said: list[tuple[int, str]] = []
        measured: list[str] = []
        measured_causes: list[int] = []
        causes: list[int] = []
        for leaf in leaves:
            if isinstance(leaf, Is):
                i = self.index[leaf.part]
                state = self.states[i]
                facts.append(Fact(leaf.part, state))
                newest = self.last[i]
                causes += [newest] if newest >= 0 else []
                part = self.aircraft.parts.get(leaf.part)
                if part is not None and part.kind == "rule":
                    said.append((newest, rule_words(part.label, state == "active", newest >= 0)))
                else:
                    said.append((newest, leaf_words(leaf, truth, self.aircraft, state, 0.0)))
            else:
                found = self._compared(leaf)
                facts += found[0]
                causes += found[2]
                measured.append(leaf_words(leaf, truth, self.aircraft, "", found[1]))
                measured_causes += found[2]
        # What turned last decided; the rest was already so. Where no part has turned at this instant, a
        # quantity has come to its threshold.
        turned = [newest for newest, _ in said if newest >= 0 and self.changes[newest].time_s == self.time_s]
        reached = bool(measured) and not turned
        newest_first = sorted(set(causes), reverse=True)
        if reached and measured_causes:
            first = max(measured_causes)
            newest_first = [first, *(cause for cause in newest_first if cause != first)]
        of_part = "." in name
        if (
            of_part
            and newest_first
            and self.aircraft.parts[self.changes[newest_first[0]].part].kind == "rule"
        ):
            name = self.changes[newest_first[0]].part
        # A part follows what turned last. A rule also needs what was already so: the newest of that.
        causes = newest_first[: 1 if of_part else 2]
        said.sort(key=lambda pair: -pair[0])
        shown = measured if reached else [text for newest, text in said if newest == said[0][0]]
        sentence = f"{lead}{clauses(shown[:3])}."
        return Reason(kind, name, sentence[:1].upper() + sentence[1:], tuple(facts[:8]), tuple(causes))

    def _compared(self, leaf: Compare) -> tuple[list[Fact], float, list[int]]:
        reader, _ = self.facts.reader(leaf.left)
        value = reader(self.time_s, self.state, self.flows)
        unit = leaf.unit
        facts = []
        causes = self.causes_of(leaf.left)
        right = 0.0
        if isinstance(leaf.right, str):
            right = self.facts.reader(leaf.right)[0](self.time_s, self.state, self.flows)
            unit = "kg"
            facts.append(Fact(leaf.right, None, right, unit))
            causes += self.causes_of(leaf.right)
        else:
            right = leaf.right
        facts.insert(0, Fact(leaf.left, None, value, unit))
        return facts, right, causes

    def causes_of(self, quantity: str) -> list[int]:
        """Latest changes of what moves a quantity."""
        subject, _, _ = quantity.partition(".")
        tank = self.plant.tank_index.get(subject)
        if tank is not None:
            return self.tank_causes(tank)
        if subject == "total":
            found = [cause for i in range(self.plant.tanks) for cause in self.tank_causes(i)]
            return sorted(set(found), reverse=True)[:2]
        if subject in self.plant.node_index:
            return self.node_causes(subject)
        if subject in self.index and self.last[self.index[subject]] >= 0:
            return [self.last[self.index[subject]]]
        return []

    def node_causes(self, node: str) -> list[int]:
        """Latest changes at this instant of what presses on a node or draws from it, two at most; else the
        latest one.
        """
        names = [source.name for source in self.plant.sources if source.node == node]
        names += [user.name for user in self.plant.users if user.node == node]
        names += [valve.name for valve in self.aircraft.valves if valve.ends and node in valve.ends]
        latest = sorted((self.last[self.index[name]] for name in names), reverse=True)
        now = [c for c in latest if c >= 0 and self.changes[c].time_s == self.time_s][:2]
        return now or [c for c in latest[:1] if c >= 0]

    def tank_turns(self, tank: int) -> list[int]:
        """Changes at this instant of what fills a tank or empties it, two at most; else what moves it."""
        filling, emptying = self.feeders[tank]
        found = sorted({self.last[i] for i in (*filling, *emptying)}, reverse=True)
        return [c for c in found if c >= 0 and self.changes[c].time_s == self.time_s][:2] or self.tank_causes(
            tank
        )

    def tank_causes(self, tank: int) -> list[int]:
        """Latest changes of what fills a tank, or of what empties it, by the way its mass is going; newest
        first, two at most.
        """
        filling, emptying = self.feeders[tank]
        rising = self.flows.slopes[tank] > 0.0
        movers = filling if rising else emptying
        found = sorted({self.last[i] for i in movers if self.states[i] in _ACTIVE}, reverse=True)[:2]
        if rising:
            # A tank also fills because nothing draws on it: one thing that comes in, one that is held back.
            held = [self.last[i] for i in emptying if self.states[i] == "running, held back"]
            found = found[:1] + ([max(held)] if held else [])
        return [i for i in found if i >= 0]


def new_world(aircraft: Aircraft, script: Script, plant: Plant) -> World:
    """A world as the script's initial tables leave it, before anything has happened."""
    names = [*aircraft.parts, PHASE]
    index = {name: i for i, name in enumerate(names)}
    states = [part.initial for part in aircraft.parts.values()] + [script.phases[0].name]
    settings: dict[str, str] = {}
    for part in aircraft.parts.values():
        if isinstance(part, Control):
            settings[part.name] = part.initial
        elif isinstance(part, Pump | Valve) and part.crew:
            settings[part.name] = part.settings[0]
    for name, state in script.states.items():
        part = aircraft.parts[name]
        if name in settings:
            settings[name] = state
        if part.kind != "pump":
            states[index[name]] = state
    start = plant.start()
    for sensor in aircraft.sensors:
        if plant.volume_l(plant.tank_index[sensor.tank], start) >= sensor.wet_at_l:
            states[index[sensor.name]] = "wet"
    facts = Facts(aircraft, plant, states, index)
    for control in aircraft.controls:
        if control.quantity:
            facts.values[control.name] = float(settings[control.name].split(" ")[0])
    world = World(
        aircraft, script, plant, index, states, facts, settings, state=start, last=[-1] * len(names)
    )
    world.feeders = [_feeders(world, i) for i in range(plant.tanks)]
    return world


def _feeders(world: World, tank: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
    aircraft, index = world.aircraft, world.index
    name = aircraft.tanks[tank].name
    spilling = [other.name for other in aircraft.tanks if other.overflow.to == name]
    filling = [part.name for part in aircraft.transfers if part.to_tank == name]
    filling += [part.name for part in aircraft.jet_pumps if part.to_tank == name]
    filling += [part.name for part in aircraft.returns if part.to_tank in (name, *spilling)]
    filling += [part.name for part in aircraft.valves if part.ends and name in part.ends] + spilling
    emptying = [part.name for part in (*aircraft.pumps, *aircraft.bypasses) if part.tank == name]
    emptying += [part.name for part in aircraft.transfers if part.from_tank == name]
    emptying += [part.name for part in aircraft.jet_pumps if part.from_tank == name]
    return tuple(index[n] for n in filling), tuple(index[n] for n in emptying)

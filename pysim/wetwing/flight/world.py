"""The discrete side of a flight in the making: every part's state, who changed it and why."""

from dataclasses import dataclass, field

from wetwing.aircraft.condition import Compare, Is
from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft, Control, Pump, Valve
from wetwing.aircraft.names import PHASE
from wetwing.flight.clock import clock
from wetwing.flight.facts import Facts, Test
from wetwing.flight.phrases import blank_words, clauses, leaf_words, rule_words
from wetwing.flight.plant import Flows, Plant
from wetwing.flight.record import Change, Command, Fact, Reason
from wetwing.flight.script import Script
from wetwing.flight.troubled import indications

NEVER = float("inf")
NO_READING = "no reading"
MOST_CHANGES_AT_ONCE = 400
MOST_TURNS_AT_ONCE = 12
"""How often one part may turn at one instant before it is refused as turning for ever."""

_ACTIVE = {
    *("delivering", "flowing", "feeding", "flowing back", "spilling", "open", "moving", "passing", "present"),
    "draining",
}


@dataclass(slots=True)
class World:
    """Where everything stands at `time_s`, and the record so far."""

    aircraft: Aircraft
    script: Script
    plant: Plant
    names: tuple[str, ...]
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
    troubles_of: dict[str, tuple[int, ...]] = field(default_factory=dict)
    shown: dict[str, str] = field(default_factory=dict)
    guards: list[tuple[str, ...]] = field(default_factory=list)
    """For each tank, what should stop its filling and may be in trouble: its level sensors, its valves."""

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
        if part in self.shown:
            self.mirror(part)

    def mirror(self, valve: str) -> None:
        """Let a valve's indication follow it, unless it is frozen."""
        shown = self.shown.get(valve)
        if shown is not None and valve not in self.plant.faults.unseen:
            reason = Reason("physics", "indication", "It shows where the valve is.", (), self.latest(valve))
            self.change(shown, self.states[self.index[valve]], reason)

    def latest(self, part: str) -> tuple[int, ...]:
        """The part's latest change, as a reason's causes."""
        newest = self.last[self.index[part]]
        return (newest,) if newest >= 0 else ()

    def trouble_causes(self, part: str) -> list[int]:
        """Latest changes of the troubles that a part has or had, newest first."""
        found = [self.last[i] for i in self.troubles_of.get(part, ())]
        return sorted((cause for cause in found if cause >= 0), reverse=True)

    def troubles_now(self, part: str) -> list[int]:
        """The changes that brought the troubles that a part has now, newest first."""
        here = [self.last[i] for i in self.troubles_of.get(part, ()) if self.states[i] == "present"]
        return sorted(here, reverse=True)

    def trouble_reason(self, part: str) -> Reason:
        """The reason of what a part's trouble does, told by the trouble."""
        causes = self.trouble_causes(part)
        if not causes:
            return Reason("trouble", part, f"{self.aircraft.parts[part].label} works again.")
        cause = self.changes[causes[0]]
        return Reason("trouble", cause.reason.name, cause.reason.sentence, (), (causes[0],))

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
        silent: list[int] = []
        for leaf in leaves:
            if isinstance(leaf, Is):
                i = self.index[leaf.part]
                silent += self.troubles_now(leaf.part)
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
                silent += self._silent([fact.name.partition(".")[0] for fact in found[0]])
                facts += found[0]
                causes += found[2]
                blank = any(fact.state == NO_READING for fact in found[0])
                measured.append(
                    blank_words(leaf, self.aircraft)
                    if blank
                    else leaf_words(leaf, truth, self.aircraft, "", found[1])
                )
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
        if silent and not of_part:
            # A part that has not turned because of its trouble: nothing but the trouble tells why.
            newest_first = list(dict.fromkeys([*newest_first[:1], max(silent), *newest_first[1:]]))
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

    def _silent(self, subjects: list[str]) -> list[int]:
        """Troubles behind quantities: of a number that was entered, of the sources of a pressure."""
        found: list[int] = []
        for subject in subjects:
            if subject in self.facts.values:
                found += self.troubles_now(subject)
            elif subject in self.plant.node_index:
                sources = [source.name for source in self.plant.sources if source.node == subject]
                found += [cause for name in sources for cause in self.troubles_now(name)]
        return found

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
            facts.append(_fact(leaf.right, right, unit))
            causes += self.causes_of(leaf.right)
            right += leaf.beyond
        else:
            right = leaf.right
        facts.insert(0, _fact(leaf.left, value, unit))
        return facts, right, causes

    def causes_of(self, quantity: str) -> list[int]:
        """Latest changes of what moves a quantity."""
        subject, _, _ = quantity.partition(".")
        tank = self.plant.tank_index.get(subject)
        if tank is not None:
            found = self.tank_causes(tank)
            return sorted({*self.gauge_causes(tank), *found}, reverse=True)[:2]
        if subject == "total":
            found = [cause for i in range(self.plant.tanks) for cause in self.tank_causes(i)]
            wrong = [cause for i in range(self.plant.tanks) for cause in self.gauge_causes(i)]
            aside = ("tank", "engine", "node", "meter", "totaliser")
            wrong += [
                cause
                for part in self.troubles_of
                if self.aircraft.parts[part].kind in aside
                for cause in self.trouble_causes(part)
            ]
            if quantity in ("total.computed_kg", "total.discrepancy_kg"):
                wrong += self._meter_causes()
            return (sorted(set(wrong), reverse=True) + sorted(set(found), reverse=True))[:2]
        if subject in self.plant.node_index:
            return self.node_causes(subject)
        if subject in self.index and self.last[self.index[subject]] >= 0:
            return [self.last[self.index[subject]]]
        return []

    def _meter_causes(self) -> list[int]:
        """Latest changes of the flow meters since the first start: what they missed counts as unused."""
        started = next((i for i, change in enumerate(self.changes) if change.after == "starting"), 0)
        return [
            cause for meter in self.aircraft.meters for cause in self.latest(meter.name) if cause > started
        ]

    def gauge_causes(self, tank: int) -> list[int]:
        """Latest changes of the troubles that make a tank's gauge wrong."""
        name = self.aircraft.tanks[tank].name
        parts = [part.name for part in self.aircraft.probes if part.tank == name]
        parts += [part.name for part in self.aircraft.compensators if part.tank == name]
        return [cause for part in parts for cause in self.trouble_causes(part)]

    def node_causes(self, node: str) -> list[int]:
        """Latest changes at this instant of what presses on a node or draws from it, two at most; else the
        latest one.
        """
        names = [source.name for source in self.plant.sources if source.node == node]
        names += [user.name for user in self.plant.users if user.node == node]
        names += [valve.name for valve in self.aircraft.valves if valve.ends and node in valve.ends]
        latest = sorted((self.last[self.index[name]] for name in names), reverse=True)
        latest = sorted([*latest, *self.trouble_causes(node)], reverse=True)
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
            silent = [cause for name in self.guards[tank] for cause in self.troubles_now(name)]
            found = found[:1] + ([max(silent)] if silent else [max(held)] if held else [])
        return [i for i in found if i >= 0]


def _fact(quantity: str, value: float, unit: str) -> Fact:
    """What was seen of a quantity; a blank gauge gives no number."""
    return Fact(quantity, None, value, unit) if value == value else Fact(quantity, NO_READING)


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
    shown = indications(script)
    for name, state in script.states.items():
        part = aircraft.parts[name]
        if name in settings:
            settings[name] = state
        if part.kind != "pump":
            states[index[name]] = state
        if name in shown:
            states[index[shown[name]]] = state
    start = plant.start()
    for k, sensor in enumerate(aircraft.sensors):
        if plant.volume_l(plant.tank_index[sensor.tank], start) >= plant.posture.wet_l[k]:
            states[index[sensor.name]] = "wet"
    facts = Facts(aircraft, plant, states, index)
    for control in aircraft.controls:
        if control.quantity:
            facts.values[control.name] = float(settings[control.name].split(" ")[0])
    world = World(
        aircraft,
        script,
        plant,
        tuple(names),
        index,
        states,
        facts,
        settings,
        state=start,
        last=[-1] * len(names),
    )
    world.shown = shown
    for trouble in script.troubles:
        world.troubles_of[trouble.part] = (*world.troubles_of.get(trouble.part, ()), index[trouble.name])
    world.feeders = [_feeders(world, i) for i in range(plant.tanks)]
    world.guards = [_guards(world, tank.name) for tank in aircraft.tanks]
    return world


def _guards(world: World, tank: str) -> tuple[str, ...]:
    aircraft = world.aircraft
    names = [sensor.name for sensor in aircraft.sensors if sensor.tank == tank]
    names += [valve.name for valve in aircraft.valves if valve.ends and tank in valve.ends]
    return tuple(name for name in names if name in world.troubles_of)


def _feeders(world: World, tank: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
    aircraft, index = world.aircraft, world.index
    name = aircraft.tanks[tank].name
    spilling = [other.name for other in aircraft.tanks if other.overflow.to == name]
    filling = [part.name for part in aircraft.transfers if part.to_tank == name]
    filling += [part.name for part in aircraft.jet_pumps if part.to_tank == name]
    filling += [part.name for part in aircraft.returns if part.to_tank in (name, *spilling)]
    filling += [part.name for part in aircraft.valves if part.ends and name in part.ends] + spilling
    filling += [vent.name for vent in aircraft.vents if vent.drains_to == name]
    emptying = [part.name for part in (*aircraft.pumps, *aircraft.bypasses) if part.tank == name]
    # A check valve stuck open lets a tank be filled through its own pump.
    filling += [part for part in emptying if part in world.troubles_of]
    emptying += [part.name for part in aircraft.transfers if part.from_tank == name]
    emptying += [part.name for part in aircraft.jet_pumps if part.from_tank == name]
    leaks = world.troubles_of.get(name, ())
    return tuple(index[n] for n in filling), (*(index[n] for n in emptying), *leaks)

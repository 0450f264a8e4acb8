"""What is on by what the flight says of its parts, and the oracle's own clocks: strokes, starts, delays."""

from collections.abc import Iterator
from math import inf
from typing import TYPE_CHECKING

from tests.oracle.arming import EMPTY_KG, GATHERS_KG, ROOM_L
from tests.oracle.equations import Now
from tests.oracle.logic import Question
from tests.oracle.mode import Mode
from tests.oracle.nature import kg_per_l, permittivity
from tests.oracle.shapes import reached_l
from wetwing.aircraft.model import Control, Sensor
from wetwing.flight.troubles import Trouble

if TYPE_CHECKING:
    from tests.oracle.arming import Event
    from tests.oracle.follow import Group, Oracle

RUNNING = ("delivering", "running, held back", "running, nothing drawn")
Key = tuple[str, str]


class Switchboard:
    """The discrete side of an oracle."""

    def __init__(self, oracle: "Oracle") -> None:
        self.o = oracle
        flight, e = oracle.flight, oracle.e
        self.a, self.script = flight.aircraft, flight.script
        self.names = e.names
        self.seen = oracle.seen
        y, states = oracle.y, self.seen.states
        self.settings = dict(flight.start_settings)
        self.raw = {
            c.name: float(self.settings[c.name].split(" ")[0])
            for c in self.a.controls
            if c.quantity is not None
        }
        self.covered = [
            tank is None or e.litres(tank, y) > self.reached(tank, s.uncovers_l, s.at_m)
            for s, tank in zip(self.names.sources, e.source_tank, strict=True)
        ]
        self.jet_covered = [
            e.litres(self.names.tank[j.from_tank], y)
            > self.reached(self.names.tank[j.from_tank], j.stops_l, j.at_m)
            for j in self.a.jet_pumps
        ]
        over = [
            y[self.names.tank[p.from_tank]] - self.a.tanks[self.names.tank[p.from_tank]].unusable_kg
            for p in self.a.transfers
        ]
        self.pipes = ["brim" if kg > 0.0 else "" for kg in over]
        self.leak_covered = [kg > EMPTY_KG for kg in y[: len(self.a.tanks)]]
        self.draining = [False] * len(self.a.vents)
        self.told = {v.name: "open" if states[v.name] != "shut" else "shut" for v in self.a.valves}
        self.goals = dict(self.told)
        self.timers: dict[Key, float] = {}
        self.armed = {rule.name: True for rule in self.a.rules}
        self.done: set[Key] = set()
        self.waiting: dict[Key, float] = {}
        self.slips: dict[str, float] = {}
        self.starts = {rule.name: Question(rule.starts) for rule in self.a.rules}
        self.ends = {rule.name: Question(rule.ends) for rule in self.a.rules if rule.ends}
        self.barred: set[str] = set()
        self.runs = {m.name: Question(m.runs_when) for m in self.names.sources if m.runs_when}
        self.runs |= {m.name: Question(m.runs_when) for m in self.a.jet_pumps if m.runs_when}
        self.opens = {v.name: Question(v.opens_when) for v in self.a.valves if v.opens_when}
        self.users = {u.name: Question(u.runs_when) for u in self.names.users}
        self.powers = {b.name: Question(b.powered_when) for b in self.a.buses}
        self.displays = {d.name: Question(d.shown_when) for d in self.a.displays}
        self.alerts = {alert.name: Question(alert.when) for alert in self.a.alerts}
        self.actions = {str(i): Question(x.when) for i, x in enumerate(self.script.actions) if x.when}
        self.troubles = {x.name: Question(x.when) for x in self.script.troubles if x.when}
        self.drags = [Question(condition) for condition, _ in self.a.airframe.extra_drag]
        self.bleeds = [Question(condition) for condition, _ in self.a.airframe.bleed]
        times = [x.at_s for x in self.script.actions] + [x.at_s for x in self.script.troubles]
        times += [x.until_s for x in self.script.troubles] + [x.time_s for x in self.script.mended]
        times += [phase.start_s for phase in self.script.phases]
        self.times = sorted({t for t in times if t is not None})

    # -- looking up

    def reached(self, tank: int, litres: float, at_m: tuple[float, float]) -> float:
        """What a tank holds when its fuel reaches a point, on this leg."""
        leg = self.seen.leg
        return reached_l(self.a.tanks[tank], litres, at_m, leg.pitch_deg, leg.roll_deg)

    def power(self, bus: str | None) -> bool:
        """Whether a part on a bus has power."""
        return bus is None or self.seen.states[bus] == "powered"

    def forced(self, sensor: Sensor) -> bool:
        """Whether something other than the level decides what a sensor shows."""
        kinds = ("no signal", "frozen", "stuck wet", "stuck dry")
        return not self.power(sensor.bus) or bool(self.seen.of(sensor.name, *kinds))

    def has(self, part: str, kind: str) -> bool:
        """Whether a trouble is present."""
        return bool(self.seen.of(part, kind))

    def sum(self, part: str, kind: str) -> float:
        """What troubles of one kind amount to."""
        return sum(ill.trouble.severity for ill in self.seen.of(part, kind))

    def holds(self, question: Question) -> bool:
        """Whether a condition holds now."""
        o = self.o
        return o.conditions.holds(question, o.t, o.y, o.now)

    def running(self, i: int) -> bool:
        """Whether a source is driven, wet or dry."""
        source = self.names.sources[i]
        if source.kind == "bypass":
            return True
        if self.has(source.name, "failed") or self.has(source.name, "breaker open"):
            return False
        if not self.power(source.bus) or (source.crew and self.settings[source.name] != "on"):
            return False
        return source.name not in self.runs or self.holds(self.runs[source.name])

    # -- clocks

    def scripted_s(self) -> float:
        """The next time that the script names."""
        return min((t for t in self.times if t > self.o.t), default=inf)

    def due_s(self) -> float:
        """The next time at which a stroke, a start or a delay is over."""
        return min(self.timers.values(), default=inf)

    def musts_at(self, t: float) -> list[str]:
        """Of what is over now, what the flight has to show."""
        shown = ("valve", "user", "alert", "starts", "lasts", "trouble", "trouble-lasts")
        over = [key for key, due in self.timers.items() if due <= t and key[0] in shown]
        due = [(kind, name) for kind, name in over if kind != "starts" or not self._ended(name)]
        # What the flight has done within the nearness of an event before needs not be done again.
        done = {"starts": "active", "lasts": "inactive", "alert": "on"}
        return [f"{kind} {name}" for kind, name in due if self.seen.states.get(name) != done.get(kind, "")]

    def _ended(self, rule: str) -> bool:
        """Whether a rule's end holds already, so that it does not start: where both hold, the end wins.

        An end by a change since the start cannot hold before it.
        """
        ends = self.ends.get(rule)
        if ends is None or any(getattr(leaf, "change", None) for leaf in ends.condition.leaves()):
            return False
        return self.holds(ends)

    def over(self, parts: set[str]) -> set[str]:
        """Of these parts, those with a clock that is over now."""
        return parts & {name for (_, name), due in self.timers.items() if due <= self.o.t}

    def slipped(self, parts: set[str]) -> float:
        """How far off the events may be from which clocks of these parts run that are over now."""
        return max((self.slips.get(part, 0.0) for part in self.over(parts)), default=0.0)

    def wanted(self) -> Iterator[tuple[str, Question, bool]]:
        """Conditions that somebody waits on, and whether their turning only starts a clock."""
        states = self.seen.states
        for rule in self.a.rules:
            if rule.ends is None or states[rule.name] == "inactive":
                yield (
                    rule.name,
                    self.starts[rule.name],
                    rule.after_s > 0.0 and states[rule.name] == "inactive",
                )
                if rule.name in self.barred:
                    yield rule.name, self.ends[rule.name], rule.after_s > 0.0
            else:
                yield rule.name, self.ends[rule.name], False
        for table in (self.runs, self.opens, self.users, self.powers, self.displays):
            yield from ((name, question, False) for name, question in table.items())
        for alert in self.a.alerts:
            delayed = alert.after_s > 0.0 and states[alert.name] != "on"
            yield alert.name, self.alerts[alert.name], delayed
        for name, question in self.actions.items():
            if ("action", name) not in self.done:
                yield name, question, self.script.actions[int(name)].after_s > 0.0
        for trouble in self.script.troubles:
            if trouble.name in self.troubles and ("trouble", trouble.name) not in self.done:
                yield trouble.name, self.troubles[trouble.name], trouble.after_s > 0.0
        yield from (("drag", question, False) for question in (*self.drags, *self.bleeds))

    # -- taking and settling

    def begin(self) -> None:
        """Before the first instant."""
        self._entries()
        self._silence()
        # Conditions need something to look at before anything has flowed.
        self.o.now = self._turn(first=True)

    def take(self, group: "Group") -> None:
        """The flight's changes and commands of one time."""
        states = self.seen.states
        engines = [engine.name for engine in self.a.engines]
        for command in group.commands:
            name = command.part
            if isinstance(self.a.parts[name], Control) and self.has(name, "stuck"):
                continue
            self.settings[name] = command.state
            if name in self.raw:
                self.raw[name] = float(command.state.split(" ")[0])
            if name in self.told:
                self.told[name] = command.state
        for change in group.changes:
            part = change.part
            kind = self.a.parts[part].kind
            if kind == "trouble":
                self.done.add(("trouble", part))
                if change.after == "present":
                    self.o.ill(part)
                else:
                    self.seen.ills = [ill for ill in self.seen.ills if ill.trouble.name != part]
            if part in engines and change.after == "starting":
                if not any(states[engine] in ("starting", "running") for engine in engines):
                    self._depart()
                self.o.y[self.o.e.layout.at["used"] + engines.index(part)] = 0.0
            states[part] = change.after
            self._clock(part, kind, change.after, change.reason.kind)

    def _clock(self, part: str, kind: str, after: str, why: str) -> None:
        t, timers = self.o.t, self.timers
        if kind in ("engine", "apu"):
            timers.pop(("user", part), None)
            if after == "starting":
                timers["user", part] = t + self.names.users[self.names.user[part]].start_s
        elif kind == "trouble":
            trouble = next(x for x in self.script.troubles if x.name == part)
            if after == "present" and trouble.lasts_s is not None:
                timers["trouble-lasts", part] = t + trouble.lasts_s
            if after == "absent":
                timers.pop(("trouble-lasts", part), None)
        elif kind == "rule":
            rule = next(rule for rule in self.a.rules if rule.name == part)
            timers.pop(("lasts", part), None)
            if after == "active" and rule.lasts_s is not None and why == "rule":
                timers["lasts", part] = t + rule.lasts_s
                self.armed[part] = False
            if after == "active" and why == "rule":
                for leaf in rule.ends.leaves() if rule.ends else ():
                    if getattr(leaf, "change", None):
                        name = leaf.left  # type: ignore[union-attr]
                        self.ends[part].since[name] = self.o.readings.quantity(name)(t, self.o.y, self.o.now)

    def _depart(self) -> None:
        o = self.o
        total = o.readings.total(o.t, o.y)
        self.seen.departed_kg = total if total == total else sum(o.y[: o.e.layout.tanks])
        self.seen.departed_metered = o.y[o.e.layout.at["metered"]] + o.y[o.e.layout.at["discharged"]]

    def shown(self, trouble: Trouble) -> float:
        """What a part shows as its trouble comes."""
        o = self.o
        for probe in self.a.probes:
            if probe.name == trouble.part:
                return o.e.litres(self.names.tank[probe.tank], o.y)
        for each in self.a.compensators:
            if each.name == trouble.part:
                celsius = o.y[o.e.layout.tanks + self.names.tank[each.tank]]
                return permittivity(1000.0 * kg_per_l(o.e.rho15, celsius))
        if self.a.parts[trouble.part].kind == "totaliser":
            total = o.readings.total(o.t, o.y)
            return total if total == total else 0.0
        for meter in self.a.meters:
            if meter.name == trouble.part:
                return o.readings.metered([e.name for e in self.a.engines].index(meter.engine), o.t, o.now)
        return 0.0

    def settle(self, fired: "list[Event]") -> None:
        """Look at everything again, as it now stands."""
        before = set(self.timers)
        over = {name for (kind, name), due in self.timers.items() if kind == "starts" and due <= self.o.t}
        self.timers = {key: due for key, due in self.timers.items() if due > self.o.t}
        self._entries()
        self._silence()
        self._dip()
        self.o.now = self._turn()
        self._valves()
        self.o.now = self._turn()
        self._delays(over)
        for _, name in set(self.timers) - before:
            spread = max((event.spread_s for event in fired if event.part == name), default=0.0)
            self.slips[name] = spread

    def _entries(self) -> None:
        for name, value in self.raw.items():
            factor = 1.0
            for ill in self.seen.of(name, "wrong units"):
                factor *= ill.trouble.severity
            self.seen.entered[name] = value * factor

    def _silence(self) -> None:
        parts = (*self.a.probes, *self.a.compensators, *self.a.meters, *self.a.totalisers)
        self.seen.silent = frozenset(p.name for p in parts if self.seen.states[p.name] == "no signal")

    def _dip(self) -> None:
        """Pick-ups, mouths and surge spaces."""
        o, e = self.o, self.o.e
        for i, source in enumerate(self.names.sources):
            tank = e.source_tank[i]
            if tank is not None:
                held = e.litres(tank, o.y)
                low, high = (
                    self.reached(tank, v, source.at_m) for v in (source.uncovers_l, source.recovers_l)
                )
                self.covered[i] = held > low if self.covered[i] else held >= high
        for i, covered in enumerate(self.leak_covered):
            self.leak_covered[i] = o.y[i] > EMPTY_KG if covered else o.y[i] >= EMPTY_KG + 10.0
        for i, jet in enumerate(self.a.jet_pumps):
            tank = self.names.tank[jet.from_tank]
            held = e.litres(tank, o.y)
            low, high = (self.reached(tank, v, jet.at_m) for v in (jet.stops_l, jet.recovers_l))
            self.jet_covered[i] = held > low if self.jet_covered[i] else held >= high
        for i, pipe in enumerate(self.a.transfers):
            tank = self.names.tank[pipe.from_tank]
            over_kg = o.y[tank] - self.a.tanks[tank].unusable_kg
            if self.pipes[i] == "weir":
                self.pipes[i] = "brim" if over_kg >= 60.0 else "weir" if over_kg > 1.0 else ""
            elif self.pipes[i] == "brim":
                self.pipes[i] = "brim" if over_kg > 0.0 else ""
            elif over_kg >= 10.0:
                self.pipes[i] = "weir"
        for i, vent in enumerate(self.a.vents):
            if not vent.drains_to:
                continue
            tank = self.names.tank[vent.drains_to]
            at = e.layout.at["surge"] + i
            room = self.a.tanks[tank].overflow.at_l - e.litres(tank, o.y)
            if self.draining[i]:
                self.draining[i] = o.y[at] > 0.0 and room > 0.25 * ROOM_L
                o.y[at] = max(o.y[at], 0.0)
            else:
                over = [part.name for part in self.a.tanks if part.overflow.to == vent.name]
                comes = any(self.seen.states[name] == "spilling" for name in over)
                self.draining[i] = 0.0 < o.y[at] >= (GATHERS_KG if comes else 0.0) and room >= ROOM_L

    def _turn(self, *, first: bool = False) -> Now:
        """Put the mode into the equations, and look what flows."""
        o = self.o
        o.e.water = [self.sum(tank.name, "water") for tank in self.a.tanks]
        o.e.turn(self._mode(first=first))
        return o.at(o.t, o.y)

    def _mode(self, *, first: bool) -> Mode:
        a, states, names = self.a, self.seen.states, self.names
        passing, driven, strength = [], [], []
        for i, source in enumerate(names.sources):
            runs = False if first else self.running(i)
            way = "one" if self.covered[i] and runs else ""
            if self.has(source.name, "check valve stuck open"):
                way = "both" if self.covered[i] and runs else "back"
            elif self.has(source.name, "check valve stuck shut"):
                way = ""
            passing.append(way)
            driven.append(self.covered[i] and runs)
            share = 1.0
            for ill in self.seen.of(source.name, "low output", "drawing vapour"):
                share *= ill.trouble.severity
            strength.append(share)
        jets = []
        for i, jet in enumerate(a.jet_pumps):
            share = 0.0 if self.has(jet.name, "blocked") else 1.0
            for ill in self.seen.of(jet.name, "low output"):
                share *= ill.trouble.severity
            allowed = not first and (jet.name not in self.runs or self.holds(self.runs[jet.name]))
            jets.append(share if allowed and self.jet_covered[i] and states[jet.motive] in RUNNING else 0.0)
        checks = [
            "open" if self.has(c.name, "stuck open") else "shut" if self.has(c.name, "stuck shut") else ""
            for c in a.check_valves
        ]
        drag = a.airframe.drag_zero_lift
        for ill in self.seen.ills:
            if self.a.parts[ill.trouble.part].kind == "airframe":
                drag += a.airframe.drag_zero_lift * ill.trouble.severity
        bleed = 1.0
        if not first:
            for question, (_, adds) in zip(self.drags, a.airframe.extra_drag, strict=True):
                drag += adds if self.holds(question) else 0.0
            for question, (_, factor) in zip(self.bleeds, a.airframe.bleed, strict=True):
                bleed *= factor if self.holds(question) else 1.0
        filling = any(states[supply.name] == "delivering" for supply in a.supplies)
        return Mode(
            passing=tuple(passing),
            driven=tuple(driven),
            strength=tuple(strength),
            valves=tuple(states[v.name] for v in a.valves),
            checks=tuple(checks),
            users=tuple(states[u.name] for u in names.users),
            returning=tuple(states[r.valve] != "shut" and states[r.engine] == "running" for r in a.returns),
            transferring=tuple(
                self.pipes[i] if p.valve is None or states[p.valve] != "shut" else ""
                for i, p in enumerate(a.transfers)
            ),
            jets=tuple(jets),
            spilling=tuple(states[tank.name] == "spilling" for tank in a.tanks),
            vents=tuple(
                "full"
                if states[v.name] == "spilling" and v.surge_l > 0.0
                else "draining"
                if self.draining[i]
                else ""
                for i, v in enumerate(a.vents)
            ),
            blocked=tuple(self.has(v.name, "blocked") and not filling for v in a.vents),
            tank_leaks=tuple(
                self.sum(tank.name, "leak") if self.leak_covered[i] else 0.0 for i, tank in enumerate(a.tanks)
            ),
            node_leaks=tuple(self.sum(node.name, "leak") for node in a.nodes),
            early=tuple(self.sum(u.name, "leak before the meter") for u in names.users),
            late=tuple(self.sum(u.name, "leak after the meter") for u in names.users),
            drag=drag,
            bleed=bleed,
        )

    def _valves(self) -> None:
        """Who is told to go where, and when each will be there."""
        for valve in self.a.valves:
            if valve.name in self.opens:
                self.told[valve.name] = "open" if self.holds(self.opens[valve.name]) else "shut"
            key = ("valve", valve.name)
            stuck = ""
            for ill in self.seen.ills:
                if ill.trouble.part == valve.name and ill.trouble.kind.startswith("stuck"):
                    stuck = ill.trouble.kind.removeprefix("stuck").strip() or "here"
            if stuck == "here" or not (stuck or self.power(valve.bus)):
                self.timers.pop(key, None)
                continue
            goal = stuck or self.told[valve.name]
            moving = self.seen.states[valve.name] == "moving"
            if goal == self.goals[valve.name] and not (moving and key not in self.timers):
                continue
            self.goals[valve.name] = goal
            slow = [ill.trouble.severity for ill in self.seen.of(valve.name, "slow")]
            self.timers[key] = self.o.t + valve.stroke_s * (slow[-1] if slow else 1.0)

    def _delays(self, over: set[str]) -> None:
        """What has begun to hold, and how long it still has to; of the rules `over`, the delay is."""
        for rule in self.a.rules:
            key = ("starts", rule.name)
            active = self.seen.states[rule.name] == "active"
            if active and rule.ends is not None:
                continue
            works = self.power(rule.bus) and not self.has(rule.name, "inhibited")
            if not (self.holds(self.starts[rule.name]) and works):
                self.timers.pop(key, None)
                self.armed[rule.name] = True
                self.barred.discard(rule.name)
                continue
            starts = rule.after_s <= 0.0 or rule.name in over or rule.name in self.barred
            if not active and starts and self._ended(rule.name):
                self.timers.pop(key, None)
                self.barred.add(rule.name)
                continue
            self.barred.discard(rule.name)
            if not active and self.armed[rule.name] and rule.after_s > 0.0:
                self.timers.setdefault(key, self.o.t + rule.after_s)
        for alert in self.a.alerts:
            key = ("alert", alert.name)
            if not self.holds(self.alerts[alert.name]):
                self.timers.pop(key, None)
            elif self.seen.states[alert.name] != "on" and alert.after_s > 0.0:
                self.timers.setdefault(key, self.o.t + alert.after_s)
        for name, question in self.actions.items():
            self._wait(("action", name), question, self.script.actions[int(name)].after_s)
        for trouble in self.script.troubles:
            if trouble.name in self.troubles:
                self._wait(("trouble", trouble.name), self.troubles[trouble.name], trouble.after_s)

    def _wait(self, key: Key, question: Question, after_s: float) -> None:
        if key in self.done:
            return
        due = key in self.waiting and self.waiting[key] <= self.o.t
        if due:
            self.done.add(key)
            self.timers.pop(key, None)
            del self.waiting[key]
        elif not self.holds(question):
            self.timers.pop(key, None)
            self.waiting.pop(key, None)
        elif after_s > 0.0:
            self.timers.setdefault(key, self.o.t + after_s)
            self.waiting[key] = self.timers[key]
        else:
            self.done.add(key)

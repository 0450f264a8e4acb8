"""The logic of a flight: actions, rules, permits, valves, users, displays and alerts, in that fixed order.

Each condition is looked at again only when something that it speaks of may have moved. Acting is kept apart
from detecting: `due()` says when the clock alone will change something, `act()` lets everything act that can.
"""

from collections.abc import Callable
from dataclasses import dataclass

from wetwing.aircraft.condition import Condition
from wetwing.aircraft.model import Alert, Control, Display, Engine, JetPump, Pump, Rule, Valve
from wetwing.aircraft.names import PHASE
from wetwing.flight.facts import Test, Watch
from wetwing.flight.phrases import inner, mark
from wetwing.flight.record import Command, Reason
from wetwing.flight.script import Action, Setting
from wetwing.flight.world import NEVER, World


@dataclass(slots=True)
class Asked:
    """A condition with what to do with its truth."""

    test: Test
    answer: Callable[[bool], None]
    wanted: Callable[[], bool]
    truth: bool | None = None


class Automation:
    """Everything that acts by a condition or by the clock."""

    def __init__(self, world: World) -> None:
        self.world = world
        self.asked: list[Asked] = []
        self.by_part: dict[int, list[int]] = {}
        self.stale: set[int] = set()
        self.timers: dict[tuple[str, str], float] = {}
        self.baselines: dict[str, dict[str, float]] = {}
        self.armed: dict[str, bool] = {}
        self.permits: dict[str, bool] = {}
        self.permit_tests: dict[str, Test] = {}
        self.targets: dict[str, str] = {}
        self.acted_by: dict[str, Reason] = {}
        self.done: set[int] = set()
        self.queue: list[tuple[float, int, Action]] = []
        aircraft = world.aircraft
        for i, action in enumerate(world.script.actions):
            if action.when:
                self._add_action(i, action, action.when)
            elif action.at_s is not None:
                self.queue.append((action.at_s, i, action))
        self.actions = len(self.asked)
        self.queue.sort(key=lambda entry: (entry[0], entry[1]))
        self.queued = 0
        self.begun = False
        for rule in aircraft.rules:
            self._add_rule(rule)
        for pump in (*aircraft.pumps, *aircraft.supplies):
            self._add_permit(pump)
        for jet in aircraft.jet_pumps:
            self._add_permit(jet)
        for valve in aircraft.valves:
            self.targets[valve.name] = "open" if world.is_in(valve.name, "open") else "shut"
            if valve.opens_when:
                self._add_valve(valve, valve.opens_when)
        for user in (*aircraft.engines, *aircraft.apus):
            self._add_user(user)
        for display in aircraft.displays:
            self._add_display(display)
        for alert in aircraft.alerts:
            self._add_alert(alert)
        self.stale.update(range(len(self.asked)))
        self.numeric = [i for i, asked in enumerate(self.asked) if asked.test.watches]

    def _ask(
        self,
        condition: Condition,
        answer: Callable[[bool], None],
        wanted: Callable[[], bool] = lambda: True,
        baseline: dict[str, float] | None = None,
    ) -> Test:
        test = self.world.facts.test(condition, baseline)
        for part in test.parts:
            self.by_part.setdefault(part, []).append(len(self.asked))
        self.asked.append(Asked(test, answer, wanted))
        return test

    # -- time

    def due(self) -> float:
        """The next time at which something that has begun comes to its end."""
        return min(self.timers.values(), default=NEVER)

    def next_action_s(self) -> float:
        """The time of the next timed action."""
        return self.queue[self.queued][0] if self.queued < len(self.queue) else NEVER

    def watches(self) -> list[Watch]:
        """Every comparison that could turn a condition before anything else changes."""
        found: list[Watch] = []
        for i in self.numeric:
            asked = self.asked[i]
            if asked.wanted():
                found += self.world.facts.open_watches(asked.test)
        return found

    # -- acting

    def act(self) -> None:
        """Let everything act whose time or condition has come, once, in the fixed order."""
        world = self.world
        while self.begun and self.queued < len(self.queue) and self.queue[self.queued][0] <= world.time_s:
            self._perform(self.queue[self.queued][2])
            self.queued += 1
        for key in [key for key, at_s in self.timers.items() if at_s <= world.time_s]:
            self._expire(*key)
        self._collect()
        for i in range(len(self.asked)):
            if i not in self.stale:
                continue
            self.stale.discard(i)
            asked = self.asked[i]
            if asked.wanted() and (self.begun or i >= self.actions):
                asked.answer(asked.test.holds(world.time_s, world.state, world.flows))
                self._collect()

    def _collect(self) -> None:
        for part in self.world.touched:
            self.stale.update(self.by_part.get(part, ()))
        self.world.touched.clear()

    def refresh(self) -> None:
        """Look again at every condition on a quantity: time has passed or flows have changed."""
        self.stale.update(self.numeric)

    def _expire(self, kind: str, name: str) -> None:
        del self.timers[kind, name]
        world = self.world
        part = world.aircraft.parts.get(name)
        if kind == "rule-starts" and isinstance(part, Rule):
            self._activate(part)
        elif kind == "rule-lasts" and isinstance(part, Rule):
            cause = world.last[world.index[name]]
            sentence = f"{part.label} ends after {mark(part.lasts_s or 0.0, 's')}."
            world.change(name, "inactive", Reason("rule", name, sentence, (), (cause,) if cause >= 0 else ()))
        elif kind == "valve" and isinstance(part, Valve):
            cause = world.last[world.index[name]]
            sentence = f"It has travelled for {mark(part.stroke_s, 's')}."
            world.change(
                name,
                self.targets[name],
                Reason("physics", "travel", sentence, (), (cause,) if cause >= 0 else ()),
            )
        elif kind == "user" and isinstance(part, Engine):
            cause = world.last[world.index[name]]
            sentence = f"It has reached idle {mark(part.start_s, 's')} after its start began."
            world.change(
                name,
                "running",
                Reason("physics", "start-complete", sentence, (), (cause,) if cause >= 0 else ()),
            )
        elif kind == "alert" and isinstance(part, Alert):
            self._raise(part)
        elif kind == "action":
            i = int(name)
            self.done.add(i)
            self._perform(world.script.actions[i])

    # -- actions

    def _add_action(self, i: int, action: Action, when: Condition) -> None:
        self._ask(when, lambda truth: self._action(i, action, truth), lambda: i not in self.done)

    def _action(self, i: int, action: Action, truth: bool) -> None:
        key = ("action", str(i))
        if not truth:
            self.timers.pop(key, None)
        elif action.after_s > 0.0:
            self.timers.setdefault(key, self.world.time_s + action.after_s)
        else:
            self.done.add(i)
            self._perform(action)

    def _perform(self, action: Action) -> None:
        for setting in action.settings:
            self._set(setting, action.note)

    def _set(self, setting: Setting, note: str) -> None:
        world = self.world
        part = world.aircraft.parts[setting.part]
        world.settings[part.name] = setting.state
        world.commands.append(Command(world.time_s, part.name, setting.state))
        sentence = note or f"{part.label} set to {setting.state}."
        if isinstance(part, Control):
            if part.quantity:
                value = float(setting.state.split(" ")[0])
                world.facts.values[part.name] = value
                sentence = note or f"{part.label} set to {mark(value, part.quantity.unit)}."
                self.refresh()
            world.change(part.name, setting.state, Reason("action", "setting", sentence))
        elif isinstance(part, Pump):
            sentence = note or f"{part.label} switched {setting.state}."
            self.acted_by[part.name] = Reason("action", "setting", sentence)
        elif isinstance(part, Valve):
            self._move(part, setting.state, Reason("action", "setting", sentence))

    # -- rules

    def _add_rule(self, rule: Rule) -> None:
        world = self.world
        baseline = self.baselines[rule.name] = {}
        self.armed[rule.name] = True

        def inactive() -> bool:
            return world.is_in(rule.name, "inactive")

        starts = self._ask(
            rule.starts,
            lambda truth: self._starts(rule, truth),
            lambda: rule.ends is None or inactive(),
        )
        self.permit_tests[f"{rule.name}.starts"] = starts
        ends = rule.ends
        if ends:
            test = self._ask(ends, lambda truth: self._ends(rule, truth), lambda: not inactive(), baseline)
            self.permit_tests[f"{rule.name}.ends"] = test
        own = world.index[rule.name]
        # A rule that has just turned must be looked at from its other side.
        self.by_part.setdefault(own, []).extend(range(len(self.asked) - (2 if ends else 1), len(self.asked)))

    def _starts(self, rule: Rule, truth: bool) -> None:
        key = ("rule-starts", rule.name)
        active = self.world.is_in(rule.name, "active")
        if not truth:
            self.timers.pop(key, None)
            self.armed[rule.name] = True
            if active and rule.ends is None and rule.lasts_s is None:
                reason = self.world.explain(
                    self.permit_tests[f"{rule.name}.starts"], False, "rule", rule.name, f"{rule.label} ends: "
                )
                self.world.change(rule.name, "inactive", reason)
        elif not active and self.armed[rule.name]:
            if rule.after_s > 0.0:
                self.timers.setdefault(key, self.world.time_s + rule.after_s)
            else:
                self._activate(rule)

    def _activate(self, rule: Rule) -> None:
        world = self.world
        told = world.explain(self.permit_tests[f"{rule.name}.starts"], True, "rule", rule.name)
        baseline = self.baselines[rule.name]
        if rule.ends:
            for leaf in rule.ends.leaves():
                change = getattr(leaf, "change", None)
                if change:
                    quantity = getattr(leaf, "left", "")
                    baseline[quantity] = world.facts.reader(quantity)[0](
                        world.time_s, world.state, world.flows
                    )
        if rule.lasts_s is not None:
            self.armed[rule.name] = False
            self.timers["rule-lasts", rule.name] = world.time_s + rule.lasts_s
        world.change(rule.name, "active", Reason("rule", rule.name, rule.sentence, told.facts, told.causes))

    def _ends(self, rule: Rule, truth: bool) -> None:
        if truth and self.world.is_in(rule.name, "active"):
            reason = self.world.explain(
                self.permit_tests[f"{rule.name}.ends"], True, "rule", rule.name, f"{rule.label} ends: "
            )
            self.world.change(rule.name, "inactive", reason)

    # -- permits

    def _add_permit(self, mover: Pump | JetPump) -> None:
        if mover.runs_when is None:
            self.permits[mover.name] = True
            return
        self.permits[mover.name] = False

        def answer(truth: bool) -> None:
            if self.permits[mover.name] is not truth:
                self.permits[mover.name] = truth
                self.acted_by[mover.name] = self.permit_reason(mover.name)

        self.permit_tests[mover.name] = self._ask(mover.runs_when, answer)

    def permit_reason(self, name: str) -> Reason:
        """Why the automatics let a pump run, or stop it."""
        truth = self.permits[name]
        lead = "The automatics run it: " if truth else "The automatics stop it: "
        return self.world.explain(self.permit_tests[name], truth, "rule", f"{name}.runs_when", lead)

    # -- valves

    def _add_valve(self, valve: Valve, opens_when: Condition) -> None:
        def answer(truth: bool) -> None:
            target = "open" if truth else "shut"
            if self.targets[valve.name] != target:
                lead = "It is told to open: " if truth else "It is told to shut: "
                self._move(
                    valve, target, self.world.explain(test, truth, "rule", f"{valve.name}.opens_when", lead)
                )

        test = self._ask(opens_when, answer)

    def _move(self, valve: Valve, target: str, reason: Reason) -> None:
        if self.targets[valve.name] == target:
            return
        self.targets[valve.name] = target
        self.timers["valve", valve.name] = self.world.time_s + valve.stroke_s
        self.world.change(valve.name, "moving", reason)

    # -- engines and the APU

    def _add_user(self, user: Engine) -> None:
        world = self.world

        def answer(truth: bool) -> None:
            state = world.states[world.index[user.name]]
            if truth and state == "off" and world.is_in(user.valve, "open"):
                self.timers["user", user.name] = world.time_s + user.start_s
                if user.propels:
                    world.state[world.plant.used_at + world.plant.user_index[user.name]] = 0.0
                told = world.explain(test, True, "rule", f"{user.name}.runs_when")
                cause = world.last[world.index[user.valve]]
                valve = world.aircraft.parts[user.valve].label
                sentence = f"{valve} is open and {inner(told.sentence)}"
                reason = Reason(
                    "physics",
                    "start",
                    sentence,
                    told.facts,
                    (cause, *told.causes) if cause >= 0 else told.causes,
                )
                world.change(user.name, "starting", reason)
            elif not truth and state != "off":
                self.timers.pop(("user", user.name), None)
                world.change(user.name, "off", world.explain(test, False, "rule", f"{user.name}.runs_when"))

        test = self._ask(user.runs_when, answer)
        # An engine also waits on its shut-off valve.
        self.by_part.setdefault(world.index[user.valve], []).append(len(self.asked) - 1)

    # -- displays and alerts

    def _add_display(self, display: Display) -> None:
        def answer(truth: bool) -> None:
            reason = self.world.explain(test, truth, "rule", f"{display.name}.shown_when")
            self.world.change(display.name, "shown" if truth else "not available", reason)

        test = self._ask(display.shown_when, answer)

    def _add_alert(self, alert: Alert) -> None:
        def answer(truth: bool) -> None:
            key = ("alert", alert.name)
            on = self.world.is_in(alert.name, "on")
            if not truth:
                self.timers.pop(key, None)
                if on:
                    self.world.change(
                        alert.name,
                        "off",
                        self.world.explain(test, False, "rule", alert.name, "The alert leaves: "),
                    )
            elif not on:
                if alert.after_s > 0.0:
                    self.timers.setdefault(key, self.world.time_s + alert.after_s)
                else:
                    self._raise(alert)

        test = self._ask(alert.when, answer)
        self.permit_tests[alert.name] = test

    def _raise(self, alert: Alert) -> None:
        told = self.world.explain(self.permit_tests[alert.name], True, "rule", alert.name)
        self.world.change(
            alert.name, "on", Reason("rule", alert.name, told.sentence, told.facts, told.causes)
        )

    # -- the script's phases

    def phase(self, name: str) -> None:
        """The script has come to its next phase."""
        self.world.change(PHASE, name, Reason("action", "phase", ""))
        self._collect()

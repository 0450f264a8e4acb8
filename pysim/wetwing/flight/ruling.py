"""The named rules of the automatics: when each becomes active, and when it ends."""

from typing import TYPE_CHECKING

from wetwing.aircraft.model import Rule
from wetwing.flight.phrases import mark
from wetwing.flight.record import Reason

if TYPE_CHECKING:
    from wetwing.flight.automation import Automation


class Ruling:
    """The rules of one flight."""

    def __init__(self, automation: "Automation") -> None:
        self.automation = automation
        self.world = automation.world
        self.baselines: dict[str, dict[str, float]] = {}
        self.armed: dict[str, bool] = {}
        self.asked: dict[str, list[int]] = {}
        self.barred: set[str] = set()
        """Rules that would start, were their end not true already: where both hold, the end wins."""

        self.rules = {rule.name: rule for rule in self.world.aircraft.rules}
        for rule in self.world.aircraft.rules:
            self._add(rule)
        automation.expiring["rule-starts"] = self._due
        automation.expiring["rule-lasts"] = self._lasted

    def _add(self, rule: Rule) -> None:
        world, automation = self.world, self.automation
        baseline = self.baselines[rule.name] = {}
        self.armed[rule.name] = True

        def inactive() -> bool:
            return world.is_in(rule.name, "inactive")

        first = len(automation.asked)
        starts = automation.ask(
            rule.starts,
            lambda truth: self._starts(rule, truth),
            lambda: rule.ends is None or inactive(),
        )
        automation.permit_tests[f"{rule.name}.starts"] = starts
        if rule.ends:
            test = automation.ask(
                rule.ends,
                lambda truth: self._ends(rule, truth),
                lambda: not inactive() or rule.name in self.barred,
                baseline,
            )
            automation.permit_tests[f"{rule.name}.ends"] = test
        self.asked[rule.name] = list(range(first, len(automation.asked)))
        # A rule that has just turned must be looked at from its other side; one on a bus, when that turns.
        automation.ask_again_with(rule.name, self.asked[rule.name])
        if rule.bus:
            automation.ask_again_with(rule.bus, self.asked[rule.name])

    def look_again(self, name: str) -> None:
        """A rule is inhibited or forced, or no longer."""
        self.automation.stale.update(self.asked[name])

    def _works(self, rule: Rule) -> bool:
        return self.automation.power.on(rule.bus) and rule.name not in self.world.plant.faults.inhibited

    def _forced(self, rule: Rule) -> bool:
        return rule.name in self.world.plant.faults.forced

    def _starts(self, rule: Rule, truth: bool) -> None:
        world, timers = self.world, self.automation.timers
        key = ("rule-starts", rule.name)
        active = world.is_in(rule.name, "active")
        if self._forced(rule):
            if not active:
                world.change(rule.name, "active", world.trouble_reason(rule.name))
            return
        if not (truth and self._works(rule)):
            timers.pop(key, None)
            self.armed[rule.name] = True
            self.barred.discard(rule.name)
            if active and rule.ends is None and (rule.lasts_s is None or not self._works(rule)):
                self._end(rule, "starts", False)
        elif not active and self.armed[rule.name]:
            if rule.after_s > 0.0:
                timers.setdefault(key, world.time_s + rule.after_s)
            else:
                self._activate(rule)

    def _due(self, name: str) -> None:
        # Its condition may have ended at this very instant.
        if self._holds(name, "starts"):
            self._activate(self.rules[name])

    def _holds(self, name: str, side: str) -> bool:
        world = self.world
        test = self.automation.permit_tests[f"{name}.{side}"]
        return test.holds(world.time_s, world.state, world.flows)

    def _activate(self, rule: Rule) -> None:
        world = self.world
        # What ends by a change since the start cannot have ended before it.
        counts = rule.ends is not None and any(getattr(leaf, "change", None) for leaf in rule.ends.leaves())
        if rule.ends is not None and not counts and self._holds(rule.name, "ends"):
            self.barred.add(rule.name)
            return
        told = world.explain(self.automation.permit_tests[f"{rule.name}.starts"], True, "rule", rule.name)
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
            self.automation.timers["rule-lasts", rule.name] = world.time_s + rule.lasts_s
        world.change(rule.name, "active", Reason("rule", rule.name, rule.sentence, told.facts, told.causes))

    def _lasted(self, name: str) -> None:
        rule = self.rules[name]
        if not self.world.is_in(name, "active") or self._forced(rule):
            return
        sentence = f"{rule.label} ends after {mark(rule.lasts_s or 0.0, 's')}."
        self.world.change(name, "inactive", Reason("rule", name, sentence, (), self.world.latest(name)))

    def _ends(self, rule: Rule, truth: bool) -> None:
        if rule.name in self.barred:
            if not truth:
                self.barred.discard(rule.name)
                self.look_again(rule.name)
            return
        if not self.world.is_in(rule.name, "active") or self._forced(rule):
            return
        if truth or not self._works(rule):
            self._end(rule, "ends", True)

    def _end(self, rule: Rule, side: str, truth: bool) -> None:
        world = self.world
        if self._works(rule):
            test = self.automation.permit_tests[f"{rule.name}.{side}"]
            reason = world.explain(test, truth, "rule", rule.name, f"{rule.label} ends: ")
        elif rule.bus and not self.automation.power.on(rule.bus):
            label = world.aircraft.parts[rule.bus].label
            sentence = f"{label} is dead: the rule has no power."
            reason = Reason("physics", "power", sentence, (), world.latest(rule.bus))
        else:
            reason = world.trouble_reason(rule.name)
        world.change(rule.name, "inactive", reason)

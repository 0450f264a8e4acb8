"""The logic of a flight: actions, troubles, buses, rules, permits, valves, users, displays and alerts, in
that fixed order.

Each condition is looked at again only when something that it speaks of may have moved. Acting is kept apart
from detecting: `due()` says when the clock alone will change something, `act()` lets everything act that can.
"""

from collections.abc import Callable

from wetwing.aircraft.condition import Condition
from wetwing.aircraft.model import Alert, Display, JetPump, Part, Pump
from wetwing.aircraft.names import PHASE
from wetwing.flight.asking import Asked, Planned
from wetwing.flight.facts import Test, Watch
from wetwing.flight.people import People
from wetwing.flight.power import Power
from wetwing.flight.record import Reason
from wetwing.flight.ruling import Ruling
from wetwing.flight.troubling import Troubling
from wetwing.flight.users import Users
from wetwing.flight.valves import Valves
from wetwing.flight.world import NEVER, World


class Automation:
    """Everything that acts by a condition or by the clock."""

    def __init__(self, world: World) -> None:
        self.world = world
        self.asked: list[Asked] = []
        self.by_part: dict[int, list[int]] = {}
        self.stale: set[int] = set()
        self.numeric: list[int] = []
        self.open: dict[int, list[Watch]] = {}
        self.timers: dict[tuple[str, str], float] = {}
        self.expiring: dict[str, Callable[[str], None]] = {}
        self.permits: dict[str, bool] = {}
        self.permit_tests: dict[str, Test] = {}
        self.acted_by: dict[str, Reason] = {}
        self.queue: list[Planned] = []
        self.queued = 0
        self.begun = False
        self.put_off: set[int] = set()
        self.waking = False
        aircraft = world.aircraft
        self.people = People(self)
        self.troubling = Troubling(self)
        self.before_flight = len(self.asked)
        self.queue.sort(key=lambda planned: (planned.at_s, planned.rank, planned.order))
        self.power = Power(self)
        self.ruling = Ruling(self)
        for pump in (*aircraft.pumps, *aircraft.supplies):
            self._add_permit(pump)
        for jet in aircraft.jet_pumps:
            self._add_permit(jet)
        self.valves = Valves(self)
        self.users = Users(self)
        for display in aircraft.displays:
            self._add_display(display)
        for alert in aircraft.alerts:
            self._add_alert(alert)
        self.expiring["alert"] = lambda name: self._raise(name)
        self.stale.update(range(len(self.asked)))
        self.numeric = [i for i, asked in enumerate(self.asked) if asked.test.watches]

    def ask(
        self,
        condition: Condition,
        answer: Callable[[bool], None],
        wanted: Callable[[], bool] = lambda: True,
        baseline: dict[str, float] | None = None,
    ) -> Test:
        """Have `answer` told the truth of a condition, whenever it may have turned and is `wanted`."""
        test = self.world.facts.test(condition, baseline)
        for part in test.parts:
            self.by_part.setdefault(part, []).append(len(self.asked))
        self.asked.append(Asked(test, answer, wanted))
        return test

    def ask_again_with(self, part: str, asked: list[int]) -> None:
        """Have these questions looked at again whenever a part turns, though they don't speak of it."""
        self.by_part.setdefault(self.world.index[part], []).extend(asked)

    def plan(self, planned: Planned) -> None:
        """Put something that happens at a fixed time into the queue."""
        self.queue.append(planned)

    # -- time

    def due(self) -> float:
        """The next time at which something that has begun comes to its end."""
        return min(self.timers.values(), default=NEVER)

    def next_action_s(self) -> float:
        """The time of the next thing that the script has planned."""
        return self.queue[self.queued].at_s if self.queued < len(self.queue) else NEVER

    def watches(self) -> list[Watch]:
        """Every comparison that could turn a condition before anything else changes."""
        found: list[Watch] = []
        for i in self.numeric:
            asked = self.asked[i]
            if asked.wanted():
                open_ = self.open.get(i)
                if open_ is None:
                    open_ = self.open[i] = self.world.facts.open_watches(asked.test)
                found += open_
        return found

    # -- acting

    def act(self) -> None:
        """Let everything act whose time or condition has come, once, in the fixed order."""
        world = self.world
        waking, self.waking = self.waking, False
        if self.begun:
            # What already holds as the flight begins is asked of people and troubles now.
            self.stale |= self.put_off
            self.put_off.clear()
        while self.begun and self.next_action_s() <= world.time_s:
            planned = self.queue[self.queued]
            self.queued += 1
            planned.act()
        for key in [key for key, at_s in self.timers.items() if at_s <= world.time_s]:
            del self.timers[key]
            self.expiring[key[0]](key[1])
        self._collect()
        for i in range(len(self.asked)):
            if i not in self.stale:
                continue
            self.stale.discard(i)
            asked = self.asked[i]
            if not self.begun and i < self.before_flight:
                self.put_off.add(i)
            elif asked.wanted():
                asked.answer(asked.test.holds(world.time_s, world.state, world.flows))
                self._collect()
        if waking:
            # A turn after its bus, so that sensors give their signals before a valve follows what it is told.
            self.valves.drive_all()
            self._collect()

    def _collect(self) -> None:
        touched = self.world.touched
        if not touched:
            return
        for part in touched:
            asked = self.by_part.get(part, ())
            self.stale.update(asked)
            # Which comparisons can turn a condition hangs on the states of the parts that it speaks of.
            for i in asked:
                self.open.pop(i, None)
        touched.clear()

    def refresh(self) -> None:
        """Look again at every condition on a quantity: time has passed or flows have changed."""
        self.stale.update(self.numeric)

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

        self.permit_tests[mover.name] = self.ask(mover.runs_when, answer)

    def permit_reason(self, name: str) -> Reason:
        """Why the automatics let a pump run, or stop it."""
        truth = self.permits[name]
        lead = "The automatics run it: " if truth else "The automatics stop it: "
        return self.world.explain(self.permit_tests[name], truth, "rule", f"{name}.runs_when", lead)

    # -- displays and alerts

    def _add_display(self, display: Display) -> None:
        def answer(truth: bool) -> None:
            reason = self.world.explain(test, truth, "rule", f"{display.name}.shown_when")
            self.world.change(display.name, "shown" if truth else "not available", reason)

        test = self.ask(display.shown_when, answer)

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
                    self._raise(alert.name)

        test = self.ask(alert.when, answer)
        self.permit_tests[alert.name] = test

    def _raise(self, name: str) -> None:
        world = self.world
        if not self.permit_tests[name].holds(world.time_s, world.state, world.flows):
            return  # its condition has ended at the very instant at which it would have lasted long enough
        told = world.explain(self.permit_tests[name], True, "rule", name)
        self.world.change(name, "on", Reason("rule", name, told.sentence, told.facts, told.causes))

    # -- the script's phases

    def phase(self, name: str) -> None:
        """The script has come to its next phase."""
        self.world.change(PHASE, name, Reason("action", "phase", ""))
        self._collect()

    def part(self, name: str) -> Part:
        """A part of this flight."""
        return self.world.aircraft.parts[name]

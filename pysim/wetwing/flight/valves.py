"""Valves: what they are told, where they go, and what keeps them from it."""

from typing import TYPE_CHECKING

from wetwing.aircraft.condition import Condition
from wetwing.aircraft.model import Valve
from wetwing.flight.phrases import mark
from wetwing.flight.record import Reason

if TYPE_CHECKING:
    from wetwing.flight.automation import Automation


class Valves:
    """The valves of one flight. `told` is what each is commanded to, `targets` where each is or goes."""

    def __init__(self, automation: "Automation") -> None:
        self.automation = automation
        self.world = automation.world
        self.valves = {valve.name: valve for valve in self.world.aircraft.valves}
        self.told: dict[str, str] = {}
        self.targets: dict[str, str] = {}
        for valve in self.valves.values():
            stands = "open" if self.world.is_in(valve.name, "open") else "shut"
            self.told[valve.name] = self.targets[valve.name] = stands
            if valve.opens_when:
                self._add(valve, valve.opens_when)
        automation.expiring["valve"] = self._arrived

    def _add(self, valve: Valve, opens_when: Condition) -> None:
        def answer(truth: bool) -> None:
            target = "open" if truth else "shut"
            if self.told[valve.name] != target:
                lead = "It is told to open: " if truth else "It is told to shut: "
                self.command(
                    valve,
                    target,
                    self.world.explain(test, truth, "rule", f"{valve.name}.opens_when", lead),
                )

        test = self.automation.ask(opens_when, answer)

    def command(self, valve: Valve, target: str, reason: Reason) -> None:
        """Tell a valve where to go; it goes there if nothing keeps it."""
        self.told[valve.name] = target
        self._drive(valve, reason)

    def drive_all(self) -> None:
        """Let every valve go where it is told or where its trouble puts it: power or troubles have turned."""
        for valve in self.valves.values():
            reason = self.world.trouble_reason(valve.name)
            if valve.bus and not reason.causes:
                label = self.world.aircraft.parts[valve.bus].label
                reason = Reason(
                    "physics", "power", f"{label} is powered again.", (), self.world.latest(valve.bus)
                )
            self._drive(valve, reason)

    def _drive(self, valve: Valve, reason: Reason) -> None:
        faults = self.world.plant.faults
        key = ("valve", valve.name)
        stuck = faults.stuck.get(valve.name, "")
        if stuck == "here" or not (stuck or self.automation.power.on(valve.bus)):
            self.automation.timers.pop(key, None)
            return
        goal = stuck or self.told[valve.name]
        moving = self.world.is_in(valve.name, "moving")
        if self.targets[valve.name] == goal and not (moving and key not in self.automation.timers):
            return
        self.targets[valve.name] = goal
        stroke_s = valve.stroke_s * faults.slow.get(valve.name, 1.0)
        self.automation.timers[key] = self.world.time_s + stroke_s
        self.world.change(valve.name, "moving", reason)

    def _arrived(self, name: str) -> None:
        valve = self.valves[name]
        stroke_s = valve.stroke_s * self.world.plant.faults.slow.get(name, 1.0)
        sentence = f"The valve has travelled for {mark(stroke_s, 's')}."
        reason = Reason("physics", "travel", sentence, (), self.world.latest(name))
        self.world.change(name, self.targets[name], reason)

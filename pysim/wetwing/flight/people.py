"""What people do: the script's actions and the reader's edits, at their times or on their conditions."""

from functools import partial
from typing import TYPE_CHECKING

from wetwing.aircraft.condition import Condition
from wetwing.aircraft.model import Control, Pump, Valve
from wetwing.flight.asking import Planned
from wetwing.flight.phrases import mark
from wetwing.flight.record import Command, Reason
from wetwing.flight.script import Action, Setting

if TYPE_CHECKING:
    from wetwing.flight.automation import Automation


class People:
    """The actions of one flight."""

    def __init__(self, automation: "Automation") -> None:
        self.automation = automation
        self.world = automation.world
        self.done: set[int] = set()
        self.entered: dict[str, float] = dict(self.world.facts.values)
        for i, action in enumerate(self.world.script.actions):
            if action.when:
                self._wait(i, action, action.when)
            elif action.at_s is not None:
                automation.plan(Planned(action.at_s, 0, i, partial(self._perform, action)))
        automation.expiring["action"] = self._waited

    def _wait(self, i: int, action: Action, when: Condition) -> None:
        self.automation.ask(when, lambda truth: self._answer(i, action, truth), lambda: i not in self.done)

    def _answer(self, i: int, action: Action, truth: bool) -> None:
        timers = self.automation.timers
        key = ("action", str(i))
        if not truth:
            timers.pop(key, None)
        elif action.after_s > 0.0:
            timers.setdefault(key, self.world.time_s + action.after_s)
        else:
            self.done.add(i)
            self._perform(action)

    def _waited(self, name: str) -> None:
        self.done.add(int(name))
        self._perform(self.world.script.actions[int(name)])

    def _perform(self, action: Action) -> None:
        for setting in action.settings:
            self._set(setting, action.note)

    def _set(self, setting: Setting, note: str) -> None:
        world = self.world
        part = world.aircraft.parts[setting.part]
        world.commands.append(Command(world.time_s, part.name, setting.state))
        sentence = note or f"{part.label} set to {setting.state}."
        if isinstance(part, Control):
            if part.name in world.plant.faults.stuck:
                return
            world.settings[part.name] = setting.state
            if part.quantity:
                self.entered[part.name] = float(setting.state.split(" ")[0])
                sentence = note or f"{part.label} set to {mark(self.entered[part.name], part.quantity.unit)}."
                self.count_entries()
            world.change(part.name, setting.state, Reason("action", "setting", sentence))
            return
        world.settings[part.name] = setting.state
        if isinstance(part, Pump):
            sentence = note or f"{part.label} switched {setting.state}."
            self.automation.acted_by[part.name] = Reason("action", "setting", sentence)
        elif isinstance(part, Valve):
            self.automation.valves.command(part, setting.state, Reason("action", "setting", sentence))

    def count_entries(self) -> None:
        """Numbers that are set count as they were entered, or wrongly where somebody took another unit."""
        factors = self.world.plant.faults.factors
        for name, value in self.entered.items():
            self.world.facts.values[name] = value * factors.get(name, 1.0)
        self.automation.refresh()

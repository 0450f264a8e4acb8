"""Engines and the APU: their starts, their stops, and their failures."""

from typing import TYPE_CHECKING

from wetwing.aircraft.model import Engine
from wetwing.flight.phrases import inner, mark
from wetwing.flight.record import Reason

if TYPE_CHECKING:
    from wetwing.flight.automation import Automation


class Users:
    """The engines and the APU of one flight."""

    def __init__(self, automation: "Automation") -> None:
        self.automation = automation
        self.world = automation.world
        self.users = {user.name: user for user in self.world.plant.users}
        for user in self.users.values():
            self._add(user)
        automation.expiring["user"] = self._started

    def _add(self, user: Engine) -> None:
        world = self.world

        def answer(truth: bool) -> None:
            state = world.states[world.index[user.name]]
            if truth and state == "off" and world.is_in(user.valve, "open"):
                self._start(user, world.explain(test, True, "rule", f"{user.name}.runs_when"))
            elif not truth and state != "off":
                self.automation.timers.pop(("user", user.name), None)
                world.change(user.name, "off", world.explain(test, False, "rule", f"{user.name}.runs_when"))

        test = self.automation.ask(user.runs_when, answer)
        # An engine also waits on its shut-off valve.
        self.automation.ask_again_with(user.valve, [len(self.automation.asked) - 1])

    def _start(self, user: Engine, told: Reason) -> None:
        world = self.world
        if world.plant.faults.failed[world.plant.user_index[user.name]]:
            return
        self.automation.timers["user", user.name] = world.time_s + user.start_s
        if user.propels:
            engines = world.aircraft.engines
            if not any(world.is_in(engine.name, "starting", "running") for engine in engines):
                world.facts.depart(world.time_s, world.state)
            world.state[world.plant.used_at + world.plant.user_index[user.name]] = 0.0
        valve = world.aircraft.parts[user.valve].label
        sentence = f"{valve} is open and {inner(told.sentence)}"
        causes = (*world.latest(user.valve), *told.causes)
        world.change(user.name, "starting", Reason("physics", "start", sentence, told.facts, causes))

    def _started(self, name: str) -> None:
        sentence = f"It has reached idle {mark(self.users[name].start_s, 's')} after its start began."
        reason = Reason("physics", "start-complete", sentence, (), self.world.latest(name))
        self.world.change(name, "running", reason)

    def fail(self, name: str) -> None:
        """An engine stops by a failure of its own."""
        self.automation.timers.pop(("user", name), None)
        if self.world.is_in(name, "starting", "running"):
            self.world.change(name, "failed", self.world.trouble_reason(name))

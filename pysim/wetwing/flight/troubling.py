"""Troubles in time: when each comes, when it goes, and whom to tell."""

from functools import partial
from typing import TYPE_CHECKING

from wetwing.aircraft.condition import Condition
from wetwing.flight.asking import Planned
from wetwing.flight.record import Reason
from wetwing.flight.troubles import Trouble, told, told_over
from wetwing.physics.dielectric import dielectric_constant
from wetwing.physics.fuel import density_kg_m3

if TYPE_CHECKING:
    from wetwing.flight.automation import Automation

ABSENT, PRESENT = "absent", "present"


class Troubling:
    """The troubles of one flight. Each is a part of the flight too, absent or present, so that it can be a
    cause.
    """

    def __init__(self, automation: "Automation") -> None:
        self.automation = automation
        self.world = automation.world
        self.done: set[str] = set()
        script = self.world.script
        self.troubles = {trouble.name: trouble for trouble in script.troubles}
        for i, trouble in enumerate(script.troubles):
            if trouble.when:
                self._wait(trouble, trouble.when)
            elif trouble.at_s is not None:
                automation.plan(Planned(trouble.at_s, 1, i, partial(self.begin, trouble)))
            if trouble.until_s is not None:
                automation.plan(Planned(trouble.until_s, 2, i, partial(self._over, trouble.name)))
        for i, mended in enumerate(script.mended):
            automation.plan(Planned(mended.time_s, 3, i, partial(self._mend, mended.part)))
        automation.expiring["trouble"] = lambda name: self.begin(self.troubles[name])
        automation.expiring["trouble-lasts"] = self._over

    def _wait(self, trouble: Trouble, when: Condition) -> None:
        def answer(truth: bool) -> None:
            key = ("trouble", trouble.name)
            if not truth:
                self.automation.timers.pop(key, None)
            elif trouble.after_s > 0.0:
                self.automation.timers.setdefault(key, self.world.time_s + trouble.after_s)
            else:
                self.begin(trouble)

        self.automation.ask(when, answer, lambda: trouble.name not in self.done)

    def begin(self, trouble: Trouble) -> None:
        """A trouble comes."""
        world = self.world
        if trouble.name in self.done:
            return
        self.done.add(trouble.name)
        part = world.aircraft.parts[trouble.part]
        shown = self._shown(trouble)
        world.plant.faults.begin(trouble, world.time_s, shown)
        if trouble.lasts_s is not None:
            self.automation.timers["trouble-lasts", trouble.name] = world.time_s + trouble.lasts_s
        sentence = trouble.note or told(trouble, part)
        world.change(trouble.name, PRESENT, Reason("trouble", trouble.kind, sentence))
        self._tell(trouble.part)

    def _over(self, name: str) -> None:
        if not self.world.is_in(name, PRESENT):
            return
        self.world.plant.faults.end(name)
        trouble = self.troubles[name]
        sentence = told_over(trouble, self.world.aircraft.parts[trouble.part])
        self.world.change(name, ABSENT, Reason("trouble", "mended", sentence, (), self.world.latest(name)))
        self._tell(trouble.part)

    def _mend(self, part: str) -> None:
        for name, trouble in self.troubles.items():
            if trouble.part == part:
                self._over(name)

    def _shown(self, trouble: Trouble) -> float:
        """What the part shows as its trouble comes: a frozen one goes on showing that."""
        world = self.world
        plant = world.plant
        aircraft = world.aircraft
        time_s, state = world.time_s, world.state
        by_tank = {probe.name: probe.tank for probe in aircraft.probes}
        by_tank |= {compensator.name: compensator.tank for compensator in aircraft.compensators}
        if trouble.part in by_tank:
            tank = plant.tank_index[by_tank[trouble.part]]
            if aircraft.parts[trouble.part].kind == "probe":
                return plant.volume_l(tank, state)
            return dielectric_constant(density_kg_m3(plant.density_15c, world.state[plant.tanks + tank]))
        if aircraft.parts[trouble.part].kind == "totaliser":
            total = plant.gauging.total_kg(time_s, state, plant.posture)
            return total if total == total else 0.0
        for meter in aircraft.meters:
            if meter.name == trouble.part:
                return world.flows.metered_kg_h[plant.user_index[meter.engine]]
        return 0.0

    def _tell(self, name: str) -> None:
        """Let whoever depends on a part look again."""
        automation = self.automation
        automation.world.plant.faults.version += 1
        automation.refresh()
        match self.world.aircraft.parts[name].kind:
            case "bus":
                automation.power.look_again(name)
            case "rule":
                automation.ruling.look_again(name)
            case "valve":
                automation.valves.drive_all()
                self.world.mirror(name)
            case "engine" | "apu":
                if self.world.plant.faults.failed[self.world.plant.user_index[name]]:
                    automation.users.fail(name)
            case "control":
                automation.people.count_entries()
            case "probe" | "compensator" | "meter" | "totaliser":
                automation.power.look_at_gauging()
            case _:
                pass

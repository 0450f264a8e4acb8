"""Electrical buses: which are powered, and what stops where one is dead."""

from typing import TYPE_CHECKING

from wetwing.aircraft.model import Bus
from wetwing.flight.record import Reason

if TYPE_CHECKING:
    from wetwing.flight.automation import Automation


class Power:
    """The buses of one flight."""

    def __init__(self, automation: "Automation") -> None:
        self.automation = automation
        self.world = automation.world
        self.asked: dict[str, int] = {}
        aircraft = self.world.aircraft
        self.gauging_parts = [(part.name, part.bus) for part in aircraft.probes]
        self.gauging_parts += [(part.name, part.bus) for part in aircraft.compensators]
        self.gauging_parts += [(part.name, part.bus) for part in aircraft.meters]
        self.gauging_parts += [(part.name, part.bus) for part in aircraft.totalisers]
        for bus in self.world.aircraft.buses:
            self._add(bus)
        self.look_at_gauging()

    def _add(self, bus: Bus) -> None:
        world = self.world

        def answer(truth: bool) -> None:
            lost = bus.name in world.plant.faults.lost
            after = "powered" if truth and not lost else "dead"
            if world.is_in(bus.name, after):
                return
            causes = world.trouble_causes(bus.name)
            mended = bool(causes) and world.changes[causes[0]].time_s == world.time_s
            if truth and (lost or mended):
                reason = world.trouble_reason(bus.name)
            else:
                reason = world.explain(test, truth, "rule", f"{bus.name}.powered_when")
            world.change(bus.name, after, reason)
            self.look_at_gauging()
            self.automation.waking = True

        self.asked[bus.name] = len(self.automation.asked)
        test = self.automation.ask(bus.powered_when, answer)

    def on(self, bus: str | None) -> bool:
        """Whether a part on that bus has power; what names no bus always has."""
        return bus is None or self.world.is_in(bus, "powered")

    def look_again(self, bus: str) -> None:
        """A bus is lost, or mended."""
        self.automation.stale.add(self.asked[bus])

    def look_at_gauging(self) -> None:
        """Which gauging parts give a signal now."""
        world = self.world
        faults = world.plant.faults
        silent = {
            name for name, bus in self.gauging_parts if not self.on(bus) or faults.has(name, "no signal")
        }
        world.plant.gauging.no_signal = silent
        faults.version += 1
        for name, bus in self.gauging_parts:
            after = "no signal" if name in silent else "reads"
            if not world.is_in(name, after):
                reason = world.trouble_reason(name)
                if bus is not None and not world.is_in(bus, "powered"):
                    label = world.aircraft.parts[bus].label
                    reason = Reason("physics", "power", f"{label} is dead.", (), world.latest(bus))
                elif after == "reads" and bus is not None and not reason.causes:
                    label = world.aircraft.parts[bus].label
                    reason = Reason("physics", "power", f"{label} is powered.", (), world.latest(bus))
                world.change(name, after, reason)
        self.automation.refresh()

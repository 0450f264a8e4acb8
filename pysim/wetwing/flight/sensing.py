"""Level sensors: what each shows by the fuel at its place, or by what is wrong with it, and why."""

from wetwing.aircraft.model import Sensor
from wetwing.flight.automation import Automation
from wetwing.flight.facts import Watch
from wetwing.flight.phrases import inner, mark, tilt_words
from wetwing.flight.record import Reason
from wetwing.flight.watches import dries, sensed_l, wets
from wetwing.flight.world import World

TURNED_L = 1.0
"""A sensor that turns with its tank further than this from its level has not been reached by the level."""


class Sensing:
    """The level sensors of one flight."""

    def __init__(self, world: World, automation: Automation) -> None:
        self.world = world
        self.automation = automation
        self.sensors = [(sensor, world.plant.tank_index[sensor.tank]) for sensor in world.aircraft.sensors]

    def watches(self) -> list[Watch]:
        """The level at which each sensor turns next; none for one that something else decides."""
        plant, posture = self.world.plant, self.world.plant.posture
        found: list[Watch] = []
        for k, (sensor, tank) in enumerate(self.sensors):
            if self._forced(sensor):
                continue
            if self.world.is_in(sensor.name, "wet"):
                found.append(dries(plant, sensor.name, tank, posture.dry_l[k]))
            else:
                found.append(wets(plant, sensor.name, tank, posture.wet_l[k]))
        return found

    def act(self) -> None:
        """Let every sensor show what it should."""
        world = self.world
        plant = world.plant
        for k, (sensor, tank) in enumerate(self.sensors):
            state = world.states[world.index[sensor.name]]
            after = self._forced(sensor)
            if after:
                if after != state:
                    world.change(sensor.name, after, self._why_forced(sensor))
                continue
            volume_l = sensed_l(plant, sensor.name, tank)(world.time_s, world.state)
            wet_l, dry_l = plant.posture.wet_l[k], plant.posture.dry_l[k]
            if state == "wet":
                after = "dry" if volume_l <= dry_l else "wet"
            elif state == "dry":
                after = "wet" if volume_l >= wet_l else "dry"
            else:
                after = "wet" if volume_l >= wet_l else "dry"
            if after != state:
                world.change(sensor.name, after, self._why_sensed(sensor, k, tank, state, after))

    def _forced(self, sensor: Sensor) -> str:
        """The state that a trouble or want of power gives a level sensor, whatever the level; or nothing."""
        faults = self.world.plant.faults
        if sensor.name not in faults.slips and self.automation.power.on(sensor.bus):
            return ""
        if not self.automation.power.on(sensor.bus) or faults.has(sensor.name, "no signal"):
            return "no signal"
        if faults.has(sensor.name, "frozen"):
            return self.world.states[self.world.index[sensor.name]]
        if faults.has(sensor.name, "stuck wet"):
            return "wet"
        return "dry" if faults.has(sensor.name, "stuck dry") else ""

    def _why_forced(self, sensor: Sensor) -> Reason:
        if sensor.bus and not self.automation.power.on(sensor.bus):
            label = self.world.aircraft.parts[sensor.bus].label
            return Reason("physics", "power", f"{label} is dead.", (), self.world.latest(sensor.bus))
        return self.world.trouble_reason(sensor.name)

    def _why_sensed(self, sensor: Sensor, k: int, tank: int, before: str, after: str) -> Reason:
        world = self.world
        posture = world.plant.posture
        label = world.aircraft.tanks[tank].label
        rate = mark(abs(world.flows.slopes[tank]) * 3600.0, "kg/h")
        causes = tuple(world.tank_causes(tank))
        if sensor.name in world.troubles_of:
            causes = tuple(sorted({*world.trouble_causes(sensor.name), *causes}, reverse=True)[:2])
        tilt = tilt_words(posture.pitch_deg, posture.roll_deg)
        at_l = posture.dry_l[k] if after == "dry" else posture.wet_l[k]
        true_l = world.plant.volume_l(tank, world.state)
        way = "fallen" if after == "dry" else "risen"
        if rate == mark(0.0, "kg/h"):
            rate = "as its fuel cools" if after == "dry" else "as its fuel warms"
        else:
            rate = f"{'losing' if after == 'dry' else 'gaining'} {rate}"
        if before == "no signal":
            sentence = f"It now gives a signal, and is {after}."
            causes = (*world.latest(sensor.bus), *causes)[:2] if sensor.bus else causes
        elif sensor.name in world.plant.faults.slips:
            bound = f"{mark(at_l, 'L')} or {'less' if after == 'dry' else 'more'}"
            sentence = f"It takes {inner(label)} to hold {bound}{tilt}, though it holds {mark(true_l, 'L')}."
        elif abs(true_l - at_l) > TURNED_L:
            # Not the level has come to it, but the surface has turned or a trouble has gone.
            reaches = "no longer reaches" if after == "dry" else "reaches"
            sentence = f"{label} holds {mark(true_l, 'L')}{tilt}: the fuel {reaches} it."
        else:
            sentence = f"{label} has {way} to {mark(at_l, 'L')}{tilt}, {rate}."
        return Reason("physics", "level", sentence, (), causes)

"""Vents and their surge spaces: what a full tank spills gathers there, drains back, or is lost overboard."""

from wetwing.flight.facts import Watch
from wetwing.flight.phrases import inner, mark
from wetwing.flight.record import Reason
from wetwing.flight.watches import falls_in, rises_in, volume_falls_to, volume_rises_to
from wetwing.flight.world import World

FIRST_KG = 1.0
"""While a tank still spills, a surge space gathers so much before it drains: else it would not rest."""

ROOM_L = 40.0
"""A surge space begins to drain when its tank has this much room, and stops when a quarter of it is left: a
tank that is filled again at once would only spill what it was given.
"""


class Vents:
    """The vents of one flight."""

    def __init__(self, world: World) -> None:
        self.world = world
        self.draining = [False] * len(world.aircraft.vents)

    def surging(self) -> tuple[str, ...]:
        """For each vent: "draining", "full", or "" where its surge space only gathers, or there is none."""
        world = self.world
        found = []
        for i, vent in enumerate(world.aircraft.vents):
            if world.is_in(vent.name, "spilling") and vent.surge_l > 0.0:
                found.append("full")
            else:
                found.append("draining" if self.draining[i] else "")
        return tuple(found)

    def _full_kg(self, i: int) -> float:
        return self.world.aircraft.vents[i].surge_l * self.world.plant.density_15c * 1e-3

    def watches(self) -> list[Watch]:
        """Every comparison whose turning changes what a vent does."""
        world = self.world
        plant = world.plant
        found: list[Watch] = []
        for i, vent in enumerate(world.aircraft.vents):
            at = plant.surge_at + i
            if vent.surge_l <= 0.0 or world.is_in(vent.name, "dry"):
                continue
            if world.is_in(vent.name, "holding"):
                found.append(rises_in(at, self._full_kg(i)))
            tank = plant.drains[i]
            if tank >= 0:
                at_l = world.aircraft.tanks[tank].overflow.at_l
                if self.draining[i]:
                    found.append(falls_in(at, 0.0))
                    found.append(volume_rises_to(plant, tank, at_l - 0.25 * ROOM_L))
                else:
                    found.append(volume_falls_to(plant, tank, at_l - ROOM_L))
                    found.append(rises_in(at, FIRST_KG))
        return found

    def act(self) -> None:
        """Put every vent into the state that its surge space and its tanks give it."""
        world = self.world
        plant = world.plant
        for i, vent in enumerate(world.aircraft.vents):
            held_kg = world.state[plant.surge_at + i]
            coming = world.flows.vent_kg_h[i] + max(world.flows.surge_kg_h[i], 0.0) > 0.0
            if vent.surge_l <= 0.0:
                after = "spilling" if coming else "dry"
            elif held_kg >= self._full_kg(i) and coming:
                after = "spilling"
            else:
                after = "holding" if held_kg > 0.0 or coming else "dry"
            if not world.is_in(vent.name, after):
                world.change(vent.name, after, self._reason(i, after))

    def cover(self) -> None:
        """Let surge spaces begin or stop draining: before the network is made, since what drains flows."""
        for i in range(len(self.draining)):
            self._drain(i, self.world.state[self.world.plant.surge_at + i])

    def _drain(self, i: int, held_kg: float) -> None:
        world = self.world
        plant = world.plant
        tank = plant.drains[i]
        if tank < 0:
            return
        at_l = world.aircraft.tanks[tank].overflow.at_l
        volume_l = plant.volume_l(tank, world.state)
        if self.draining[i]:
            self.draining[i] = held_kg > 0.0 and volume_l < at_l - 0.25 * ROOM_L
            if held_kg <= 0.0:
                # The last grams: an event is found within a hair, and a space that is empty holds nothing.
                world.state[plant.surge_at + i] = max(held_kg, 0.0)
        else:
            vent = world.aircraft.vents[i].name
            over = [tank.name for tank in world.aircraft.tanks if tank.overflow.to == vent]
            least_kg = FIRST_KG if any(world.is_in(name, "spilling") for name in over) else 0.0
            self.draining[i] = held_kg > 0.0 and held_kg >= least_kg and volume_l <= at_l - ROOM_L

    def _reason(self, i: int, after: str) -> Reason:
        world = self.world
        vent = world.aircraft.vents[i]
        over = [tank for tank in world.aircraft.tanks if tank.overflow.to == vent.name]
        causes = sorted((world.last[world.index[tank.name]] for tank in over), reverse=True)
        if after == "spilling":
            flow = mark(world.flows.vent_kg_h[i] + max(world.flows.surge_kg_h[i], 0.0), "kg/h")
            sentence = f"Fuel leaves the aircraft here at {flow}."
            if vent.surge_l > 0.0:
                sentence = f"Its surge space is full at {mark(vent.surge_l, 'L')}: {inner(sentence)}"
        elif after == "holding":
            sentence = f"Its surge space takes what spills: {mark(vent.surge_l, 'L')} at the most."
        elif vent.surge_l > 0.0:
            sentence = "Its surge space has drained."
        else:
            sentence = "No tank spills into it any more."
        return Reason("physics", "overflow", sentence, (), tuple(c for c in causes[:1] if c >= 0))

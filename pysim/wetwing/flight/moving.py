"""What carries fuel of itself: gravity transfers, return lines, jet pumps and outlets, and why each flows or
rests.
"""

from wetwing.flight.automation import Automation
from wetwing.flight.mouths import WETS_KG
from wetwing.flight.phrases import mark, state_words
from wetwing.flight.record import Reason
from wetwing.flight.world import World

PASSING_KG_H = 1e-6


class Moving:
    """The movers of one flight. `jet_covered` says which jet pumps fuel still reaches."""

    def __init__(self, world: World, automation: Automation, jet_covered: list[bool]) -> None:
        self.world = world
        self.automation = automation
        self.jet_covered = jet_covered

    def act(self) -> None:
        """Put every mover into the state that its flow gives it."""
        self._transfers()
        self._returns()
        self._jets()
        self._outlets()

    def _transfers(self) -> None:
        world = self.world
        flows = world.flows
        for i, (a, _, transfer) in enumerate(world.plant.transfers):
            self._mover(transfer.name, flows.transfer_kg_h[i] > 0.0, transfer.valve, a)

    def _returns(self) -> None:
        world = self.world
        flows = world.flows
        for i, (_, tank, returning) in enumerate(world.plant.returns):
            flowing = flows.return_kg_h[i] > 0.0
            if flowing or world.is_in(returning.engine, "running"):
                self._mover(returning.name, flowing, returning.valve, tank)
            else:
                engine = world.aircraft.parts[returning.engine]
                cause = world.last[world.index[engine.name]]
                state = world.states[world.index[engine.name]]
                said = state_words(engine, state)
                reason = Reason(
                    "physics",
                    "flow",
                    f"{said[:1].upper()}{said[1:]}: it returns nothing.",
                    (),
                    (cause,) if cause >= 0 else (),
                )
                world.change(returning.name, "resting", reason)

    def _jets(self) -> None:
        world = self.world
        flows = world.flows
        for i, (a, _, _, jet) in enumerate(world.plant.jets):
            acted = self.automation.acted_by.pop(jet.name, None)
            permitted = self.automation.permits[jet.name]
            flowing = flows.jet_kg_h[i] > 0.0
            after = "flowing" if flowing else "dry" if permitted and not self.jet_covered[i] else "resting"
            if not world.is_in(jet.name, after):
                label = world.aircraft.tanks[a].label
                held = mark(world.state[a], "kg")
                sentence = f"{label} is down to {held}: nothing is left within its reach."
                dry = Reason("physics", "pick-up-uncovered", sentence, (), tuple(world.tank_causes(a)))
                if world.is_in(jet.name, "dry") and permitted:
                    sentence = f"{label} holds {held}: fuel is within its reach again."
                    acted = Reason("physics", "level", sentence, (), tuple(world.tank_causes(a)))
                motive = world.last[world.index[jet.motive]]
                other = Reason(
                    "physics",
                    "motive-flow",
                    "Its motive pump has changed.",
                    (),
                    (motive,) if motive >= 0 else (),
                )
                world.change(jet.name, after, dry if after == "dry" else acted or other)

    def _outlets(self) -> None:
        world = self.world
        for i, outlet in enumerate(world.aircraft.outlets):
            flow = world.flows.outlet_kg_h[i]
            after = "flowing" if flow > PASSING_KG_H else "dry"
            if world.is_in(outlet.name, after):
                continue
            sentence = "Nothing comes out of it any more."
            if after == "flowing":
                sentence = f"Fuel leaves the aircraft here at {mark(flow, 'kg/h')}."
            valves = [v for v in world.aircraft.valves if v.ends and outlet.name in v.ends]
            latest = sorted((world.last[world.index[valve.name]] for valve in valves), reverse=True)
            causes = tuple(cause for cause in latest[:1] if cause >= 0)
            world.change(outlet.name, after, Reason("physics", "flow", sentence, (), causes))

    def _mover(self, name: str, flowing: bool, valve: str | None, tank: int) -> None:
        world = self.world
        after = "flowing" if flowing else "resting"
        if world.is_in(name, after):
            return
        if valve is None:
            what = "stands higher" if flowing else "stands no higher"
            sentence = f"{world.aircraft.tanks[tank].label} {what} than where it leads."
            causes = tuple(world.tank_causes(tank)[:1])
            world.change(name, after, Reason("physics", "level", sentence, (), causes))
            return
        cause = world.last[world.index[valve]]
        label = world.aircraft.parts[valve].label
        tank_label = world.aircraft.tanks[tank].label
        causes = (cause,) if cause >= 0 else ()
        if flowing and cause >= 0 and world.changes[cause].time_s == world.time_s:
            sentence = f"{label} has opened."
        elif flowing and world.aircraft.parts[name].kind == "transfer":
            held = mark(world.state[tank], "kg")
            sentence = f"{tank_label} holds {held} and stands higher than where it leads."
            causes = tuple(sorted({*causes, *world.tank_causes(tank)[:1]}, reverse=True))
        elif flowing:
            sentence = f"{label} is open, and its engine runs."
        elif not world.is_in(valve, "shut"):
            left = world.state[tank] > world.aircraft.tanks[tank].unusable_kg + WETS_KG
            why = "stands no higher than where it leads" if left else f"holds {mark(world.state[tank], 'kg')}"
            sentence = f"{tank_label} {why}: nothing more flows."
        else:
            sentence = f"{label} has shut."
        world.change(name, after, Reason("physics", "flow", sentence, (), causes))

"""What physics does to the parts' states: levels reach sensors, pick-ups uncover, check valves shut, tanks
spill, engines starve.

The watches and the states are two uses of the same comparisons, so an event that was found is an event that
is acted on.
"""

from collections.abc import Callable

from wetwing.aircraft.model import Engine
from wetwing.flight.automation import Automation
from wetwing.flight.facts import Watch
from wetwing.flight.feeding import Feeding
from wetwing.flight.phrases import inner, mark
from wetwing.flight.plant import Flows
from wetwing.flight.record import Reason
from wetwing.flight.watches import (
    falls_to,
    gain_kg_s,
    gains,
    opens,
    rises_to,
    spill_ends,
    starves,
    volume_falls_to,
    volume_rises_to,
)
from wetwing.flight.wiring import Active, Configuration
from wetwing.flight.world import NEVER, World

PASSING_KG_H = 1e-6
TRANSFER_RECOVERS_KG = 10.0
RUNNING = ("delivering", "running, held back", "running, nothing drawn")


class Happenings:
    """Physics' own changes of one flight."""

    def __init__(
        self, world: World, automation: Automation, configuration: Callable[[], Configuration]
    ) -> None:
        self.world = world
        self.automation = automation
        self.feeding = Feeding(world, automation, configuration)
        plant = world.plant
        state = world.state
        self.transfer_covered = [
            state[a] > self._transfer_stops(i) for i, (a, _, _) in enumerate(plant.transfers)
        ]
        self.jet_covered = [state[a] > jet.stops_kg for a, _, _, jet in plant.jets]
        self.drag_tests = [world.facts.test(condition) for condition, _ in world.aircraft.airframe.extra_drag]
        self.sensors = [(sensor, plant.tank_index[sensor.tank]) for sensor in world.aircraft.sensors]

    def _transfer_stops(self, i: int) -> float:
        # A gravity pipe leaves what lies below its mouth: the tank's unusable fuel.
        return self.world.aircraft.tanks[self.world.plant.transfers[i][0]].unusable_kg

    # -- what is on

    def active(self) -> Active:
        """What the configuration depends on."""
        world = self.world
        plant = world.plant
        states, index = world.states, world.index
        aircraft = world.aircraft

        def passes(valve: str) -> bool:
            return states[index[valve]] != "shut"

        return Active(
            sources=tuple(
                [self.feeding.covered[i] and self.feeding.running(i) for i in range(len(plant.sources))]
            ),
            valves=tuple([states[index[valve.name]] for valve in aircraft.valves]),
            users=tuple([states[index[user.name]] for user in plant.users]),
            returns=tuple(
                [passes(r.valve) and states[index[r.engine]] == "running" for _, _, r in plant.returns]
            ),
            transfers=tuple(
                [passes(t.valve) and self.transfer_covered[i] for i, (_, _, t) in enumerate(plant.transfers)]
            ),
            jets=tuple(
                [
                    self.automation.permits[j.name]
                    and self.jet_covered[i]
                    and states[index[j.motive]] in RUNNING
                    for i, (_, _, _, j) in enumerate(plant.jets)
                ]
            ),
            spilling=tuple([states[index[tank.name]] == "spilling" for tank in aircraft.tanks]),
            extra_drag=tuple(
                [test.holds(world.time_s, world.state, world.flows) for test in self.drag_tests]
            ),
        )

    # -- detecting

    def watches(self) -> list[Watch]:
        """Every comparison whose turning is an event of physics."""
        world = self.world
        plant = world.plant
        found: list[Watch] = []
        for i, tank in enumerate(plant.source_tanks):
            if tank >= 0:
                source = plant.sources[i]
                covered = self.feeding.covered[i]
                found.append(
                    falls_to(tank, source.uncovers_kg) if covered else rises_to(tank, source.recovers_kg)
                )
        for i, (a, _, _) in enumerate(plant.transfers):
            stops = self._transfer_stops(i)
            covered = self.transfer_covered[i]
            found.append(falls_to(a, stops) if covered else rises_to(a, stops + TRANSFER_RECOVERS_KG))
        for i, (a, _, _, jet) in enumerate(plant.jets):
            found.append(falls_to(a, jet.stops_kg) if self.jet_covered[i] else rises_to(a, jet.recovers_kg))
        for sensor, tank in self.sensors:
            wet = world.is_in(sensor.name, "wet")
            found.append(
                volume_falls_to(plant, tank, sensor.dry_at_l)
                if wet
                else volume_rises_to(plant, tank, sensor.wet_at_l)
            )
        for i, part in enumerate(world.aircraft.tanks):
            holding = world.is_in(part.name, "holding")
            if not holding:
                found.append(spill_ends(i))
            elif plant.volume_l(i, world.state) >= part.overflow.at_l:
                # Full, but losing: it spills when it begins to gain, which its volume alone does not tell.
                found.append(gains(plant, i, part.overflow.at_l))
            else:
                found.append(volume_rises_to(plant, i, part.overflow.at_l))
        for i, source in enumerate(plant.sources):
            if self.feeding.covered[i] and self.feeding.running(i):
                found.append(opens(plant.node_index[source.node], source.shut_off_bar))
        for i, user in enumerate(plant.users):
            if world.is_in(user.name, "starting", "running"):
                found.append(starves(plant.user_nodes[i], user.inlet_least_bar))
        return found

    # -- acting

    def cover(self) -> None:
        """Pick-ups and mouths uncover and cover again: before the network is made, since what is dry gives
        nothing.
        """
        world = self.world
        state = world.state
        self.feeding.cover()
        for i, (a, _, _) in enumerate(world.plant.transfers):
            stops = self._transfer_stops(i)
            self.transfer_covered[i] = (
                state[a] > stops if self.transfer_covered[i] else state[a] >= stops + TRANSFER_RECOVERS_KG
            )
        for i, (a, _, _, jet) in enumerate(world.plant.jets):
            self.jet_covered[i] = (
                state[a] > jet.stops_kg if self.jet_covered[i] else state[a] >= jet.recovers_kg
            )

    def act(self) -> None:
        """Put every part into the state that physics gives it, once, in a fixed order."""
        self._sources()
        self._nodes()
        self._lines()
        self._movers()
        self._tanks()
        self._sensors()
        self._users()

    def _sources(self) -> None:
        world = self.world
        turned = [(i, self.feeding.state(i)) for i, source in enumerate(world.plant.sources)]
        turned = [(i, after) for i, after in turned if not world.is_in(world.plant.sources[i].name, after)]
        # Whoever has just been switched or run dry comes first: what follows from it can point at it.
        turned.sort(
            key=lambda pair: (
                world.plant.sources[pair[0]].name not in self.automation.acted_by,
                pair[1] != "dry",
            )
        )
        for i, after in turned:
            name = world.plant.sources[i].name
            acted = self.automation.acted_by.pop(name, None)
            world.change(name, after, self.feeding.reason(i, after, acted))
        self.automation.acted_by = {
            name: reason
            for name, reason in self.automation.acted_by.items()
            if world.aircraft.parts[name].kind == "jet-pump"
        }

    def _nodes(self) -> None:
        world = self.world
        for i, node in enumerate(world.aircraft.nodes):
            after = "fed" if world.flows.node_fed[i] else "unfed"
            if not world.is_in(node.name, after):
                causes = tuple(world.node_causes(node.name)[:1])
                sentence = "A source reaches it." if after == "fed" else "No source reaches it any more."
                world.change(node.name, after, Reason("physics", "pressure", sentence, (), causes))

    def _lines(self) -> None:
        world = self.world
        first = len(world.aircraft.valves)
        for k, check in enumerate(world.aircraft.check_valves):
            passing = world.flows.line_kg_h[first + k] > PASSING_KG_H
            sentence = (
                "Fuel is drawn beyond it."
                if passing
                else "Nothing is drawn beyond it, or the pressure there is higher."
            )
            world.change(
                check.name,
                "passing" if passing else "shut",
                Reason("physics", "pressure", sentence, (), self.feeding.line_causes(check)),
            )

    def _movers(self) -> None:
        world = self.world
        flows = world.flows
        for i, (a, _, transfer) in enumerate(world.plant.transfers):
            self._mover(transfer.name, flows.transfer_kg_h[i] > 0.0, transfer.valve, a)
        for i, (_, tank, returning) in enumerate(world.plant.returns):
            flowing = flows.return_kg_h[i] > 0.0
            if flowing or world.is_in(returning.engine, "running"):
                self._mover(returning.name, flowing, returning.valve, tank)
            else:
                engine = world.aircraft.parts[returning.engine]
                cause = world.last[world.index[engine.name]]
                state = world.states[world.index[engine.name]]
                reason = Reason(
                    "physics",
                    "flow",
                    f"{engine.label} is {state}: it returns nothing.",
                    (),
                    (cause,) if cause >= 0 else (),
                )
                world.change(returning.name, "resting", reason)
        for i, (a, _, _, jet) in enumerate(world.plant.jets):
            acted = self.automation.acted_by.pop(jet.name, None)
            permitted = self.automation.permits[jet.name]
            flowing = flows.jet_kg_h[i] > 0.0
            after = "flowing" if flowing else "dry" if permitted and not self.jet_covered[i] else "resting"
            if not world.is_in(jet.name, after):
                label = world.aircraft.tanks[a].label
                sentence = (
                    f"{label} is down to {mark(world.state[a], 'kg')}: nothing is left within its reach."
                )
                dry = Reason("physics", "pick-up-uncovered", sentence, (), tuple(world.tank_causes(a)))
                motive = world.last[world.index[jet.motive]]
                other = Reason(
                    "physics",
                    "motive-flow",
                    "Its motive pump has changed.",
                    (),
                    (motive,) if motive >= 0 else (),
                )
                world.change(jet.name, after, dry if after == "dry" else acted or other)

    def _mover(self, name: str, flowing: bool, valve: str, tank: int) -> None:
        world = self.world
        after = "flowing" if flowing else "resting"
        if world.is_in(name, after):
            return
        cause = world.last[world.index[valve]]
        label = world.aircraft.parts[valve].label
        tank_label = world.aircraft.tanks[tank].label
        if flowing:
            sentence = f"{label} has opened."
        elif not world.is_in(valve, "shut"):
            sentence = f"{tank_label} holds {mark(world.state[tank], 'kg')}: nothing more flows."
        else:
            sentence = f"{label} has shut."
        world.change(name, after, Reason("physics", "flow", sentence, (), (cause,) if cause >= 0 else ()))

    def _tanks(self) -> None:
        world = self.world
        plant = world.plant
        for i, to, at_l in plant.overflow_order:
            tank = world.aircraft.tanks[i]
            if world.is_in(tank.name, "spilling"):
                if world.flows.spill_kg_h[i] < 0.0:
                    reason = Reason(
                        "physics",
                        "overflow-ends",
                        f"{tank.label} now loses more than it gains.",
                        (),
                        tuple(world.tank_turns(i)),
                    )
                    world.change(tank.name, "holding", reason)
            elif plant.volume_l(i, world.state) >= at_l:
                gain = gain_kg_s(plant, i, at_l, world.flows)
                if gain > 0.0:
                    goes = world.aircraft.tanks[to].label if to >= 0 else world.aircraft.vents[-1 - to].label
                    flow = mark(gain * 3600.0, "kg/h")
                    sentence = (
                        f"{tank.label} is full at {mark(at_l, 'L')}: {flow} more comes in than leaves, "
                        f"and goes over into {inner(goes)}."
                    )
                    world.change(
                        tank.name,
                        "spilling",
                        Reason("physics", "overflow", sentence, (), tuple(world.tank_causes(i))),
                    )
        for i, vent in enumerate(world.aircraft.vents):
            spilling = world.flows.vent_kg_h[i] > 0.0
            if spilling != world.is_in(vent.name, "spilling"):
                over = [tank for tank in world.aircraft.tanks if tank.overflow.to == vent.name]
                causes = sorted((world.last[world.index[tank.name]] for tank in over), reverse=True)
                flow = mark(world.flows.vent_kg_h[i], "kg/h")
                sentence = (
                    f"Fuel leaves the aircraft here at {flow}."
                    if spilling
                    else "No tank spills into it any more."
                )
                reason = Reason("physics", "overflow", sentence, (), tuple(c for c in causes[:1] if c >= 0))
                world.change(vent.name, "spilling" if spilling else "dry", reason)

    def _sensors(self) -> None:
        world = self.world
        for sensor, tank in self.sensors:
            volume_l = world.plant.volume_l(tank, world.state)
            wet = world.is_in(sensor.name, "wet")
            turned = volume_l <= sensor.dry_at_l if wet else volume_l >= sensor.wet_at_l
            if turned:
                label = world.aircraft.tanks[tank].label
                rate = mark(abs(world.flows.slopes[tank]) * 3600.0, "kg/h")
                if wet:
                    sentence = f"{label} has fallen to {mark(sensor.dry_at_l, 'L')}, losing {rate}."
                else:
                    sentence = f"{label} has risen to {mark(sensor.wet_at_l, 'L')}, gaining {rate}."
                reason = Reason("physics", "level", sentence, (), tuple(world.tank_causes(tank)))
                world.change(sensor.name, "dry" if wet else "wet", reason)

    def _users(self) -> None:
        # One at a time, the worst fed first: what it no longer draws may be enough for the others.
        world = self.world
        starving: list[tuple[float, int]] = []
        for i, user in enumerate(world.plant.users):
            if world.is_in(user.name, "starting", "running"):
                node = world.plant.user_nodes[i]
                lack = user.inlet_least_bar - world.flows.node_bar[node]
                if not world.flows.node_fed[node]:
                    lack = NEVER
                if lack > 0.0:
                    starving.append((-lack, i))
        if starving:
            i = min(starving)[1]
            self._starve(world.plant.users[i], world.flows.node_bar[world.plant.user_nodes[i]], world.flows)

    def _starve(self, user: Engine, bar: float, flows: Flows) -> None:
        world = self.world
        self.automation.timers.pop(("user", user.name), None)
        label = inner(world.aircraft.parts[user.node].label)
        fed = flows.node_fed[world.plant.node_index[user.node]]
        why = (
            f"at {mark(bar, 'bar')}, less than the {mark(user.inlet_least_bar, 'bar')} it can draw against"
            if fed
            else "fed by nothing"
        )
        sources = [s.name for s in world.plant.sources if s.node == user.node]
        latest = sorted((world.last[world.index[name]] for name in sources), reverse=True)
        reason = Reason(
            "physics", "starvation", f"The {label} is {why}.", (), tuple(c for c in latest[:3] if c >= 0)
        )
        world.change(user.name, "stopped for want of fuel", reason)

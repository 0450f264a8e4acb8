"""What physics does to the parts' states: levels reach sensors, pick-ups uncover, check valves shut, tanks spill, engines starve.

The watches and the states are two uses of the same comparisons, so an event that was found is an event that is acted on.
"""

from collections.abc import Callable

from wetwing.aircraft.model import CheckValve, Engine, Sensor
from wetwing.flight.automation import Automation
from wetwing.flight.facts import Watch, source_bar
from wetwing.flight.phrases import inner, mark
from wetwing.flight.plant import Active, Configuration, Flows
from wetwing.flight.record import Reason
from wetwing.flight.world import World
from wetwing.physics.fuel import DENSITY_SLOPE_KG_M3_K

OPENING_BAR = 1e-9
"""A check valve is open when the pressure behind it is higher than the pressure before it by more than this."""

PASSING_KG_H = 1e-6
TRANSFER_RECOVERS_KG = 10.0
RUNNING = ("delivering", "running, held back", "running, nothing drawn")


class Happenings:
    """Physics' own changes of one flight."""

    def __init__(self, world: World, automation: Automation, configuration: Callable[[], Configuration]) -> None:
        self.configuration = configuration
        self.world = world
        self.automation = automation
        plant = world.plant
        self.pumps = len(world.aircraft.pumps)
        self.bypasses = self.pumps + len(world.aircraft.bypasses)
        state = plant.start()
        self.covered = [tank < 0 or state[tank] > source.uncovers_kg for source, tank in zip(plant.sources, plant.source_tanks, strict=True)]
        self.transfer_covered = [state[a] > self._transfer_stops(i) for i, (a, _, _) in enumerate(plant.transfers)]
        self.jet_covered = [state[a] > jet.stops_kg for a, _, _, jet in plant.jets]
        self.drag_tests = [world.facts.test(condition) for condition, _ in world.aircraft.airframe.extra_drag]
        self.sensors = [(sensor, plant.tank_index[sensor.tank]) for sensor in world.aircraft.sensors]

    def _transfer_stops(self, i: int) -> float:
        # A gravity pipe leaves what lies below its mouth: the tank's unusable fuel.
        return self.world.aircraft.tanks[self.world.plant.transfers[i][0]].unusable_kg

    # -- what is on

    def running(self, i: int) -> bool:
        """Whether source i is driven: by its switch and the automatics' leave; a bypass always is."""
        source = self.world.plant.sources[i]
        if source.kind == "bypass":
            return True
        switched = self.world.settings[source.name] == "on" if source.crew else True
        return switched and self.automation.permits[source.name]

    def active(self) -> Active:
        """What the configuration depends on."""
        world = self.world
        plant = world.plant
        states, index = world.states, world.index
        aircraft = world.aircraft

        def passes(valve: str) -> bool:
            return states[index[valve]] != "shut"

        return Active(
            sources=tuple([self.covered[i] and self.running(i) for i in range(len(plant.sources))]),
            valves=tuple([states[index[valve.name]] for valve in aircraft.valves]),
            users=tuple([states[index[user.name]] for user in plant.users]),
            returns=tuple([passes(r.valve) and states[index[r.engine]] == "running" for _, _, r in plant.returns]),
            transfers=tuple([passes(t.valve) and self.transfer_covered[i] for i, (_, _, t) in enumerate(plant.transfers)]),
            jets=tuple(
                [
                    self.automation.permits[j.name] and self.jet_covered[i] and states[index[j.motive]] in RUNNING
                    for i, (_, _, _, j) in enumerate(plant.jets)
                ]
            ),
            spilling=tuple([states[index[tank.name]] == "spilling" for tank in aircraft.tanks]),
            extra_drag=tuple([test.holds(world.time_s, world.state, world.flows) for test in self.drag_tests]),
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
                found.append(_below(tank, source.uncovers_kg) if self.covered[i] else _above(tank, source.recovers_kg))
        for i, (a, _, _) in enumerate(plant.transfers):
            stops = self._transfer_stops(i)
            found.append(_below(a, stops) if self.transfer_covered[i] else _above(a, stops + TRANSFER_RECOVERS_KG))
        for i, (a, _, _, jet) in enumerate(plant.jets):
            found.append(_below(a, jet.stops_kg) if self.jet_covered[i] else _above(a, jet.recovers_kg))
        for sensor, tank in self.sensors:
            found.append(self._level(sensor, tank))
        for i, part in enumerate(world.aircraft.tanks):
            if world.is_in(part.name, "holding"):
                found.append(Watch(lambda t, y, f, i=i, at=part.overflow.at_l: plant.volume_l(i, y) - at, False, False))  # type: ignore[misc]
            else:
                found.append(Watch(lambda t, y, f, i=i: -f.spill_kg_h[i], True, True))  # type: ignore[misc]
        return found

    def flow_watches(self) -> list[Watch]:
        """The events that need the network solved: check valves that open or shut, inlet pressures."""
        world = self.world
        plant = world.plant
        found: list[Watch] = []
        for i, source in enumerate(plant.sources):
            if self.covered[i] and self.running(i):
                node, head = plant.node_index[source.node], source.shut_off_bar
                found.append(Watch(lambda t, y, f, n=node, h=head: h - f.node_bar[n] - OPENING_BAR, True, True))  # type: ignore[misc]
        for i, user in enumerate(plant.users):
            if world.is_in(user.name, "starting", "running"):
                node, least = plant.user_nodes[i], user.inlet_least_bar
                found.append(Watch(lambda t, y, f, n=node, v=least: v - f.node_bar[n], True, True))  # type: ignore[misc]
        return found

    def _level(self, sensor: Sensor, tank: int) -> Watch:
        plant = self.world.plant
        if self.world.is_in(sensor.name, "dry"):
            return Watch(lambda t, y, f, at=sensor.wet_at_l: plant.volume_l(tank, y) - at, False, False)  # type: ignore[misc]
        return Watch(lambda t, y, f, at=sensor.dry_at_l: at - plant.volume_l(tank, y), False, False)  # type: ignore[misc]

    # -- acting

    def cover(self) -> None:
        """Pick-ups uncover and cover again: before the network is made, since a dry pump is no source."""
        world = self.world
        state = world.state
        for i, tank in enumerate(world.plant.source_tanks):
            if tank >= 0:
                source = world.plant.sources[i]
                limit = source.uncovers_kg if self.covered[i] else source.recovers_kg
                self.covered[i] = state[tank] > limit if self.covered[i] else state[tank] >= limit
        for i, (a, _, _) in enumerate(world.plant.transfers):
            stops = self._transfer_stops(i)
            self.transfer_covered[i] = state[a] > stops if self.transfer_covered[i] else state[a] >= stops + TRANSFER_RECOVERS_KG
        for i, (a, _, _, jet) in enumerate(world.plant.jets):
            self.jet_covered[i] = state[a] > jet.stops_kg if self.jet_covered[i] else state[a] >= jet.recovers_kg

    def act(self) -> None:
        """Put every part into the state that physics gives it, once, in a fixed order."""
        self._sources()
        self._lines()
        self._movers()
        self._tanks()
        self._sensors()
        self._users()

    def _sources(self) -> None:
        world = self.world
        turned = [(i, self._source_state(i)) for i, source in enumerate(world.plant.sources)]
        turned = [(i, after) for i, after in turned if not world.is_in(world.plant.sources[i].name, after)]
        # Whoever has just been switched comes first: pressure changes that follow from it can point at it.
        turned.sort(key=lambda pair: world.plant.sources[pair[0]].name not in self.automation.acted_by)
        for i, after in turned:
            name = world.plant.sources[i].name
            acted = self.automation.acted_by.pop(name, None)
            world.change(name, after, self._source_reason(i, after, acted))
        self.automation.acted_by = {
            name: reason for name, reason in self.automation.acted_by.items() if world.aircraft.parts[name].kind == "jet-pump"
        }

    def _source_state(self, i: int) -> str:
        world = self.world
        source = world.plant.sources[i]
        node_bar = world.flows.node_bar[world.plant.node_index[source.node]]
        open_ = source.shut_off_bar - node_bar > OPENING_BAR
        if source.kind == "bypass":
            return "dry" if not self.covered[i] else "feeding" if open_ and world.flows.source_kg_h[i] > 0.0 else "resting"
        if source.kind == "supply":
            return "off" if not self.running(i) else "delivering" if open_ else "nothing drawn"
        if source.crew and world.settings[source.name] == "off":
            return "off"
        if not self.automation.permits[source.name]:
            return "stopped by automatics" if source.crew else "off"
        if not self.covered[i]:
            return "dry"
        if open_:
            return "delivering"
        # A pump that is just held back stands at the very pressure of its rival: what flows there tells them apart.
        drawn = any(world.flows.source_kg_h[k] > 0.0 for k in self._near(i))
        return "running, held back" if drawn or node_bar > source.shut_off_bar + OPENING_BAR else "running, nothing drawn"

    def _source_reason(self, i: int, after: str, acted: Reason | None) -> Reason:
        world = self.world
        source = world.plant.sources[i]
        if after == "stopped by automatics":
            held = self.automation.permit_reason(source.name)
            if acted and acted.kind == "action":
                return Reason("action", "setting", f"{acted.sentence} {held.sentence}", held.facts, held.causes)
            return held
        if acted:
            return acted
        node = world.aircraft.parts[source.node]
        if after == "dry":
            tank = world.plant.source_tanks[i]
            label = world.aircraft.tanks[tank].label
            sentence = f"{label} is down to {mark(world.state[tank], 'kg')}: its pick-up is uncovered and it draws air."
            return Reason("physics", "pick-up-uncovered", sentence, (), tuple(world.tank_causes(tank)))
        bar = world.flows.node_bar[world.plant.node_index[source.node]]
        causes = self._rivals(i)
        lead = ""
        if not causes:
            # Nothing has been switched: the engines' demand has moved the pressure.
            drawn = sum(world.flows.source_kg_h[k] for k in (i, *self._near(i)))
            lead = f"The demand is now {mark(drawn, 'kg/h')}. "
        if after == "running, held back":
            stronger = self._strongest(i)
            sentence = (
                f"{lead}{stronger} keeps the {inner(node.label)} at {mark(bar, 'bar')}, more than its own {mark(source.shut_off_bar, 'bar')}: "
                "its check valve stays shut."
            )
        elif after == "resting":
            sentence = f"The {inner(node.label)} is at {mark(bar, 'bar')}: its check valve stays shut."
        elif after in ("delivering", "feeding"):
            own = mark(source_bar(world.plant, world.states, world.index, i, world.flows), "bar")
            sentence = f"{lead}At {own} it pushes harder than the {inner(node.label)} holds: its check valve opens and it feeds."
            if source.kind == "supply":
                sentence = f"A refuelling valve is open: fuel leaves the supply at {own}."
        else:
            sentence = f"Nothing is drawn from the {inner(node.label)}."
        return Reason("physics", "pressure", sentence, (), causes)

    def _near(self, i: int) -> list[int]:
        """Sources, other than i, whose pressure reaches its node now."""
        plant = self.world.plant
        node = plant.node_index[plant.sources[i].node]
        nodes = next((c.nodes for c in self.configuration().components if node in c.nodes), (node,))
        return [k for k, source in enumerate(plant.sources) if k != i and plant.node_index[source.node] in nodes]

    def _strongest(self, i: int) -> str:
        flows = self.world.flows.source_kg_h
        best = max(self._near(i), key=lambda k: flows[k], default=i)
        return self.world.plant.sources[best].label

    def _rivals(self, i: int) -> tuple[int, ...]:
        """Changes that have altered the pressure at a source's node: of the sources that reach it, its users, its valves."""
        world = self.world
        plant = world.plant
        near = self._near(i)
        node = plant.sources[i].node
        names = [plant.sources[k].name for k in near if plant.sources[k].kind != "bypass"]
        names += [user.name for user in plant.users if user.node == node]
        names += [valve.name for valve in world.aircraft.valves if valve.ends and node in valve.ends]
        latest = sorted((world.last[world.index[name]] for name in names), reverse=True)
        return tuple([c for c in latest if c >= 0 and world.changes[c].time_s == world.time_s][:2])

    def _lines(self) -> None:
        world = self.world
        first = len(world.aircraft.valves)
        for k, check in enumerate(world.aircraft.check_valves):
            passing = world.flows.line_kg_h[first + k] > PASSING_KG_H
            sentence = "Fuel is drawn beyond it." if passing else "Nothing is drawn beyond it, or the pressure there is higher."
            world.change(check.name, "passing" if passing else "shut", Reason("physics", "pressure", sentence, (), self._line_causes(check)))

    def _line_causes(self, check: CheckValve) -> tuple[int, ...]:
        world = self.world
        names = [user.name for user in world.plant.users if user.node == check.to_node]
        names += [source.name for source in world.plant.sources if source.node in (check.from_node, check.to_node)]
        latest = sorted((world.last[world.index[name]] for name in names), reverse=True)
        return tuple(c for c in latest[:2] if c >= 0)

    def _movers(self) -> None:
        world = self.world
        flows = world.flows
        for i, (a, _, transfer) in enumerate(world.plant.transfers):
            self._mover(transfer.name, flows.transfer_kg_h[i] > 0.0, transfer.valve, a)
        for i, (_, tank, returning) in enumerate(world.plant.returns):
            self._mover(returning.name, flows.return_kg_h[i] > 0.0, returning.valve, tank)
        for i, (a, _, _, jet) in enumerate(world.plant.jets):
            acted = self.automation.acted_by.pop(jet.name, None)
            permitted = self.automation.permits[jet.name]
            flowing = flows.jet_kg_h[i] > 0.0
            after = "flowing" if flowing else "dry" if permitted and not self.jet_covered[i] else "resting"
            if not world.is_in(jet.name, after):
                label = world.aircraft.tanks[a].label
                sentence = f"{label} is down to {mark(world.state[a], 'kg')}: nothing is left within its reach."
                dry = Reason("physics", "pick-up-uncovered", sentence, (), tuple(world.tank_causes(a)))
                motive = world.last[world.index[jet.motive]]
                other = Reason("physics", "motive-flow", "Its motive pump has changed.", (), (motive,) if motive >= 0 else ())
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
        n = plant.tanks
        for i, to, at_l in plant.overflow_order:
            tank = world.aircraft.tanks[i]
            if world.is_in(tank.name, "spilling"):
                if world.flows.spill_kg_h[i] < 0.0:
                    reason = Reason("physics", "overflow-ends", f"{tank.label} now loses more than it gains.", (), tuple(world.tank_causes(i)))
                    world.change(tank.name, "holding", reason)
            elif plant.volume_l(i, world.state) >= at_l:
                slopes = world.flows.slopes
                gain = slopes[i] - at_l * 1e-3 * DENSITY_SLOPE_KG_M3_K * slopes[n + i]
                if gain > 0.0:
                    goes = world.aircraft.tanks[to].label if to >= 0 else world.aircraft.vents[-1 - to].label
                    flow = mark(gain * 3600.0, "kg/h")
                    sentence = f"{tank.label} is full at {mark(at_l, 'L')}: {flow} more comes in than leaves, and goes over into {inner(goes)}."
                    world.change(tank.name, "spilling", Reason("physics", "overflow", sentence, (), tuple(world.tank_causes(i))))
        for i, vent in enumerate(world.aircraft.vents):
            spilling = world.flows.vent_kg_h[i] > 0.0
            if spilling != world.is_in(vent.name, "spilling"):
                over = [tank for tank in world.aircraft.tanks if tank.overflow.to == vent.name]
                causes = sorted((world.last[world.index[tank.name]] for tank in over), reverse=True)
                flow = mark(world.flows.vent_kg_h[i], "kg/h")
                sentence = f"Fuel leaves the aircraft here at {flow}." if spilling else "No tank spills into it any more."
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
        world = self.world
        for i, user in enumerate(world.plant.users):
            if world.is_in(user.name, "starting", "running"):
                node = world.plant.user_nodes[i]
                bar = world.flows.node_bar[node]
                if not world.flows.node_fed[node] or bar < user.inlet_least_bar:
                    self._starve(user, bar, world.flows)

    def _starve(self, user: Engine, bar: float, flows: Flows) -> None:
        world = self.world
        self.automation.timers.pop(("user", user.name), None)
        label = inner(world.aircraft.parts[user.node].label)
        fed = flows.node_fed[world.plant.node_index[user.node]]
        why = f"at {mark(bar, 'bar')}, less than the {mark(user.inlet_least_bar, 'bar')} that it can draw against" if fed else "fed by nothing"
        sources = [s.name for s in world.plant.sources if s.node == user.node]
        latest = sorted((world.last[world.index[name]] for name in sources), reverse=True)
        reason = Reason("physics", "starvation", f"The {label} is {why}.", (), tuple(c for c in latest[:3] if c >= 0))
        world.change(user.name, "stopped for want of fuel", reason)


def _below(tank: int, kg: float) -> Watch:
    return Watch(lambda t, y, f: kg - y[tank], False, False)


def _above(tank: int, kg: float) -> Watch:
    return Watch(lambda t, y, f: y[tank] - kg, False, False)

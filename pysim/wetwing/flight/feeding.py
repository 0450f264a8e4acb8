"""Pumps, bypasses and supplies: what state pressure puts them in, and why.

The words follow from the solved network: a source delivers when its check valve is open, is held back when a
stronger one keeps it shut, and says so in the reason.
"""

from collections.abc import Callable

from wetwing.aircraft.model import CheckValve
from wetwing.flight.automation import Automation
from wetwing.flight.phrases import inner, mark, tilt_words
from wetwing.flight.record import Reason
from wetwing.flight.watches import OPENING_BAR
from wetwing.flight.wiring import Configuration
from wetwing.flight.world import World


class Feeding:
    """The sources of one flight: which are driven, which have fuel at their pick-up, and what they do."""

    def __init__(
        self, world: World, automation: Automation, configuration: Callable[[], Configuration]
    ) -> None:
        self.world = world
        self.automation = automation
        self.configuration = configuration
        plant = world.plant
        self.covered = [
            tank < 0 or plant.volume_l(tank, world.state) > plant.posture.uncovers_l[i]
            for i, tank in enumerate(plant.source_tanks)
        ]

    def running(self, i: int) -> bool:
        """Whether source i is driven: by its switch, the automatics' leave and power; a bypass always is."""
        plant = self.world.plant
        source = plant.sources[i]
        if source.kind == "bypass":
            return True
        if plant.faults.stopped[i] or not self.automation.power.on(source.bus):
            return False
        switched = self.world.settings[source.name] == "on" if source.crew else True
        return switched and self.automation.permits[source.name]

    def gives(self, i: int) -> bool:
        """Whether source i can give fuel: it is driven, and its pick-up is covered."""
        return self.covered[i] and self.running(i)

    def cover(self) -> None:
        """Pick-ups uncover and cover again: before the network is made, since a dry pump is no source."""
        plant = self.world.plant
        posture = plant.posture
        for i, tank in enumerate(plant.source_tanks):
            if tank >= 0:
                held_l = plant.volume_l(tank, self.world.state)
                covered = self.covered[i]
                self.covered[i] = (
                    held_l > posture.uncovers_l[i] if covered else held_l >= posture.recovers_l[i]
                )

    def branches(self, i: int) -> bool:
        """Whether fuel can pass source i: driven, or backwards through a check valve that is stuck open."""
        check = self.world.plant.faults.checks[i]
        if check:
            return check == "open"
        return self.gives(i)

    def checks(self) -> tuple[str, ...]:
        """What is wrong with each source's check valve, as `Active` has it.

        One that is stuck open lets fuel back, and gives no more than a sound one would.
        """
        return tuple(
            [
                "back" if check == "open" and not self.gives(i) else check
                for i, check in enumerate(self.world.plant.faults.checks)
            ]
        )

    def state(self, i: int) -> str:
        """The state of source i by its switch, the automatics, its tank and the solved network."""
        world = self.world
        source = world.plant.sources[i]
        node_bar = world.flows.node_bar[world.plant.node_index[source.node]]
        head_bar = world.flows.fed.source_head_bar[i]
        flow_kg_h = world.flows.source_kg_h[i]
        check = world.plant.faults.checks[i]
        open_ = head_bar - node_bar > OPENING_BAR and check != "shut"
        if check == "open" and flow_kg_h < 0.0:
            return "flowing back"
        if source.kind == "bypass":
            if not self.covered[i]:
                return "dry"
            return "feeding" if open_ and flow_kg_h > 0.0 else "resting"
        if source.kind == "supply":
            return "off" if not self.running(i) else "delivering" if open_ else "nothing drawn"
        stopped = world.plant.faults.stopped[i]
        if source.crew and world.settings[source.name] == "off":
            return "failed" if stopped == "failed" else "off"
        if stopped:
            return stopped
        if not self.automation.permits[source.name]:
            return "stopped by automatics" if source.crew else "off"
        if not self.automation.power.on(source.bus):
            return "no power"
        if not self.covered[i]:
            return "dry"
        if open_:
            return "delivering"
        # A pump that is just held back stands at its rival's very pressure: what flows there tells them
        # apart.
        drawn = any(world.flows.source_kg_h[k] > 0.0 for k in self._near(i))
        return (
            "running, held back"
            if drawn or check == "shut" or node_bar > head_bar + OPENING_BAR
            else "running, nothing drawn"
        )

    def reason(self, i: int, after: str, acted: Reason | None) -> Reason:
        """Why source i comes into state `after`; `acted` is who has just switched it, if anybody has."""
        world = self.world
        source = world.plant.sources[i]
        if after == "stopped by automatics":
            held = self.automation.permit_reason(source.name)
            if acted and acted.kind == "action":
                return Reason(
                    "action", "setting", f"{acted.sentence} {held.sentence}", held.facts, held.causes
                )
            return held
        if after == "flowing back":
            return self._flowing_back(i, acted)
        if acted:
            return acted
        if after == "failed" or (after == "no power" and world.plant.faults.stopped[i]):
            return world.trouble_reason(source.name)
        if after == "no power" and source.bus:
            label = world.aircraft.parts[source.bus].label
            return Reason("physics", "power", f"{label} is dead.", (), world.latest(source.bus))
        node = world.aircraft.parts[source.node]
        if after == "dry":
            tank = world.plant.source_tanks[i]
            label = world.aircraft.tanks[tank].label
            left = mark(world.state[tank], "kg")
            posture = world.plant.posture
            tilt = tilt_words(posture.pitch_deg, posture.roll_deg)
            sentence = f"{label} is down to {left}{tilt}: its pick-up is uncovered and it draws air."
            return Reason("physics", "pick-up-uncovered", sentence, (), tuple(world.tank_causes(tank)))
        bar = world.flows.node_bar[world.plant.node_index[source.node]]
        head_bar = world.flows.fed.source_head_bar[i] or source.shut_off_bar
        causes = self._rivals(i)
        if world.plant.faults.checks[i] == "shut" and after == "running, held back":
            told = world.trouble_reason(source.name)
            both = tuple(dict.fromkeys((*told.causes, *causes)))[:2]
            return Reason("trouble", told.name, told.sentence, (), both)
        lead = ""
        back = self._back(i)
        if back:
            lead, causes = f"{back.sentence} ", tuple(dict.fromkeys((*back.causes, *causes)))[:2]
        elif not causes:
            # Nothing has been switched: the engines' demand has moved the pressure.
            drawn = sum(world.flows.source_kg_h[k] for k in (i, *self._near(i)))
            lead = f"The demand is now {mark(drawn, 'kg/h')}. "
        if after == "running, held back":
            stronger = self._strongest(i)
            own = f"its own {mark(head_bar, 'bar')}"
            more = "a hair more than its own" if mark(bar, "bar") in own else f"more than {own}"
            sentence = (
                f"{lead}{stronger} keeps the {inner(node.label)} at {mark(bar, 'bar')}, "
                f"{more}: its check valve stays shut."
            )
        elif after == "resting":
            lead = lead if back else ""
            sentence = f"{lead}The {inner(node.label)} is at {mark(bar, 'bar')}: its check valve stays shut."
        elif after in ("delivering", "feeding"):
            # Its check valve is open, so it gives what its node holds.
            own = mark(bar, "bar")
            where = inner(node.label)
            sentence = (
                f"{lead}At {own} it pushes harder than the {where} holds: its check valve opens and it feeds."
            )
            if source.kind == "supply":
                sentence = f"A refuelling valve is open: fuel leaves the supply at {own}."
            elif source.kind == "bypass":
                sentence = f"{lead}The {where} is down to {own}: its check valve opens and suction feeds."
        else:
            lead = lead if back else ""
            sentence = f"{lead}Nothing is drawn from the {inner(node.label)}."
        return Reason("physics", "pressure", sentence, (), causes)

    def _back(self, i: int) -> Reason | None:
        """What has just let source i run again: fuel at its pick-up, power on its bus, a trouble's end."""
        world = self.world
        source = world.plant.sources[i]
        tank = world.plant.source_tanks[i]
        if tank >= 0 and world.is_in(source.name, "dry"):
            held = f"{world.aircraft.tanks[tank].label} holds {mark(world.state[tank], 'kg')}"
            return Reason(
                "physics",
                "level",
                f"{held}: its pick-up is covered again.",
                (),
                tuple(world.tank_causes(tank)),
            )
        if not world.is_in(source.name, "no power", "failed"):
            return None
        told = world.trouble_reason(source.name)
        if told.causes and world.changes[told.causes[0]].time_s == world.time_s:
            return told
        if source.bus is None:
            return None
        label = world.aircraft.parts[source.bus].label
        return Reason("physics", "power", f"{label} is powered again.", (), world.latest(source.bus))

    def _flowing_back(self, i: int, acted: Reason | None) -> Reason:
        """Fuel passes a check valve that is stuck open: the trouble, and who has just stopped the pump."""
        told = self.world.trouble_reason(self.world.plant.sources[i].name)
        lead = f"{acted.sentence} " if acted else ""
        flow = mark(-self.world.flows.source_kg_h[i], "kg/h")
        sentence = f"{lead}{told.sentence} {flow} flow back into its tank."
        causes = (*told.causes, *(acted.causes if acted else self._rivals(i)))
        return Reason("trouble", told.name, sentence, (), tuple(dict.fromkeys(causes))[:2])

    def _near(self, i: int) -> list[int]:
        """Sources, other than i, whose pressure reaches its node now."""
        plant = self.world.plant
        node = plant.node_index[plant.sources[i].node]
        nodes = self._joined(node)
        return [
            k for k, source in enumerate(plant.sources) if k != i and plant.node_index[source.node] in nodes
        ]

    def _joined(self, node: int) -> set[int]:
        """The nodes that open lines join to a node, twigs among them."""
        configuration = self.configuration()
        nodes = {node}
        grew = True
        while grew:
            before = len(nodes)
            for twig in configuration.twigs:
                if twig.before >= 0 and (twig.node in nodes or twig.before in nodes):
                    nodes |= {twig.node, twig.before}
            for component in configuration.components:
                if nodes.intersection(component.nodes):
                    nodes |= set(component.nodes)
            grew = len(nodes) > before
        return nodes

    def _strongest(self, i: int) -> str:
        # Where nothing is drawn, the highest pressure at no flow is the stronger.
        flows, heads = self.world.flows.source_kg_h, self.world.flows.fed.source_head_bar
        best = max(self._near(i), key=lambda k: (flows[k], heads[k]), default=i)
        return self.world.plant.sources[best].label

    def _rivals(self, i: int) -> tuple[int, ...]:
        """Changes that have altered the pressure at a source's node: of the sources that reach it, its users,
        its valves.
        """
        world = self.world
        plant = world.plant
        near = self._near(i)
        joined = self._joined(plant.node_index[plant.sources[i].node])
        nodes = [name for name, at in plant.node_index.items() if at in joined]
        names = [plant.sources[k].name for k in near if plant.sources[k].kind != "bypass"]
        names += [user.name for user in plant.users if user.node in nodes]
        names += [
            v.name for v in world.aircraft.valves if v.ends and (v.ends[0] in nodes or v.ends[1] in nodes)
        ]
        names += [valve.name for valve in world.aircraft.check_valves if valve.from_node in nodes]
        troubled = [cause for name in (*names, *nodes) for cause in world.trouble_causes(name)]
        troubled += world.trouble_causes(plant.sources[i].name)
        latest = sorted({*(world.last[world.index[name]] for name in names), *troubled}, reverse=True)
        return tuple([c for c in latest if c >= 0 and world.changes[c].time_s == world.time_s][:2])

    def line_causes(self, check: CheckValve) -> tuple[int, ...]:
        """Changes that have altered the flow through a one-way line."""
        world = self.world
        names = [user.name for user in world.plant.users if user.node == check.to_node]
        names += [
            source.name for source in world.plant.sources if source.node in (check.from_node, check.to_node)
        ]
        latest = sorted((world.last[world.index[name]] for name in names), reverse=True)
        return tuple(c for c in latest[:2] if c >= 0)

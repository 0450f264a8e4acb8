"""Pumps, bypasses and supplies: what state pressure puts them in, and why.

The words follow from the solved network: a source delivers when its check valve is open, is held back when a
stronger one keeps it shut, and says so in the reason.
"""

from collections.abc import Callable

from wetwing.aircraft.model import CheckValve
from wetwing.flight.automation import Automation
from wetwing.flight.facts import source_bar
from wetwing.flight.phrases import inner, mark
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
            tank < 0 or world.state[tank] > source.uncovers_kg
            for source, tank in zip(plant.sources, plant.source_tanks, strict=True)
        ]

    def running(self, i: int) -> bool:
        """Whether source i is driven: by its switch and the automatics' leave; a bypass always is."""
        source = self.world.plant.sources[i]
        if source.kind == "bypass":
            return True
        switched = self.world.settings[source.name] == "on" if source.crew else True
        return switched and self.automation.permits[source.name]

    def cover(self) -> None:
        """Pick-ups uncover and cover again: before the network is made, since a dry pump is no source."""
        for i, tank in enumerate(self.world.plant.source_tanks):
            if tank >= 0:
                source = self.world.plant.sources[i]
                held_kg = self.world.state[tank]
                covered = self.covered[i]
                self.covered[i] = held_kg > source.uncovers_kg if covered else held_kg >= source.recovers_kg

    def state(self, i: int) -> str:
        """The state of source i by its switch, the automatics, its tank and the solved network."""
        world = self.world
        source = world.plant.sources[i]
        node_bar = world.flows.node_bar[world.plant.node_index[source.node]]
        open_ = source.shut_off_bar - node_bar > OPENING_BAR
        if source.kind == "bypass":
            if not self.covered[i]:
                return "dry"
            return "feeding" if open_ and world.flows.source_kg_h[i] > 0.0 else "resting"
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
        # A pump that is just held back stands at its rival's very pressure: what flows there tells them
        # apart.
        drawn = any(world.flows.source_kg_h[k] > 0.0 for k in self._near(i))
        return (
            "running, held back"
            if drawn or node_bar > source.shut_off_bar + OPENING_BAR
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
        if acted:
            return acted
        node = world.aircraft.parts[source.node]
        if after == "dry":
            tank = world.plant.source_tanks[i]
            label = world.aircraft.tanks[tank].label
            left = mark(world.state[tank], "kg")
            sentence = f"{label} is down to {left}: its pick-up is uncovered and it draws air."
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
                f"{lead}{stronger} keeps the {inner(node.label)} at {mark(bar, 'bar')}, "
                f"more than its own {mark(source.shut_off_bar, 'bar')}: its check valve stays shut."
            )
        elif after == "resting":
            sentence = f"The {inner(node.label)} is at {mark(bar, 'bar')}: its check valve stays shut."
        elif after in ("delivering", "feeding"):
            own = mark(source_bar(world.plant, world.states, world.index, i, world.flows), "bar")
            where = inner(node.label)
            sentence = (
                f"{lead}At {own} it pushes harder than the {where} holds: its check valve opens and it feeds."
            )
            if source.kind == "supply":
                sentence = f"A refuelling valve is open: fuel leaves the supply at {own}."
        else:
            sentence = f"Nothing is drawn from the {inner(node.label)}."
        return Reason("physics", "pressure", sentence, (), causes)

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
        flows = self.world.flows.source_kg_h
        best = max(self._near(i), key=lambda k: flows[k], default=i)
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
        latest = sorted((world.last[world.index[name]] for name in names), reverse=True)
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

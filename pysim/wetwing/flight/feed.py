"""The feed network at one time: heads from density and levels, losses from viscosity, and where fuel goes."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wetwing.flight.path import Place
from wetwing.flight.wiring import Component, Configuration
from wetwing.physics.air import GRAVITY_M_S2
from wetwing.physics.fuel import (
    COLDEST_C,
    DENSITY_SLOPE_KG_M3_K,
    HOTTEST_C,
    REFERENCE_C,
    enthalpy_j_kg,
)
from wetwing.physics.viscosity import viscosity_factor

if TYPE_CHECKING:
    from wetwing.flight.plant import Plant

PUMP_DENSITY_KG_M3 = 800.0
"""Density at which the pumps' curves are given."""

PER_HOUR = 1.0 / 3600.0


@dataclass(slots=True)
class Fed:
    """The network's pressures and flows, and what it takes from tanks and brings to them.

    `inflow` and `outflow` are kg/s a tank; `heat_in` and `air_in` are inflow times enthalpy and share of air.
    `node_c` and `node_air` are temperature and share of air of what reaches each node.
    """

    node_bar: list[float]
    node_fed: list[bool]
    node_c: list[float]
    node_air: list[float]
    node_water_l: list[float]
    node_thickness: list[float]
    source_kg_h: list[float]
    source_head_bar: list[float]
    line_kg_h: list[float]
    motive_kg_h: list[float]
    outlet_kg_h: list[float]
    late_kg_h: list[float]
    inflow: list[float]
    outflow: list[float]
    heat_in: list[float]
    air_in: list[float]
    vacuum_bar: list[float]
    uplift_kg_h: float = 0.0
    leaked_kg_h: float = 0.0


class Feed:
    """The network of one flight's plant."""

    def __init__(self, plant: "Plant") -> None:
        self.plant = plant
        aircraft = plant.aircraft
        self.nodes = len(aircraft.nodes)
        self.lines = len(plant.lines)
        self.uplift_c = plant.script.uplift_temperature_c
        self.bottoms = [tank.bottom_m for tank in aircraft.tanks]
        self.reliefs = [aircraft.vents[vent].relief_bar for vent in plant.tank_vents]

    def _heads_bar(self, component: Component, state: list[float], fed: Fed) -> list[float]:
        """Pressures of the sources at no flow: their own, as the fuel's density and level make them."""
        plant = self.plant
        attitudes = plant.posture.attitudes
        heads = []
        # Most sources of a tank stand side by side: what its fuel does to them is worked out once.
        last = -1
        density = column_bar = 0.0
        for source, own_bar in zip(component.sources, component.own_bar, strict=True):
            tank = plant.source_tanks[source]
            if tank < 0:
                heads.append(own_bar)
                continue
            if tank != last:
                last = tank
                density = plant.density_15c + DENSITY_SLOPE_KG_M3_K * (
                    state[plant.tanks + tank] - REFERENCE_C
                )
                level_m = attitudes[tank].level_m(1000.0 * state[tank] / density) - self.bottoms[tank]
                column_bar = density * GRAVITY_M_S2 * level_m * 1e-5
            heads.append(own_bar * density / PUMP_DENSITY_KG_M3 + column_bar - fed.vacuum_bar[tank])
        return heads

    def solve(
        self,
        configuration: Configuration,
        drawn: list[float],
        state: list[float],
        here: Place,
        *,
        whole: bool,
    ) -> Fed:
        """Pressures and flows that meet what the users draw; unless `whole`, no more than the tanks feel."""
        plant = self.plant
        n = plant.tanks
        fed = Fed(
            [0.0] * self.nodes,
            [False] * self.nodes,
            [here.skin_c] * self.nodes,
            [0.0] * self.nodes,
            [0.0] * self.nodes,
            [1.0] * self.nodes,
            [0.0] * len(plant.sources),
            [0.0] * len(plant.sources),
            [0.0] * self.lines,
            [0.0] * len(plant.jets),
            [0.0] * len(plant.aircraft.outlets),
            [0.0] * len(plant.users),
            [0.0] * n,
            [0.0] * n,
            [0.0] * n,
            [0.0] * n,
            [0.0] * n,
        )
        active = configuration.active
        if active.vents_blocked:
            for tank, vent in enumerate(plant.tank_vents):
                if active.vents_blocked[vent]:
                    fed.vacuum_bar[tank] = self.reliefs[tank]
        demand_t_h = [0.0] * self.nodes
        for user, node in enumerate(plant.user_nodes):
            if drawn[user]:
                demand_t_h[node] += drawn[user] / 1000.0
        for twig in configuration.twigs:
            if twig.before >= 0:
                demand_t_h[twig.before] += demand_t_h[twig.node]
        for component in configuration.components:
            self._component(component, demand_t_h, state, fed, whole)
        for twig in reversed(configuration.twigs):
            if twig.before >= 0 and fed.node_fed[twig.before]:
                flow = demand_t_h[twig.node]
                linear = twig.branch.linear_bar_h_t * fed.node_thickness[twig.before]
                drop = (linear + twig.branch.square_bar_h2_t2 * flow) * flow
                fed.node_bar[twig.node] = fed.node_bar[twig.before] - drop
                fed.node_fed[twig.node] = True
                fed.node_c[twig.node] = fed.node_c[twig.before]
                fed.node_air[twig.node] = fed.node_air[twig.before]
                fed.node_thickness[twig.node] = fed.node_thickness[twig.before]
                fed.node_water_l[twig.node] = fed.node_water_l[twig.before]
                fed.line_kg_h[twig.line] = twig.sign * flow * 1000.0
        return fed

    def _component(
        self,
        component: Component,
        demand_t_h: list[float],
        state: list[float],
        fed: Fed,
        whole: bool,
    ) -> None:
        plant = self.plant
        n = plant.tanks
        if component.single_tank >= 0 and not whole:
            # Whatever its pumps share, one tank gives the demand.
            node, tank = component.nodes[0], component.single_tank
            fed.outflow[tank] += demand_t_h[node] / 3.6
            fed.node_fed[node] = True
            fed.node_c[node] = state[n + tank]
            fed.node_air[node] = state[plant.air_at + tank]
            return
        heads = self._heads_bar(component, state, fed)
        for source, head in zip(component.sources, heads, strict=True):
            fed.source_head_bar[source] = head
        network = component.network
        heads += network.heads_bar[len(heads) :]
        giving: Sequence[int] = range(len(component.sources))
        if component.back_only:
            giving = [k for k in giving if k not in component.back_only]
            for k in component.back_only:
                heads[k] = -heads[k]
        leading = -1
        if giving:
            strongest = max(giving, key=heads.__getitem__)
            leading = plant.source_tanks[component.sources[strongest]]
        leading_c = state[n + leading] if leading >= 0 else self.uplift_c
        # A step that tries too far may leave what the viscosity is known for, before it is taken back.
        thickness = viscosity_factor(min(max(leading_c, COLDEST_C), HOTTEST_C))
        if component.simple and not whole and leading >= 0:
            strongest, second = network.ranked(heads)
            branch = network.branches[strongest]
            node = component.nodes[0]
            demand = demand_t_h[node]
            drop = (branch.linear_bar_h_t * thickness + branch.square_bar_h2_t2 * demand) * demand
            if heads[strongest] - drop >= second:
                fed.outflow[leading] += demand / 3.6
                fed.node_fed[node] = True
                fed.node_c[node] = leading_c
                fed.node_air[node] = state[plant.air_at + leading]
                return
        solution = network.solve([demand_t_h[node] for node in component.nodes], heads, thickness)
        flows = solution.flows_t_h
        for k in component.back_only:
            flows[k] = 0.0 - flows[k]
        mixed_c, mixed_air, heat = self._mixture(component, flows, state, leading, leading_c)
        for k, node in enumerate(component.nodes):
            fed.node_bar[node] = solution.pressures_bar[k]
            fed.node_fed[node] = solution.fed[k]
            if not solution.fed[k]:
                continue
            fed.node_c[node] = mixed_c
            fed.node_air[node] = mixed_air
            fed.node_thickness[node] = thickness
            fed.node_water_l[node] = plant.faults.water_l[leading] if leading >= 0 else 0.0
        for k, source in enumerate(component.sources):
            flow = flows[k]
            fed.source_kg_h[source] = flow * 1000.0
            tank = plant.source_tanks[source]
            if tank < 0:
                fed.uplift_kg_h += flow * 1000.0
            elif flow >= 0.0:
                fed.outflow[tank] += flow / 3.6
            else:
                # A check valve that is stuck open lets fuel back through a pump into its tank.
                self._bring(tank, -flow * 1000.0, heat, mixed_air, fed)
        for k, line in enumerate(component.lines, len(component.sources)):
            fed.line_kg_h[line] = flows[k] * 1000.0
        first = len(component.sources) + len(component.lines)
        for k, mouth in enumerate(component.mouths):
            kg_h = flows[first + k] * 1000.0
            if component.mouth_lines[k] >= 0:
                fed.line_kg_h[component.mouth_lines[k]] = kg_h
            if mouth.kind == "tank":
                self._bring(mouth.index, kg_h, heat, mixed_air, fed)
            elif mouth.kind == "jet":
                fed.motive_kg_h[mouth.index] = kg_h
                self._bring(plant.jets[mouth.index][1], kg_h, heat, mixed_air, fed)
            elif mouth.kind == "outlet":
                fed.outlet_kg_h[mouth.index] += kg_h
            else:
                fed.leaked_kg_h += kg_h
                if mouth.kind == "late":
                    fed.late_kg_h[mouth.index] = kg_h

    def _bring(self, tank: int, kg_h: float, heat: float, air: float, fed: Fed) -> None:
        flow = kg_h * PER_HOUR
        fed.inflow[tank] += flow
        fed.heat_in[tank] += flow * heat
        fed.air_in[tank] += flow * air

    def _mixture(
        self, component: Component, flows: list[float], state: list[float], leading: int, leading_c: float
    ) -> tuple[float, float, float]:
        """Temperature, share of air and enthalpy of what the sources of a network give together.

        What several tanks give counts as mixed throughout: by enthalpy where it goes on into a tank, and by
        mass where only a figure of temperature is asked.
        """
        plant = self.plant
        sea = 1.0
        total = heat = air = warmth = 0.0
        for k, source in enumerate(component.sources):
            flow = flows[k]
            if flow <= 0.0:
                continue
            tank = plant.source_tanks[source]
            celsius = state[plant.tanks + tank] if tank >= 0 else self.uplift_c
            total += flow
            warmth += flow * celsius
            heat += flow * enthalpy_j_kg(celsius)
            air += flow * (state[plant.air_at + tank] if tank >= 0 else sea)
        if total <= 0.0:
            own = state[plant.air_at + leading] if leading >= 0 else sea
            return leading_c, own, enthalpy_j_kg(leading_c)
        return warmth / total, air / total, heat / total

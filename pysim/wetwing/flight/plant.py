"""The continuous side of a flight: what flows, given where everything stands.

A `Configuration` is the network that one set of open valves and running pumps makes. `Plant.slopes` gives the
rate of every kilogram and kelvin in it; `Plant.flows` gives the same with every pressure and flow that a
keyframe shows.
"""

from dataclasses import dataclass

from wetwing.aircraft.model import Aircraft, Engine
from wetwing.flight.path import Place, Segment, engine_flow_kg_h, place, segments, thrust_n
from wetwing.flight.script import Script
from wetwing.flight.wiring import Active, Configuration, Wiring
from wetwing.physics.fuel import DENSITY_SLOPE_KG_M3_K, density_kg_m3
from wetwing.physics.heat import time_constant_s, warming_k_s
from wetwing.physics.tank import gravity_flow_kg_s, level_m
from wetwing.physics.thrust import idle_flow_kg_h

PER_HOUR = 1.0 / 3600.0
DRY_SHARE = 0.06
"""Of its shut-off pressure, what a pump that draws air still shows: a mixture of air and fuel has hardly any
weight to throw.
"""


@dataclass(slots=True)
class Flows:
    """Everything that flows at one time. Sources are pumps, then bypasses, then supplies; lines valves, then
    check valves.
    """

    place: Place
    gross_kg: float
    node_bar: list[float]
    node_fed: list[bool]
    source_kg_h: list[float]
    line_kg_h: list[float]
    user_kg_h: list[float]
    transfer_kg_h: list[float]
    return_kg_h: list[float]
    jet_kg_h: list[float]
    spill_kg_h: list[float]
    vent_kg_h: list[float]
    slopes: list[float]


_MOST_AIRCRAFT = 4
_configurations: list[tuple[Aircraft, dict[Active, Configuration]]] = []


def _known_to(aircraft: Aircraft) -> dict[Active, Configuration]:
    """Configurations made so far for this very aircraft.

    They follow from the aircraft and what is on alone, so a flight flown again with another switch need not
    make them again.
    """
    for own, known in _configurations:
        if own is aircraft:
            return known
    _configurations.insert(0, (aircraft, {}))
    del _configurations[_MOST_AIRCRAFT:]
    return _configurations[0][1]


class Plant:
    """Tables of one aircraft and script, and the slopes of its state.

    The state is one list: masses (kg) and temperatures (°C) of the tanks, used (kg) by engine, then burned,
    uplifted, vented (kg).
    """

    def __init__(self, aircraft: Aircraft, script: Script) -> None:
        self.aircraft = aircraft
        self.script = script
        self.segments: tuple[Segment, ...] = segments(script)
        self.sources = (*aircraft.pumps, *aircraft.bypasses, *aircraft.supplies)
        self.users: tuple[Engine, ...] = (*aircraft.engines, *aircraft.apus)
        self.lines = (*aircraft.valves, *aircraft.check_valves)
        self.tank_index = {tank.name: i for i, tank in enumerate(aircraft.tanks)}
        self.node_index = {node.name: i for i, node in enumerate(aircraft.nodes)}
        self.vent_index = {vent.name: i for i, vent in enumerate(aircraft.vents)}
        self.user_index = {user.name: i for i, user in enumerate(self.users)}
        self.source_index = {source.name: i for i, source in enumerate(self.sources)}
        self.tanks = len(aircraft.tanks)
        self.used_at = 2 * self.tanks
        self.burned_at = self.used_at + len(aircraft.engines)
        self.uplifted_at = self.burned_at + 1
        self.vented_at = self.burned_at + 2
        self.source_tanks = [self.tank_index[s.tank] if s.tank else -1 for s in self.sources]
        self.user_nodes = [self.node_index[user.node] for user in self.users]
        self.overflow_order = self._overflow_order()
        self.returns = [(self.user_index[r.engine], self.tank_index[r.to_tank], r) for r in aircraft.returns]
        self.transfers = [
            (self.tank_index[t.from_tank], self.tank_index[t.to_tank], t) for t in aircraft.transfers
        ]
        self.jets = [
            (
                self.tank_index[j.from_tank],
                self.tank_index[j.to_tank],
                self.node_index[self.sources[self.source_index[j.motive]].node],
                j,
            )
            for j in aircraft.jet_pumps
        ]
        self.wiring = Wiring(aircraft, self.sources, self.users, self.node_index, self.tank_index)
        self.known = _known_to(aircraft)

    def _overflow_order(self) -> tuple[tuple[int, int, float], ...]:
        """(tank, target, at_l) with every tank before what it spills into; target is a tank, or -1 - vent."""
        aircraft = self.aircraft
        order: list[tuple[int, int, float]] = []
        left = list(range(self.tanks))
        while left:
            for i in left:
                overflow = aircraft.tanks[i].overflow
                feeders = [
                    j for j in left if j != i and aircraft.tanks[j].overflow.to == aircraft.tanks[i].name
                ]
                if not feeders:
                    to = self.tank_index.get(overflow.to, -1 - self.vent_index.get(overflow.to, 0))
                    order.append((i, to, overflow.at_l))
                    left.remove(i)
                    break
        return tuple(order)

    def start(self) -> list[float]:
        """The state at 0:00:00."""
        tanks = [self.script.tanks[tank.name] for tank in self.aircraft.tanks]
        used = [self.script.used_kg[engine.name] for engine in self.aircraft.engines]
        return [*(t.actual_kg for t in tanks), *(t.temperature_c for t in tanks), *used, 0.0, 0.0, 0.0]

    def configure(self, active: Active) -> Configuration:
        """The configuration of what is on; made once for each arrangement that a flight meets."""
        known = self.known.get(active)
        if known is None:
            known = self.known[active] = self.wiring.configure(active)
        return known

    def slopes(
        self, configuration: Configuration, segment: Segment, time_s: float, state: list[float]
    ) -> list[float]:
        """Rate of every component of the state, per second."""
        return self.flows(configuration, segment, time_s, state, whole=False).slopes

    def flows(
        self,
        configuration: Configuration,
        segment: Segment,
        time_s: float,
        state: list[float],
        *,
        whole: bool = True,
    ) -> Flows:
        """Everything that flows at a time and state; unless `whole`, without how one tank's pumps share."""
        n = self.tanks
        here = place(segment, time_s, self.script.deviation_k)
        gross_kg = self.script.zero_fuel_kg + sum(state[:n])
        users = self._user_flows(configuration, segment, here, gross_kg)
        inflow = [0.0] * n
        warmth = [0.0] * n
        outflow = [0.0] * n
        returning = [0.0] * len(self.returns)
        drawn = list(users)
        for i in configuration.returning:
            engine, _, line = self.returns[i]
            if users[engine] > 0.0:
                returning[i] = line.flow_kg_h
                drawn[engine] += line.flow_kg_h
        whole = whole or bool(configuration.jetting)
        node_bar, node_fed, sources, lines = self._network(configuration, drawn, outflow, whole)
        for i, user in enumerate(users):
            if user > 0.0 and not node_fed[self.user_nodes[i]]:
                users[i] = 0.0
                returning = [0.0 if self.returns[k][0] == i else flow for k, flow in enumerate(returning)]
        for i, flow in enumerate(returning):
            if flow > 0.0:
                _, tank, line = self.returns[i]
                inflow[tank] += flow * PER_HOUR
                warmth[tank] += flow * PER_HOUR * line.temperature_c
        uplift = self._uplift(configuration, lines, inflow, warmth)
        transferred = self._transfer(configuration, state, inflow, warmth, outflow)
        jets = self._jet(configuration, node_bar, state, inflow, warmth, outflow)
        slopes, spilled, vented = self._balance(configuration, here, state, inflow, warmth, outflow)
        burn = sum(users) * PER_HOUR
        engines = len(self.aircraft.engines)
        slopes += [flow * PER_HOUR for flow in users[:engines]]
        slopes += [burn, uplift, sum(vented) * PER_HOUR]
        return Flows(
            here,
            gross_kg,
            node_bar,
            node_fed,
            sources,
            lines,
            users,
            transferred,
            returning,
            jets,
            spilled,
            vented,
            slopes,
        )

    def _user_flows(
        self, configuration: Configuration, segment: Segment, here: Place, gross_kg: float
    ) -> list[float]:
        flows = [0.0] * len(self.users)
        for i in configuration.starting:
            flows[i] = self.users[i].start_flow_kg_h
        engines = [i for i in configuration.running if self.users[i].propels]
        parked = segment.ground and here.mach <= 0.0 and segment.mach_per_s <= 0.0
        if engines:
            airframe = self.aircraft.airframe
            needed = 0.0
            if not parked:
                needed = thrust_n(segment, here, airframe, configuration.drag_zero_lift, gross_kg) / len(
                    engines
                )
            wanted = engine_flow_kg_h(here, airframe, needed) if needed > 0.0 else 0.0
            for i in engines:
                flows[i] = max(wanted, idle_flow_kg_h(self.users[i].idle_flow_kg_h, here.pressure_ratio))
        for i in configuration.running:
            if not self.users[i].propels:
                flows[i] = self.users[i].idle_flow_kg_h
        return flows

    def _network(
        self, configuration: Configuration, drawn: list[float], outflow: list[float], whole: bool
    ) -> tuple[list[float], list[bool], list[float], list[float]]:
        node_bar = [0.0] * len(self.aircraft.nodes)
        node_fed = [False] * len(self.aircraft.nodes)
        sources = [0.0] * len(self.sources)
        lines = [0.0] * len(self.lines)
        demand_t_h = [0.0] * len(self.aircraft.nodes)
        for user, node in enumerate(self.user_nodes):
            if drawn[user]:
                demand_t_h[node] += drawn[user] / 1000.0
        for twig in configuration.twigs:
            if twig.before >= 0:
                demand_t_h[twig.before] += demand_t_h[twig.node]
        for component in configuration.components:
            led = demand_t_h[component.nodes[0]] <= component.lead_until_t_h
            if led:
                node = component.nodes[0]
                outflow[component.lead_tank] += demand_t_h[node] / 3.6
                if not whole:
                    node_fed[node] = True
                    continue
            solution = component.network.solve([demand_t_h[node] for node in component.nodes])
            for k, node in enumerate(component.nodes):
                node_bar[node] = solution.pressures_bar[k]
                node_fed[node] = solution.fed[k]
            flows = solution.flows_t_h
            for k, source in enumerate(component.sources):
                sources[source] = flows[k] * 1000.0
                if not led and self.source_tanks[source] >= 0:
                    outflow[self.source_tanks[source]] += flows[k] / 3.6
            for k, line in enumerate(component.lines, len(component.sources)):
                lines[line] = flows[k] * 1000.0
        for twig in reversed(configuration.twigs):
            if twig.before >= 0 and node_fed[twig.before]:
                flow = demand_t_h[twig.node]
                drop = (twig.branch.linear_bar_h_t + twig.branch.square_bar_h2_t2 * flow) * flow
                node_bar[twig.node] = node_bar[twig.before] - drop
                node_fed[twig.node] = True
                lines[twig.line] = twig.sign * flow * 1000.0
        return node_bar, node_fed, sources, lines

    def _uplift(
        self, configuration: Configuration, lines: list[float], inflow: list[float], warmth: list[float]
    ) -> float:
        uplift = 0.0
        for component in configuration.components:
            for line, tank in zip(component.lines, component.line_tanks, strict=True):
                if tank >= 0 and lines[line] > 0.0:
                    flow = lines[line] * PER_HOUR
                    inflow[tank] += flow
                    warmth[tank] += flow * self.script.uplift_temperature_c
                    uplift += flow
        return uplift

    def head_m(self, index: int, state: list[float]) -> float:
        """Height of the surface in a transfer's first tank above that in its second, m."""
        a, b, _ = self.transfers[index]
        return self.level_m(a, state) - self.level_m(b, state)

    def level_m(self, tank: int, state: list[float]) -> float:
        """Height of a tank's surface above the reference plane, m."""
        part = self.aircraft.tanks[tank]
        return level_m(part.shape, part.bottom_m, part.depth_m, self.volume_l(tank, state) / part.capacity_l)

    def volume_l(self, tank: int, state: list[float]) -> float:
        """Volume of a tank's fuel, L."""
        return 1000.0 * state[tank] / density_kg_m3(self.script.density_15c_kg_m3, state[self.tanks + tank])

    def _transfer(
        self,
        configuration: Configuration,
        state: list[float],
        inflow: list[float],
        warmth: list[float],
        outflow: list[float],
    ) -> list[float]:
        flows = [0.0] * len(self.transfers)
        for i in configuration.transferring:
            a, b, part = self.transfers[i]
            density = density_kg_m3(self.script.density_15c_kg_m3, state[self.tanks + a])
            flow = gravity_flow_kg_s(self.head_m(i, state), part.area_m2, part.discharge, density)
            flows[i] = flow * 3600.0
            outflow[a] += flow
            inflow[b] += flow
            warmth[b] += flow * state[self.tanks + a]
        return flows

    def _jet(
        self,
        configuration: Configuration,
        node_bar: list[float],
        state: list[float],
        inflow: list[float],
        warmth: list[float],
        outflow: list[float],
    ) -> list[float]:
        flows = [0.0] * len(self.jets)
        for i in configuration.jetting:
            a, b, node, part = self.jets[i]
            # Motive flow is taken in proportion to the pressure that drives it, and goes back to the motive
            # pump's own tank.
            pressure = node_bar[node]
            if pressure <= 0.0:
                continue
            flow = part.entrainment * part.motive_kg_h_at_1_bar * pressure * PER_HOUR
            flows[i] = flow * 3600.0
            outflow[a] += flow
            inflow[b] += flow
            warmth[b] += flow * state[self.tanks + a]
        return flows

    def _balance(
        self,
        configuration: Configuration,
        here: Place,
        state: list[float],
        inflow: list[float],
        warmth: list[float],
        outflow: list[float],
    ) -> tuple[list[float], list[float], list[float]]:
        n = self.tanks
        tanks = self.aircraft.tanks
        rates = [0.0] * n
        warming = [0.0] * n
        spilled = [0.0] * n
        vented = [0.0] * len(self.aircraft.vents)
        density_15c = self.script.density_15c_kg_m3
        for i, to, at_l in self.overflow_order:
            tank = tanks[i]
            held, temperature = state[i], state[n + i]
            fill = (
                1000.0 * held / (density_15c + DENSITY_SLOPE_KG_M3_K * (temperature - 15.0)) / tank.capacity_l
            )
            tau = time_constant_s(tank.heat_full_h, tank.heat_low_h, fill if fill > 0.0 else 0.0)
            warming[i] = warming_k_s(temperature, here.skin_c, tau, held, warmth[i], inflow[i])
            rate = inflow[i] - outflow[i]
            if configuration.spilling[i]:
                # Held at the spill's volume: what comes in beyond it, and what warming makes too large, goes
                # over.
                kept = at_l * 1e-3 * DENSITY_SLOPE_KG_M3_K * warming[i]
                flow = rate - kept
                spilled[i] = flow * 3600.0
                rate = kept
                if to >= 0:
                    inflow[to] += flow
                    warmth[to] += flow * temperature
                else:
                    vented[-1 - to] += flow * 3600.0
            rates[i] = rate
        return rates + warming, spilled, vented

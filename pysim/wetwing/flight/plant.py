"""The continuous side of a flight: what flows, given where everything stands.

`Plant.slopes` gives the rate of every kilogram and kelvin in the state; `Plant.flows` gives the same with
every pressure and flow that a keyframe shows.
"""

from dataclasses import dataclass, field
from math import sqrt

from wetwing.aircraft.model import Aircraft, Engine
from wetwing.flight.faults import Faults
from wetwing.flight.feed import Fed, Feed
from wetwing.flight.gauging import Gauging
from wetwing.flight.path import Place, Segment, place, segments, thrust_n
from wetwing.flight.posture import Frame, Posture
from wetwing.flight.script import Script
from wetwing.flight.wiring import PART_FULL, Active, Configuration, Wiring
from wetwing.physics.air import GRAVITY_M_S2
from wetwing.physics.burn import engine_flow_kg_h
from wetwing.physics.dissolved_air import SEA_LEVEL_BAR
from wetwing.physics.fuel import DENSITY_SLOPE_KG_M3_K, REFERENCE_C, density_kg_m3, enthalpy_j_kg
from wetwing.physics.heat import cooler_c, oil_warming_k_s, skin_w_k, warming_k_s
from wetwing.physics.outline import area_m2
from wetwing.physics.tank import gravity_flow_kg_s, part_full_share
from wetwing.physics.thrust import idle_flow_kg_h
from wetwing.physics.vapour import PA_BAR

PER_HOUR = 1.0 / 3600.0
AIR_TIME_CONSTANT_S = 5400.0
"""How fast dissolved air follows the air outside: a parameter of this project; stirring shortens it."""

MIXING_KG = 15.0
"""Keeps the share of air in a nearly empty tank from leaping: what clings to its structure."""


@dataclass(slots=True)
class Flows:
    """Everything that flows at one time. Sources are pumps, then bypasses, then supplies; lines valves, then
    check valves. `user_kg_h` is what burns, `metered_kg_h` what the meters make of it.
    """

    place: Place
    gross_kg: float
    fed: Fed
    node_bar: list[float]
    node_fed: list[bool]
    source_kg_h: list[float]
    line_kg_h: list[float]
    user_kg_h: list[float]
    drawn_kg_h: list[float]
    metered_kg_h: list[float]
    transfer_kg_h: list[float]
    return_kg_h: list[float]
    jet_kg_h: list[float]
    spill_kg_h: list[float]
    vent_kg_h: list[float]
    surge_kg_h: list[float]
    outlet_kg_h: list[float]
    leak_kg_h: float
    node_c: list[float]
    node_air: list[float]
    slopes: list[float] = field(default_factory=list)
    inlet_margins_bar: dict[int, float] = field(default_factory=dict)
    """By user, as far as they have been asked for."""


_MOST_AIRCRAFT = 4


@dataclass(slots=True)
class _Kept:
    """What follows from an aircraft alone: a flight flown again with another switch need not remake it."""

    aircraft: Aircraft
    configurations: dict[Active, Configuration]
    frame: Frame


_kept: list[_Kept] = []


def _kept_of(aircraft: Aircraft) -> _Kept:
    for kept in _kept:
        if kept.aircraft is aircraft:
            return kept
    _kept.insert(0, _Kept(aircraft, {}, Frame(aircraft)))
    del _kept[_MOST_AIRCRAFT:]
    return _kept[0]


class Plant:
    """Tables of one aircraft and script, and the slopes of its state.

    The state is one list, in this order: masses (kg), temperatures (°C) and shares of dissolved air of the
    tanks; oil temperatures (°C) of the return lines; fuel in the vents' surge spaces (kg); used by engine as
    metered (kg); burned, uplifted, vented, leaked, discharged and metered in all (kg).
    """

    def __init__(self, aircraft: Aircraft, script: Script) -> None:
        self.aircraft = aircraft
        self.script = script
        self.density_15c = script.density_15c_kg_m3
        self.segments: tuple[Segment, ...] = segments(script, aircraft.airframe)
        self.sources = (*aircraft.pumps, *aircraft.bypasses, *aircraft.supplies)
        self.users: tuple[Engine, ...] = (*aircraft.engines, *aircraft.apus)
        self.lines = (*aircraft.valves, *aircraft.check_valves)
        self.tank_index = {tank.name: i for i, tank in enumerate(aircraft.tanks)}
        self.node_index = {node.name: i for i, node in enumerate(aircraft.nodes)}
        self.vent_index = {vent.name: i for i, vent in enumerate(aircraft.vents)}
        self.user_index = {user.name: i for i, user in enumerate(self.users)}
        self.source_index = {source.name: i for i, source in enumerate(self.sources)}
        self.filters = {part.name: part for part in aircraft.filters}
        self._lay_out()
        self.source_tanks = [self.tank_index[s.tank] if s.tank else -1 for s in self.sources]
        self.source_nodes = [self.node_index[source.node] for source in self.sources]
        self.user_nodes = [self.node_index[user.node] for user in self.users]
        self.overflow_order = self._overflow_order()
        self.tank_vents = self._tank_vents()
        self.drains = [self.tank_index[v.drains_to] if v.drains_to else -1 for v in aircraft.vents]
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
        self.neighbours = [
            (i, self.tank_index[other], w_k)
            for i, tank in enumerate(aircraft.tanks)
            for other, w_k in tank.neighbours
        ]
        self.wiring = Wiring(aircraft, self.sources, self.users, self.node_index, self.tank_index)
        self.kept = _kept_of(aircraft)
        self.frame = self.kept.frame
        self.skins = [
            (abs(area_m2(shape.outline_m)) * tank.heat_w_m2_k, tank.capacity_l)
            for shape, tank in zip(self.frame.shapes, aircraft.tanks, strict=True)
        ]
        self.faults = Faults(aircraft, self.sources, self.users)
        self.gauging = Gauging(aircraft, self.frame, self.faults, self.density_15c)
        self.postures = [self.frame.at(s.pitch_deg, s.roll_deg) for s in self.segments]
        self.posture: Posture = self.postures[0]
        self.feed = Feed(self)

    def _lay_out(self) -> None:
        aircraft = self.aircraft
        n = self.tanks = len(aircraft.tanks)
        self.air_at = 2 * n
        self.oil_at = 3 * n
        self.surge_at = self.oil_at + len(aircraft.returns)
        self.used_at = self.surge_at + len(aircraft.vents)
        self.burned_at = self.used_at + len(aircraft.engines)
        self.uplifted_at = self.burned_at + 1
        self.vented_at = self.burned_at + 2
        self.leaked_at = self.burned_at + 3
        self.discharged_at = self.burned_at + 4
        self.metered_at = self.burned_at + 5
        self.length = self.burned_at + 6

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

    def _tank_vents(self) -> list[int]:
        """The vent through which each tank breathes: where its overflow comes out in the end."""
        to = {tank: target for tank, target, _ in self.overflow_order}
        found = []
        for tank in range(self.tanks):
            while tank >= 0:
                tank = to[tank]
            found.append(-1 - tank)
        return found

    def start(self) -> list[float]:
        """The state at 0:00:00."""
        aircraft, script = self.aircraft, self.script
        tanks = [script.tanks[tank.name] for tank in aircraft.tanks]
        ambient_bar = place(self.segments[0], 0.0, script.deviation_k).ambient_bar
        state = [tank.actual_kg for tank in tanks] + [tank.temperature_c for tank in tanks]
        state += [ambient_bar / SEA_LEVEL_BAR] * self.tanks
        state += [tanks[to].temperature_c for _, to, _ in self.returns]
        state += [0.0] * len(aircraft.vents)
        state += [script.used_kg[engine.name] for engine in aircraft.engines]
        return state + [0.0] * 6

    def configure(self, active: Active) -> Configuration:
        """The configuration of what is on; made once for each arrangement that a flight meets."""
        known = self.kept.configurations
        found = known.get(active)
        if found is None:
            found = known[active] = self.wiring.configure(active)
        return found

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
        drawn = list(users)
        returning = [0.0] * len(self.returns)
        for i in configuration.returning:
            engine, _, line = self.returns[i]
            if users[engine] > 0.0:
                returning[i] = line.flow_kg_h
                drawn[engine] += line.flow_kg_h
        fed = self.feed.solve(configuration, drawn, state, here, whole=whole)
        for i, user in enumerate(users):
            if user > 0.0 and not fed.node_fed[self.user_nodes[i]]:
                users[i] = 0.0
                returning = [0.0 if self.returns[k][0] == i else flow for k, flow in enumerate(returning)]
        inflow, heat_in, air_in, outflow = fed.inflow, fed.heat_in, fed.air_in, fed.outflow
        oils = self._return(configuration, users, returning, fed, state)
        transferred = self._transfer(configuration, state, fed)
        jets = self._jet(configuration, fed, state)
        leaked = fed.leaked_kg_h
        if configuration.leaking:
            leaked += self._leak(configuration, state, outflow)
        slopes, spilled, surging, vented = self._balance(
            configuration, here, state, inflow, heat_in, air_in, outflow
        )
        engines = len(self.aircraft.engines)
        metered = [self.gauging.metered_kg_h(i, users[i] + fed.late_kg_h[i], time_s) for i in range(engines)]
        slopes += oils
        slopes += [flow * PER_HOUR for flow in surging]
        slopes += [flow * PER_HOUR for flow in metered]
        slopes += [
            sum(users) * PER_HOUR,
            fed.uplift_kg_h * PER_HOUR,
            sum(vented) * PER_HOUR,
            leaked * PER_HOUR,
            sum(fed.outlet_kg_h) * PER_HOUR,
            sum(metered) * PER_HOUR,
        ]
        return Flows(
            here,
            gross_kg,
            fed,
            fed.node_bar,
            fed.node_fed,
            fed.source_kg_h,
            fed.line_kg_h,
            users,
            drawn,
            metered,
            transferred,
            returning,
            jets,
            spilled,
            vented,
            surging,
            fed.outlet_kg_h,
            leaked,
            fed.node_c,
            fed.node_air,
            slopes,
        )

    def _user_flows(
        self, configuration: Configuration, segment: Segment, here: Place, gross_kg: float
    ) -> list[float]:
        flows = [0.0] * len(self.users)
        for i in configuration.starting:
            flows[i] = self.users[i].start_flow_kg_h
        engines = configuration.propelling
        if engines:
            airframe = self.aircraft.airframe
            share = self.thrust_share(configuration, segment, here, gross_kg)
            alike: dict[float, float] = {}
            for i in engines:
                own_idle = self.users[i].idle_flow_kg_h
                if own_idle not in alike:
                    alike[own_idle] = engine_flow_kg_h(
                        airframe.static_flow_kg_h,
                        share,
                        idle_flow_kg_h(own_idle, here.pressure_ratio),
                        configuration.bleed,
                        self.script.wear_factor,
                    )
                flows[i] = alike[own_idle]
        for i in configuration.running:
            if not self.users[i].propels:
                flows[i] = self.users[i].idle_flow_kg_h
        return flows

    def thrust_share(
        self, configuration: Configuration, segment: Segment, here: Place, gross_kg: float
    ) -> float:
        """Thrust asked of each engine that propels, over its static thrust; below zero if none is."""
        # By where the segment begins: at its very end one that comes to a stand would else leap to idle.
        if segment.ground and segment.mach <= 0.0 and segment.mach_per_s <= 0.0:
            return 0.0
        airframe = self.aircraft.airframe
        needed = thrust_n(segment, here, airframe, configuration.drag_zero_lift, gross_kg)
        return needed / (len(configuration.propelling) * airframe.engine_thrust_n)

    def _return(
        self,
        configuration: Configuration,
        users: list[float],
        returning: list[float],
        fed: Fed,
        state: list[float],
    ) -> list[float]:
        """Warm fuel back to its tanks; the rates of the oils' temperatures, K/s."""
        rates = []
        for i, (engine, tank, line) in enumerate(self.returns):
            oil_c = state[self.oil_at + i]
            feed_c = fed.node_c[self.user_nodes[engine]]
            flow_kg_s = returning[i] * PER_HOUR
            heat_w = 1000.0 * line.heat_kw if users[engine] > 0.0 else 0.0
            rates.append(oil_warming_k_s(oil_c, feed_c, heat_w, line.oil_loss_w_k, flow_kg_s, line.oil_kj_k))
            if flow_kg_s > 0.0:
                fed.inflow[tank] += flow_kg_s
                fed.heat_in[tank] += flow_kg_s * enthalpy_j_kg(cooler_c(oil_c, feed_c))
                fed.air_in[tank] += flow_kg_s * fed.node_air[self.user_nodes[engine]]
        return rates

    def head_m(self, index: int, state: list[float]) -> float:
        """Height of the surface in a transfer's first tank above that in its second, m."""
        a, b, _ = self.transfers[index]
        return self.level_m(a, state) - self.level_m(b, state)

    def level_m(self, tank: int, state: list[float]) -> float:
        """Height of a tank's surface above the reference plane, m, at the middle of its outline."""
        return self.posture.attitudes[tank].level_m(self.volume_l(tank, state))

    def volume_l(self, tank: int, state: list[float]) -> float:
        """Volume of a tank's fuel, L."""
        return (
            1000.0
            * state[tank]
            / (self.density_15c + DENSITY_SLOPE_KG_M3_K * (state[self.tanks + tank] - REFERENCE_C))
        )

    def _transfer(self, configuration: Configuration, state: list[float], fed: Fed) -> list[float]:
        flows = [0.0] * len(self.transfers)
        for i in configuration.transferring:
            a, b, part = self.transfers[i]
            density = density_kg_m3(self.density_15c, state[self.tanks + a])
            head_m = self.head_m(i, state)
            vacuum_bar = fed.vacuum_bar[a] - fed.vacuum_bar[b]
            if vacuum_bar != 0.0:
                head_m -= vacuum_bar * PA_BAR / (density * GRAVITY_M_S2)
            flow = gravity_flow_kg_s(head_m, part.area_m2, part.discharge, density)
            if configuration.active.transfers[i] == PART_FULL:
                flow *= part_full_share(state[a] - self.aircraft.tanks[a].unusable_kg)
            flows[i] = flow * 3600.0
            self._move(a, b, flow, state, fed)
        return flows

    def _move(self, a: int, b: int, flow_kg_s: float, state: list[float], fed: Fed) -> None:
        fed.outflow[a] += flow_kg_s
        fed.inflow[b] += flow_kg_s
        fed.heat_in[b] += flow_kg_s * enthalpy_j_kg(state[self.tanks + a])
        fed.air_in[b] += flow_kg_s * state[self.air_at + a]

    def _jet(self, configuration: Configuration, fed: Fed, state: list[float]) -> list[float]:
        flows = [0.0] * len(self.jets)
        shares = configuration.active.jet_shares
        for i in configuration.jetting:
            a, b, _, part = self.jets[i]
            share = shares[i] if shares else 1.0
            flow = share * part.entrainment * fed.motive_kg_h[i]
            flows[i] = flow
            self._move(a, b, flow * PER_HOUR, state, fed)
        return flows

    def _leak(self, configuration: Configuration, state: list[float], outflow: list[float]) -> float:
        """What tanks leak: as through a hole at the bottom, by the root of the fuel's height over it."""
        leaked = 0.0
        for tank in configuration.leaking:
            share = self.volume_l(tank, state) / self.aircraft.tanks[tank].capacity_l
            if share > 0.0:
                flow = configuration.active.tank_leaks[tank] * sqrt(share)
                outflow[tank] += flow * PER_HOUR
                leaked += flow
        return leaked

    def _balance(
        self,
        configuration: Configuration,
        here: Place,
        state: list[float],
        inflow: list[float],
        heat_in: list[float],
        air_in: list[float],
        outflow: list[float],
    ) -> tuple[list[float], list[float], list[float], list[float]]:
        """Rates of masses, temperatures and airs; and what spills, gathers in surge spaces and is lost."""
        n = self.tanks
        tanks = self.aircraft.tanks
        rates = [0.0] * n
        warming = [0.0] * n
        airs = [0.0] * n
        spilled = [0.0] * n
        into_vent = [0.0] * len(self.aircraft.vents)
        density_15c = self.density_15c
        ambient_share = here.ambient_bar / SEA_LEVEL_BAR
        walls = [0.0] * n
        for a, b, w_k in self.neighbours:
            watts = w_k * (state[n + a] - state[n + b])
            walls[a] -= watts
            walls[b] += watts
        for i, vent in enumerate(self.aircraft.vents):
            if configuration.active.surging[i] == "draining":
                flow = vent.drain_kg_h * PER_HOUR
                to = self.drains[i]
                inflow[to] += flow
                heat_in[to] += flow * enthalpy_j_kg(state[n + to])
                air_in[to] += flow * state[self.air_at + to]
                into_vent[i] -= vent.drain_kg_h
        for i, to, at_l in self.overflow_order:
            held, temperature, air = state[i], state[n + i], state[self.air_at + i]
            uarea, capacity_l = self.skins[i]
            density = density_15c + DENSITY_SLOPE_KG_M3_K * (temperature - REFERENCE_C)
            fill = 1000.0 * held / (density * capacity_l)
            watts = skin_w_k(uarea, fill) * (here.skin_c - temperature) + walls[i]
            warming[i] = warming_k_s(temperature, watts, held, tanks[i].structure_kj_k, heat_in[i], inflow[i])
            airs[i] = (ambient_share - air) / AIR_TIME_CONSTANT_S + (air_in[i] - inflow[i] * air) / (
                held + MIXING_KG
            )
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
                    heat_in[to] += flow * enthalpy_j_kg(temperature)
                    air_in[to] += flow * air
                else:
                    into_vent[-1 - to] += flow * 3600.0
            rates[i] = rate
        surging, vented = self._vents(configuration, into_vent)
        return rates + warming + airs, spilled, surging, vented

    def _vents(self, configuration: Configuration, into: list[float]) -> tuple[list[float], list[float]]:
        """What gathers in each vent's surge space, and what leaves overboard, kg/h."""
        surging = [0.0] * len(into)
        vented = [0.0] * len(into)
        for i, flow in enumerate(into):
            if self.aircraft.vents[i].surge_l <= 0.0 or configuration.active.surging[i] == "full":
                vented[i] = flow
            else:
                surging[i] = flow
        return surging, vented

"""Everything that flows, and the rates of all that is kept: the model page's equations, written again."""

from dataclasses import dataclass, field
from math import exp, sqrt

import numpy as np

from tests.oracle.mode import Mode, Names, pools
from tests.oracle.nature import FOOT, SEA_PA, G, heat_capacity, heat_content, kg_per_l, standard_pa, thickness
from tests.oracle.net import Balance, Pool
from tests.oracle.shapes import Lie, lie_of, space_of
from tests.oracle.way import Air, Leg, pressure_share
from wetwing.aircraft.model import Aircraft
from wetwing.flight.script_records import Script

AIR_LAG_S = 5400.0
CLINGS_KG = 15.0
CURVES_KG_M3 = 800.0
"""Density at which pumps' curves are given."""


@dataclass
class Now:
    """What flows at one time. Flows are kg/s but for those named kg_h."""

    air: Air
    gross: float
    heads: dict[int, float]
    bar: list[float]
    fed: list[bool]
    source_kg_h: list[float]
    line_kg_h: list[float]
    burn_kg_h: list[float]
    drawn_kg_h: list[float]
    late_kg_h: list[float]
    node_c: list[float]
    node_share: list[float]
    node_water: list[float]
    transfer_kg_h: list[float]
    return_kg_h: list[float]
    jet_kg_h: list[float]
    outlet_kg_h: list[float]
    spill: list[float] = field(default_factory=list)
    gain: list[float] = field(default_factory=list)
    into_vent: list[float] = field(default_factory=list)
    rates: list[float] = field(default_factory=list)


class Layout:
    """Where each part of the state stands in the vector."""

    def __init__(self, aircraft: Aircraft) -> None:
        n = self.tanks = len(aircraft.tanks)
        sizes = (n, n, n, len(aircraft.returns), len(aircraft.vents), len(aircraft.engines), 1, 1, 1, 1, 1, 1)
        keys = [
            "kg",
            "c",
            "air",
            "oil",
            "surge",
            "used",
            "burned",
            "uplifted",
            "vented",
            "leaked",
            "discharged",
            "metered",
        ]
        at = 0
        self.at: dict[str, int] = {}
        for key, size in zip(keys, sizes, strict=True):
            self.at[key] = at
            at += size
        self.length = at


class Equations:
    """The equations of one aircraft and script. `metered(engine, kg_h, t)` is what its meter says."""

    def __init__(self, aircraft: Aircraft, script: Script) -> None:
        self.aircraft, self.script = aircraft, script
        self.names = Names(aircraft)
        self.layout = Layout(aircraft)
        self.spaces = [space_of(tank) for tank in aircraft.tanks]
        self.lies: list[Lie] = []
        self.rho15 = script.density_15c_kg_m3
        self.known: dict[Mode, list[Pool]] = {}
        self.joined: list[Pool] = []
        names = self.names
        self.source_tank = [names.tank[s.tank] if s.tank else None for s in names.sources]
        self.spills_to = [names.tank.get(t.overflow.to, -1) for t in aircraft.tanks]
        self.spills_out = [names.vent.get(t.overflow.to, -1) for t in aircraft.tanks]
        # Whoever spills into a tank comes before that tank.
        self.order: list[int] = []
        while len(self.order) < len(aircraft.tanks):
            self.order += [
                i
                for i in range(len(aircraft.tanks))
                if i not in self.order
                and all(j in self.order for j, to in enumerate(self.spills_to) if to == i)
            ]
        self.breathes = [self._breathes(i) for i in range(len(aircraft.tanks))]
        self.water = [0.0] * len(aircraft.tanks)

    def _breathes(self, tank: int) -> int:
        while self.spills_to[tank] >= 0:
            tank = self.spills_to[tank]
        return self.spills_out[tank]

    def lie(self, leg: Leg) -> None:
        """The fuel lies as on this leg from now on."""
        self.lies = [lie_of(tank, leg.pitch_deg, leg.roll_deg) for tank in self.aircraft.tanks]

    def turn(self, mode: Mode) -> None:
        """This is on from now on."""
        if mode not in self.known:
            self.known[mode] = pools(self.aircraft, self.names, mode)
        self.joined = self.known[mode]
        self.mode = mode

    def litres(self, tank: int, y: list[float]) -> float:
        """Volume of a tank's fuel."""
        return y[tank] / kg_per_l(self.rho15, y[self.layout.tanks + tank])

    def burns(self, mode: Mode, leg: Leg, air: Air, gross: float) -> list[float]:
        """kg/h that each user wants to burn."""
        frame, users = self.aircraft.airframe, self.names.users
        pulling = [i for i, u in enumerate(users) if u.propels and mode.users[i] == "running"]
        x = 0.0
        standing = leg.ground and leg.mach <= 0.0 and leg.gain <= 0.0
        if pulling and not standing:
            x = leg.thrust(air, frame, mode.drag, gross) / (len(pulling) * frame.engine_thrust_n)
            x = min(max(x, 0.0), 1.0)
        cruise = frame.static_flow_kg_h * 0.93756 * (1.0 - exp(-1.97676 * x * exp(1.39548 * x)))
        found = []
        for user, state in zip(users, mode.users, strict=True):
            if state == "starting":
                found.append(user.start_flow_kg_h)
            elif state == "running" and user.propels:
                idle = user.idle_flow_kg_h * (0.7 + 0.3 * pressure_share(air))
                found.append(max(idle, cruise) * mode.bleed * self.script.wear_factor)
            else:
                found.append(user.idle_flow_kg_h if state == "running" else 0.0)
        return found

    def now(self, leg: Leg, t: float, y: list[float]) -> Now:
        """Everything but the meters."""
        a, names, at, mode = self.aircraft, self.names, self.layout.at, self.mode
        n = self.layout.tanks
        air = leg.air(t)
        gross = self.script.zero_fuel_kg + sum(y[:n])
        burn = self.burns(mode, leg, air, gross)
        drawn = list(burn)
        back = [0.0] * len(a.returns)
        for i, line in enumerate(a.returns):
            engine = names.user[line.engine]
            if mode.returning[i] and burn[engine] > 0.0:
                back[i] = line.flow_kg_h
                drawn[engine] += line.flow_kg_h
        it = self._network(mode, air, gross, y, burn, drawn)
        into, out = self._into, self._out
        for i, user in enumerate(names.users):
            if not it.fed[names.node[user.node]]:
                burn[i] = 0.0
                back = [0.0 if r.engine == user.name else b for r, b in zip(a.returns, back, strict=True)]
        oil_rates = []
        for i, line in enumerate(a.returns):
            engine, tank = names.user[line.engine], names.tank[line.to_tank]
            node = names.node[names.users[engine].node]
            oil, feed, kg_s = y[at["oil"] + i], it.node_c[node], back[i] / 3600.0
            watts = 1000.0 * line.heat_kw if burn[engine] > 0.0 else 0.0
            # Fuel leaves the cooler nine tenths of the way to the oil's temperature; the oil pays for it.
            warm = 0.1 * feed + 0.9 * oil
            watts -= line.oil_loss_w_k * (oil - feed) + kg_s * (heat_content(warm) - heat_content(feed))
            oil_rates.append(watts / (1000.0 * line.oil_kj_k))
            into(tank, kg_s, heat_content(warm), it.node_share[node])
        for i, pipe in enumerate(a.transfers):
            if mode.transferring[i]:
                one, two = names.tank[pipe.from_tank], names.tank[pipe.to_tank]
                rho = 1000.0 * kg_per_l(self.rho15, y[n + one])
                kg_s = pipe.discharge * pipe.area_m2 * rho * sqrt(2.0 * G * max(self.fall(i, y), 0.0))
                if mode.transferring[i] == "weir":
                    # Air is in the pipe: it gives by what stands over its mouth, and all it can at 60 kg.
                    kg_s *= min(max(y[one] - a.tanks[one].unusable_kg, 0.0), 60.0) / 60.0
                it.transfer_kg_h[i] = 3600.0 * kg_s
                out(one, kg_s)
                into(two, kg_s, heat_content(y[n + one]), y[at["air"] + one])
        for i, jet in enumerate(a.jet_pumps):
            if mode.jets[i] > 0.0:
                one, two = names.tank[jet.from_tank], names.tank[jet.to_tank]
                kg_s = mode.jets[i] * jet.entrainment * self._motive[i] / 3600.0
                it.jet_kg_h[i] = 3600.0 * kg_s
                out(one, kg_s)
                into(two, kg_s, heat_content(y[n + one]), y[at["air"] + one])
        leaked = self._leaked
        for i, kg_h in enumerate(mode.tank_leaks):
            share = self.litres(i, y) / a.tanks[i].capacity_l
            if kg_h > 0.0 and share > 0.0:
                kg_s = kg_h / 3600.0 * sqrt(share)
                leaked += kg_s
                out(i, kg_s)
        it.burn_kg_h, it.drawn_kg_h, it.return_kg_h = burn, drawn, back
        self._tanks(mode, it, y, oil_rates, leaked)
        return it

    def fall(self, transfer: int, y: list[float]) -> float:
        """What drives a gravity transfer, m of fuel."""
        pipe = self.aircraft.transfers[transfer]
        one, two = self.names.tank[pipe.from_tank], self.names.tank[pipe.to_tank]
        rho = 1000.0 * kg_per_l(self.rho15, y[self.layout.tanks + one])
        fall = self.lies[one].level(self.litres(one, y)) - self.lies[two].level(self.litres(two, y))
        return fall - 1e5 * (self._suction(self.mode, one) - self._suction(self.mode, two)) / (rho * G)

    def _suction(self, mode: Mode, tank: int) -> float:
        """How far below ambient a tank with a blocked vent stands, bar."""
        vent = self.breathes[tank]
        return self.aircraft.vents[vent].relief_bar if mode.blocked[vent] else 0.0

    def _into(self, tank: int, kg_s: float, joules: float, share: float) -> None:
        self._in[tank] += kg_s
        self._heat[tank] += kg_s * joules
        self._air[tank] += kg_s * share

    def _out(self, tank: int, kg_s: float) -> None:
        self._gone[tank] += kg_s

    def _network(
        self, mode: Mode, air: Air, gross: float, y: list[float], burn: list[float], drawn: list[float]
    ) -> Now:
        a, names, n = self.aircraft, self.names, self.layout.tanks
        self._in, self._heat, self._air, self._gone = ([0.0] * n for _ in range(4))
        self._motive = [0.0] * len(a.jet_pumps)
        self._leaked = self._uplift = 0.0
        nodes = len(a.nodes)
        it = Now(
            air,
            gross,
            {},
            [0.0] * nodes,
            [False] * nodes,
            [0.0] * len(names.sources),
            [0.0] * len(names.lines),
            burn,
            drawn,
            [0.0] * len(names.users),
            [air.skin_c] * nodes,
            [0.0] * nodes,
            [0.0] * nodes,
            [0.0] * len(a.transfers),
            [],
            [0.0] * len(a.jet_pumps),
            [0.0] * len(a.outlets),
        )
        demand = [0.0] * nodes
        for user, kg_h in zip(names.users, drawn, strict=True):
            demand[names.node[user.node]] += kg_h / 1000.0
        for pool in self.joined:
            if pool.reached:
                self._pool(pool, mode, demand, y, it)
        return it

    def _pool(self, pool: Pool, mode: Mode, demand: list[float], y: list[float], it: Now) -> None:
        names, n, share_at = self.names, self.layout.tanks, self.layout.at["air"]
        heads = {}
        for source in pool.sources:
            i = source.index
            tank = self.source_tank[i]
            own = names.sources[i].shut_off_bar * mode.strength[i]
            if tank is not None:
                rho = 1000.0 * kg_per_l(self.rho15, y[n + tank])
                stands = self.lies[tank].level(self.litres(tank, y)) - self.aircraft.tanks[tank].bottom_m
                own = (own if mode.driven[i] else 0.0) * rho / CURVES_KG_M3
                own += rho * G * stands / 1e5 - self._suction(mode, tank)
            heads[i] = own
        it.heads.update(heads)
        lead = max((s for s in pool.sources if not s.dry), key=lambda s: (heads[s.index], -s.index)).index
        lead_tank = self.source_tank[lead]
        lead_c = y[n + lead_tank] if lead_tank is not None else self.script.uplift_temperature_c
        lead_share = y[share_at + lead_tank] if lead_tank is not None else 1.0
        balance = Balance(pool, heads, demand, thickness(lead_c))
        bars = balance.solve()
        given: list[tuple[float, float, float]] = []
        for source in pool.sources:
            drop = heads[source.index] - bars[source.node]
            flow = balance.through_source(source, drop)
            it.source_kg_h[source.index] = 1000.0 * flow
            tank = self.source_tank[source.index]
            if tank is None:
                self._uplift += flow / 3.6
            elif flow >= 0.0:
                self._out(tank, flow / 3.6)
            if flow > 0.0:
                celsius = y[n + tank] if tank is not None else self.script.uplift_temperature_c
                given.append((flow, celsius, y[share_at + tank] if tank is not None else 1.0))
        total = sum(flow for flow, _, _ in given)
        mixed, share, joules = lead_c, lead_share, heat_content(lead_c)
        if total > 0.0:
            mixed = sum(flow * celsius for flow, celsius, _ in given) / total
            share = sum(flow * part for flow, _, part in given) / total
            joules = sum(flow * heat_content(celsius) for flow, celsius, _ in given) / total
        for source in pool.sources:
            back, tank = -it.source_kg_h[source.index] / 3600.0, self.source_tank[source.index]
            if back > 0.0 and tank is not None:
                self._into(tank, back, joules, share)
        for node in pool.reached:
            it.bar[node], it.fed[node] = bars[node], True
            it.node_c[node], it.node_share[node] = mixed, share
            it.node_water[node] = self.water[lead_tank] if lead_tank is not None else 0.0
        for line in pool.lines:
            if line.tail in pool.reached and line.tip in pool.reached:
                it.line_kg_h[line.index] = 1000.0 * balance.through(line, bars[line.tail], bars[line.tip])
        for mouth in pool.mouths:
            if mouth.node not in pool.reached:
                continue
            kg_s = balance.out_of(mouth, bars[mouth.node]) / 3.6
            if mouth.line >= 0:
                it.line_kg_h[mouth.line] = 3600.0 * kg_s
            if mouth.kind == "tank":
                self._into(mouth.index, kg_s, joules, share)
            elif mouth.kind == "jet":
                self._motive[mouth.index] = 3600.0 * kg_s
                to = names.tank[self.aircraft.jet_pumps[mouth.index].to_tank]
                self._into(to, kg_s, joules, share)
            elif mouth.kind == "outlet":
                it.outlet_kg_h[mouth.index] += 3600.0 * kg_s
            else:
                self._leaked += kg_s
                if mouth.kind == "late":
                    it.late_kg_h[mouth.index] = 3600.0 * kg_s

    def _tanks(self, mode: Mode, it: Now, y: list[float], oil_rates: list[float], leaked: float) -> None:
        a, names, at, n = self.aircraft, self.names, self.layout.at, self.layout.tanks
        fill = [self.litres(i, y) / a.tanks[i].capacity_l for i in range(n)]
        into_vent = [0.0] * len(a.vents)
        for i, vent in enumerate(a.vents):
            if mode.vents[i] == "draining" and vent.drains_to:
                to = names.tank[vent.drains_to]
                into_vent[i] -= vent.drain_kg_h / 3600.0
                self._into(to, vent.drain_kg_h / 3600.0, heat_content(y[n + to]), y[at["air"] + to])
        warm = [0.0] * n
        for i, tank in enumerate(a.tanks):
            area = abs(self.spaces[i].plan_m2) * (1.0 + min(fill[i], 1.0))
            warm[i] += tank.heat_w_m2_k * area * (it.air.skin_c - y[n + i])
            for other, w_k in tank.neighbours:
                j = names.tank[other]
                warm[i] += w_k * (y[n + j] - y[n + i])
                warm[j] += w_k * (y[n + i] - y[n + j])
        outside = it.air.pascal / SEA_PA
        kg, celsius, share = [0.0] * n, [0.0] * n, [0.0] * n
        it.spill, it.gain = [0.0] * n, [0.0] * n
        for i in self.order:
            tank = a.tanks[i]
            own_c, own_share = y[n + i], y[at["air"] + i]
            brought = self._heat[i] - self._in[i] * heat_content(own_c)
            capacity = y[i] * heat_capacity(own_c) + 1000.0 * tank.structure_kj_k
            celsius[i] = (warm[i] + brought) / capacity
            share[i] = (outside - own_share) / AIR_LAG_S
            share[i] += (self._air[i] - self._in[i] * own_share) / (y[i] + CLINGS_KG)
            kg[i] = self._in[i] - self._gone[i]
            # A full tank keeps its volume: as its fuel warms, it holds less.
            keeps = -0.74e-3 * celsius[i] * tank.overflow.at_l
            it.gain[i] = kg[i] - keeps
            if mode.spilling[i]:
                over = it.spill[i] = kg[i] - keeps
                kg[i] = keeps
                if self.spills_to[i] >= 0:
                    self._into(self.spills_to[i], over, heat_content(own_c), own_share)
                else:
                    into_vent[self.spills_out[i]] += over
        surge, vented = [], 0.0
        for i, vent in enumerate(a.vents):
            overboard = vent.surge_l <= 0.0 or mode.vents[i] == "full"
            vented += into_vent[i] if overboard else 0.0
            surge.append(0.0 if overboard else into_vent[i])
        it.into_vent = into_vent
        used = [(it.burn_kg_h[i] + it.late_kg_h[i]) / 3600.0 for i in range(len(a.engines))]
        it.rates = [
            *(*kg, *celsius, *share, *oil_rates, *surge, *used),
            *(sum(it.burn_kg_h) / 3600.0, self._uplift, vented, leaked),
            *(sum(it.outlet_kg_h) / 3600.0, 0.0),
        ]

    def start(self) -> list[float]:
        """The state at the start."""
        a, script = self.aircraft, self.script
        held = [script.tanks[tank.name] for tank in a.tanks]
        path = script.path[0]
        y = np.zeros(self.layout.length)
        n, at = self.layout.tanks, self.layout.at
        y[:n] = [tank.actual_kg for tank in held]
        y[n : 2 * n] = [tank.temperature_c for tank in held]
        y[2 * n : 3 * n] = standard_pa(path.altitude_ft * FOOT) / SEA_PA
        for i, line in enumerate(a.returns):
            y[at["oil"] + i] = script.tanks[line.to_tank].temperature_c
        for i, engine in enumerate(a.engines):
            y[at["used"] + i] = script.used_kg[engine.name]
        return [float(value) for value in y]

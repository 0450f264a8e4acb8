"""What is shown and what conditions compare: the second writing of gauges, meters and every quantity."""

from collections.abc import Callable
from dataclasses import dataclass, field
from math import nan

from tests.oracle.equations import Equations, Now
from tests.oracle.gauges import probes_of
from tests.oracle.nature import (
    FOOT,
    KELVIN,
    SEA_PA,
    G,
    density_of,
    kg_per_l,
    permittivity,
    thickness,
    vapour_bar,
)
from tests.oracle.shapes import space_of
from tests.oracle.way import Leg
from wetwing.aircraft.model import Filter
from wetwing.flight.troubles import Trouble

FLAMMABLE_C = (35.0, 28.6, 22.1, 15.7, 9.2)
"""The public table's lower limit at 0, 10, 20, 30 and 40 thousand ft."""


def flammable_above_c(altitude_ft: float) -> float:
    """The lower limit: a mean of the points around, weighted by nearness; straight on beyond the ends."""
    height = altitude_ft / 1e4
    below = min(max(int(height), 0), 3)
    return FLAMMABLE_C[below] * (below + 1 - height) + FLAMMABLE_C[below + 1] * (height - below)


Vector = list[float]
Read = Callable[[float, Vector, Now], float]


@dataclass
class Ill:
    """A trouble that is present, since when, and what its part showed then."""

    trouble: Trouble
    since_s: float
    shown: float


@dataclass
class Seen:
    """What readings depend on besides the state."""

    leg: Leg
    ills: list[Ill] = field(default_factory=list)
    silent: frozenset[str] = frozenset()
    states: dict[str, str] = field(default_factory=dict)
    entered: dict[str, float] = field(default_factory=dict)
    departed_kg: float | None = None
    departed_metered: float = 0.0

    def of(self, part: str, *kinds: str) -> list[Ill]:
        """Troubles of a part, of these kinds if any are named."""
        return [
            ill for ill in self.ills if ill.trouble.part == part and (not kinds or ill.trouble.kind in kinds)
        ]

    def wrong(self, part: str, true: float, t: float, unit: float) -> float:
        """What a part makes of a true figure."""
        value = true
        for ill in self.of(part, "frozen", "biased", "drifting"):
            if ill.trouble.kind == "frozen":
                return ill.shown
            hours = (t - ill.since_s) / 3600.0 if ill.trouble.kind == "drifting" else 1.0
            value += ill.trouble.severity * hours * unit
        return value


class Readings:
    """The readings of one flight; `seen` is kept by whoever follows the flight."""

    def __init__(self, equations: Equations, seen: Seen) -> None:
        self.e, self.seen = equations, seen
        self.aircraft = equations.aircraft
        self.probes = [[p for p in self.aircraft.probes if p.tank == t.name] for t in self.aircraft.tanks]
        self.compensators = {c.tank: c.name for c in self.aircraft.compensators}
        self.meters = {m.engine: m.name for m in self.aircraft.meters}
        self.totaliser = self.aircraft.totalisers[0].name if self.aircraft.totalisers else ""
        self.sides = [{"left": -1.0, "right": 1.0}.get(t.side, 0.0) for t in self.aircraft.tanks]
        self.made: dict[str, Read] = {}

    def quantity(self, name: str) -> Read:
        """How a quantity is read."""
        if name not in self.made:
            self.made[name] = self._make(name)
        return self.made[name]

    # -- gauges

    def gauged(self, tank: int, t: float, y: Vector) -> float:
        """What a tank's gauge shows, kg above unusable."""
        part, probes, seen = self.aircraft.tanks[tank], self.probes[tank], self.seen
        rho = kg_per_l(self.e.rho15, y[self.e.layout.tanks + tank])
        litres = y[tank] / rho
        if probes:
            lost = tuple(i for i, p in enumerate(probes) if p.name in seen.silent)
            if len(lost) == len(probes):
                return nan
            if seen.leg.pitch_deg or seen.leg.roll_deg:
                places = tuple(p.at_m for p in probes)
                lie = (seen.leg.pitch_deg, seen.leg.roll_deg, self.aircraft.corrects_attitude)
                litres = probes_of(part, places, lost, *lie).reads_l(litres)
            kept = [p.name for i, p in enumerate(probes) if i not in lost]
            litres = sum(seen.wrong(name, litres, t, 0.01 * litres) for name in kept) / len(kept)
            k = permittivity(1000.0 * rho)
            water = sum(ill.trouble.severity for ill in seen.of(part.name, "water"))
            litres += water * (80.0 - k) / (k - 1.0) / len(probes)
            compensator = self.compensators.get(part.name, "")
            told = k
            if compensator in seen.silent:
                told = 2.1
            elif seen.of(compensator, "frozen", "biased", "drifting"):
                told = min(max(seen.wrong(compensator, k, t, 0.01 * k), 1.2), 80.0)
            seen_rho = rho if told == k else density_of(told) / 1000.0
            return max(litres * (k - 1.0) / (told - 1.0) * seen_rho - part.unusable_kg, 0.0)
        return max(litres * rho - part.unusable_kg, 0.0)

    def total(self, t: float, y: Vector) -> float:
        """What the totaliser shows."""
        total = sum(self.gauged(i, t, y) for i in range(self.e.layout.tanks))
        if self.totaliser in self.seen.silent:
            return nan
        return self.seen.wrong(self.totaliser, total, t, 1.0)

    def metered(self, engine: int, t: float, now: Now) -> float:
        """kg/h by an engine's meter."""
        name = self.meters.get(self.aircraft.engines[engine].name, "")
        true = now.burn_kg_h[engine] + now.late_kg_h[engine]
        if name in self.seen.silent:
            return 0.0
        if not self.seen.of(name):
            return true
        return max(0.0, self.seen.wrong(name, true, t, 0.01 * true))

    def meter(self, t: float, now: Now) -> None:
        """Put what the meters say into the rates."""
        at = self.e.layout.at
        said = [self.metered(i, t, now) / 3600.0 for i in range(len(self.aircraft.engines))]
        now.rates[at["used"] : at["used"] + len(said)] = said
        now.rates[at["metered"]] = sum(said)

    # -- lines to the users

    def filter_loss(self, part: Filter, t: float, now: Now) -> float:
        """What a filter would take if nothing passed round it, bar."""
        names = self.e.names
        user = names.user[part.user]
        node = names.node[names.users[user].node]
        flow, celsius = now.drawn_kg_h[user] / 1000.0, now.node_c[node]
        if self.seen.of(part.name, "blocked"):
            linear = 1e6
        else:
            linear = part.linear_bar_h_t * thickness(min(max(celsius, -60.0), 120.0))
            for ill in self.seen.of(part.name, "clogging"):
                linear += ill.trouble.severity * (t - ill.since_s) / 3600.0
            linear += 0.03 * now.node_water[node] * min(max(-celsius / 10.0, 0.0), 1.0)
        return linear * flow + part.square_bar_h2_t2 * flow**2

    def margin(self, user: int, t: float, now: Now) -> float:
        """Pressure at a user's own pump above that at which gas starves it."""
        names = self.e.names
        part = names.users[user]
        node = names.node[part.node]
        flow, celsius = now.drawn_kg_h[user] / 1000.0, min(max(now.node_c[node], -60.0), 120.0)
        stands = now.air.pascal / 1e5 + now.bar[node]
        stands -= (part.line_linear_bar_h_t * thickness(celsius) + part.line_square_bar_h2_t2 * flow) * flow
        for each in self.aircraft.filters:
            if each.user == part.name:
                stands -= min(self.filter_loss(each, t, now), each.bypass_bar)
        dissolved = 0.18 * min(max(now.node_share[node], 0.0), 1.2) * SEA_PA / 1e5
        return (
            stands - vapour_bar(celsius, self.e.script.light_ends) - dissolved / (0.18 + part.inlet_gas_share)
        )

    # -- quantities by name

    def _make(self, name: str) -> Read:
        subject, _, attribute = name.partition(".")
        names, at, n = self.e.names, self.e.layout.at, self.e.layout.tanks
        if subject in names.tank:
            return self._tank(names.tank[subject], attribute)
        if subject == "total":
            return self._total(attribute)
        if subject == "flight":
            return self._flight(attribute)
        if subject in names.node:
            node = names.node[subject]
            return lambda t, y, now: now.bar[node]
        if subject in names.user:
            return self._user(names.user[subject], attribute)
        if subject in names.source:
            source = names.source[subject]
            if attribute == "flow_kg_h":
                return lambda t, y, now: now.source_kg_h[source]
            return lambda t, y, now: self._outlet_bar(source, now)
        if attribute.startswith("value_"):
            return lambda t, y, now: self.seen.entered[subject]
        if attribute == "oil_c":
            oil = at["oil"] + [r.name for r in self.aircraft.returns].index(subject)
            return lambda t, y, now: y[oil]
        if attribute == "surge_kg":
            surge = at["surge"] + names.vent[subject]
            return lambda t, y, now: y[surge]
        if attribute == "differential_bar":
            part = next(f for f in self.aircraft.filters if f.name == subject)
            return lambda t, y, now: min(self.filter_loss(part, t, now), part.bypass_bar)
        del n
        return self._mover(subject)

    def _tank(self, i: int, attribute: str) -> Read:
        n, at = self.e.layout.tanks, self.e.layout.at
        capacity = self.aircraft.tanks[i].capacity_l
        readers: dict[str, Read] = {
            "actual_kg": lambda t, y, now: y[i],
            "gauged_kg": lambda t, y, now: self.gauged(i, t, y),
            "temperature_c": lambda t, y, now: y[n + i],
            "freezing_margin_c": lambda t, y, now: y[n + i] - self.e.script.freezing_c,
            "air_share": lambda t, y, now: y[at["air"] + i],
            "volume_l": lambda t, y, now: self.e.litres(i, y),
            "fill": lambda t, y, now: self.e.litres(i, y) / capacity,
            "rate_kg_h": lambda t, y, now: 3600.0 * now.rates[i],
        }
        return readers[attribute]

    def _total(self, attribute: str) -> Read:
        n, at, seen = self.e.layout.tanks, self.e.layout.at, self.seen

        def computed(t: float, y: Vector, now: Now) -> float:
            if seen.departed_kg is None:
                return self.total(t, y)
            # By the engines' meters and by those of the outlets.
            return seen.departed_kg - (y[at["metered"]] + y[at["discharged"]] - seen.departed_metered)

        def discrepancy(t: float, y: Vector, now: Now) -> float:
            return 0.0 if seen.departed_kg is None else computed(t, y, now) - self.total(t, y)

        def imbalance(t: float, y: Vector, now: Now) -> float:
            return sum(side * self.gauged(i, t, y) for i, side in enumerate(self.sides) if side)

        litre = kg_per_l(self.e.rho15, self.e.script.uplift_temperature_c)
        readers: dict[str, Read] = {
            "gauged_kg": lambda t, y, now: self.total(t, y),
            "computed_kg": computed,
            "discrepancy_kg": discrepancy,
            "imbalance_kg": imbalance,
            "on_board_kg": lambda t, y, now: sum(y[:n]) + sum(y[at["surge"] : at["used"]]),
            "uplifted_l": lambda t, y, now: y[at["uplifted"]] / litre,
        }
        if attribute in readers:
            return readers[attribute]
        where = at[attribute.removesuffix("_kg")]
        return lambda t, y, now: y[where]

    def _flight(self, attribute: str) -> Read:
        n, seen, script, balance = self.e.layout.tanks, self.seen, self.e.script, self.aircraft.balance
        places = [space_of(tank).centre for tank in self.aircraft.tanks]
        zero = script.zero_fuel_kg

        def cg(t: float, y: Vector, now: Now) -> float:
            # Arms from the leading edge, in shares of the chord.
            moment = zero * 0.01 * script.zero_fuel_cg_percent
            moment += sum(y[i] * (places[i][0] - balance.lemac_m) / balance.mac_m for i in range(n))
            return 100.0 * moment / (zero + sum(y[:n]))

        def bending(t: float, y: Vector, now: Now) -> float:
            moment = (zero + sum(y[:n])) * balance.lift_arm_m
            for i, tank in enumerate(self.aircraft.tanks):
                moment -= y[i] * abs(places[i][1]) if tank.side != "centre" else 0.0
            return 0.5e-3 * G * moment

        readers: dict[str, Read] = {
            "altitude_ft": lambda t, y, now: now.air.height_m / FOOT,
            "mach": lambda t, y, now: now.air.mach,
            "air_temperature_c": lambda t, y, now: now.air.air_k - KELVIN,
            "total_temperature_c": lambda t, y, now: now.air.air_k * (1.0 + 0.2 * now.air.mach**2) - KELVIN,
            "skin_temperature_c": lambda t, y, now: now.air.skin_c,
            "gross_kg": lambda t, y, now: now.gross,
            "pitch_deg": lambda t, y, now: seen.leg.pitch_deg,
            "roll_deg": lambda t, y, now: seen.leg.roll_deg,
            "time_s": lambda t, y, now: t,
            "flammable_above_c": lambda t, y, now: flammable_above_c(now.air.height_m / FOOT),
            "cg_percent": cg,
            "root_bending_kn_m": bending,
        }
        return readers[attribute]

    def _user(self, user: int, attribute: str) -> Read:
        used = self.e.layout.at["used"] + user
        readers: dict[str, Read] = {
            "used_kg": lambda t, y, now: y[used],
            "metered_kg_h": lambda t, y, now: self.metered(user, t, now),
            "inlet_margin_bar": lambda t, y, now: self.margin(user, t, now),
            "flow_kg_h": lambda t, y, now: now.burn_kg_h[user],
        }
        return readers[attribute]

    def _outlet_bar(self, source: int, now: Now) -> float:
        part = self.e.names.sources[source]
        state = self.seen.states[part.name]
        if state == "dry":
            return 0.06 * part.shut_off_bar
        if state in ("off", "stopped by automatics", "failed", "no power"):
            return 0.0
        flow = now.source_kg_h[source] / 1000.0
        head = now.heads.get(source, 0.0) or part.shut_off_bar
        return head - (part.linear_bar_h_t + part.square_bar_h2_t2 * abs(flow)) * flow

    def _mover(self, subject: str) -> Read:
        a = self.aircraft
        for i, line in enumerate(self.e.names.lines):
            if line.name == subject:
                return lambda t, y, now: now.line_kg_h[i]
        for i, vent in enumerate(a.vents):
            if vent.name == subject:
                return lambda t, y, now: (
                    3600.0 * now.into_vent[i]
                    if vent.surge_l <= 0.0 or self.seen.states[subject] == "spilling"
                    else 0.0
                )
        for i, outlet in enumerate(a.outlets):
            if outlet.name == subject:
                return lambda t, y, now: now.outlet_kg_h[i]
        for i, pipe in enumerate(a.transfers):
            if pipe.name == subject:
                return lambda t, y, now: now.transfer_kg_h[i]
        for i, back in enumerate(a.returns):
            if back.name == subject:
                return lambda t, y, now: now.return_kg_h[i]
        i = [jet.name for jet in a.jet_pumps].index(subject)
        return lambda t, y, now: now.jet_kg_h[i]

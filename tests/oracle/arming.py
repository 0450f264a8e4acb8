"""The oracle's own events: margins that are below zero until something has to happen."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

from tests.oracle.equations import Equations, Now
from tests.oracle.nature import kg_per_l
from tests.oracle.readings import Read, Vector
from wetwing.aircraft.model import Filter

if TYPE_CHECKING:
    from tests.oracle.follow import Oracle

OPEN_BAR = 1e-9
EMPTY_KG = 0.5
ROOM_L = 40.0
GATHERS_KG = 1.0
FLAP_M = 1e-4
FILM_KG = 60.0
SLOWEST_S = 30.0
"""An event whose margin hardly moves is still the same if it comes within this."""

# What two good solutions may differ by.
KG = L = 0.1
KELVIN = 0.005
BAR = 1e-6
KG_S = 1e-7
METRE = 5e-5
UNITS = {
    "kg": KG,
    "kg_h": 0.05,
    "l": L,
    "bar": BAR,
    "c": KELVIN,
    "kn_m": 0.001,
    "ft": 0.01,
    "s": 1e-6,
    "percent": 1e-4,
}
SMALL = 1e-6


@dataclass
class Event:
    """`must`: when it turns, `part` has to turn in the flight; else it may only matter later.

    `slack` is how much of the margin two good solutions may differ by. A margin that moves so slowly that it
    is not through that in the time allowed is held to the slack instead of the time.
    """

    part: str
    name: str
    margin: Read
    slack: float
    must: bool = False
    delayed: bool = False
    flows: bool = False
    strict: bool = False
    slope: float = inf

    @property
    def spread_s(self) -> float:
        """How far apart two good solutions may see it."""
        return min(self.slack / self.slope, SLOWEST_S) if self.slope else SLOWEST_S

    def true(self, t: float, y: Vector, now: Now) -> bool:
        """Whether it has come; what is not a number has not."""
        margin = self.margin(t, y, now)
        return bool(margin > 0.0 if self.strict else margin >= 0.0)


def rises(at: int, to: float) -> Read:
    """A part of the state comes up to a figure."""
    return lambda t, y, now: y[at] - to


def falls(at: int, to: float) -> Read:
    """A part of the state comes down to a figure."""
    return lambda t, y, now: to - y[at]


def fills(e: Equations, tank: int, litres: float) -> Read:
    """A tank's volume comes up to a figure."""
    return lambda t, y, now: e.litres(tank, y) - litres


def empties(e: Equations, tank: int, litres: float) -> Read:
    """A tank's volume comes down to a figure."""
    return lambda t, y, now: litres - e.litres(tank, y)


def armed(o: "Oracle") -> list[Event]:
    """Everything that can happen next."""
    return [*_pick_ups(o), *_flaps(o), *_levels(o), *_overflows(o), *_pressures(o), *_comparisons(o)]


def _pick_ups(o: "Oracle") -> Iterator[Event]:
    e, board = o.e, o.board

    def dips(part: str, tank: int, low: float, high: float, covered: bool) -> Event:
        if covered:
            return Event(part, "uncovers", empties(e, tank, low), L)
        return Event(part, "covers", fills(e, tank, high), L)

    for i, source in enumerate(e.names.sources):
        tank = e.source_tank[i]
        if tank is not None:
            low = board.reached(tank, source.uncovers_l, source.at_m)
            high = board.reached(tank, source.recovers_l, source.at_m)
            yield dips(source.name, tank, low, high, board.covered[i])
    for i, jet in enumerate(o.flight.aircraft.jet_pumps):
        tank = e.names.tank[jet.from_tank]
        low, high = board.reached(tank, jet.stops_l, jet.at_m), board.reached(tank, jet.recovers_l, jet.at_m)
        yield dips(jet.name, tank, low, high, board.jet_covered[i])


def _flaps(o: "Oracle") -> Iterator[Event]:
    e, a = o.e, o.flight.aircraft

    def lifts(pipe: int, sign: float, beyond: float) -> Read:
        return lambda t, y, now: sign * e.fall(pipe, y) - beyond

    for i, pipe in enumerate(a.transfers):
        tank = e.names.tank[pipe.from_tank]
        least = a.tanks[tank].unusable_kg
        how = o.board.pipes[i]
        if not how:
            yield Event(pipe.name, "wet", rises(tank, least + 10.0), KG)
            continue
        yield Event(pipe.name, "dry", falls(tank, least + (1.0 if how == "weir" else 0.0)), KG)
        if how == "weir":
            yield Event(pipe.name, "brim", rises(tank, least + 60.0), KG)
        if e.mode.transferring[i]:
            if o.seen.states[pipe.name] == "flowing":
                yield Event(pipe.name, "flap shuts", lifts(i, -1.0, 0.0), METRE)
            else:
                yield Event(pipe.name, "flap opens", lifts(i, 1.0, FLAP_M), METRE)


def _levels(o: "Oracle") -> Iterator[Event]:
    e, a, n = o.e, o.flight.aircraft, o.e.layout.tanks

    def sensed(name: str, tank: int, sign: float, litres: float) -> Read:
        return lambda t, y, now: sign * (o.seen.wrong(name, e.litres(tank, y), t, 1.0) - litres)

    for sensor in a.sensors:
        if o.board.forced(sensor):
            continue
        tank = e.names.tank[sensor.tank]
        if o.seen.states[sensor.name] == "wet":
            low = o.board.reached(tank, sensor.dry_at_l, sensor.at_m)
            yield Event(sensor.name, "dry", sensed(sensor.name, tank, -1.0, low), L, must=True)
        else:
            high = o.board.reached(tank, sensor.wet_at_l, sensor.at_m)
            yield Event(sensor.name, "wet", sensed(sensor.name, tank, 1.0, high), L, must=True)
    freezing = e.script.freezing_c
    for i, part in enumerate(a.tanks):
        if o.seen.of(part.name, "leak"):
            if o.board.leak_covered[i]:
                yield Event(part.name, "empty", falls(i, EMPTY_KG), KG)
            else:
                yield Event(part.name, "leaks", rises(i, EMPTY_KG + 10.0), KG)
        if o.y[n + i] > freezing:
            yield Event(part.name, "freezes", falls(n + i, freezing), KELVIN, must=True)


def _overflows(o: "Oracle") -> Iterator[Event]:
    e, a, board = o.e, o.flight.aircraft, o.board

    def gains(tank: int) -> Read:
        return lambda t, y, now: now.gain[tank]

    def loses(tank: int) -> Read:
        return lambda t, y, now: -now.spill[tank]

    for i, part in enumerate(a.tanks):
        full = part.overflow.at_l
        if o.seen.states[part.name] == "spilling":
            yield Event(part.name, "spills no more", loses(i), KG_S, flows=True, strict=True)
        elif e.litres(i, o.y) >= full:
            yield Event(part.name, "gains", gains(i), KG_S, flows=True, strict=True)
        else:
            yield Event(part.name, "full", fills(e, i, full), L)
    for i, vent in enumerate(a.vents):
        at = e.layout.at["surge"] + i
        if vent.surge_l <= 0.0 or o.seen.states[vent.name] == "dry":
            continue
        if o.seen.states[vent.name] == "holding":
            yield Event(vent.name, "full", rises(at, vent.surge_l * kg_per_l(e.rho15, 15.0)), KG)
        if vent.drains_to:
            tank = e.names.tank[vent.drains_to]
            full = a.tanks[tank].overflow.at_l
            if board.draining[i]:
                yield Event(vent.name, "drained", falls(at, 0.0), KG)
                yield Event(vent.name, "stops", fills(e, tank, full - 0.25 * ROOM_L), L)
            else:
                yield Event(vent.name, "drains", empties(e, tank, full - ROOM_L), L)
                yield Event(vent.name, "has gathered", rises(at, GATHERS_KG), KG)


def _pressures(o: "Oracle") -> Iterator[Event]:
    names = o.e.names
    for i, source in enumerate(names.sources):
        if not o.e.mode.passing[i]:
            continue
        node = names.node[source.node]

        def over(t: float, y: Vector, now: Now, i: int = i, node: int = node) -> float:
            return now.heads.get(i, 0.0) - now.bar[node] - OPEN_BAR

        def back(t: float, y: Vector, now: Now, i: int = i) -> float:
            return -now.source_kg_h[i]

        yield Event(source.name, "check valve", over, BAR, flows=True, strict=True)
        if o.e.mode.passing[i] in ("both", "back"):
            yield Event(source.name, "back-flow", back, UNITS["kg_h"], flows=True, strict=True)
    for i, user in enumerate(names.users):
        if o.seen.states[user.name] in ("starting", "running"):

            def lack(t: float, y: Vector, now: Now, i: int = i) -> float:
                return -o.readings.margin(i, t, now)

            yield Event(user.name, "starves", lack, BAR, must=True, flows=True, strict=True)
    for part in o.flight.aircraft.filters:

        def excess(t: float, y: Vector, now: Now, part: Filter = part) -> float:
            return o.readings.filter_loss(part, t, now) - part.bypass_bar

        yield Event(part.name, "by-pass", excess, BAR, flows=True, strict=True)


def _comparisons(o: "Oracle") -> Iterator[Event]:
    for name, question, delayed in o.board.wanted():
        for leaf in o.conditions.open(question):
            unit = max((u for u in UNITS if leaf.left.endswith(f"_{u}")), key=len, default="")
            yield Event(
                name,
                f"{leaf.left} {leaf.op} {leaf.right}",
                o.conditions.margin(leaf, question),
                UNITS.get(unit, SMALL),
                delayed=delayed,
                flows=True,
                strict="=" not in leaf.op,
            )

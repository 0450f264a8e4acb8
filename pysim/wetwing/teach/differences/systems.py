"""What two types are made of, system by system: their main figures side by side, where they differ.

Two types share no parts, so that a list part by part would compare what has nothing in common.
"""

from collections.abc import Sequence
from typing import NamedTuple

from wetwing.aircraft.model import Aircraft
from wetwing.teach.differences.figures import Row, marked
from wetwing.teach.words import listed

NONE = "none"


class _Fact(NamedTuple):
    system: str
    what: str
    words: str


def systems(first: Aircraft, second: Aircraft) -> list[Row]:
    """The main figures in which two types differ, by system."""
    theirs = {(fact.system, fact.what): fact.words for fact in _facts(second)}
    found = []
    for fact in _facts(first):
        other = theirs[fact.system, fact.what]
        if fact.words != other:
            found.append(Row(fact.system, "", fact.what, fact.words, other))
    return found


def _facts(aircraft: Aircraft) -> list[_Fact]:
    return [
        *_limits(aircraft),
        *_tanks(aircraft),
        *_feed(aircraft),
        *_moving(aircraft),
        *_gauging(aircraft),
        *_people(aircraft),
    ]


def _limits(aircraft: Aircraft) -> list[_Fact]:
    limits, (least, most) = aircraft.limits, aircraft.balance.cg_limits_percent
    return [
        _Fact("Limits", "zero-fuel mass", marked(limits.zero_fuel_kg, "kg")),
        _Fact("Limits", "take-off mass", marked(limits.take_off_kg, "kg")),
        _Fact("Limits", "landing mass", marked(limits.landing_kg, "kg")),
        _Fact("Limits", "ceiling", marked(limits.ceiling_ft, "ft")),
        _Fact("Limits", "balance", f"{marked(least, '%')} to {marked(most, '%')}"),
    ]


def _tanks(aircraft: Aircraft) -> list[_Fact]:
    each = [f"{tank.label} {marked(tank.capacity_l, 'L')}" for tank in aircraft.tanks]
    spills = [f"{tank.label} to {_label(aircraft, tank.overflow.to)}" for tank in aircraft.tanks]
    space_l = sum(vent.surge_l for vent in aircraft.vents)
    return [
        _Fact("Tanks and vents", "tanks", "; ".join(each)),
        _Fact("Tanks and vents", "together", marked(sum(tank.capacity_l for tank in aircraft.tanks), "L")),
        _Fact("Tanks and vents", "unusable", marked(sum(tank.unusable_kg for tank in aircraft.tanks), "kg")),
        _Fact("Tanks and vents", "overflow", "; ".join(spills)),
        _Fact("Tanks and vents", "surge space, together", marked(space_l, "L")),
    ]


def _feed(aircraft: Aircraft) -> list[_Fact]:
    pumps = [
        f"{pump.label} {{{pump.shut_off_bar:.2f} bar}}"
        for pump in sorted(aircraft.pumps, key=lambda pump: -pump.shut_off_bar)
    ]
    powered = [engine for engine in aircraft.engines if engine.propels]
    idle = sorted({engine.idle_flow_kg_h for engine in powered})
    start = sorted({engine.start_s for engine in powered})
    return [
        _Fact("Pumps and feed", "engines", str(len(powered))),
        _Fact("Pumps and feed", "flow at idle, each", listed([marked(flow, "kg/h") for flow in idle])),
        _Fact("Pumps and feed", "time to start", listed([marked(time_s, "s") for time_s in start])),
        _Fact("Pumps and feed", "pumps, by pressure at no flow", "; ".join(pumps) or NONE),
        _Fact("Pumps and feed", "jet pumps", _labels(aircraft.jet_pumps)),
        _Fact("Pumps and feed", "suction feed", _labels(aircraft.bypasses)),
        _Fact("Pumps and feed", "APU", _labels(aircraft.apus)),
        _Fact("Pumps and feed", "filters", _labels(aircraft.filters)),
    ]


def _moving(aircraft: Aircraft) -> list[_Fact]:
    ways = [
        f"{_label(aircraft, one.from_tank)} to {_label(aircraft, one.to_tank)}" for one in aircraft.transfers
    ]
    returns = [f"{one.label} {marked(one.flow_kg_h, 'kg/h')}" for one in aircraft.returns]
    return [
        _Fact("Valves, transfer and return", "valves", _labels(aircraft.valves)),
        _Fact("Valves, transfer and return", "gravity transfer", "; ".join(ways) or NONE),
        _Fact("Valves, transfer and return", "return flow", "; ".join(returns) or NONE),
        _Fact("Valves, transfer and return", "outlets", _labels(aircraft.outlets)),
        _Fact("Refuelling", "supplies", _labels(aircraft.supplies)),
    ]


def _gauging(aircraft: Aircraft) -> list[_Fact]:
    probes = [
        f"{tank.label} {sum(probe.tank == tank.name for probe in aircraft.probes)}" for tank in aircraft.tanks
    ]
    return [
        _Fact("Gauging, sensors and power", "probes", "; ".join(probes)),
        _Fact("Gauging, sensors and power", "level sensors", _labels(aircraft.sensors)),
        _Fact("Gauging, sensors and power", "buses", _labels(aircraft.buses)),
        _Fact("Gauging, sensors and power", "displays", _labels(aircraft.displays)),
    ]


def _people(aircraft: Aircraft) -> list[_Fact]:
    return [_Fact("Controls", "what a crew sets", _labels(aircraft.controls))]


def _labels(parts: Sequence[object]) -> str:
    return "; ".join(part.label for part in parts) or NONE  # type: ignore[attr-defined]


def _label(aircraft: Aircraft, name: str) -> str:
    return aircraft.parts[name].label

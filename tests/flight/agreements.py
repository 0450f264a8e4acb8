"""What a part's state says, its flow does: nothing comes out of what is dry, off, shut or stopped."""

from collections.abc import Callable
from itertools import groupby

from wetwing.aircraft.model import Part, Transfer
from wetwing.flight.record import Flight
from wetwing.flight.watches import FLAP_M
from wetwing.physics.tank import gravity_flow_kg_s

STILL_KG_H = 0.01
"""Less than this is no flow: at the very event, a check valve opens by a hair."""

DENSEST_KG_M3 = 900.0
"""No fuel is denser, however cold."""

GIVING = ("delivering", "feeding")
BURNING = ("starting", "running")

type Fits = Callable[[str, float], bool]


def source_fits(state: str, kg_h: float) -> bool:
    """A pump, bypass or supply."""
    if kg_h > STILL_KG_H:
        return state in GIVING
    return kg_h >= -STILL_KG_H or state == "flowing back"


def user_fits(state: str, kg_h: float) -> bool:
    """An engine or the APU."""
    return kg_h > STILL_KG_H if state in BURNING else kg_h == 0.0


def valve_fits(state: str, kg_h: float) -> bool:
    """A valve of a line; one of a transfer or a user carries no figure of its own."""
    return state != "shut" or kg_h == 0.0


def check_valve_fits(state: str, kg_h: float) -> bool:
    """A check valve of a line, which fuel passes backwards where it is stuck open."""
    return state == "passing" or kg_h <= STILL_KG_H


def mover_fits(state: str, kg_h: float) -> bool:
    """A return line or a jet pump."""
    return (kg_h > 0.0) is (state == "flowing")


def transfer_fits(part: Transfer) -> Fits:
    """A gravity transfer. Its flap counts as shut until a tenth of a millimetre of head lifts it."""
    hair_kg_h = gravity_flow_kg_s(FLAP_M, part.area_m2, part.discharge, DENSEST_KG_M3) * 3600.0

    def fits(state: str, kg_h: float) -> bool:
        return kg_h > 0.0 if state == "flowing" else kg_h <= hair_kg_h

    return fits


def _judges(flight: Flight) -> list[tuple[str, list[float], Fits]]:
    craft = flight.aircraft
    fits: list[tuple[Part, Fits]] = [
        *((part, source_fits) for part in (*craft.pumps, *craft.bypasses, *craft.supplies)),
        *((part, user_fits) for part in (*craft.engines, *craft.apus)),
        *((part, valve_fits) for part in craft.valves if part.ends),
        *((part, check_valve_fits) for part in craft.check_valves),
        *((part, mover_fits) for part in (*craft.returns, *craft.jet_pumps)),
        *((part, transfer_fits(part)) for part in craft.transfers),
    ]
    return [(part.name, flight.quantities[f"{part.name}.flow_kg_h"], judge) for part, judge in fits]


def assert_flows_fit_states(flight: Flight) -> None:
    """At every keyframe; of several at one time the last, when all has come to rest."""
    judges = _judges(flight)
    states = dict(flight.start_states)
    changes = iter(flight.changes)
    following = next(changes, None)
    last = {
        time_s: list(rows)[-1]
        for time_s, rows in groupby(range(len(flight.time_s)), flight.time_s.__getitem__)
    }
    for time_s, row in last.items():
        while following is not None and following.time_s <= time_s:
            states[following.part] = following.after
            following = next(changes, None)
        for name, column, fits in judges:
            assert fits(states[name], column[row]), (
                f"{name} is {states[name]} with {column[row]:g} kg/h at {time_s} s"
            )

"""What a condition may speak of: the states of every part, and every quantity with its unit."""

from wetwing.aircraft.condition import unit_of
from wetwing.aircraft.model import Aircraft

PHASE = "phase"
TANK_QUANTITIES = (
    *("actual_kg", "gauged_kg", "temperature_c", "volume_l", "fill", "rate_kg_h"),
    *("freezing_margin_c", "air_share"),
)
TOTALS = (
    *("on_board_kg", "gauged_kg", "burned_kg", "uplifted_kg", "uplifted_l", "vented_kg", "leaked_kg"),
    *("discharged_kg", "metered_kg", "computed_kg", "discrepancy_kg", "imbalance_kg"),
)
FLIGHT_QUANTITIES = (
    *("altitude_ft", "mach", "air_temperature_c", "total_temperature_c", "skin_temperature_c", "gross_kg"),
    *("pitch_deg", "roll_deg", "cg_percent", "root_bending_kn_m", "flammable_above_c", "time_s"),
)


def quantities(aircraft: Aircraft) -> dict[str, str]:
    """Every quantity's name with its unit, in the order in which a record shows them."""
    names: list[str] = []
    for tank in aircraft.tanks:
        names += [f"{tank.name}.{quantity}" for quantity in TANK_QUANTITIES]
    for pump in (*aircraft.pumps, *aircraft.bypasses, *aircraft.supplies):
        names += [f"{pump.name}.flow_kg_h", f"{pump.name}.pressure_bar"]
    names += [f"{node.name}.pressure_bar" for node in aircraft.nodes]
    lines = (*(valve for valve in aircraft.valves if valve.ends), *aircraft.check_valves)
    movers = (*aircraft.transfers, *aircraft.returns, *aircraft.jet_pumps, *aircraft.vents, *aircraft.outlets)
    names += [f"{part.name}.flow_kg_h" for part in (*lines, *movers)]
    names += [f"{line.name}.oil_c" for line in aircraft.returns]
    names += [f"{vent.name}.surge_kg" for vent in aircraft.vents]
    for engine in aircraft.engines:
        shown = ("flow_kg_h", "used_kg", "metered_kg_h", "inlet_margin_bar")
        names += [f"{engine.name}.{quantity}" for quantity in shown]
    for apu in aircraft.apus:
        names += [f"{apu.name}.flow_kg_h", f"{apu.name}.inlet_margin_bar"]
    names += [f"{part.name}.differential_bar" for part in aircraft.filters]
    names += [f"total.{name}" for name in TOTALS]
    names += [f"flight.{name}" for name in FLIGHT_QUANTITIES]
    for control in aircraft.controls:
        if control.quantity:
            names.append(f"{control.name}.value_{control.quantity.unit}")
    return {name: unit_of(name) or "" for name in names}


def states(aircraft: Aircraft, phases: tuple[str, ...] = ()) -> dict[str, tuple[str, ...]]:
    """Every part's states; `phase` has those of a script, or any where none are given."""
    known = {name: part.states for name, part in aircraft.parts.items()}
    known[PHASE] = phases
    return known

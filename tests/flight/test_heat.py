"""Every tank's temperature against a heat balance written anew from what the record shows."""

import pytest

from tests.flight.flights import alder, day_sector, flown, turn
from wetwing.aircraft.model import Tank

STRUCTURE_KG = 15.0
RETURN_C = 72.0


def inflows(tank: Tank, k: int) -> list[tuple[float, float]]:
    """What comes into a tank at a keyframe: kg/h and °C."""
    q = flown().quantities
    side = tank.name.rpartition("-")[2]
    found = [(q[f"refuel-valve-{tank.name}.flow_kg_h"][k], day_sector().uplift_temperature_c)]
    if tank.name.startswith("outboard"):
        found.append((q[f"return-{side}.flow_kg_h"][k], RETURN_C))
    if tank.name.startswith("main"):
        outboard = f"outboard-{side}"
        transferred = q[f"transfer-{side}.flow_kg_h"][k]
        # What an outboard takes in and neither keeps nor passes on by gravity spills into the main.
        spilt = q[f"return-{side}.flow_kg_h"][k] - transferred - q[f"{outboard}.rate_kg_h"][k]
        spilt += q[f"refuel-valve-{outboard}.flow_kg_h"][k]
        found.append((transferred + spilt, q[f"{outboard}.temperature_c"][k]))
    if tank.name == "main-left":
        found.append((q["scavenge.flow_kg_h"][k], q["centre.temperature_c"][k]))
    return found


def warming_k_h(tank: Tank, k: int) -> float:
    """Towards the skin by the tank's time constant, and towards what comes in by its share of the mass."""
    q = flown().quantities
    temperature_c = q[f"{tank.name}.temperature_c"][k]
    constant_h = tank.heat_low_h + (tank.heat_full_h - tank.heat_low_h) * q[f"{tank.name}.fill"][k]
    mixed = sum(flow * (comes_c - temperature_c) for flow, comes_c in inflows(tank, k))
    return (q["flight.skin_temperature_c"][k] - temperature_c) / constant_h + mixed / (
        q[f"{tank.name}.actual_kg"][k] + STRUCTURE_KG
    )


@pytest.mark.parametrize("tank", alder().tanks, ids=lambda tank: tank.name)
def test_each_tank_warms_and_cools_by_its_heat_balance(tank: Tank) -> None:
    flight = flown()
    column = flight.quantities[f"{tank.name}.temperature_c"]
    compared = 0
    for k in range(len(flight.time_s) - 1):
        length_h = (flight.time_s[k + 1] - flight.time_s[k]) / 3600.0
        if length_h == 0.0 or min(flight.quantities[f"{tank.name}.actual_kg"][k : k + 2]) < 200.0:
            continue
        # By trapezia, whose own error is a twelfth of the slope's change a step: small against what is asked.
        slopes = (warming_k_h(tank, k), warming_k_h(tank, k + 1))
        wanted_k = 0.5 * sum(slopes) * length_h
        error_k = abs(slopes[1] - slopes[0]) * length_h / 12.0 + 1e-3
        assert column[k + 1] - column[k] == pytest.approx(wanted_k, abs=2.0 * error_k), flight.time_s[k]
        compared += 1
    assert compared > 60


def test_return_flow_makes_the_outboards_the_warmest_tanks_of_a_cold_cruise() -> None:
    flight = flown()
    at_s = turn(flight, "centre-left", "dry").time_s
    temperatures = {tank.name: flight.quantity(f"{tank.name}.temperature_c", at_s) for tank in alder().tanks}
    warmest = sorted(temperatures, key=lambda name: -temperatures[name])[:2]
    assert set(warmest) == {"outboard-left", "outboard-right"}


def test_cold_outboard_fuel_cools_or_warms_the_main_towards_itself() -> None:
    flight = flown()
    begins_s = turn(flight, "transfer-left", "flowing", turn(flight, "slats", "in", 3000.0).time_s).time_s
    before, after = (flight.quantity("main-left.temperature_c", begins_s + s) for s in (0.0, 600.0))
    outboard_c = flight.quantity("outboard-left.temperature_c", begins_s)
    assert outboard_c > before + 5.0
    assert before < after < outboard_c


def test_no_tank_is_colder_than_the_coldest_skin_or_warmer_than_what_came_in() -> None:
    flight = flown()
    coldest = min(flight.quantities["flight.skin_temperature_c"])
    for tank in alder().tanks:
        column = flight.quantities[f"{tank.name}.temperature_c"]
        assert coldest < min(column) <= max(column) < RETURN_C

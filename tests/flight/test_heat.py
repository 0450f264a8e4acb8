"""Every tank's temperature against a heat balance written anew from what the record shows."""

from itertools import pairwise

import pytest

from tests.flight.flights import alder, day_sector, flown, turn
from wetwing.aircraft.model import Tank

FROM_OIL = 0.9
"""Of the way from its own temperature to the oil's, how far return flow comes."""


def enthalpy_j_kg(celsius: float) -> float:
    """Integral of c = 1895 + 4.10 (T - 15) from 15 °C."""
    return 1895.0 * (celsius - 15.0) + 2.05 * (celsius - 15.0) ** 2


def floor_m2(tank: Tank) -> float:
    """Area of the outline, by Gauss's formula of trapezia."""
    corners = [*tank.outline_m, tank.outline_m[0]]
    return 0.5 * abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise(corners)))


def fed_c(side: str, k: int) -> float:
    """Temperature in a manifold: what the pumps of its wing and of the centre give, mixed."""
    q = flown().quantities
    given = [
        (q[f"{pump}-{side}{end}.flow_kg_h"][k], q[f"{tank}.temperature_c"][k])
        for pump, end, tank in (
            ("main", "-forward", f"main-{side}"),
            ("main", "-aft", f"main-{side}"),
            ("centre", "", "centre"),
        )
    ]
    total = sum(flow for flow, _ in given)
    return sum(flow * celsius for flow, celsius in given) / total if total else given[0][1]


def returned_c(side: str, k: int) -> float:
    """Temperature of return flow: it has cooled the generator's oil."""
    feed_c = fed_c(side, k)
    return feed_c + FROM_OIL * (flown().quantities[f"return-{side}.oil_c"][k] - feed_c)


def inflows(tank: Tank, k: int) -> list[tuple[float, float]]:
    """What comes into a tank at a keyframe: kg/h and °C."""
    q = flown().quantities
    side = tank.name.rpartition("-")[2]
    found = [(q[f"refuel-valve-{tank.name}.flow_kg_h"][k], day_sector().uplift_temperature_c)]
    if tank.name.startswith("outboard"):
        found.append((q[f"return-{side}.flow_kg_h"][k], returned_c(side, k)))
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


def through_walls_w(tank: Tank, k: int) -> float:
    """What neighbours give through the walls that a tank shares with them."""
    q = flown().quantities
    watts = 0.0
    for one in alder().tanks:
        for other, w_k in one.neighbours:
            if tank.name in (one.name, other):
                far = other if tank.name == one.name else one.name
                watts += w_k * (q[f"{far}.temperature_c"][k] - q[f"{tank.name}.temperature_c"][k])
    return watts


def warming_k_h(tank: Tank, k: int) -> float:
    """First law: skin, walls and what comes in, over the heat capacity of fuel and structure."""
    q = flown().quantities
    celsius = q[f"{tank.name}.temperature_c"][k]
    skin_w_k = tank.heat_w_m2_k * floor_m2(tank) * (1.0 + q[f"{tank.name}.fill"][k])
    watts = skin_w_k * (q["flight.skin_temperature_c"][k] - celsius) + through_walls_w(tank, k)
    watts += sum(
        flow / 3600.0 * (enthalpy_j_kg(comes_c) - enthalpy_j_kg(celsius))
        for flow, comes_c in inflows(tank, k)
    )
    specific = 1895.0 + 4.10 * (celsius - 15.0)
    capacity = q[f"{tank.name}.actual_kg"][k] * specific + 1000.0 * tank.structure_kj_k
    return 3600.0 * watts / capacity


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
    returned = [
        returned_c(side, k)
        for side in ("left", "right")
        for k, flow in enumerate(flight.quantities[f"return-{side}.flow_kg_h"])
        if flow > 0.0
    ]
    for tank in alder().tanks:
        column = flight.quantities[f"{tank.name}.temperature_c"]
        assert coldest < min(column) <= max(column) < max(returned)


@pytest.mark.parametrize(("side", "number"), [("left", 1), ("right", 2)])
def test_the_oil_warms_by_its_generator_and_gives_what_return_flow_takes(side: str, number: int) -> None:
    # C dT/dt = Q - loss (T - T_feed) - m (h(T_cooler) - h(T_feed)): what the oil gives comes to the tank.
    # From the first start on, by small steps of Heun's, with no look at the record's oil.
    flight = flown()
    q = flight.quantities
    line = next(line for line in alder().returns if line.name == f"return-{side}")

    def warming_k_s(oil_c: float, feed_c: float, k: int) -> float:
        watts = 1000.0 * line.heat_kw if q[f"engine-{number}.flow_kg_h"][k] > 0.0 else 0.0
        watts -= line.oil_loss_w_k * (oil_c - feed_c)
        comes_c = feed_c + FROM_OIL * (oil_c - feed_c)
        flow_kg_s = q[f"return-{side}.flow_kg_h"][k] / 3600.0
        watts -= flow_kg_s * (enthalpy_j_kg(comes_c) - enthalpy_j_kg(feed_c))
        return 1e-3 * watts / line.oil_kj_k

    column = q[f"return-{side}.oil_c"]
    oil_c = column[0]
    for k in range(len(flight.time_s) - 1):
        length_s = flight.time_s[k + 1] - flight.time_s[k]
        assert column[k] == pytest.approx(oil_c, abs=0.1), flight.time_s[k]
        feeds = (fed_c(side, k), fed_c(side, k + 1))
        for i in range(20):
            here, there = (feeds[0] + (feeds[1] - feeds[0]) * share / 20.0 for share in (i, i + 1))
            first = warming_k_s(oil_c, here, k)
            last = warming_k_s(oil_c + first * length_s / 20.0, there, k)
            oil_c += 0.5 * (first + last) * length_s / 20.0
    assert max(column) > 90.0


def test_the_lower_flammable_limit_follows_the_height() -> None:
    flight = flown()
    limits = flight.quantities["flight.flammable_above_c"]
    assert limits[0] == 35.0
    for height_ft, limit_c in zip(flight.quantities["flight.altitude_ft"], limits, strict=True):
        # Between the table's points it falls 0.64 or 0.65 °C for each thousand feet.
        assert 35.0 - 0.65 * height_ft / 1000.0 - 1e-9 <= limit_c <= 35.0 - 0.64 * height_ft / 1000.0 + 1e-9
    assert min(limits) == pytest.approx(15.7 - 0.65 * 7.0)

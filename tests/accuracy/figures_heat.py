"""Published figures of a tank's heat: the one-node check, usual time constants, and warm return flow."""

from itertools import pairwise

from tests.accuracy.figure import Figure
from tests.flight.flights import alder
from wetwing.physics import fuel, heat
from wetwing.physics.outline import area_m2
from wetwing.physics.steps import step

SKIN_C = -38.0
START_C = -2.0
TAU_H = 3.7
ONE_NODE = "one node, skin -38 °C, time constant 3.7 h, start -2 °C: 14 CFR 25 Appendix N's exponential"


def figures() -> list[Figure]:
    """List the figures of this field."""
    return [*_one_node(), *_time_constants(), *_return_flow()]


def cooled_c(hours: list[float], held_kg: float, structure_kj_k: float, skin_w_k: float) -> list[float]:
    """Temperatures that the flight's own equation gives at these hours from the start, °C."""

    def slopes(time_s: float, state: list[float]) -> list[float]:
        watts = skin_w_k * (SKIN_C - state[0])
        return [heat.warming_k_s(state[0], watts, held_kg, structure_kj_k, 0.0, 0.0)]

    found, state = [], [START_C]
    for before_h, after_h in pairwise([0.0, *hours]):
        length_s = (after_h - before_h) * 36.0
        for _ in range(100):
            state = step(slopes, slopes, 0.0, state, slopes(0.0, state), length_s).after
        found.append(state[0])
    return found


def _one_node() -> list[Figure]:
    published = {3.0: -22.0, 5.0: -29.0, 8.0: -34.0}
    hours = list(published)
    # Heat capacity that keeps its value: what the exponential takes for granted.
    steady = cooled_c(hours, 0.0, 9000.0, 9e6 / (TAU_H * 3600.0))
    # Fuel, whose specific heat falls as it cools; 3.7 h is its time constant in the middle, at -20 °C.
    middle_w_k = 5000.0 * fuel.specific_heat_j_kg_k(-20.0) / (TAU_H * 3600.0)
    of_fuel = cooled_c(hours, 5000.0, 0.0, middle_w_k)
    return [
        Figure("Cold soak", f"{what}, after {hour:g} h", published[hour], computed, "°C", 0.5, ONE_NODE)
        for what, temperatures in (("one node of constant heat capacity", steady), ("5 t of fuel", of_fuel))
        for hour, computed in zip(hours, temperatures, strict=True)
    ]


def _time_constants() -> list[Figure]:
    rows = (
        ("outboard-left", 1.0, 1.0, 1.5),
        ("main-left", 1.0, 3.0, 5.0),
        ("main-left", 0.15, 1.0, 2.0),
        ("centre", 1.0, 6.0, 10.0),
    )
    found = []
    for name, fill, least_h, most_h in rows:
        tank = next(tank for tank in alder().tanks if tank.name == name)
        held_kg = fuel.mass_kg(fill * tank.capacity_l, 804.0, -10.0)
        walls_w_k = sum(w_k for _, w_k in tank.neighbours)
        skin_w_k = heat.skin_w_k(abs(area_m2(tank.outline_m)) * tank.heat_w_m2_k, fill)
        capacity_j_k = held_kg * fuel.specific_heat_j_kg_k(-10.0) + 1000.0 * tank.structure_kj_k
        found.append(
            Figure(
                "Time constants of tanks",
                f"Alder 165, {tank.label}, {'full' if fill == 1.0 else f'{100.0 * fill:.0f} % full'}",
                0.5 * (least_h + most_h),
                capacity_j_k / (skin_w_k + walls_w_k) / 3600.0,
                "h",
                0.5 * (most_h - least_h),
                f"general knowledge: {least_h:g} to {most_h:g} h is usual",
            )
        )
    return found


def _return_flow() -> list[Figure]:
    warmth_j_kg = fuel.enthalpy_j_kg(80.0) - fuel.enthalpy_j_kg(20.0)
    return [
        Figure(
            "Return flow",
            "400 kg/h brought to a tank of 20 °C, 60 K above it",
            14.0,
            400.0 / 3600.0 * warmth_j_kg / 1000.0,
            "kW",
            0.5,
            "flow times specific heat; about 14 kW is told",
        )
    ]

"""Mass, centre of gravity, the limits on take-off mass, and how fuel in the wing unloads the wing's root."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from wetwing.physics.air import GRAVITY_M_S2
from wetwing.physics.bounds import MOST_KG, within

Mass = tuple[float, float]
"""A mass in kg and its arm in m."""


@dataclass(frozen=True, slots=True)
class FlightMasses:
    """The three masses of a flight, kg."""

    zero_fuel_kg: float
    take_off_kg: float
    landing_kg: float


def flight_masses(zero_fuel_kg: float, take_off_fuel_kg: float, trip_kg: float) -> FlightMasses:
    """Take-off mass is zero-fuel mass and fuel at take-off; landing mass is that less the trip fuel.

    Worked figure: 62,000, 12,015 and 8,900 give 74,015 at take-off and 65,115 at landing.
    """
    within("masses: zero_fuel_kg", zero_fuel_kg, 0.0, MOST_KG)
    within("masses: take_off_fuel_kg", take_off_fuel_kg, 0.0, MOST_KG)
    within("masses: trip_kg", trip_kg, 0.0, take_off_fuel_kg)
    take_off_kg = zero_fuel_kg + take_off_fuel_kg
    return FlightMasses(zero_fuel_kg, take_off_kg, take_off_kg - trip_kg)


@dataclass(frozen=True, slots=True)
class TakeOffLimit:
    """The greatest take-off mass that every limit allows, and the name of the one that governs."""

    limit_kg: float
    governs: str


def take_off_limit(
    structural_kg: float,
    performance_kg: float,
    landing_limit_kg: float,
    zero_fuel_limit_kg: float,
    trip_kg: float,
    take_off_fuel_kg: float,
) -> TakeOffLimit:
    """Least of structural, performance, landing limit + trip, zero-fuel limit + take-off fuel, kg.

    Of equal limits the first in that order governs. Source: definition of the limits; 14 CFR 25.25. Worked
    figure: 79,000, 77,500, 66,000, 62,500, trip 8,900 and fuel 12,015 give 74,515, and zero fuel governs.
    """
    for name, value_kg in (
        ("structural_kg", structural_kg),
        ("performance_kg", performance_kg),
        ("landing_limit_kg", landing_limit_kg),
        ("zero_fuel_limit_kg", zero_fuel_limit_kg),
        ("take_off_fuel_kg", take_off_fuel_kg),
    ):
        within(f"take-off limit: {name}", value_kg, 0.0, MOST_KG)
    within("take-off limit: trip_kg", trip_kg, 0.0, take_off_fuel_kg)
    candidates = (
        TakeOffLimit(structural_kg, "structural"),
        TakeOffLimit(performance_kg, "performance"),
        TakeOffLimit(landing_limit_kg + trip_kg, "landing"),
        TakeOffLimit(zero_fuel_limit_kg + take_off_fuel_kg, "zero fuel"),
    )
    return min(candidates, key=lambda candidate: candidate.limit_kg)


def centre_of_gravity_m(masses: Iterable[Mass]) -> float:
    """Arm of the centre of gravity: x = sum(m x) / sum(m), m, aft of whatever the arms are measured from.

    Worked figure: 62,000 kg at 1.125 m with 6,000 at 0.60, 12,000 at 1.60 and 2,000 at 3.60: 1.2165 m.
    """
    total_kg = moment_kg_m = 0.0
    for mass_kg, arm_m in masses:
        total_kg += within("centre of gravity: mass_kg", mass_kg, 0.0, MOST_KG)
        moment_kg_m += mass_kg * within("centre of gravity: arm_m", arm_m, -500.0, 500.0)
    if total_kg <= 0.0:
        raise ValueError("centre of gravity: the masses sum to 0 kg; allowed is more than that")
    return moment_kg_m / total_kg


def percent_mac(arm_m: float, mac_m: float, leading_edge_m: float = 0.0) -> float:
    """Arm as a percentage of the mean aerodynamic chord: 100 (x - x_LE) / c.

    `leading_edge_m` is the arm of the chord's leading edge, on the same scale. Worked figure: 1.2165 m on a
    chord of 4.5 m: 27.0 %.
    """
    return 100.0 * (arm_m - leading_edge_m) / within("chord: mac_m", mac_m, 0.1, 50.0)


def arm_of_percent_m(percent: float, mac_m: float, leading_edge_m: float = 0.0) -> float:
    """Arm of a percentage of the mean aerodynamic chord, m; the inverse of `percent_mac`. 25 % of 4.5 m is
    1.125 m.
    """
    return leading_edge_m + within("chord: mac_m", mac_m, 0.1, 50.0) * percent / 100.0


def travel_percent(
    zero_fuel: Mass,
    tank_arms_m: Sequence[float],
    loads_kg: Iterable[Sequence[float]],
    mac_m: float,
    leading_edge_m: float = 0.0,
) -> list[float]:
    """Centre of gravity, % of the chord, at each step of a sequence; a load gives each tank's kg in the order
    of the arms.

    Worked figure: zero fuel 62,000 kg at 1.125 m, arms 0.60, 1.60, 3.60, chord 4.5; loads 6/12/2, 0/12/2,
    0/2/2 and 0/2/0 t give 27.0, 28.1, 27.0 and 25.3 %: aft while the centre empties, then forward.
    """
    return [
        percent_mac(
            centre_of_gravity_m([zero_fuel, *zip(load_kg, tank_arms_m, strict=True)]), mac_m, leading_edge_m
        )
        for load_kg in loads_kg
    ]


def beyond_percent(percent: float, forward_percent: float, aft_percent: float) -> float:
    """How far a centre of gravity lies beyond its limits, % of the chord: negative forward, positive aft,
    else zero.

    Worked figure: 13.5 between limits of 15 and 36 gives -1.5.
    """
    if not forward_percent < aft_percent:
        raise ValueError(
            f"limits: forward is {forward_percent:g} %, aft {aft_percent:g} %; forward has to be the less"
        )
    if percent < forward_percent:
        return percent - forward_percent
    return max(percent - aft_percent, 0.0)


def root_bending_n_m(
    gross_kg: float, wing_fuel: Iterable[Mass], lift_arm_m: float, load_factor: float = 1.0
) -> float:
    """Bending moment at a wing's root: M = n g (m/2 y_L - sum(m_f y)), N m, tips up positive.

    `wing_fuel` is one wing's, with arms from the root; `lift_arm_m` is where half the weight acts as lift.
    The wing's own mass is left out: it relieves by a constant. Tail load is left out. Range: load factor -1
    to 3. Source: statics. Worked figure: 70 t, lift at 7 m, 6 t at 4 m and 1 t at 11 m: 2.06 MN m; without
    fuel in the wing, 2.40.
    """
    within("root bending: gross_kg", gross_kg, 0.0, MOST_KG)
    within("root bending: lift_arm_m", lift_arm_m, 0.0, 100.0)
    within("root bending: load_factor", load_factor, -1.0, 3.0)
    relief_kg_m = held_kg = 0.0
    for mass_kg, arm_m in wing_fuel:
        held_kg += within("root bending: fuel mass_kg", mass_kg, 0.0, MOST_KG)
        relief_kg_m += mass_kg * within("root bending: fuel arm_m", arm_m, 0.0, 100.0)
    within("root bending: one wing's fuel_kg", held_kg, 0.0, 0.5 * gross_kg)
    return load_factor * GRAVITY_M_S2 * (0.5 * gross_kg * lift_arm_m - relief_kg_m)

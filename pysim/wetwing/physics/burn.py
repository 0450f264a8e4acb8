"""Fuel flow of turbofans from the thrust asked of them, and what follows: cruise, holding, best level.

The formula is a published open one, with its published coefficients c1, c2, c3; every coefficient of an
aeroplane is fictional. It is meant for flight. At rest on the ground the same share of thrust burns less:
the formula gives twice the approach flow of a public emissions databank, and 6 % less than its take-off flow.
"""

from dataclasses import dataclass
from math import sqrt

from wetwing.physics.air import GRAVITY_M_S2, SEA_LEVEL_PA, pressure_ratio
from wetwing.physics.arithmetic import exp
from wetwing.physics.bounds import within
from wetwing.physics.thrust import induced_drag_n, lift_free_drag_n

C1 = 0.93756
C2 = 1.97676
C3 = 1.39548


@dataclass(frozen=True, slots=True)
class Aeroplane:
    """What the burn asks of an aeroplane. `engines` counts those that run; thrust and flow are one
    engine's.
    """

    wing_area_m2: float
    drag_zero_lift: float
    induced_factor: float
    static_thrust_n: float
    static_flow_kg_h: float
    engines: int = 2

    def __post_init__(self) -> None:
        within("aeroplane: wing_area_m2", self.wing_area_m2, 1.0, 2000.0)
        within("aeroplane: drag_zero_lift", self.drag_zero_lift, 0.001, 0.5)
        within("aeroplane: induced_factor", self.induced_factor, 0.001, 0.5)
        within("aeroplane: static_thrust_n", self.static_thrust_n, 1e3, 1e6)
        within("aeroplane: static_flow_kg_h", self.static_flow_kg_h, 10.0, 50_000.0)
        within("aeroplane: engines", self.engines, 1, 8)


def flow_kg_h(static_flow_kg_h: float, thrust_share: float) -> float:
    """Flow of one engine: f = s c1 (1 - exp(-c2 x exp(c3 x))), kg/h.

    s is the static take-off flow, x the thrust over the static take-off thrust, 0 to 1. Source: a published
    open aircraft performance model, cruise form, c1 0.93756, c2 1.97676, c3 1.39548. Worked figure: 4,111 at
    x = 0.18 gives 1,415.
    """
    x = within("flow: thrust_share", thrust_share, 0.0, 1.0)
    return static_flow_kg_h * C1 * (1.0 - exp(-C2 * x * exp(C3 * x)))


def engine_flow_kg_h(
    static_flow_kg_h: float,
    thrust_share: float,
    idle_kg_h: float,
    bleed_factor: float = 1.0,
    wear_factor: float = 1.0,
) -> float:
    """Flow of a running engine: f = max(idle, f(x)) x bleed x wear, kg/h.

    A share below zero is a descent that asks for no thrust: idle. An engine gives no more than its static
    thrust, so a share above one counts as one. Bleed (air taken for ice protection and cabin) and wear (an
    old engine against a new one) are factors of at least 1, to 1.5; a parameterisation of this project.
    Worked figure: 4,111 at x = 0.18, idle 367, bleed 1.03, wear 1.02: 1,486.
    """
    within("flow: bleed_factor", bleed_factor, 1.0, 1.5)
    within("flow: wear_factor", wear_factor, 1.0, 1.5)
    flow = flow_kg_h(static_flow_kg_h, min(max(thrust_share, 0.0), 1.0))
    return max(idle_kg_h, flow) * bleed_factor * wear_factor


def cruise_drag_n(aeroplane: Aeroplane, gross_kg: float, altitude_m: float, mach: float) -> float:
    """Drag in level flight: D = (c_D0 + k C_L²) q S with lift equal to weight, N.

    Range: Mach 0.1 to 1, to 20 km. Compressibility is left out, so the formula rewards no slowing down.
    Worked figure: 125 m², 0.020, 0.041, 70 t, 10,668 m, Mach 0.78: 40,600.
    """
    within("cruise: gross_kg", gross_kg, 1.0, 1e6)
    within("cruise: altitude_m", altitude_m, -1000.0, 20_000.0)
    within("cruise: mach", mach, 0.1, 1.0)
    pressure_pa = SEA_LEVEL_PA * pressure_ratio(altitude_m)
    area_m2 = aeroplane.wing_area_m2
    return lift_free_drag_n(pressure_pa, mach, area_m2, aeroplane.drag_zero_lift) + induced_drag_n(
        pressure_pa, mach, area_m2, aeroplane.induced_factor, gross_kg * GRAVITY_M_S2
    )


def cruise_flow_kg_h(
    aeroplane: Aeroplane,
    gross_kg: float,
    altitude_m: float,
    mach: float,
    bleed_factor: float = 1.0,
    wear_factor: float = 1.0,
) -> float:
    """Flow of all running engines in level flight, kg/h; the thrust is the drag, shared alike.

    A flight that needs more than the static thrust is refused. Worked figure: two engines of 120 kN and
    4,111 kg/h, 125 m², 0.020, 0.041, 70 t, FL350, Mach 0.78: 2,662.
    """
    drag_n = cruise_drag_n(aeroplane, gross_kg, altitude_m, mach)
    return _flow_for_kg_h(aeroplane, drag_n, bleed_factor, wear_factor)


def holding_flow_kg_h(
    aeroplane: Aeroplane, gross_kg: float, bleed_factor: float = 1.0, wear_factor: float = 1.0
) -> float:
    """Flow of all running engines at the speed of least drag: D = 2 m g sqrt(c_D0 k), kg/h.

    The formula's flow depends on thrust alone, so its holding flow is the same at every level; that of
    1,500 ft serves for planning. Worked figure: the aeroplane of `cruise_flow_kg_h` at 62 t: 2,283.
    """
    within("holding: gross_kg", gross_kg, 1.0, 1e6)
    drag_n = 2.0 * gross_kg * GRAVITY_M_S2 * sqrt(aeroplane.drag_zero_lift * aeroplane.induced_factor)
    return _flow_for_kg_h(aeroplane, drag_n, bleed_factor, wear_factor)


def best_pressure_pa(aeroplane: Aeroplane, gross_kg: float, mach: float) -> float:
    """Static pressure at which a Mach number costs the least flow: p = m g sqrt(k/c_D0) / (0.7 M² S), Pa.

    There drag without lift and drag of lift are equal. The pressure grows with the mass, so the best level
    falls as mass rises, and climbs as fuel burns. Worked figure: the aeroplane of `cruise_flow_kg_h` at 90 t:
    23,738 Pa, FL351.
    """
    within("best level: gross_kg", gross_kg, 1.0, 1e6)
    within("best level: mach", mach, 0.1, 1.0)
    return (
        gross_kg
        * GRAVITY_M_S2
        * sqrt(aeroplane.induced_factor / aeroplane.drag_zero_lift)
        / (0.7 * mach * mach * aeroplane.wing_area_m2)
    )


def carriage_share_h(aeroplane: Aeroplane, gross_kg: float, altitude_m: float, mach: float) -> float:
    """Share of an extra mass that an hour of carrying it burns: df/dm in level flight, 1/h.

    df/dm = s c1 c2 exp(c3 x) (1 + c3 x) exp(-c2 x exp(c3 x)) dD/dm / T0, dD/dm = 2 k m g² / (q S). The
    engines' number cancels but in x. Source: derivative of `cruise_flow_kg_h`. Worked figure: its aeroplane
    at 80 t, FL350, Mach 0.78: 0.0319.
    """
    drag_n = cruise_drag_n(aeroplane, gross_kg, altitude_m, mach)
    x = _share_of_thrust(aeroplane, drag_n)
    pressure_pa = SEA_LEVEL_PA * pressure_ratio(altitude_m)
    induced_n = induced_drag_n(
        pressure_pa, mach, aeroplane.wing_area_m2, aeroplane.induced_factor, gross_kg * GRAVITY_M_S2
    )
    growth = exp(C3 * x)
    per_share_kg_h = aeroplane.static_flow_kg_h * C1 * C2 * growth * (1.0 + C3 * x) * exp(-C2 * x * growth)
    return per_share_kg_h / aeroplane.static_thrust_n * 2.0 * induced_n / gross_kg


def _flow_for_kg_h(aeroplane: Aeroplane, thrust_n: float, bleed_factor: float, wear_factor: float) -> float:
    each = engine_flow_kg_h(
        aeroplane.static_flow_kg_h, _share_of_thrust(aeroplane, thrust_n), 0.0, bleed_factor, wear_factor
    )
    return aeroplane.engines * each


def _share_of_thrust(aeroplane: Aeroplane, thrust_n: float) -> float:
    share = thrust_n / (aeroplane.engines * aeroplane.static_thrust_n)
    if share > 1.0:
        raise ValueError(
            f"flow: the thrust needed is {thrust_n:.0f} N; allowed is at most"
            f" {aeroplane.engines * aeroplane.static_thrust_n:.0f}"
        )
    return share

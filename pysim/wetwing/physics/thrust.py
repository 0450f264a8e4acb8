"""Thrust needed along a path and the fuel flow that gives it."""

from math import sqrt

from wetwing.physics.air import SEA_LEVEL_K


def lift_free_drag_n(pressure_pa: float, mach: float, wing_area_m2: float, drag_coefficient: float) -> float:
    """D = c_D q S with q = 0.7 p M². Worked figure: 23,842 Pa, Mach 0.78, 152 m², 0.0182: 28,090 N."""
    return 0.7 * pressure_pa * mach * mach * wing_area_m2 * drag_coefficient


def induced_drag_n(
    pressure_pa: float, mach: float, wing_area_m2: float, factor: float, lift_n: float
) -> float:
    """D_i = k C_L² q S = k L² / (q S).

    Worked figure: 23,842 Pa, Mach 0.78, 152 m², 0.042, 900 kN: 22,040 N.
    """
    return factor * lift_n * lift_n / (0.7 * pressure_pa * mach * mach * wing_area_m2)


def specific_flow_kg_h_n(static_flow: float, mach_slope: float, mach: float, temperature_k: float) -> float:
    """Fuel flow per newton: c = c0 (1 + b M) sqrt(T/T0), kg/(h N).

    Source: the usual textbook form for a turbofan at part throttle, with this project's own coefficients.
    Worked figure: 0.0330, 1.3, Mach 0.78, 218.81 K: 0.05792.
    """
    return static_flow * (1.0 + mach_slope * mach) * sqrt(temperature_k / SEA_LEVEL_K)


def idle_flow_kg_h(ground_flow_kg_h: float, pressure_ratio: float) -> float:
    """Idle flow falls with the air's pressure to seven tenths: f (0.7 + 0.3 p/p0). A parameterisation of this
    project.
    """
    return ground_flow_kg_h * (0.7 + 0.3 * pressure_ratio)


__all__ = [
    "idle_flow_kg_h",
    "induced_drag_n",
    "lift_free_drag_n",
    "specific_flow_kg_h_n",
]

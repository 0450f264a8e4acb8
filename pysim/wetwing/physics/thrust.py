"""Drag of a wing in flight, and the flow of an engine at idle."""


def lift_free_drag_n(pressure_pa: float, mach: float, wing_area_m2: float, drag_coefficient: float) -> float:
    """D = c_D q S with q = 0.7 p M², N. Range: Mach 0 to 1. Source: definition of the drag coefficient.

    Worked figure: 23,842 Pa, Mach 0.78, 152 m², 0.0182: 28,090 N.
    """
    return 0.7 * pressure_pa * mach * mach * wing_area_m2 * drag_coefficient


def induced_drag_n(
    pressure_pa: float, mach: float, wing_area_m2: float, factor: float, lift_n: float
) -> float:
    """D_i = k C_L² q S = k L² / (q S), N. Range: Mach 0.1 to 1. Source: parabolic drag polar.

    Worked figure: 23,842 Pa, Mach 0.78, 152 m², 0.042, 900 kN: 22,040 N.
    """
    return factor * lift_n * lift_n / (0.7 * pressure_pa * mach * mach * wing_area_m2)


def idle_flow_kg_h(ground_flow_kg_h: float, pressure_ratio: float) -> float:
    """Idle flow falls with the air's pressure, to seven tenths where there is none: f (0.7 + 0.3 p/p0), kg/h.

    Range: p/p0 0 to 1.2. A parameterisation of this project. Worked figure: 360 kg/h on the ground, 0.2353 at
    FL350: 277.
    """
    return ground_flow_kg_h * (0.7 + 0.3 * pressure_ratio)

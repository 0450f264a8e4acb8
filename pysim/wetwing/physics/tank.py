"""Gravity transfer: fuel that runs from a higher tank to a lower one."""

from math import sqrt

from wetwing.physics.air import GRAVITY_M_S2


def gravity_flow_kg_s(head_m: float, area_m2: float, discharge: float, density_kg_m3: float) -> float:
    """Flow through a pipe with an inboard-only flap: Q = Cd A rho sqrt(2 g h), kg/s; zero where the head is
    not above zero.

    Range: discharge 0 to 1; the pipe is taken as short, so viscosity doesn't slow it. Source: orifice
    equation. Worked figure: 0.5 m, 2.4 cm², Cd 0.6, 800 kg/m³ gives 0.361 kg/s.
    """
    if head_m <= 0.0:
        return 0.0
    return discharge * area_m2 * density_kg_m3 * sqrt(2.0 * GRAVITY_M_S2 * head_m)

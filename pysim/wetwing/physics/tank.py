"""Gravity transfer: fuel that runs from a higher tank to a lower one."""

from math import sqrt

from wetwing.physics.air import GRAVITY_M_S2

FULL_PIPE_KG = 60.0
"""Over its mouth, what keeps a gravity transfer's pipe full: a parameterisation of this project, for pipes of
a few square centimetres.
"""


def part_full_share(over_mouth_kg: float) -> float:
    """Share of a full pipe's flow that a part full one passes, by the fuel over its mouth: 0 to 1.

    A parameterisation of this project: in proportion to the fuel over the mouth. Worked figure: 15 kg over it
    give a quarter.
    """
    return min(1.0, max(0.0, over_mouth_kg / FULL_PIPE_KG))


def gravity_flow_kg_s(head_m: float, area_m2: float, discharge: float, density_kg_m3: float) -> float:
    """Flow through a pipe with an inboard-only flap: Q = Cd A rho sqrt(2 g h), kg/s; zero where the head is
    not above zero.

    Range: discharge 0 to 1; the pipe is taken as short, so viscosity doesn't slow it. Source: orifice
    equation. Worked figure: 0.5 m, 2.4 cm², Cd 0.6, 800 kg/m³ gives 0.361 kg/s.
    """
    if head_m <= 0.0:
        return 0.0
    return discharge * area_m2 * density_kg_m3 * sqrt(2.0 * GRAVITY_M_S2 * head_m)

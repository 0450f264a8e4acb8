"""A tank's level from what it holds: the head that drives gravity transfer and suction."""

from math import sqrt


def level_m(shape: str, bottom_m: float, depth_m: float, fill: float) -> float:
    """Height of the fuel's surface above the aircraft's reference plane, m, from the fill (0 to 1 by volume).

    A wedge is a swept wing tank with dihedral: its wetted part is similar to itself at every level, so volume
    grows with the square of the level. A box has upright walls. Worked figure: wedge, bottom 0.2 m, depth
    1.15 m, fill 0.25: 0.775 m.
    """
    if fill <= 0.0:
        return bottom_m
    return bottom_m + depth_m * (sqrt(fill) if shape == "wedge" else fill)


def gravity_flow_kg_s(head_m: float, area_m2: float, discharge: float, density_kg_m3: float) -> float:
    """Flow through a pipe with an inboard-only flap: Q = Cd A rho sqrt(2 g h), zero where the head is not
    above zero.

    Source: orifice equation. Worked figure: 0.5 m, 2.4 cm², Cd 0.6, 800 kg/m³ gives 0.361 kg/s.
    """
    if head_m <= 0.0:
        return 0.0
    return discharge * area_m2 * density_kg_m3 * sqrt(2.0 * 9.80665 * head_m)

"""What a capacitance gauge measures: dielectric constant, density, and a probe's capacitance."""

from wetwing.physics.bounds import within
from wetwing.physics.fuel import check_density_kg_m3

POLARISATION_M3_KG = 0.000335
"""C of Clausius and Mossotti for Jet A-1, 0.335 cm³/g."""

MOST_DIELECTRIC = 90.0
"""Above the dielectric constant of water, about 80 to 88: a gauge may meet water, and computes on."""


def dielectric_constant(density_kg_m3: float, polarisation_m3_kg: float = POLARISATION_M3_KG) -> float:
    """Dielectric constant: (K - 1)/(K + 2) = C rho, so K = (1 + 2 C rho)/(1 - C rho).

    Range: 745 to 885 kg/m³, C 0.0003 to 0.00037 m³/kg. Source: Clausius and Mossotti, with the coefficient of
    public work on capacitance gauging. Worked figure: 2.098 at 800 kg/m³.
    """
    check_density_kg_m3("dielectric constant", density_kg_m3)
    _check_polarisation(polarisation_m3_kg)
    part = polarisation_m3_kg * density_kg_m3
    return (1.0 + 2.0 * part) / (1.0 - part)


def density_from_dielectric_kg_m3(dielectric: float, polarisation_m3_kg: float = POLARISATION_M3_KG) -> float:
    """Density that a gauge infers: rho = (K - 1) / ((K + 2) C), kg/m³; the inverse of `dielectric_constant`.

    Range: K 1 to 90. The result is not checked: a compensator that stands in water makes a gauge infer a
    density that no fuel has. Worked figure: 800 at K = 2.0984; 2876 in water of K = 80.
    """
    within("density from dielectric constant: K", dielectric, 1.0, MOST_DIELECTRIC)
    _check_polarisation(polarisation_m3_kg)
    return (dielectric - 1.0) / ((dielectric + 2.0) * polarisation_m3_kg)


def capacitance_ratio(dielectric: float, wetted_share: float) -> float:
    """A probe's capacitance over that of the dry probe: C/C0 = 1 + (K - 1) h/H.

    Range: K 1 to 90, h/H 0 to 1. Source: two capacitors side by side, one wet, one dry. Worked figure: 1.549
    at K = 2.098, half wetted.
    """
    within("capacitance ratio: K", dielectric, 1.0, MOST_DIELECTRIC)
    within("capacitance ratio: wetted share", wetted_share, 0.0, 1.0)
    return 1.0 + (dielectric - 1.0) * wetted_share


def wetted_share(ratio: float, dielectric: float) -> float:
    """Wetted share that a gauge infers: h/H = (C/C0 - 1)/(K - 1); the inverse of `capacitance_ratio`.

    Range: C/C0 0 to 90, K 1.5 to 90. The result is not cut to 0 to 1: a gauge that takes the wrong K reads
    more than full. Worked figure: 0.5 at 1.549 and K = 2.098.
    """
    within("wetted share: capacitance ratio", ratio, 0.0, MOST_DIELECTRIC)
    within("wetted share: K", dielectric, 1.5, MOST_DIELECTRIC)
    return (ratio - 1.0) / (dielectric - 1.0)


def _check_polarisation(polarisation_m3_kg: float) -> None:
    within("dielectric constant: polarisation", polarisation_m3_kg, 0.0003, 0.00037, "m³/kg")

"""Properties of Jet A-1."""

REFERENCE_C = 15.0
DENSITY_SLOPE_KG_M3_K = -0.74
"""Change of density with temperature; a second public table gives -0.70."""

SPECIFIC_HEAT_15C_J_KG_K = 1895.0
SPECIFIC_HEAT_SLOPE_J_KG_K2 = 4.10


def density_kg_m3(density_15c_kg_m3: float, temperature_c: float) -> float:
    """Density: rho = rho15 - 0.74 (T - 15 °C), kg/m³.

    Range: -50 to 60 °C. Source: straight line through public Jet A-1 tables. Worked figure: 804 at 15 °C
    gives 844.7 at -40 °C.
    """
    return density_15c_kg_m3 + DENSITY_SLOPE_KG_M3_K * (temperature_c - REFERENCE_C)


def volume_l(mass_kg: float, density_15c_kg_m3: float, temperature_c: float) -> float:
    """Volume in litres of a mass in kg at a temperature. Worked figure: 804 kg at 15 °C is 1000 L."""
    return 1000.0 * mass_kg / density_kg_m3(density_15c_kg_m3, temperature_c)


def mass_kg(volume_l: float, density_15c_kg_m3: float, temperature_c: float) -> float:
    """Mass in kg of a volume in litres at a temperature; the inverse of `volume_l`."""
    return volume_l * density_kg_m3(density_15c_kg_m3, temperature_c) / 1000.0


def specific_heat_j_kg_k(temperature_c: float) -> float:
    """Specific heat: c = 1895 + 4.10 (T - 15 °C), J/(kg K).

    Range: -50 to 100 °C. Source: straight line through public tables; a second source is 2 to 5 % higher.
    1670 at -40 °C.
    """
    return SPECIFIC_HEAT_15C_J_KG_K + SPECIFIC_HEAT_SLOPE_J_KG_K2 * (temperature_c - REFERENCE_C)

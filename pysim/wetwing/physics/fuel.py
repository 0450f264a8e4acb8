"""Density, heat and conductivity of Jet A-1.

`density_kg_m3`, `specific_heat_j_kg_k` and `enthalpy_j_kg` are asked at every step of a flight and check no
range; a loaded fuel is checked once, with `check_density_kg_m3`.
"""

from wetwing.physics.bounds import within

COLDEST_C = -60.0
HOTTEST_C = 120.0
"""Fuel temperatures for which the property formulae are continued, °C; public figures cover -40 to 60."""

REFERENCE_C = 15.0
DENSITY_SLOPE_KG_M3_K = -0.74
"""Change of density with temperature; a second public table gives -0.70."""

LEAST_DENSITY_KG_M3 = 745.0
MOST_DENSITY_KG_M3 = 885.0
"""What Jet A-1 can weigh in a tank, kg/m³: 775 to 840 at 15 °C, over the temperatures of flight."""

SPECIFIC_HEAT_15C_J_KG_K = 1895.0
SPECIFIC_HEAT_SLOPE_J_KG_K2 = 4.10

CONDUCTIVITY_W_M_K = 0.114
"""Thermal conductivity, W/(m K). Source: public Jet A-1 tables; the model takes it as constant."""


def check_fuel_temperature_c(place: str, temperature_c: float) -> None:
    """Raise ValueError unless a fuel temperature is within -60 to 120 °C."""
    within(f"{place}: fuel temperature", temperature_c, COLDEST_C, HOTTEST_C, "°C")


def check_density_kg_m3(place: str, density_kg_m3: float) -> None:
    """Raise ValueError unless a density is one that Jet A-1 can have in a tank: 745 to 885 kg/m³.

    What lies outside is a slip of units: 6.7 lb/US gal, 0.804 kg/L and 1.77 lb/L are all refused.
    """
    within(f"{place}: density", density_kg_m3, LEAST_DENSITY_KG_M3, MOST_DENSITY_KG_M3, "kg/m³")


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


def enthalpy_j_kg(temperature_c: float) -> float:
    """Specific enthalpy above 15 °C: h = 1895 (T - 15) + 2.05 (T - 15)², J/kg.

    The exact integral of `specific_heat_j_kg_k`, so a mixture of equal enthalpy neither gains nor loses heat.
    Range: -60 to 120 °C. Worked figure: -98,024 at -40 °C, 121,080 at 75 °C.
    """
    above = temperature_c - REFERENCE_C
    return above * (SPECIFIC_HEAT_15C_J_KG_K + 0.5 * SPECIFIC_HEAT_SLOPE_J_KG_K2 * above)

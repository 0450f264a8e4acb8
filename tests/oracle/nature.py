"""Laws of air and fuel, written down a second time from the model page, with the platform's own `math`.

Nothing here or in this folder's other files takes an equation from `wetwing`: a slip would have to be made
twice.
"""

from math import exp, sqrt

G = 9.80665
AIR_J_KG_K = 287.05287
LAPSE = 0.0065
SEA_K, SEA_PA = 288.15, 101325.0
TROPOPAUSE_M, TROPOPAUSE_K = 11000.0, 216.65
KELVIN = 273.15
FOOT = 0.3048


def standard_k(height_m: float) -> float:
    """Air of the standard atmosphere."""
    return max(SEA_K - LAPSE * height_m, TROPOPAUSE_K)


def standard_pa(height_m: float) -> float:
    """Hydrostatic pressure of that air."""
    low = min(height_m, TROPOPAUSE_M)
    pressure = SEA_PA * (1.0 - LAPSE * low / SEA_K) ** (G / (AIR_J_KG_K * LAPSE))
    return float(pressure * exp(-G * (height_m - low) / (AIR_J_KG_K * TROPOPAUSE_K)))


def sound_m_s(air_k: float) -> float:
    """Speed of sound."""
    return sqrt(1.4 * AIR_J_KG_K * air_k)


def kg_per_l(density_15c: float, celsius: float) -> float:
    """Density in kg/L."""
    return 1e-3 * (density_15c - 0.74 * (celsius - 15.0))


def heat_capacity(celsius: float) -> float:
    """J/(kg K)."""
    return 1895.0 + 4.1 * (celsius - 15.0)


def heat_content(celsius: float) -> float:
    """Integral of the heat capacity from 15 °C, J/kg: mean capacity times the difference."""
    return 0.5 * (heat_capacity(15.0) + heat_capacity(celsius)) * (celsius - 15.0)


def _mm2_s(celsius: float) -> float:
    kelvin = celsius + KELVIN
    return 225697.23 * exp(-0.042631022 * kelvin) - 0.0030984177 * kelvin + 1.9017552


def thickness(celsius: float) -> float:
    """Viscosity over that at 15 °C."""
    # A step that is tried and taken back may leave the range for which the fit holds.
    return _mm2_s(min(max(celsius, -60.0), 120.0)) / _mm2_s(15.0)


def vapour_bar(celsius: float, light_ends: float) -> float:
    """Vapour pressure."""
    return light_ends * exp(21.281 - 4551.4 / (celsius + KELVIN)) / 1e5


def permittivity(kg_m3: float) -> float:
    """K of (K - 1)/(K + 2) = C rho, solved by the share x = C rho: K - 1 = 3 x / (1 - x)."""
    x = 0.000335 * kg_m3
    return 1.0 + 3.0 * x / (1.0 - x)


def density_of(constant: float) -> float:
    """The density that a constant stands for, kg/m³."""
    return (constant - 1.0) / (constant + 2.0) / 0.000335

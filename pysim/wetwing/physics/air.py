"""The standard atmosphere (ISO 2533) with a temperature deviation, and the temperatures that a moving skin
feels.
"""

from math import sqrt

from wetwing.physics.arithmetic import exp, log, power
from wetwing.physics.bounds import within

SEA_LEVEL_K = 288.15
SEA_LEVEL_PA = 101325.0
LAPSE_K_M = 0.0065
TROPOPAUSE_M = 11000.0
TROPOPAUSE_K = 216.65
GAS_CONSTANT_J_KG_K = 287.05287
GRAVITY_M_S2 = 9.80665
HEAT_RATIO = 1.4
FOOT_M = 0.3048
ZERO_CELSIUS_K = 273.15
SKIN_RECOVERY = 0.9
LOWEST_M = -1000.0
HIGHEST_M = 20000.0
FASTEST_MACH = 1.0

_PRESSURE_EXPONENT = GRAVITY_M_S2 / (GAS_CONSTANT_J_KG_K * LAPSE_K_M)
_TROPOPAUSE_RATIO = power(TROPOPAUSE_K / SEA_LEVEL_K, _PRESSURE_EXPONENT)


def standard_temperature_k(altitude_m: float) -> float:
    """T = 288.15 - 0.0065 h up to 11 km, then 216.65 K; to 20 km. Worked figure: 218.81 K at 10,668 m
    (FL350).
    """
    return SEA_LEVEL_K - LAPSE_K_M * altitude_m if altitude_m < TROPOPAUSE_M else TROPOPAUSE_K


def pressure_ratio(altitude_m: float) -> float:
    """Static pressure over 101,325 Pa by pressure altitude; to 20 km. Worked figure: 0.2353 at 10,668 m
    (23.84 kPa).
    """
    if altitude_m < TROPOPAUSE_M:
        return power(1.0 - LAPSE_K_M * altitude_m / SEA_LEVEL_K, _PRESSURE_EXPONENT)
    return _TROPOPAUSE_RATIO * exp(
        -GRAVITY_M_S2 * (altitude_m - TROPOPAUSE_M) / (GAS_CONSTANT_J_KG_K * TROPOPAUSE_K)
    )


def sound_speed_m_s(temperature_k: float) -> float:
    """a = sqrt(gamma R T). Worked figure: 340.29 m/s at 288.15 K."""
    return sqrt(HEAT_RATIO * GAS_CONSTANT_J_KG_K * temperature_k)


def recovery_temperature_k(static_k: float, mach: float, recovery: float = SKIN_RECOVERY) -> float:
    """T_r = T_s (1 + 0.2 r M²): what a skin with recovery factor r feels; r = 1 is the total temperature.

    Worked figure: static -56.5 °C at Mach 0.78 gives -32.8 °C at r = 0.9 and -30.1 °C at r = 1.
    """
    return static_k * (1.0 + 0.2 * recovery * mach * mach)


def total_temperature_k(static_k: float, mach: float) -> float:
    """T_t = T_s (1 + 0.2 M²): air brought to rest without loss of heat.

    Range: Mach 0 to 1. Source: energy equation, ratio of specific heats 1.4. Worked figure: static -56.5 °C
    at Mach 0.78 gives -30.1 °C.
    """
    within("total temperature: Mach number", mach, 0.0, FASTEST_MACH)
    return recovery_temperature_k(static_k, mach, 1.0)


def static_temperature_k(measured_k: float, mach: float, recovery: float = 1.0) -> float:
    """T_s = T / (1 + 0.2 r M²): static temperature from a probe of recovery factor r.

    The inverse of `recovery_temperature_k`; r = 1 is a probe that shows the total temperature. Range: Mach 0
    to 1, r 0 to 1. Worked figure: -30.1 °C total at Mach 0.78 gives -56.5 °C.
    """
    within("static temperature: Mach number", mach, 0.0, FASTEST_MACH)
    within("static temperature: recovery factor", recovery, 0.0, 1.0)
    return measured_k / (1.0 + 0.2 * recovery * mach * mach)


def pressure_pa(altitude_m: float) -> float:
    """Static pressure by pressure altitude, Pa.

    Range: -1,000 to 20,000 m. Source: ISO 2533, as `pressure_ratio`. Worked figure: 23,842 Pa at 10,668 m.
    """
    within("air pressure: altitude", altitude_m, LOWEST_M, HIGHEST_M, "m")
    return SEA_LEVEL_PA * pressure_ratio(altitude_m)


def flight_level_pressure_pa(flight_level: float) -> float:
    """Static pressure at a flight level (hundreds of feet of pressure altitude), Pa.

    Range: FL -30 to 650. Worked figure: 30,090 Pa at FL300.
    """
    within("air pressure: flight level", flight_level, -30.0, 650.0)
    return pressure_pa(100.0 * FOOT_M * flight_level)


def density_kg_m3(pressure_pa: float, temperature_k: float) -> float:
    """Air density: rho = p / (R T), kg/m³.

    Range: 1,000 to 120,000 Pa, 150 to 350 K. Source: ideal gas. Worked figure: 1.2250 at 101,325 Pa and
    288.15 K.
    """
    within("air density: pressure", pressure_pa, 1000.0, 120000.0, "Pa")
    within("air density: temperature", temperature_k, 150.0, 350.0, "K")
    return pressure_pa / (GAS_CONSTANT_J_KG_K * temperature_k)


def altitude_m(pressure_pa: float) -> float:
    """Pressure altitude of a static pressure, m: the inverse of `pressure_pa`.

    Below 11 km h = (T0 / 0.0065) (1 - (p/p0)^(1/n)), n = 5.2559; above, h = 11,000 + (R T / g) ln(p11/p).
    Range: 5,474 to 113,930 Pa (20,000 to -1,000 m, to the nearest pascal outwards). Source: ISO 2533 solved
    for height. Worked figure: 10,668 m at 23,842 Pa.
    """
    within("pressure altitude: pressure", pressure_pa, 5474.0, 113930.0, "Pa")
    ratio = pressure_pa / SEA_LEVEL_PA
    if ratio > _TROPOPAUSE_RATIO:
        return (SEA_LEVEL_K / LAPSE_K_M) * (1.0 - power(ratio, 1.0 / _PRESSURE_EXPONENT))
    scale_m = GAS_CONSTANT_J_KG_K * TROPOPAUSE_K / GRAVITY_M_S2
    return TROPOPAUSE_M + scale_m * log(_TROPOPAUSE_RATIO / ratio)

"""The standard atmosphere (ISO 2533) with a temperature deviation, and the temperatures that a moving skin
feels.
"""

from math import sqrt

from wetwing.physics.arithmetic import exp, power

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

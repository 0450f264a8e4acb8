"""How thick fuel is: kinematic viscosity, and what it does to the losses of a line."""

from wetwing.physics.air import ZERO_CELSIUS_K
from wetwing.physics.arithmetic import exp
from wetwing.physics.fuel import REFERENCE_C, check_fuel_temperature_c

_SCALE_MM2_S = 225697.23
_DECAY_K = 0.042631022
_SLOPE_MM2_S_K = 0.0030984177
_LEVEL_MM2_S = 1.9017552

LIMIT_MM2_S = 8.0
LIMIT_C = -20.0
"""Jet A-1 may have at most 8.0 mm²/s at -20 °C."""


def viscosity_mm2_s(temperature_c: float) -> float:
    """Kinematic viscosity, mm²/s: nu = 225697.23 exp(-0.042631022 T) - 0.0030984177 T + 1.9017552, T in K.

    Range: -60 to 120 °C, of which -40 to 40 °C is held by figures. Source: a fit to public Jet A-1 tables.
    Worked figure: 5.76 at -20 °C, 2.05 at 15 °C.
    """
    check_fuel_temperature_c("viscosity", temperature_c)
    kelvin = temperature_c + ZERO_CELSIUS_K
    return _SCALE_MM2_S * exp(-_DECAY_K * kelvin) - _SLOPE_MM2_S_K * kelvin + _LEVEL_MM2_S


_REFERENCE_MM2_S = viscosity_mm2_s(REFERENCE_C)


def viscosity_factor(temperature_c: float) -> float:
    """Viscosity over that at 15 °C: nu(T) / nu(15 °C).

    The loss of smooth flow (a Q) is proportional to viscosity and takes this factor. The loss of bends and
    valves (k Q²) hardly depends on it. Range: -60 to 120 °C. Worked figure: 5.88 at -40 °C, 0.63 at 40 °C.
    """
    return viscosity_mm2_s(temperature_c) / _REFERENCE_MM2_S

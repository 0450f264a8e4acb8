"""Vapour pressure of fuel: how near it is to boiling in a line."""

from wetwing.physics.air import ZERO_CELSIUS_K
from wetwing.physics.arithmetic import exp
from wetwing.physics.bounds import within
from wetwing.physics.fuel import check_fuel_temperature_c

PA_BAR = 100000.0
_LEVEL = 21.281
_SLOPE_K = 4551.4
LEAST_LIGHT_ENDS = 1.0
MOST_LIGHT_ENDS = 3.0


def vapour_pressure_pa(temperature_c: float, light_ends: float = 1.0) -> float:
    """Vapour pressure: ln p = 21.281 - 4551.4 / T, T in kelvin, times a factor for light ends, Pa.

    Range: -60 to 120 °C, light ends 1 to 3. Source: a fit to public Jet A-1 tables; the factor is a
    parameter, since the lightest parts of a fuel raise the pressure and differ from batch to batch. Worked
    figure: 316 at 20 °C, 851 at 40 °C; 2554 at 40 °C with light ends 3.
    """
    check_fuel_temperature_c("vapour pressure", temperature_c)
    within("vapour pressure: light ends", light_ends, LEAST_LIGHT_ENDS, MOST_LIGHT_ENDS)
    return light_ends * exp(_LEVEL - _SLOPE_K / (temperature_c + ZERO_CELSIUS_K))


def vapour_pressure_bar(temperature_c: float, light_ends: float = 1.0) -> float:
    """`vapour_pressure_pa` in bar. Worked figure: 0.0085 at 40 °C."""
    return vapour_pressure_pa(temperature_c, light_ends) / PA_BAR

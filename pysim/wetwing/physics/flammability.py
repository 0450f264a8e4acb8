"""The band of fuel temperatures in which the vapour above the fuel can burn."""

from wetwing.physics.air import FOOT_M
from wetwing.physics.bounds import within

_BAND = (
    (0.0, 35.0, 85.0),
    (10000.0, 28.6, 74.1),
    (20000.0, 22.1, 63.2),
    (30000.0, 15.7, 52.3),
    (40000.0, 9.2, 41.4),
)
"""Altitude in ft, lower and upper limit in °C, for Jet A vapour in air."""

LOWEST_FT = -1000.0
HIGHEST_FT = 45000.0


def lower_limit_c(altitude_m: float) -> float:
    """Fuel temperature below which the vapour is too thin to burn, °C.

    Range: -1,000 to 45,000 ft, straight between the table's points (0, 10, 20, 30, 40 thousand ft: 35.0,
    28.6, 22.1, 15.7, 9.2) and straight on beyond its ends. Source: public table for Jet A. Worked figure:
    18.9 at 25,000 ft.
    """
    return _between(altitude_m, 1)


def upper_limit_c(altitude_m: float) -> float:
    """Fuel temperature above which the vapour is too rich to burn, °C.

    Range, method and source as `lower_limit_c`; points 85.0, 74.1, 63.2, 52.3, 41.4. Worked figure: 57.75 at
    25,000 ft.
    """
    return _between(altitude_m, 2)


def is_flammable(temperature_c: float, altitude_m: float) -> bool:
    """Whether fuel of this temperature stands under vapour that a spark could light, limits included.

    It says nothing of fuel that is shaken into mist, which burns well below the band, nor of air with less
    oxygen. Worked figure: true at 40 °C on the ground, false at 20 °C; true at 20 °C at 30,000 ft.
    """
    return lower_limit_c(altitude_m) <= temperature_c <= upper_limit_c(altitude_m)


def _between(altitude_m: float, column: int) -> float:
    altitude_ft = altitude_m / FOOT_M
    within("flammable band: altitude", altitude_ft, LOWEST_FT, HIGHEST_FT, "ft")
    below = 0
    while below < len(_BAND) - 2 and altitude_ft > _BAND[below + 1][0]:
        below += 1
    low, high = _BAND[below], _BAND[below + 1]
    return low[column] + (high[column] - low[column]) * (altitude_ft - low[0]) / (high[0] - low[0])

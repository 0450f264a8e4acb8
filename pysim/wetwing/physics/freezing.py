"""When wax first forms: the freezing point of a fuel, of a blend, and the margin to it."""

from wetwing.physics.air import ZERO_CELSIUS_K
from wetwing.physics.arithmetic import power
from wetwing.physics.bounds import within

GRADE_LIMITS_C = {"Jet A-1": -47.0, "Jet A": -40.0}
"""The warmest freezing point that a grade allows, °C. A batch is usually better than its grade."""

LEAST_C = -80.0
MOST_C = -20.0

BLENDING_POWER = 20
"""Exponent of the blending index, the reciprocal of 0.05. General refinery practice for cloud and freezing
points, taken as a parameter of this project and held by no measurement of it.
"""


def grade_limit_c(grade: str) -> float:
    """Freezing point that a grade allows at most, °C. Worked figure: -47 for Jet A-1."""
    if grade not in GRADE_LIMITS_C:
        raise ValueError(f"freezing point: grade {grade!r} is not one of {', '.join(GRADE_LIMITS_C)}")
    return GRADE_LIMITS_C[grade]


def blend_freezing_c(first_share: float, first_c: float, second_c: float) -> float:
    """Freezing point of a blend of two batches, °C: T = (v T1^20 + (1 - v) T2^20)^(1/20), T in kelvin.

    v is the first batch's share by volume. Range: v 0 to 1, each -80 to -20 °C. Source: a linear blending
    index, general refinery practice. It leans towards the warmer batch, because the wax that forms first is
    that batch's. A real blend depends on its heaviest paraffins and may miss this by some degrees: the
    warmer of the two is the prudent figure. Worked figure: half -47 °C and half -40 °C gives -43.0 °C, half a
    degree warmer than the mean.
    """
    within("freezing point of a blend: share of the first batch", first_share, 0.0, 1.0)
    within("freezing point of a blend: first batch", first_c, LEAST_C, MOST_C, "°C")
    within("freezing point of a blend: second batch", second_c, LEAST_C, MOST_C, "°C")
    if first_c == second_c:
        return first_c  # topping up with the same fuel must not move it by a rounding
    # Over the second batch's temperature, so that numbers stay near one.
    second_k = second_c + ZERO_CELSIUS_K
    ratio = (first_c + ZERO_CELSIUS_K) / second_k
    index = 1.0
    for _ in range(BLENDING_POWER):
        index *= ratio
    mixed = first_share * index + (1.0 - first_share)
    return second_k * power(mixed, 1.0 / BLENDING_POWER) - ZERO_CELSIUS_K


def freezing_margin_c(temperature_c: float, freezing_c: float) -> float:
    """How far the fuel is above its freezing point, K.

    Range of the freezing point: -80 to -20 °C. Operators keep 2 to 3 K in hand, which is not part of this.
    Worked figure: fuel of -40 °C that freezes at -47 °C has 7 K.
    """
    within("margin to freezing: freezing point", freezing_c, LEAST_C, MOST_C, "°C")
    return temperature_c - freezing_c

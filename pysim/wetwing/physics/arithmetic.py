"""Exponential, logarithm, power and tangent from the four operations alone.

The C library's versions differ in their last bits between machines and between CPython and the browser. IEEE
754 fixes only + - * / and the square root, so a flight that must be the same everywhere is computed from
those.
"""

from math import factorial, floor, frexp, ldexp, pi

_LN2_HIGH = 0.693147180369123816490
_LN2_LOW = 1.90821492927058770002e-10
_LN2 = _LN2_HIGH + _LN2_LOW
_SQRT_HALF = 0.7071067811865476
_RECIPROCAL_FACTORIALS = tuple(1 / factorial(n) for n in range(13, -1, -1))
_ODD_RECIPROCALS = (1 / 23, 1 / 21, 1 / 19, 1 / 17, 1 / 15, 1 / 13, 1 / 11, 1 / 9, 1 / 7, 1 / 5, 1 / 3, 1.0)
_SINE = tuple((2 - n % 4) / factorial(n) for n in range(19, 0, -2))
_COSINE = tuple((1 - n % 4) / factorial(n) for n in range(18, -1, -2))


def exp(x: float) -> float:
    """e to the power x, to within a few units in the last place; range -700 to 700. exp(1) =
    2.718281828459045.

    Source: range reduction by multiples of ln 2, then the Taylor series to the 13th power.
    """
    if not -700.0 <= x <= 700.0:
        raise ValueError(f"exp: {x} is outside -700 to 700")
    k = floor(x / _LN2 + 0.5)
    r = (x - k * _LN2_HIGH) - k * _LN2_LOW
    total = 0.0
    for coefficient in _RECIPROCAL_FACTORIALS:
        total = total * r + coefficient
    return ldexp(total, k)


def log(x: float) -> float:
    """Natural logarithm, to within a few units in the last place; x above zero. log(10) = 2.302585092994046.

    Source: mantissa and exponent, then ln m = 2 artanh((m - 1)/(m + 1)) as a series to the 23rd power.
    """
    if not x > 0.0:
        raise ValueError(f"log: {x} is not above zero")
    mantissa, exponent = frexp(x)
    if mantissa < _SQRT_HALF:
        mantissa *= 2.0
        exponent -= 1
    s = (mantissa - 1.0) / (mantissa + 1.0)
    square = s * s
    total = 0.0
    for coefficient in _ODD_RECIPROCALS:
        total = total * square + coefficient
    return 2.0 * s * total + exponent * _LN2_LOW + exponent * _LN2_HIGH


def power(base: float, exponent: float) -> float:
    """base to the power exponent, base above zero. power(2, 0.5) = 1.4142135623730951."""
    return exp(exponent * log(base))


def tan_deg(angle_deg: float) -> float:
    """Tangent of an angle in degrees, to 1e-15 of itself; range -45 to 45. tan_deg(30) = 0.5773502691896257.

    Source: sine over cosine, each by its Taylor series, to the 19th and the 18th power. It is odd to the last
    bit, so a tank and its mirror image hold the same.
    """
    if not -45.0 <= angle_deg <= 45.0:
        raise ValueError(f"tan_deg: {angle_deg} is outside -45 to 45")
    x = angle_deg * pi / 180.0
    square = x * x
    sine = 0.0
    for coefficient in _SINE:
        sine = sine * square + coefficient
    cosine = 0.0
    for coefficient in _COSINE:
        cosine = cosine * square + coefficient
    return x * sine / cosine

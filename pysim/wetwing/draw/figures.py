"""Figures as people read them: rounded, grouped, in the reader's units. `docs/panel/figures.js` says the
same."""

import math

KG_PER_LB = 0.45359237
KG_PER_T = 1000.0
# Fuel quantities and flows change all the time; a last digit that flickers tells nobody anything.
COARSE_FROM = 100.0
STEADY_KG_H = 5.0

UNITS = ("kg", "lb", "t")
NOT_SHOWN = "–"


def figure(value: float, unit: str, units: str = "kg") -> str:
    """Write a value without its unit.

    `unit` is the unit that the value has: `kg`, `kg/h`, `L`, `kg/L`, `bar`, `°C`, `ft`, `Mach`, or `share`
    (0 to 1, shown in percent).
    Masses and flows below 100 are rounded to 1, others to 10, after conversion to the reader's `units`;
    tonnes keep the steps of kilograms. What nobody shows (not a number) is a dash.

    >>> figure(6483.0, "kg"), figure(6483.0, "kg", "lb"), figure(-3.4, "°C")
    ('6,480', '14,290', '−3')
    """
    if value != value:
        return NOT_SHOWN
    if unit in ("kg", "kg/h"):
        return _tonnes(value) if units == "t" else _coarse(value / KG_PER_LB if units == "lb" else value)
    if unit == "L":
        return _coarse(value)
    if unit == "kg/L":
        return _signed(value, 3)
    if unit == "bar":
        return _signed(value, 2)
    if unit == "Mach":
        return _signed(value, 2)
    if unit == "share":
        return _signed(value * 100.0, 0)
    return _signed(value, 0)


def exact_mass(value_kg: float, units: str = "kg") -> str:
    """Write a mass to the unit, for sums that a reader adds up."""
    if units == "t":
        return _signed(value_kg / KG_PER_T, 3)
    return _signed(value_kg / KG_PER_LB if units == "lb" else value_kg, 0)


def unit_word(unit: str, units: str = "kg") -> str:
    """Return the unit's sign in the reader's units."""
    if unit == "share":
        return "%"
    return unit.replace("kg", units) if unit in ("kg", "kg/h") else unit


def rate_words(rate_kg_h: float, units: str = "kg") -> str:
    """Say how a quantity changes: `rising 520 kg/h`, `falling 1,450 kg/h` or `steady`.

    >>> rate_words(-1452.0), rate_words(2.0)
    ('falling 1,450 kg/h', 'steady')
    """
    if rate_kg_h != rate_kg_h:
        return NOT_SHOWN
    if abs(rate_kg_h) < STEADY_KG_H:
        return "steady"
    way = "rising" if rate_kg_h > 0 else "falling"
    return f"{way} {figure(abs(rate_kg_h), 'kg/h', units)} {unit_word('kg/h', units)}"


def clock(time_s: float) -> str:
    """Write a time of the flight as h:mm:ss: the whole seconds of the tenth that it is rounded up to.

    >>> clock(7378.2), clock(7378.98)
    ('2:02:58', '2:02:59')
    """
    whole = math.ceil(time_s * 10.0 - 1e-6) // 10
    return f"{whole // 3600}:{whole // 60 % 60:02d}:{whole % 60:02d}"


def _coarse(value: float) -> str:
    step = 1.0 if abs(value) < COARSE_FROM else 10.0
    return _signed(math.floor(value / step + 0.5) * step, 0)


def _tonnes(value_kg: float) -> str:
    fine = abs(value_kg) < COARSE_FROM
    step = 1.0 if fine else 10.0
    return _signed(math.floor(value_kg / step + 0.5) * step / KG_PER_T, 3 if fine else 2)


def _signed(value: float, decimals: int) -> str:
    # Half away from the floor, as the page's script rounds; Python's own rounding goes to even.
    scale = 10**decimals
    rounded = math.floor(value * scale + 0.5) / scale
    text = f"{abs(rounded):,.{decimals}f}"
    return f"−{text}" if rounded < 0 else text


def where(altitude_ft: float) -> str:
    """Say how high the aircraft is: `on the ground`, `3,000 ft`, `FL 350`."""
    if altitude_ft < 50.0:
        return "on the ground"
    if altitude_ft < 6000.0:
        return f"{_signed(math.floor(altitude_ft / 100.0 + 0.5) * 100.0, 0)} ft"
    return f"FL {math.floor(altitude_ft / 100.0 + 0.5):.0f}"


def moment_words(time_s: float, phase: str, altitude_ft: float) -> str:
    """Say when and where a moment is: `2:12:40 · cruise, FL 350`."""
    return f"{clock(time_s)} · {phase.lower()}, {where(altitude_ft)}"

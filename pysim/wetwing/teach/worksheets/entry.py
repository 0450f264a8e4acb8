"""What somebody typed into a worksheet's field, read: the number, its unit, and what is wrong with it.

A field takes a number alone, in the reader's units, or a number with a unit of the field's kind: `12.5 t`,
`27,500 lb`, `12 500`. Whatever can't be meant is refused, with what is allowed.
"""

import re
from dataclasses import dataclass
from math import isfinite

from wetwing.physics import units as physics_units
from wetwing.physics.air import FOOT_M
from wetwing.physics.units import POUND_KG, US_GALLON_L
from wetwing.teach.worksheets.number_text import plain, read_number
from wetwing.teach.worksheets.sheet import Field, mark

NAUTICAL_MILE_M = 1852.0
TYPICAL_KG_L = 0.804
"""A usual density of Jet A-1 at 15 °C."""

FACTORS: dict[str, dict[str, float]] = {
    "mass": {"kg": 1.0, "t": 1000.0, "lb": POUND_KG},
    "flow": {"kg/h": 1.0, "t/h": 1000.0, "lb/h": POUND_KG, "kg/min": 60.0},
    "volume": {"L": 1.0, "m³": 1000.0, "US gal": US_GALLON_L},
    "density": {
        "kg/L": 1.0,
        "kg/m³": 0.001,
        "lb/L": POUND_KG,
        "lb/US gal": POUND_KG / US_GALLON_L,
        "kg/US gal": 1.0 / US_GALLON_L,
    },
    "share": {"%": 1.0},
    "minutes": {"min": 1.0, "h": 60.0, "s": 1.0 / 60.0},
    "distance": {"NM": 1.0, "km": 1000.0 / NAUTICAL_MILE_M},
    "speed": {"kt": 1.0, "km/h": 1000.0 / NAUTICAL_MILE_M, "m/s": 3600.0 / NAUTICAL_MILE_M},
    "temperature": {"°C": 1.0},
    "altitude": {"ft": 1.0, "m": 1.0 / FOOT_M},
}
"""The units that a kind of field takes, each with what it is of the kind's own, which stands first."""

UNIT_OF = {kind: next(iter(factors)) for kind, factors in FACTORS.items()} | {"clock": "h:mm", "choice": ""}
_WRITTEN = {
    "kgs": "kg",
    "lbs": "lb",
    "pounds": "lb",
    "tonnes": "t",
    "tonne": "t",
    "l": "L",
    "litres": "L",
    "litre": "L",
    "ltr": "L",
    "gal": "US gal",
    "usg": "US gal",
    "us gallons": "US gal",
    "usgal": "US gal",
    "m3": "m³",
    "kg/l": "kg/L",
    "kg/m3": "kg/m³",
    "lb/l": "lb/L",
    "lb/gal": "lb/US gal",
    "lb/usg": "lb/US gal",
    "minutes": "min",
    "minute": "min",
    "hours": "h",
    "hour": "h",
    "hr": "h",
    "nm": "NM",
    "nmi": "NM",
    "kts": "kt",
    "knots": "kt",
    "c": "°C",
    "feet": "ft",
    "percent": "%",
    "per cent": "%",
    "kph": "km/h",
}
"""Other ways in which people write the units."""

NAMES = {
    "mass": "a mass",
    "flow": "a flow",
    "volume": "a volume",
    "density": "a density",
    "share": "a share",
    "minutes": "a time",
    "distance": "a distance",
    "speed": "a speed",
    "temperature": "a temperature",
    "altitude": "a height",
}
_SPLIT = re.compile(r"\s*([-−–+]?[\d\s.,'’\u00a0\u202f]*\d)\s*(.*?)\s*", re.DOTALL)
_CLOCK = re.compile(r"(\d{1,2}):([0-5]\d)(?::([0-5]\d))?")
_BELOW_ONE = re.compile(r"0[.,](\d{3})")
LONGEST_SHOWN = 30


@dataclass(frozen=True, slots=True)
class Entry:
    """A field, read: its value, or what is wrong; `told` where the reading has to be shown beside it."""

    value: float | None
    problem: str | None = None
    told: bool = False


@dataclass(frozen=True, slots=True)
class Reader:
    """How the reader writes: the form of numbers, the unit of masses, and that of volumes."""

    form: str = "1,234.5"
    masses: str = "kg"
    volumes: str = "L"

    def bare(self, kind: str) -> str:
        """The unit of a number that stands alone."""
        if kind == "mass":
            return self.masses
        if kind == "flow":
            return f"{self.masses}/h"
        return self.volumes if kind == "volume" else UNIT_OF[kind]


def read_entry(field: Field, text: str, reader: Reader) -> Entry:
    """Read what was typed into a field."""
    typed = " ".join(text.split())
    if not typed:
        return Entry(None) if field.empty else Entry(None, "This field is empty. It needs a figure.")
    if field.kind == "clock":
        return _clock(field, typed)
    if field.kind == "minutes" and (found := _CLOCK.fullmatch(typed)):
        minutes = int(found[1]) * 60.0 + int(found[2]) + int(found[3] or 0) / 60.0
        return _judged(field, minutes, True)
    split = _SPLIT.fullmatch(typed)
    number = _number(split[1].removeprefix("+"), reader.form) if split else None
    if split is None or number is None:
        return Entry(None, f"{_shown(typed)} is not a number.{_with_units(field.kind)}")
    unit = reader.bare(field.kind)
    if split[2]:
        named = _unit(split[2], field.kind)
        if named is None:
            return Entry(None, _wrong_unit(field.kind, split[2]))
        unit = named
    value = number * FACTORS[field.kind][unit]
    return _judged(field, value, bool(split[2]) or not plain(split[1]))


def _number(text: str, form: str) -> float | None:
    """A nought leads no thousands: `0,804` is less than one, whatever the form's mark between thousands."""
    below_one = _BELOW_ONE.fullmatch(text.strip())
    return float(f"0.{below_one[1]}") if below_one else read_number(text, form)


def read_value(field: Field, value: object) -> Entry:
    """Judge a value that comes as a number in the kind's own unit, from a file or an earlier reading."""
    if value is None:
        return read_entry(field, "", Reader())
    if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value):
        return Entry(None, f"{_shown(str(value))} is not a number.")
    if field.choices:
        if value != int(value) or not 0 <= value < len(field.choices):
            return Entry(None, f"'{value:g}' is none of the choices. Allowed: {', '.join(field.choices)}.")
        return Entry(float(value))
    return _judged(field, float(value), False)


def _judged(field: Field, value: float, told: bool) -> Entry:
    if field.least - 1e-9 <= value <= field.most + 1e-9:
        return Entry(value, told=told)
    allowed = f"Allowed here: {_bound(field, field.least)} to {_bound(field, field.most)}."
    if field.kind == "density":
        fitting = physics_units.density_unit(value)
        hint = (
            f" It would fit in {fitting}: write the unit behind it if that is what it is." if fitting else ""
        )
        if fitting and ("lb" in fitting or "gal" in fitting):
            percent = 100.0 * physics_units.uplifted_share(value, TYPICAL_KG_L)
            hint += f" Taken as kg/L, it would bring {percent:.0f} % of the fuel that is needed."
        return Entry(None, f"{value:g} kg/L is no Jet A-1. {allowed}{hint}")
    if value < 0.0 <= field.least:
        return Entry(None, f"{_bound(field, value)} is less than nothing. {allowed}")
    return Entry(None, f"{_bound(field, value)} can't be meant. {allowed}")


def _bound(field: Field, value: float) -> str:
    unit = UNIT_OF[field.kind]
    if field.kind == "density":
        return mark(value, unit, 3)
    if field.kind == "clock":
        return clock_words(value)
    return mark(value, unit, 0 if value == int(value) else 1)


def _clock(field: Field, typed: str) -> Entry:
    found = _CLOCK.fullmatch(typed)
    if not found:
        return Entry(None, f"{_shown(typed)} is not a time of the flight. Write h:mm, such as 2:30.")
    value_s = int(found[1]) * 3600.0 + int(found[2]) * 60.0 + int(found[3] or 0)
    if field.least <= value_s <= field.most:
        return Entry(value_s)
    allowed = f"{clock_words(field.least)} to {clock_words(field.most)}"
    return Entry(None, f"{clock_words(value_s)} lies outside. Allowed here: {allowed}.")


def clock_words(time_s: float) -> str:
    """A time of the flight as fields have it: h:mm, with seconds where there are some."""
    whole = int(time_s + 0.5)
    hours, minutes, seconds = whole // 3600, whole // 60 % 60, whole % 60
    return f"{hours}:{minutes:02}" + (f":{seconds:02}" if seconds else "")


def _unit(text: str, kind: str) -> str | None:
    known = FACTORS.get(kind, {})
    wanted = text.lower()
    return next((unit for unit in known if wanted == unit.lower() or _WRITTEN.get(wanted) == unit), None)


def _wrong_unit(kind: str, text: str) -> str:
    other = next((name for name in FACTORS if name != kind and _unit(text, name)), None)
    if other is None:
        return f"{_shown(text)} is no unit that is known here.{_with_units(kind)}"
    more = " A volume becomes a mass by its density." if (kind, other) == ("mass", "volume") else ""
    return f"{_shown(text)} makes it {NAMES[other]}; this field is {NAMES[kind]}.{_with_units(kind)}{more}"


def _with_units(kind: str) -> str:
    return f" Allowed here: a number alone, or with {', '.join(FACTORS[kind])}."


def _shown(text: str) -> str:
    return f"'{text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 1] + '…'}'"

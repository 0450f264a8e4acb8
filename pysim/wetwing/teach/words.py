"""Numbers in a reader's units, and clocks.

A sentence of the simulation holds its quantities as marks in braces, `{430 kg}`, in SI. `say` turns each mark
into the reader's units and drops the braces. The panel's script does the same; `tests/vectors/words.json`
holds both to one answer.
"""

import re
from math import floor
from typing import Literal

Units = Literal["kg", "lb", "t"]
UNITS: tuple[Units, ...] = ("kg", "lb", "t")

KG_PER_T = 1000.0
KG_PER_LB = 0.45359237
"""Exact, by the international definition of the pound of 1959."""

_MARK = re.compile(r"\{([-−]?[\d,]+(?:\.\d+)?)[ \u00a0]?([^{}\d]*)\}")

_BARE = re.compile(r"(?<![\d,.])(\d[\d,]*(?:\.\d+)?) (kg/h|kg|L/h|L)(?![\w/])")


def say(sentence: str, units: Units = "kg") -> str:
    """Replace each mark of a sentence, `{520 kg/h}`, by the reader's figure: `520 kg/h` or `1,146 lb/h`."""
    return _MARK.sub(lambda mark: _said(mark[1], mark[2], units), sentence)


def say_state(state: str, units: Units = "kg") -> str:
    """Say a state in the reader's units: one that people set may be a figure, `22700 kg`, without marks."""
    return say(_BARE.sub(r"{\1 \2}", state), units)


def _said(figure: str, unit: str, units: Units) -> str:
    if unit in ("kg", "kg/h") and units != "kg":
        value = in_units(float(figure.replace(",", "").replace("−", "-")), units)
        return f"{_to_the_kilogram(value) if units == 't' else number(value)} {unit.replace('kg', units)}"
    sign = "−" if figure[0] in "-−" else ""
    whole, point, decimals = figure.lstrip("-−").replace(",", "").partition(".")
    # The sign of degrees stands close to its figure; every other unit stands apart.
    gap = "" if unit == "°" else " "
    return f"{sign}{int(whole):,}{point}{decimals}{gap}{unit}".rstrip()


def in_units(value_kg: float, units: Units) -> float:
    """A mass in kg, or a flow in kg/h, in the reader's units, not rounded."""
    if units == "lb":
        return value_kg / KG_PER_LB
    return value_kg / KG_PER_T if units == "t" else value_kg


def _to_the_kilogram(tonnes: float) -> str:
    """Tonnes without the noughts at their end: 430 kg is `0.43`."""
    text = number(tonnes, 0.001)
    return text.rstrip("0").rstrip(".")


def mass(mass_kg: float, units: Units = "kg", step: float = 1.0) -> str:
    """Say a mass, rounded to `step` of the reader's unit (a thousandth of it in tonnes): `mass(6480.4)` is
    `6,480 kg`.
    """
    return f"{number(in_units(mass_kg, units), step / KG_PER_T if units == 't' else step)} {units}"


def flow(flow_kg_h: float, units: Units = "kg", step: float = 1.0) -> str:
    """Say a mass flow, rounded as a mass is: `flow(520)` is `520 kg/h`."""
    return f"{mass(flow_kg_h, units, step)}/h"


def number(value: float, step: float = 1.0) -> str:
    """Round half up to a multiple of `step`, with a comma every three digits, as the panel's script does."""
    multiple = floor(value / step + 0.5) * step
    decimals = max(0, -floor_log10(step))
    text = f"{abs(multiple):,.{decimals}f}"
    return f"−{text}" if multiple < 0.0 and text.strip("0.,") else text


def floor_log10(step: float) -> int:
    """The power of ten of a step: 0 for 1 to 9, -1 for 0.1 to 0.9."""
    power = 0
    while step < 1.0 - 1e-9 and power > -6:
        step *= 10.0
        power -= 1
    return power


def clock(time_s: float) -> str:
    """Say a time of a flight as h:mm:ss, with a tenth only where it is needed.

    Rounded up to that tenth, so that the text, typed back, never lies before the change that it names.
    """
    tenths = -floor(-(time_s * 10.0 - 1e-6))
    seconds, tenth = divmod(max(0, tenths), 10)
    text = f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"
    return f"{text}.{tenth}" if tenth else text


def up_to_tenth(time_s: float) -> float:
    """Round a time up to the tenth of a second that `clock` writes, as every edit that a link carries is."""
    return max(0, -floor(-(time_s * 10.0 - 1e-6))) / 10.0


def span(duration_s: float) -> str:
    """Say a length of time in words: `41 s`, `16 min 20 s`, `2 h 05 min`."""
    seconds = max(0, floor(duration_s + 0.5))
    if seconds < 60:
        return f"{seconds} s"
    minutes, seconds = divmod(seconds, 60)
    if minutes < 60:
        return f"{minutes} min {seconds} s" if seconds else f"{minutes} min"
    hours, minutes = divmod(minutes, 60)
    return f"{hours} h {minutes:02} min"


def listed(words: tuple[str, ...] | list[str], last: str = "and") -> str:
    """Join words as prose does: `a`, `a and b`, `a, b and c`."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def in_sentence(label: str) -> str:
    """A part's label inside a sentence: `Main left aft pump` as `main left aft pump`; `APU valve` stays."""
    keeps = label[:2].isupper() or re.match(r"Engine \d", label)
    return label if keeps else label[:1].lower() + label[1:]

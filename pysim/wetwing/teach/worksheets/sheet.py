"""A worksheet as data: what goes in, what comes out, and what is to be said of it.

Values stand in the unit of their kind (`entry.UNIT_OF`): kg, kg/h, L, kg/L, minutes and so on. Sentences hold
quantities as marks in braces, `{430 kg}`: whoever shows them puts them into the reader's units.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from wetwing.flight.record import Flight

Level = Literal["fits", "note", "beyond"]
"""What a finding says: within every limit, worth a look, outside a limit."""

Values = Mapping[str, float | None]
"""Each field's value by its name; None where the field is empty."""


@dataclass(frozen=True, slots=True)
class Field:
    """One figure that goes in. `empty` says what an empty field means; without it the field must be filled.

    `choices` are the words of a choice, whose value is the place in them, from 0. Fields of one `row` stand
    side by side, under the label of their column. `slider` asks for a slider beside the field.
    """

    name: str
    label: str
    kind: str
    value: float | None
    least: float
    most: float
    help: str = ""
    empty: str | None = None
    choices: tuple[str, ...] = ()
    row: int | None = None
    slider: bool = False


@dataclass(frozen=True, slots=True)
class Result:
    """One figure that comes out: how it is reckoned in words, and the paragraph that asks for it.

    `words` stands instead of the figure where the answer is none. `whole` marks a sum of those above.
    """

    name: str
    label: str
    unit: str
    value: float | None
    formula: str
    paragraph: str = ""
    step: float = 1.0
    words: str = ""
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Finding:
    """One sentence that the figures call for."""

    level: Level
    sentence: str


@dataclass(frozen=True, slots=True)
class Band:
    """A figure against a band that it should lie in, to be drawn: `low` to `high`, and the figure."""

    low: float
    high: float
    middle: float
    figure: float
    sentence: str


@dataclass(frozen=True, slots=True)
class Work:
    """What a worksheet gives. `problems` are of fields that don't go together, by the field's name."""

    results: tuple[Result, ...] = ()
    findings: tuple[Finding, ...] = ()
    band: Band | None = None
    problems: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of worksheet: its fields, filled by a flight at a time, and the work on their values."""

    name: str
    title: str
    fields: Callable[[Flight, float], tuple[Field, ...]]
    work: Callable[[Flight, float, Values], Work]


def given(values: Values, name: str) -> float:
    """The value of a field that has to be filled."""
    found = values[name]
    if found is None:
        raise ValueError(f"worksheet: '{name}' is empty")
    return found


def mark(value: float, unit: str, decimals: int = 0) -> str:
    """A quantity as a mark of a sentence, `{1,234 kg}`."""
    rounded = f"{value:,.{decimals}f}".replace("-", "−")
    return f"{{{rounded.replace('−0', '0') if rounded.strip('−0.,') == '' else rounded} {unit}}}"

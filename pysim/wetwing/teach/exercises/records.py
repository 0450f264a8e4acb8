"""A question with its answer, its wrong answers, and the state of a flight that shows each of them.

Texts hold their quantities as marks, `{430 kg}`, so that whoever shows them can use the reader's units.
"""

from dataclasses import dataclass
from typing import Literal

from wetwing.flight.script import Edit
from wetwing.teach.link import Link, LinkEdit, format_link
from wetwing.teach.words import Units

Form = Literal["choose", "order", "number"]


@dataclass(frozen=True, slots=True)
class Evidence:
    """A state of a flight: the aircraft, its script with edits, and a time in whole seconds or tenths."""

    aircraft: str
    flight: str
    edits: tuple[Edit, ...]
    time_s: float

    @property
    def page(self) -> str:
        """The page that opens it, within the site: the bench, where every switch is at hand."""
        return f"bench/{self.aircraft}.html"

    def address(self, units: Units | None = None) -> str:
        """The page with the fragment that opens this state."""
        edits = tuple(LinkEdit(edit.time_s, edit.part, edit.state) for edit in self.edits)
        return self.page + format_link(Link(self.aircraft, self.flight, edits, self.time_s, units))


@dataclass(frozen=True, slots=True)
class Option:
    """One answer to choose. `claim` is what would make it right, in the language of checked statements; it is
    judged in the flight of `evidence`. A wrong one names the misconception that leads to it.
    """

    words: str
    claim: str
    right: bool
    because: str
    evidence: Evidence
    misconception: str | None = None


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to be put in order; items stand in the flight's own order."""

    words: str
    claim: str
    because: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Slip:
    """A wrong figure, and the misconception that leads to it."""

    amount: float
    misconception: str


@dataclass(frozen=True, slots=True)
class Number:
    """A figure to be worked out: right within `tolerance`, rounded to `step` where it is shown.

    `claim` says that the simulation comes to the same figure, where it has one of its own.
    """

    amount: float
    unit: str
    step: float
    tolerance: float
    slips: tuple[Slip, ...]
    claim: str | None


@dataclass(frozen=True, slots=True)
class Table:
    """What the reader is given: a heading for each column, and rows that begin with their own heading."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Question:
    """One question. `because` is the answer's reason, `evidence` the state that shows the answer."""

    name: str
    kind: str
    form: Form
    objectives: tuple[str, ...]
    ask: str
    given: Table | None
    because: str
    evidence: Evidence
    options: tuple[Option, ...] = ()
    items: tuple[Item, ...] = ()
    shown: tuple[int, ...] = ()
    number: Number | None = None
    misconceptions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Paper:
    """Questions for one seed and aircraft. `left_out` names the kinds with fewer than asked."""

    seed: int
    aircraft: str
    title: str
    flight: str
    flight_title: str
    questions: tuple[Question, ...]
    left_out: tuple[str, ...] = ()

"""A flight as it is kept: keyframes as columns, changes with their reasons, and what any time in between
shows.
"""

from bisect import bisect_left, bisect_right
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.names import PHASE
from wetwing.flight.script import Phase, Script

if TYPE_CHECKING:
    from wetwing.flight.keeping import Kept


@dataclass(frozen=True, slots=True)
class Fact:
    """What a rule or a person saw: a part's state, or a quantity's value with its unit."""

    name: str
    state: str | None = None
    value: float | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a change happened. `causes` are indices of earlier changes of the same flight.

    `kind` says who or what acted, and `name` which: "rule", the automatics or an alert (the rule's name, or
    the condition's, `centre-left.runs_when`); "action", a person ("setting") or the script ("phase");
    "physics" (the law: "pressure", "level", "power" where a bus is dead or back, ...); "trouble", what is
    broken (the kind of trouble, or "mended").

    `sentence` holds quantities in braces, `{430 kg}`: whoever shows it puts them into the reader's units.
    """

    kind: str
    name: str
    sentence: str
    facts: tuple[Fact, ...] = ()
    causes: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Change:
    """One part going from one state to another."""

    time_s: float
    part: str
    before: str
    after: str
    reason: Reason


@dataclass(frozen=True, slots=True)
class Command:
    """One setting made by a person."""

    time_s: float
    part: str
    state: str


@dataclass(frozen=True, slots=True)
class Ended:
    """Why a flight ended before its script did."""

    time_s: float
    name: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Moment:
    """A flight at one time."""

    flight: "Flight"
    time_s: float

    def quantity(self, name: str) -> float:
        """Value of a quantity, linear between keyframes; at a jump the later value. Raises KeyError."""
        return self.flight.quantity(name, self.time_s)

    def state(self, part: str) -> str:
        """State of a part. Raises KeyError."""
        return self.flight.state(part, self.time_s)

    def setting(self, part: str) -> str:
        """What a person last set the part to. Raises KeyError."""
        return self.flight.setting(part, self.time_s)

    def shown(self, part: str) -> str:
        """Where a valve's indication says that it is: the truth, unless the flight has a part for an
        indication that may freeze. Raises KeyError.
        """
        own = f"{part}-indication"
        return self.state(own if own in self.flight.aircraft.parts else part)

    def troubles(self, part: str) -> tuple[str, ...]:
        """The kinds of trouble that the part has now."""
        found = [trouble for trouble in self.flight.script.troubles if trouble.part == part]
        return tuple(trouble.kind for trouble in found if self.state(trouble.name) == "present")


@dataclass(slots=True)
class Flight:
    """A whole flight. `quantities` are columns parallel to `time_s`; two equal times are a jump, before and
    after.
    """

    aircraft: Aircraft
    script: Script
    duration_s: float
    time_s: list[float]
    quantities: dict[str, list[float]]
    start_states: dict[str, str]
    start_settings: dict[str, str]
    changes: tuple[Change, ...]
    commands: tuple[Command, ...]
    ended: Ended | None
    kept: "Kept | None" = field(default=None, repr=False, compare=False)
    _by_part: dict[str, tuple[list[float], list[int]]] = field(default_factory=dict)

    @property
    def phases(self) -> tuple[Phase, ...]:
        """The script's phases."""
        return self.script.phases

    def moment(self, time_s: float) -> Moment:
        """The flight at a time, held to its ends."""
        return Moment(self, min(max(time_s, 0.0), self.duration_s))

    def quantity(self, name: str, time_s: float) -> float:
        """Value of a quantity at a time. Raises KeyError."""
        column = self.quantities[name]
        right = bisect_right(self.time_s, time_s)
        if right >= len(self.time_s):
            return column[-1]
        if right == 0:
            return column[0]
        t0, t1 = self.time_s[right - 1], self.time_s[right]
        share = (time_s - t0) / (t1 - t0)
        return column[right - 1] + share * (column[right] - column[right - 1])

    def indices(self, part: str) -> tuple[list[float], list[int]]:
        """Times and indices of a part's changes, in order."""
        if not self._by_part:
            self._by_part.update({name: ([], []) for name in (*self.aircraft.parts, PHASE)})
            for i, change in enumerate(self.changes):
                times, found = self._by_part[change.part]
                times.append(change.time_s)
                found.append(i)
        return self._by_part[part]

    def last_change(self, part: str, time_s: float) -> int | None:
        """Index of a part's last change at or before a time. Raises KeyError."""
        times, found = self.indices(part)
        at = bisect_right(times, time_s)
        return found[at - 1] if at else None

    def next_change(self, part: str, time_s: float) -> int | None:
        """Index of a part's first change after a time. Raises KeyError."""
        times, found = self.indices(part)
        at = bisect_right(times, time_s)
        return found[at] if at < len(found) else None

    def state(self, part: str, time_s: float) -> str:
        """State of a part at a time; `phase` is a part too. Raises KeyError."""
        if part == PHASE:
            return self.phase(time_s).name
        last = self.last_change(part, time_s)
        return self.start_states[part] if last is None else self.changes[last].after

    def setting(self, part: str, time_s: float) -> str:
        """What a person last set a part to, at or before a time. Raises KeyError."""
        found = self.start_settings[part]
        for command in self.commands:
            if command.time_s > time_s:
                break
            if command.part == part:
                found = command.state
        return found

    def phase(self, time_s: float) -> Phase:
        """The phase at a time."""
        at = bisect_right([phase.start_s for phase in self.phases], time_s)
        return self.phases[max(at - 1, 0)]

    def keyframe(self, time_s: float) -> int:
        """Index of the first keyframe at or after a time."""
        return min(bisect_left(self.time_s, time_s), len(self.time_s) - 1)

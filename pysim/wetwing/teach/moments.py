"""Moments: times of a flight named by what happens, so that they survive a change of the numbers.

phase cruise                                            the beginning of a phase; also: begin, end
centre-left becomes delivering                          the first time; also: 2nd, 3rd, last
2nd centre-left becomes delivering after phase cruise   counted from another moment
when main-left.gauged_kg <= 900 kg [after ...]          the first time a condition is true
hold-1                                                  a name that the page's front matter gives
hold-1 + 0:02:00                                        so much later; brackets bind: (hold-1 + 0:02:00)
recorded hold-1                                         in an edited flight: that of the unedited
first difference                                        in an edited flight: where the two part
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from wetwing.aircraft.mistakes import Mistake, nearest, unknown
from wetwing.flight.clock import seconds
from wetwing.teach.compare import first_difference
from wetwing.teach.flights import Flights
from wetwing.teach.text import has, split_at, split_last, unbracketed, unquoted
from wetwing.teach.timeline import Timeline
from wetwing.teach.words import clock

_ORDINALS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "last": -1}
_ORDINAL = re.compile(r"([1-9]\d?)(?:st|nd|rd|th)")
_NAME = re.compile(r"[a-z][a-z0-9-]*")
_NESTING = 12


@dataclass(frozen=True)
class Moments:
    """Finds moments in one flight; `names` are the page's own definitions."""

    flights: Flights
    timeline: Timeline
    names: Mapping[str, str] = field(default_factory=dict)
    depth: int = 0

    def find(self, text: str, place: str) -> float:
        """The time in s of a moment. Raises Mistake where `text` has no meaning or never happens."""
        text = unbracketed(" ".join(text.split()))
        if not text:
            raise Mistake(place, "no moment", "such as 'phase cruise' or 'centre-left becomes dry'")
        for sign, keyword in ((1.0, "+"), (-1.0, "-")):
            if cut := split_last(text, keyword):
                moment, length = cut
                return self._inside(self.find(moment, place) + sign * seconds(length, place), text, place)
        return self._simple(text, place)

    def _inside(self, time_s: float, text: str, place: str) -> float:
        if not 0.0 <= time_s <= self.timeline.flight.duration_s:
            last = clock(self.timeline.flight.duration_s)
            raise Mistake(place, f"'{text}' is at {time_s:g} s, outside the flight", f"0:00:00 to {last}")
        return time_s

    def _simple(self, text: str, place: str) -> float:
        first, _, rest = text.partition(" ")
        if text == "begin":
            return 0.0
        if text == "end":
            return self.timeline.flight.duration_s
        if text == "first difference":
            return self._difference(place)
        if first == "phase":
            return self._phase(rest, place)
        if first == "recorded":
            return self._inside(replace(self, timeline=self.flights.recorded).find(rest, place), text, place)
        body, after_s = self._after(text, place)
        if first == "when":
            return self._when(body.removeprefix("when").strip(), after_s, place)
        if has(body, "becomes"):
            return self._becomes(body, after_s, place)
        if text in self.names:
            return self._named(text, place)
        raise self._nonsense(text, place)

    def _after(self, text: str, place: str) -> tuple[str, float]:
        cut = split_at(text, "after")
        return (cut[0], self.find(cut[1], place)) if cut else (text, 0.0)

    def _named(self, name: str, place: str) -> float:
        if self.depth > _NESTING:
            raise Mistake(
                place,
                f"moment '{name}' is defined by itself",
                "a definition that ends in something that happens",
            )
        try:
            return replace(self, depth=self.depth + 1).find(self.names[name], place)
        except Mistake as mistake:
            raise Mistake(
                place, f"moment '{name}': {mistake.found}", mistake.allowed, mistake.nearest
            ) from None

    def _phase(self, name: str, place: str) -> float:
        starts = {phase.name: phase.start_s for phase in self.timeline.flight.phases}
        if name not in starts:
            raise unknown(place, "phase", name, starts)
        return starts[name]

    def _difference(self, place: str) -> float:
        found = first_difference(self.flights.recorded.flight, self.timeline.flight)
        if found is None:
            raise Mistake(
                place,
                "the edited flight is the same as the recorded one: there is no first difference",
                "an edit that matters",
            )
        return found.time_s

    def _when(self, text: str, after_s: float, place: str) -> float:
        condition = self.flights.condition(text, place)
        found = self.timeline.first_true(condition, after_s)
        if found is None:
            raise Mistake(
                place, f"'{condition.text}' is never true after {clock(after_s)}", "a moment that happens"
            )
        return found

    def _becomes(self, text: str, after_s: float, place: str) -> float:
        ordinal, text = _ordinal(text)
        cut = split_at(text, "becomes")
        part, state = (cut[0], unquoted(cut[1])) if cut else ("", "")
        check_state(self.flights, part, state, place)
        changes = self.timeline.flight.changes
        times = [
            change.time_s
            for change in changes
            if change.part == part and change.after == state and change.time_s >= after_s
        ]
        if len(times) < abs(ordinal):
            times_said = f"only {len(times)} times" if times else "never"
            since = f" after {clock(after_s)}" if after_s else ""
            others = sorted(
                {change.after for change in changes if change.part == part and change.time_s >= after_s}
            )
            allowed = [f"{part} becomes {other}" for other in others] or [f"{part} changes never{since}"]
            raise Mistake(place, f"{part} becomes {state} {times_said}{since}", allowed)
        return times[ordinal - 1] if ordinal > 0 else times[-1]

    def _nonsense(self, text: str, place: str) -> Mistake:
        forms = ("begin", "end", "phase NAME", "PART becomes STATE", "when CONDITION")
        names = tuple(self.names)
        if _NAME.fullmatch(text):
            return unknown(place, "moment", text, (*names, *forms))
        return Mistake(place, f"'{text[:60]}' is no moment", (*names, *forms), nearest(text, names))


def _ordinal(text: str) -> tuple[int, str]:
    first, _, rest = text.partition(" ")
    if first in _ORDINALS:
        return _ORDINALS[first], rest
    found = _ORDINAL.fullmatch(first)
    return (int(found[1]), rest) if found else (1, text)


def check_state(flights: Flights, part: str, state: str, place: str) -> None:
    """Raise Mistake unless `part` exists and can show `state`."""
    parts = flights.aircraft.parts
    if part not in parts:
        raise unknown(place, "part", part, parts)
    if parts[part].states and state not in parts[part].states:
        raise unknown(place, f"state of {part}", state, parts[part].states)

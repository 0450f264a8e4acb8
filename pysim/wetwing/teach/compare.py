"""Where two flights of one script part, and in what: the answer to "what if"."""

from collections.abc import Iterator
from dataclasses import dataclass

from wetwing.flight.record import Change, Flight
from wetwing.teach.words import clock, in_sentence

ALERT = "alert"
"""The kind of part that an alert is."""

SAME_S = 1.0
"""Changes nearer than this are one: a keyframe more on the way moves the same event by a small error."""


@dataclass(frozen=True, slots=True)
class Difference:
    """The first change that one flight has and the other has not; what people set does not count.

    `before` and `after` are the states of the part then, in the first flight and in the second. `sentence` is
    the reason of that change, which the second flight has (`in_second`) or the first.
    """

    time_s: float
    part: str
    kind: str
    label: str
    before: str
    after: str
    sentence: str
    in_second: bool

    @property
    def named(self) -> str:
        """The part inside a sentence. An alert's label is a sentence of its own, so it stands in quotes."""
        return f"the alert “{self.label}”" if self.kind == ALERT else in_sentence(self.label)

    def said(self) -> str:
        """Say it, with the marks of its quantities."""
        what = f"{self.named} {self.after}, where it was {self.before}"
        where = "In the edited flight" if self.in_second else "In the recorded flight"
        return f"A state first differs at {clock(self.time_s)}: {what}. {where}: {self.sentence}"


def first_difference(first: Flight, second: Flight) -> Difference | None:
    """Find where `second` parts from `first`; None where every change is the same."""
    ours, theirs = _consequences(first, second), _consequences(second, first)
    one, other = _first_unmatched(ours, theirs), _first_unmatched(theirs, ours)
    if other is not None and (one is None or other.time_s <= one.time_s):
        return _difference(first, second, other, True)
    return None if one is None else _difference(first, second, one, False)


def _consequences(flight: Flight, other: Flight) -> list[Change]:
    """What the aircraft did: what people set, and a trouble that one flight alone has, is the cause, the same
    in both or the edit itself.
    """
    known = other.start_states
    # Two flights may each call a trouble of an edit by the same name: neither is a consequence.
    edited = {(edit.part, round(edit.time_s, 2)) for edit in flight.script.edits}
    owner = {trouble.name: trouble.part for trouble in flight.script.troubles}
    return [
        change
        for change in flight.changes
        if change.reason.kind != "action"
        and change.part in known
        and (owner.get(change.part, ""), round(change.time_s, 2)) not in edited
    ]


def unmatched(first: Flight, second: Flight) -> list[tuple[Change, bool]]:
    """Every change that one flight has and the other has not at that time, and whether the second has it."""
    ours, theirs = _consequences(first, second), _consequences(second, first)
    found = [(change, False) for change in _unmatched(ours, theirs)]
    found += [(change, True) for change in _unmatched(theirs, ours)]
    return sorted(found, key=lambda one: one[0].time_s)


def _first_unmatched(changes: list[Change], others: list[Change]) -> Change | None:
    return next(_unmatched(changes, others), None)


def _unmatched(changes: list[Change], others: list[Change]) -> Iterator[Change]:
    times: dict[tuple[str, str], list[float]] = {}
    for other in others:
        times.setdefault((other.part, other.after), []).append(other.time_s)
    for change in changes:
        same = times.get((change.part, change.after), [])
        if not any(abs(time_s - change.time_s) <= SAME_S for time_s in same):
            yield change


def _difference(first: Flight, second: Flight, change: Change, in_second: bool) -> Difference:
    part = change.part
    before = change.after if not in_second else first.moment(change.time_s).state(part)
    after = change.after if in_second else second.moment(change.time_s).state(part)
    own = first.aircraft.parts.get(part)
    kind, label = (own.kind, own.label) if own else ("", part)
    return Difference(change.time_s, part, kind, label, before, after, change.reason.sentence, in_second)

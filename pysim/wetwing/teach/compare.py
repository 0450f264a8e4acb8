"""Where two flights of one script part, and in what: the answer to "what if"."""

from dataclasses import dataclass

from wetwing.flight.record import Change, Flight
from wetwing.teach.words import clock


@dataclass(frozen=True, slots=True)
class Difference:
    """The first change that one flight has and the other has not; the settings that were edited do not count.

    `before` and `after` are the states of `part` after `time_s` in the first flight and in the second.
    """

    time_s: float
    part: str
    before: str
    after: str
    sentence: str

    def said(self) -> str:
        """Say it in one sentence, with its marks."""
        return f"The two flights part at {clock(self.time_s)}: {self.sentence}"


def first_difference(first: Flight, second: Flight) -> Difference | None:
    """Find where `second` parts from `first`; None where every change is the same."""
    ours, theirs = _consequences(first), _consequences(second)
    for one, other in zip(ours, theirs, strict=False):
        if _key(one) != _key(other):
            return _told(first, second, one, other)
    if len(ours) > len(theirs):
        return _told(first, second, ours[len(theirs)], None)
    if len(theirs) > len(ours):
        return _told(first, second, None, theirs[len(ours)])
    return None


def _consequences(flight: Flight) -> list[Change]:
    """What the aircraft did: what people set is the cause, the same in both or the edit itself."""
    return [change for change in flight.changes if change.reason.kind != "action"]


def _key(change: Change) -> tuple[float, str, str]:
    return change.time_s, change.part, change.after


def _told(first: Flight, second: Flight, one: Change | None, other: Change | None) -> Difference:
    """Tell the earlier of two changes; it happens in one flight alone."""
    if other is not None and (one is None or other.time_s <= one.time_s):
        before = first.moment(min(other.time_s, first.duration_s)).state(other.part)
        return Difference(other.time_s, other.part, before, other.after, other.reason.sentence)
    assert one is not None
    after = second.moment(min(one.time_s, second.duration_s)).state(one.part)
    sentence = f"this did not happen: {one.reason.sentence}"
    return Difference(one.time_s, one.part, one.after, after, sentence)

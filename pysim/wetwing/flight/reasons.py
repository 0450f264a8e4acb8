"""Because and what next: walks along the pointers that a flight's changes carry."""

from dataclasses import dataclass

from wetwing.flight.record import Change, Flight

LONGEST_CHAIN = 40


@dataclass(frozen=True, slots=True)
class Step:
    """One link of a chain: how far from the question, which change, and its index."""

    depth: int
    index: int
    change: Change


def because(flight: Flight, time_s: float, part: str) -> tuple[Step, ...]:
    """Why a part is as it is at a time: its last change, then what made that, back to people, physics or the
    start.

    Empty where the part has not changed. Each change stands once, below the first that it explains. Raises
    KeyError.
    """
    first = flight.last_change(part, time_s)
    if first is None:
        return ()
    steps: list[Step] = []
    seen: set[int] = set()
    waiting = [(0, first)]
    while waiting and len(steps) < LONGEST_CHAIN:
        depth, index = waiting.pop(0)
        if index in seen:
            continue
        seen.add(index)
        change = flight.changes[index]
        steps.append(Step(depth, index, change))
        # Depth first, newest cause first: the chain reads as a story before it branches.
        waiting = [(depth + 1, cause) for cause in change.reason.causes if cause not in seen] + waiting
    return tuple(steps)


def next_change(flight: Flight, time_s: float, part: str) -> Change | None:
    """A part's first change after a time, or None. Raises KeyError."""
    index = flight.next_change(part, time_s)
    return None if index is None else flight.changes[index]

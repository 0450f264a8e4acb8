"""What stands behind a part's state: the names that a claim's `because` may give."""

from wetwing.flight.record import Flight

NEAR = 2
"""How many steps behind a change `because` looks: the rule, what made it act, and what made that so."""


def reasons(flight: Flight, time_s: float, part: str, most_steps: int | None) -> set[str]:
    """The rules and parts behind a part's last change, at most so many steps back; None means all the way."""
    last = flight.last_change(part, time_s)
    found: set[str] = set()
    front, seen, step = set[int]() if last is None else {last}, set[int](), 0
    while front and (most_steps is None or step <= most_steps):
        changes = [flight.changes[index] for index in front]
        found |= {change.reason.name for change in changes} | {change.part for change in changes}
        seen |= front
        front = {cause for change in changes for cause in change.reason.causes} - seen
        step += 1
    return found - {part}

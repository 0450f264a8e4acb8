"""What the feed chart asks of a flight: columns, spans of states, and in a few words why something is
held."""

import re
from collections.abc import Callable

from wetwing.aircraft.model import Aircraft
from wetwing.draw.plan_words import short
from wetwing.flight.compact import decimals
from wetwing.flight.record import Flight

HELD = "stopped by automatics"
DELIVERING = "delivering"


def column(flight: Flight, names: str) -> list[float]:
    """Return a quantity at every keyframe, or the sum of several joined by ` + `.

    Rounded as the page's record is, so that the still picture and the page's own are one.
    """
    columns = [
        [round(value, decimals(name)) for value in flight.quantities[name]] for name in names.split(" + ")
    ]
    return [sum(values) for values in zip(*columns, strict=True)]


def keyframe_times(flight: Flight) -> list[float]:
    """Return the times of the keyframes, s, rounded as the page's record is."""
    return [round(time_s, decimals("time_s")) for time_s in flight.time_s]


def spans(flight: Flight, part: str) -> list[tuple[float, float, str]]:
    """Return (start_s, end_s, state) of a part over the whole flight."""
    found: list[tuple[float, float, str]] = []
    start, state = 0.0, flight.start_states[part]
    times, indices = flight.indices(part)
    for time_s, index in zip(times, indices, strict=True):
        if time_s > start:
            found.append((start, time_s, state))
        start, state = time_s, flight.changes[index].after
    found.append((start, max(flight.duration_s, start + 1.0), state))
    return found


def why_held(flight: Flight, pump: str) -> Callable[[float], str]:
    """Return a function that says which rule holds a pump at a time, or `held` where no rule is behind it.

    It is the rule that became active and stopped the pump; where another ending stopped it, the rule whose
    own ending lets
    the pump go again.
    """
    words = rule_words(flight.aircraft)

    def why(time_s: float) -> str:
        last, following = flight.last_change(pump, time_s), flight.next_change(pump, time_s)
        found = _rules_behind(flight, last, "active") + _rules_behind(flight, following, "inactive")
        return words[found[0]] if found else "held"

    return why


def _rules_behind(flight: Flight, index: int | None, turned: str) -> list[str]:
    """Return the rules among a change's causes that turned `active` or `inactive`."""
    if index is None:
        return []
    rules = {rule.name for rule in flight.aircraft.rules}
    causes = [flight.changes[cause] for cause in flight.changes[index].reason.causes]
    return [change.part for change in causes if change.part in rules and change.after == turned]


def rule_words(aircraft: Aircraft) -> dict[str, str]:
    """Return each rule's label as a few words for a gap: `Return-flow hold (left)` is a `return-flow
    hold`."""
    return {rule.name: re.split(r",| \(", short(rule))[0] for rule in aircraft.rules}

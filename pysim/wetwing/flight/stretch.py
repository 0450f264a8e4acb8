"""Phases made longer or shorter: every time of a script moves with its phase.

Inside a phase times keep their share of it; what comes later moves as a whole. So a climb that takes twice as
long climbs half as fast, and what the crew does half-way up it is still done half-way up.
"""

from collections.abc import Mapping
from copy import deepcopy
from typing import Any, cast

from wetwing.aircraft.mistakes import Mistake
from wetwing.flight.clock import LONGEST_S, clock, seconds
from wetwing.flight.script_records import Script

_TIMED = {
    "phases": ("at",),
    "path": ("at",),
    "actions": ("at",),
    "troubles": ("at", "until"),
    "mendings": ("at",),
}


def stretched(
    values: Mapping[str, object], script: Script, minutes: Mapping[str, float]
) -> dict[str, object]:
    """The table of a script with phases of other lengths, in minutes; `script` is that script, read. Raises
    Mistake.
    """
    made = cast("dict[str, Any]", deepcopy(dict(values)))
    old_s = [*(phase.start_s for phase in script.phases), script.ends_s]
    new_s = [0.0]
    for i, phase in enumerate(script.phases):
        length_s = old_s[i + 1] - old_s[i]
        if phase.name in minutes:
            length_s = minutes[phase.name] * 60.0
        new_s.append(new_s[-1] + length_s)
    # Half of what a time may be: points of the way may lie behind the flight's end.
    if new_s[-1] > LONGEST_S / 2.0:
        raise Mistake(
            "inputs: duration", f"a flight that ends at {clock(new_s[-1])}", f"up to {clock(LONGEST_S / 2.0)}"
        )
    for key, names in _TIMED.items():
        for row in made.get(key, []):
            for name in names:
                if name in row:
                    row[name] = written(_moved(seconds(row[name], key), old_s, new_s))
    made["ends_at"] = written(new_s[-1])
    return made


def _moved(time_s: float, old_s: list[float], new_s: list[float]) -> float:
    for i in range(len(old_s) - 1):
        if time_s <= old_s[i + 1]:
            share = (time_s - old_s[i]) / (old_s[i + 1] - old_s[i])
            return new_s[i] + share * (new_s[i + 1] - new_s[i])
    return new_s[-1] + time_s - old_s[-1]


def written(time_s: float) -> str:
    """A time as scripts have it: decimals of a second only where there are some, at most three."""
    text = clock(time_s, 3)
    return text.rstrip("0").rstrip(".") if "." in text else text

"""Where a crew sees that one script is flown by another aircraft: on alerts, displays, valves and gauges.

Two things are compared: what is shown in words (alerts, displays, valves, engines), change by change; and
what the gauges read, at every half minute. What is shown and what is not is said by a `View`, which gives a
moment as the gauges of an aircraft tell it: this module knows of no picture.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Protocol

from wetwing.aircraft.model import Aircraft
from wetwing.flight.record import Change, Flight, Moment
from wetwing.teach.compare import unmatched
from wetwing.teach.words import clock, number

APART_S = 30.0
"""A change that comes this much sooner or later is another to a crew; less is the same."""
STEP_S = 30.0
LASTS_S = 60.0
"""A gauge that reads otherwise for less time than this goes unseen."""
OTHERWISE = {"gauged_kg": 50.0, "used_kg": 50.0, "metered_kg_h": 100.0, "temperature_c": 2.0}
"""By how much two readings must differ before a crew takes them for two."""
WORDS = {
    "gauged_kg": ("reads", "kg"),
    "used_kg": ("has used", "kg"),
    "metered_kg_h": ("flow is", "kg/h"),
    "temperature_c": ("is at", "°C"),
}

_PASSING = ("moving",)
_UNSEEN = ("control", "pump", "tank", "probe", "meter", "totaliser")
"""What people set is the same in both; the rest of these tell by what they read."""
_ACTS = ("pump", "valve", "jet-pump", "return", "transfer", "rule")


class Shows(Protocol):
    """A moment as it is shown to a crew."""

    def quantity(self, name: str) -> float:
        """A quantity as it is shown; not a number where nobody shows it."""

    def state(self, part: str) -> str:
        """A part's state as it is shown."""


View = Callable[[Aircraft, Moment], Shows]


@dataclass(frozen=True, slots=True)
class Sight:
    """One thing that a crew sees otherwise: from when, on which part, and what each aircraft shows then.

    `first` and `second` hold marks of quantities; `sentence` is the reason, and says of which aircraft by
    `in_second`. `most` says where the difference of a reading is greatest.
    """

    time_s: float
    part: str
    label: str
    first: str
    second: str
    sentence: str
    in_second: bool
    most: str = ""


@dataclass(frozen=True, slots=True)
class Sights:
    """Two flights of one script, and what a crew sees otherwise, in the order of time."""

    first: Flight
    second: Flight
    found: tuple[Sight, ...]


def seen(first: Flight, second: Flight, view: View) -> Sights:
    """Compare two flights of one script as their crews see them."""
    found = [*_words(first, second, view), *_readings(first, second, view)]
    return Sights(first, second, tuple(sorted(found, key=lambda sight: (sight.time_s, sight.part))))


@dataclass(frozen=True, slots=True)
class _Shown:
    time_s: float
    part: str
    state: str
    change: Change


def _changes(flight: Flight, view: View) -> Iterator[_Shown]:
    """Each change of what is shown in words, with the change of a part that made it."""
    parts = flight.aircraft.parts
    first = view(flight.aircraft, flight.moment(0.0))
    shown = {name: first.state(name) for name, part in parts.items() if part.kind not in _UNSEEN}
    begun: dict[str, Change] = {}
    for change in flight.changes:
        # A valve's indication is a part of its own where it may freeze.
        name = change.part.removesuffix("-indication")
        if name not in shown:
            continue
        now = view(flight.aircraft, flight.moment(change.time_s)).state(name)
        if now != shown[name]:
            shown[name] = now
            if now in _PASSING:
                begun[name] = change
            else:
                # Why a valve has arrived is why it began to move.
                yield _Shown(change.time_s, name, now, begun.pop(name, change))


def _words(first: Flight, second: Flight, view: View) -> Iterator[Sight]:
    ours, theirs = _by_state(first, view), _by_state(second, view)
    for key in (*ours, *(key for key in theirs if key not in ours)):
        mine, other = ours.get(key, []), theirs.get(key, [])
        for at in range(max(len(mine), len(other))):
            one = mine[at] if at < len(mine) else None
            two = other[at] if at < len(other) else None
            sight = _moved(one, two, first, second, view)
            if sight:
                yield sight


def _by_state(flight: Flight, view: View) -> dict[tuple[str, str], list[_Shown]]:
    found: dict[tuple[str, str], list[_Shown]] = {}
    for shown in _changes(flight, view):
        found.setdefault((shown.part, shown.state), []).append(shown)
    return found


def _moved(one: _Shown | None, two: _Shown | None, first: Flight, second: Flight, view: View) -> Sight | None:
    """The sight of a change that comes at another time, or in one flight alone; None where both have it."""
    if one and two and abs(one.time_s - two.time_s) <= APART_S:
        return None
    in_second = one is None or (two is not None and two.time_s < one.time_s)
    here = two if in_second else one
    assert here is not None
    label = first.aircraft.parts[here.part].label
    there = (first if in_second else second).moment(here.time_s)
    still = view(there.flight.aircraft, there).state(here.part)
    later = one if in_second else two
    # A state that is there already, and comes anew, has ended in between.
    again = " again" if still == here.state else ""
    told = (
        f"{still}; {here.state}{again} {{{_minutes(later.time_s - here.time_s)}}} later" if later else still
    )
    states = (told, here.state) if in_second else (here.state, told)
    if later is None and there.flight.duration_s < here.time_s:
        return None  # that flight has ended: its end is told by the engines
    return Sight(here.time_s, here.part, label, *states, here.change.reason.sentence, in_second)


def _minutes(length_s: float) -> str:
    return f"{length_s:.0f} s" if length_s < 120.0 else f"{length_s / 60.0:.0f} min"


def _readings(first: Flight, second: Flight, view: View) -> Iterator[Sight]:
    """The first time from which each gauge reads otherwise, and where it does so most."""
    ends_s = min(first.duration_s, second.duration_s)
    times = [STEP_S * step for step in range(int(ends_s / STEP_S) + 1)]
    moments = [
        (time_s, view(first.aircraft, first.moment(time_s)), view(second.aircraft, second.moment(time_s)))
        for time_s in times
    ]
    for name in _gauges(first):
        part, _, what = name.partition(".")
        pairs = [(time_s, one.quantity(name), two.quantity(name)) for time_s, one, two in moments]
        start = _parts_for_good(pairs, OTHERWISE[what])
        if start is None:
            continue
        time_s, ours, theirs = pairs[start]
        verb, unit = WORDS[what]
        cause = _cause(first, second, time_s)
        if cause is None:
            continue
        label = "Total of the gauges" if part == "total" else first.aircraft.parts[part].label
        most = max(pairs[start:], key=lambda pair: abs(pair[1] - pair[2]) if pair[1] == pair[1] else 0.0)
        yield Sight(
            time_s,
            part,
            label,
            _reading(verb, ours, unit),
            _reading(verb, theirs, unit),
            cause[0].reason.sentence,
            cause[1],
            f"{_reading('', most[1], unit)} against {_reading('', most[2], unit)} at {clock(most[0])}",
        )


def _gauges(flight: Flight) -> Iterator[str]:
    for tank in flight.aircraft.tanks:
        yield f"{tank.name}.gauged_kg"
        yield f"{tank.name}.temperature_c"
    yield "total.gauged_kg"
    for engine in flight.aircraft.engines:
        if engine.propels:
            yield f"{engine.name}.metered_kg_h"


def _parts_for_good(pairs: list[tuple[float, float, float]], least: float) -> int | None:
    """Where two readings first differ by so much, and go on to for as long as a crew needs to see it."""
    need = int(LASTS_S / STEP_S) + 1
    run = 0
    for at, (_, ours, theirs) in enumerate(pairs):
        # A blank gauge is not a number, and differs from nothing.
        run = run + 1 if abs(ours - theirs) >= least else 0
        if run == need:
            return at - need + 1
    return None


def _cause(first: Flight, second: Flight, time_s: float) -> tuple[Change, bool] | None:
    """The last thing that the aircraft did in one flight alone before a time: what a rule did, if any did."""
    earlier = [
        (change, in_second)
        for change, in_second in unmatched(first, second)
        if change.time_s <= time_s and _acts(first if not in_second else second, change)
    ]
    ruled = [found for found in earlier if found[0].reason.kind == "rule"]
    return max(ruled or earlier, key=lambda found: found[0].time_s, default=None)


def _acts(flight: Flight, change: Change) -> bool:
    part = flight.aircraft.parts.get(change.part)
    return part is not None and part.kind in _ACTS


def _reading(verb: str, value: float, unit: str) -> str:
    if value != value:
        return f"{verb} nothing".strip()
    return f"{verb} {{{number(value)} {unit}}}".strip()

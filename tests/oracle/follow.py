"""The oracle: a whole flight again, by other equations and another integrator.

It takes from the flight what each part turned to, and finds by itself when: times of the clock from its own
strokes and delays, all others as zeros of its own margins. Its state is never set to the flight's.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from math import inf

import numpy as np
from scipy.integrate import DOP853  # type: ignore[import-untyped]
from scipy.optimize import brentq  # type: ignore[import-untyped]

from tests.oracle.arming import FILM_KG, SLOWEST_S, Event, armed
from tests.oracle.equations import Equations, Now
from tests.oracle.logic import Conditions
from tests.oracle.readings import Ill, Readings, Seen, Vector
from tests.oracle.switchboard import Switchboard
from tests.oracle.way import legs
from wetwing.aircraft.names import PHASE
from wetwing.flight.record import Change, Command, Flight

NEAR_S = 0.01
"""An event of the flight is one of the oracle's if it comes within this."""

SAME_S = 1e-4
"""What the flight does later than this after what has been matched waits for an event of its own."""

LONGEST_S = 120.0
TILTED_S = 12.0
"""Off level a gauge's reading bends at each point of its table: a longer step might pass two turns."""


class Disagreement(AssertionError):
    """The oracle sees an event that the flight does not have, or the other way round."""


@dataclass
class Worst:
    """The largest deviation of one kind, and where."""

    value: float = 0.0
    where: str = ""

    def take(self, value: float, where: str) -> None:
        """Keep it if it is larger, or no number."""
        if not value <= self.value:
            self.value, self.where = float(value), where


@dataclass
class Group:
    """What the flight did at one time."""

    time_s: float
    changes: list[Change] = field(default_factory=list)
    commands: list[Command] = field(default_factory=list)


def groups_of(flight: Flight) -> list[Group]:
    """Changes and commands by time."""
    found: dict[float, Group] = {}
    for change in flight.changes:
        found.setdefault(change.time_s, Group(change.time_s)).changes.append(change)
    for command in flight.commands:
        found.setdefault(command.time_s, Group(command.time_s)).commands.append(command)
    return [found[t] for t in sorted(found)]


class Oracle:
    """Follows one flight."""

    def __init__(self, flight: Flight) -> None:
        self.flight = flight
        self.e = Equations(flight.aircraft, flight.script)
        self.legs = legs(flight.script, flight.aircraft.airframe)
        self.leg_at = 0
        self.seen = Seen(self.legs[0], states=dict(flight.start_states))
        self.readings = Readings(self.e, self.seen)
        self.conditions = Conditions(self.readings)
        self.t = 0.0
        self.y = self.e.start()
        self.e.lie(self.legs[0])
        self.board = Switchboard(self)
        self.groups = groups_of(flight)
        self.next_group = 0
        self.now: Now
        self.events = 0
        self.late = Worst()
        self.slow: list[tuple[str, float, float]] = []
        self.skew = 0.0
        self.kg = Worst()
        self.kelvin = Worst()
        self.share = Worst()
        self._last: tuple[float, Now] | None = None

    # -- following

    def follow(self, most_events: int = 10**9) -> "Oracle":
        """To the flight's end, or to so many of its events."""
        end_s = self.flight.duration_s
        self.board.begin()
        self._instant([], [])
        while self.t < end_s - NEAR_S:
            bound = min(end_s, self.board.scripted_s(), self.board.due_s(), self.legs[self.leg_at].ends_s)
            fired = self._advance(bound)
            because = [f"{event.part} {event.name}" for event in fired if event.must and self._matters(event)]
            because += self.board.musts_at(self.t)
            self._instant(because, fired)
            if self.events >= most_events:
                return self
        if self.next_group < len(self.groups):
            raise Disagreement(
                f"the flight has {self._told(self.groups[self.next_group])}; the oracle has ended"
            )
        self._compare(end_s, 0.0)
        if self.flight.ended and self.flight.ended.name == "fuel-freezing":
            n = self.e.layout.tanks
            above = min(self.y[n : 2 * n]) - self.e.script.freezing_c
            if not above < 0.002:
                raise Disagreement(f"the flight ends by freezing, the oracle is {above:.4f} K above it")
        return self

    def _matters(self, event: Event) -> bool:
        """What freezes in a tank that is as good as empty ends no flight."""
        return event.name != "freezes" or self.y[self.e.names.tank[event.part]] > FILM_KG

    def _told(self, group: Group) -> str:
        what = [f"{c.part}: {c.before} -> {c.after}" for c in group.changes]
        what += [f"{c.part} set to {c.state}" for c in group.commands]
        return f"{', '.join(what[:4])} at {group.time_s:.4f} s"

    def _instant(self, because: list[str], fired: list[Event]) -> None:
        """Take what the flight did now, and look at everything again."""
        while self.t >= self.legs[self.leg_at].ends_s and self.leg_at + 1 < len(self.legs):
            self.leg_at += 1
        self.seen.leg = self.legs[self.leg_at]
        self.e.lie(self.seen.leg)
        for phase in self.flight.phases:
            if self.t >= phase.start_s:
                self.seen.states[PHASE] = phase.name
        taken = 0
        while self.next_group < len(self.groups):
            group = self.groups[self.next_group]
            off = group.time_s - self.t
            near = self._near(group, fired, off)
            if off < 0.0 and not near:
                raise Disagreement(f"the oracle at {self.t:.4f} s has not seen {self._told(group)}")
            if not near or (taken and off > SAME_S and not self._named(group, fired)):
                break
            if abs(off) < 1.0:
                self._compare(group.time_s, off)
            if abs(off) > NEAR_S:
                self.slow.append((self._told(group), off, fired[0].slope * off if fired else 0.0))
                self.skew = max(self.skew, abs(off) if abs(off) < 1.0 else 0.0)
            self.late.take(0.0 if abs(off) > NEAR_S else abs(off), self._told(group))
            self.board.take(group)
            self.next_group += 1
            self.events += 1
            taken += 1
        if because and not taken and self.t < self.flight.duration_s - NEAR_S:
            following = (
                self._told(self.groups[self.next_group]) if self.next_group < len(self.groups) else "-"
            )
            raise Disagreement(
                f"the oracle has {because[0]} at {self.t:.4f} s; the flight's next is {following}"
            )
        self.board.settle(fired)

    def _named(self, group: Group, fired: list[Event]) -> bool:
        """Whether something that fired or is over now is of the parts of a group."""
        parts = {change.part for change in group.changes}
        return bool(self.board.over(parts)) or any(event.part in parts for event in fired)

    def _near(self, group: Group, fired: list[Event], off: float) -> bool:
        """Whether what the flight did is what happens now, if it lies `off` seconds from now.

        It does within `NEAR_S`. An event whose margin hardly moves may lie as far off as that takes through
        its slack, and what follows from one that was off is off by the order of that.
        """
        if abs(off) <= NEAR_S:
            return True
        parts = {change.part for change in group.changes}
        allowed = [2.0 * self.skew + self.board.slipped(parts)] if self.board.over(parts) else []
        allowed += [max(e.spread_s, 2.0 * self.skew) for e in fired if e.part in parts and not e.delayed]
        if off > 0.0:
            return off <= NEAR_S + max(allowed, default=0.0)
        if -off <= NEAR_S + max(allowed, default=2.0 * self.skew):
            return True
        flaps = {pipe.name for pipe in self.flight.aircraft.transfers}
        return any(
            event.part in parts
            and not event.delayed
            and event.margin(self.t, self.y, self.now) >= -event.slack
            # Levels that have met part no more: nothing says when exactly a flap fell shut.
            and (-off < SLOWEST_S or parts <= flaps)
            for event in armed(self)
        )

    def rates(self, t: float, y: np.ndarray) -> list[float]:
        """Slopes for the integrator."""
        return self.at(t, y.tolist()).rates

    def at(self, t: float, y: Vector) -> Now:
        """Everything that flows."""
        now = self.e.now(self.seen.leg, t, y)
        self.readings.meter(t, now)
        self._last = (t, now)
        return now

    def _advance(self, bound: float) -> list[Event]:
        """To `bound` or to the first event before it; what turned there."""
        if bound <= self.t:
            return []
        events = armed(self)
        start = [event.true(self.t, self.y, self.now) for event in events]
        due = [event for event, true in zip(events, start, strict=True) if event.must and true]
        if due:
            return due
        solver = DOP853(
            self.rates,
            self.t,
            np.array(self.y),
            bound,
            first_step=min(1.0, bound - self.t),
            max_step=TILTED_S if self.seen.leg.pitch_deg or self.seen.leg.roll_deg else LONGEST_S,
            rtol=1e-9,
            atol=1e-9,
        )
        while solver.status == "running":
            before = solver.t
            solver.step()
            if solver.status == "failed":
                raise ArithmeticError(f"oracle: no step from {before} s")
            y = solver.y.tolist()
            now = self._last[1] if self._last and self._last[0] == solver.t else self.at(solver.t, y)
            turned = [
                event
                for event, was in zip(events, start, strict=True)
                if event.true(solver.t, y, now) is not was
            ]
            if turned:
                after = solver.t
                path = solver.dense_output()
                found = [(self._zero(event, path, before, after), event) for event in turned]
                first = min(t for t, _ in found)
                self.t, self.y = first, path(first).tolist() if first < after else y
                self.now = self.at(self.t, self.y)
                fired = [event for t, event in found if t <= first + 1e-6]
                for event in fired:
                    event.slope = self._slope(event, path, max(before, first - 0.05), first)
                return fired
            self.t, self.y, self.now = float(solver.t), y, now
        self.t = bound
        return []

    def _zero(self, event: Event, path: Callable[[float], np.ndarray], low: float, high: float) -> float:
        """The time just after which an event has turned."""

        def margin(t: float) -> float:
            y = path(t).tolist()
            return event.margin(t, y, self.at(t, y) if event.flows else self.now)

        low_margin, high_margin = margin(low), margin(high)
        if low_margin * high_margin < 0.0:
            zero = float(brentq(margin, low, high, xtol=1e-9, rtol=1e-15))
            for nudge in (0.0, 1e-8, 1e-7, 1e-6, 1e-5):
                found = min(zero + nudge, high)
                if margin(found) * high_margin > 0.0:
                    return found
        return high if low_margin * high_margin < 0.0 else self._halve(event, path, low, high)

    def _slope(self, event: Event, path: Callable[[float], np.ndarray], low: float, high: float) -> float:
        """How fast a margin moves."""
        if not low < high:
            return inf
        ends = []
        for t in (low, high):
            y = path(t).tolist()
            ends.append(event.margin(t, y, self.e.now(self.seen.leg, t, y)))
        return abs(ends[1] - ends[0]) / (high - low)

    def _halve(self, event: Event, path: Callable[[float], np.ndarray], low: float, high: float) -> float:
        def truth(t: float) -> bool:
            y = path(t).tolist()
            return event.true(t, y, self.at(t, y) if event.flows else self.now)

        is_high = truth(high)
        while high - low > 1e-8:
            middle = 0.5 * (low + high)
            low, high = (low, middle) if truth(middle) is is_high else (middle, high)
        return high

    # -- comparing

    def _compare(self, time_s: float, off: float) -> None:
        """The flight's state against the oracle's, which is carried `off` seconds on to the same time."""
        n, at, a = self.e.layout.tanks, self.e.layout.at, self.flight.aircraft
        y = [value + off * rate for value, rate in zip(self.y, self.now.rates, strict=True)]

        def apart(name: str, mine: float) -> float:
            column = self.flight.quantities[name]
            return abs(column[self.flight.keyframe(time_s)] - mine)

        for i, tank in enumerate(a.tanks):
            where = f"{tank.name} at {time_s:.1f} s"
            self.kg.take(apart(f"{tank.name}.actual_kg", y[i]), where)
            self.share.take(apart(f"{tank.name}.air_share", y[at["air"] + i]), where)
            self.kelvin.take(apart(f"{tank.name}.temperature_c", y[n + i]), where)
        for i, line in enumerate(a.returns):
            self.kelvin.take(apart(f"{line.name}.oil_c", y[at["oil"] + i]), f"{line.name} at {time_s:.1f} s")
        for i, vent in enumerate(a.vents):
            self.kg.take(apart(f"{vent.name}.surge_kg", y[at["surge"] + i]), f"{vent.name} at {time_s:.1f} s")
        for i, engine in enumerate(a.engines):
            where = f"{engine.name} used at {time_s:.1f} s"
            self.kg.take(apart(f"{engine.name}.used_kg", y[at["used"] + i]), where)
        for key in ("burned", "uplifted", "vented", "leaked", "discharged", "metered"):
            self.kg.take(apart(f"total.{key}_kg", y[at[key]]), f"{key} at {time_s:.1f} s")

    def ill(self, name: str) -> None:
        """A trouble of the script comes."""
        trouble = next(one for one in self.flight.script.troubles if one.name == name)
        self.seen.ills.append(Ill(trouble, self.t, self.board.shown(trouble)))


def follow(flight: Flight, most_events: int = 10**9) -> Oracle:
    """Follow a flight to its end, or to so many of its events."""
    return Oracle(flight).follow(most_events)

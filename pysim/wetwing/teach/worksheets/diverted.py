"""A flight turned to another aerodrome at a time: level at the height and speed that it has, then its own
descent, flown again by the simulation.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from wetwing.flight.fly import Flying
from wetwing.flight.path import Segment, place, segments
from wetwing.flight.record import Flight
from wetwing.flight.script import Action, PathPoint, Script
from wetwing.physics.air import sound_speed_m_s
from wetwing.teach.worksheets.entry import NAUTICAL_MILE_M
from wetwing.teach.worksheets.way import touchdown_s

AFTER_LANDING_S = 60.0
LEVEL_AT_LEAST_S = 60.0
LONGEST_S = 24 * 3600.0
PARTS = 8
"""A segment's air distance is summed in so many parts, by the middle of each: within 0.1 NM."""


@dataclass(frozen=True, slots=True)
class Descent:
    """A way down from a height: its points, timed from its beginning, how long it is, and how far."""

    points: tuple[PathPoint, ...]
    lasts_s: float
    air_nm: float


@dataclass(frozen=True, slots=True)
class Diversion:
    """A diversion that can be flown: how long it stays level, and when it lands."""

    level_s: float
    descent: Descent
    lands_s: float


def descent_starts_s(script: Script) -> float | None:
    """When the flight leaves its last level, or None where it does not land."""
    down_s = touchdown_s(script)
    if down_s is None:
        return None
    points = [point for point in script.path if point.time_s <= down_s]
    at = len(points) - 1
    while at > 0 and points[at - 1].altitude_ft > points[at].altitude_ft:
        at -= 1
    return points[at].time_s


def descent_from(flight: Flight, altitude_ft: float, mach: float) -> Descent:
    """The flight's own descent, from a height: what lies above is left out, and the leg that crosses the
    height is cut there.
    """
    script = flight.script
    starts_s, down_s = descent_starts_s(script), touchdown_s(script)
    if starts_s is None or down_s is None:
        raise ValueError("descent: the flight does not land")
    own = [point for point in script.path if starts_s <= point.time_s <= down_s]
    below = next(i for i, point in enumerate(own) if point.altitude_ft < altitude_ft)
    upper, lower = own[max(below - 1, 0)], own[below]
    drop_ft = upper.altitude_ft - lower.altitude_ft
    leg_s = (lower.time_s - upper.time_s) * (altitude_ft - lower.altitude_ft) / drop_ft
    first = PathPoint(0.0, altitude_ft, mach, False)
    rest = tuple(replace(point, time_s=point.time_s - lower.time_s + leg_s) for point in own[below:])
    points = (first, *rest)
    legs = segments(replace(script, path=points), flight.aircraft.airframe)
    return Descent(points, points[-1].time_s, sum(air_nm(leg, script.deviation_k) for leg in legs))


def air_nm(leg: Segment, deviation_k: float) -> float:
    """Air distance along a segment, NM: the mean of its true airspeed times its length. At Mach 0.78 and
    35,000 ft on a standard day an hour is 449.6 NM.
    """
    part_s = (leg.end_s - leg.start_s) / PARTS
    metres = 0.0
    for i in range(PARTS):
        here = place(leg, leg.start_s + (i + 0.5) * part_s, deviation_k)
        metres += here.mach * sound_speed_m_s(here.air_k) * part_s
    return metres / NAUTICAL_MILE_M


def speed_kt(flight: Flight, time_s: float) -> float:
    """True airspeed at a time, kt."""
    air_k = flight.quantity("flight.air_temperature_c", time_s) + 273.15
    return flight.quantity("flight.mach", time_s) * sound_speed_m_s(air_k) * 3600.0 / NAUTICAL_MILE_M


def plan_diversion(flight: Flight, time_s: float, distance_nm: float, wind_kt: float) -> Diversion | float:
    """The diversion over a ground distance; the least distance, where that is too short to descend."""
    descent = descent_from(
        flight, flight.quantity("flight.altitude_ft", time_s), flight.quantity("flight.mach", time_s)
    )
    ground_kt = speed_kt(flight, time_s) + wind_kt
    descent_nm = descent.air_nm + wind_kt * descent.lasts_s / 3600.0
    least_nm = descent_nm + ground_kt * LEVEL_AT_LEAST_S / 3600.0
    if distance_nm < least_nm:
        return least_nm
    level_s = (distance_nm - descent_nm) / ground_kt * 3600.0
    return Diversion(level_s, descent, time_s + level_s + descent.lasts_s)


def divert(flight: Flight, time_s: float, diversion: Diversion) -> Flight:
    """Fly it. What people do by the clock in the flight's own descent is done as long before this landing."""
    if flight.kept is None:
        raise ValueError("diversion: the flight was read, not flown; only a flown one can be flown on")
    script = diverted_script(flight, time_s, diversion)
    at = flight.kept.rest_before(time_s)
    flying = Flying(flight.kept.aircraft, script)
    return flying.flight() if at is None else flying.go_on(flight.kept, at)


def diverted_script(flight: Flight, time_s: float, diversion: Diversion) -> Script:
    """The script up to a time, then level, then down."""
    script = flight.script
    starts_s, down_s = descent_starts_s(script), touchdown_s(script)
    assert starts_s is not None
    assert down_s is not None
    turn = PathPoint(
        time_s, flight.quantity("flight.altitude_ft", time_s), flight.quantity("flight.mach", time_s), False
    )
    down_from_s = time_s + diversion.level_s
    descent = tuple(replace(point, time_s=point.time_s + down_from_s) for point in diversion.descent.points)
    shift_s = diversion.lands_s - down_s
    before = tuple(point for point in script.path if point.time_s < time_s)
    rolling = tuple(
        replace(point, time_s=point.time_s + shift_s)
        for point in script.path
        if down_s < point.time_s <= down_s + AFTER_LANDING_S
    )
    ends_s = diversion.lands_s + AFTER_LANDING_S
    last = (*descent, *rolling)[-1]
    standing = PathPoint(ends_s, 0.0, 0.0, True)
    after = (*rolling, standing) if last.time_s < ends_s else rolling
    return replace(
        script,
        ends_s=ends_s,
        path=(*before, turn, *descent, *after),
        phases=tuple(
            replace(phase, start_s=phase.start_s if phase.start_s <= time_s else down_from_s)
            for phase in script.phases
            if phase.start_s <= time_s or phase.start_s >= starts_s
        ),
        actions=tuple(_actions(script.actions, time_s, starts_s, shift_s)),
    )


def _actions(actions: Sequence[Action], time_s: float, starts_s: float, shift_s: float) -> list[Action]:
    """What was done by then, what waits on a condition, and what belongs to the descent, moved with it."""
    found = []
    for action in actions:
        if action.at_s is None or action.at_s <= time_s:
            found.append(action)
        elif action.at_s >= starts_s:
            found.append(replace(action, at_s=max(action.at_s + shift_s, time_s)))
    return found

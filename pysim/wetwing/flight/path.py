"""The way through the air as straight segments: where the aircraft is, and the thrust that its motion asks
for.
"""

from dataclasses import dataclass, replace
from math import floor

from wetwing.aircraft.model import Airframe
from wetwing.flight.script import PathPoint, Script
from wetwing.physics.air import (
    FOOT_M,
    GRAVITY_M_S2,
    LAPSE_K_M,
    SEA_LEVEL_PA,
    TROPOPAUSE_M,
    ZERO_CELSIUS_K,
    pressure_ratio,
    recovery_temperature_k,
    sound_speed_m_s,
    standard_temperature_k,
)
from wetwing.physics.thrust import induced_drag_n, lift_free_drag_n

DEGREES = 57.29577951308232


@dataclass(frozen=True, slots=True)
class Segment:
    """From one path point to the next."""

    start_s: float
    end_s: float
    altitude_m: float
    climb_m_s: float
    mach: float
    mach_per_s: float
    ground: bool
    above_tropopause: bool
    pitch_deg: float = 0.0
    roll_deg: float = 0.0
    steady: "Place | None" = None
    """The one place of a segment along which nothing changes."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where the aircraft is at one time, and the air there."""

    altitude_m: float
    mach: float
    pressure_ratio: float
    air_k: float
    skin_c: float
    ambient_bar: float


def segments(script: Script, airframe: Airframe) -> tuple[Segment, ...]:
    """The script's path; a segment is on the ground when its end point is.

    Attitude is kept along a segment: the script's own, or else the ground's, or else the angle of climb.
    """
    found = []
    for a, b in zip(script.path, script.path[1:], strict=False):
        length_s = b.time_s - a.time_s
        climb_m_s = (b.altitude_ft - a.altitude_ft) * FOOT_M / length_s
        whole = Segment(
            a.time_s,
            b.time_s,
            a.altitude_ft * FOOT_M,
            climb_m_s,
            a.mach,
            (b.mach - a.mach) / length_s,
            b.ground,
            a.altitude_ft * FOOT_M >= TROPOPAUSE_M,
            _pitch_deg(a, b, climb_m_s, script, airframe) if b.pitch_deg is None else b.pitch_deg,
            b.roll_deg or 0.0,
        )
        found += _split(whole, b.altitude_ft * FOOT_M)
    return tuple(
        replace(s, steady=place(s, s.start_s, script.deviation_k))
        if s.climb_m_s == 0.0 and s.mach_per_s == 0.0
        else s
        for s in found
    )


def _pitch_deg(a: PathPoint, b: PathPoint, climb_m_s: float, script: Script, airframe: Airframe) -> float:
    if b.ground:
        return airframe.ground_pitch_deg
    middle_m = 0.5 * (a.altitude_ft + b.altitude_ft) * FOOT_M
    air_k = standard_temperature_k(middle_m) + script.deviation_k
    speed_m_s = 0.5 * (a.mach + b.mach) * sound_speed_m_s(air_k)
    # A small angle, in degrees to one decimal: the fuel's level needs no more.
    return floor(climb_m_s / speed_m_s * DEGREES * 10.0 + 0.5) / 10.0


def _split(whole: Segment, last_m: float) -> list[Segment]:
    # The atmosphere has a kink at the tropopause: a segment that crosses it is two, so that each is smooth.
    if (whole.altitude_m - TROPOPAUSE_M) * (last_m - TROPOPAUSE_M) >= 0.0:
        below = max(whole.altitude_m, last_m) <= TROPOPAUSE_M
        return [replace(whole, above_tropopause=not below)]
    after_s = (TROPOPAUSE_M - whole.altitude_m) / whole.climb_m_s
    middle_s = whole.start_s + after_s
    mach = whole.mach + whole.mach_per_s * after_s
    climbs = whole.climb_m_s > 0.0
    return [
        replace(whole, end_s=middle_s, above_tropopause=not climbs),
        replace(whole, start_s=middle_s, altitude_m=TROPOPAUSE_M, mach=mach, above_tropopause=climbs),
    ]


def place(segment: Segment, time_s: float, deviation_k: float) -> Place:
    """Altitude, Mach, pressure and temperatures at a time of a segment."""
    if segment.steady is not None:
        return segment.steady
    after_s = time_s - segment.start_s
    altitude_m = segment.altitude_m + segment.climb_m_s * after_s
    mach = segment.mach + segment.mach_per_s * after_s
    air_k = standard_temperature_k(altitude_m) + deviation_k
    skin_c = recovery_temperature_k(air_k, mach) - ZERO_CELSIUS_K
    ratio = pressure_ratio(altitude_m)
    return Place(altitude_m, mach, ratio, air_k, skin_c, ratio * SEA_LEVEL_PA * 1e-5)


def thrust_n(
    segment: Segment, here: Place, airframe: Airframe, drag_zero_lift: float, gross_kg: float
) -> float:
    """Thrust of all engines together: drag, climb, acceleration; T = D + m g sin(gamma) + m a. May be
    negative: idle then.
    """
    mach = here.mach
    sound_m_s = sound_speed_m_s(here.air_k)
    speed_m_s = mach * sound_m_s
    acceleration = segment.mach_per_s * sound_m_s
    if not segment.above_tropopause:
        acceleration -= mach * sound_m_s * LAPSE_K_M * segment.climb_m_s / (2.0 * here.air_k)
    pressure_pa = here.pressure_ratio * SEA_LEVEL_PA
    drag = lift_free_drag_n(pressure_pa, mach, airframe.wing_area_m2, drag_zero_lift)
    if segment.ground:
        return drag + gross_kg * (airframe.rolling_friction * GRAVITY_M_S2 + acceleration)
    drag += induced_drag_n(
        pressure_pa, mach, airframe.wing_area_m2, airframe.drag_induced, gross_kg * GRAVITY_M_S2
    )
    return drag + gross_kg * (GRAVITY_M_S2 * segment.climb_m_s / speed_m_s + acceleration)

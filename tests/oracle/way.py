"""The way through the air as legs, with what is felt and needed on them."""

from dataclasses import dataclass
from itertools import pairwise
from math import degrees, floor

from tests.oracle.nature import (
    FOOT,
    KELVIN,
    LAPSE,
    SEA_PA,
    TROPOPAUSE_M,
    G,
    sound_m_s,
    standard_k,
    standard_pa,
)
from wetwing.aircraft.model import Airframe
from wetwing.flight.script_records import Script


@dataclass(frozen=True)
class Air:
    """What surrounds the aircraft."""

    height_m: float
    mach: float
    air_k: float
    pascal: float
    skin_c: float


@dataclass(frozen=True)
class Leg:
    """Height and Mach number as straight lines of time, all below or all above the tropopause."""

    begins_s: float
    ends_s: float
    height_m: float
    climb: float
    mach: float
    gain: float
    ground: bool
    high: bool
    pitch_deg: float
    roll_deg: float
    deviation_k: float

    def air(self, time_s: float) -> Air:
        """The air at a time."""
        after = time_s - self.begins_s
        height, mach = self.height_m + self.climb * after, self.mach + self.gain * after
        kelvin = standard_k(height) + self.deviation_k
        return Air(height, mach, kelvin, standard_pa(height), kelvin * (1.0 + 0.18 * mach * mach) - KELVIN)

    def thrust(self, air: Air, frame: Airframe, drag_zero: float, kg: float) -> float:
        """Newtons: drag and what climb and acceleration of the mass ask for."""
        sound = sound_m_s(air.air_k)
        speed = air.mach * sound
        # d(M a)/dt with a² in proportion to T, which falls with height below the tropopause.
        change = self.gain * sound
        if not self.high:
            change += air.mach * sound * 0.5 * (-LAPSE * self.climb) / air.air_k
        push = 0.5 * 1.4 * air.pascal * air.mach**2 * frame.wing_area_m2
        if self.ground:
            return push * drag_zero + kg * (frame.rolling_friction * G + change)
        lift = kg * G / push
        return push * (drag_zero + frame.drag_induced * lift**2) + kg * (G * self.climb / speed + change)


def legs(script: Script, frame: Airframe) -> list[Leg]:
    """The script's legs, cut at the tropopause."""
    found: list[Leg] = []
    for a, b in zip(script.path, script.path[1:], strict=False):
        seconds = b.time_s - a.time_s
        low, top = a.altitude_ft * FOOT, b.altitude_ft * FOOT
        climb, gain = (top - low) / seconds, (b.mach - a.mach) / seconds
        pitch = b.pitch_deg
        if pitch is None:
            pitch = (
                frame.ground_pitch_deg if b.ground else _climb_deg(a.mach, b.mach, low, top, climb, script)
            )
        cuts = [a.time_s, b.time_s]
        if (low - TROPOPAUSE_M) * (top - TROPOPAUSE_M) < 0.0:
            cuts.insert(1, a.time_s + (TROPOPAUSE_M - low) / climb)
        for begins, ends in pairwise(cuts):
            middle = low + climb * (0.5 * (begins + ends) - a.time_s)
            found.append(
                Leg(
                    begins,
                    ends,
                    low + climb * (begins - a.time_s),
                    climb,
                    a.mach + gain * (begins - a.time_s),
                    gain,
                    b.ground,
                    middle >= TROPOPAUSE_M,
                    pitch,
                    b.roll_deg or 0.0,
                    script.deviation_k,
                )
            )
    return found


def _climb_deg(m0: float, m1: float, low: float, top: float, climb: float, script: Script) -> float:
    """Angle of climb halfway, to a tenth of a degree."""
    speed = 0.5 * (m0 + m1) * sound_m_s(standard_k(0.5 * (low + top)) + script.deviation_k)
    return floor(10.0 * degrees(climb / speed) + 0.5) / 10.0


def pressure_share(air: Air) -> float:
    """Of the standard pressure at sea level."""
    return air.pascal / SEA_PA

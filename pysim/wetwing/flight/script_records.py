"""A flight's script as plain records, filled by `flight.script` and changed by nothing."""

from dataclasses import dataclass

from wetwing.aircraft.condition import Condition
from wetwing.flight.troubles import Mended, Trouble


@dataclass(frozen=True, slots=True)
class Phase:
    """A named part of the flight."""

    name: str
    label: str
    start_s: float


@dataclass(frozen=True, slots=True)
class PathPoint:
    """Where the aircraft is at a time; straight lines in between. Pitch and roll, where given, are the
    attitude on the way to this point, against level cruise.
    """

    time_s: float
    altitude_ft: float
    mach: float
    ground: bool
    pitch_deg: float | None = None
    roll_deg: float | None = None


@dataclass(frozen=True, slots=True)
class Setting:
    """One part set to one state."""

    part: str
    state: str


@dataclass(frozen=True, slots=True)
class Action:
    """Settings made at `at_s`, or once `when` has held for `after_s`."""

    settings: tuple[Setting, ...]
    note: str
    at_s: float | None
    when: Condition | None
    after_s: float


@dataclass(frozen=True, slots=True)
class Edit:
    """A reader's change of a script: one part, at one time, set to a state, given a trouble, or mended."""

    time_s: float
    part: str
    state: str


@dataclass(frozen=True, slots=True)
class InitialTank:
    """What a tank holds at the start."""

    actual_kg: float
    temperature_c: float


@dataclass(frozen=True, slots=True)
class Script:
    """A whole script, checked against its aircraft.

    `declared_density_15c_kg_m3` is what the truck's ticket says; `light_ends` multiplies the vapour pressure
    of the plain fuel; `wear_factor` multiplies the fuel flow.
    """

    name: str
    title: str
    aircraft: str
    ends_s: float
    zero_fuel_kg: float
    zero_fuel_cg_percent: float
    wear_factor: float
    density_15c_kg_m3: float
    declared_density_15c_kg_m3: float
    uplift_temperature_c: float
    freezing_c: float
    light_ends: float
    deviation_k: float
    tanks: dict[str, InitialTank]
    used_kg: dict[str, float]
    states: dict[str, str]
    plan_kg: dict[str, float]
    phases: tuple[Phase, ...]
    path: tuple[PathPoint, ...]
    actions: tuple[Action, ...]
    troubles: tuple[Trouble, ...] = ()
    mended: tuple[Mended, ...] = ()
    edits: tuple[Edit, ...] = ()

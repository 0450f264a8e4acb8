"""What an aircraft is made of: plain records, filled by `aircraft.read` from a TOML file and changed by
nothing.

Units stand in the names. Every part has a unique `name` (as scripts and links write it) and a `label` (as
people read it). `states` are all words that the part can show; `settings` those of them that a person can
set.
"""

from dataclasses import dataclass, field
from typing import Literal

from wetwing.aircraft.condition import Condition

Point = tuple[float, float]
Side = Literal["left", "centre", "right"]


@dataclass(frozen=True, slots=True)
class Part:
    """What every part has."""

    name: str
    label: str
    kind: str
    states: tuple[str, ...]
    settings: tuple[str, ...]
    initial: str


@dataclass(frozen=True, slots=True)
class Overflow:
    """Where fuel goes when a tank's volume reaches `at_l`: another tank or a vent."""

    to: str
    at_l: float


@dataclass(frozen=True, slots=True)
class Tank(Part):
    """A tank; `gauged_kg` reads zero at `unusable_kg`.

    Its floor rises outboard by `dihedral_deg` from `bottom_m`; its depth goes from `depth_m` inboard to
    `depth_outboard_m`. `neighbours` lists the tanks that share a wall with it, and what that wall conducts,
    W/K; a pair stands in one of its two tanks.
    """

    side: Side
    capacity_l: float
    unusable_kg: float
    bottom_m: float
    depth_m: float
    depth_outboard_m: float
    dihedral_deg: float
    heat_w_m2_k: float
    structure_kj_k: float
    neighbours: tuple[tuple[str, float], ...]
    overflow: Overflow
    outline_m: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Vent(Part):
    """A vent outlet with its surge space: what that cannot hold is lost and counted as `vented_kg`; what it
    holds drains back to a tank.
    """

    surge_l: float
    drains_to: str | None
    drain_kg_h: float
    relief_bar: float
    at_m: Point


@dataclass(frozen=True, slots=True)
class Node(Part):
    """A point of the feed network that has one pressure."""

    at_m: Point


@dataclass(frozen=True, slots=True)
class Pump(Part):
    """A pump with a check valve at its outlet; also a supply (no tank) and a suction bypass (head, no
    switch).
    """

    tank: str | None
    node: str
    shut_off_bar: float
    linear_bar_h_t: float
    square_bar_h2_t2: float
    uncovers_l: float
    recovers_l: float
    crew: bool
    runs_when: Condition | None
    bus: str | None
    at_m: Point


@dataclass(frozen=True, slots=True)
class CheckValve(Part):
    """A line that lets fuel pass from `from_node` to `to_node` only."""

    from_node: str
    to_node: str
    linear_bar_h_t: float
    square_bar_h2_t2: float
    at_m: Point


@dataclass(frozen=True, slots=True)
class Valve(Part):
    """A valve; `ends` names two nodes, or a node and a tank or an outlet, or nothing where another part holds
    it in its line.
    """

    ends: tuple[str, str] | None
    linear_bar_h_t: float
    square_bar_h2_t2: float
    stroke_s: float
    crew: bool
    opens_when: Condition | None
    bus: str | None
    at_m: Point


@dataclass(frozen=True, slots=True)
class Outlet(Part):
    """Where fuel leaves the aircraft on purpose, at the outside pressure; counted as `discharged_kg`."""

    purpose: Literal["jettison", "defuel"]
    at_m: Point


@dataclass(frozen=True, slots=True)
class Transfer(Part):
    """Gravity transfer between tanks through an inboard-only flap and, where there is one, a valve."""

    from_tank: str
    to_tank: str
    valve: str | None
    area_m2: float
    discharge: float


@dataclass(frozen=True, slots=True)
class Return(Part):
    """Return flow of warm fuel from an engine's oil cooler to a tank; the oil also loses heat to the engine's
    own fuel and to the air.
    """

    engine: str
    to_tank: str
    valve: str
    flow_kg_h: float
    heat_kw: float
    oil_kj_k: float
    oil_loss_w_k: float


@dataclass(frozen=True, slots=True)
class JetPump(Part):
    """A jet pump: moves `entrainment` times its motive flow from one tank to another, while its motive pump
    runs.
    """

    from_tank: str
    to_tank: str
    motive: str
    motive_kg_h_at_1_bar: float
    entrainment: float
    stops_l: float
    recovers_l: float
    runs_when: Condition | None
    at_m: Point


@dataclass(frozen=True, slots=True)
class Engine(Part):
    """An engine, or (with `run_flow_kg_h`) the APU: what burns fuel drawn from a node through a valve and its
    own line. `inlet_gas_share` is the volume of gas that its pump takes with a volume of liquid.
    """

    side: Side
    node: str
    valve: str
    runs_when: Condition
    start_s: float
    start_flow_kg_h: float
    idle_flow_kg_h: float
    inlet_gas_share: float
    line_linear_bar_h_t: float
    line_square_bar_h2_t2: float
    propels: bool
    at_m: Point


@dataclass(frozen=True, slots=True)
class Filter(Part):
    """A filter in a user's line; at `bypass_bar` across it, fuel passes round it."""

    user: str
    linear_bar_h_t: float
    square_bar_h2_t2: float
    bypass_bar: float
    at_m: Point


@dataclass(frozen=True, slots=True)
class Quantity:
    """A control that is set to a number instead of a word."""

    unit: str
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class Control(Part):
    """What a person sets: a selector, a switch, a lever, a door, a number."""

    quantity: Quantity | None


@dataclass(frozen=True, slots=True)
class Sensor(Part):
    """A level sensor: wet at or above `wet_at_l`, dry again at or below `dry_at_l`."""

    tank: str
    wet_at_l: float
    dry_at_l: float
    bus: str | None
    at_m: Point


@dataclass(frozen=True, slots=True)
class Probe(Part):
    """A gauging probe: it measures the height of fuel at one place of its tank."""

    tank: str
    bus: str | None
    at_m: Point


@dataclass(frozen=True, slots=True)
class Compensator(Part):
    """What measures the fuel itself, so that the probes' heights become a mass; one a tank at most."""

    tank: str
    bus: str | None


@dataclass(frozen=True, slots=True)
class Meter(Part):
    """A flow meter in an engine's line; one an engine at most."""

    engine: str
    bus: str | None


@dataclass(frozen=True, slots=True)
class Totaliser(Part):
    """What adds up the gauges of all tanks."""

    bus: str | None


@dataclass(frozen=True, slots=True)
class Bus(Part):
    """A source of electrical power for the parts that name it."""

    powered_when: Condition


@dataclass(frozen=True, slots=True)
class Display(Part):
    """A figure that is not always available."""

    shows: str
    shown_when: Condition


@dataclass(frozen=True, slots=True)
class Rule(Part):
    """A named rule of the automatics: inactive until `starts` has held `after_s`; then active until `ends`,
    for `lasts_s`, or while `starts` holds.
    """

    sentence: str
    starts: Condition
    ends: Condition | None
    after_s: float
    lasts_s: float | None
    bus: str | None


@dataclass(frozen=True, slots=True)
class Alert(Part):
    """A message to the crew, by the regulation's three levels."""

    level: Literal["warning", "caution", "advisory"]
    text: str
    when: Condition
    after_s: float
    note: str = ""


@dataclass(frozen=True, slots=True)
class Airframe:
    """Coefficients of the burn model. `bleed` multiplies the flow while its condition holds."""

    wing_area_m2: float
    drag_zero_lift: float
    drag_induced: float
    extra_drag: tuple[tuple[Condition, float], ...]
    engine_thrust_n: float
    static_flow_kg_h: float
    bleed: tuple[tuple[Condition, float], ...]
    rolling_friction: float
    ground_pitch_deg: float


@dataclass(frozen=True, slots=True)
class Balance:
    """What the centre of gravity and the root bending moment are reckoned with; arms aft of the nose."""

    mac_m: float
    lemac_m: float
    zero_fuel_cg_percent: float
    lift_arm_m: float
    cg_limits_percent: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Limits:
    """Masses and ranges that the aircraft must respect."""

    zero_fuel_kg: float
    take_off_kg: float
    landing_kg: float
    ceiling_ft: float
    fuel_density_kg_m3: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Plan:
    """Outlines for the drawing, metres: x aft of the nose, y to the right. Half outlines: the right-hand
    side.
    """

    fuselage_m: tuple[Point, ...]
    wing_m: tuple[Point, ...]
    nacelle_m: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Aircraft:
    """A whole aircraft. `parts` holds every part by name, and last the airframe itself, which can drag."""

    name: str
    title: str
    operator: str
    revision: str
    limits: Limits
    airframe: Airframe
    balance: Balance
    plan: Plan
    tanks: tuple[Tank, ...]
    vents: tuple[Vent, ...]
    nodes: tuple[Node, ...]
    pumps: tuple[Pump, ...]
    bypasses: tuple[Pump, ...]
    supplies: tuple[Pump, ...]
    check_valves: tuple[CheckValve, ...]
    valves: tuple[Valve, ...]
    outlets: tuple[Outlet, ...]
    transfers: tuple[Transfer, ...]
    returns: tuple[Return, ...]
    jet_pumps: tuple[JetPump, ...]
    engines: tuple[Engine, ...]
    apus: tuple[Engine, ...]
    filters: tuple[Filter, ...]
    controls: tuple[Control, ...]
    buses: tuple[Bus, ...]
    sensors: tuple[Sensor, ...]
    probes: tuple[Probe, ...]
    compensators: tuple[Compensator, ...]
    meters: tuple[Meter, ...]
    totalisers: tuple[Totaliser, ...]
    displays: tuple[Display, ...]
    rules: tuple[Rule, ...]
    alerts: tuple[Alert, ...]
    corrects_attitude: bool = False
    """Whether the gauging computer knows pitch and roll, and reads its probes by how the tank then lies."""

    parts: dict[str, Part] = field(default_factory=dict)

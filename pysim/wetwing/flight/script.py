"""A flight's script: the loading, the air, the way, the phases and what people do, read from a TOML file.

A script is input alone: `fly(aircraft, script)` does the rest. An edit is one more action, and makes a new
script.
"""

from dataclasses import dataclass, replace
from importlib.resources import files
from pathlib import Path

from wetwing.aircraft.condition import Condition, check
from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft, Control, Part
from wetwing.aircraft.names import PHASE, quantities, states
from wetwing.aircraft.read import parse_toml, read_file
from wetwing.aircraft.table import Table
from wetwing.flight.clock import LONGEST_S, clock, seconds

FORMAT = "wetwing-script/1"
MOST_EDITS = 200
PLAN_KEYS = ("taxi_kg", "trip_kg", "contingency_kg", "alternate_kg", "final_reserve_kg")


@dataclass(frozen=True, slots=True)
class Phase:
    """A named part of the flight."""

    name: str
    label: str
    start_s: float


@dataclass(frozen=True, slots=True)
class PathPoint:
    """Where the aircraft is at a time; straight lines in between."""

    time_s: float
    altitude_ft: float
    mach: float
    ground: bool


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
    """A reader's change of a script: one part set to one state at one time."""

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
    """A whole script, checked against its aircraft."""

    name: str
    title: str
    aircraft: str
    ends_s: float
    zero_fuel_kg: float
    density_15c_kg_m3: float
    uplift_temperature_c: float
    deviation_k: float
    tanks: dict[str, InitialTank]
    used_kg: dict[str, float]
    states: dict[str, str]
    plan_kg: dict[str, float]
    phases: tuple[Phase, ...]
    path: tuple[PathPoint, ...]
    actions: tuple[Action, ...]
    edits: tuple[Edit, ...] = ()


def scripts() -> tuple[str, ...]:
    """Names of the scripts that ship with the simulation."""
    folder = files("wetwing.flight") / "scripts"
    return tuple(
        sorted(entry.name.removesuffix(".toml") for entry in folder.iterdir() if entry.name.endswith(".toml"))
    )


def script_text(source: str) -> tuple[str, str]:
    """Text and file name of the script of that name, or at that path (what ends in .toml). Raises Mistake."""
    if source.endswith(".toml"):
        return read_file(source, "script"), Path(source).name
    if source not in scripts():
        raise unknown("script", "script", source, scripts())
    resource = files("wetwing.flight") / "scripts" / f"{source}.toml"
    return resource.read_text(encoding="utf-8"), f"{source}.toml"


def script_aircraft(source: str) -> str:
    """The aircraft that a script asks for."""
    text, file = script_text(source)
    return parse_toml(text, file, FORMAT).text("aircraft")


def read_script(source: str, aircraft: Aircraft) -> Script:
    """Read a script and check it against `aircraft`. Raises Mistake."""
    text, file = script_text(source)
    return parse_script(text, file, aircraft)


def parse_script(text: str, file: str, aircraft: Aircraft) -> Script:
    """A script from the text of its file. Raises Mistake."""
    top = parse_toml(text, file, FORMAT)
    ends_s = seconds(top.text("ends_at"), top.at("ends_at"))
    if ends_s <= 0:
        raise Mistake(top.at("ends_at"), "a flight of no length", f"up to {clock(LONGEST_S)}")
    load = top.table("load")
    fuel = top.table("fuel")
    air = top.table("air")
    initial = top.table("initial")
    phases = _phases(top, ends_s)
    script = Script(
        name=top.name("name"),
        title=top.text("title"),
        aircraft=top.name("aircraft"),
        ends_s=ends_s,
        zero_fuel_kg=load.number("zero_fuel_kg", 100, aircraft.limits.zero_fuel_kg, "kg"),
        density_15c_kg_m3=_density(fuel, aircraft),
        uplift_temperature_c=fuel.number("uplift_temperature_c", -40, 50, "°C"),
        deviation_k=air.number("deviation_k", -60, 40, "K", 0.0),
        tanks=_tanks(initial, aircraft),
        used_kg=_used(initial, aircraft),
        states=_states(initial, aircraft),
        plan_kg=_plan(top),
        phases=phases,
        path=_path(top, aircraft, ends_s),
        actions=_actions(top, aircraft, phases, ends_s),
    )
    for table in (load, fuel, air, initial, top):
        table.finish()
    _check_volumes(script, aircraft, file)
    return script


def with_edits(script: Script, edits: tuple[Edit, ...], aircraft: Aircraft) -> Script:
    """The same script with a reader's edits, each checked. Edits come after the script's own actions of the
    same time.
    """
    if len(edits) > MOST_EDITS:
        raise Mistake("edits", f"{len(edits)} edits", f"at most {MOST_EDITS}")
    actions = list(script.actions)
    for edit in edits:
        place = f"edit at {clock(edit.time_s)}"
        if not 0 <= edit.time_s <= script.ends_s:
            raise Mistake(place, "a time outside the flight", f"0:00:00 to {clock(script.ends_s)}")
        setting = check_setting(edit.part, edit.state, aircraft, place)
        actions.append(Action((setting,), "", edit.time_s, None, 0.0))
    return replace(script, actions=tuple(actions), edits=script.edits + edits)


def settable(aircraft: Aircraft) -> dict[str, Part]:
    """Parts that a person can set."""
    return {
        name: part
        for name, part in aircraft.parts.items()
        if part.settings or (isinstance(part, Control) and part.quantity is not None)
    }


def check_setting(part: str, state: str, aircraft: Aircraft, place: str) -> Setting:
    """A setting that the aircraft can take, with a number in its normal form. Raises Mistake."""
    if part not in aircraft.parts:
        raise unknown(place, "part", part, settable(aircraft))
    known = settable(aircraft)
    if part not in known:
        raise Mistake(place, f"{part} is not set by a person", known)
    found = known[part]
    if isinstance(found, Control) and found.quantity:
        quantity = found.quantity
        text = state.removesuffix(quantity.unit).strip()
        try:
            value = float(text.replace(",", "")) if len(text) < 20 else float("nan")
        except ValueError:
            value = float("nan")
        if not quantity.least <= value <= quantity.most:
            allowed = f"{quantity.least:g} to {quantity.most:g} {quantity.unit}"
            raise Mistake(place, f"{part} = '{state[:40]}'", allowed)
        return Setting(part, f"{value:g} {quantity.unit}")
    if state not in found.settings:
        raise unknown(place, f"setting of {part}", state, found.settings)
    return Setting(part, state)


def _density(fuel: Table, aircraft: Aircraft) -> float:
    least, most = aircraft.limits.fuel_density_kg_m3
    found = fuel.value("density_15c_kg_m3")
    countable = isinstance(found, int | float) and not isinstance(found, bool) and abs(found) < 1e6
    if isinstance(found, int | float) and countable and not least <= found <= most:
        slips = {"kg/L": 1000.0, "lb/L": 453.59237, "lb/US gal": 119.826427}
        for unit, factor in slips.items():
            if 700 <= found * factor <= 900:
                place = fuel.at("density_15c_kg_m3")
                raise Mistake(
                    place,
                    f"{found:g} looks like {unit}",
                    f"{least:g} to {most:g} kg/m³",
                    f"{found * factor:.0f} kg/m³",
                )
    return fuel.number("density_15c_kg_m3", least, most, "kg/m³")


def _tanks(initial: Table, aircraft: Aircraft) -> dict[str, InitialTank]:
    table = initial.table("tanks")
    tanks: dict[str, InitialTank] = {}
    for tank in aircraft.tanks:
        if not table.has(tank.name):
            raise Mistake(
                table.at(tank.name),
                "missing",
                "what the tank holds at the start, such as { actual_kg = 100, temperature_c = 5 }",
            )
        inner = table.table(tank.name)
        tanks[tank.name] = InitialTank(
            inner.number("actual_kg", 0, 1e6, "kg"),
            inner.number("temperature_c", -60, 60, "°C"),
        )
        inner.finish()
    table.finish()
    return tanks


def _check_volumes(script: Script, aircraft: Aircraft, file: str) -> None:
    from wetwing.physics.fuel import mass_kg

    for tank in aircraft.tanks:
        held = script.tanks[tank.name]
        most = mass_kg(tank.overflow.at_l, script.density_15c_kg_m3, held.temperature_c)
        if held.actual_kg > most:
            place = f"{file}: initial.tanks.{tank.name}.actual_kg"
            raise Mistake(
                place,
                f"{held.actual_kg:g} kg",
                f"at most {int(most)} kg at {held.temperature_c:g} °C",
                f"{int(most)} kg",
            )


def _used(initial: Table, aircraft: Aircraft) -> dict[str, float]:
    used = {engine.name: 0.0 for engine in aircraft.engines}
    if initial.has("used_kg"):
        table = initial.table("used_kg")
        for name in used:
            used[name] = table.number(name, 0, 1e6, "kg", 0.0)
        table.finish()
    return used


def _states(initial: Table, aircraft: Aircraft) -> dict[str, str]:
    if not initial.has("parts"):
        return {}
    table = initial.table("parts")
    found: dict[str, str] = {}
    for name in table.values:
        place = table.at(name)
        if name not in aircraft.parts:
            raise unknown(table.place, "part", name, aircraft.parts)
        part = aircraft.parts[name]
        state = table.text(name)
        if part.kind in ("rule", "valve"):
            allowed = tuple(word for word in part.states if word != "moving")
            if state not in allowed:
                raise unknown(place, f"state of {name}", state, allowed)
        else:
            state = check_setting(name, state, aircraft, place).state
        found[name] = state
    return found


def _plan(top: Table) -> dict[str, float]:
    if not top.has("plan"):
        return {}
    table = top.table("plan")
    plan = {key: table.number(key, 0, 1e6, "kg") for key in PLAN_KEYS}
    table.finish()
    return plan


def _phases(top: Table, ends_s: float) -> tuple[Phase, ...]:
    phases: list[Phase] = []
    for i, values in enumerate(top.listed("phases")):
        table = Table(values, f"{top.place}: phases[{i}]")
        name = table.name("name")
        start_s = seconds(table.text("at"), table.at("at"))
        label = table.text("label", name.replace("-", " ").capitalize())
        table.finish()
        if name in [phase.name for phase in phases]:
            raise Mistake(table.at("name"), f"'{name}' is used twice", "a name of its own for every phase")
        if phases and start_s <= phases[-1].start_s:
            raise Mistake(
                table.at("at"),
                clock(start_s),
                f"later than {clock(phases[-1].start_s)}, when {phases[-1].name} begins",
            )
        if start_s >= ends_s:
            raise Mistake(table.at("at"), clock(start_s), f"before the flight ends at {clock(ends_s)}")
        phases.append(Phase(name, label, start_s))
    if not phases or phases[0].start_s != 0:
        raise Mistake(f"{top.place}: phases", "no phase at 0:00:00", "a first phase at 0:00:00")
    return tuple(phases)


def _path(top: Table, aircraft: Aircraft, ends_s: float) -> tuple[PathPoint, ...]:
    points: list[PathPoint] = []
    for i, values in enumerate(top.listed("path")):
        table = Table(values, f"{top.place}: path[{i}]")
        point = PathPoint(
            seconds(table.text("at"), table.at("at")),
            table.number("altitude_ft", -1000, aircraft.limits.ceiling_ft, "ft"),
            table.number("mach", 0, 0.95, ""),
            table.flag("ground", False),
        )
        table.finish()
        if points and point.time_s <= points[-1].time_s:
            raise Mistake(
                table.at("at"),
                clock(point.time_s),
                f"later than {clock(points[-1].time_s)}, the point before",
            )
        if not point.ground and point.mach < 0.1:
            raise Mistake(
                table.at("mach"), f"{point.mach:g} in the air", "0.1 or more, or ground = true", "0.1"
            )
        points.append(point)
    if len(points) < 2 or points[0].time_s != 0 or points[-1].time_s < ends_s:
        raise Mistake(
            f"{top.place}: path", "does not cover the flight", f"points from 0:00:00 to {clock(ends_s)}"
        )
    return tuple(points)


def _actions(top: Table, aircraft: Aircraft, phases: tuple[Phase, ...], ends_s: float) -> tuple[Action, ...]:
    known_states = states(aircraft, tuple(phase.name for phase in phases))
    known_quantities = quantities(aircraft)
    actions: list[Action] = []
    for i, values in enumerate(top.listed("actions", default=True)):
        table = Table(values, f"{top.place}: actions[{i}]")
        chosen = table.table("set")
        settings: list[Setting] = []
        for part, value in chosen.values.items():
            chosen.asked.add(part)
            settings.append(check_setting(part, _setting_text(value), aircraft, chosen.place))
        if not settings:
            raise Mistake(chosen.place, "nothing set", 'one part or more, such as { slats = "out" }')
        at_s = seconds(table.text("at"), table.at("at")) if table.has("at") else None
        when = table.optional_condition("when")
        if (at_s is None) == (when is None):
            raise Mistake(table.place, "an action needs a time or a condition", ("at", "when"))
        if at_s is not None and at_s > ends_s:
            raise Mistake(table.at("at"), clock(at_s), f"within the flight, to {clock(ends_s)}")
        if when:
            check(when, table.at("when"), known_states, known_quantities)
            for leaf in when.leaves():
                if getattr(leaf, "change", None):
                    raise Mistake(table.at("when"), "fallen() or risen()", "only in a rule's ends")
        after_s = table.number("after_s", 0, 1e5, "s", 0.0) if when else 0.0
        actions.append(Action(tuple(settings), table.text("note", ""), at_s, when, after_s))
        table.finish()
    return tuple(actions)


def _setting_text(value: object) -> str:
    if isinstance(value, bool):
        return str(value)
    if isinstance(value, int) and abs(value) >= 10**18:
        return "a number of many digits"
    return f"{value:.12g}" if isinstance(value, int | float) else str(value)


__all__ = [
    "FORMAT",
    "PHASE",
    "Action",
    "Edit",
    "InitialTank",
    "PathPoint",
    "Phase",
    "Script",
    "Setting",
    "check_setting",
    "parse_script",
    "read_script",
    "script_aircraft",
    "script_text",
    "scripts",
    "settable",
    "with_edits",
]

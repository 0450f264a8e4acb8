"""Read an aircraft's TOML file into an `Aircraft`, or say exactly what is wrong with it."""

import tomllib
from importlib.resources import files
from pathlib import Path

from wetwing.aircraft.condition import Condition
from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft, Airframe, Limits, Part, Plan
from wetwing.aircraft.parts import Reader
from wetwing.aircraft.soundness import check_aircraft
from wetwing.aircraft.table import Table

FORMAT = "wetwing-aircraft/1"
LARGEST_FILE = 1_000_000
RESERVED = {"phase", "total", "flight", "and", "or", "not", "is", "fallen", "risen"}


def fleet() -> tuple[str, ...]:
    """Names of the aircraft that ship with the simulation."""
    folder = files("wetwing.aircraft") / "fleet"
    return tuple(
        sorted(entry.name.removesuffix(".toml") for entry in folder.iterdir() if entry.name.endswith(".toml"))
    )


def read_aircraft(source: str) -> Aircraft:
    """The aircraft of that name in the fleet, or of the file at that path (what ends in .toml). Raises
    Mistake.
    """
    if source.endswith(".toml"):
        return parse_aircraft(read_file(source, "aircraft file"), Path(source).name)
    if source not in fleet():
        raise unknown("aircraft", "aircraft", source, fleet())
    resource = files("wetwing.aircraft") / "fleet" / f"{source}.toml"
    return parse_aircraft(resource.read_text(encoding="utf-8"), f"{source}.toml")


def read_file(path: str, what: str) -> str:
    """The text of a file, or a Mistake that says why it cannot be read."""
    try:
        data = Path(path).read_bytes()
    except OSError as error:
        raise Mistake(path, f"{what} cannot be read: {error.strerror or error}") from error
    if len(data) > LARGEST_FILE:
        raise Mistake(path, f"{len(data)} bytes", f"at most {LARGEST_FILE} bytes")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise Mistake(path, f"byte {error.start} is not UTF-8", "a UTF-8 text file") from error


def parse_toml(text: str, file: str, form: str) -> Table:
    """The top table of a TOML text whose `format` key is `form`."""
    try:
        top = Table(tomllib.loads(text), file)
    except (ValueError, RecursionError) as error:
        raise Mistake(file, f"not readable as TOML: {error}") from error
    found = top.text("format")
    if found != form:
        raise Mistake(top.at("format"), f"'{found[:60]}'", form)
    return top


def parse_aircraft(text: str, file: str) -> Aircraft:
    """An aircraft from the text of its file; `file` names it in errors. Raises Mistake."""
    top = parse_toml(text, file, FORMAT)
    name = top.name("name")
    reader = Reader(top)
    aircraft = Aircraft(
        name=name,
        title=top.text("title"),
        operator=top.text("operator"),
        revision=top.text("revision"),
        limits=_limits(top.table("limits")),
        airframe=_airframe(top.table("airframe")),
        plan=_plan(top.table("plan")),
        tanks=reader.tanks(),
        vents=reader.vents(),
        nodes=reader.nodes(),
        pumps=reader.pumps(),
        bypasses=reader.bypasses(),
        supplies=reader.supplies(),
        check_valves=reader.check_valves(),
        valves=reader.valves(),
        transfers=reader.transfers(),
        returns=reader.returns(),
        jet_pumps=reader.jet_pumps(),
        engines=reader.engines(),
        apus=reader.apus(),
        controls=reader.controls(),
        sensors=reader.sensors(),
        displays=reader.displays(),
        rules=reader.rules(),
        alerts=reader.alerts(),
    )
    top.finish()
    for part in _all_parts(aircraft):
        if part.name in RESERVED:
            raise Mistake(
                f"{file}: {part.kind} {part.name}",
                "this name has a meaning of its own in conditions",
                "another name",
            )
        if part.name in aircraft.parts:
            raise Mistake(
                f"{file}: {part.kind} {part.name}",
                "this name is used twice",
                "a name of its own for every part",
            )
        aircraft.parts[part.name] = part
    check_aircraft(aircraft, file)
    return aircraft


def _all_parts(a: Aircraft) -> tuple[Part, ...]:
    groups: tuple[tuple[Part, ...], ...] = (
        *(a.tanks, a.vents, a.nodes, a.pumps, a.bypasses, a.supplies, a.check_valves, a.valves, a.transfers),
        *(a.returns, a.jet_pumps, a.engines, a.apus, a.controls, a.sensors, a.displays, a.rules, a.alerts),
    )
    return tuple(part for group in groups for part in group)


def _limits(table: Table) -> Limits:
    densities = table.listed("fuel_density_kg_m3")
    if len(densities) != 2 or not all(
        isinstance(value, int | float) and 700 <= value <= 900 for value in densities
    ):
        raise Mistake(
            table.at("fuel_density_kg_m3"),
            f"found {densities}",
            "two numbers from 700 to 900 kg/m³ (0.70 to 0.90 kg/L)",
        )
    least, most = float(str(densities[0])), float(str(densities[1]))
    if least >= most:
        raise Mistake(table.at("fuel_density_kg_m3"), f"found {densities}", "the lower one first")
    limits = Limits(
        zero_fuel_kg=table.number("zero_fuel_kg", 100, 1e6, "kg"),
        take_off_kg=table.number("take_off_kg", 100, 1e6, "kg"),
        landing_kg=table.number("landing_kg", 100, 1e6, "kg"),
        ceiling_ft=table.number("ceiling_ft", 1000, 60000, "ft"),
        fuel_density_kg_m3=(least, most),
    )
    table.finish()
    return limits


def _airframe(table: Table) -> Airframe:
    airframe = Airframe(
        wing_area_m2=table.number("wing_area_m2", 1, 2000, "m²"),
        drag_zero_lift=table.number("drag_zero_lift", 0.001, 0.2, ""),
        drag_induced=table.number("drag_induced", 0.001, 0.5, ""),
        extra_drag=tuple(
            _extra_drag(Table(values, f"{table.at('extra_drag')}[{i}]"))
            for i, values in enumerate(table.listed("extra_drag", True))
        ),
        engine_thrust_n=table.number("engine_thrust_n", 100, 1e6, "N"),
        specific_flow_kg_h_n=table.number("specific_flow_kg_h_n", 0.001, 0.5, "kg/(h N)"),
        specific_flow_mach_slope=table.number("specific_flow_mach_slope", 0, 5, ""),
        rolling_friction=table.number("rolling_friction", 0, 0.2, ""),
    )
    table.finish()
    return airframe


def _extra_drag(table: Table) -> tuple[Condition, float]:
    extra = (table.condition("when"), table.number("adds", 0, 0.5, ""))
    table.finish()
    return extra


def _plan(table: Table) -> Plan:
    plan = Plan(table.points("fuselage_m"), table.points("wing_m"), table.points("nacelle_m"))
    table.finish()
    return plan

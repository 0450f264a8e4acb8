"""Read an aircraft's TOML file into an `Aircraft`, or say exactly what is wrong with it."""

import tomllib
from importlib.resources import files
from pathlib import Path

from wetwing.aircraft import read_airframe, read_feed, read_gauging, read_logic, read_tanks
from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft, Part
from wetwing.aircraft.revision import Fetch, merged
from wetwing.aircraft.section import Sections
from wetwing.aircraft.soundness import check_aircraft
from wetwing.aircraft.table import Table

FORMAT = "wetwing-aircraft/1"
LARGEST_FILE = 1_000_000
AIRFRAME = "airframe"
RESERVED = {"phase", "total", "flight", AIRFRAME, "and", "or", "not", "is", "fallen", "risen"}


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
    return parse_aircraft(fleet_text(source), f"{source}.toml")


def fleet_text(name: str) -> str:
    """The text of a file of the fleet."""
    return (files("wetwing.aircraft") / "fleet" / f"{name}.toml").read_text(encoding="utf-8")


def _fleet_table(name: str, place: str) -> Table:
    if name not in fleet():
        raise unknown(place, "aircraft", name, fleet())
    return parse_toml(fleet_text(name), f"{name}.toml", FORMAT)


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


def parse_aircraft(text: str, file: str, fetch: Fetch = _fleet_table) -> Aircraft:
    """An aircraft from the text of its file; `file` names it in errors, `fetch` gives the table of the
    aircraft that it is based on. Raises Mistake.
    """
    top = merged(parse_toml(text, file, FORMAT), fetch)
    name = top.name("name")
    sections = Sections(top)
    tanks = read_tanks.tanks(sections)
    aircraft = Aircraft(
        name=name,
        title=top.text("title"),
        operator=top.text("operator"),
        revision=top.text("revision"),
        limits=read_airframe.limits(top.table("limits")),
        airframe=read_airframe.airframe(top.table("airframe")),
        balance=read_airframe.balance(top.table("balance")),
        plan=read_airframe.plan(top.table("plan")),
        tanks=tanks,
        vents=read_tanks.vents(sections),
        nodes=read_feed.nodes(sections),
        pumps=read_feed.pumps(sections),
        bypasses=read_feed.bypasses(sections),
        supplies=read_feed.supplies(sections),
        check_valves=read_feed.check_valves(sections),
        valves=read_feed.valves(sections),
        outlets=read_feed.outlets(sections),
        transfers=read_tanks.transfers(sections),
        returns=read_tanks.returns(sections),
        jet_pumps=read_tanks.jet_pumps(sections),
        engines=read_feed.engines(sections),
        apus=read_feed.apus(sections),
        filters=read_feed.filters(sections),
        controls=read_logic.controls(sections),
        buses=read_logic.buses(sections),
        sensors=read_gauging.sensors(sections, tanks),
        probes=read_gauging.probes(sections),
        compensators=read_gauging.compensators(sections),
        meters=read_gauging.meters(sections),
        totalisers=read_gauging.totalisers(sections),
        displays=read_gauging.displays(sections),
        rules=read_logic.rules(sections),
        alerts=read_logic.alerts(sections),
        corrects_attitude=read_gauging.corrects_attitude(top),
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
    # The airframe is a part so that a trouble can lie in it; no file names it.
    aircraft.parts[AIRFRAME] = Part(AIRFRAME, "Airframe", "airframe", ("clean",), (), "clean")
    check_aircraft(aircraft, file)
    return aircraft


def _all_parts(a: Aircraft) -> tuple[Part, ...]:
    groups: tuple[tuple[Part, ...], ...] = (
        *(a.tanks, a.vents, a.nodes, a.pumps, a.bypasses, a.supplies, a.check_valves, a.valves, a.outlets),
        *(a.transfers, a.returns, a.jet_pumps, a.engines, a.apus, a.filters, a.controls, a.buses),
        *(a.sensors, a.probes, a.compensators, a.meters, a.totalisers, a.displays, a.rules, a.alerts),
    )
    return tuple(part for group in groups for part in group)

"""A flight's script, read from a TOML file: the loading, the air, the way, what people do, what goes wrong.

A script is input alone: `fly(aircraft, script)` does the rest. An edit is one more action or trouble, and
makes a new script.
"""

from importlib.resources import files
from pathlib import Path

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.names import PHASE
from wetwing.aircraft.read import parse_toml, read_file
from wetwing.aircraft.table import Table
from wetwing.flight import loading, read_troubles, script_actions, script_path, variant
from wetwing.flight.clock import clock, seconds
from wetwing.flight.edits import (
    MOST_EDITS,
    check_setting,
    parse_edit,
    settable,
    with_edits,
)
from wetwing.flight.loading import PLAN_KEYS
from wetwing.flight.script_records import (
    Action,
    Edit,
    InitialTank,
    PathPoint,
    Phase,
    Script,
    Setting,
)
from wetwing.flight.troubles import Mended, Trouble

FORMAT = "wetwing-script/1"
LONGEST_FLIGHT_S = 24 * 3600.0


def scripts() -> tuple[str, ...]:
    """Names of the scripts that ship with the simulation, each a whole flight of its own."""
    return _names("scripts")


def variants() -> tuple[str, ...]:
    """Names of the shipped scripts that are another one with other figures: a hot day, a short sector."""
    return _names("scripts", "variants")


def _names(*folders: str) -> tuple[str, ...]:
    folder = files("wetwing.flight").joinpath(*folders)
    return tuple(
        sorted(entry.name.removesuffix(".toml") for entry in folder.iterdir() if entry.name.endswith(".toml"))
    )


def script_text(source: str) -> tuple[str, str]:
    """Text and file name of the script of that name, or at that path (what ends in .toml). Raises Mistake.

    The text is that of a whole script, also where the file gives only what differs from another.
    """
    if source.endswith(".toml"):
        text, file = read_file(source, "script"), Path(source).name
    else:
        text, file = _shipped(source, "script"), f"{source}.toml"
    return whole_script(text, file), file


def whole_script(text: str, file: str) -> str:
    """The text of a whole script, from that of a whole one or of a variant. Raises Mistake."""
    return variant.whole(text, file, FORMAT, _shipped, script_of)


def _shipped(name: str, place: str) -> str:
    known = (*scripts(), *variants())
    if name not in known:
        raise unknown(place, "script", name, known)
    folder = files("wetwing.flight") / "scripts"
    inner = folder / "variants" if name in variants() else folder
    return (inner / f"{name}.toml").read_text(encoding="utf-8")


def script_aircraft(source: str) -> str:
    """The aircraft that a script asks for."""
    text, file = script_text(source)
    return parse_toml(text, file, FORMAT).text("aircraft")


def script_for(aircraft: str) -> str | None:
    """The first script that ships for an aircraft, by name; None where none does. A revision that has none of
    its own flies that of the aircraft it comes from, whose name its own begins with.
    """
    own = {script_aircraft(name): name for name in reversed(scripts())}
    found = [name for name in own if aircraft == name or aircraft.startswith(f"{name}-")]
    return own[max(found, key=len)] if found else None


def read_script(source: str, aircraft: Aircraft) -> Script:
    """Read a script and check it against `aircraft`. Raises Mistake."""
    text, file = script_text(source)
    return parse_script(text, file, aircraft)


def parse_script(text: str, file: str, aircraft: Aircraft) -> Script:
    """A script from the text of its file. Raises Mistake."""
    return script_of(parse_toml(whole_script(text, file), file, FORMAT), aircraft)


def script_of(top: Table, aircraft: Aircraft) -> Script:
    """A script from the table of its file. Raises Mistake."""
    file = top.place
    ends_s = seconds(top.text("ends_at"), top.at("ends_at"))
    if ends_s <= 0:
        raise Mistake(top.at("ends_at"), "a flight of no length", f"up to {clock(LONGEST_FLIGHT_S)}")
    if ends_s > LONGEST_FLIGHT_S:
        found = f"a flight that ends at {clock(ends_s)}"
        raise Mistake(top.at("ends_at"), found, f"up to {clock(LONGEST_FLIGHT_S)}")
    load = top.table("load")
    fuel = top.table("fuel")
    air = top.table("air")
    initial = top.table("initial")
    phases = script_path.phases(top, ends_s)
    density_kg_m3 = loading.density_15c_kg_m3(fuel, aircraft)
    usual_percent = aircraft.balance.zero_fuel_cg_percent
    script = Script(
        name=top.name("name"),
        title=top.text("title"),
        aircraft=top.name("aircraft"),
        ends_s=ends_s,
        zero_fuel_kg=load.number("zero_fuel_kg", 100, aircraft.limits.zero_fuel_kg, "kg"),
        zero_fuel_cg_percent=load.number("zero_fuel_cg_percent", 0, 100, "%", usual_percent),
        wear_factor=load.number("wear_factor", 1, 1.3, "", 1.0),
        density_15c_kg_m3=density_kg_m3,
        # A ticket may be wrong by a unit, which is what it is there to teach.
        declared_density_15c_kg_m3=fuel.number(
            "declared_density_15c_kg_m3", 300, 2000, "kg/m³", density_kg_m3
        ),
        uplift_temperature_c=fuel.number("uplift_temperature_c", -40, 50, "°C"),
        freezing_c=fuel.number("freezing_c", -80, -20, "°C", -47.0),
        light_ends=fuel.number("light_ends", 1, 3, "", 1.5),
        deviation_k=air.number("deviation_k", -60, 40, "K", 0.0),
        tanks=loading.tanks(initial, aircraft),
        used_kg=loading.used_kg(initial, aircraft),
        states=loading.states(initial, aircraft),
        plan_kg=loading.plan_kg(top),
        phases=phases,
        path=script_path.path(top, aircraft, ends_s),
        actions=script_actions.actions(top, aircraft, phases, ends_s),
        troubles=read_troubles.troubles(top, aircraft, phases, ends_s),
        mended=read_troubles.mendings(top, aircraft, ends_s),
    )
    for table in (load, fuel, air, initial, top):
        table.finish()
    loading.check_fuel(script, file)
    loading.check_volumes(script, aircraft, file)
    return script


__all__ = [
    "FORMAT",
    "LONGEST_FLIGHT_S",
    "MOST_EDITS",
    "PHASE",
    "PLAN_KEYS",
    "Action",
    "Edit",
    "InitialTank",
    "Mended",
    "PathPoint",
    "Phase",
    "Script",
    "Setting",
    "Trouble",
    "check_setting",
    "parse_edit",
    "parse_script",
    "read_script",
    "script_aircraft",
    "script_for",
    "script_of",
    "script_text",
    "scripts",
    "settable",
    "variants",
    "whole_script",
    "with_edits",
]

"""The files that ship: every slip of every aircraft and of every script."""

import tomllib
from collections.abc import Iterable
from functools import partial
from importlib.resources import files

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import fleet, fleet_text, parse_aircraft, read_aircraft
from wetwing.flight.script import parse_script, scripts, variants
from wetwing_tools.data.slips import slips_of


def slips_of_shipped() -> list[Mistake]:
    """What is wrong with the aircraft and with the scripts that they fly, each file with all of it.

    A script whose aircraft can't be read is left until it can.
    """
    found: list[Mistake] = []
    sound: dict[str, Aircraft] = {}
    for name in fleet():
        slips = slips_of(fleet_text(name), f"{name}.toml", partial(_aircraft, f"{name}.toml"))
        found += slips
        if not slips:
            sound[name] = read_aircraft(name)
    texts = {**_texts(scripts(), "scripts"), **_texts(variants(), "scripts/variants")}
    for name, text in texts.items():
        aircraft = sound.get(_flown_by(text, texts) or "")
        if aircraft:
            found += slips_of(text, f"{name}.toml", partial(_script, f"{name}.toml", aircraft))
    return found


def _aircraft(file: str, text: str) -> object:
    return parse_aircraft(text, file)


def _script(file: str, aircraft: Aircraft, text: str) -> object:
    return parse_script(text, file, aircraft)


def _texts(names: Iterable[str], folder: str) -> dict[str, str]:
    place = files("wetwing.flight").joinpath(*folder.split("/"))
    return {name: (place / f"{name}.toml").read_text(encoding="utf-8") for name in names}


def _flown_by(text: str, texts: dict[str, str]) -> str | None:
    """The aircraft that a script names, or that the one names which it is based on."""
    try:
        values = tomllib.loads(text)
    except ValueError:
        # The first aircraft of the fleet serves to say that the text is no TOML.
        return fleet()[0]
    base = texts.get(str(values.get("based_on")))
    return _flown_by(base, {}) if base else str(values.get("aircraft", fleet()[0]))

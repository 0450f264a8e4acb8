"""An aircraft and a script seen in a mirror: left is right, engine 1 is engine 2, every y turns its sign."""

import re

from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import parse_aircraft
from wetwing.flight.script import Script, parse_script

PAIRED = (
    *("engine", "engine-run", "shut-off", "filter", "meter", "ac", "dc", "proving-run", "oil-warm"),
    *("feed-pressure", "generator"),
)
_SIDES = re.compile(r"(?<![a-z])(left|right)(?![a-z])")
_NUMBERED = re.compile(rf"(?<![a-z-])({'|'.join(PAIRED)})([ -])([12])(?![0-9])")
_POINT = re.compile(r"\[(-?\d+(?:\.\d+)?), (-?\d+(?:\.\d+)?)\]")


def name(text: str) -> str:
    """A name, or a text full of names, with the sides changed."""
    text = _SIDES.sub(lambda found: "right" if found[1] == "left" else "left", text)
    return _NUMBERED.sub(lambda found: f"{found[1]}{found[2]}{3 - int(found[3])}", text)


def aircraft(text: str) -> Aircraft:
    """An aircraft from the text of its file, mirrored: the first part is still the first."""
    body, plan = text.split("[plan]")
    body = _POINT.sub(lambda found: f"[{found[1]}, {-float(found[2])}]", name(body))
    # Limits are pairs too, but no places.
    for line in re.findall(r"^(?:cg_limits_percent|fuel_density_kg_m3) = .*$", text, re.MULTILINE):
        key = line.split(" = ")[0]
        body = re.sub(rf"^{key} = .*$", line, body, flags=re.MULTILINE)
    return parse_aircraft(f"{body}[plan]{plan}", "mirror.toml")


def script(text: str, craft: Aircraft) -> Script:
    """A script from the text of its file, mirrored."""
    return parse_script(name(text), "mirror.toml", craft)

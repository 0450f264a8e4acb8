"""What a file of an aircraft or of a flight holds, said in a line once it has been read without a slip."""

import tomllib
from collections import Counter
from pathlib import Path

from wetwing.aircraft import read
from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import read_aircraft, read_file
from wetwing.flight import script as scripts
from wetwing.flight.clock import clock
from wetwing.flight.script import read_script
from wetwing_tools.data.slips import slips_of

FORMATS = (read.FORMAT, scripts.FORMAT)
_PLURALS = {"bus": "buses", "bypass": "bypasses", "supply": "supplies"}


def said_of(path: Path, aircraft: str | None) -> str:
    """Read the file by its `format`, and say what it holds.

    `aircraft` is that of a script, in place of the one that the script names. Raises Mistake.
    """
    form = format_of(path)
    if form == read.FORMAT:
        found = read_aircraft(str(path))
        # The airframe is a part of every aircraft, and of no file.
        kinds = Counter(part.kind for part in found.parts.values() if part.kind != "airframe")
        parts = sum(kinds.values())
        return f"{path.name}: {found.title}, {counted(parts, 'part')}: {_listed(kinds)}"
    flown = read_aircraft(aircraft or scripts.script_aircraft(str(path)))
    script = read_script(str(path), flown)
    kinds = Counter(phase=len(script.phases), action=len(script.actions), trouble=len(script.troubles))
    return f"{path.name}: {script.title}, {clock(script.ends_s)} with the {flown.title}: {_listed(kinds)}"


def slips_in(path: Path, aircraft: str | Aircraft | None) -> list[Mistake]:
    """Every slip of a file, with its line; `aircraft` is that of a script, in place of the one it names.

    Raises Mistake where the file is neither an aircraft nor a script.
    """
    form, text = format_of(path), read_file(str(path), "file")
    if form == read.FORMAT:
        return slips_of(text, path.name, lambda text: read.parse_aircraft(text, path.name))
    known = (
        aircraft if isinstance(aircraft, Aircraft) else read_aircraft(aircraft or _flown_by(text, path.name))
    )
    return slips_of(text, path.name, lambda text: scripts.parse_script(text, path.name, known))


def _flown_by(text: str, file: str) -> str:
    """The aircraft of a script whose other keys may be wrong. Raises Mistake."""
    top = read.parse_toml(text, file, scripts.FORMAT)
    return scripts.script_aircraft(top.text("based_on")) if top.has("based_on") else top.text("aircraft")


def format_of(path: Path) -> str:
    """The file's `format`, which says what it is. Raises Mistake where it is neither of ours."""
    try:
        found = tomllib.loads(read_file(str(path), "file")).get("format")
    except (ValueError, RecursionError) as error:
        raise Mistake(path.name, f"not readable as TOML: {error}") from error
    if found in FORMATS:
        return str(found)
    place = f"{path.name}: format"
    if isinstance(found, str):
        raise unknown(place, "format", found, FORMATS)
    raise Mistake(place, "missing" if found is None else f"found {found!r:.60}", FORMATS)


def counted(count: int, what: str) -> str:
    """`1 tank`, `3 tanks`, `2 buses`."""
    return f"{count} {what if count == 1 else _PLURALS.get(what, what + 's')}"


def _listed(kinds: Counter[str]) -> str:
    return ", ".join(counted(count, kind.replace("-", " ")) for kind, count in kinds.items() if count)

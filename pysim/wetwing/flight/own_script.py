"""A reader's own script: text of a file, figures changed by name, and edits; read, and written as a file."""

from collections.abc import Mapping
from typing import Any, cast

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import parse_toml
from wetwing.aircraft.table import Table
from wetwing.flight.inputs import titled, with_inputs
from wetwing.flight.script import FORMAT, script_of
from wetwing.flight.script_records import Script
from wetwing.flight.stretch import written
from wetwing.flight.toml_text import toml_text
from wetwing.flight.troubles import breakdown

LONGEST_TEXT = 200_000
HEADING = "A flight of a fictional aircraft, for learning."

Values = dict[str, object]


def own_script(
    text: str, file: str, changes: Mapping[str, object], aircraft: Aircraft, *, strict: bool = True
) -> tuple[Values, Script]:
    """The table of a script with other figures, and what it says. `strict` refuses one for another aircraft.
    Raises Mistake.
    """
    if len(text) > LONGEST_TEXT:
        raise Mistake(file, f"{len(text):,} characters", f"at most {LONGEST_TEXT:,}")
    top = parse_toml(text, file, FORMAT)
    wanted = top.name("aircraft")
    if strict and wanted != aircraft.name:
        raise Mistake(top.at("aircraft"), f"a script for '{wanted}'", f"one for '{aircraft.name}'")
    script = script_of(top, aircraft)
    if not changes:
        return top.values, script
    values = with_inputs(top.values, changes, script, aircraft)
    changed = Table(values, file)
    changed.text("format")
    return values, script_of(changed, aircraft)


def script_file(
    values: Mapping[str, object], script: Script, aircraft: Aircraft, title: str | None = None
) -> str:
    """The file of a script; the edits of `script`, which come after its own rows, become rows of the file.
    Flown, it gives the same changes. Raises Mistake.
    """
    made = cast("dict[str, Any]", titled(values, title) if title else dict(values))
    made["aircraft"] = aircraft.name
    counts = [(key, len(made.get(key, []))) for key in ("actions", "troubles", "mendings")]
    (_, actions), (_, troubles), (_, mended) = counts
    rows: dict[str, list[Values]] = {
        "actions": [
            {
                "at": written(action.at_s or 0.0),
                "set": {one.part: _plain(one.state) for one in action.settings},
            }
            for action in script.actions[actions:]
        ],
        "troubles": [],
        "mendings": [{"at": written(one.time_s), "part": one.part} for one in script.mended[mended:]],
    }
    for trouble in script.troubles[troubles:]:
        found = breakdown(aircraft.parts[trouble.part], trouble.kind, "edit")
        figure = {found.key: trouble.severity} if found.key else {}
        at = written(trouble.at_s or 0.0)
        rows["troubles"].append(
            {"name": trouble.name, "part": trouble.part, "kind": trouble.kind, "at": at, **figure}
        )
    for key, more in rows.items():
        if more:
            made[key] = [*made.get(key, []), *more]
    return toml_text(made, HEADING)


def _plain(state: str) -> object:
    """A setting as files have it: a number without its unit."""
    figure, _, unit = state.partition(" ")
    try:
        value = float(figure)
    except ValueError:
        return state
    return (int(value) if value == int(value) else value) if unit else state

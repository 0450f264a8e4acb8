"""A variant of a script: a file that gives only the figures that differ from the script that it is based on.

    based_on = "day-sector"

    [changes]
    "air.deviation_k" = 20              any figure that a bench page's form has, by its key

    [plan]                              the fuel plan, where it is another; whole

A variant becomes the text of a whole script before it is read, so nothing else needs to know of variants.
"""

from collections.abc import Callable

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import parse_toml, read_aircraft
from wetwing.aircraft.table import Table
from wetwing.flight.inputs import with_inputs
from wetwing.flight.script_records import Script
from wetwing.flight.toml_text import toml_text

HEADING = "A flight of a fictional aircraft, for learning."

Fetch = Callable[[str, str], str]
"""The text of a shipped script by name; the second word is the place that asks for it."""
Read = Callable[[Table, Aircraft], Script]
"""What reads the table of a whole script."""


def whole(text: str, file: str, form: str, fetch: Fetch, read: Read) -> str:
    """The text of a whole script: `text` itself, or what it is based on with its changes. Raises Mistake."""
    top = parse_toml(text, file, form)
    if not top.has("based_on"):
        if top.has("changes"):
            raise Mistake(top.at("changes"), "found without based_on", "only in a file with based_on")
        return text
    name, title = top.name("name"), top.text("title")
    base = parse_toml(fetch(top.text("based_on"), top.at("based_on")), file, form)
    changes = top.table("changes")
    asked = {key: changes.values[key] for key in changes.values}
    changes.asked |= set(asked)
    plan = {"plan": top.table("plan").values} if top.has("plan") else {}
    for table in (changes, top):
        table.finish()
    if not asked:
        raise Mistake(changes.place, "no change", 'at least one, such as "air.deviation_k" = 20')
    aircraft = read_aircraft(base.name("aircraft"))
    values = with_inputs(base.values, asked, read(base, aircraft), aircraft)
    return toml_text({**values, **plan, "name": name, "title": title}, HEADING)

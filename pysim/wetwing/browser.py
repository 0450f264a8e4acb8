"""The one door that the page's worker calls: a JSON request in, a JSON answer out, never an exception."""

import json
from dataclasses import asdict, replace

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import parse_toml, read_aircraft
from wetwing.draw.exercises import fieldset
from wetwing.draw.worksheet_page import worksheet_answer
from wetwing.flight.ahead import ahead
from wetwing.flight.compact import compact
from wetwing.flight.document import document
from wetwing.flight.fly import fly
from wetwing.flight.inputs import inputs
from wetwing.flight.own_script import Values, own_script, script_file
from wetwing.flight.record import Flight
from wetwing.flight.script import FORMAT, Edit, Script, read_script, script_text, with_edits
from wetwing.teach.exercises.asking import answer_exercises
from wetwing.teach.exercises.stock import Stock
from wetwing.teach.worksheets.fill import fill, kind_of, reader_of

LONGEST_REQUEST = 1_000_000
WARM_UP_S = 3600.0
OWN = "\n"  # no script's name: where the last flight of a script of the reader's own is kept
LONGEST_NAME = 80
ASKED = ("fly", "document", "ahead", "inputs", "write", "worksheet", "exercises")
"""`fly` gives the compact record that a page shows, `document` the flight with every bit of its numbers,
`ahead` what lies ahead of its `time_s`, `inputs` the figures of its script that can be changed, `write` its
script as a file, `worksheet` a sheet filled in with its figures and those that are `given`,
`exercises` a paper of questions or one part of it.
"""

_known: dict[str, Aircraft] = {}
_scripts: dict[tuple[str, str], Script] = {}
_flown: dict[tuple[str, str], Flight] = {}
"""The last flight of each script: the next one, with another edit, is flown from where they part."""

_stocks: dict[tuple[int, str], Stock] = {}
"""The flights of the last paper: its parts are asked for one after another."""


def answer(request: str) -> str:
    """Answer one request; the forms are documented on the page of formats."""
    try:
        if len(request) > LONGEST_REQUEST:
            raise Mistake("request", f"{len(request)} characters", f"at most {LONGEST_REQUEST}")
        return json.dumps({"ok": True, **_answer(json.loads(request))}, separators=(",", ":"))
    except Mistake as mistake:
        return _problem(mistake.place, str(mistake), mistake.found, mistake.allowed, mistake.nearest)
    except (json.JSONDecodeError, RecursionError) as error:
        return _problem("request", f"request: not readable as JSON: {error}", "", (), None)
    except ArithmeticError as error:
        return _problem("simulation", f"the simulation could not fly this: {error}", "", (), None)


def warm_up() -> None:
    """Read the demonstration flight and fly its beginning, so that a snapshot holds what requests need.

    Not the whole of it: what a flight leaves in memory would make the snapshot larger than it saves time.
    """
    aircraft = _aircraft("alder-165")
    script = _shipped("day-sector", aircraft)
    json.dumps(compact(fly(aircraft, replace(script, ends_s=WARM_UP_S))))


def _problem(place: str, message: str, found: str, allowed: tuple[str, ...], nearest: str | None) -> str:
    problem = {
        "place": place,
        "message": message,
        "found": found,
        "allowed": list(allowed),
        "nearest": nearest,
    }
    return json.dumps({"ok": False, "problem": problem}, separators=(",", ":"))


def _answer(request: object) -> dict[str, object]:
    if not isinstance(request, dict):
        raise Mistake("request", f"found {type(request).__name__}", "an object")
    ask = request.get("ask")
    if ask not in ASKED:
        raise Mistake("request.ask", f"'{str(ask)[:40]}'", ASKED)
    if ask == "exercises":
        return answer_exercises(request, _stocks, fieldset)
    name = _text(request, "aircraft")
    aircraft = _aircraft(name)
    values, plain = _script(request, aircraft)
    edits = request.get("edits", [])
    if not isinstance(edits, list):
        raise Mistake("request.edits", f"found {type(edits).__name__}", "a list")
    script = with_edits(plain, tuple(_edit(edit, i) for i, edit in enumerate(edits)), aircraft)
    if ask == "inputs":
        found = [asdict(one) for one in inputs(plain, aircraft)]
        return {"inputs": found, "script": {"name": plain.name, "title": plain.title}}
    if ask == "write":
        title = _text(request, "title") if "title" in request else None
        text = script_file(values, script, aircraft, title)
        return {"script_text": text, "name": parse_toml(text, "script", FORMAT).name("name")}
    key = (name, _text(request, "script") if _is_shipped(request) else OWN)
    flight = fly(aircraft, script, _flown.get(key))
    _flown[key] = flight
    if ask == "ahead":
        return {"ahead": asdict(ahead(flight, _number(request, "time_s")))}
    if ask == "worksheet":
        return {"worksheet": _worksheet(request, flight)}
    return {"record": compact(flight)} if ask == "fly" else {"document": document(flight)}


def _worksheet(request: dict[str, object], flight: Flight) -> dict[str, object]:
    kind = kind_of(_text(request, "kind"), "request.kind")
    form, units, volumes = (_text(request, key) for key in ("form", "units", "volumes"))
    reader = reader_of(form, units, volumes, "request")
    given = request.get("given", {})
    if not isinstance(given, dict):
        raise Mistake("request.given", f"found {type(given).__name__}", "an object of fields by name")
    return worksheet_answer(fill(kind, flight, _number(request, "time_s"), given, reader, "worksheet"))


def _aircraft(name: str) -> Aircraft:
    """An aircraft of the fleet, read once."""
    if name.endswith(".toml"):
        raise Mistake("request.aircraft", f"'{name[:40]}'", "the name of an aircraft of the fleet")
    if name not in _known:
        _known[name] = read_aircraft(name)
    return _known[name]


def _is_shipped(request: dict[str, object]) -> bool:
    return "script_text" not in request and not request.get("inputs")


def _script(request: dict[str, object], aircraft: Aircraft) -> tuple[Values, Script]:
    """The script of a request, without its edits: one that ships, or the text of the reader's own, with other
    figures where the request has some. The values are those of its file, where they are asked for.
    """
    changes = request.get("inputs", {})
    if not isinstance(changes, dict):
        raise Mistake("request.inputs", f"found {type(changes).__name__}", "an object of figures by name")
    if "script_text" in request:
        if "script" in request:
            raise Mistake("request", "both script and script_text", "one of them")
        file = _text(request, "file")[:LONGEST_NAME] if "file" in request else "script"
        return own_script(_text(request, "script_text"), file, changes, aircraft)
    source = _text(request, "script")
    if source.endswith(".toml"):
        raise Mistake("request.script", f"'{source[:40]}'", "the name of a script that ships")
    if changes or request.get("ask") == "write":
        # A shipped script serves every aircraft that it can be flown with, such as a revision.
        return own_script(*script_text(source), changes, aircraft, strict=False)
    return {}, _shipped(source, aircraft)


def _shipped(source: str, aircraft: Aircraft) -> Script:
    """A script that ships, read once for each aircraft."""
    key = (aircraft.name, source)
    if key not in _scripts:
        _scripts[key] = read_script(source, aircraft)
    return _scripts[key]


def _number(request: dict[str, object], key: str) -> float:
    found = request.get(key)
    if isinstance(found, bool) or not isinstance(found, int | float) or not 0 <= found < 1e9:
        raise Mistake(f"request.{key}", f"found {str(found)[:40]}", "a number of seconds, 0 or more")
    return float(found)


def _text(request: dict[str, object], key: str) -> str:
    found = request.get(key)
    if not isinstance(found, str):
        raise Mistake(f"request.{key}", f"found {type(found).__name__}", "a text")
    return found


def _edit(edit: object, i: int) -> Edit:
    place = f"request.edits[{i}]"
    if not isinstance(edit, dict):
        raise Mistake(place, f"found {type(edit).__name__}", "an object with time_s, part and state")
    time_s, part, state = edit.get("time_s"), edit.get("part"), edit.get("state")
    if isinstance(time_s, bool) or not isinstance(time_s, int | float):
        raise Mistake(f"{place}.time_s", f"found {type(time_s).__name__}", "a number of seconds")
    if not isinstance(part, str) or not isinstance(state, str):
        raise Mistake(place, "part or state is no text", "an object with time_s, part and state")
    return Edit(float(time_s), part, state)

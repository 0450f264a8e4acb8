"""The one door that the page's worker calls: a JSON request in, a JSON answer out, never an exception."""

import json
from collections.abc import Callable, Generator
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
from wetwing.flight.keeping import Kept, parts_at_s
from wetwing.flight.own_script import Values, own_script, script_file
from wetwing.flight.record import Flight
from wetwing.flight.remainder import remainder
from wetwing.flight.script import FORMAT, Edit, Script, read_script, script_text, with_edits
from wetwing.flight.stages import FlyingInStages
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

type Answering[Answer] = Generator[str, None, Answer]
"""An answer in the making: "" wherever it may be left, and a first part of the answer if it has one."""

_known: dict[str, Aircraft] = {}
_scripts: dict[tuple[str, str], Script] = {}
_flown: dict[tuple[str, str], list[Kept]] = {}
"""The last flights of each script, the latest first: the next one, with another edit, is flown from where it
parts from one of them. Two panels may fly one script, each with its own edits.
"""
KEPT_FLIGHTS = 2

_stocks: dict[tuple[int, str], Stock] = {}
"""The flights of the last paper: its parts are asked for one after another."""


def answer(request: str) -> str:
    """Answer one request; the forms are documented on the page of formats."""
    answering = answer_in_parts(request)
    while True:
        try:
            next(answering)
        except StopIteration as whole:
            return str(whole.value)


def answer_in_parts(request: str) -> Answering[str]:
    """Answer one request, and let whoever asks break in on the way: return what `answer` returns.

    A flight that is asked for with `had` is given in two parts where that helps: first as far as `shows_s`.
    """
    try:
        if len(request) > LONGEST_REQUEST:
            raise Mistake("request", f"{len(request)} characters", f"at most {LONGEST_REQUEST}")
        return _text_of((yield from _answer(json.loads(request))))
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


def _text_of(found: dict[str, object]) -> str:
    return json.dumps({"ok": True, **found}, separators=(",", ":"))


def _problem(place: str, message: str, found: str, allowed: tuple[str, ...], nearest: str | None) -> str:
    problem = {
        "place": place,
        "message": message,
        "found": found,
        "allowed": list(allowed),
        "nearest": nearest,
    }
    return json.dumps({"ok": False, "problem": problem}, separators=(",", ":"))


def _answer(request: object) -> Answering[dict[str, object]]:
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
    script = with_edits(plain, _edits(request, "edits"), aircraft)
    if ask == "inputs":
        found = [asdict(one) for one in inputs(plain, aircraft)]
        return {"inputs": found, "script": {"name": plain.name, "title": plain.title}}
    if ask == "write":
        title = _text(request, "title") if "title" in request else None
        text = script_file(values, script, aircraft, title)
        return {"script_text": text, "name": parse_toml(text, "script", FORMAT).name("name")}
    key = (name, _text(request, "script") if _is_shipped(request) else OWN)
    if ask == "fly" and "had" in request:
        had = with_edits(plain, _edits(request, "had"), aircraft)
        shows_s = _number(request, "shows_s")
        return {"remainder": (yield from _remainder(key, aircraft, script, had, shows_s))}
    flight = yield from _fly(key, aircraft, script)
    if ask == "ahead":
        return {"ahead": asdict(ahead(flight, _number(request, "time_s")))}
    if ask == "worksheet":
        return {"worksheet": _worksheet(request, flight)}
    return {"record": compact(flight)} if ask == "fly" else {"document": document(flight)}


def _fly(
    key: tuple[str, str],
    aircraft: Aircraft,
    script: Script,
    first: Callable[[FlyingInStages], str] = lambda _flying: "",
) -> Answering[Flight]:
    """Fly from where the flight parts from one that is known. What is flown is known from then on, though it
    may be left on the way. `first` says what is given after each stage.
    """
    known = _flown.setdefault(key, [])
    # Of two that serve alike, the later one is taken.
    nearest = max(known, default=None, key=lambda kept: _serves_until_s(kept, script))
    flying = FlyingInStages(aircraft, script)
    try:
        for _stage in flying.stages(nearest):
            yield first(flying)
    finally:
        known[:] = [flying.kept, *known][:KEPT_FLIGHTS]
    assert flying.whole is not None
    return flying.whole


def _serves_until_s(kept: Kept, script: Script) -> float:
    """Where a flight of a script can be taken up from a known one; -1 nowhere."""
    found = kept.rest_before(parts_at_s(kept.script, script))
    return -1.0 if found is None else found.time_s


def _remainder(
    key: tuple[str, str], aircraft: Aircraft, script: Script, had: Script, shows_s: float
) -> Answering[dict[str, object]]:
    """What a page that has the flight of `had` lacks of this one; first up to `shows_s`, if they differ."""
    waits = parts_at_s(had, script) <= shows_s

    def first(flying: FlyingInStages) -> str:
        nonlocal waits
        if not waits or flying.world.time_s <= shows_s:
            return ""
        waits = False
        return _text_of({"remainder": remainder(flying, had)})

    return remainder((yield from _fly(key, aircraft, script, first)), had)


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


def _edits(request: dict[str, object], key: str) -> tuple[Edit, ...]:
    edits = request.get(key, [])
    if not isinstance(edits, list):
        raise Mistake(f"request.{key}", f"found {type(edits).__name__}", "a list")
    return tuple(_edit(edit, f"request.{key}[{i}]") for i, edit in enumerate(edits))


def _edit(edit: object, place: str) -> Edit:
    if not isinstance(edit, dict):
        raise Mistake(place, f"found {type(edit).__name__}", "an object with time_s, part and state")
    time_s, part, state = edit.get("time_s"), edit.get("part"), edit.get("state")
    if isinstance(time_s, bool) or not isinstance(time_s, int | float):
        raise Mistake(f"{place}.time_s", f"found {type(time_s).__name__}", "a number of seconds")
    if not isinstance(part, str) or not isinstance(state, str):
        raise Mistake(place, "part or state is no text", "an object with time_s, part and state")
    return Edit(float(time_s), part, state)

"""JSON Schemas of the files that people write, taken from the readers themselves.

The readers say what they accept where they read it: `table.number("capacity_l", 1, 500_000, "L")`. So the
files that ship are read while each question that a reader puts to a table is noted, and the notes become the
schema: keys, which of them are needed, kinds of value, ranges and words. A range that depends on the aircraft
is the widest that any of them gives. What only the whole file can show (a name that nothing has, a circle of
rules) stays with the reader.
"""

import json
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from wetwing.aircraft.read import FORMAT as AIRCRAFT_FORMAT
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.aircraft.table import Table
from wetwing.flight.script import FORMAT as SCRIPT_FORMAT
from wetwing.flight.script import read_script, script_aircraft, scripts
from wetwing.flight.troubles import CATALOGUE
from wetwing_tools.site.document_page import DOCUMENT, KEYFRAME

DIALECT = "https://json-schema.org/draft/2020-12/schema"
NAME = "^[a-z][a-z0-9]*(-[a-z0-9]+)*$"

Schema = dict[str, Any]


@dataclass
class _Key:
    """What readers ask of one key: its kind of value, and whether all of them need it."""

    schema: Schema = field(default_factory=dict)
    needed: bool = True
    tables: set[int] = field(default_factory=set)
    least: float | None = None
    most: float | None = None


@dataclass
class _Notes:
    """Every key by its path, in which a name that an author gives is `*`, and a place in a list `[]`."""

    keys: dict[tuple[str, ...], _Key] = field(default_factory=dict)
    named: set[tuple[str, ...]] = field(default_factory=set)
    optional: set[tuple[int, str]] = field(default_factory=set)
    tables: dict[tuple[str, ...], dict[int, Table]] = field(default_factory=dict)

    def path(self, table: Table) -> tuple[str, ...]:
        """The path of a table, from its place: `alder.toml: tanks.main-left`."""
        _, _, inside = table.place.partition(": ")
        found: list[str] = []
        for step in inside.split(".") if inside else []:
            bare, listed, _ = step.partition("[")
            found.append("*" if tuple(found) in self.named else bare)
            if listed:
                found.append("[]")
        return tuple(found)

    def note(self, table: Table, key: str, schema: Schema, needed: bool = True) -> _Key:
        """Note one question of a reader."""
        path = self.path(table)
        found = self.keys.setdefault((*path, "*" if path in self.named else key), _Key())
        found.schema |= schema
        # Tables are kept, so that no other one gets the same identity.
        self.tables.setdefault(path, {})[id(table)] = table
        found.tables.add(id(table))
        found.needed &= needed and (id(table), key) not in self.optional
        return found


KINDS: dict[str, Schema] = {
    "text": {"type": "string", "pattern": "\\S"},
    "name": {"type": "string", "pattern": NAME},
    "reference": {"type": "string"},
    "condition": {"type": "string", "pattern": "\\S"},
    "flag": {"type": "boolean"},
    "listed": {"type": "array"},
    "texts": {"type": "array", "minItems": 1, "items": {"type": "string"}},
    "point": {"type": "array", "minItems": 2, "maxItems": 2, "items": {"type": "number"}},
    "points": {"type": "array", "minItems": 3},
    "table": {"type": "object"},
    "tables": {"type": "object"},
}
"""The methods of a table that readers ask with, and what each lets pass."""

OF_THE_AIRCRAFT = (("initial", "tanks"), ("initial", "used_kg"), ("initial", "parts"))
"""Tables of a script whose keys are parts of its aircraft."""

_OPTIONAL = ("flag", "tables")


@contextmanager
def _noted(*named: tuple[str, ...]) -> Iterator[_Notes]:
    """Note every question that is put to a table, while the block runs; `named` are the tables whose keys are
    names of the aircraft.
    """
    notes = _Notes(named=set(named))
    kept = {name: getattr(Table, name) for name in (*KINDS, "number", "choice", "has", "key")}

    def asked(name: str) -> Callable[..., Any]:
        def ask(table: Table, key: str, *more: Any, **named: Any) -> Any:
            default = name in _OPTIONAL or bool(named) or (name in ("text", "listed") and bool(more))
            notes.note(table, key, KINDS[name], needed=not default)
            if name == "tables":
                notes.named.add((*notes.path(table), key))
            return kept[name](table, key, *more, **named)

        return ask

    def number(
        table: Table, key: str, least: float, most: float, unit: str, default: float | None = None
    ) -> float:
        found = notes.note(table, key, {"type": "number"}, needed=default is None)
        found.least = least if found.least is None else min(found.least, least)
        found.most = most if found.most is None else max(found.most, most)
        value: float = kept["number"](table, key, least, most, unit, default)
        return value

    def choice(table: Table, key: str, allowed: tuple[str, ...]) -> str:
        notes.note(table, key, {"enum": list(allowed)})
        word: str = kept["choice"](table, key, allowed)
        return word

    def has(table: Table, key: str) -> bool:
        notes.optional.add((id(table), key))
        notes.note(table, key, {}, needed=False)
        there: bool = kept["has"](table, key)
        return there

    def key(table: Table, key: str, what: str, allowed: tuple[str, ...]) -> None:
        # A key that is itself a name: the table holds as many as there are parts of that kind.
        notes.named.add(notes.path(table))
        kept["key"](table, key, what, allowed)

    changed: dict[str, Callable[..., Any]] = {name: asked(name) for name in KINDS}
    changed |= {"number": number, "choice": choice, "has": has, "key": key}
    try:
        for name, method in changed.items():
            setattr(Table, name, method)
        yield notes
    finally:
        for name, method in kept.items():
            setattr(Table, name, method)


def aircraft_schema() -> Schema:
    """The schema of an aircraft's file that stands by itself, or is based on another."""
    with _noted() as notes:
        for name in fleet():
            read_aircraft(name)
    whole = _object(notes, ())
    own: Schema = {"format": {"const": AIRCRAFT_FORMAT}}
    based: Schema = {
        "based_on": {"type": "string", "pattern": NAME},
        "remove": {"type": "array", "minItems": 1, "items": {"type": "string"}},
    }
    whole["properties"] = {**_without(whole["properties"], based), **own}
    revision = _eased(whole)
    revision["properties"] |= based
    revision["required"] = ["based_on", "format", "name"]
    kind = {"if": {"required": ["based_on"]}, "then": revision, "else": whole}
    return _top("An aircraft", {"type": "object", **kind})


def _without(properties: Schema, keys: Schema) -> Schema:
    return {name: found for name, found in properties.items() if name not in keys}


def _eased(schema: Any) -> Any:
    """A schema in which no key is needed: a revision gives only what differs."""
    if isinstance(schema, list):
        return [_eased(one) for one in schema]
    if not isinstance(schema, dict):
        return schema
    listed = schema.get("required")
    return {
        key: _eased(one)
        for key, one in schema.items()
        if not (key == "required" and isinstance(listed, list))
    }


def script_schema() -> Schema:
    """The schema of a script."""
    aircraft = {name: read_aircraft(script_aircraft(name)) for name in scripts()}
    with _noted(*OF_THE_AIRCRAFT) as notes:
        for name, own in aircraft.items():
            read_script(name, own)
    whole = _object(notes, ())
    whole["properties"] |= {"format": {"const": SCRIPT_FORMAT}, "troubles": _troubles()}
    return _top("A script", whole)


def _troubles() -> Schema:
    """What can be wrong, from the catalogue: no script that ships has a trouble."""
    many = [found for kinds in CATALOGUE.values() for found in kinds]
    figures: dict[str, Schema] = {}
    for found in many:
        if found.key:
            own = figures.setdefault(
                found.key, {"type": "number", "minimum": found.least, "maximum": found.most}
            )
            own["minimum"] = min(own["minimum"], found.least)
            own["maximum"] = max(own["maximum"], found.most)
    text = KINDS["text"]
    properties = {
        "name": KINDS["name"],
        "part": KINDS["name"],
        "kind": {"enum": list(dict.fromkeys(found.kind for found in many))},
        **dict.fromkeys(("at", "when", "until", "note"), text),
        "after_s": {"type": "number", "minimum": 0},
        "lasts_s": {"type": "number", "exclusiveMinimum": 0},
        **figures,
    }
    one = {
        "type": "object",
        "properties": properties,
        "required": ["kind", "part"],
        "oneOf": [{"required": ["at"]}, {"required": ["when"]}],
        "additionalProperties": False,
    }
    return {"type": "array", "items": one}


def document_schema() -> Schema:
    """The schema of the document of a flight, from the keys of its reference page."""
    number: Schema = {"type": "number"}
    numbers: Schema = {"type": "object", "additionalProperties": number}
    by_name: Schema = {"type": "object", "additionalProperties": numbers}
    part: Schema = {
        "type": "object",
        "required": ["state"],
        "properties": {"state": {"type": "string"}},
        "additionalProperties": number,
    }
    keyframe = {
        **dict.fromkeys(("tanks", "engines"), by_name),
        **dict.fromkeys(("totals", "flight"), numbers),
        "parts": {"type": "object", "additionalProperties": part},
        "time_s": number,
    }
    reason = {
        "type": "object",
        "required": ["kind", "name", "sentence", "facts", "causes"],
        "properties": {"kind": {"enum": ["rule", "action", "physics", "trouble"]}},
    }
    change = {name: {"type": "string"} for name in ("part", "from", "to")} | {
        "time_s": number,
        "reason": reason,
    }
    properties: Schema = {key: {} for key in _names(DOCUMENT)}
    properties |= {
        "format": {"type": "string", "pattern": r"^wetwing-[a-z]+/\d+$"},
        "duration_s": number,
        "keyframes": _list_of(keyframe, _names(KEYFRAME)),
        "changes": _list_of(change, list(change)),
        **{name: {"type": "array"} for name in ("edits", "phases", "parts", "commands")},
    }
    whole = {"type": "object", "properties": properties, "required": _names(DOCUMENT)}
    return _top("A flight", {**whole, "additionalProperties": False})


def _names(keys: dict[str, str]) -> list[str]:
    """The keys that a table of a reference page is about."""
    return [name for key in keys for name in re.findall(r"`([^`]+)`", key)]


def _list_of(properties: Schema, needed: list[str]) -> Schema:
    one = {"type": "object", "properties": properties, "required": needed, "additionalProperties": False}
    return {"type": "array", "items": one}


def files() -> dict[str, str]:
    """Each schema as a file of the site, by its path: a format's number stands in its name."""
    made = {"aircraft": aircraft_schema(), "script": script_schema(), "flight": document_schema()}
    return {
        f"assets/schemas/{name}-1.json": f"{json.dumps(schema, ensure_ascii=False, indent=1)}\n"
        for name, schema in made.items()
    }


def _top(title: str, whole: Schema) -> Schema:
    return {"$schema": DIALECT, "title": title, **whole}


def _object(notes: _Notes, path: tuple[str, ...]) -> Schema:
    """The schema of the table at a path."""
    own = {at[-1]: key for at, key in notes.keys.items() if at[:-1] == path}
    properties = {name: _value(notes, (*path, name), key) for name, key in own.items()}
    # Needed is what every table of this kind was asked for: a key that depends on another is not. The file
    # itself is read as two tables, before and after it is laid over another.
    tables = set(notes.tables.get(path, {}))
    needed = sorted(name for name, key in own.items() if key.needed and (not path or key.tables == tables))
    return {
        "type": "object",
        "properties": properties,
        "required": needed,
        "additionalProperties": False,
    }


def _value(notes: _Notes, path: tuple[str, ...], key: _Key) -> Schema:
    if path in notes.named:
        each = notes.keys.get((*path, "*"))
        inner = _value(notes, (*path, "*"), each) if each else _object(notes, (*path, "*"))
        return {"type": "object", "propertyNames": {"pattern": NAME}, "additionalProperties": inner}
    if any(at[: len(path)] == path and len(at) > len(path) for at in notes.keys):
        if key.schema.get("type") == "array" or (*path, "[]") in {at[: len(path) + 1] for at in notes.keys}:
            return {"type": "array", "items": _object(notes, (*path, "[]"))}
        return _object(notes, path)
    found = dict(key.schema)
    if key.least is not None and key.most is not None:
        found |= {"minimum": key.least, "maximum": key.most}
    return found

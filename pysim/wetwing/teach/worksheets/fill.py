"""Filling in a worksheet: a flight's own figures, what somebody typed over them, and what comes out."""

from collections.abc import Mapping
from dataclasses import dataclass

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft
from wetwing.flight.record import Flight
from wetwing.flight.script import Script
from wetwing.physics.bounds import MOST_KG
from wetwing.teach.words import UNITS
from wetwing.teach.worksheets.diversion import DIVERSION
from wetwing.teach.worksheets.entry import FACTORS, Entry, Reader, read_entry, read_value
from wetwing.teach.worksheets.fuel_checks import FUEL_CHECKS
from wetwing.teach.worksheets.fuel_plan import FUEL_PLAN
from wetwing.teach.worksheets.minimum_fuel import MINIMUM_FUEL
from wetwing.teach.worksheets.number_text import FORMS
from wetwing.teach.worksheets.sheet import Field, Kind, Work
from wetwing.teach.worksheets.uplift import UPLIFT

KINDS = {kind.name: kind for kind in (FUEL_PLAN, UPLIFT, FUEL_CHECKS, MINIMUM_FUEL, DIVERSION)}
VOLUMES = ("L", "US gal")

_kept: dict[str, tuple[Aircraft, float, Script, tuple[Field, ...]]] = {}

Given = Mapping[str, object]
"""What a field was given: a text as typed, or a number in the kind's own unit, or None for an empty one."""


@dataclass(frozen=True, slots=True)
class Filled:
    """A worksheet, filled in. `work` is None where a field is wrong; `entries` says which, and how each was
    read.
    """

    kind: Kind
    fields: tuple[Field, ...]
    entries: dict[str, Entry]
    work: Work | None


def kind_of(name: str, place: str) -> Kind:
    """The kind of worksheet of that name. Raises Mistake."""
    if name not in KINDS:
        raise unknown(place, "worksheet", name, KINDS)
    return KINDS[name]


def reader_of(form: str, masses: str, volumes: str, place: str) -> Reader:
    """How a reader writes. Raises Mistake."""
    for what, found, known in (
        ("form of numbers", form, tuple(FORMS)),
        ("unit of mass", masses, UNITS),
        ("unit of volume", volumes, VOLUMES),
    ):
        if found not in known:
            raise unknown(place, what, found, known)
    return Reader(form, masses, volumes)


def fill(kind: Kind, flight: Flight, time_s: float, given: Given, reader: Reader, place: str) -> Filled:
    """Fill in a worksheet: the flight's figures where nothing is given. Raises Mistake for an unknown field;
    what is wrong with a field's content stands in its entry, for all of them at once.
    """
    fields = _fields(kind, flight, min(max(time_s, 0.0), flight.duration_s))
    names = [field.name for field in fields]
    for name in given:
        if name not in names:
            raise unknown(place, "field", name, names)
    entries = {field.name: _entry(field, given, reader) for field in fields}
    if any(entry.problem for entry in entries.values()):
        return Filled(kind, fields, entries, None)
    try:
        done = kind.work(flight, time_s, {name: entry.value for name, entry in entries.items()})
    except Mistake:
        raise
    except ValueError as error:
        # A figure that leaves the range of the physics: no field alone is wrong.
        raise Mistake(place, str(error), "figures that the model of the physics covers") from error
    if done.problems:
        for name, problem in done.problems.items():
            entries[name] = Entry(None, problem)
        return Filled(kind, fields, entries, None)
    return Filled(kind, fields, entries, done)


def _fields(kind: Kind, flight: Flight, time_s: float) -> tuple[Field, ...]:
    """The fields as the flight fills them; kept, since some take a look ahead and a page asks at each key."""
    known = _kept.get(kind.name)
    if known and known[0] is flight.aircraft and known[1] == time_s and known[2] == flight.script:
        return known[3]
    found = kind.fields(flight, time_s)
    _kept[kind.name] = (flight.aircraft, time_s, flight.script, found)
    return found


def _entry(field: Field, given: Given, reader: Reader) -> Entry:
    if field.name not in given:
        # The flight's own figure may lie outside what a field takes; then nothing is hidden.
        if field.value is None or abs(field.value) < MOST_KG:
            return Entry(_as_shown(field.value, field.kind, reader))
        return Entry(None, "no figure")
    found = given[field.name]
    if isinstance(found, str) and not field.choices:
        return read_entry(field, found, reader)
    return read_value(field, found)


def _as_shown(value: float | None, kind: str, reader: Reader) -> float | None:
    """A flight's mass or volume as it stands in its field, so that what fields show adds up."""
    if value is None or kind not in ("mass", "volume"):
        return value
    unit = reader.bare(kind)
    factor, decimals = FACTORS[kind][unit], 3 if unit == "t" else 0
    return round(value / factor, decimals) * factor


def answer(filled: Filled) -> dict[str, object]:
    """A filled worksheet as plain data, for the page."""
    entries = filled.entries
    return {
        "kind": filled.kind.name,
        "fields": [
            {
                "name": field.name,
                "value": entries[field.name].value,
                "problem": entries[field.name].problem,
                "told": entries[field.name].told,
            }
            for field in filled.fields
        ],
        "results": None
        if filled.work is None
        else [
            {
                "name": r.name,
                "label": r.label,
                "unit": r.unit,
                "value": r.value,
                "step": r.step,
                "formula": r.formula,
                "paragraph": r.paragraph,
                "words": r.words,
                "whole": r.whole,
            }
            for r in filled.work.results
        ],
        "findings": []
        if filled.work is None
        else [{"level": finding.level, "sentence": finding.sentence} for finding in filled.work.findings],
    }

"""Worksheets for tests: the flight that the pages are about, filled in with some fields given."""

from collections.abc import Mapping
from functools import cache

from wetwing.aircraft.read import read_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight
from wetwing.flight.script import Edit, read_script, with_edits
from wetwing.teach.worksheets.entry import Reader
from wetwing.teach.worksheets.fill import KINDS, Filled, fill

AIRCRAFT = read_aircraft("alder-165")
HOURS_4 = 4200.0 + 4 * 3600.0


@cache
def flight(*edits: Edit) -> Flight:
    """The day sector, with edits; an edited one is flown from where it parts."""
    script = with_edits(read_script("day-sector", AIRCRAFT), edits, AIRCRAFT)
    return fly(AIRCRAFT, script, flight() if edits else None)


def filled(
    kind: str,
    given: Mapping[str, object] | None = None,
    flown: Flight | None = None,
    time_s: float = 0.0,
    reader: Reader | None = None,
) -> Filled:
    """A worksheet, filled in."""
    return fill(KINDS[kind], flown or flight(), time_s, given or {}, reader or Reader(), "sheet")


def result(sheet: Filled, name: str) -> float:
    """One figure that came out."""
    assert sheet.work is not None, {
        name: entry.problem for name, entry in sheet.entries.items() if entry.problem
    }
    found = next(each.value for each in sheet.work.results if each.name == name)
    assert found is not None
    return found


def words(sheet: Filled, name: str) -> str:
    """One result that is a word."""
    assert sheet.work is not None
    return next(each.words for each in sheet.work.results if each.name == name)


def said(sheet: Filled) -> list[tuple[str, str]]:
    """Level and sentence of every finding."""
    assert sheet.work is not None
    return [(finding.level, finding.sentence) for finding in sheet.work.findings]


def problems(sheet: Filled) -> dict[str, str]:
    """What is wrong, by field."""
    return {name: entry.problem for name, entry in sheet.entries.items() if entry.problem}

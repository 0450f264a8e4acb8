"""Two aircraft compared in everything: what pages and the command line print of a pair."""

from collections.abc import Callable
from dataclasses import dataclass

from wetwing.aircraft.model import Aircraft
from wetwing.flight.record import Flight
from wetwing.flight.script import Edit, Script
from wetwing.flight.troubles import told
from wetwing.teach.differences.alike import alike, trials
from wetwing.teach.differences.figures import Row, figures
from wetwing.teach.differences.logic import Told, alerts, rules, rules_by_system
from wetwing.teach.differences.phases import Stage, stages
from wetwing.teach.differences.seen import Sights, View, seen
from wetwing.teach.differences.systems import systems

Fly = Callable[[Aircraft, tuple[Edit, ...]], Flight]
"""Flies an aircraft's script, or the one that both fly, with edits."""


@dataclass(frozen=True, slots=True)
class Trial:
    """One script flown by both: with which trouble (none in the first), in words, and what a crew sees."""

    edits: tuple[Edit, ...]
    says: str
    sights: Sights


@dataclass(frozen=True, slots=True)
class Pair:
    """Two aircraft compared.

    Of two that are alike, `rows`, `rules` and `alerts` hold what differs, `trials` what a crew sees of it. Of
    two types `rows` hold the main figures by system, `logic` the rules of each by system, `stages` the flight
    of each, phase by phase; their alerts are compared by what they say.
    """

    first: Aircraft
    second: Aircraft
    alike: bool
    rows: tuple[Row, ...]
    rules: tuple[Told, ...]
    alerts: tuple[Told, ...]
    logic: tuple[dict[str, list[tuple[str, str]]], ...]
    trials: tuple[Trial, ...]
    flights: tuple[Flight, Flight]
    stages: tuple[tuple[Stage, ...], ...]


def compare(first: Aircraft, second: Aircraft, script: Script, fly: Fly, view: View) -> Pair:
    """Compare two aircraft; `script` is the first one's. Raises Mistake where a script cannot be flown."""
    same = alike(first, second)
    plain = (fly(first, ()), fly(second, ()))
    found = [Trial((), "The script as it is", seen(*plain, view))] if same else []
    if same:
        for edit in trials(first, second, script):
            pair = (fly(first, (edit,)), fly(second, (edit,)))
            found.append(Trial((edit,), _said(pair[0]), seen(*pair, view)))
    return Pair(
        first=first,
        second=second,
        alike=same,
        rows=tuple(figures(first, second) if same else systems(first, second)),
        rules=tuple(rules(first, second)) if same else (),
        alerts=tuple(alerts(first, second, by_text=not same)),
        logic=() if same else (rules_by_system(first), rules_by_system(second)),
        trials=tuple(found),
        flights=plain,
        stages=() if same else (tuple(stages(plain[0])), tuple(stages(plain[1]))),
    )


def _said(flight: Flight) -> str:
    """What the trouble of a trial does."""
    trouble = next(one for one in flight.script.troubles if one.part == flight.script.edits[-1].part)
    return told(trouble, flight.aircraft.parts[trouble.part])

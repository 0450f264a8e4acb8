"""What the fleet's flights show: each rule, alert and kind of trouble of every aircraft, and a flight for it.

A scenario is an aircraft's own script with edits. Those of `staged.toml` are made for one rule or alert; the
others are generic: a trouble of each kind, on the first part on which it makes a difference.
"""

import tomllib
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from pathlib import Path

from wetwing.aircraft.model import Aircraft, Part
from wetwing.aircraft.names import quantities
from wetwing.aircraft.read import fleet, fleet_text, read_aircraft
from wetwing.flight.clock import clock, seconds
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight
from wetwing.flight.script import Edit, Script, read_script, script_aircraft, scripts, with_edits
from wetwing.flight.troubles import CATALOGUE, breakdowns

STAGED = Path(__file__).with_name("staged.toml")
EARLY_S = 60.0
"""Before anything is done on the ground."""

MADE_DIFFERENT = 1e-3
SMALL = {"kg": 1.0, "kg/h": 5.0, "L": 1.0, "bar": 0.01, "°C": 0.2, "%": 0.1, "s": 1.0}
"""A figure is another one where it differs by this share of its size and what is small in its unit."""


@dataclass(frozen=True)
class Scenario:
    """One flight with a name. `shows` are the rules and alerts that it is there for."""

    aircraft: str
    name: str
    edits: tuple[str, ...]
    shows: tuple[str, ...] = ()
    deviation_k: float | None = None


@dataclass(frozen=True)
class Shown:
    """That a rule, an alert or a kind of trouble occurs in a scenario; `clears` where it also ends there."""

    kind: str
    name: str
    scenario: str
    clears: bool


# ------------------------------------------------------------------ scenarios


@cache
def aircraft_of(name: str) -> Aircraft:
    return read_aircraft(name)


@cache
def base_of(name: str) -> str:
    """The aircraft that a revision is based on, or itself."""
    based = tomllib.loads(fleet_text(name)).get("based_on")
    return base_of(based) if isinstance(based, str) else name


@cache
def script_of(name: str) -> Script | None:
    """An aircraft's normal flight: the first script that asks for it, or for what it is based on."""
    for wanted in (name, base_of(name)):
        for script in scripts():
            if script_aircraft(script) == wanted:
                return read_script(script, aircraft_of(name))
    return None


def staged() -> list[Scenario]:
    """The flights that are made for one rule or alert; a revision flies those of its base as well."""
    found = []
    for name in fleet():
        for row in tomllib.loads(STAGED.read_text(encoding="utf-8"))["flight"]:
            if row["aircraft"] in (name, base_of(name)):
                edits = tuple(row["edits"])
                shows = tuple(row["shows"])
                found.append(Scenario(name, row["name"], edits, shows, row.get("deviation_k")))
    return found


def exceptions() -> dict[tuple[str, str], str]:
    """What no flight can show, by aircraft and name, and why."""
    rows = tomllib.loads(STAGED.read_text(encoding="utf-8")).get("exception", [])
    return {(row["aircraft"], row["name"]): row["why"] for row in rows}


@cache
def flown(scenario: Scenario) -> Flight:
    """A scenario's flight."""
    script = script_of(scenario.aircraft)
    assert script is not None, scenario.aircraft
    aircraft = aircraft_of(scenario.aircraft)
    if scenario.deviation_k is not None:
        script = replace(script, deviation_k=scenario.deviation_k)
    # The way up to the first edit is the normal flight's, and is not flown again.
    usual = plain(scenario.aircraft)
    known = flown(usual) if scenario != usual else None
    return fly(aircraft, with_edits(script, tuple(_edit(text) for text in scenario.edits), aircraft), known)


def _edit(text: str) -> Edit:
    time, _, setting = text.partition(" ")
    part, _, state = setting.partition("=")
    return Edit(seconds(time, "a staged edit"), part, state)


def plain(name: str) -> Scenario:
    """An aircraft's normal flight as a scenario."""
    script = script_of(name)
    return Scenario(name, script.title if script else "", ())


def _middle_s(script: Script) -> float:
    """Somewhere in the first half of the cruise, or of the flight where it has no phase of that name."""
    starts = [phase.start_s for phase in script.phases]
    for i, phase in enumerate(script.phases):
        if phase.name == "cruise":
            end_s = starts[i + 1] if i + 1 < len(starts) else script.ends_s
            return float(round(phase.start_s + 0.25 * (end_s - phase.start_s)))
    return float(round(0.4 * script.ends_s))


# ------------------------------------------------------------------ troubles


def trouble_kinds(aircraft: Aircraft) -> dict[tuple[str, str], list[Part]]:
    """Kinds of trouble that an aircraft can have, (group of the catalogue, kind), and the parts for each."""
    found: dict[tuple[str, str], list[Part]] = {}
    for part in aircraft.parts.values():
        for group, members in CATALOGUE.items():
            if breakdowns(part) is members and group_of(part, group):
                for one in members:
                    found.setdefault((group, one.kind), []).append(part)
    return found


def group_of(part: Part, group: str) -> bool:
    """Whether a part belongs to a group of the catalogue; some groups share their troubles."""
    return part.kind == group or (part.kind == "control" and group.startswith("control"))


def attempts(name: str, group: str, kind: str, parts: list[Part]) -> Iterator[Scenario]:
    """A trouble at mid-flight, then before anything is done, on one part after the other."""
    script = script_of(name)
    assert script is not None, name
    yield from (
        scenario
        for scenario in staged()
        if scenario.aircraft == name and f"{group}: {kind}" in scenario.shows
    )
    for part in parts:
        for time_s in (_middle_s(script), EARLY_S):
            yield Scenario(name, f"{part.label}: {kind}", (f"{clock(time_s)} {part.name}={kind}",))


def makes_a_difference(flight: Flight, without: Flight) -> bool:
    """Whether anything beside the trouble itself goes otherwise than without it."""
    trouble = flight.script.troubles[-1]
    indication = f"{trouble.part}-indication"
    if indication in flight.aircraft.parts:
        times = [change.time_s for change in flight.changes if change.part == trouble.part]
        return any(flight.state(indication, time_s) != flight.state(trouble.part, time_s) for time_s in times)
    if _turns(flight, trouble.name) != _turns(without, trouble.name):
        return True
    small = [SMALL.get(unit, 0.01) for unit in quantities(aircraft_of(without.aircraft.name)).values()]
    for time_s, usual in _samples(without.aircraft.name):
        if time_s < flight.duration_s:
            now = _row(flight, time_s)
            if any(
                abs(a - b) > MADE_DIFFERENT * abs(b) + c for a, b, c in zip(now, usual, small, strict=True)
            ):
                return True
    return False


@cache
def _samples(name: str) -> list[tuple[float, list[float]]]:
    """An aircraft's normal flight between its keyframes, well away from the jumps, where a hair's difference
    in time would count.
    """
    usual = flown(plain(name))
    times = [0.5 * (a + b) for a, b in pairwise(usual.time_s) if b - a > 2.0]
    return [(time_s, _row(usual, time_s)) for time_s in times]


def _row(flight: Flight, time_s: float) -> list[float]:
    right = min(bisect_right(flight.time_s, time_s), len(flight.time_s) - 1)
    left = max(right - 1, 0)
    a, b = flight.time_s[left], flight.time_s[right]
    share = (time_s - a) / (b - a) if b > a else 0.0
    return [column[left] + share * (column[right] - column[left]) for column in flight.quantities.values()]


def _turns(flight: Flight, trouble: str) -> list[tuple[int, str, str]]:
    # To ten seconds: a later step makes a time of the same event differ by a little.
    return sorted(
        (round(change.time_s / 10.0), change.part, change.after)
        for change in flight.changes
        if change.part != trouble
    )


@cache
def troubles_shown(name: str) -> dict[tuple[str, str], Scenario | None]:
    """For each kind of trouble of an aircraft, the first scenario in which it makes a difference."""
    found: dict[tuple[str, str], Scenario | None] = {}
    for (group, kind), parts in trouble_kinds(aircraft_of(name)).items():
        found[group, kind] = next(
            (
                scenario
                for scenario in attempts(name, group, kind, parts)
                if makes_a_difference(flown(scenario), flown(plain(name)))
            ),
            None,
        )
    return found


# ------------------------------------------------------------------ rules and alerts


@cache
def logic_shown(name: str) -> dict[str, Shown]:
    """For each rule and alert of an aircraft that occurs, a scenario in which it does; best one that ends."""
    every = [plain(name), *(scenario for scenario in staged() if scenario.aircraft == name)]
    if base_of(name) == name:
        every += [scenario for scenario in troubles_shown(name).values() if scenario]
    found: dict[str, Shown] = {}
    for scenario in every:
        flight = flown(scenario)
        for part in (*flight.aircraft.rules, *flight.aircraft.alerts):
            on = "active" if part.kind == "rule" else "on"
            began = [
                change.time_s
                for change in flight.changes
                if change.part == part.name and change.after == on and change.reason.kind != "trouble"
            ]
            if not began or (part.name in found and found[part.name].clears):
                continue
            ends = any(
                change.part == part.name and change.after != on and change.time_s > began[0]
                for change in flight.changes
            )
            if part.name not in found or ends:
                found[part.name] = Shown(part.kind, part.name, scenario.name, ends)
    return found


# ------------------------------------------------------------------ the table


def coverage_table(names: tuple[str, ...] = ()) -> str:
    """Every rule, alert and kind of trouble of the fleet, or of some aircraft, with a flight, as Markdown."""
    lines = ["| Aircraft | What | Shown in | Ends |", "| --- | --- | --- | --- |"]
    excepted = exceptions()
    for name in names or fleet():
        aircraft = aircraft_of(name)
        shown = logic_shown(name)
        for part in (*aircraft.rules, *aircraft.alerts):
            one = shown.get(part.name)
            why = excepted.get((name, part.name), "")
            flight = one.scenario if one else f"none: {why}"
            ends = "yes" if one and one.clears else why or "no"
            label = f"{part.kind} {part.name}"
            lines.append(f"| {aircraft.title} {aircraft.revision} | {label} | {flight} | {ends} |")
        if base_of(name) != name:
            base = aircraft_of(base_of(name))
            lines.append(
                f"| {aircraft.title} {aircraft.revision} | troubles | as revision {base.revision} | |"
            )
            continue
        for (group, kind), scenario in troubles_shown(name).items():
            why = excepted.get((name, f"{group}: {kind}"), "")
            where = scenario.name if scenario else f"none: {why}"
            lines.append(f"| {aircraft.title} {aircraft.revision} | trouble {group}: {kind} | {where} | |")
    return "\n".join(lines) + "\n"


PAGE = Path(__file__).resolve().parents[2] / "docs" / "reference" / "coverage.md"
HEAD = """---
# Written by `python -m tests.flight.coverage` from the tests' flights: change those, not this page.
title: What the tests show
---

# What the tests show

Every rule, alert and kind of trouble of every aircraft of the fleet, and a flight of the tests in which it
occurs. For a rule or an alert, *ends* says whether that flight also shows it end. A trouble counts as shown
where the flight with it differs from the one without it.

"""

if __name__ == "__main__":
    PAGE.write_text(HEAD + coverage_table(), encoding="utf-8")
    print(f"{PAGE.name} is written")

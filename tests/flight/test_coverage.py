"""Every rule, alert and kind of trouble of every aircraft occurs in a flight, and ends where it can."""

import pytest

from tests.flight.coverage import (
    PAGE,
    aircraft_of,
    base_of,
    coverage_table,
    exceptions,
    flown,
    logic_shown,
    plain,
    script_of,
    staged,
    trouble_kinds,
    troubles_shown,
)
from wetwing.aircraft.read import fleet
from wetwing.flight.clock import seconds
from wetwing.flight.troubles import CATALOGUE

WHOLE = [name for name in fleet() if base_of(name) == name]
"""Aircraft with a file of their own; a revision differs from its base in logic alone."""


def assert_logic_occurs_and_ends(name: str) -> None:
    shown = logic_shown(name)
    aircraft = aircraft_of(name)
    excepted = {part for where, part in exceptions() if where == name}
    wanted = [part.name for part in (*aircraft.rules, *aircraft.alerts) if part.name not in excepted]
    assert [part for part in wanted if part not in shown] == [], "never"
    assert [part for part in wanted if not shown[part].clears] == [], "never ends"
    # An exception that is shown all the same is an exception no longer.
    assert [part for part in excepted if part in shown and shown[part].clears] == []


def assert_staged_flights_show(name: str) -> None:
    for scenario in staged():
        logic = [part for part in scenario.shows if ":" not in part]
        if scenario.aircraft != name or not logic:
            continue
        flight = flown(scenario)
        begins_s = 0.0
        if scenario.edits:
            begins_s = seconds(scenario.edits[0].partition(" ")[0], "a staged edit")
        for part in logic:
            began = [c.time_s for c in flight.changes if c.part == part and c.after in ("active", "on")]
            assert began, (scenario.name, part)
            assert began[-1] >= begins_s, (scenario.name, part)


def assert_troubles_make_a_difference(name: str) -> None:
    missing = [f"{group}: {kind}" for (group, kind), found in troubles_shown(name).items() if found is None]
    assert [each for each in missing if (name, each) not in exceptions()] == []


def assert_table_is_whole(name: str) -> None:
    table = coverage_table((name,))
    lines = table.splitlines()
    assert lines[0] == "| Aircraft | What | Shown in | Ends |"
    rows = len(aircraft_of(name).rules) + len(aircraft_of(name).alerts)
    rows += len(trouble_kinds(aircraft_of(name))) if name in WHOLE else 1
    assert len(lines) == rows + 2
    assert all(line.count("|") == 5 for line in lines)
    assert "none: |" not in table
    # And the page of the site says the same: `python -m tests.flight.coverage` writes it anew.
    page = PAGE.read_text(encoding="utf-8")
    assert [line for line in lines if line not in page] == []


# All of an aircraft in one test, since its flights serve every question.
@pytest.mark.parametrize("name", fleet())
def test_everything_of_an_aircraft_occurs(name: str) -> None:
    assert script_of(name) is not None, f"no script flies {name}"
    assert_logic_occurs_and_ends(name)
    assert_staged_flights_show(name)
    if name in WHOLE:
        assert_troubles_make_a_difference(name)
    assert_table_is_whole(name)


def test_the_fleet_has_parts_for_every_kind_of_trouble() -> None:
    known = {pair for name in WHOLE for pair in trouble_kinds(aircraft_of(name))}
    assert known == {(group, one.kind) for group, members in CATALOGUE.items() for one in members}


@pytest.mark.parametrize("name", fleet())
def test_no_alert_but_an_advisory_sounds_in_a_normal_flight(name: str) -> None:
    flight = flown(plain(name))
    levels = {alert.name: alert.level for alert in flight.aircraft.alerts}
    sounded = {change.part for change in flight.changes if change.part in levels and change.after == "on"}
    assert {part for part in sounded if levels[part] != "advisory"} == set()

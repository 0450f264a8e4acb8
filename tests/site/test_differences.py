"""The pages on what differs between two aircraft, and the same as text."""

import re
from pathlib import Path
from typing import Any, cast

import pytest
from click.testing import CliRunner

from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.flight.script import Edit
from wetwing.teach.differences import HEADS, Pair, Row, Sight, Sights, Stage, Told, Trial
from wetwing.teach.differences.logic import rules, rules_by_system
from wetwing.teach.link import parse_link
from wetwing_tools.cli import main
from wetwing_tools.cli.differences import lines, script_of
from wetwing_tools.site import differences, notation
from wetwing_tools.site.front import body_of, read_front

FLEET = tuple(read_aircraft(name) for name in fleet())
ALDER, REVISED, JUNIPER = (read_aircraft(name) for name in ("alder-165", "alder-165-b", "juniper-285"))
NO_FLIGHTS = cast("Any", (None, None))

READS = ("reads {4,249 kg}", "reads {4,194 kg}")
EARLY = Sight(5760.0, "centre", "Centre", *READS, "It has given {350 kg}.", True)
VALVE = Sight(9000.5, "cross-feed", "Cross-feed valve", "shut", "open", "It is told to open.", False)
LEAK = Edit(4200.0, "main-left", "leak")


def sights(*found: Sight) -> Sights:
    return Sights(NO_FLIGHTS[0], NO_FLIGHTS[1], found)


def pair(first: Aircraft = ALDER, second: Aircraft = REVISED, **more: Any) -> Pair:
    given: dict[str, Any] = {
        "alike": True,
        "rows": (),
        "rules": tuple(rules(first, second)),
        "alerts": (),
        "logic": (),
        "trials": (
            Trial((), "The script as it is", sights(EARLY, VALVE)),
            Trial((LEAK,), "Main left leaks {1,000 kg/h}.", sights(VALVE)),
        ),
        "flights": NO_FLIGHTS,
        "stages": (),
    }
    return Pair(first=first, second=second, **{**given, **more})


def types() -> Pair:
    stages = tuple((Stage("cruise", "Cruise", tuple(f"{name} {head}" for head in HEADS)),) for name in "ab")
    return pair(
        second=JUNIPER,
        alike=False,
        rules=(),
        rows=(Row("Limits", "", "landing mass", "{86,000 kg}", "{178,000 kg}"),),
        alerts=(Told("x", "Tail fuel trapped", None, "Caution: Tail fuel trapped"),),
        logic=(rules_by_system(ALDER), rules_by_system(JUNIPER)),
        trials=(),
        stages=stages,
    )


def test_there_is_a_page_and_an_entry_of_the_menu_for_each_two_aircraft() -> None:
    entries = differences.navigation(FLEET)
    uris = [next(iter(entry.values())) for entry in entries]
    assert len(uris) == len(set(uris)) == 6
    assert len({next(iter(entry)) for entry in entries}) == 6
    ordered = [ALDER, *(one for one in FLEET if one.name != "alder-165")]
    index = differences.navigation(ordered)
    text = open_index()
    assert set(re.findall(r"\]\((\S+-and-\S+\.md)\)", text)) == {
        next(iter(entry.values())).removeprefix("differences/") for entry in index
    }


def open_index() -> str:
    return (Path(__file__).parents[2] / "docs" / differences.INDEX).read_text("utf-8")


def test_revisions_have_two_panels_at_the_first_thing_that_a_crew_sees() -> None:
    text = differences.page(pair())
    front = read_front(text, "x.md")
    assert (front.aircraft, front.flight) == ("alder-165", "day-sector")
    (block,) = (one for one in notation.pieces(body_of(text)) if isinstance(one, notation.Block))
    assert block.kind == "twin"
    assert "at: begin + 1:36:00\nfocus: centre\n" in block.text
    assert block.text.count("It has given") == 1
    assert block.text.index("It has given") > block.text.index("right:")


def test_each_line_opens_both_flights_on_the_gauges_with_the_trouble_in_both() -> None:
    text = differences.page(pair())
    links = [address.replace("&amp;", "&") for address in re.findall(r'href="(#[^"]+)"', text)]
    assert len(links) == 3
    for address in links:
        sides = [parse_link(part) for part in address.split(";")]
        assert [one.aircraft for one in sides if one] == ["alder-165", "alder-165-b"]
        assert {one.view for one in sides if one} == {"gauges"}
    last = [parse_link(part) for part in links[-1].split(";")]
    edits = [[(edit.part, edit.state) for edit in one.edits] for one in last if one]
    assert edits == [[("main-left", "leak")]] * 2
    assert (
        text.index("## What you will see, and when")
        < text.index("## With a trouble")
        < text.index("## Rules")
    )


def test_rules_stand_side_by_side_with_the_conditions_that_differ() -> None:
    text = differences.page(pair())
    row = next(line for line in text.splitlines() if line.startswith("| Outboard release |"))
    cells = [cell.strip() for cell in row.strip("|").split("|")]
    assert cells[1] == "changed"
    assert "900" in cells[2]
    assert "1,100" in cells[3]
    assert "begins when" in cells[2]
    assert "ends when" not in row


def test_what_is_the_same_is_said_to_be() -> None:
    text = differences.page(pair(rules=(), trials=(Trial((), "x", sights()),)))
    assert "a crew sees no difference" in text
    assert "```twin" not in text
    assert text.count("Nothing differs.") == 2
    assert "No figure of a tank" in text


def test_two_types_stand_side_by_side_phase_by_phase_and_by_system() -> None:
    text = differences.page(types())
    assert "```twin" not in text
    assert "### Cruise" in text
    for head in HEADS:
        assert f"| {head.capitalize()} | a {head} | b {head} |" in text
    assert "| Tail fuel trapped | – | Caution |" in text
    for rule in (*ALDER.rules, *JUNIPER.rules):
        assert f"- *{rule.label}.* " in text


def test_the_command_line_says_the_same() -> None:
    text = "\n".join(lines(pair()))
    assert "1:36:00  Centre: alder-165 reads {4,249 kg}; alder-165-b reads {4,194 kg}" in text
    assert "    alder-165-b: It has given {350 kg}." in text
    assert "What a crew sees: main left leaks {1,000 kg/h}" in text
    assert "begins when centre-left is dry or centre-right is dry" in text
    other = "\n".join(lines(types()))
    assert "juniper-285 through its own script" in other
    assert f"Cruise: {HEADS[0]} b {HEADS[0]};" in other


@pytest.mark.parametrize("aircraft", FLEET, ids=lambda aircraft: aircraft.name)
def test_every_aircraft_of_the_fleet_has_a_script(aircraft: Aircraft) -> None:
    expected = {"juniper-285": "juniper-long", "rowan-54": "rowan-hop"}.get(aircraft.name, "day-sector")
    assert script_of(aircraft) == expected


def test_one_aircraft_twice_and_one_that_is_not_there() -> None:
    twice = CliRunner().invoke(main, ["differences", "alder-165", "alder-165"])
    assert twice.exit_code == 2
    assert "AIRCRAFT: 'alder-165' twice; allowed: two aircraft" in twice.output
    nobody = CliRunner().invoke(main, ["differences", "alder-165", "junper-285"])
    assert nobody.exit_code == 2
    assert "nearest: juniper-285" in nobody.output

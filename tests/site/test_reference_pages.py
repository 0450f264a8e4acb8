"""Reference pages made from the data: complete for every aircraft of the fleet, and true to it."""

import re

import pytest

from wetwing.aircraft.condition import parse
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.flight.troubles import CATALOGUE, breakdowns
from wetwing_tools.site import alerts_page, generated, troubles_page
from wetwing_tools.site.conditions import said, said_items
from wetwing_tools.site.naming import title

ALDER = read_aircraft("alder-165")
OTHERS = tuple(read_aircraft(name) for name in fleet() if name != "alder-165")
PAGES = generated.pages(ALDER, OTHERS)


def pages_of(aircraft: Aircraft) -> str:
    if aircraft is ALDER:
        return "".join(PAGES[f"reference/{name}.md"] for name in ("aircraft", "rules", "alerts"))
    return "".join(PAGES[f"reference/{name}-{aircraft.name}.md"] for name in ("aircraft", "alerts"))


@pytest.mark.parametrize("aircraft", (ALDER, *OTHERS), ids=lambda aircraft: aircraft.name)
def test_an_aircrafts_pages_name_every_part_of_it(aircraft: Aircraft) -> None:
    text = pages_of(aircraft)
    unnamed = {"node", "airframe", "display", "vent", "check-valve", "supply"}
    for part in aircraft.parts.values():
        if part.kind not in unnamed:
            assert f"`{part.name}`" in text, part.name
    for state in {
        state for part in aircraft.parts.values() for state in part.states if part.kind != "control"
    }:
        assert f"`{state}`" in text, state


@pytest.mark.parametrize("kind", ["aircraft", "alerts"])
def test_every_page_of_an_aircraft_leads_to_those_of_the_others(kind: str) -> None:
    files = {f"{kind}.md", *(f"{kind}-{other.name}.md" for other in OTHERS)}
    for file in files:
        ways = PAGES[f"reference/{file}"].split("\n")[2]
        assert set(re.findall(r"\]\(([^)]+)\)", ways)) == files - {file}


def test_the_menu_has_every_page_of_the_other_aircraft() -> None:
    assert [next(iter(entry.values())) for entry in generated.navigation(OTHERS)] == [
        f"reference/{kind}-{other.name}.md" for other in OTHERS for kind in ("aircraft", "alerts")
    ]


def test_names_of_the_fleet_are_told_apart() -> None:
    titles = [title(aircraft) for aircraft in (ALDER, *OTHERS)]
    assert len(set(titles)) == len(titles)


def test_alerts_stand_under_their_level_with_what_raises_and_clears_them() -> None:
    text = alerts_page.page(ALDER)
    sections = dict(re.findall(r"^## (\w+)\n(.*?)(?=^## |\Z)", text, re.MULTILINE | re.DOTALL))
    words = {"warning": "Warnings", "caution": "Cautions", "advisory": "Advisories"}
    for alert in ALDER.alerts:
        own = sections[words[alert.level]]
        assert f"### {alert.text}\n" in own
        assert f"`{alert.name}`" in own
    assert text.count("- Comes on when") == text.count("- Leaves when") == len(ALDER.alerts)
    assert text.count("must have been so for") == sum(alert.after_s > 0.0 for alert in ALDER.alerts)


@pytest.mark.parametrize(
    ("condition", "words"),
    [
        ("engine-1 is running", "Engine 1 is running"),
        ("cross-feed is not open", "cross-feed valve is not open"),
        ("meter-1 is reads", "Engine 1 flow meter reads"),
        ("meter-1 is not reads", "Engine 1 flow meter does not read"),
        ("centre.gauged_kg > 300 kg", "centre gauge reads more than {300 kg}"),
        ("not centre.gauged_kg > 300 kg", "centre gauge reads {300 kg} or less"),
        ("total.gauged_kg < preselect.value_kg", "the gauges read in total less than preselected total"),
        (
            "total.gauged_kg < preselect.value_kg by 200 kg",
            "the gauges read in total less than preselected total by more than {200 kg}",
        ),
        (
            "not total.gauged_kg >= preselect.value_kg by 200 kg",
            "the gauges read in total not more than preselected total by {200 kg} or more",
        ),
        (
            "centre-feed is manual and (slats is out or flaps is out)",
            "centre feed selector is manual and (slat lever is out or flap lever is out)",
        ),
        (
            "not (slats is out or flaps is out)",
            "slat lever is not out and flap lever is not out",
        ),
    ],
)
def test_a_condition_in_words(condition: str, words: str) -> None:
    assert said(parse(condition, "here"), ALDER) == words


def test_a_condition_of_several_is_a_list() -> None:
    items = said_items(parse("slats is out and (flaps is out or apu is running)", "here"), ALDER)
    assert items == ["Slat lever is out", "Flap lever is out or APU is running"]


def test_every_trouble_stands_with_its_range_and_what_it_does() -> None:
    text = troubles_page.page(ALDER)
    sections = dict(re.findall(r"^## (.+?)\n(.*?)(?=^## |\Z)", text, re.MULTILINE | re.DOTALL))
    assert list(sections) == [troubles_page.title_of(key) for key in CATALOGUE]
    for key, many in CATALOGUE.items():
        own = sections[troubles_page.title_of(key)]
        rows = [line for line in own.splitlines() if line.startswith("| `")]
        assert [row.split("`")[1] for row in rows] == [found.kind for found in many]
        for found, row in zip(many, rows, strict=True):
            assert "{" not in row
            figures = [f"{figure:g}".replace("-", "−") for figure in (found.least, found.most, found.default)]
            cells = [cell.strip() for cell in row.strip("|").split("|")]
            assert cells[3:6] == (figures if found.key else ["–"] * 3)


def test_every_part_stands_under_the_troubles_that_it_can_have() -> None:
    text = troubles_page.page(ALDER)
    listed = re.findall(r"On the Alder 165: (.+)\.", text)
    names = [name for line in listed for name in re.findall(r"`([^`]+)`", line)]
    assert sorted(names) == sorted(name for name, part in ALDER.parts.items() if breakdowns(part))

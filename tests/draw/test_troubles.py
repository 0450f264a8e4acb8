"""The wing plan and the panel while something is wrong: each trouble is seen, and nothing else is."""

import pytest

from tests.draw.flights import alder, day_sector
from tests.draw.test_wing_plan import shown_text, text_boxes
from wetwing.draw import figures
from wetwing.draw.frame import LAYOUTS
from wetwing.draw.hooks import holds, paint
from wetwing.draw.look import STYLE
from wetwing.draw.panel_facts import facts, part_groups
from wetwing.draw.panel_page import json_in_script, panel_html
from wetwing.draw.svg import Element, make
from wetwing.draw.wing_plan import wing_plan_tree
from wetwing.flight.compact import compact
from wetwing.flight.record import Flight

AT_S = 9000.0
"""Well into the cruise, with the centre feeding."""


def plan(flight: Flight, time_s: float = AT_S, layout: str = "wide") -> Element:
    return wing_plan_tree(alder(), flight.moment(time_s), LAYOUTS[layout])


def drops(tree: Element) -> set[str]:
    """The parts whose leak is on show."""
    found = [e.attributes for e in tree.walk() if e.attributes.get("class") == "leak"]
    return {given["data-for"] for given in found if given.get("display") != "none"}


def words(tree: Element) -> str:
    return " | ".join(text for text, _ in text_boxes(tree))


@pytest.mark.parametrize(
    ("part", "trouble"),
    [
        ("main-left", "leak 900"),
        ("manifold-right", "leak 300"),
        ("engine-1", "leak before the meter 200"),
        ("engine-2", "leak after the meter 200"),
    ],
)
def test_a_leak_is_marked_at_its_part_while_it_is_there(part: str, trouble: str) -> None:
    flight = day_sector((8000.0, part, trouble), (9500.0, part, "mended"))
    assert drops(plan(flight, 7990.0)) == set()
    assert drops(plan(flight)) == {part}
    assert "leak" in words(plan(flight))
    assert drops(plan(flight, 9600.0)) == set()
    assert "leak" not in words(plan(flight, 9600.0))


def test_another_trouble_of_a_tank_is_no_leak() -> None:
    assert drops(plan(day_sector((8000.0, "main-left", "water 40")))) == set()


def test_fuel_that_passes_backwards_is_seen_as_such() -> None:
    flight = day_sector(
        (8000.0, "main-left-aft", "check valve stuck open"), (8300.0, "main-left-aft", "mended")
    )
    time_s = 8001.0
    moment = flight.moment(time_s)
    flow = moment.quantity("main-left-aft.flow_kg_h")
    assert moment.state("main-left-aft") == "flowing back"
    assert flow < -1000.0
    tree = plan(flight, time_s)
    (ribbon,) = [e for e in tree.walk() if e.attributes.get("data-flow") == "main-left-aft.flow_kg_h"]
    assert "data-back" in ribbon.attributes
    (run,) = [e for e in tree.walk() if ribbon in e.children]
    assert "one-way" in run.attributes["class"]
    arrows = [e for e in run.walk() if e.attributes.get("class") == "way"]
    assert [e.attributes.get("display") for e in arrows] == [None]
    assert f"flowing back {figures.figure(-flow, 'kg/h')}" in words(tree)
    before = plan(flight, 7990.0)
    (rested,) = [e for e in before.walk() if e.attributes.get("data-flow") == "main-left-aft.flow_kg_h"]
    assert "data-back" not in rested.attributes


@pytest.mark.parametrize(
    ("part", "trouble", "state"),
    [
        ("main-left-aft", "failed", "failed"),
        ("main-left-aft", "breaker open", "no power"),
        ("high-level-main-left", "no signal", "no signal"),
        ("probe-main-left-1", "no signal", "no signal"),
    ],
)
def test_a_state_that_a_trouble_gives_has_its_own_shape(part: str, trouble: str, state: str) -> None:
    tree = plan(day_sector((8000.0, part, trouble)))
    (group,) = [e for e in tree.walk() if e.attributes.get("data-part") == part]
    assert group.attributes["data-now"] == state
    assert f'.{alder().parts[part].kind}[data-now="{state}"]' in STYLE


def test_a_blank_gauge_says_so() -> None:
    tree = plan(day_sector(), day_sector().duration_s)
    assert words(tree).count("gauge no signal") == len(alder().tanks)
    assert "gauge no signal" not in words(plan(day_sector()))


@pytest.mark.parametrize("layout", sorted(LAYOUTS))
def test_no_label_lies_upon_another_while_much_is_wrong(layout: str) -> None:
    edits = (
        (8000.0, "main-left", "leak 900"),
        (8000.0, "manifold-left", "leak 300"),
        (8000.0, "engine-1", "leak after the meter 200"),
        (8000.0, "main-right-aft", "breaker open"),
        (8000.0, "main-right-forward", "failed"),
        (8000.0, "filter-2", "blocked"),
    )
    flight = day_sector(*edits)
    for time_s in (8001.0, AT_S):
        boxes = list(text_boxes(plan(flight, time_s, layout)))
        for index, (text, box) in enumerate(boxes):
            for other_text, other in boxes[index + 1 :]:
                assert not box.touches(other), f"{text!r} on {other_text!r} in {layout}"


def test_a_hook_can_ask_for_a_trouble_and_for_the_opposite() -> None:
    flight = day_sector((8000.0, "main-left", "leak 900"))
    moment = flight.moment(AT_S)
    assert holds("main-left~leak", moment)
    assert not holds("main-right~leak", moment)
    root = make("g").add(make("tspan", "a", data_unless="main-left~leak & centre=holding"))
    paint(root, moment)
    assert shown_text(root) == ""
    paint(root, flight.moment(7000.0))
    assert shown_text(root) == "a"


def test_the_record_tells_which_part_a_trouble_is_of() -> None:
    parts = compact(day_sector((8000.0, "main-left", "leak 900")))["parts"]
    assert isinstance(parts, list)
    (trouble,) = [part for part in parts if part["kind"] == "trouble"]
    assert (trouble["of"], trouble["trouble"], trouble["start"]) == ("main-left", "leak", "absent")


def test_every_part_of_a_flight_can_be_chosen() -> None:
    flight = day_sector((8000.0, "main-left", "leak 900"), (8000.0, "cross-feed", "indication frozen"))
    chosen = [name for _, names in part_groups(flight.aircraft) for name in names]
    assert sorted(chosen) == sorted(flight.aircraft.parts)
    html = panel_html(
        flight.aircraft, flight, record_json=json_in_script(compact(flight)), page="x", start_s=AT_S,
        focus="edit-1",
    )  # fmt: skip
    assert "Main left leaks: 900 kg/h when the tank is full" in html


def test_the_script_knows_what_each_part_can_suffer() -> None:
    troubles = facts(alder())["troubles"]
    assert isinstance(troubles, dict)
    assert troubles["main-left"] == ["leak", "water"]
    assert troubles["preselect"] == ["wrong units"]
    assert "gross-weight" not in troubles

"""The wing plan: complete, well formed, true to its moment, and with no label upon another."""

import re
from xml.etree import ElementTree

import pytest

from tests.draw.flights import alder, day_sector, telling_moments
from wetwing.draw import figures
from wetwing.draw.frame import LAYOUTS, Box
from wetwing.draw.lettering import width_px
from wetwing.draw.svg import Element
from wetwing.draw.wing_plan import wing_plan, wing_plan_tree

NOT_DRAWN = {
    *("control", "display", "rule", "alert", "bus", "compensator", "meter", "totaliser"),
    *("airframe", "indication", "trouble"),
}


@pytest.fixture(params=sorted(LAYOUTS))
def layout(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def test_it_is_well_formed_and_the_same_every_time(layout: str) -> None:
    moment = day_sector().moment(8200.0)
    drawn = wing_plan(alder(), moment, layout=layout)
    assert ElementTree.fromstring(drawn).tag.endswith("svg")
    assert drawn == wing_plan(alder(), moment, layout=layout)


def test_every_part_that_has_a_place_is_there_once(layout: str) -> None:
    tree = wing_plan_tree(alder(), None, LAYOUTS[layout])
    drawn = [element.attributes["data-part"] for element in tree.walk() if "data-part" in element.attributes]
    wanted = [part.name for part in alder().parts.values() if part.kind not in NOT_DRAWN]
    assert sorted(drawn) == sorted(wanted)


def test_names_inside_are_unique_by_their_key(layout: str) -> None:
    drawn = wing_plan(alder(), None, layout=layout, key="one")
    ids = re.findall(r' id="([^"]+)"', drawn)
    assert len(ids) == len(set(ids)) > 5
    assert all(name.startswith("one-") for name in ids)
    used = set(re.findall(r"url\(#([^)]+)\)", drawn))
    assert used <= set(ids)


@pytest.mark.parametrize("units", ["kg", "lb"])
def test_masses_are_those_of_the_moment(layout: str, units: str) -> None:
    for time_s in telling_moments()[::7]:
        moment = day_sector().moment(time_s)
        tree = wing_plan_tree(alder(), moment, LAYOUTS[layout], units=units)
        for tank in alder().tanks:
            shown = [
                e.text() for e in tree.walk() if e.attributes.get("data-value") == f"{tank.name}.actual_kg"
            ]
            assert shown == [figures.figure(moment.quantity(f"{tank.name}.actual_kg"), "kg", units)]


def test_states_are_those_of_the_moment(layout: str) -> None:
    for time_s in telling_moments()[::5]:
        moment = day_sector().moment(time_s)
        for element in wing_plan_tree(alder(), moment, LAYOUTS[layout]).walk():
            given = element.attributes
            if "data-state" in given:
                assert element.text() == moment.state(given["data-state"])
            if "data-now-of" in given:
                assert given["data-now"] == moment.state(given["data-now-of"])


def test_a_ribbon_is_as_wide_as_its_flow_and_gone_without() -> None:
    moment = day_sector().moment(8200.0)
    ribbons = [
        e for e in wing_plan_tree(alder(), moment, LAYOUTS["wide"]).walk() if "data-flow" in e.attributes
    ]
    widths = {}
    for ribbon in ribbons:
        flow = sum(moment.quantity(name) for name in ribbon.attributes["data-flow"].split(" + "))
        assert (ribbon.attributes.get("display") == "none") == (abs(flow) < 1.0)
        if abs(flow) > 1000.0:
            widths[ribbon.attributes["data-flow"]] = float(ribbon.attributes["stroke-width"]) / abs(flow)
    assert len(widths) >= 4
    assert max(widths.values()) == pytest.approx(min(widths.values()), rel=0.01)


def test_the_fuel_draws_back_towards_the_root() -> None:
    before, after = day_sector().moment(12_000.0), day_sector().moment(20_000.0)
    lengths = []
    for moment in (before, after):
        tree = wing_plan_tree(alder(), moment, LAYOUTS["wide"])
        (fuel,) = [e for e in tree.walk() if e.attributes.get("data-fill") == "main-right.fill"]
        lengths.append((float(fuel.attributes["x"]), float(fuel.attributes["width"])))
    assert lengths[0][0] == lengths[1][0], "the inboard end stays"
    assert lengths[0][1] > lengths[1][1], "the outboard end comes in"
    full = abs(float(fuel.attributes["data-length"]))
    share = after.quantity("main-right.fill")
    assert lengths[1][1] == pytest.approx(full * share**0.5, abs=0.01)


def test_no_label_lies_upon_another_at_any_telling_moment(layout: str) -> None:
    width = LAYOUTS[layout].width
    for time_s in telling_moments():
        tree = wing_plan_tree(alder(), day_sector().moment(time_s), LAYOUTS[layout])
        boxes = list(text_boxes(tree))
        assert len(boxes) > 30
        for index, (words, box) in enumerate(boxes):
            assert box.left >= 0 and box.right <= width, f"{words!r} leaves the picture at {time_s}"
            for other_words, other in boxes[index + 1 :]:
                assert not box.touches(other), f"{words!r} on {other_words!r} at {time_s} in {layout}"


def test_an_overlap_would_be_found() -> None:
    tree = wing_plan_tree(alder(), day_sector().moment(8200.0), LAYOUTS["wide"])
    first = next(e for e in tree.walk() if e.tag == "text" and e.text())
    tree.add(Element("text", dict(first.attributes), ["on top"]))
    boxes = [box for _, box in text_boxes(tree)]
    assert any(a.touches(b) for index, a in enumerate(boxes) for b in boxes[index + 1 :])


def out_of_view(element: Element, view: str) -> bool:
    """Say whether an element is hidden, by its moment or because it stands in the other view alone."""
    other = "of-gauges" if view == "inside" else "of-inside"
    return element.attributes.get("display") == "none" or other in element.attributes.get("class", "").split()


def text_boxes(tree: Element, view: str = "inside") -> list[tuple[str, Box]]:
    """Estimate the box of the letters of every text on show in a view."""
    if out_of_view(tree, view):
        return []
    found = []
    if tree.tag == "text":
        words = shown_text(tree, view)
        if words.strip():
            size = float(tree.attributes["font-size"])
            x, y = float(tree.attributes["x"]), float(tree.attributes["y"])
            wide = width_px(words, size, "font-weight" in tree.attributes)
            left = x - {"middle": wide / 2, "end": wide}.get(tree.attributes.get("text-anchor", ""), 0.0)
            found.append((words, Box(left, y - size * 0.74, left + wide, y + size * 0.2)))
    for child in tree.children:
        if isinstance(child, Element):
            found += text_boxes(child, view)
    return found


def shown_text(element: Element, view: str = "inside") -> str:
    """Return the text of an element without its hidden pieces."""
    if out_of_view(element, view):
        return ""
    return "".join(child if isinstance(child, str) else shown_text(child, view) for child in element.children)

"""Every aircraft of the fleet is drawn whole and readable, throughout its own flight."""

from collections.abc import Mapping
from functools import cache

import pytest

from tests.draw.test_wing_plan import NOT_DRAWN, text_boxes
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.draw.chart_rows import chart_rows
from wetwing.draw.feed_chart import feed_chart
from wetwing.draw.frame import LAYOUTS
from wetwing.draw.svg import Element
from wetwing.draw.wing_plan import wing_plan_tree
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight
from wetwing.flight.script import read_script, script_aircraft, scripts

MOMENTS = 24


@cache
def flown(name: str) -> Flight:
    """An aircraft's own flight, or the demonstration flight where it has none: a revision flies that."""
    own = [script for script in scripts() if script_aircraft(script) == name]
    aircraft = read_aircraft(name)
    return fly(aircraft, read_script((*own, "day-sector")[0], aircraft))


@pytest.mark.parametrize("layout", sorted(LAYOUTS))
@pytest.mark.parametrize("name", fleet())
def test_every_part_with_a_place_is_drawn_once(name: str, layout: str) -> None:
    aircraft: Aircraft = read_aircraft(name)
    tree = wing_plan_tree(aircraft, None, LAYOUTS[layout])
    drawn = [e.attributes["data-part"] for e in tree.walk() if "data-part" in e.attributes]
    wanted = [part.name for part in aircraft.parts.values() if part.kind not in NOT_DRAWN]
    assert sorted(drawn) == sorted(wanted)


@pytest.mark.parametrize("layout", sorted(LAYOUTS))
@pytest.mark.parametrize("name", fleet())
def test_no_label_lies_upon_another_or_leaves_the_picture(name: str, layout: str) -> None:
    flight = flown(name)
    for step in range(MOMENTS + 1):
        time_s = flight.duration_s * step / MOMENTS
        boxes = text_boxes(wing_plan_tree(flight.aircraft, flight.moment(time_s), LAYOUTS[layout]))
        assert len(boxes) > 20
        for index, (words, box) in enumerate(boxes):
            assert box.left >= 0 and box.right <= LAYOUTS[layout].width and box.top >= 0, words
            for other_words, other in boxes[index + 1 :]:
                assert not box.touches(other), f"{words!r} on {other_words!r} at {time_s} in {layout}"


@pytest.mark.parametrize("name", fleet())
def test_the_chart_has_a_row_for_each_tank_that_feeds(name: str) -> None:
    aircraft = read_aircraft(name)
    rows = {row.name: row for row in chart_rows(aircraft)}
    for pump in aircraft.pumps:
        assert pump.tank in rows, pump.name
        assert f"{pump.name}.flow_kg_h" in rows[pump.tank or ""].flow
    assert feed_chart(aircraft, flown(name), 0.0).startswith("<svg")


def names_the_tail(attributes: Mapping[str, object]) -> bool:
    return attributes.get("data-for") == "tail" and "label tank" in str(attributes.get("class"))


@pytest.mark.parametrize("layout", [name for name in sorted(LAYOUTS) if not LAYOUTS[name].brief])
def test_words_over_the_line_between_two_fuselage_tanks_have_a_plate(layout: str) -> None:
    """A ribbon may run from one to the other under them. Where there is one tank, nothing runs there."""
    plated = {}
    for name in fleet():
        parts = [one.attributes for one in wing_plan_tree(read_aircraft(name), None, LAYOUTS[layout]).walk()]
        plated[name] = [own for own in parts if own.get("class") == "plate"]
    assert {name for name, plates in plated.items() if plates} == {"juniper-285"}
    (plate,) = plated["juniper-285"]
    drawn = wing_plan_tree(read_aircraft("juniper-285"), None, LAYOUTS[layout])
    (label,) = [own for own in drawn.walk() if names_the_tail(own.attributes)]
    left, top, width, height = (float(str(plate[key])) for key in ("x", "y", "width", "height"))
    for text in label.children:
        assert isinstance(text, Element)
        assert left < float(str(text.attributes["x"])) < left + width
        assert top < float(str(text.attributes["y"])) < top + height

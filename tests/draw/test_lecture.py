"""The drawing for a class: whole, with nothing on anything, and in letters that the last row reads."""

import pytest

from tests.draw.test_fleet import MOMENTS, flown
from tests.draw.test_wing_plan import NOT_DRAWN, text_boxes
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.draw.frame import LECTURE, panel_layouts
from wetwing.draw.wing_plan import wing_plan_tree

# A projector's width without the margins of the class view, and the height of the smallest words on it.
PROJECTOR_PX = 1280 - 2 * 34
LEAST_PX = 24.0
SHOWN = [name for name in fleet() if LECTURE in panel_layouts(read_aircraft(name))]


def test_the_demonstration_aircraft_has_a_drawing_for_a_class() -> None:
    assert {"alder-165", "rowan-54"} <= set(SHOWN)


def test_its_least_words_are_read_from_the_last_row() -> None:
    assert LECTURE.small_size * PROJECTOR_PX / LECTURE.width >= LEAST_PX


@pytest.mark.parametrize("name", SHOWN)
def test_every_part_is_drawn_and_no_label_lies_upon_another(name: str) -> None:
    flight = flown(name)
    aircraft = flight.aircraft
    tree = wing_plan_tree(aircraft, None, LECTURE)
    drawn = [e.attributes["data-part"] for e in tree.walk() if "data-part" in e.attributes]
    assert sorted(drawn) == sorted(
        part.name for part in aircraft.parts.values() if part.kind not in NOT_DRAWN
    )
    for step in range(MOMENTS + 1):
        time_s = flight.duration_s * step / MOMENTS
        boxes = text_boxes(wing_plan_tree(aircraft, flight.moment(time_s), LECTURE))
        for index, (words, box) in enumerate(boxes):
            assert box.left >= 0 and box.right <= LECTURE.width and box.top >= 0, words
            for other_words, other in boxes[index + 1 :]:
                assert not box.touches(other), f"{words!r} on {other_words!r} at {time_s}"

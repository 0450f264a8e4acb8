"""The drawings for a class: whole, with nothing on anything, and in letters that the last row reads."""

from itertools import combinations

import pytest

from tests.draw.test_fleet import MOMENTS, flown
from tests.draw.test_wing_plan import NOT_DRAWN, text_boxes
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.draw.frame import HALL, LECTURE, Box, panel_layouts
from wetwing.draw.hooks import paint
from wetwing.draw.plan_brief import apart
from wetwing.draw.svg import Element
from wetwing.draw.wing_plan import laid_out, wing_plan_tree

# A projector's width without the margins of the class view, and the height of the smallest words on it.
PROJECTOR_PX = 1280 - 2 * 34
# Half of it, for two drawings side by side, each with margins of 1.1 hundredths of the width.
HALF_PX = 1280 / 2 - 2 * 0.011 * 1280
LEAST_PX = 24.0
SHOWN = [name for name in fleet() if LECTURE in panel_layouts(read_aircraft(name))]


def test_the_demonstration_aircraft_has_a_drawing_with_every_label() -> None:
    assert {"alder-165", "rowan-54"} <= set(SHOWN)


def test_its_least_words_are_read_from_the_last_row() -> None:
    assert LECTURE.small_size * PROJECTOR_PX / LECTURE.width >= LEAST_PX


def test_names_and_masses_are_read_from_the_last_row_in_half_of_the_screen() -> None:
    assert min(HALL.name_size, HALL.mass_size) * HALF_PX / HALL.width >= LEAST_PX


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


@pytest.mark.parametrize("name", fleet())
def test_every_aircraft_has_one_that_is_whole_and_names_tanks_and_engines(name: str) -> None:
    flight = flown(name)
    aircraft = flight.aircraft
    assert HALL in panel_layouts(aircraft)
    tree = wing_plan_tree(aircraft, None, HALL)
    drawn = [e.attributes["data-part"] for e in tree.walk() if "data-part" in e.attributes]
    assert sorted(drawn) == sorted(p.name for p in aircraft.parts.values() if p.kind not in NOT_DRAWN)
    labels = [e for e in tree.walk() if e.attributes.get("class", "").split()[:1] == ["label"]]
    named = [label.attributes["data-for"] for label in labels]
    assert sorted(named) == sorted(part.name for part in (*aircraft.tanks, *aircraft.engines))
    # Beside time and sentence there is room for a drawing that is broader than it is high.
    _, _, width, height = (float(size) for size in tree.attributes["viewBox"].split())
    assert height <= 0.68 * width


@pytest.mark.parametrize("units", ["kg", "lb"])
@pytest.mark.parametrize("name", fleet())
def test_no_label_of_it_lies_upon_another(name: str, units: str) -> None:
    flight = flown(name)
    for step in range(0, MOMENTS + 1, 4):
        moment = flight.moment(flight.duration_s * step / MOMENTS)
        tree = wing_plan_tree(flight.aircraft, None, HALL)
        paint(given_way(paint(tree, moment, units)), moment, units)
        boxes = text_boxes(tree)
        assert len(boxes) >= 2 * len(flight.aircraft.tanks)
        for words, box in boxes:
            assert box.left >= 0 and box.right <= HALL.width and box.top >= 0, words
        for (words, box), (other_words, other) in combinations(boxes, 2):
            assert not box.touches(other), f"{words!r} on {other_words!r} at {moment.time_s}"


def given_way(tree: Element) -> Element:
    """Take out the lines that give way to one that stands in their place, as the pictures' style does."""
    for label in tree.walk():
        lines = [child for child in label.children if isinstance(child, Element) and child.tag == "text"]
        for index, line in enumerate(lines):
            later = [own for own in lines[index + 1 :] if "instead" in own.attributes.get("class", "")]
            if "gives" in line.attributes.get("class", "") and any(map(says_something, later)):
                label.children.remove(line)
    return tree


def says_something(line: Element) -> bool:
    pieces = [child for child in line.children if isinstance(child, Element)]
    return any(piece.text() and piece.attributes.get("display") != "none" for piece in pieces)


def test_labels_are_pushed_apart_outwards_first() -> None:
    assert apart([50.0, 60.0], [10.0, 10.0], 2.0, 100.0) == [50.0, 72.0]
    # The outer one has no room to go: the inner one moves in.
    assert apart([50.0, 85.0], [20.0, 20.0], 2.0, 100.0) == [38.0, 80.0]
    assert apart([5.0], [10.0], 2.0, 100.0) == [12.0]


@pytest.mark.parametrize("name", fleet())
def test_its_words_keep_clear_of_symbols_and_stay_in_the_picture_in_every_state(name: str) -> None:
    aircraft = read_aircraft(name)
    frame, lines, labels = laid_out(aircraft, HALL)
    size = HALL.symbol
    places = [*lines.valves.values(), *(lines.pump_place(pump) for pump in aircraft.pumps)]
    places += [frame.at(apu.at_m) for apu in aircraft.apus]
    symbols = [Box(x - size, y - size, x + size, y + size) for x, y in places]
    assert len(symbols) >= 8
    for label in labels.labels:
        box = label.box()
        assert box.left >= 0 and box.right <= HALL.width, label.part
        if label.part in {tank.name for tank in aircraft.tanks if tank.side != "centre"}:
            assert not any(box.touches(symbol, 3) for symbol in symbols), label.part


@pytest.mark.parametrize("name", SHOWN)
def test_its_rows_have_room_in_a_broad_font(name: str) -> None:
    _, _, labels = laid_out(read_aircraft(name), LECTURE)
    for label, _ in (*labels.columns[-1], *labels.columns[1]):
        (x, _), wide = label.place, 1.1 * label.width(usual=True)
        assert (x - wide if label.anchor == "end" else LECTURE.width - x - wide) >= 0, label.part

"""The leader lines of the wing plan: each leads from its label to its part, clear of the other words."""

from collections.abc import Iterator
from itertools import pairwise

import pytest

from tests.draw.test_fleet import MOMENTS, flown
from tests.draw.test_wing_plan import text_boxes
from wetwing.aircraft.read import fleet
from wetwing.draw.frame import LAYOUTS, Box
from wetwing.draw.plan_leaders import CLEAR, LANE, Wish, lane, meets, ways
from wetwing.draw.svg import Element
from wetwing.draw.wing_plan import wing_plan_tree

# The long one has its trim line under the names of the tanks that it joins, and there its leaders go too.
WITHOUT_A_TRIM_LINE = [name for name in fleet() if name != "juniper-285"]
PLACES = 40


def places_along(leader: Element) -> Iterator[tuple[float, float]]:
    """Places along a leader, close together."""
    corners = [tuple(map(float, place.split(","))) for place in leader.attributes["points"].split()]
    for (x1, y1), (x2, y2) in pairwise(corners):
        for step in range(PLACES + 1):
            yield x1 + (x2 - x1) * step / PLACES, y1 + (y2 - y1) * step / PLACES


def words_of_labels(tree: Element) -> list[tuple[str, str, Box]]:
    """The words on show, with the part whose label they stand in."""
    labels = [own for own in tree.walk() if own.attributes.get("class", "").split()[:1] == ["label"]]
    return [(own.attributes["data-for"], *found) for own in labels for found in text_boxes(own)]


@pytest.mark.parametrize("layout", ["wide", "snug"])
@pytest.mark.parametrize("name", WITHOUT_A_TRIM_LINE)
def test_no_leader_runs_through_the_words_of_another_label(name: str, layout: str) -> None:
    flight = flown(name)
    for step in range(0, MOMENTS + 1, 3):
        moment = flight.moment(flight.duration_s * step / MOMENTS)
        tree = wing_plan_tree(flight.aircraft, moment, LAYOUTS[layout])
        leaders = [own for own in tree.walk() if "data-leads" in own.attributes]
        words = words_of_labels(tree)
        assert len(leaders) > 8 and len(words) > 20
        for leader in leaders:
            own = leader.attributes["data-leads"]
            for part, said, box in words:
                if part == own:
                    continue
                near = Box(box.left - 1, box.top, box.right + 1, box.bottom)
                through = any(
                    near.left < x < near.right and near.top < y < near.bottom for x, y in places_along(leader)
                )
                assert not through, f"the line to {own} runs through {said!r} at {moment.time_s}"


def test_a_leader_goes_round_words_that_stand_in_its_way() -> None:
    own, other = Box(0, 0, 40, 10), Box(20, 30, 60, 40)
    wish = Wish(((30, 12), (30, 80)), 0, ((44, 5),))
    (way,) = ways((wish,), (own, other))
    assert way[-1] == (30, 80) and len(way) > 2
    assert not any(meets(start, end, other, CLEAR) for start, end in pairwise(way))
    # With nothing in the way, or with no way that is near enough, it goes straight.
    assert ways((wish,), (own, Box(100, 0, 140, 10))) == [wish.plain]
    assert ways((wish,), (own, Box(-900, 30, 900, 40))) == [wish.plain]


def test_lines_that_come_down_keep_clear_of_words_and_of_one_another() -> None:
    words = (Box(90, 20, 120, 40),)
    assert lane(80, 0, 100, 1, words, None) == 80
    assert lane(100, 0, 100, 1, words, None) == 120 + CLEAR + 1
    assert lane(100, 0, 100, -1, words, None) == 90 - CLEAR - 1
    assert lane(100, 50, 100, 1, words, None) == 100
    assert lane(122, 0, 100, 1, words, 124) == 124 + LANE


def test_a_line_that_only_passes_a_box_does_not_meet_it() -> None:
    box = Box(10, 10, 20, 20)
    assert meets((0, 15), (30, 15), box, 0)
    assert meets((0, 0), (30, 30), box, 0)
    assert not meets((0, 22), (30, 22), box, 0) and meets((0, 22), (30, 22), box, 3)
    assert not meets((0, 15), (9, 15), box, 0) and not meets((0, 30), (5, 0), box, 0)

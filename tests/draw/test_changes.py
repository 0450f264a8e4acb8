"""What a reader's own changes find on the page: places for them, the figures of troubles, and the shadow."""

import pytest

from wetwing.aircraft.model import Control
from wetwing.aircraft.read import read_aircraft
from wetwing.draw.frame import LAYOUTS
from wetwing.draw.hooks import paint
from wetwing.draw.panel_changes import changes_card, lane
from wetwing.draw.panel_facts import trouble_figures
from wetwing.draw.wing_plan import wing_plan_tree
from wetwing.flight.fly import fly
from wetwing.flight.script import read_script
from wetwing.flight.troubles import breakdowns

FLEET = ("alder-165", "rowan-54", "juniper-285")


@pytest.mark.parametrize("name", FLEET)
def test_every_trouble_with_a_figure_is_known_with_its_range(name: str) -> None:
    aircraft = read_aircraft(name)
    figures = trouble_figures(aircraft)
    for part in aircraft.parts.values():
        group = "control with a number" if isinstance(part, Control) and part.quantity else part.kind
        for trouble in breakdowns(part):
            found = figures.get(group, {}).get(trouble.kind)
            if trouble.key is None:
                assert found is None
                continue
            assert found is not None
            assert (found["least"], found["most"], found["usual"]) == (
                trouble.least,
                trouble.most,
                trouble.default,
            )
            assert found["unit"], f"{trouble.kind} of {part.name} has a figure without a unit"


def test_a_still_picture_has_no_shadow() -> None:
    aircraft = read_aircraft("alder-165")
    flight = fly(aircraft, read_script("day-sector", aircraft))
    picture = paint(wing_plan_tree(aircraft, flight.moment(9000.0), LAYOUTS["wide"]), flight.moment(9000.0))
    shadows = [own for own in picture.walk() if "data-was-fill" in own.attributes]
    assert [own.attributes["data-was-fill"] for own in shadows] == [
        f"{tank.name}.fill" for tank in aircraft.tanks
    ]
    assert all(own.attributes["display"] == "none" for own in shadows)
    said = [own for own in picture.walk() if own.tag == "tspan" and "data-was" in own.attributes]
    assert len(said) == len(aircraft.tanks)
    assert not any(own.children for own in said)


def test_the_card_and_the_lane_wait_for_the_script() -> None:
    for part in (changes_card(), lane()):
        assert "ww-live" in part.attributes["class"]
    assert [own.children[0] for own in changes_card().walk() if own.tag == "button"] == [
        "Undo",
        "Redo",
        "Back to the recorded flight",
        "Change something else…",
    ]

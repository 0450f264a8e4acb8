"""The drawing is made from the data alone: other aircraft than the demonstration type are drawn as well."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from tests.draw.flights import alder
from tests.draw.test_wing_plan import text_boxes
from wetwing.aircraft.model import Aircraft
from wetwing.draw.chart_rows import chart_rows
from wetwing.draw.frame import LAYOUTS
from wetwing.draw.wing_plan import wing_plan, wing_plan_tree


class Resting:
    """A moment at which nothing happens and every part is as it is made."""

    def __init__(self, aircraft: Aircraft) -> None:
        self.parts = aircraft.parts

    def quantity(self, name: str) -> float:
        return 0.0

    def state(self, part: str) -> str:
        return self.parts[part].initial

    def setting(self, part: str) -> str:
        return self.parts[part].initial

    def shown(self, part: str) -> str:
        return self.parts[part].initial

    def troubles(self, part: str) -> tuple[str, ...]:
        return ()


def without_a_centre_tank() -> Aircraft:
    aircraft = alder()
    return replace(
        aircraft,
        tanks=tuple(tank for tank in aircraft.tanks if tank.side != "centre"),
        pumps=tuple(pump for pump in aircraft.pumps if pump.tank != "centre"),
        valves=tuple(valve for valve in aircraft.valves if not valve.ends or "centre" not in valve.ends),
        sensors=tuple(sensor for sensor in aircraft.sensors if sensor.tank != "centre"),
        jet_pumps=(),
    )


def with_two_tanks_and_little_else() -> Aircraft:
    bare = without_a_centre_tank()
    mains = tuple(tank for tank in bare.tanks if tank.name.startswith("main"))
    kept = {"cross-feed", "shut-off-1", "shut-off-2"}
    return replace(
        bare,
        tanks=mains,
        valves=tuple(valve for valve in bare.valves if valve.name in kept),
        sensors=tuple(sensor for sensor in bare.sensors if sensor.tank.startswith("main")),
        pumps=tuple(pump for pump in bare.pumps if pump.name.endswith("forward")),
        transfers=(),
        returns=(),
        supplies=(),
        check_valves=(),
        apus=(),
        controls=(),
    )


def with_four_engines() -> Aircraft:
    aircraft = alder()
    engines, valves = list(aircraft.engines), list(aircraft.valves)
    for engine in aircraft.engines:
        side = 1 if engine.at_m[1] > 0 else -1
        shut_off = next(valve for valve in aircraft.valves if valve.name == engine.valve)
        outer = f"{shut_off.name}-outer"
        valves.append(replace(shut_off, name=outer, at_m=(18.9, side * 10.6)))
        place = (engine.at_m[0] + 2.6, side * 10.8)
        engines.append(replace(engine, name=f"{engine.name}-outer", valve=outer, at_m=place))
    parts = {part.name: part for part in (*engines, *valves)}
    more = {**aircraft.parts, **parts}
    return replace(aircraft, engines=tuple(engines), valves=tuple(valves), parts=more)


@pytest.mark.parametrize("layout", sorted(LAYOUTS))
@pytest.mark.parametrize("make", [without_a_centre_tank, with_two_tanks_and_little_else, with_four_engines])
def test_it_is_drawn_whole(make: object, layout: str) -> None:
    assert callable(make)
    aircraft: Aircraft = make()
    moment = Resting(aircraft)
    assert ElementTree.fromstring(wing_plan(aircraft, moment, layout=layout)).tag.endswith("svg")
    tree = wing_plan_tree(aircraft, moment, LAYOUTS[layout])
    drawn = {e.attributes["data-part"] for e in tree.walk() if "data-part" in e.attributes}
    for group in (aircraft.tanks, aircraft.pumps, aircraft.valves, aircraft.engines, aircraft.nodes):
        assert {part.name for part in group} <= drawn
    boxes = text_boxes(tree)
    for index, (words, box) in enumerate(boxes):
        for other_words, other in boxes[index + 1 :]:
            assert not box.touches(other), f"{words!r} on {other_words!r}"


def test_rows_are_only_for_what_there_is() -> None:
    assert [row.name for row in chart_rows(with_two_tanks_and_little_else())] == ["main-left", "main-right"]

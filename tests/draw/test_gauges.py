"""The view on the gauges: what a crew would see, drawn, and not a word more; and what differs, told apart."""

import math

import pytest

from tests.draw.flights import alder, day_sector, telling_moments
from tests.draw.test_wing_plan import text_boxes
from wetwing.draw import figures
from wetwing.draw.frame import LAYOUTS
from wetwing.draw.gauges import NOT_SHOWN, Gauges
from wetwing.draw.svg import Element
from wetwing.draw.wing_plan import wing_plan_tree
from wetwing.flight.record import Flight

AT_S = 9000.0
HIDDEN: dict[str, tuple[tuple[float, str, str], ...]] = {
    "leak": ((8000.0, "main-left", "leak 900"),),
    "pump failed": ((8000.0, "main-left-aft", "failed"),),
    "check valve": ((8000.0, "main-left-aft", "check valve stuck open"),),
    "sensor false dry": ((8000.0, "high-level-main-left", "stuck dry"),),
    "indication frozen": ((8000.0, "cross-feed", "indication frozen"), (8500.0, "cross-feed", "open")),
}


def words(flight: Flight, view: str, layout: str = "wide", time_s: float = AT_S) -> str:
    tree = wing_plan_tree(alder(), flight.moment(time_s), LAYOUTS[layout], view=view)
    return " | ".join(text for text, _ in text_boxes(tree, view))


def probes(tank: str) -> list[str]:
    return [probe.name for probe in alder().probes if probe.tank == tank]


def test_masses_and_levels_are_those_of_the_gauges() -> None:
    edits = tuple((8000.0, probe, "biased 30") for probe in probes("main-left"))
    flight = day_sector(*edits)
    moment, seen = flight.moment(AT_S), Gauges(alder(), flight.moment(AT_S))
    gauged_kg = moment.quantity("main-left.gauged_kg")
    assert gauged_kg > 1.2 * moment.quantity("main-left.actual_kg")
    assert seen.quantity("main-left.actual_kg") == gauged_kg
    capacity_l = next(tank.capacity_l for tank in alder().tanks if tank.name == "main-left")
    assert seen.quantity("main-left.fill") == pytest.approx(min(gauged_kg / (0.8 * capacity_l), 1.0))
    told = words(flight, "gauges").replace("\u00a0", " ")
    assert f"Main left | {figures.figure(gauged_kg, 'kg')} kg" in told
    actual = figures.figure(moment.quantity("main-left.actual_kg"), "kg")
    assert f"Main left | {actual} kg" in words(flight, "inside").replace("\u00a0", " ")


@pytest.mark.parametrize("trouble", ["failed", "leak before the meter 60000"])
def test_an_engine_that_has_stopped_is_seen_to_stand_and_not_of_what(trouble: str) -> None:
    off = tuple((8000.0, pump, "off") for pump in ("main-left-forward", "main-left-aft", "centre-left"))
    flight = day_sector((8000.0, "engine-1", trouble), *(off if trouble != "failed" else ()))
    moment = flight.moment(AT_S)
    assert moment.state("engine-1") in ("failed", "stopped for want of fuel")
    assert Gauges(alder(), moment).state("engine-1") == "not running"
    assert Gauges(alder(), flight.moment(7000.0)).state("engine-1") == "running"
    told = words(flight, "gauges")
    assert "not running" in told
    assert moment.state("engine-1") not in told
    assert moment.state("engine-1") in words(flight, "inside")


def test_a_blank_gauge_is_blank_and_one_silent_probe_is_not_told() -> None:
    names = probes("main-left")
    assert len(names) > 1
    one = Gauges(alder(), day_sector((8000.0, names[0], "no signal")).moment(AT_S))
    assert not math.isnan(one.quantity("main-left.actual_kg"))
    assert one.state(names[0]) == NOT_SHOWN
    flight = day_sector(*((8000.0, name, "no signal") for name in names))
    blank = Gauges(alder(), flight.moment(AT_S))
    assert math.isnan(blank.quantity("main-left.actual_kg"))
    assert math.isnan(blank.quantity("total.on_board_kg"))
    assert "no signal" in words(flight, "gauges")
    tree = wing_plan_tree(alder(), flight.moment(AT_S), LAYOUTS["wide"], view="gauges")
    (fuel,) = [e for e in tree.walk() if e.attributes.get("data-fill") == "main-left.fill"]
    assert fuel.attributes["width"] == "0"


def test_flows_are_those_of_the_meters_alone() -> None:
    flight = day_sector((8000.0, "engine-1", "leak before the meter 400"))
    moment, seen = flight.moment(AT_S), Gauges(alder(), flight.moment(AT_S))
    assert seen.quantity("engine-1.flow_kg_h") == moment.quantity("engine-1.metered_kg_h")
    assert math.isnan(seen.quantity("main-left-aft.flow_kg_h"))
    tree = wing_plan_tree(alder(), flight.moment(AT_S), LAYOUTS["wide"], view="gauges")
    drawn = [e.attributes for e in in_view(tree) if "data-flow" in e.attributes]
    assert {given["data-flow"] for given in drawn} == {"engine-1.metered_kg_h", "engine-2.metered_kg_h"}
    assert all("display" not in given for given in drawn)


def in_view(tree: Element) -> list[Element]:
    """Every element that the view on the gauges does not hide."""
    if "of-inside" in tree.attributes.get("class", "").split():
        return []
    found = [tree]
    for child in tree.children:
        found += in_view(child) if isinstance(child, Element) else []
    return found


@pytest.mark.parametrize("trouble", HIDDEN)
def test_no_word_of_a_hidden_trouble_is_on_the_gauges(trouble: str) -> None:
    told = words(day_sector(*HIDDEN[trouble]), "gauges", time_s=8600.0)
    for word in ("leak", "failed", "stuck", "flowing back", "delivering", "held back", "wet", "dry"):
        assert word not in told, told
    without = day_sector(*(edit for edit in HIDDEN[trouble] if edit[2] == "open"))
    kinds = ("valve", "pump", "sensor", "check-valve", "vent")
    seen, usual = (
        Gauges(alder(), flight.moment(8000.5)) for flight in (day_sector(*HIDDEN[trouble]), without)
    )
    for part in alder().parts.values():
        if part.kind in kinds:
            assert seen.state(part.name) == usual.state(part.name), part.name


def test_what_is_told_what_is_and_what_is_shown_are_three_texts() -> None:
    flight = day_sector(
        (8000.0, "cross-feed", "indication frozen"),
        (8100.0, "cross-feed", "stuck"),
        (8500.0, "cross-feed", "open"),
    )
    inside = words(flight, "inside")
    assert "cross-feed, told open, stuck | shut" in inside
    wrong = day_sector((8000.0, "cross-feed", "indication frozen"), (8500.0, "cross-feed", "open"))
    assert "cross-feed, shown shut | open" in words(wrong, "inside")
    assert "cross-feed, told open | shut" in words(wrong, "gauges")
    assert "shown" not in words(wrong, "gauges")
    failed = day_sector((8000.0, "main-left-aft", "failed"))
    assert "failed, switched on" in words(failed, "inside")
    assert "told" not in words(day_sector(), "inside") and "switched" not in words(day_sector(), "inside")


@pytest.mark.parametrize("layout", sorted(LAYOUTS))
@pytest.mark.parametrize("view", ["inside", "gauges"])
def test_no_label_lies_upon_another_in_either_view(layout: str, view: str) -> None:
    much = (
        (7000.0, "cross-feed", "indication frozen"),
        (7100.0, "cross-feed", "open"),
        (8000.0, "cross-feed", "stuck"),
        (8001.0, "cross-feed", "shut"),
        (8000.0, "shut-off-1", "stuck"),
        (8000.0, "shut-off-2", "indication frozen"),
        (8000.0, "outboard-valve-left", "stuck open"),
        (8000.0, "return-valve-right", "stuck"),
        (8000.0, "main-left-aft", "failed"),
        (8000.0, "centre-left", "failed"),
        (8000.0, "apu-valve", "stuck"),
    )
    shown = [(day_sector(), time_s) for time_s in telling_moments()[::4]] + [(day_sector(*much), AT_S)]
    for flight, time_s in shown:
        tree = wing_plan_tree(alder(), flight.moment(time_s), LAYOUTS[layout], view=view)
        boxes = text_boxes(tree, view)
        assert len(boxes) > 20
        for index, (text, box) in enumerate(boxes):
            assert box.left >= 0 and box.right <= LAYOUTS[layout].width, f"{text!r} leaves the picture"
            for other_text, other in boxes[index + 1 :]:
                assert not box.touches(other), f"{text!r} on {other_text!r} at {time_s}"

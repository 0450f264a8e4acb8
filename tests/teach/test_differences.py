"""What differs between two aircraft: in data, in logic, and to a crew."""

from dataclasses import fields, replace
from functools import cache

import pytest

from tests.flight.flights import alder, day_sector, flown
from wetwing.aircraft.model import Aircraft, Part
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.draw.gauges import Gauges
from wetwing.flight.fly import fly
from wetwing.flight.script import read_script
from wetwing.teach.differences import Sights, alike, seen
from wetwing.teach.differences.alike import trials
from wetwing.teach.differences.figures import UNITS, figures, marked
from wetwing.teach.differences.logic import alerts, rules, rules_by_system
from wetwing.teach.differences.phases import HEADS, stages
from wetwing.teach.differences.systems import systems


@cache
def revised() -> Aircraft:
    return read_aircraft("alder-165-b")


@cache
def sights() -> Sights:
    """What a crew sees otherwise in revision B on the demonstration flight."""
    other = fly(revised(), read_script("day-sector", revised()))
    return seen(flown(), other, Gauges)


def changed(kind: str, name: str, **values: object) -> Aircraft:
    """The Alder with one part of a list changed."""
    parts: tuple[Part, ...] = getattr(alder(), kind)
    own = tuple(replace(one, **values) if one.name == name else one for one in parts)  # type: ignore[arg-type]
    return replace(alder(), **{kind: own, "parts": {**alder().parts, **{one.name: one for one in own}}})


def test_an_aircraft_does_not_differ_from_itself() -> None:
    assert figures(alder(), alder()) == rules(alder(), alder()) == alerts(alder(), alder()) == []
    assert systems(alder(), alder()) == []
    assert seen(flown(), flown(), Gauges).found == ()


@pytest.mark.parametrize(
    ("kind", "name", "values", "row"),
    [
        (
            *("tanks", "main-left", {"capacity_l": 8412.5}),
            ("Tanks and vents", "Main left", "capacity", "{8,300 L}", "{8,412.5 L}"),
        ),
        (
            *("pumps", "centre-left", {"shut_off_bar": 4.0}),
            ("Pumps and feed", "Centre left pump", "pressure at no flow", "{3.78 bar}", "{4 bar}"),
        ),
        (
            *("valves", "cross-feed", {"stroke_s": 9.0}),
            ("Valves, transfer and return", "Cross-feed valve", "time to open or shut", None, "{9 s}"),
        ),
        (
            *("sensors", "high-level-main-left", {"tank": "centre"}),
            ("Gauging, sensors and power", "Main left high-level sensor", "tank", "Main left", "Centre"),
        ),
    ],
)
def test_a_figure_that_differs_stands_with_its_system_its_unit_and_both_values(
    kind: str, name: str, values: dict[str, object], row: tuple[str | None, ...]
) -> None:
    (found,) = figures(alder(), changed(kind, name, **values))
    assert (found.system, found.part, found.what, found.second) == (*row[:3], row[4])
    if row[3] is not None:
        assert found.first == row[3]


def test_a_limit_that_differs_and_a_part_that_one_alone_has() -> None:
    limited = replace(alder(), limits=replace(alder().limits, landing_kg=85_500.0))
    (row,) = figures(alder(), limited)
    assert (row.system, row.what, row.first, row.second) == (
        *("Limits and balance", "landing"),
        *("{86,000 kg}", "{85,500 kg}"),
    )
    without = replace(alder(), jet_pumps=())
    assert [(row.part, row.first, row.second) for row in figures(alder(), without)] == [
        ("Centre jet pump", "there", None)
    ]
    assert [(row.part, row.first, row.second) for row in figures(without, alder())] == [
        ("Centre jet pump", None, "there")
    ]


def test_a_condition_differs_by_what_it_asks_and_not_by_its_layout() -> None:
    pump = next(pump for pump in alder().pumps if pump.runs_when)
    assert pump.runs_when
    spaced = replace(pump.runs_when, text=pump.runs_when.text.replace(" and ", "  and\n "))
    assert figures(alder(), changed("pumps", pump.name, runs_when=spaced)) == []
    (row,) = figures(alder(), changed("pumps", pump.name, runs_when=None))
    assert row.code
    assert row.what == "runs when"
    assert row.second is None


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [(8300.0, "L", "{8,300 L}"), (0.85, "", "0.85"), (2.625, "bar", "{2.625 bar}"), (-3.0, "°", "{−3 °}")],
)
def test_a_figure_has_the_places_that_it_has(value: float, unit: str, text: str) -> None:
    assert marked(value, unit) == text


def test_every_figure_of_a_record_has_its_unit() -> None:
    shares = {
        "inlet_gas_share",
        "discharge",
        "entrainment",
        "drag_zero_lift",
        "drag_induced",
        "rolling_friction",
    }
    records = (*alder().parts.values(), alder().limits, alder().balance, alder().airframe)
    figured = {one.name for record in records for one in fields(record) if one.type in (float, "float")}
    assert {name for name in figured if not any(name.endswith(end) for end in UNITS)} == shares
    assert [
        (row.what, row.first)
        for row in figures(alder(), changed("jet_pumps", "scavenge", motive_kg_h_at_1_bar=1.0))
    ] == [("motive", marked(next(jet.motive_kg_h_at_1_bar for jet in alder().jet_pumps), "kg/h"))]


def test_rules_are_changed_added_and_gone() -> None:
    found = {one.name: one for one in rules(alder(), revised())}
    assert {one.what for one in found.values()} == {"changed"}
    assert "{430 kg}" in (found["return-flow-hold-left"].first or "")
    assert "{350 kg}" in (found["return-flow-hold-left"].second or "")
    assert "slat-hold" not in found
    fewer = replace(alder(), rules=tuple(rule for rule in alder().rules if rule.name != "slat-hold"))
    assert [(one.name, one.what) for one in rules(alder(), fewer)] == [("slat-hold", "gone")]
    assert [(one.name, one.what) for one in rules(fewer, alder())] == [("slat-hold", "added")]


def test_an_alert_differs_by_level_text_condition_or_delay_and_between_types_by_what_it_says() -> None:
    alert = alder().alerts[0]
    later = changed("alerts", alert.name, after_s=alert.after_s + 7.0)
    assert [(one.name, one.what) for one in alerts(alder(), later)] == [(alert.name, "changed")]
    assert alerts(alder(), later, by_text=True) == []
    other = changed("alerts", alert.name, text="Another text")
    assert [one.what for one in alerts(alder(), other, by_text=True)] == ["gone", "added"]


def test_every_rule_of_a_type_stands_under_one_system() -> None:
    for name in fleet():
        aircraft = read_aircraft(name)
        told = [entry for own in rules_by_system(aircraft).values() for entry in own]
        assert sorted(told) == sorted((rule.label, rule.sentence) for rule in aircraft.rules)
    by_system = rules_by_system(alder())
    labels = {system: [label for label, _ in own] for system, own in by_system.items()}
    assert "Slat hold" in labels["Pumps and feed"]
    assert "Outboard release" in labels["Valves, transfer and return"]
    assert "Wings first" in labels["Refuelling"]
    # No valve waits for warm oil itself: a rule that opens one does.
    assert "Warm oil, generator 1" in labels["Valves, transfer and return"]


def test_only_revisions_are_alike() -> None:
    known = [read_aircraft(name) for name in fleet()]
    pairs = {(one.name, two.name) for one in known for two in known if one is not two and alike(one, two)}
    assert pairs == {("alder-165", "alder-165-b"), ("alder-165-b", "alder-165")}


def test_troubles_are_tried_on_what_a_changed_rule_looks_at() -> None:
    tried = trials(alder(), revised(), day_sector())
    assert [(edit.part, edit.state) for edit in tried] == [
        ("high-level-main-left", "stuck wet"),
        ("return-valve-left", "stuck shut"),
        ("main-left", "leak"),
        ("centre-left", "failed"),
    ]
    cruise_s = next(phase.start_s for phase in day_sector().phases if phase.name == "cruise")
    assert {edit.time_s for edit in tried} == {cruise_s}
    assert trials(alder(), alder(), day_sector()) == []


def test_a_crew_sees_the_valves_of_revision_b_open_earlier_and_why() -> None:
    found = next(sight for sight in sights().found if sight.part == "outboard-valve-left")
    assert found.in_second
    assert found.second == "open"
    assert found.first.startswith("shut; open {")
    assert "outboard release is active" in found.sentence
    first, second = sights().first, sights().second
    opened = [
        change.time_s for change in second.changes if change.part == found.part and change.after == "open"
    ]
    assert found.time_s in opened
    assert first.state(found.part, found.time_s) == "shut"


def test_a_gauge_is_told_from_the_time_on_at_which_it_reads_otherwise() -> None:
    found = next(sight for sight in sights().found if sight.part == "main-left" and "kg" in sight.first)
    first, second = (
        flight.quantity("main-left.gauged_kg", found.time_s) for flight in (sights().first, sights().second)
    )
    assert abs(first - second) >= 50.0
    assert (found.first, found.second) == (f"reads {{{first:,.0f} kg}}", f"reads {{{second:,.0f} kg}}")
    earlier = [
        flight.quantity("main-left.gauged_kg", found.time_s - 30.0)
        for flight in (sights().first, sights().second)
    ]
    assert abs(earlier[0] - earlier[1]) < 50.0
    assert "{350 kg}" in found.sentence


def test_a_crew_is_told_of_nothing_that_nobody_shows_it() -> None:
    """The centre pumps stop at other times, and no display says so."""
    one, other = sights().first, sights().second
    stops = [[c.time_s for c in flight.changes if c.part == "centre-left"] for flight in (one, other)]
    assert stops[0] != stops[1]
    kinds = {alder().parts[sight.part].kind for sight in sights().found if sight.part != "total"}
    assert kinds <= {"tank", "valve", "alert", "display", "engine"}
    assert [sight.time_s for sight in sights().found] == sorted(sight.time_s for sight in sights().found)


def test_a_flight_in_figures_adds_up_to_its_burn() -> None:
    found = stages(flown())
    assert [stage.phase for stage in found] == [phase.name for phase in flown().phases]
    burned = sum(
        float(stage.figures[HEADS.index("burned")].strip("{}").removesuffix(" kg").replace(",", ""))
        for stage in found
    )
    assert burned == pytest.approx(
        flown().quantity("total.burned_kg", flown().duration_s), abs=5.0 * len(found)
    )
    feeds = {stage.phase: stage.figures[HEADS.index("pumps deliver from")] for stage in found}
    assert feeds["climb"] == "Centre"
    assert feeds["descent"] == "Main left and Main right"

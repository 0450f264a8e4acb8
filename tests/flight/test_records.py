"""A flight written down: the whole document for programs, and the compact record for pages."""

import json
from typing import Any

import pytest

from tests.flight.flights import alder, flown, turn
from tests.flight.random_scripts import aircraft_of, flights_of, script_of
from wetwing.flight import compact, document
from wetwing.flight.fly import Flying
from wetwing.flight.record import Flight
from wetwing.flight.script import Edit, with_edits

FROZEN = ("1:30:00 cross-feed=indication frozen", "2:00:00 cross-feed=open")
EDITED = flown("1:30:00 centre-feed=manual", "2:00:00 engine-1-run=off", "2:00:00 engine-2-run=off")


def parsed(made: dict[str, object]) -> Any:
    return json.loads(json.dumps(made, allow_nan=False))


def test_the_document_names_its_format_its_inputs_and_its_end() -> None:
    made = parsed(document.document(EDITED))
    assert made["format"] == "wetwing-flight/1"
    assert made["aircraft"]["name"] == "alder-165"
    assert made["script"]["name"] == "day-sector"
    assert [(edit["time_s"], edit["part"], edit["state"]) for edit in made["edits"]] == [
        (5400.0, "centre-feed", "manual"),
        (7200.0, "engine-1-run", "off"),
        (7200.0, "engine-2-run", "off"),
    ]
    assert made["ended"] == {
        "time_s": 7200.0,
        "name": "no-engine",
        "sentence": "No engine runs, in the air.",
    }
    assert made["duration_s"] == 7200.0
    assert parsed(document.document(flown()))["ended"] is None


@pytest.mark.parametrize(
    ("quantity", "value", "shown"),
    [
        ("main-left.actual_kg", 1234.5678, 1234.57),
        ("engine-1.flow_kg_h", 1234.5678, 1234.6),
        ("manifold-left.pressure_bar", 1.23456, 1.235),
        ("main-left.temperature_c", 12.3456, 12.35),
        ("main-left.volume_l", 1234.5678, 1234.6),
        ("flight.altitude_ft", 12345.678, 12346.0),
        ("flight.mach", 0.123456, 0.1235),
        ("main-left.fill", 0.12345678, 0.12346),
        ("flight.centre_percent", 25.1234, 25.1),
        ("main-left.air_share", 0.12345678, 0.123),
        ("main-left.actual_kg", -0.001, 0.0),
    ],
)
def test_a_page_gets_so_many_decimals_of_a_quantity(quantity: str, value: float, shown: float) -> None:
    found = compact.columns([(quantity, [value, value + 100.0])])[quantity][0]
    assert repr(found) == repr(shown)


@pytest.mark.parametrize("flight", [flown(), EDITED], ids=["plain", "edited"])
def test_every_keyframe_of_the_document_is_that_moment_of_the_flight(flight: Flight) -> None:
    made = parsed(document.document(flight))
    frames = made["keyframes"]
    assert [frame["time_s"] for frame in frames] == flight.time_s
    for k, frame in enumerate(frames):
        time_s = frame["time_s"]
        jump = k + 1 < len(frames) and frames[k + 1]["time_s"] == time_s
        for tank in alder().tanks:
            assert frame["tanks"][tank.name]["actual_kg"] == flight.quantities[f"{tank.name}.actual_kg"][k]
        assert frame["totals"]["on_board_kg"] == flight.quantities["total.on_board_kg"][k]
        assert frame["engines"]["engine-1"]["flow_kg_h"] == flight.quantities["engine-1.flow_kg_h"][k]
        for part in alder().parts:
            state = frame["parts"][part]["state"]
            # Of two keyframes at one time, the first is the flight just before it.
            before = flight.start_states[part] if time_s == 0.0 else flight.state(part, time_s - 1e-9)
            assert state == (before if jump else flight.state(part, time_s)), (part, time_s)


def test_the_document_s_changes_are_the_flight_s() -> None:
    flight = flown()
    made = parsed(document.document(flight))
    assert len(made["changes"]) == len(flight.changes)
    for written, change in zip(made["changes"], flight.changes, strict=True):
        assert written["time_s"] == change.time_s
        assert (written["part"], written["from"], written["to"]) == (change.part, change.before, change.after)
        reason = written["reason"]
        assert set(reason) == {"kind", "name", "sentence", "facts", "causes"}
        assert reason["causes"] == list(change.reason.causes)
        assert [fact["name"] for fact in reason["facts"]] == [fact.name for fact in change.reason.facts]
        assert all(set(fact) in ({"name", "state"}, {"name", "value", "unit"}) for fact in reason["facts"])


def test_every_part_is_described_with_all_that_it_can_show_and_be_set_to() -> None:
    parts = {part["name"]: part for part in parsed(document.document(flown()))["parts"]}
    assert list(parts) == list(alder().parts)
    assert parts["centre-left"]["settings"] == ["off", "on"]
    assert parts["centre-left"]["set"] == "off"
    assert parts["centre-feed"]["states"] == ["automatic", "manual"]
    assert parts["preselect"]["quantity"] == {"unit": "kg", "least": 0, "most": 24000}
    assert parts["feed-pressure-1"]["level"] == "warning"
    for name, part in parts.items():
        assert not part["states"] or part["start"] in part["states"], name
        assert "set" not in part or part["settings"] or "quantity" in part


def test_the_compact_record_is_the_same_flight_as_a_display_shows_it() -> None:
    flight = flown()
    made = parsed(compact.compact(flight))
    assert made["format"] == "wetwing-record/1"
    assert made["time_s"] == pytest.approx(flight.time_s, abs=5e-4)
    steps = {
        "kg": 0.005,
        "kg_h": 0.05,
        "bar": 5e-4,
        "c": 0.005,
        "l": 0.05,
        "ft": 0.5,
        "mach": 5e-5,
        "fill": 5e-6,
        "share": 5e-4,
        "percent": 0.05,
        "kn_m": 5e-4,
        "deg": 5e-4,
    }
    for name, column in flight.quantities.items():
        if name == "flight.time_s":
            assert name not in made["quantities"]
            continue
        written = made["quantities"][name]
        attribute = name.partition(".")[2]
        ending = next(e for e in sorted(steps, key=len, reverse=True) if attribute.endswith(e))
        if len(written) == 1:
            written = written * len(column)
        assert written == pytest.approx(column, abs=steps[ending] * 1.0001, rel=0.0), name
        assert "-0.0" not in json.dumps(written).split(", ")


def test_a_constant_column_is_written_once() -> None:
    made = parsed(compact.compact(flown()))["quantities"]
    assert made["vent-left.flow_kg_h"] == [0.0]
    assert len(made["main-left.actual_kg"]) == len(flown().time_s)


def test_the_compact_record_is_small_enough_for_a_page() -> None:
    text = json.dumps(compact.compact(flown()), separators=(",", ":"))
    assert len(text) < 400_000


def test_commands_tell_where_every_switch_was_set() -> None:
    made = parsed(compact.compact(EDITED))
    commands = [(c["part"], c["state"]) for c in made["commands"] if c["time_s"] >= 5400.0]
    assert commands == [("centre-feed", "manual"), ("engine-1-run", "off"), ("engine-2-run", "off")]
    assert turn(EDITED, "centre-feed", "manual").time_s == 5400.0


def test_what_a_valve_shows_is_where_it_is_until_its_indication_freezes() -> None:
    plain, frozen = flown("2:00:00 cross-feed=open"), flown(*FROZEN)
    for time_s, is_at, shows in ((3600.0, "shut", "shut"), (7300.0, "open", "shut")):
        assert plain.moment(time_s).shown("cross-feed") == plain.state("cross-feed", time_s) == is_at
        assert frozen.state("cross-feed", time_s) == is_at
        assert frozen.moment(time_s).shown("cross-feed") == shows


def test_what_a_person_set_holds_from_the_very_time() -> None:
    flight = flown("2:00:00 cross-feed=open")
    assert flight.setting("cross-feed", 7199.0) == "shut"
    assert flight.setting("cross-feed", 7200.0) == "open"


@pytest.mark.parametrize("name", ["alder-165", "juniper-285", "rowan-54"])
def test_a_condition_reads_every_quantity_as_the_keyframes_have_it(name: str) -> None:
    # Most have a place of their own in a keyframe: what a condition reads is asked for by name.
    craft = aircraft_of(name)
    script = script_of(flights_of(name)[0], name)
    first = craft.tanks[0].name
    edits = (Edit(600.0, first, "leak 300"), Edit(600.0, craft.engines[0].name, "leak after the meter 50"))
    flying = Flying(craft, with_edits(script, edits, craft))
    flight = flying.flight()
    world = flying.world
    for quantity, column in flight.quantities.items():
        read = world.facts.reader(quantity)[0](world.time_s, world.state, world.flows)
        assert (read if read == read else 0.0) == column[-1], quantity
    sums = [flight.quantities[f"total.{what}_kg"][-1] for what in ("burned", "leaked", "metered")]
    assert min(sums) > 1.0
    assert len(set(sums)) == 3

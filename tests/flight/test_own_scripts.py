"""Scripts of a reader's own: figures changed by name, phases stretched, the file written and read again."""

import json
import tomllib
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.browser import answer
from wetwing.flight.fly import fly
from wetwing.flight.inputs import inputs, levels, titled, with_inputs
from wetwing.flight.own_script import LONGEST_TEXT, own_script, script_file
from wetwing.flight.record import Flight
from wetwing.flight.script import (
    Edit,
    parse_script,
    read_script,
    script_aircraft,
    script_text,
    scripts,
    with_edits,
)
from wetwing.flight.script_records import PathPoint
from wetwing.flight.stretch import stretched
from wetwing.flight.toml_text import toml_text

SHIPPED = [(script_aircraft(name), name) for name in scripts()]
ALDER = read_aircraft("alder-165")


def values_of(name: str) -> dict[str, Any]:
    return tomllib.loads(script_text(name)[0])


def asked(**request: object) -> dict[str, Any]:
    """What the door answers."""
    found: dict[str, Any] = json.loads(answer(json.dumps(request)))
    return found


def events(flight: Flight) -> list[tuple[float, str, str, str]]:
    return [(c.time_s, c.part, c.after, c.reason.sentence) for c in flight.changes]


# ---- the file


@pytest.mark.parametrize("name", scripts())
def test_a_shipped_script_written_and_read_again_is_the_same(name: str) -> None:
    values = values_of(name)
    assert tomllib.loads(toml_text(values, "A heading\nof two lines")) == values


PLAIN = st.one_of(
    st.booleans(), st.integers(-(10**12), 10**12), st.floats(allow_nan=False, allow_infinity=False), st.text()
)
KEYS = st.text(st.characters(codec="utf-8", exclude_characters="\0"), min_size=1, max_size=12)
TABLES = st.dictionaries(KEYS, st.one_of(PLAIN, st.lists(PLAIN, max_size=3)), max_size=4)
FILES = st.dictionaries(
    KEYS,
    st.one_of(PLAIN, TABLES, st.dictionaries(KEYS, TABLES, max_size=3), st.lists(TABLES, max_size=3)),
    max_size=5,
)


@given(FILES)
def test_whatever_is_written_is_read_back(values: dict[str, object]) -> None:
    assert tomllib.loads(toml_text(values)) == values


def test_a_value_that_no_script_has_is_refused() -> None:
    with pytest.raises(TypeError, match="no bytes"):
        toml_text({"key": b"bytes"})


# ---- a flight saved is the same flight

EDITS = (
    Edit(200.7, "preselect", "20,000"),
    Edit(9000.0, "centre-feed", "manual"),
    Edit(10_000.3, "main-left", "leak 1200"),
    Edit(12_000.0, "main-left", "mended"),
    Edit(13_000.0, "cross-feed", "stuck open"),
    Edit(13_100.0, "main-left", "leak"),
)


def test_a_saved_flight_flown_again_has_the_same_changes() -> None:
    values, plain = own_script(*script_text("day-sector"), {"load.zero_fuel_kg": 70_000}, ALDER)
    edited = with_edits(plain, EDITS, ALDER)
    text = script_file(values, edited, ALDER, "A leak and a manual selector")
    again = parse_script(text, "saved.toml", ALDER)
    assert (again.name, again.edits) == ("a-leak-and-a-manual-selector", ())
    first, second = fly(ALDER, edited), fly(ALDER, again)
    assert events(first) == events(second)
    assert first.quantities == second.quantities


def test_the_command_line_flies_a_saved_script_as_the_page_did(tmp_path: Any) -> None:
    edits = [{"time_s": 9000.0, "part": "centre-feed", "state": "manual"}]
    ask = {"aircraft": "alder-165", "script": "day-sector", "edits": edits, "inputs": {"air.deviation_k": 12}}
    shown = asked(ask="fly", **ask)["record"]
    saved = tmp_path / "saved.toml"
    saved.write_text(asked(ask="write", **ask)["script_text"], "utf-8")
    flown = fly(ALDER, read_script(str(saved), ALDER))
    told = [(change["part"], change["to"]) for change in shown["changes"]]
    assert told == [(c.part, c.after) for c in flown.changes]
    assert shown["duration_s"] == round(flown.duration_s, 3)


def test_a_script_saved_on_a_revisions_bench_is_for_that_revision() -> None:
    text = asked(ask="write", aircraft="alder-165-b", script="day-sector")["script_text"]
    assert tomllib.loads(text)["aircraft"] == "alder-165-b"
    assert asked(ask="fly", aircraft="alder-165-b", script_text=text)["ok"]


def test_a_title_makes_the_name() -> None:
    assert titled({}, "  Ünder 2 long   ways! ") == {
        "name": "nder-2-long-ways",
        "title": "Ünder 2 long ways!",
    }
    for bad in ("", "   ", "x" * 81, "2 · 3", "…"):
        with pytest.raises(Mistake):
            titled({}, bad)


# ---- figures


@pytest.mark.parametrize("aircraft", fleet())
def test_the_figures_of_a_script_lie_within_their_limits(aircraft: str) -> None:
    plane = read_aircraft(aircraft)
    script = read_script(next((s for a, s in SHIPPED if a == aircraft), "day-sector"), plane)
    found = inputs(script, plane)
    assert len({one.key for one in found}) == len(found) > 20
    for one in found:
        assert one.least <= one.value <= one.most, one


def test_every_figure_can_be_changed_and_the_script_says_so() -> None:
    script = read_script("day-sector", ALDER)
    for one in inputs(script, ALDER):
        other = (one.value + (one.most if one.value < one.most else one.least)) / 2
        values = with_inputs(values_of("day-sector"), {one.key: other}, script, ALDER)
        now = {each.key: each.value for each in inputs(parse_script(toml_text(values), "x", ALDER), ALDER)}
        assert now.pop(one.key) == pytest.approx(other, abs=1e-4), one.key
        was = {each.key: each.value for each in inputs(script, ALDER) if each.key != one.key}
        # The ticket says what the fuel is, where the script gives it no figure of its own.
        if one.key == "fuel.density_15c_kg_m3":
            was["fuel.declared_density_15c_kg_m3"] = other
        assert now == pytest.approx(was), one.key


def test_a_level_is_two_points_or_more_in_the_upper_half() -> None:
    script = read_script("day-sector", ALDER)
    way = (
        0,
        0,
        9_900,
        9_900,
        10_000,
        10_000,
        20_000,
        20_000,
        20_000,
        15_000,
        12_000,
        12_000,
        5_000,
        5_000,
        0,
    )
    path = tuple(PathPoint(60.0 * i, float(ft), 0.5, ft == 0) for i, ft in enumerate(way))
    assert levels(replace(script, path=path)) == [[4, 5], [6, 7, 8], [10, 11]]


def test_heavier_air_fuel_and_load_do_what_they_must() -> None:
    """More mass burns more; a longer cruise burns more; warmer air warms the fuel."""

    def burned_kg(**changes: float) -> float:
        named = {key.replace("__", "."): value for key, value in changes.items()}
        flight = fly(ALDER, own_script(*script_text("day-sector"), named, ALDER)[1])
        return flight.quantity("total.burned_kg", flight.duration_s)

    usual = burned_kg()
    assert burned_kg(load__zero_fuel_kg=65_000) < usual - 200
    assert burned_kg(load__wear_factor=1.1) == pytest.approx(1.1 * usual, rel=0.03)
    hour_kg = usual - burned_kg(duration__cruise=329 - 60)
    assert 2 * 1250 < hour_kg < 2 * 1500  # the cruise flow of the demonstration flight, two engines


def test_levels_are_the_level_stretches_of_the_way() -> None:
    script = read_script("day-sector", ALDER)
    assert [[script.path[i].altitude_ft for i in run] for run in levels(script)] == [
        [35_000] * 2,
        [37_000] * 2,
    ]


def test_a_longer_phase_takes_what_is_in_it_along() -> None:
    script = read_script("day-sector", ALDER)
    made: dict[str, Any] = stretched(values_of("day-sector"), script, {"climb": 46.0})
    before = values_of("day-sector")
    assert made["ends_at"] == "7:44:00"
    assert made["phases"][4]["at"] == "1:33:00"
    # The climb begins at 0:47:00 and lasts 23 minutes: half-way up stays half-way up, twice as late.
    at = [row["at"] for row in before["path"]].index("0:53:30")
    assert made["path"][at]["at"] == "1:00:00"
    assert made["actions"][0] == before["actions"][0]
    assert before == values_of("day-sector")
    # A point of the way behind the flight's end stays as far behind it.
    behind: dict[str, Any] = {**before, "path": [*before["path"], {**before["path"][-1], "at": "7:31:00"}]}
    assert stretched(behind, script, {"climb": 46.0})["path"][-1]["at"] == "7:54:00"  # type: ignore[index]
    with pytest.raises(Mistake, match="ends at"):
        stretched(before, script, {"climb": 1200.0, "cruise": 1200.0})


# ---- bad input at the door


@pytest.mark.parametrize(
    ("request_", "place", "words"),
    [
        ({"script_text": "\x00\x01"}, "mine.toml", "not readable as TOML"),
        ({"script_text": "x" * (LONGEST_TEXT + 1)}, "mine.toml", "at most 200,000"),
        ({"script_text": ""}, "mine.toml: format", "missing"),
        ({"script_text": 'format = "wetwing-script/9"'}, "mine.toml: format", "wetwing-script/1"),
        ({"script_text": script_text("rowan-hop")[0]}, "mine.toml: aircraft", "a script for 'rowan-54'"),
        ({"script_text": "a = " + "[" * 5000}, "mine.toml", "not readable as TOML"),
        ({"script_text": 7}, "request.script_text", "a text"),
        ({"script": "day-sector", "script_text": ""}, "request", "one of them"),
        ({"script": "day-sector", "inputs": [1]}, "request.inputs", "found list"),
        ({"script": "day-sector", "inputs": {"load.zero_fuel": 1}}, "inputs", "load.zero_fuel_kg"),
        (
            {"script": "day-sector", "inputs": {"load.zero_fuel_kg": 1e99}},
            "inputs: load.zero_fuel_kg",
            "80500 kg",
        ),
        (
            {"script": "day-sector", "inputs": {"load.zero_fuel_kg": True}},
            "inputs: load.zero_fuel_kg",
            "found True",
        ),
        (
            {"script": "day-sector", "inputs": {"duration.cruise": "long"}},
            "inputs: duration.cruise",
            "1 to 1200 min",
        ),
        # 20 h of climb and 20 h of cruise stand for the 5:52 of the 7:21 that the script gives to both.
        (
            {"script": "day-sector", "inputs": {"duration.climb": 1200, "duration.cruise": 1200}},
            "inputs: duration",
            "a flight that ends at 41:29:00; allowed: up to 30:00:00",
        ),
        (
            {"script": "day-sector", "inputs": {"initial.tanks.centre.actual_kg": 9999}},
            "day-sector.toml: initial.tanks.centre.actual_kg",
            "at most 7729 kg",
        ),
        ({"ask": "write", "script": "day-sector", "title": "…"}, "title", "a letter from a to z"),
        ({"ask": "write", "script": "../day-sector.toml"}, "request.script", "the name of a script"),
    ],
)
def test_bad_input_is_told_with_its_place(request_: dict[str, object], place: str, words: str) -> None:
    found = asked(**{"ask": "fly", "aircraft": "alder-165", "file": "mine.toml", **request_})
    assert not found["ok"]
    assert found["problem"]["place"] == place
    assert words in found["problem"]["message"]


def test_a_mending_in_a_script_ends_the_trouble_and_a_bad_one_is_told() -> None:
    values = values_of("day-sector")
    values["troubles"] = [{"name": "hole", "part": "main-left", "kind": "leak", "at": "2:00:00", "kg_h": 600}]
    values["mendings"] = [{"part": "main-left", "at": "2:30:00"}]
    flight = fly(ALDER, parse_script(toml_text(values), "x.toml", ALDER))
    assert [(c.time_s, c.after) for c in flight.changes if c.part == "hole"] == [
        (7200, "present"),
        (9000, "absent"),
    ]
    for row, words in (
        ({"part": "main-lefft", "at": "2:30:00"}, "nearest: main-left"),
        ({"part": "main-left", "at": "9:00:00"}, "within the flight"),
        ({"part": "main-left", "at": "2:30:00", "when": "x"}, "unknown key"),
    ):
        with pytest.raises(Mistake, match=words):
            parse_script(toml_text({**values, "mendings": [row]}), "x.toml", ALDER)

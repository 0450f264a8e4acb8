"""The catalogue of troubles, troubles as scripts and edits write them, and the sentences that tell them."""

import re

import pytest

from tests.aircraft.files import changed, day_sector_text
from tests.flight.flights import alder, day_sector, edit
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.flight.edits import MENDED, parse_edit, with_edits
from wetwing.flight.script import Script, parse_script
from wetwing.flight.script_records import Action, Edit, Setting
from wetwing.flight.troubles import CATALOGUE, Breakdown, Mended, Trouble, breakdowns, told

EVERY = [(kind, found) for kind, many in CATALOGUE.items() for found in many]
MARK = re.compile(r"\{([-−]?[\d,]+(?:\.\d+)?)[ \u00a0]?([^{}\d]*)\}")


def with_troubles(*rows: str) -> Script:
    text = changed(
        day_sector_text(), ('title = "Day sector"', f'title = "Day sector"\ntroubles = [{", ".join(rows)}]')
    )
    return parse_script(text, "day.toml", alder())


@pytest.mark.parametrize(("kind", "found"), EVERY, ids=[f"{kind}: {found.kind}" for kind, found in EVERY])
def test_a_usual_severity_lies_within_its_range_and_is_told(kind: str, found: Breakdown) -> None:
    assert found in CATALOGUE[kind]
    assert found.least <= found.default <= found.most
    assert ("{severity}" in found.sentence) == (found.key is not None)
    assert "{label}" in found.sentence or kind == "airframe"


@pytest.mark.parametrize("name", fleet())
def test_no_trouble_is_called_as_a_setting_is(name: str) -> None:
    """An edit's word is a setting or a trouble, never both, for every part of every aircraft."""
    checked = 0
    for part in read_aircraft(name).parts.values():
        for found in breakdowns(part):
            for setting in part.settings:
                assert not f"{setting} ".startswith(f"{found.kind} "), part.name
            checked += 1
        assert MENDED not in part.settings, part.name
    assert checked > 100


@pytest.mark.parametrize("name", fleet())
def test_every_trouble_of_every_part_is_told_and_edited(name: str) -> None:
    aircraft = read_aircraft(name)
    for part in aircraft.parts.values():
        for found in breakdowns(part):
            trouble = parse_edit(Edit(60.0, part.name, found.kind), aircraft, "here")
            assert isinstance(trouble, Trouble)
            assert (trouble.part, trouble.kind, trouble.severity) == (part.name, found.kind, found.default)
            sentence = told(trouble, part)
            assert len(MARK.findall(sentence)) == (found.key is not None)
            assert "{" not in MARK.sub("", sentence)
            assert sentence[0] in "{" or sentence[0].isupper()


def test_sentences_of_troubles() -> None:
    def said(part: str, state: str) -> str:
        trouble = parse_edit(Edit(0.0, part, state), alder(), "here")
        assert isinstance(trouble, Trouble)
        return told(trouble, alder().parts[part])

    assert said("main-left", "leak 1200") == (
        "Main left leaks: {1,200 kg/h} when the tank is full, less as it empties."
    )
    assert said("centre-left", "low output 0.6") == "Centre left pump gives {60 %} of its pressure."
    assert said("engine-1", "leak after the meter 800") == (
        "Engine 1 leaks after its flow meter: {800 kg/h} at one bar, more at a higher pressure."
    )
    assert said("bypass-left", "check valve stuck shut") == (
        "The check valve of left suction bypass is stuck shut: nothing passes it."
    )
    assert said("apu-pump", "breaker open") == "The breaker of APU battery pump is open: it has no power."
    assert said("totaliser", "biased -500") == "Fuel totaliser is wrong by {-500 kg}."


def test_the_troubles_of_a_script() -> None:
    script = with_troubles(
        '{ part = "main-left", kind = "leak", kg_h = 1200, at = "2:00:00", lasts_s = 600, note = "A seam." }',
        '{ name = "dead", part = "ac-1", kind = "lost", when = "phase is cruise", after_s = 30 }',
        '{ part = "vent-left", kind = "blocked", at = "1:00:00", until = "2:00:00" }',
    )
    leak, dead, blocked = script.troubles
    assert leak == Trouble(
        "trouble-1", "main-left", "leak", 1200.0, 7200.0, None, 0.0, None, 600.0, "A seam."
    )
    assert (dead.name, dead.at_s, dead.after_s, dead.severity) == ("dead", None, 30.0, 1.0)
    assert dead.when is not None
    assert dead.when.text == "phase is cruise"
    assert (blocked.name, blocked.until_s) == ("trouble-3", 7200.0)
    assert day_sector().troubles == ()


def test_what_a_script_says_beside_its_troubles() -> None:
    text = changed(
        day_sector_text(),
        ("zero_fuel_kg = 75500", "zero_fuel_kg = 75500\nzero_fuel_cg_percent = 28\nwear_factor = 1.04"),
        (
            "density_15c_kg_m3 = 804",
            "density_15c_kg_m3 = 804\ndeclared_density_15c_kg_m3 = 1770\nfreezing_c = -40\nlight_ends = 2",
        ),
        ("mach = 0.70", "mach = 0.70\npitch_deg = 4\nroll_deg = -2.5"),
    )
    script = parse_script(text, "day.toml", alder())
    assert (script.zero_fuel_cg_percent, script.wear_factor) == (28.0, 1.04)
    assert (script.declared_density_15c_kg_m3, script.freezing_c, script.light_ends) == (1770.0, -40.0, 2.0)
    assert (script.path[5].pitch_deg, script.path[5].roll_deg) == (4.0, -2.5)
    plain = day_sector()
    assert (plain.zero_fuel_cg_percent, plain.wear_factor) == (alder().balance.zero_fuel_cg_percent, 1.0)
    assert (plain.declared_density_15c_kg_m3, plain.freezing_c, plain.light_ends) == (804.0, -47.0, 1.5)
    assert (plain.path[5].pitch_deg, plain.path[5].roll_deg) == (None, None)


def test_an_edit_is_a_setting_a_trouble_or_a_mending() -> None:
    assert parse_edit(Edit(60.0, "cross-feed", "open"), alder(), "here") == Action(
        (Setting("cross-feed", "open"),), "", 60.0, None, 0.0
    )
    stuck = parse_edit(Edit(60.0, "cross-feed", "stuck open"), alder(), "here", "mine")
    assert stuck == Trouble("mine", "cross-feed", "stuck open", 1.0, 60.0, None, 0.0, None, None, "")
    slow = parse_edit(Edit(60.0, "cross-feed", "slow 10"), alder(), "here")
    assert isinstance(slow, Trouble)
    assert (slow.kind, slow.severity) == ("slow", 10.0)
    leak = parse_edit(Edit(60.0, "main-left", "leak 1,200 kg/h"), alder(), "here")
    assert isinstance(leak, Trouble)
    assert leak.severity == 1200.0
    assert parse_edit(Edit(60.0, "main-left", "mended"), alder(), "here") == Mended(60.0, "main-left")
    units = parse_edit(Edit(60.0, "preselect", "wrong units"), alder(), "here")
    assert isinstance(units, Trouble)
    assert units.severity == 0.45359237


def test_edits_add_troubles_and_mendings_to_a_script() -> None:
    before = with_troubles('{ name = "edit-1", part = "vent-left", kind = "blocked", at = "1:00:00" }')
    edits = (edit("2:00:00 main-left=leak 500"), edit("3:00:00 main-left=mended"), edit("3:00:00 slats=out"))
    after = with_edits(before, edits, alder())
    assert [trouble.name for trouble in after.troubles] == ["edit-1", "edit-2"]
    assert after.troubles[1].at_s == 7200.0
    assert after.mended == (Mended(10_800.0, "main-left"),)
    assert after.actions[-1].settings == (Setting("slats", "out"),)
    assert len(after.actions) == len(before.actions) + 1
    assert before.mended == ()
    assert after.edits == edits

"""Variants of a script: figures that differ from a whole one, read as if the file were whole."""

from dataclasses import replace

import pytest

from tests.flight.flights import alder, day_sector
from wetwing.aircraft.mistakes import Mistake
from wetwing.flight.fly import fly
from wetwing.flight.script import parse_script, read_script, script_aircraft, script_text, scripts, variants

VARIANT = """
format = "wetwing-script/1"
name = "warm"
title = "Warm"
based_on = "day-sector"

[changes]
"air.deviation_k" = 12.5
"set.preselect" = 20000
"duration.cruise" = 200
"""


def slip(text: str) -> str:
    with pytest.raises(Mistake) as found:
        parse_script(text, "warm.toml", alder())
    return str(found.value)


def test_a_variant_differs_in_what_it_changes_and_in_nothing_else() -> None:
    warm, plain = parse_script(VARIANT, "warm.toml", alder()), day_sector()
    assert (warm.name, warm.title, warm.deviation_k) == ("warm", "Warm", 12.5)
    assert warm.ends_s == plain.ends_s - (329 - 200) * 60
    same = replace(warm, name=plain.name, title=plain.title, deviation_k=plain.deviation_k)
    for field in (
        "zero_fuel_kg",
        "tanks",
        "states",
        "used_kg",
        "plan_kg",
        "uplift_temperature_c",
        "troubles",
    ):
        assert getattr(same, field) == getattr(plain, field)
    settings = [s.state for a in warm.actions for s in a.settings if s.part == "preselect"]
    assert settings == ["20000 kg"]


@pytest.mark.parametrize("name", variants())
def test_a_shipped_variant_flies_to_its_end(name: str) -> None:
    assert name not in scripts()
    aircraft = alder()
    assert script_aircraft(name) == aircraft.name
    text, file = script_text(name)
    assert "based_on" not in text
    script = read_script(name, aircraft)
    assert script == parse_script(text, file, aircraft)
    assert script.name == name
    assert fly(aircraft, script).ended is None


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"day-sector"', '"day-sectr"', "nearest: day-sector"),
        ('"air.deviation_k" = 12.5', '"air.deviation" = 12.5', "nearest: air.deviation_k"),
        ('"air.deviation_k" = 12.5', '"air.deviation_k" = 99', "-60 to 40"),
        ("[changes]", "[change]", "change"),
        ('based_on = "day-sector"\n', "", "only in a file with based_on"),
        (VARIANT.partition("[changes]")[2], "\n", "at least one"),
    ],
)
def test_a_slip_in_a_variant_is_named(old: str, new: str, told: str) -> None:
    text = VARIANT.replace(old, new)
    assert text != VARIANT
    found = slip(text)
    assert told in found.replace("−", "-")
    assert found.startswith(("warm.toml", "inputs"))

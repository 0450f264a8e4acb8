"""Every slip of a file of an aircraft or of a flight is told at once, each with its line."""

import re
from functools import partial
from pathlib import Path

import pytest

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.read import fleet, fleet_text, parse_aircraft, read_aircraft
from wetwing.flight.script import parse_script
from wetwing_tools.data.lines import line_of, lines_of
from wetwing_tools.data.shipped import slips_of_shipped
from wetwing_tools.data.slips import slips_of

SCRIPTS = Path(__file__).parents[2] / "pysim" / "wetwing" / "flight" / "scripts"

TOML = """# A comment.
name = "x"

[tanks.left]
outline = [
  [1, 2],  # a = 3
  [3, 4],
]
held = { kg = 5 }

[[phases]]
at = "0:00:00"

[[phases]]
at = "0:10:00"
said = '''
not = "a key"
'''

[changes]
"air.deviation_k" = 20
"""


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("name",), 2),
        (("tanks", "left"), 4),
        (("tanks",), 4),
        (("tanks", "left", "outline", 1), 5),
        (("tanks", "left", "held", "kg"), 9),
        (("phases", 1, "at"), 15),
        (("phases", 1, "missing"), 14),
        (("changes", "air.deviation_k"), 21),
        (("nowhere",), 1),
    ],
)
def test_where_a_key_stands(path: tuple[str | int, ...], line: int) -> None:
    assert line_of(lines_of(TOML), path) == line
    assert not any("not" in known for known in lines_of(TOML))


def aircraft(text: str) -> object:
    return parse_aircraft(text, "own.toml")


def script(text: str) -> object:
    return parse_script(text, "own.toml", read_aircraft("alder-165"))


def changed(text: str, *pairs: tuple[str, str]) -> tuple[str, list[int]]:
    """A text with slips put in, one after the other down the file, and their lines."""
    at, lines = 0, []
    for old, new in pairs:
        at = text.index(old, at)
        lines.append(text.count("\n", 0, at) + 1)
        text = text[:at] + new + text[at + len(old) :]
        at += len(new)
    return text, lines


def told(slips: list[Mistake]) -> list[tuple[int, str]]:
    """The line and the message of each slip, in the order of the file."""
    found = []
    for slip in slips:
        match = re.match(r"own\.toml:(\d+): (.*)", str(slip), re.DOTALL)
        assert match, slip
        found.append((int(match[1]), match[2]))
    return sorted(found)


def test_all_slips_of_an_aircraft() -> None:
    text, lines = changed(
        fleet_text("alder-165"),
        ("take_off_kg = 101000", "take_off_kg = -5"),
        ("capacity_l = 1450", "capacty_l = 1450"),
        ("unusable_kg = 18", 'unusable_kg = "x"'),
        ('side = "right"', 'side = "rigt"'),
        ('opens_when = "apu-run is on"', 'opens_when = "apu-rn is on"'),
        ("main-left.gauged_kg <= 900 kg", "main-left.gauged_kg <= 900"),
    )
    found = told(slips_of(text, "own.toml", aircraft))
    wanted = (
        "-5 kg; allowed",
        "nearest: found 'capacty_l'",
        "found 'x'",
        "nearest: right",
        "apu-run",
        "no unit",
    )
    assert [line for line, _ in found][:1] == lines[:1]
    for (line, message), says in zip(found, wanted, strict=True):
        assert says in message, (line, message)
    # A key that is missing has the line of its table.
    assert [line for line, _ in found][2:] == lines[2:]
    assert found[1][0] < lines[1] < found[1][0] + 8


def test_all_slips_of_a_script() -> None:
    text, lines = changed(
        (SCRIPTS / "day-sector.toml").read_text("utf-8"),
        ("zero_fuel_kg = 75500", "zero_fuel_kg = 175500"),
        ("deviation_k = -3", 'deviation_k = "cold"'),
        ('ground-power = "connected"', 'ground-power = "conected"'),
    )
    found = told(slips_of(text, "own.toml", script))
    assert [line for line, _ in found] == lines
    for (_, message), says in zip(found, ("80500 kg", "found 'cold'", "nearest: connected"), strict=True):
        assert says in message


def test_all_slips_of_a_variant() -> None:
    text = (
        'format = "wetwing-script/1"\nname = "v"\ntitle = "V"\nbased_on = "day-sector"\n\n[changes]\n'
        '"air.deviaton_k" = 3\n"fuel.uplift_temperature_c" = 99\n'
    )
    (first, one), (second, other) = told(slips_of(text, "own.toml", script))
    assert (first, second) == (7, 8)
    assert "nearest: air.deviation_k" in one
    assert "99 °C" in other


def test_what_a_guess_may_have_brought_is_not_told() -> None:
    """The value that stands in for a missing one is no author's: nothing is said of it."""
    text, _ = changed(fleet_text("alder-165"), ("capacity_l = 9500\n", ""))
    (slip,) = slips_of(text, "own.toml", aircraft)
    assert "tanks.centre.capacity_l: missing" in str(slip)


def test_a_text_that_is_no_toml_has_one_slip() -> None:
    (slip,) = slips_of("a = = 1", "own.toml", aircraft)
    assert "not readable as TOML" in str(slip)


@pytest.mark.parametrize("name", fleet())
def test_an_aircraft_of_the_fleet_has_none(name: str) -> None:
    assert slips_of(fleet_text(name), f"{name}.toml", partial(parse_aircraft, file=f"{name}.toml")) == []


def test_nothing_that_ships_has_a_slip() -> None:
    assert slips_of_shipped() == []

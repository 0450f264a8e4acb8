"""What the reader of aircraft says to each slip of an author: the whole message.

The slips stand in `slips.toml`, beside this file.
"""

from functools import partial
from pathlib import Path

import pytest

from tests.aircraft.files import Slip, alder_text, changed, mistake_of, says, slips_in
from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.read import LARGEST_FILE, parse_aircraft, read_aircraft

SLIPS = slips_in(Path(__file__).with_name("slips.toml"))


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip.name.replace(" ", "-"))
def test_a_slip_in_an_aircraft_s_file_is_named(slip: Slip) -> None:
    text = changed(alder_text(), (slip.old, slip.new))
    assert says(mistake_of(lambda: parse_aircraft(text, "alder.toml")), slip.says)


def test_the_aircraft_as_it_ships_has_no_slip() -> None:
    assert parse_aircraft(alder_text(), "alder.toml") == read_aircraft("alder-165")


def test_a_mistake_has_four_parts() -> None:
    text = changed(alder_text(), ('from = "main-left"', 'from = "main-lefft"'))
    mistake = mistake_of(lambda: parse_aircraft(text, "alder.toml"))
    assert mistake.place == "alder.toml: pumps.main-left-forward.from"
    assert mistake.found == "unknown tank 'main-lefft'"
    assert mistake.allowed == ("outboard-left", "main-left", "centre", "main-right", "outboard-right")
    assert mistake.nearest == "main-left"
    assert isinstance(mistake, ValueError)


def test_a_name_used_twice() -> None:
    text = alder_text() + '\n[controls.gallery]\nlabel = "x"\nsettings = ["a", "b"]\n'
    assert says(
        mistake_of(lambda: parse_aircraft(text, "alder.toml")),
        "alder.toml: control gallery: this name is used twice; allowed: a name of its own for every part",
    )


def test_rules_that_wait_on_each_other() -> None:
    text = changed(
        alder_text(),
        ('starts = "slats is out"', 'starts = "slats is out and proving-run-1 is inactive"'),
        (
            'starts = "engine-1 is running"\nlasts_s = 150',
            'starts = "engine-1 is running and slat-hold is active"\nlasts_s = 150',
        ),
    )
    assert says(
        mistake_of(lambda: parse_aircraft(text, "alder.toml")),
        "alder.toml: rules.proving-run-1: a loop of rules: proving-run-1 → slat-hold → proving-run-1; "
        "allowed: rules that do not wait on themselves",
    )


def without_section(text: str, section: str) -> str:
    """The text without every table `[section.…]`."""
    kept, keeping = [], True
    for line in text.splitlines():
        if line.startswith("["):
            keeping = not line.startswith(f"[{section}.")
        kept += [line] if keeping else []
    return "\n".join(kept)


def test_an_aircraft_without_tanks_or_engines() -> None:
    for section, message in (
        ("tanks", "alder.toml: tanks: no tank; allowed: one tank or more"),
        ("engines", "alder.toml: returns.return-left.engine: unknown engine 'engine-1'"),
    ):
        text = without_section(alder_text(), section)
        assert says(mistake_of(partial(parse_aircraft, text, "alder.toml")), message)
    text = without_section(without_section(alder_text(), "engines"), "returns")
    assert says(
        mistake_of(lambda: parse_aircraft(text, "alder.toml")),
        "alder.toml: engines: no engine; allowed: one engine or more",
    )


def test_a_file_that_is_no_toml() -> None:
    for text in ("[tanks", "format = ", "= 3", "a = 1\na = 2"):
        mistake = mistake_of(partial(parse_aircraft, text, "alder.toml"))
        assert str(mistake).startswith("alder.toml: not readable as TOML: ")


def test_an_empty_file() -> None:
    assert says(
        mistake_of(lambda: parse_aircraft("", "alder.toml")),
        "alder.toml: format: missing; allowed: this key is needed",
    )


@pytest.mark.parametrize("opening", ["[", "{ a = "])
def test_brackets_nested_without_end_are_refused_not_followed(opening: str) -> None:
    text = changed(alder_text(), ("capacity_l = 1450", "capacity_l = " + opening * 50_000))
    mistake = mistake_of(lambda: parse_aircraft(text, "alder.toml"))
    assert str(mistake).startswith("alder.toml: not readable as TOML: ")


def test_an_aircraft_that_is_not_in_the_fleet() -> None:
    assert says(
        mistake_of(lambda: read_aircraft("alder-156")),
        "aircraft: unknown aircraft 'alder-156'; allowed: …; nearest: alder-165",
    )


def test_a_name_of_any_length_is_cut_short() -> None:
    message = str(mistake_of(lambda: read_aircraft("x" * 5000)))
    assert message.startswith(f"aircraft: unknown aircraft '{'x' * 57}...'")
    assert len(message) < 300


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    path = tmp_path / "none.toml"
    assert says(
        mistake_of(lambda: read_aircraft(str(path))),
        f"{path}: aircraft file cannot be read: No such file or directory",
    )


def test_a_huge_file_is_not_parsed(tmp_path: Path) -> None:
    path = tmp_path / "huge.toml"
    path.write_bytes(b"#" * (LARGEST_FILE + 1))
    assert says(
        mistake_of(lambda: read_aircraft(str(path))), f"{path}: 1000001 bytes; allowed: at most 1000000 bytes"
    )


def test_a_file_in_another_encoding(tmp_path: Path) -> None:
    path = tmp_path / "latin.toml"
    path.write_bytes('title = "Aérien"'.encode("latin-1"))
    assert says(
        mistake_of(lambda: read_aircraft(str(path))),
        f"{path}: byte 10 is not UTF-8; allowed: a UTF-8 text file",
    )


def test_a_file_at_a_path_is_read(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(changed(alder_text(), ('name = "alder-165"', 'name = "my-alder"')), encoding="utf-8")
    assert read_aircraft(str(path)).name == "my-alder"


def test_a_long_list_of_names_is_shortened() -> None:
    mistake = Mistake("here", "unknown part 'x'", [f"part-{i}" for i in range(30)])
    assert str(mistake).endswith(", part-11, and 18 more")
    assert len(mistake.allowed) == 30

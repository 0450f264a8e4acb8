"""The command line on the demonstration flight: what it prints, by meaning, and what it refuses."""

import csv
import io
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from wetwing.aircraft.read import fleet_text, read_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight
from wetwing.flight.script import read_script, script_text
from wetwing.teach.words import clock
from wetwing_tools.cli import main


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments), catch_exceptions=False)


@pytest.fixture(scope="module")
def flight() -> Flight:
    aircraft = read_aircraft("alder-165")
    return fly(aircraft, read_script("day-sector", aircraft))


def held_s(flight: Flight) -> float:
    """When the centre is first stopped after the climb began."""
    climb_s = next(phase.start_s for phase in flight.phases if phase.name == "climb")
    return next(
        change.time_s
        for change in flight.changes
        if change.part == "centre-left"
        and change.after == "stopped by automatics"
        and change.time_s > climb_s
    )


def test_fly_prints_every_change_with_its_reason_under_its_phase(flight: Flight) -> None:
    lines = run("fly", "day-sector").stdout.splitlines()
    assert lines[0].startswith("Day sector, Alder 165")
    assert [line.split(",")[0] for line in lines if ", from " in line and not line.startswith(" ")] == [
        phase.label for phase in flight.phases
    ]
    changes = [line for line in lines if line[:9].strip().count(":") == 2 and line[9:11] == "  "]
    assert len(changes) == len(flight.changes)
    hold = next(line for line in changes if "Return-flow hold" in line and ": active" in line)
    assert "until that tank has given 430 kg" in hold
    assert lines[-1].startswith("At the start ")


def test_fly_speaks_pounds() -> None:
    out = run("fly", "day-sector", "--units", "lb").stdout
    assert "given 948 lb" in out
    assert " kg" not in out.replace("kg/m", "")


def test_fly_as_json_is_the_whole_flight(flight: Flight) -> None:
    document = json.loads(run("fly", "day-sector", "--json").stdout)
    assert document["aircraft"]["name"] == "alder-165"
    assert document["script"]["name"] == "day-sector"
    assert [phase["name"] for phase in document["phases"]] == [phase.name for phase in flight.phases]
    assert len(document["keyframes"]) == len(flight.time_s)
    assert len(document["changes"]) == len(flight.changes)
    last = document["keyframes"][-1]
    assert set(last["tanks"]) == {tank.name for tank in flight.aircraft.tanks}
    totals = last["totals"]
    start_kg = document["keyframes"][0]["totals"]["on_board_kg"]
    balance_kg = totals["on_board_kg"] + totals["burned_kg"] + totals["vented_kg"]
    assert start_kg + totals["uplifted_kg"] == pytest.approx(balance_kg, rel=1e-9)


def test_fly_as_csv_is_one_row_a_keyframe(flight: Flight) -> None:
    rows = list(csv.reader(io.StringIO(run("fly", "day-sector", "--csv").stdout)))
    assert rows[0] == ["time_s", *flight.quantities]
    assert len(rows) == len(flight.time_s) + 1
    column = rows[0].index("centre.actual_kg")
    assert [float(row[column]) for row in rows[1:]] == flight.quantities["centre.actual_kg"]


def test_at_prints_every_part(flight: Flight) -> None:
    lines = run("at", "day-sector", "cruise").stdout.splitlines()
    cruise_s = next(phase.start_s for phase in flight.phases if phase.name == "cruise")
    assert lines[0].startswith(f"{clock(cruise_s)}, cruise: on board ")
    names = {line.split("  ")[0].strip() for line in lines[2:]}
    assert names == {part.label.strip() for part in flight.aircraft.parts.values()}
    engine = next(line for line in lines if line.startswith("Engine 1 ") and " engine-1 " in line)
    assert "running" in engine
    assert "kg/h" in engine
    assert "used" in engine


def test_because_walks_to_the_sensor(flight: Flight) -> None:
    time_s = held_s(flight)
    lines = run("because", "day-sector", clock(time_s), "centre-left").stdout.splitlines()
    assert lines[0] == f"Centre left pump at {clock(time_s)}: stopped by automatics"
    assert "Centre left pump became stopped by automatics" in lines[1]
    assert any("hold" in line and "became active" in line for line in lines[2:4])
    assert any("high-level sensor became wet" in line for line in lines)


def test_because_of_what_never_changed() -> None:
    out = run("because", "day-sector", "0:00:00", "cross-feed").stdout
    assert "since the beginning" in out


def test_next_says_when_what_and_why(flight: Flight) -> None:
    time_s = held_s(flight)
    lines = run("next", "day-sector", clock(time_s), "centre-left").stdout.splitlines()
    assert "stopped by automatics" in lines[0]
    assert lines[1].startswith("Next, in ")
    assert lines[1].endswith("delivering")
    assert "hold" in lines[2]


def test_next_of_what_never_changes() -> None:
    assert "does not change again" in run("next", "day-sector", "0:00:00", "cross-feed").stdout


def test_an_edit_changes_the_rest_of_the_flight(flight: Flight) -> None:
    time = clock(held_s(flight) + 60)
    edit = f"{time} centre-feed=manual"
    plain = run("because", "day-sector", time, "centre-left").stdout
    edited = run("because", "day-sector", time, "centre-left", "--set", edit).stdout
    assert "stopped by automatics" in plain.splitlines()[0]
    assert "delivering" in edited.splitlines()[0]
    two = run("at", "day-sector", time, "--set", edit, "--set", f"{time} cross-feed=open").stdout
    assert any("Cross-feed valve" in line and "moving" in line for line in two.splitlines())


def test_a_phase_is_a_time_in_an_edit_too() -> None:
    out = run("at", "day-sector", "cruise", "--set", "climb cross-feed=open").stdout
    assert any("Cross-feed valve" in line and "open" in line for line in out.splitlines())


LEAK = "cruise main-left leak 1200"


def test_a_trouble_is_told_with_what_it_does() -> None:
    lines = run("fly", "day-sector", "--set", LEAK).stdout.splitlines()
    (told,) = [line for line in lines if "Trouble: present" in line]
    assert "Main left leaks: 1,200 kg/h when the tank is full, less as it empties." in told
    assert any("Fuel leak" in line and ": on" in line for line in lines)
    assert ", leaked " in lines[-1]
    pounds = run("fly", "day-sector", "--set", LEAK, "--units", "lb").stdout
    assert "Main left leaks: 2,646 lb/h when the tank is full" in pounds


def test_a_trouble_stands_among_the_parts_and_in_the_reasons() -> None:
    options = ("--set", LEAK, "--set", "3:00:00 main-left mended")
    present = run("at", "day-sector", "2:00:00", *options).stdout.splitlines()
    (row,) = [line for line in present if line.startswith("Trouble")]
    assert "present" in row and "Main left leaks: 1,200 kg/h" in row
    over = run("at", "day-sector", "3:00:00", *options).stdout.splitlines()
    assert any(line.startswith("Trouble") and "absent" in line for line in over)
    why = run("because", "day-sector", "2:00:00", "leak", *options).stdout
    assert "Trouble became present. Main left leaks: 1,200 kg/h" in why


def test_a_setting_may_be_written_without_its_sign() -> None:
    signed = run("at", "day-sector", "cruise", "--set", "climb cross-feed=open").stdout
    assert run("at", "day-sector", "cruise", "--set", "climb cross-feed open").stdout == signed


def test_a_blank_gauge_shows_no_figure() -> None:
    lines = run("at", "day-sector", "7:21:00").stdout.splitlines()
    assert lines[0].endswith("gauges blank")
    (row,) = [line for line in lines if line.split()[:3] == ["Main", "left", "main-left"]]
    assert "gauge blank" in row


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("fly", "day-secto"), "nearest: day-sector"),
        (("fly", "day-sector", "--aircraft", "alder"), "nearest: alder-165"),
        (("fly", "missing.toml"), "cannot be read"),
        (("at", "day-sector", "cruze"), "nearest: cruise"),
        (("at", "day-sector", "1:75:00"), "h:mm:ss"),
        (("at", "day-sector", "59:00:00"), "after the end"),
        (("because", "day-sector", "cruise", "centre-lft"), "nearest: centre-left"),
        (("next", "day-sector", "cruise", "main"), "unknown part"),
        (("fly", "day-sector", "--set", "centre-feed=manual"), "TIME PART=STATE"),
        (("fly", "day-sector", "--set", "1:00:00 centre-feed=manul"), "nearest: manual"),
        (("fly", "day-sector", "--set", "1:00:00 centre-fed=manual"), "nearest: centre-feed"),
        (("fly", "day-sector", "--set", "1:00:00 vent-left=spilling"), "allowed: blocked, mended"),
        (("fly", "day-sector", "--set", "1:00:00 gross-weight=shown"), "not set by a person"),
        (("fly", "day-sector", "--set", "1:00:00 main-left"), "TIME PART TROUBLE FIGURE"),
        (("fly", "day-sector", "--set", "1:00:00 main-left leek 900"), "nearest: leak"),
        (("fly", "day-sector", "--set", "1:00:00 main-left leak much"), "1 to 60000 kg/h"),
        (("fly", "day-sector", "--set", "1:00:00 main-left leak 99999"), "nearest: 60000 kg/h"),
        (("fly", "day-sector", "--set", "1:00:00 centre-left failed 3"), "takes no figure"),
        (("fly", "day-sector", "--set", "1:00:00 preselect=99000"), "0 to "),
        (("fly", "day-sector", "--json", "--csv"), "exclude each other"),
        (("fly", "day-sector", "--units", "stone"), "stone"),
        (("fly",), "SCRIPT"),
    ],
)
def test_bad_input_is_one_message_and_code_2(arguments: tuple[str, ...], message: str) -> None:
    result = run(*arguments)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert message in result.stderr
    assert "Traceback" not in result.stderr


def test_a_file_is_a_script_too(tmp_path: Path) -> None:
    bad = tmp_path / "mine.toml"
    bad.write_text(
        'format = "wetwing-script/1"\nname = "mine"\ntitle = "Mine"\naircraft = "alder-165"\nends_at = "x"\n'
    )
    result = run("fly", str(bad))
    assert result.exit_code == 2
    assert "mine.toml:5: ends_at" in result.stderr


@pytest.mark.parametrize(
    "command",
    [
        ("fly", "{script}"),
        ("at", "{script}", "0:10:00"),
        ("because", "{script}", "0:10:00", "apu"),
        ("differences", "alder-165", "alder-165-b", "--script", "{script}"),
    ],
    ids=lambda command: command[0],
)
def test_every_slip_of_a_script_is_told(command: tuple[str, ...], tmp_path: Path) -> None:
    text, _ = script_text("day-sector")
    for sound, slip in (("trip_kg", "trip"), ("deviation_k = -3", "deviation_k = -300"), ("7:21:00", "7:21")):
        text = text.replace(sound, slip, 1)
    bad = tmp_path / "mine.toml"
    bad.write_text(text)
    result = run(*(word.format(script=bad) for word in command))
    assert result.exit_code == 2
    assert result.stdout == ""
    told = result.stderr.splitlines()
    assert all(re.match(r"wetwing: mine\.toml:\d+: ", line) for line in told)
    for key in ("plan.trip_kg", "air.deviation_k", "ends_at"):
        assert sum(f": {key}: " in line for line in told) == 1, told


def test_every_slip_of_an_aircraft_is_told(tmp_path: Path) -> None:
    text = fleet_text("rowan-54").replace("capacity_l", "capacity", 2)
    bad = tmp_path / "mine.toml"
    bad.write_text(text)
    for words in (
        ("fly", "rowan-hop", "--aircraft", str(bad)),
        ("differences", "rowan-54", str(bad)),
    ):
        result = run(*words)
        assert result.exit_code == 2
        told = result.stderr.splitlines()
        assert len([line for line in told if "capacity_l: missing" in line]) == 2, told


def piped(command: str) -> subprocess.CompletedProcess[str]:
    program = Path(sys.executable).parent / "wetwing"
    env = {**os.environ, "FORCE_COLOR": "", "TERM": "xterm"}
    return subprocess.run(
        command.format(program), shell=True, capture_output=True, text=True, env=env, timeout=300
    )


def test_a_pipe_gets_plain_text_without_progress() -> None:
    done = piped("{} fly day-sector")
    assert done.returncode == 0
    assert "\x1b" not in done.stdout
    assert done.stderr == ""


def test_a_pipe_that_closes_is_no_fault() -> None:
    for options in ("", "--csv", "--json"):
        done = piped(f"bash -o pipefail -c '{{}} fly day-sector {options} | head -c 10'")
        assert done.stderr == "", options


def test_check_judges_a_page_and_names_every_slip(tmp_path: Path) -> None:
    page = tmp_path / "page.md"
    page.write_text(
        "---\nmoments:\n  hold: return-flow-hold-right becomes active\n---\n\n# Page\n\n"
        "[It is shut.]{holds: cross-feed is shut at hold} {= centre.gauged_kg at hold}\n"
    )
    found = run("check", str(page))
    assert found.exit_code == 0
    assert "1 statement and 1 figure on 1 page" in found.output
    page.write_text(
        page.read_text() + "\n[It is open.]{holds: cross-feed is open at hold}\n\n{= centr.capacity_l}\n"
    )
    found = run("check", str(page))
    assert found.exit_code == 1
    assert f'{page}:10: "It is open." is not true' in found.output
    assert f"{page}:12: " in found.output
    assert "nearest: centre" in found.output


def test_check_reads_the_files_of_an_aircraft_and_of_a_flight(tmp_path: Path) -> None:
    aircraft, script = tmp_path / "own.toml", tmp_path / "morning.toml"
    aircraft.write_text(fleet_text("rowan-54").replace("Rowan 54", "Own"))
    script.write_text(script_text("rowan-hop")[0].replace('aircraft = "rowan-54"', 'aircraft = "own"'))
    found = run("check", str(aircraft), "--aircraft", str(aircraft), str(script))
    assert found.exit_code == 0, found.output
    read, flown = found.output.splitlines()
    parts = re.fullmatch(r"own\.toml: Own, (\d+) parts: (.*)", read)
    assert parts
    counts = [entry.split(" ", 1) for entry in parts[2].split(", ")]
    assert sum(int(count) for count, _ in counts) == int(parts[1])
    assert ["4", "tanks"] in counts
    assert ["3", "buses"] in counts
    assert ["1", "totaliser"] in counts
    assert flown.startswith("morning.toml: Rowan hop, 1:55:00 with the Own: 6 phases, ")


def test_check_says_what_is_wrong_with_each_file(tmp_path: Path) -> None:
    texts = {
        "slip": fleet_text("rowan-54").replace("capacity_l", "capacity", 1),
        "other": 'format = "wetwing-aircrft/1"\n',
        "none": "name = 'x'\n",
        "broken": "name = \n",
    }
    for name, text in texts.items():
        (tmp_path / f"{name}.toml").write_text(text)
    found = run("check", *(str(tmp_path / f"{name}.toml") for name in texts))
    assert found.exit_code == 1
    slip, other, none, broken = found.output.splitlines()
    assert slip.startswith("slip.toml:40: tanks.main-left.capacity_l: missing; ")
    assert other.startswith("other.toml: format: unknown format 'wetwing-aircrft/1'; ")
    assert other.endswith("; nearest: wetwing-aircraft/1")
    assert none == "none.toml: format: missing; allowed: wetwing-aircraft/1, wetwing-script/1"
    assert broken.startswith("broken.toml: not readable as TOML: ")

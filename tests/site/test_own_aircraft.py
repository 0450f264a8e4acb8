"""The guide to an aircraft of one's own: its files and commands are done, and say what the page shows."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml

from tests.site.guide import CommandStep, FileStep, GuideBroken, do_file, matches, steps
from wetwing.aircraft.read import read_aircraft
from wetwing_tools.desk import serve
from wetwing_tools.site import objectives, vocabulary
from wetwing_tools.site.course import read_course
from wetwing_tools.site.slips import Slips

ROOT = Path(__file__).parents[2]
GUIDE = ROOT / "docs" / "instructors" / "own-aircraft.md"
PAGE = "tansy/centre-first.md"


@pytest.fixture(scope="module")
def guide() -> str:
    return GUIDE.read_text("utf-8")


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What step 1 leaves, as far as the commands read it."""
    folder = tmp_path_factory.mktemp("own-course")
    shutil.copytree(ROOT / "pysim", folder / "pysim", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "mkdocs.yml", folder)
    return folder


def from_copy(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    # More processes would cost more to start than one short page saves.
    ours = {"PYTHONPATH": str(folder / "pysim"), "NO_MKDOCS_2_WARNING": "1", "PYTHON_CPU_COUNT": "1"}
    environment = {**os.environ, **ours}
    return subprocess.run(
        [sys.executable, *arguments], cwd=folder, env=environment, capture_output=True, text=True, timeout=300
    )


@pytest.fixture(scope="module")
def said(copy: Path) -> list[list[str]]:
    """What each command of the guide says, done in order with its files."""
    done = from_copy(copy, str(ROOT / "tests" / "site" / "guide.py"), str(GUIDE), ".")
    assert done.returncode == 0, done.stderr
    found: list[list[str]] = json.loads(done.stdout)
    return found


def test_every_command_says_what_the_guide_shows(guide: str, said: list[list[str]]) -> None:
    commands = [step for step in steps(guide) if isinstance(step, CommandStep)]
    assert len(commands) == len(said) >= 15
    for step, lines in zip(commands, said, strict=True):
        assert step.shown, f"{step.command}: the page shows nothing of what it says"
        assert matches(step.shown, lines), "\n".join(["$ " + step.command, *lines])


def test_the_guide_shows_slips_and_their_mending(said: list[list[str]]) -> None:
    """Two slips of the aircraft's file, a false sentence of the page; and at the end none is left."""
    told = ["\n".join(lines) for lines in said]
    assert sum("; nearest: " in text for text in told) == 2
    assert sum(" is not true: " in text for text in told) == 1
    assert re.fullmatch(r"\d+ statements and \d+ figures on 1 page", told[-1])


def test_the_course_takes_the_page(copy: Path, said: list[list[str]]) -> None:
    """With all other pages: its objectives, and the words that the new aircraft brings into the course."""
    docs = ROOT / "docs"
    sources = {str(path.relative_to(docs)): path.read_text("utf-8") for path in sorted(docs.rglob("*.md"))}
    sources[PAGE] = (copy / "docs" / PAGE).read_text("utf-8")
    course, slips = read_course(sources), Slips()
    assert PAGE in [one.page for one in course.surveys]
    own = read_aircraft(str(copy / "pysim/wetwing/aircraft/fleet/tansy-12.toml"))
    vocabulary.check(course.surveys, course.glossary, [own], slips)
    assert slips.found == []
    objectives.check_course(course.surveys, slips)
    assert [slip for slip in slips.found if slip.page == PAGE] == []


def test_the_page_builds_and_has_its_place_in_the_menu(copy: Path, said: list[list[str]]) -> None:
    """With the page alone, beside one aircraft of the fleet, so that the two are compared, and with no live
    runtime, which has tests of its own.
    """
    for name in ("aircraft/fleet/alder-165-b", "aircraft/fleet/juniper-285", "aircraft/fleet/rowan-54"):
        (copy / "pysim" / "wetwing" / f"{name}.toml").unlink()
    for name in ("juniper-long", "rowan-hop"):
        (copy / "pysim" / "wetwing" / "flight" / "scripts" / f"{name}.toml").unlink()
    settings = yaml.safe_load((copy / "mkdocs.yml").read_text("utf-8"))
    entries = [entry for entry in settings["nav"] if PAGE in entry.values()]
    assert entries, "the guide gives the page no place in the menu"
    settings["nav"] = [{"Home": "index.md"}, *entries, {"Differences": ["differences/index.md"]}]
    settings["plugins"][0]["wetwing"]["live"] = False
    (copy / "mkdocs.yml").write_text(yaml.safe_dump(settings), "utf-8")
    for name in ("panel", "assets"):
        (copy / "docs" / name).symlink_to(ROOT / "docs" / name)
    (copy / "docs" / "differences").mkdir()
    for page in ("index.md", "differences/index.md"):
        (copy / "docs" / page).write_text("# Page\n", "utf-8")
    (copy / "node_modules").symlink_to(ROOT / "node_modules")
    done = from_copy(copy, "-m", "mkdocs", "build", "--strict", "--quiet")
    assert done.returncode == 0, done.stderr
    html = (copy / "site" / "tansy" / "centre-first.html").read_text("utf-8")
    assert "Centre pump" in html
    assert "Tansy 12" in (copy / "site" / "index.html").read_text("utf-8")
    pair = (copy / "site" / "differences" / "alder-165-and-tansy-12.html").read_text("utf-8")
    assert "Centre empty" in pair


def test_the_server_says_what_the_guide_shows(
    guide: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    (tmp_path / "index.html").write_text("")
    monkeypatch.setattr("http.server.ThreadingHTTPServer.serve_forever", interrupted)
    monkeypatch.setattr(sys, "argv", ["serve", str(tmp_path)])
    assert serve.main() == 0
    printed = re.sub(r":\d+/", ":8000/", capsys.readouterr().out.strip())
    assert f"\n{printed}\n" in guide


def test_the_minutes_add_up_to_half_an_hour(guide: str) -> None:
    rows = re.findall(r"^\| (\d+) \| \[.*\]\(#[\w-]+\) \| (\d+) \|$", guide, re.M)
    assert [number for number, _ in rows] == re.findall(r"^## (\d+)\. ", guide, re.M)
    assert sum(int(minutes) for _, minutes in rows) == 30


def test_output_is_compared_line_by_line() -> None:
    assert matches(("a", "…", "d"), ["a", "b", "c", "d"])
    assert not matches(("a", "…", "d"), ["a", "d"])
    assert not matches(("a", "b"), ["a", "b", "c"])
    assert not matches(("a",), [])


def test_a_change_needs_the_lines_that_it_takes_out(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text("one\ntwo\n")
    do_file(FileStep("a.toml", " one\n-two\n+three\n", "change"), tmp_path)
    assert (tmp_path / "a.toml").read_text() == "one\nthree\n"
    with pytest.raises(GuideBroken, match="0 times"):
        do_file(FileStep("a.toml", "-two\n+three\n", "change"), tmp_path)

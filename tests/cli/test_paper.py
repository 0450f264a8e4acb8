"""`wetwing paper`: two sheets for print, whole or not at all, and one message for each bad argument."""

import re
from html import unescape
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from wetwing.teach.link import parse_link
from wetwing_tools.cli import main
from wetwing_tools.cli.paper import write_all

BASE = "https://training.example/wet-wing"
TINY = ("--aircraft", "rowan-54", "--seed", "7", "--count", "4")
KINDS = ("--kind", "state", "--kind", "uplift", "--kind", "order", "--kind", "reason")


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["paper", *arguments], catch_exceptions=False)


def test_a_paper_and_its_key(tmp_path: Path) -> None:
    done = run(*TINY, *KINDS, "--units", "lb", "--address", BASE, "--out", str(tmp_path / "new" / "papers"))
    assert done.exit_code == 0, done.output
    names = ("paper-rowan-54-7.html", "key-rowan-54-7.html")
    assert done.stdout.split() == [str(tmp_path / "new" / "papers" / name) for name in names]
    paper, key = ((tmp_path / "new" / "papers" / name).read_text("utf-8") for name in names)
    for sheet in (paper, key):
        assert "Seed 7, model 0." in sheet
        assert "For learning." in sheet
        assert "size: A4" in sheet
        assert sheet.count("<section") == 4
        assert " kg<" not in sheet
        assert "{" not in sheet.partition("</style>")[2], "a mark was left as it is"
    assert paper.count('class="box"') >= 10
    assert paper.count('class="line"') == 2
    assert "Name</span>" in paper
    assert "✓" not in paper
    assert key.count("✓") == 3  # the order has its places instead
    links = [unescape(link) for link in re.findall(r'href="([^"]+)"', key)]
    assert len(links) >= 7
    for link in links:
        page, _, fragment = link.partition("#")
        assert page == f"{BASE}/bench/rowan-54.html"
        found = parse_link(f"#{fragment}")
        assert found is not None
        assert found.units == "lb"
    # The paper gives nothing of the answers away.
    assert "bench/" not in paper


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("--kind", "stat"), "kind: unknown kind of question 'stat'"),
        (("--count", "0"), "count: 0 questions; allowed: 1 to 40"),
        (("--seed", "-4"), "seed: -4; allowed: 0 to 999999"),
        (("--aircraft", "rowan"), "nearest: rowan-54"),
        (("--objective", "F-CRZ-99"), "objective: unknown objective 'F-CRZ-99'"),
        (("--address", "training"), "--address: 'training'"),
    ],
)
def test_bad_arguments_are_told_before_anything_is_made(
    arguments: tuple[str, ...], says: str, tmp_path: Path
) -> None:
    done = run(*arguments, "--out", str(tmp_path / "papers"))
    assert done.exit_code == 2
    assert says in done.stderr
    assert len(done.stderr.splitlines()) == 1
    assert not (tmp_path / "papers").exists()


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("mine")
    done = run("--out", str(tmp_path / "taken"))
    assert done.exit_code == 2
    assert "is a file; allowed: a folder" in done.stderr
    assert (tmp_path / "taken").read_text() == "mine"


def test_files_are_written_whole_or_not_at_all(tmp_path: Path) -> None:
    (tmp_path / "paper.html").write_text("before")
    with pytest.raises(UnicodeEncodeError):
        write_all(tmp_path, {"paper.html": "after", "key.html": "\ud800"})
    assert [path.name for path in tmp_path.iterdir()] == ["paper.html"]
    assert (tmp_path / "paper.html").read_text() == "before"

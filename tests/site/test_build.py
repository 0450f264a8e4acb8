"""Whole builds: a small site with slips is refused, the real one stands on its own."""

import subprocess
import sys
import tomllib
from dataclasses import fields
from pathlib import Path

import pytest
import yaml
from mkdocs.config import load_config
from mkdocs.exceptions import PluginError

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.ahead import Ahead, Endurance, Imbalance, Landing, NextLevel, Stranded
from wetwing.flight.document import document
from wetwing.flight.fly import fly
from wetwing.flight.script import read_script
from wetwing_tools.site import document_page, formats, plugin

ROOT = Path(__file__).parents[2]
PHASES = ("preparation", "start", "taxi", "climb", "cruise", "descent")
PANEL_PAGES = ("index.html", *(f"phases/{name}.html" for name in PHASES))


def build(config: Path, out: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet"]
    command += ["-f", str(config), "-d", str(out)]
    return subprocess.run(command, capture_output=True, text=True, timeout=300)


def without_runtime(folder: Path, docs: Path, nav: object = None) -> Path:
    """The repository's own settings, with other docs and no live runtime, which has tests of its own."""
    settings = yaml.safe_load((ROOT / "mkdocs.yml").read_text())
    settings["docs_dir"] = str(docs)
    settings["theme"]["custom_dir"] = str(ROOT / settings["theme"]["custom_dir"])
    settings["plugins"][0]["wetwing"]["live"] = False
    if nav is not None:
        settings["nav"] = nav
    (folder / "node_modules").symlink_to(ROOT / "node_modules")
    config = folder / "mkdocs.yml"
    config.write_text(yaml.safe_dump(settings))
    return config


def test_a_build_says_every_slip_and_fails(tmp_path: Path) -> None:
    docs = tmp_path / "docs"
    docs.mkdir()
    for name in ("panel", "assets"):
        (docs / name).symlink_to(ROOT / "docs" / name)
    (docs / "index.md").write_text(
        "---\nmoments:\n  never: cross-feed becomes open\n---\n\n# Head\n\n"
        "[The slats are out.]{holds: slats is out at begin}\n\n{= main-lft.capacity_l}\n"
    )
    (docs / "other.md").write_text("# Other\n\n```panel\nstart: begin\n```\n")
    nav = [{"Home": "index.md"}, {"Other": "other.md"}]
    done = build(without_runtime(tmp_path, docs, nav), tmp_path / "site")
    assert done.returncode == 1
    assert "4 slips on the pages" in done.stderr
    slips = ("index.md:3: ", 'index.md:8: "The slats are out." is not true', "index.md:10: ", "other.md:4: ")
    for place in slips:
        assert place in done.stderr
    assert "nearest: main-left" in done.stderr
    assert not (tmp_path / "site" / "index.html").exists()


def test_the_formats_name_every_key_that_the_shipped_files_use() -> None:
    folder = ROOT / "pysim" / "wetwing"
    aircraft = tomllib.loads((folder / "aircraft" / "fleet" / "alder-165.toml").read_text())
    for key, value in aircraft.items():
        if not isinstance(value, dict):
            assert key in formats.AIRCRAFT_TOP
            continue
        known = formats.AIRCRAFT_SECTIONS[key]
        rows = [value] if key in ("limits", "airframe", "balance", "plan") else value.values()
        for row in rows:
            assert set(row) <= set(known), key
    script = tomllib.loads((folder / "flight" / "scripts" / "day-sector.toml").read_text())
    for key, value in script.items():
        if isinstance(value, list):
            for row in value:
                assert set(row) <= set(formats.SCRIPT_SECTIONS[key]), key
        elif key == "initial":
            assert {f"initial.{inner}" for inner in value} <= set(formats.SCRIPT_SECTIONS)
        elif isinstance(value, dict):
            assert set(value) <= set(formats.SCRIPT_SECTIONS[key]), key
        else:
            assert key in formats.SCRIPT_TOP


def test_the_documents_page_names_every_key_of_a_document() -> None:
    aircraft = read_aircraft("alder-165")
    whole = document(fly(aircraft, read_script("day-sector", aircraft)))
    text = document_page.page()
    frame = whole["keyframes"][-1]  # type: ignore[index]
    reason = whole["changes"][-1]["reason"]  # type: ignore[index]
    inner = (frame["totals"], frame["flight"], whole["aircraft"], whole["script"])
    keys = [*whole, *frame, *(key for part in inner for key in part)]  # type: ignore[attr-defined]
    for key in (*keys, *(f"reason.{key}" for key in reason), "actual_kg", "gauged_kg", "used_kg"):
        assert f"`{key}`" in text, key


def test_the_documents_page_names_every_key_of_a_look_ahead() -> None:
    text = document_page.page()
    for record in (Ahead, NextLevel, Endurance, Stranded, Landing, Imbalance):
        for key in (field.name for field in fields(record)):
            assert f"`{key}`" in text, key


def test_a_build_says_every_slip_of_the_files_it_flies(monkeypatch: pytest.MonkeyPatch) -> None:
    slips = [Mistake("a.toml:3: limits.landing_kg", "missing"), Mistake("b.toml:9: name", "found 1")]
    monkeypatch.setattr(plugin, "slips_of_shipped", lambda: slips)
    with pytest.raises(PluginError) as refused:
        plugin.WetWingPlugin().on_config(load_config(str(ROOT / "mkdocs.yml"), plugins=[]))
    for slip in slips:
        assert str(slip) in str(refused.value)

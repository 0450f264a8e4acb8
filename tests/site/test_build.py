"""Whole builds: a small site with slips is refused, the real one stands on its own."""

import json
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from dataclasses import fields
from html.parser import HTMLParser
from pathlib import Path

import pytest
import yaml

from wetwing.aircraft.read import read_aircraft
from wetwing.flight.ahead import Ahead, Endurance, Imbalance, Landing, NextLevel, Stranded
from wetwing.flight.document import document
from wetwing.flight.fly import fly
from wetwing.flight.script import read_script
from wetwing_tools.site import document_page, formats

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
    settings["plugins"][0]["wetwing"]["live"] = False
    if nav is not None:
        settings["nav"] = nav
    (folder / "node_modules").symlink_to(ROOT / "node_modules")
    config = folder / "mkdocs.yml"
    config.write_text(yaml.safe_dump(settings))
    return config


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("built")
    done = build(without_runtime(folder, ROOT / "docs"), folder / "site")
    assert done.returncode == 0, done.stderr
    return folder / "site"


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


class Loads(HTMLParser):
    """Gathers what a page loads by itself: links that a reader clicks are no loads."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        names = ("src", "srcset", "data", "poster", "action") + (("href", "xlink:href") if tag != "a" else ())
        self.found += [str(given[name]) for name in names if given.get(name)]


def pages(site: Path) -> Iterator[tuple[Path, str]]:
    for path in sorted(site.rglob("*.html")):
        yield path, path.read_text("utf-8")


def test_no_page_loads_anything_from_another_host(site: Path) -> None:
    for path, html in pages(site):
        loads = Loads()
        loads.feed(html)
        outside = [address for address in loads.found if re.match(r"(?:[a-z]+:)?//", address)]
        assert not outside, path
    for path in site.rglob("*.css"):
        assert not re.search(r"(?:url\(|@import)\s*[\"']?(?:https?:)?//", path.read_text("utf-8")), path


def test_what_the_theme_could_fetch_is_never_asked_for(site: Path) -> None:
    """The theme's script names two libraries elsewhere: for diagrams and for browsers with no observer."""
    hosts = re.compile(r"(?:https?:)?//[\w.-]*(?:unpkg|jsdelivr|cdnjs|googleapis|gstatic)[\w./@-]*")
    named = {address for path in site.rglob("*.js") for address in hosts.findall(path.read_text("utf-8"))}
    assert named <= {
        "https://unpkg.com/mermaid@11/dist/mermaid.min.js",
        "https://unpkg.com/resize-observer-polyfill",
    }
    assert not any('class="mermaid"' in html for _, html in pages(site))


def test_every_link_between_pages_leads_to_a_page(site: Path) -> None:
    for path, html in pages(site):
        if path.name == "404.html":
            continue
        for address in re.findall(r'<(?:a|link|script|img)\b[^>]*?(?:href|src)="([^"#?]+)', html):
            if not re.match(r"[a-z]+:", address):
                assert (path.parent / address).exists(), f"{path.name}: {address}"


def test_the_panel_stands_on_its_pages_with_its_record(site: Path) -> None:
    for name in PANEL_PAGES:
        html = (site / name).read_text("utf-8")
        assert html.count("<wet-wing-panel") == 1, name
        record = re.search(r'class="ww-record">(.*?)</script>', html, re.DOTALL)
        assert record is not None, name
        assert json.loads(record[1])["script"]["name"] == "day-sector"


def test_every_page_has_its_caution_and_revisions(site: Path) -> None:
    for path, html in pages(site):
        if path.name != "404.html":
            assert "licensed instruction come first" in html, path
            assert re.search(r"Content revision [0-9a-f]{8}, model revision 0\.\d", html), path
            assert "Report an error" in html, path


def test_sources_are_not_in_the_site(site: Path) -> None:
    assert not (site / "panel").exists()
    for ending in ("mjs", "wasm", "zip", "whl", "py", "toml"):
        assert not list(site.rglob(f"*.{ending}")), ending
    assert not (site / "assets" / "site.js").exists()
    assert not (site / "overrides").exists()


def test_search_is_a_script_and_knows_no_panel(site: Path) -> None:
    index = (site / "search" / "search_index.js").read_text("utf-8")
    assert index.startswith("var __index = ")
    assert "return flow" in index.lower()
    assert "ww-record" not in index
    assert "Checked when this page was built" not in index
    assert "Report an error" not in index


def test_no_page_is_empty(site: Path) -> None:
    for path, html in pages(site):
        if path.name != "404.html":
            article = re.search(r"<article.*?</article>", html, re.DOTALL)
            assert article is not None, path
            own = re.sub(r"<aside.*?</aside>|<script.*?</script>", "", article[0], flags=re.DOTALL)
            words = re.sub(r"<[^>]+>", " ", own)
            assert len(words.split()) > 50, path


def test_reference_pages_come_from_the_data(site: Path) -> None:
    aircraft = read_aircraft("alder-165")
    sheet = (site / "reference" / "aircraft.html").read_text("utf-8")
    for part in (*aircraft.tanks, *aircraft.pumps, *aircraft.valves, *aircraft.engines, *aircraft.sensors):
        assert f"<code>{part.name}</code>" in sheet, part.name
    rules = (site / "reference" / "rules.html").read_text("utf-8")
    for rule in aircraft.rules:
        assert f"<code>{rule.name}</code>" in rules
        assert rule.starts.text.replace("<", "&lt;").replace(">", "&gt;") in rules
    commands = (site / "reference" / "command-line.html").read_text("utf-8")
    for name in ("fly", "at", "because", "next", "--set", "--units", "--json", "--csv"):
        assert name in commands


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

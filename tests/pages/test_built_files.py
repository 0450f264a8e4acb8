"""What every file of the built site owes its host and its reader, seen without a browser."""

import json
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

from wetwing.aircraft.read import read_aircraft

PHASES = ("preparation", "start", "taxi", "climb", "cruise", "descent")
PANEL_PAGES = ("index.html", *(f"phases/{name}.html" for name in PHASES))


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


def test_nothing_on_a_page_plays_or_moves_on_by_itself(site: Path) -> None:
    by_itself = re.compile(r"<(?:audio|video|marquee|blink)\b|\sautoplay\b|http-equiv=[\"']?refresh")
    for path, html in pages(site):
        assert not by_itself.search(html.lower()), path


def test_what_the_theme_could_fetch_is_never_asked_for(site: Path) -> None:
    """The theme's script names two libraries elsewhere: for diagrams and for browsers with no observer.

    The runtime's own scripts name where Pyodide could be had; that they never ask there has tests of its own.
    """
    hosts = re.compile(r"(?:https?:)?//[\w.-]*(?:unpkg|jsdelivr|cdnjs|googleapis|gstatic)[\w./@-]*")
    scripts = [path for path in site.rglob("*.js") if "runtime" not in path.parts]
    named = {address for path in scripts for address in hosts.findall(path.read_text("utf-8"))}
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
        assert f">{part.name}</code>" in sheet, part.name
    rules = (site / "reference" / "rules.html").read_text("utf-8")
    for rule in aircraft.rules:
        assert f">{rule.name}</code>" in rules
        assert rule.starts.text.replace("<", "&lt;").replace(">", "&gt;") in rules
    commands = (site / "reference" / "command-line.html").read_text("utf-8")
    for name in ("fly", "at", "because", "next", "--set", "--units", "--json", "--csv"):
        assert name in commands


def test_every_panel_reads_well_without_scripts(site: Path) -> None:
    """The pictures, their caption and the recorded flight stand in the page itself; buttons need scripts."""
    seen = 0
    for path, html in pages(site):
        for panel in re.findall(r"<wet-wing-panel.*?</wet-wing-panel>", html, re.DOTALL):
            seen += 1
            assert re.search(r'class="[^"]*ww-plan[^"]*"', panel), path
            assert panel.count("<svg") >= 3, path
            assert 'class="ww-record"' in panel, path
            assert "ww-caption" in panel, path
    assert seen > 40


def test_no_table_has_a_column_or_row_without_a_name(site: Path) -> None:
    for path, html in pages(site):
        assert not re.search(r"<th\b[^>]*>\s*</th>", html), path

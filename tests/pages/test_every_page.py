"""What every page of the built site owes its reader."""

import html
import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.pages.conftest import OpenReader, Visit, built_site
from tests.pages.flights import flown_in
from tests.pages.reader import Reader, assert_accessible, page_paths
from wetwing.draw import figures

WIDTHS = (320, 820, 1440)
# The panel is one element with one markup for each aircraft, which these pages show in all its kinds.
KINDS = ("phases/cruise", "phases/preparation", "bench/", "twins/back-flow", "troubles/find-it")
# The theme's frame, which is the same on every page but for the entry that is marked.
FRAME = (".md-header", ".md-tabs", ".md-sidebar--primary", ".md-footer")


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """One test for each page, or for each page that shows a kind of panel."""
    site = built_site(metafunc.config)
    paths = page_paths(site)
    if "path" in metafunc.fixturenames:
        metafunc.parametrize("path", paths)
    if "kind" in metafunc.fixturenames:
        kinds = [path for path in paths if path.startswith(KINDS) and has_panel(site, path)]
        metafunc.parametrize("kind", kinds)


def has_panel(site: Path, path: str) -> bool:
    return "<wet-wing-panel" in (site / path).read_text("utf-8")


def test_there_are_pages(site: Path) -> None:
    paths = page_paths(site)
    assert {"index.html", "phases/cruise.html", "reference/rules.html"} <= set(paths)
    for name in ("preparation", "start", "taxi", "climb", "cruise", "descent"):
        assert has_panel(site, f"phases/{name}.html")
    for kind in KINDS:
        assert any(path.startswith(kind) and has_panel(site, path) for path in paths), kind


A_MILLISECOND = 0.001
KEEP = "() => { localStorage.setItem('earlier', 'yes'); sessionStorage.setItem('earlier', 'yes'); }"
KEPT = "() => localStorage.getItem('earlier') ?? sessionStorage.getItem('earlier')"


def test_a_visit_finds_nothing_that_an_earlier_one_has_left(visit: Visit) -> None:
    first = visit("results.html").page
    scheme = "() => document.body.dataset.mdColorScheme"
    usual = first.evaluate(scheme)
    first.evaluate(KEEP)
    first.emulate_media(color_scheme="dark")
    first.locator('label[for="__palette_1"]').dispatch_event("click")
    first.wait_for_function(f"(usual) => ({scheme})() !== usual", arg=usual)
    first.set_viewport_size({"width": 320, "height": 900})
    assert first.evaluate(KEPT) == "yes"
    second = visit("questions.html").page
    assert second.evaluate(KEPT) is None
    assert second.evaluate(scheme) == usual
    assert second.evaluate("() => window.innerWidth") == 1280
    assert not second.evaluate("() => matchMedia('(prefers-color-scheme: dark)').matches")


def test_a_page_is_right_at_every_width_in_light_and_dark(visit: Visit, site: Path, path: str) -> None:
    """One visit for all of it, since to open a page is what takes the time. The visit ends with every rule of
    axe, in dark; of the other scheme the contrast is judged, since a scheme changes nothing else.
    """
    opened = visit(path)
    page = opened.page
    assert opened.text("h1")
    for width in WIDTHS:
        opened.resize(width)
        wide = page.evaluate("() => document.documentElement.scrollWidth")
        assert wide <= width, f"{path} is {wide} px wide at {width}"
    if has_panel(site, path):
        assert_first_picture_is_right(opened)
        if not path.startswith(KINDS):
            # To judge a panel takes most of the time, and it is the same as on a page of its kind.
            page.evaluate("() => document.querySelectorAll('wet-wing-panel').forEach((own) => own.remove())")
    alike = () if path.startswith(KINDS) else FRAME
    assert_accessible(page, rules=("color-contrast",), without=alike)
    page.emulate_media(color_scheme="dark")
    page.locator('label[for="__palette_1"]').dispatch_event("click")


def assert_first_picture_is_right(opened: Reader) -> None:
    """What stands on the page without the runtime is the recorded flight at the page's moment."""
    panel = opened.page.locator("wet-wing-panel").first
    # A start is written to a few digits, and the record on the page holds times to the millisecond: the
    # moment is just after what happens at it.
    flight = flown_in(panel.locator("script.ww-record").text_content() or "")
    moment = flight.moment(float(panel.get_attribute("data-start") or "nan") + A_MILLISECOND)
    for tank in flight.aircraft.tanks:
        assert opened.figure(f"{tank.name}.actual_kg") == pytest.approx(
            moment.quantity(f"{tank.name}.actual_kg"), abs=5.01
        )
    engines = [name for name, part in flight.aircraft.parts.items() if part.kind == "engine"]
    valve = ["cross-feed"] if "cross-feed" in flight.aircraft.parts else []
    for part in (*(pump.name for pump in flight.aircraft.pumps), *valve, engines[0]):
        assert opened.state(part) == moment.state(part)
    opened.page.wait_for_function("() => document.querySelector('.ww-state')?.dataset.state === 'failed'")
    assert "Recorded flight shown" in opened.text(".ww-state")
    opened.page.locator(".ww-next").first.click()
    following = min(c.time_s for c in flight.changes if c.time_s > moment.time_s)
    expect(opened.page.locator(".ww-now-time").first).to_have_text(figures.clock(following))


def test_a_page_reads_well_with_scripts_off(reader: OpenReader, kind: str) -> None:
    opened = reader(kind, scripts=False)
    assert (
        opened.page.locator(".ww-plans svg:visible").count() == opened.page.locator("wet-wing-panel").count()
    )
    assert opened.page.locator(".ww-caption").first.is_visible()
    assert not opened.page.locator(".ww-play").first.is_visible()
    assert opened.page.locator(".ww-state").first.is_visible()


def test_a_page_carries_its_caution_and_revision(site: Path, path: str) -> None:
    if path == "404.html":
        pytest.skip("says only that there is no such page")
    text = html.unescape(re.sub(r"<[^>]+>", " ", (site / path).read_text("utf-8")))
    assert "fictional aircraft" in text
    assert "come first" in text
    assert "revision" in text


def test_no_page_names_another_host(site: Path) -> None:
    outside = re.compile(
        r"""(?:src|href|action|poster|data)\s*=\s*["']?(?:https?:)?//(?!127\.0\.0\.1)[^"'\s>]+"""
    )
    found = [
        f"{path}: {match.group()}"
        for path in page_paths(site)
        for match in outside.finditer((site / path).read_text("utf-8"))
    ]
    assert not found

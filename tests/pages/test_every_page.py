"""What every page of the built site owes its reader."""

import html
import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.pages.conftest import SITE, OpenReader
from tests.pages.flights import flown_in
from tests.pages.reader import Reader, assert_accessible, page_paths
from wetwing.draw import figures

PAGES = page_paths(SITE) or ["index.html"]
WITH_PANEL = (
    [path for path in PAGES if "<wet-wing-panel" in (SITE / path).read_text("utf-8")] if SITE.is_dir() else []
)
WIDTHS = (320, 820, 1440)
# The panel is one element with one markup for each aircraft, which these pages show in all its kinds.
KINDS = ("phases/cruise", "phases/preparation", "bench/", "twins/back-flow", "troubles/find-it")
EVERY_KIND = [path for path in WITH_PANEL if path.startswith(KINDS)]


def test_there_are_pages(site: Path) -> None:
    assert {"index.html", "phases/cruise.html", "reference/rules.html"} <= set(PAGES)
    phases = {
        f"phases/{name}.html" for name in ("preparation", "start", "taxi", "climb", "cruise", "descent")
    }
    assert phases <= set(WITH_PANEL)


A_MILLISECOND = 0.001


@pytest.mark.parametrize("path", PAGES)
def test_a_page_is_right_at_every_width_in_light_and_dark(reader: OpenReader, path: str) -> None:
    """One visit for all of it, since to open a page is what takes the time. The reader checks it once more at
    the end, in dark, with every rule.
    """
    opened = reader(path, block_runtime=path in WITH_PANEL, whole=path in EVERY_KIND)
    assert opened.text("h1")
    assert_accessible(opened.page, rules=("color-contrast",), whole=path in EVERY_KIND)
    for width in WIDTHS:
        opened.resize(width)
        wide = opened.page.evaluate("() => document.documentElement.scrollWidth")
        assert wide <= width, f"{path} is {wide} px wide at {width}"
    if path in WITH_PANEL:
        assert_first_picture_is_right(opened)
    opened.page.emulate_media(color_scheme="dark")
    opened.page.locator('label[for="__palette_1"]').dispatch_event("click")


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


@pytest.mark.parametrize("path", EVERY_KIND)
def test_a_page_reads_well_with_scripts_off(reader: OpenReader, path: str) -> None:
    opened = reader(path, scripts=False)
    assert (
        opened.page.locator(".ww-plans svg:visible").count() == opened.page.locator("wet-wing-panel").count()
    )
    assert opened.page.locator(".ww-caption").first.is_visible()
    assert not opened.page.locator(".ww-play").first.is_visible()
    assert opened.page.locator(".ww-state").first.is_visible()


@pytest.mark.parametrize("path", PAGES)
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
        for path in PAGES
        for match in outside.finditer((site / path).read_text("utf-8"))
    ]
    assert not found

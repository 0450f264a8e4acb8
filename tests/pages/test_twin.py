"""A reader at two panels on one time: each leads the other, and each keeps its own flight."""

from playwright.sync_api import Locator, Page, expect

from tests.pages.conftest import OpenReader
from tests.pages.flights import first, flown, flown_by
from tests.pages.reader import assert_accessible
from wetwing.draw import figures
from wetwing.flight.script import Edit
from wetwing.teach.compare import first_difference
from wetwing.teach.words import clock

ORDER = "twins/burn-order.html"
REVISIONS = "twins/revisions.html"
BACK_FLOW = "twins/back-flow.html"
MANUAL = Edit(4200.0, "centre-feed", "manual")


def sides(page: Page) -> tuple[Locator, Locator]:
    return page.locator(".ww-twin-left wet-wing-panel"), page.locator(".ww-twin-right wet-wing-panel")


def wait_until_live(page: Page) -> None:
    expect(page.locator("wet-wing-panel[data-live]")).to_have_count(2)


def go_to(panel: Locator, time: str) -> None:
    panel.locator(".ww-time").fill(time)
    panel.locator(".ww-time").press("Enter")


def figure(panel: Locator, quantity: str) -> float:
    """A figure of one side, as the panel computes it."""
    value: float = panel.evaluate("(panel, name) => panel.flight.at(panel.timeS).quantity(name)", quantity)
    return value


def test_where_one_goes_the_other_goes(reader: OpenReader) -> None:
    opened = reader(ORDER, width=1440)
    page = opened.page
    left, right = sides(page)
    wait_until_live(page)
    go_to(left, "2:05:00")
    for panel in (left, right):
        expect(panel.locator(".ww-now-time")).to_have_text("2:05:00")
    otherwise = flown(MANUAL)
    assert abs(figure(left, "main-right.actual_kg") - flown().quantity("main-right.actual_kg", 7500)) < 1
    assert abs(figure(right, "main-right.actual_kg") - otherwise.quantity("main-right.actual_kg", 7500)) < 1
    expect(right.locator(".ww-alert:visible", has_text="right vent")).to_be_visible()
    expect(left.locator(".ww-alert:visible")).to_have_count(0)

    # By keys on the right one's flight line; units and the part that is explained go along.
    right.locator(".ww-flightline").focus()
    page.keyboard.press("Home")
    expect(left.locator(".ww-now-time")).to_have_text("0:00:00")
    page.keyboard.press("End")
    for panel in (left, right):
        expect(panel.locator(".ww-now-time")).to_have_text(figures.clock(flown().duration_s))
    left.locator(".ww-units label", has_text="lb").click()
    assert right.evaluate("(panel) => panel.units") == "lb"
    left.locator(".ww-units label", has_text="kg").click()
    for panel in (left, right):
        panel.locator(".ww-folded > summary").click()
    right.locator("select.ww-part").select_option("main-left")
    expect(left.locator("select.ww-part")).to_have_value("main-left")
    opened.settle()
    assert_accessible(page)

    # The sentence between them goes to the moment that it names.
    found = first_difference(flown(), otherwise)
    assert found
    page.locator(".ww-twin-parting button").click()
    for panel in (left, right):
        expect(panel.locator(".ww-now-time")).to_have_text(figures.clock(found.time_s))


def test_each_keeps_its_own_flight_and_one_runtime_serves_both(reader: OpenReader) -> None:
    opened = reader(ORDER, width=1440)
    page = opened.page
    left, right = sides(page)
    wait_until_live(page)
    assert (
        page.evaluate(
            "() => new Set([...document.querySelectorAll('wet-wing-panel')].map((p) => p.door.client)).size"
        )
        == 1
    )
    go_to(left, "1:21:30")
    # Both at once: neither request drops the other's.
    page.evaluate(
        """() => Promise.all([...document.querySelectorAll('wet-wing-panel')].map((panel, index) =>
             panel.edit({ part: 'cross-feed', state: index ? 'shut' : 'open' })))"""
    )
    assert left.evaluate("(panel) => panel.edits.map((edit) => edit.state)") == ["open"]
    assert right.evaluate("(panel) => panel.edits.map((edit) => edit.state)") == ["manual", "shut"]
    left.evaluate("(panel) => panel.reset()")
    right.evaluate("(panel) => panel.reset()")
    expect(left.locator(".ww-edits > li")).to_have_count(0)
    expect(right.locator(".ww-edits > li")).to_have_count(1)

    # A switch of one side: the words between them are of the new pair.
    go_to(left, "1:10:30")
    expect(right.locator(".ww-now-time")).to_have_text("1:10:30")
    right.locator('[data-control="centre-feed"] label', has_text="automatic").click()
    edited = flown(MANUAL, Edit(4230.0, "centre-feed", "automatic"))
    assert first_difference(flown(), edited) is None
    expect(page.locator(".ww-twin-parting")).to_have_text("The two flights are the same now.")
    assert left.evaluate("(panel) => panel.edits.length") == 0

    # A link holds both sides.
    link = right.evaluate("(panel) => panel.links.address()")
    page.goto("about:blank")
    page.goto(link)
    wait_until_live(page)
    expect(page.locator(".ww-twin-parting")).to_have_text("The two flights are the same now.")
    assert right.evaluate("(panel) => panel.edits.length") == 2
    for panel in (left, right):
        expect(panel.locator(".ww-now-time")).to_have_text("1:10:30")
    opened.resize(320)
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 320


def test_two_revisions_stand_side_by_side_in_dark_and_their_marks_open_their_own_side(
    reader: OpenReader,
) -> None:
    opened = reader(REVISIONS, width=1440, dark=True)
    page = opened.page
    left, right = sides(page)
    first_flight, second_flight = flown(), flown_by("alder-165-b", "day-sector")
    found = first_difference(first_flight, second_flight)
    assert found
    expect(page.locator(".ww-twin-parting")).to_contain_text(f"differs at {clock(found.time_s)}")
    release = first(second_flight, "outboard-release", "active", 10_000)
    page.locator(".ww-twin-text", has_text="Right:").locator(".ww-proof").last.click()
    for panel in (left, right):
        expect(panel.locator(".ww-now-time")).to_have_text(figures.clock(release.time_s))
    assert right.evaluate("(panel) => panel.chosen") == "outboard-release"
    page.emulate_media(forced_colors="active")
    assert_accessible(page)


def test_one_flight_that_ends_early_holds_and_the_other_goes_on(reader: OpenReader) -> None:
    opened = reader(BACK_FLOW, width=820, block_runtime=True)
    left, right = sides(opened.page)
    short = flown(Edit(first_hold_s(), "centre-left", "check valve stuck open"))
    assert short.ended
    go_to(left, "6:00:00")
    expect(left.locator(".ww-now-time")).to_have_text("6:00:00")
    expect(right.locator(".ww-now-time")).to_have_text(figures.clock(short.duration_s))
    go_to(left, "6:10:00")
    expect(left.locator(".ww-now-time")).to_have_text("6:10:00")
    go_to(right, "2:00:00")
    expect(left.locator(".ww-now-time")).to_have_text("2:00:00")


def first_hold_s() -> float:
    """The time of the edit that the page makes: the first hold, at a whole tenth of a second."""
    record_s: float = first(flown(), "return-flow-hold-right", "active", 4200).time_s
    return -(-record_s * 10 // 1) / 10

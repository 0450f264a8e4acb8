"""A class at the panel: large over the page, frozen, covered, moved by a clicker; codes; saved files."""

import base64
import csv
import io
import json
import re
import struct
from xml.etree import ElementTree

import pytest
from playwright.sync_api import Download, Page, expect

from tests.pages.conftest import OpenReader
from tests.pages.flights import first_hold, flown
from tests.pages.reader import Reader, assert_accessible
from tests.pages.test_panel import shown
from wetwing.flight.document import document

CRUISE = "phases/cruise.html"
# The least letters of the drawing, px: of all its words, or of the names and masses of tanks alone.
LEAST_LETTER = """(names) => {
    const sizes = [];
    for (const text of document.querySelectorAll('dialog.ww-class .ww-plan text')) {
        const box = text.getBoundingClientRect();
        if (box.height === 0 || !text.textContent.trim()) continue;
        const isName = text.parentElement.matches('.tank') && text.matches(':first-of-type, .mass');
        if (names && !isName) continue;
        sizes.push(parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a);
    }
    return Math.min(...sizes);
}"""
# What a class looks at and a teacher needs that is not whole on the screen.
CUT = """() => {
    const dialog = document.querySelector('dialog.ww-class');
    const wanted = '.ww-plan text, .ww-plan .shell, .ww-now-time, .ww-where, .ww-class-sentence,' +
        '.ww-alert, .ww-class-parted, .ww-twin-parting, .ww-twin-name, .ww-flightline svg,' +
        '.ww-back, .ww-next, .ww-class-tools button, .ww-frozen-note';
    const cut = [...dialog.querySelectorAll(wanted)].filter((own) => {
        const box = own.getBoundingClientRect();
        if (!box.height || !own.checkVisibility()) return false;
        return box.left < 0 || box.top < -1 || box.right > innerWidth || box.bottom > innerHeight + 1;
    }).map((own) => own.textContent || own.getAttribute('class'));
    if (dialog.scrollHeight > dialog.clientHeight) cut.push(`${dialog.scrollHeight} px high`);
    return cut;
}"""
SCREENS = ((1280, 800), (1024, 768), (1920, 1080))


def open_class(opened: Reader) -> Page:
    """Open the class view by the keyboard, as it opens for whoever stands at a lectern."""
    opened.page.locator(".ww-class-open").focus()
    opened.page.keyboard.press("Enter")
    expect(opened.page.locator("dialog.ww-class[open]")).to_be_visible()
    opened.settle()
    return opened.page


def frozen_time(page: Page) -> str:
    return page.locator(".ww-when.ww-frozen .ww-now-time").inner_text()


def test_a_clicker_runs_a_class_and_nothing_stays_hidden(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    opened.wait_until_live()
    page = open_class(opened)
    assert page.evaluate(CUT) == []
    now = page.locator(".ww-now-time").first
    before = now.inner_text()

    # The clicker's two keys, and its dark key, which freezes.
    page.keyboard.press("PageDown")
    expect(now).not_to_have_text(before)
    second = now.inner_text()
    page.keyboard.press("b")
    expect(page.locator(".ww-frozen-note")).to_contain_text("Frozen")
    page.keyboard.press("PageDown")
    expect(page.locator(".ww-time")).not_to_have_value(re.compile(re.escape(second)))
    assert frozen_time(page) == second
    opened.set_switch("centre-feed", "manual")
    expect(page.locator('[data-control="centre-feed"] input[value=manual]')).to_be_checked()
    opened.wait_until_flown(1)
    assert frozen_time(page) == second
    page.locator(".ww-next").focus()
    page.keyboard.press("r")
    expect(page.locator(".ww-frozen-note")).to_have_count(0)
    expect(now).to_be_visible()
    expect(now).not_to_have_text(second)

    # Predict aloud: what is covered says so, one after another is revealed, and the next change covers again.
    page.get_by_role("button", name="Cover", exact=True).click()
    for label in ("Reasons", "Figures", "What comes next", "The flight after now"):
        page.get_by_label(label, exact=True).check()
    notes = page.locator(".ww-cover-note:visible")
    expect(notes).to_have_count(4)
    assert all("Covered: " in note for note in notes.all_inner_texts())
    expect(page.locator(".ww-because")).to_be_hidden()
    mass = page.locator('.ww-fit-hall [data-value="main-left.actual_kg"]').first
    assert mass.evaluate("(own) => getComputedStyle(own).visibility") == "hidden"
    page.keyboard.press("r")
    expect(notes).to_have_count(3)
    expect(page.locator(".ww-because")).to_be_visible()
    page.get_by_role("button", name="Reveal the figures").click()
    expect(notes).to_have_count(2)
    assert mass.evaluate("(own) => getComputedStyle(own).visibility") == "visible"
    page.keyboard.press("ArrowRight")
    expect(notes).to_have_count(4)

    # Keys never steal from a field, and their list is on the screen.
    page.keyboard.press("?")
    expect(page.locator(".ww-keys")).to_contain_text("next change")
    field = page.locator(".ww-time")
    field.fill("")
    field.press_sequentially("r.b")
    expect(field).to_have_value("r.b")
    field.press("Escape")

    # Leaving uncovers everything, and leads back to the button.
    expect(page.locator("dialog.ww-class")).to_have_count(0)
    expect(page.locator(".ww-because")).to_be_visible()
    expect(page.locator(".ww-cover-note:visible")).to_have_count(0)
    assert page.locator("wet-wing-panel").get_attribute("data-cover") is None
    expect(page.locator(".ww-class-open")).to_be_focused()


def test_the_class_view_is_for_everybody(reader: OpenReader) -> None:
    opened = reader(CRUISE, block_runtime=True, dark=True)
    page = open_class(opened)
    page.keyboard.press("b")
    page.get_by_role("button", name="Cover", exact=True).click()
    page.get_by_label("Reasons", exact=True).check()
    assert_accessible(page)
    page.emulate_media(forced_colors="active")
    assert_accessible(page)
    opened.resize(320)
    assert page.evaluate("document.querySelector('dialog.ww-class').scrollWidth") <= 320
    page.get_by_role("button", name="Leave class view").click()
    expect(page.locator("dialog.ww-class")).to_have_count(0)


FLEET = ("bench/alder-165.html", "bench/alder-165-b.html", "bench/rowan-54.html", "bench/juniper-285.html")


@pytest.mark.parametrize("place", (CRUISE, *FLEET))
def test_a_class_sees_the_whole_on_one_screen(reader: OpenReader, place: str) -> None:
    """Drawing, time, phase, sentence and keys, unasked; names and masses read from the last row."""
    opened = reader(place, block_runtime=True)
    page = open_class(opened)
    for width, height in SCREENS:
        page.set_viewport_size({"width": width, "height": height})
        opened.settle()
        assert page.evaluate(CUT) == [], (width, height)
        if width >= 1280:
            assert page.evaluate(LEAST_LETTER, True) >= 24
    page.set_viewport_size({"width": 1280, "height": 800})
    sentence = page.locator(".ww-class-sentence")
    expect(sentence).to_contain_text(re.compile(r"^(Now|Since \d:\d\d:\d\d(\.\d)?): .+\."))
    page.locator(".ww-now-time").first.wait_for()
    page.keyboard.press("PageDown")
    expect(sentence).to_contain_text(re.compile(r"^(Now|Since)"))
    page.keyboard.press("b")
    expect(page.locator(".ww-frozen-note")).to_be_visible()
    assert page.evaluate(CUT) == []
    assert page.evaluate(LEAST_LETTER, True) >= 24
    # What the one screen leaves out is there on demand.
    page.get_by_label("Every label and row").check()
    page.keyboard.press("r")
    opened.settle()
    assert page.locator(".ww-plan .label").count() > 20
    if place == CRUISE:
        assert page.evaluate(LEAST_LETTER, False) >= 24
        expect(page.locator(".ww-flightline .row-name").first).to_be_attached()


@pytest.mark.parametrize("place", ["twins/back-flow.html", "twins/revisions.html", "twins/tankering.html"])
def test_two_flights_are_taught_on_one_screen(reader: OpenReader, place: str) -> None:
    opened = reader(place, block_runtime=True)
    page = opened.page
    page.set_viewport_size({"width": 1280, "height": 800})
    page.locator(".ww-class-open").first.click()
    expect(page.locator("dialog.ww-class[open] wet-wing-panel")).to_have_count(2)
    opened.settle()
    assert page.evaluate(CUT) == []
    assert page.evaluate(LEAST_LETTER, True) >= 24
    # One flight line, one set of keys, both drawings, and the difference in words.
    assert page.locator(".ww-plan:visible").count() == 2
    for only in (".ww-flightline:visible", ".ww-next:visible", ".ww-now-time:visible", ".ww-class-bar"):
        assert page.locator(only).count() == 1, only
    expect(page.locator(".ww-twin-parting")).to_contain_text("A state first differs at")
    expect(page.locator(".ww-class-parted")).to_contain_text("Now: ")
    assert_accessible(page)

    times = "() => [...document.querySelectorAll('wet-wing-panel')].map((panel) => panel.timeS)"
    before = page.evaluate(times)
    page.keyboard.press("PageDown")
    opened.settle()
    after = page.evaluate(times)
    assert all(later > earlier for earlier, later in zip(before, after, strict=True))

    # Freeze holds both drawings, the sentences and the difference; reveal shows both as they are now.
    seen = [".ww-class-parted:visible", ".ww-plan:visible >> nth=0", ".ww-plan:visible >> nth=1"]
    held = [page.locator(name).text_content() for name in seen]
    page.keyboard.press("b")
    for _ in range(12):
        page.keyboard.press("PageDown")
    opened.settle()
    assert [page.locator(name).text_content() for name in seen] == held
    assert page.evaluate(CUT) == []
    page.keyboard.press("r")
    opened.settle()
    expect(page.locator(".ww-frozen-note")).to_have_count(0)
    assert [page.locator(name).text_content() for name in seen] != held

    # A cover lies on both, and one key lifts it from both.
    page.get_by_role("button", name="Cover", exact=True).click()
    page.get_by_label("Figures", exact=True).check()
    expect(page.locator(".ww-cover-note:visible")).to_have_count(2)
    page.keyboard.press("r")
    expect(page.locator(".ww-cover-note:visible")).to_have_count(0)
    page.keyboard.press("Escape")
    expect(page.locator("dialog.ww-class")).to_have_count(0)
    expect(page.locator(".ww-class-open").first).to_be_focused()
    expect(page.locator(".ww-twin-pair wet-wing-panel")).to_have_count(2)


def test_a_code_leads_where_others_can_go(reader: OpenReader) -> None:
    opened = reader(CRUISE, block_runtime=True)
    page = opened.page
    page.locator(".ww-qr-open").click()
    window = page.locator(".ww-qr-window")
    # The page of a test is opened on this device alone.
    expect(window.locator(".ww-qr-said")).to_contain_text("on this device alone")
    expect(window.locator("svg")).to_have_count(0)
    field = window.get_by_label("Address of this site for others")
    field.fill("intranet/wet-wing")
    field.press("Enter")
    expect(window.locator(".ww-problem")).to_contain_text("no whole address")
    field.fill("https://training.example/wet-wing")
    field.press("Enter")
    expect(window.locator(".ww-problem")).to_be_hidden()
    expect(window.locator("svg.ww-qr")).to_be_visible()
    address = window.locator(".ww-qr-address").inner_text()
    assert address.startswith("https://training.example/wet-wing/phases/cruise.html#v=1&aircraft=alder-165&")
    assert_accessible(page)
    page.keyboard.press("Escape")
    expect(window).to_be_hidden()
    expect(page.locator(".ww-qr-open")).to_be_focused()
    # It is remembered; and a state with very many changes says how long its address is.
    page.evaluate(
        """() => {
             const panel = document.querySelector('wet-wing-panel');
             const edit = { part: 'centre-feed', state: 'manual' };
             panel.edits = Array.from({ length: 20 }, (_own, at) => ({ ...edit, time_s: at }));
           }"""
    )
    page.locator(".ww-qr-open").click()
    expect(window.locator(".ww-qr-said")).to_contain_text("at most 500")
    assert re.search(r"has \d{3} characters", window.locator(".ww-qr-said").inner_text())
    page.evaluate("() => { document.querySelector('wet-wing-panel').edits = []; }")


def saved(page: Page, words: str) -> tuple[Download, bytes]:
    with page.expect_download() as told:
        page.get_by_role("button", name=words, exact=True).click()
    return told.value, told.value.path().read_bytes()


def test_pictures_and_flights_are_saved_as_files_of_their_own(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    opened.wait_until_live()
    page = opened.page
    hold = first_hold()
    page.locator(".ww-save-open").click()

    told, content = saved(page, "Plan as SVG")
    assert re.fullmatch(r"cruise-day-sector-\dh\d\dm\d\ds-plan\.svg", told.suggested_filename)
    text = content.decode("utf-8")
    root = ElementTree.fromstring(text)
    assert "var(--" not in text and "<style" not in text and "class=" not in text and "url(http" not in text
    words = " ".join(root.itertext())
    assert "revision A" in words and "A fictional aircraft, for learning." in words
    assert shown(hold.time_s) in words
    _, chart = saved(page, "Feed chart as SVG")
    assert ElementTree.fromstring(chart).tag.endswith("svg")
    # A browser reads it alone: the picture has the same words in the same places.
    size = page.evaluate(
        """async (data) => {
             const image = new Image();
             image.src = `data:image/svg+xml;base64,${data}`;
             await image.decode();
             return [image.naturalWidth, image.naturalHeight];
           }""",
        base64.b64encode(content).decode(),
    )
    _, png = saved(page, "Plan as PNG")
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    assert list(struct.unpack(">II", png[16:24])) == [round(2 * side) for side in size]

    _, exact = saved(page, "Flight as JSON")
    assert json.loads(exact) == json.loads(json.dumps(document(flown())))
    told, content = saved(page, "Flight as CSV")
    assert told.suggested_filename == "cruise-day-sector-flight.csv"
    rows = list(csv.DictReader(io.StringIO(content.decode("utf-8"))))
    record = json.loads(page.locator("script.ww-record").text_content() or "")
    assert [float(row["time [s]"]) for row in rows] == record["time_s"]
    values = record["quantities"]["main-left.actual_kg"]
    assert [float(row["main-left.actual_kg [kg]"]) for row in rows] == values
    at = next(row for row in reversed(rows) if float(row["time [s]"]) <= hold.time_s + 0.002)
    assert at["centre-left [state]"] == "stopped by automatics"
    expect(page.locator(".ww-saved")).to_contain_text("cruise-day-sector-flight.csv")

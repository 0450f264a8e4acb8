"""Predict first: choose, order, sketch, find; how sure; the results and their files; the levels of a page."""

import json
import re
from pathlib import Path
from typing import Any

from playwright.sync_api import Locator, Page, expect

from tests.pages.conftest import OpenReader
from tests.pages.flights import first_hold, flown
from tests.pages.reader import Reader, assert_accessible
from wetwing.draw import figures

START, CRUISE, FIND, RESULTS = (
    "phases/start.html",
    "phases/cruise.html",
    "troubles/find-it.html",
    "results.html",
)
RIGHT_MAIN = "main-right.gauged_kg"
KG_PER_LB = 0.45359237


def answer(question: Locator, sure: str = "fairly sure") -> Locator:
    """Say how sure, check, and give what the question says then."""
    question.locator(".ww-sure label", has_text=sure).click()
    question.locator(".ww-check").click()
    return question.locator(".ww-result")


SMALL = """(all) => all.filter((own) => {
  const { width, height } = own.getBoundingClientRect();
  return width < 24 || height < 24;
}).map((own) => own.textContent)"""


def assert_fits_a_narrow_window(opened: Reader) -> None:
    """Nothing is wider than a small telephone, and no button is too small for a finger."""
    opened.resize(320)
    wide = opened.page.evaluate("() => document.documentElement.scrollWidth")
    assert wide <= 320, f"{wide} px wide"
    buttons = opened.page.locator("fieldset.ww-predict button:visible, .ww-results button:visible")
    small = buttons.evaluate_all(SMALL)
    assert not small, f"targets below 24 px: {small}"


def assert_accessible_everywhere(page: Page) -> None:
    page.emulate_media(color_scheme="dark")
    assert_accessible(page)
    page.emulate_media(color_scheme="light", forced_colors="active")
    assert_accessible(page)
    page.emulate_media(forced_colors="none")


def test_a_wrong_choice_is_asked_how_sure_and_replays_what_contradicts_it(reader: OpenReader) -> None:
    opened = reader(CRUISE, block_runtime=True)
    page = opened.page
    question = page.locator("#cruise-hold")
    wrong = question.locator('input[data-right="false"]').first
    wrong.focus()
    page.keyboard.press("Space")
    question.locator(".ww-check").press("Enter")
    expect(question.locator(".ww-result")).to_have_text("Say how sure you are, then check.")
    assert question.locator(".ww-answer").is_hidden()
    # The keyboard stands at the first answer to that: two to the right is certain.
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    question.locator(".ww-check").press("Enter")
    expect(question.locator(".ww-result")).to_contain_text("Not so (certain)")

    page.emulate_media(reduced_motion="no-preference")
    link = question.locator(".ww-see:visible", has_text="contradicts it")
    goal = float(link.get_attribute("data-ww-time") or "nan")
    link.press("Enter")
    panel = "document.querySelector('wet-wing-panel')"
    page.wait_for_function(f"goal => {panel}.timeS < goal - 1", arg=goal)
    page.wait_for_function(f"goal => Math.abs({panel}.timeS - goal) < 0.01 && !{panel}.replaying", arg=goal)
    assert page.locator("select.ww-part").input_value() == link.get_attribute("data-ww-part")
    page.emulate_media(reduced_motion="reduce")

    page.reload()
    expect(question.locator(".ww-result")).to_contain_text("Not so (certain)")
    assert question.locator("input:checked").first.get_attribute("value") == wrong.get_attribute("value")


def test_an_order_is_made_by_keyboard_and_by_dragging(reader: OpenReader) -> None:
    opened = reader(START, block_runtime=True, width=820)
    page = opened.page
    question = page.locator("#start-sequence")
    rows = question.locator(".ww-order-item")

    def places() -> list[int]:
        return [int(place) for place in rows.evaluate_all("rows => rows.map(row => row.dataset.place)")]

    assert places() != sorted(places())
    expect(answer(question, "a guess")).to_contain_text("in place")
    for place in range(1, len(places()) + 1):
        question.locator(f'[data-place="{place}"] .ww-order-move').first.focus()
        while places().index(place) > place - 1:
            page.keyboard.press("ArrowUp")
    assert places() == sorted(places())
    assert question.locator(":focus").count() == 1, "what was moved keeps the focus"
    expect(question.locator(".ww-result")).to_have_text("")
    expect(answer(question)).to_contain_text("Right (fairly sure)")
    expect(question.locator('.ww-order-yours[data-same="true"]')).to_have_count(len(places()))

    first, third = rows.nth(0).bounding_box(), rows.nth(2).bounding_box()
    assert first
    assert third
    page.mouse.move(first["x"] + 120, first["y"] + first["height"] / 2)
    page.mouse.down()
    page.mouse.move(third["x"] + 120, third["y"] + third["height"] - 3, steps=5)
    page.mouse.up()
    assert places()[:3] == [2, 3, 1]
    expect(answer(question)).to_contain_text("3 of 6 stand in place")
    compared = question.locator(".ww-order-right > li").first
    expect(compared).to_contain_text("Yours: Engine 2 is at idle")
    assert_fits_a_narrow_window(opened)
    assert_accessible_everywhere(page)
    moment = compared.locator("a.ww-at")
    moment.press("Enter")
    expect(page.locator(".ww-now-time")).to_have_text(moment.inner_text().partition(".")[0])


def test_a_sketch_is_drawn_by_hand_or_by_numbers_and_judged_by_the_flight(reader: OpenReader) -> None:
    opened = reader(CRUISE, block_runtime=True)
    page = opened.page
    question = page.locator("#cruise-sketch")
    fields = question.locator(".ww-sketch-number")
    expect(answer(question)).to_contain_text("Nothing is drawn yet. Draw it to")

    plot = question.locator("svg.ww-sketch-plot")
    plot.scroll_into_view_if_needed()
    box = plot.bounding_box()
    assert box
    page.mouse.move(box["x"] + 70, box["y"] + 60)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + 40, steps=12)
    page.mouse.up()
    expect(answer(question)).to_contain_text("Your line stops at")
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + 40)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] - 10, box["y"] + 30, steps=12)
    page.mouse.up()
    expect(answer(question)).to_contain_text("Not so (fairly sure)")
    expect(plot.locator(".theirs")).to_have_count(1)
    expect(question.locator(".ww-sketch-furthest")).to_contain_text("Farthest apart at")
    expect(question.locator(".ww-sketch-furthest")).to_contain_text("pump, ")
    assert_fits_a_narrow_window(opened)
    assert_accessible_everywhere(page)

    # The twin by numbers, in pounds: the flight's own figures are right.
    page.locator(".ww-units label", has_text="lb").click()
    expect(question.locator(".ww-sketch-furthest")).to_contain_text("lb")
    own = json.loads(question.get_attribute("data-ww-sketch") or "")
    fields.first.fill("heavy")
    fields.first.press("Enter")
    expect(question.locator(".ww-problem")).to_contain_text("'heavy' is not a number")
    fields.first.fill("99")
    fields.first.press("Enter")
    expect(question.locator(".ww-problem")).to_contain_text(
        "99 is not on the sheet. The sheet goes from 12,34"
    )
    for at in range(6):
        time_s = own["from_s"] + (own["to_s"] - own["from_s"]) * (at + 1) / 6
        pounds = round(flown().quantity(RIGHT_MAIN, time_s) / KG_PER_LB)
        fields.nth(at).fill(str(pounds))
        fields.nth(at).press("Enter")
    expect(question.locator(".ww-problem")).to_be_hidden()
    expect(answer(question, "certain")).to_contain_text("Right (certain)")
    page.locator(".ww-units label", has_text="kg").click()
    expect(fields.last).to_have_value(figures.exact_mass(pounds * KG_PER_LB, "kg"))


def test_results_are_listed_taken_out_cleared_and_brought_back(reader: OpenReader, tmp_path: Path) -> None:
    opened = reader(CRUISE, block_runtime=True)
    page = opened.page
    for name, right, sure in (("cruise-hold", "true", "a guess"), ("cruise-resume", "false", "certain")):
        page.locator(f'#{name} input[data-right="{right}"]').first.check()
        answer(page.locator(f"#{name}"), sure)
    address = page.url.replace(CRUISE, RESULTS)
    page.goto(address)
    results = page.locator(".ww-results")
    expect(results).to_contain_text("2 questions, 1 right at the last try.")
    again = results.locator("ol li")
    expect(again).to_have_count(1)
    expect(again).to_contain_text("When will the centre feed again? Cruise: ✗ wrong, certain.")
    assert_fits_a_narrow_window(opened)
    assert_accessible_everywhere(page)

    # Another tab answers meanwhile: the list hears of it, and loses nothing.
    other = page.context.new_page()
    other.goto(address.replace(RESULTS, START))
    other.locator('#start-used input[data-right="true"]').check()
    answer(other.locator("#start-used"))
    expect(results).to_contain_text("3 questions, 2 right")
    other.close()

    with page.expect_download() as saved:
        results.get_by_role("button", name="Save as JSON").click()
    file = tmp_path / "results.json"
    saved.value.save_as(file)
    assert re.fullmatch(r"wet-wing-results-\d{4}-\d\d-\d\d\.json", saved.value.suggested_filename)
    whole: dict[str, Any] = json.loads(file.read_text())
    assert [(one["question"], one["right"], one["sure"]) for one in whole["results"]] == [
        ("cruise-hold", True, "guess"),
        ("cruise-resume", False, "certain"),
        ("start-used", True, "rather"),
    ]
    with page.expect_download() as table:
        results.get_by_role("button", name="Save as CSV").click()
    table.value.save_as(tmp_path / "results.csv")
    lines = (tmp_path / "results.csv").read_bytes().decode().split("\r\n")
    assert lines[0].startswith("page,question,kind,page_title,asked,")
    assert len(lines) == 1 + 3 + 1

    results.get_by_role("button", name="Clear…").press("Enter")
    expect(results.get_by_role("button", name="Keep them")).to_be_focused()
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Enter")
    expect(results).to_contain_text("No question has been answered on this device yet.")
    page.keyboard.press("Enter")
    expect(results).to_contain_text("3 questions, 2 right")
    page.locator(".ww-results input[type=file]").set_input_files(
        {"name": "notes.json", "mimeType": "application/json", "buffer": b'{"format": "other/1"}'}
    )
    expect(results.locator(".ww-problem")).to_contain_text(
        "'notes.json' was not taken in. This file is of format 'other/1'"
    )

    elsewhere = reader(RESULTS)
    elsewhere.page.locator(".ww-results input[type=file]").set_input_files(file)
    expect(elsewhere.page.locator(".ww-results")).to_contain_text("3 questions taken in from 'results.json'.")
    expect(elsewhere.page.locator(".ww-results td", has_text="✗ wrong, certain").first).to_be_visible()


REFUSED = """for (const name of ["localStorage", "sessionStorage"]) {
  Object.defineProperty(window, name, { get() { throw new DOMException("refused", "SecurityError"); } });
}"""


def test_a_browser_that_keeps_nothing_says_so_once_and_every_kind_still_works(reader: OpenReader) -> None:
    # The theme keeps its scheme in what is refused here, and says so as an error.
    opened = reader(CRUISE, block_runtime=True, expect_errors=True, width=390)
    page = opened.page
    page.add_init_script(REFUSED)
    page.reload()
    for name in ("cruise-hold", "cruise-resume"):
        page.locator(f'#{name} input[data-right="true"]').check()
        expect(answer(page.locator(f"#{name}"))).to_contain_text("Right (fairly sure).")
    expect(page.locator(".ww-keeping:visible")).to_have_count(1)
    expect(page.locator(".ww-keeping:visible")).to_contain_text("your results last until you leave this page")


def test_a_level_folds_what_it_should_and_is_kept(reader: OpenReader) -> None:
    opened = reader(CRUISE, block_runtime=True)
    page = opened.page
    level = page.locator(".ww-levels")
    moments = page.locator("ol.ww-moments > li")
    hint = page.locator("#cruise-sketch .ww-hint")
    expect(hint).to_have_attribute("open", "")
    level.locator("input:checked").focus()
    page.keyboard.press("ArrowRight")
    expect(level).to_contain_text("each moment asks before it tells")
    expect(hint).not_to_have_attribute("open", "")
    first = moments.first
    expect(first).to_contain_text("What stopped the centre pumps, and what began that chain?")
    assert "Stopped, with fuel in it" not in first.inner_text()
    first.locator(".ww-moment-more").press("Enter")
    expect(first).to_contain_text("Stopped, with fuel in it")
    expect(first).to_contain_text("Each engine is at once on its own wing.")
    first.locator(".ww-go").press("Enter")
    expect(page.locator(".ww-now-time")).to_have_text(figures.clock(first_hold().time_s))
    assert_accessible_everywhere(page)
    level.locator("input:checked").focus()
    page.keyboard.press("ArrowRight")
    expect(moments.first).to_be_hidden()
    expect(hint).to_be_hidden()
    page.reload()
    expect(level.locator("input:checked")).to_have_value("challenge")
    expect(page.locator("ol.ww-moments")).to_be_hidden()


def test_a_hidden_trouble_is_found_by_gauges_and_counted_looks(reader: OpenReader) -> None:
    opened = reader(FIND, width=390)
    page = opened.page
    question = page.locator("#find-missing")
    question.locator(".ww-case-number").fill("0")
    question.locator(".ww-case-number").press("Enter")
    expect(question.locator(".ww-problem").first).to_have_text(
        "'0' is no case. Write a whole number from 1 to 999."
    )
    opened.wait_until_live()
    opened.set_switch("cross-feed", "open")
    opened.wait_until_flown(1)
    question.locator(".ww-case-number").fill("1")
    question.locator(".ww-case-number").press("Enter")
    expect(page.locator("wet-wing-panel")).to_have_attribute("data-challenge", "")
    expect(page.locator("wet-wing-panel")).to_have_attribute("data-view", "gauges")
    for hidden in (".ww-views", ".ww-switches", ".ww-why-card", ".ww-edits-card", ".ww-figures"):
        expect(page.locator(f"wet-wing-panel {hidden}").first).to_be_hidden()
    opened.go_to("2:50:00")
    question.locator(".ww-challenge-play select").nth(0).select_option("main-left")
    question.get_by_role("button", name="Look inside").press("Enter")
    expect(question.locator(".ww-looks li")).to_contain_text(
        re.compile(r"2:50:00 Main left: holds [\d,]+ kg; its gauge reads")
    )
    assert "leak" not in question.locator(".ww-looks").inner_text()
    assert_fits_a_narrow_window(opened)
    assert_accessible_everywhere(page)

    part, kind = (question.locator(".ww-challenge-play select").nth(at) for at in (1, 2))
    part.select_option("centre")
    kind.select_option("water")
    expect(answer(question, "certain")).to_contain_text("Neither the part nor what is wrong with it.")
    expect(question.locator(".ww-challenge-status")).to_have_text("2 looks so far.")
    hidden_case = page.evaluate(
        """async () => {
             const wish = JSON.parse(document.querySelector('#find-missing').dataset.wwChallenge);
             return wish.cases.map((text) => JSON.parse(atob(text)));
           }"""
    )
    for case in hidden_case:
        part.select_option(case["part"])
        kind.select_option(case["kind"])
        question.locator(".ww-check").click()
        if question.locator('.ww-result[data-result="right"]').count():
            break
    expect(question.locator(".ww-result")).to_contain_text(
        re.compile(r"^Right \(certain\)\. [23] looks; the fewest is 1\.")
    )
    expect(question.locator(".ww-case:visible")).to_have_count(1)
    expect(question.locator(".ww-case:visible .ww-case-chain li").first).to_contain_text("leak")
    expect(page.locator("wet-wing-panel")).not_to_have_attribute("data-challenge", "")
    question.locator(".ww-case:visible .ww-see").last.press("Enter")
    expect(page.locator(".ww-alert:visible").first).to_be_visible()
    expect(page.locator(".ww-edits > li")).to_contain_text("Main left")
    page.locator(".ww-note button", has_text="Bring them back").press("Enter")
    expect(page.locator(".ww-edits > li")).to_contain_text("Cross-feed")

"""A reader with nothing but a keyboard: from stop to stop by Tab, and nothing done loses the place."""

import re
from pathlib import Path

from playwright.sync_api import Locator, Page, expect

from tests.pages.conftest import OpenReader
from tests.pages.flights import flown
from tests.pages.keys import Keys
from tests.pages.reader import Reader
from tests.pages.test_changes import edits
from wetwing.draw import figures
from wetwing.flight.script import script_text

CRUISE = "phases/cruise.html"
PANEL = "document.querySelector('wet-wing-panel')"


def opened_by_keys(reader: OpenReader, path: str, *, live: bool = False) -> tuple[Reader, Page, Keys]:
    """Open a page, and go past its head by the link that every page has for that."""
    opened = reader(path, block_runtime=not live)
    keys = Keys(opened.page)
    if live:
        opened.wait_until_live()
    keys.enter(opened.page.locator("a.md-skip"))
    return opened, opened.page, keys


def time_is(page: Page, goal_s: float) -> None:
    page.wait_for_function(f"(goal) => Math.abs({PANEL}.timeS - goal) < 0.1", arg=goal_s)


def test_changes_are_made_undone_kept_and_compared_by_keys(reader: OpenReader) -> None:
    opened, page, keys = opened_by_keys(reader, CRUISE, live=True)
    keys.to(page.locator(".ww-flightline"))
    keys.press("Home", "Shift+ArrowRight", "Shift+ArrowRight", "ArrowLeft")
    time_is(page, 1170)
    keys.to(page.locator(".ww-time"))
    keys.type("2:00:00")
    keys.press("Enter")
    time_is(page, 7200)
    keys.to(page.locator('[data-control="centre-feed"] input:checked'))
    keys.press("ArrowRight")
    opened.wait_until_flown(1)
    keys.stands()

    # Undo rests when it has undone all: the keyboard goes on from its twin, and back again.
    keys.enter(page.locator(".ww-undo"))
    opened.wait_until_flown(0)
    opened.settle()
    keys.stands()
    expect(page.locator(".ww-redo")).to_be_focused()
    keys.press("Enter")
    opened.wait_until_flown(1)
    opened.settle()
    expect(page.locator(".ww-undo")).to_be_focused()
    keys.to(page.locator(".ww-keep-name"))
    keys.type("By hand")
    keys.press("Enter")
    expect(page.locator(".ww-kept-list > li")).to_have_count(1)
    keys.enter(page.locator(".ww-clear"), back=True)
    opened.wait_until_flown(0)
    opened.settle()
    keys.stands()
    compare = page.get_by_role("button", name="Compare By hand")
    keys.enter(compare)
    expect(compare).to_have_attribute("aria-pressed", "true")
    keys.stands()
    keys.press("Enter")
    expect(compare).to_have_attribute("aria-pressed", "false")
    keys.enter(page.get_by_role("button", name="Show By hand"), back=True)
    opened.wait_until_flown(1)
    opened.settle()
    keys.stands()

    # Reset says what it sets aside; what brings it back goes with it, and the keyboard stays at Reset.
    keys.enter(page.locator(".ww-reset"), back=True)
    opened.wait_until_flown(0)
    keys.enter(page.locator(".ww-note button"), back=True)
    opened.wait_until_flown(1)
    opened.settle()
    keys.stands()
    [edit] = edits(opened)
    handle = page.locator(".ww-handle")
    keys.to(handle, back=True)
    keys.press("Shift+ArrowRight", "ArrowRight")
    page.wait_for_function(f"(goal) => Math.abs({PANEL}.edits[0].time_s - goal) < 0.1", arg=edit.time_s + 61)
    opened.settle()
    expect(handle).to_be_focused()
    keys.press("Delete")
    opened.wait_until_flown(0)
    opened.settle()
    keys.stands()

    # The form for anything: Escape closes it where it was opened.
    change = page.locator(".ww-change")
    keys.enter(change)
    keys.choose(page.locator(".ww-change-part"), "cross-feed")
    keys.choose(page.locator('.ww-change-form [data-field="choice"]'), "open")
    keys.enter(page.locator(".ww-change-add"))
    opened.wait_until_flown(1)
    keys.stands()
    keys.press("Escape")
    expect(change).to_be_focused()
    keys.enter(page.locator('.ww-edits [data-field="remove"]'))
    opened.wait_until_flown(0)
    opened.settle()
    keys.stands()


def test_a_part_is_asked_why_and_what_next_by_keys(reader: OpenReader) -> None:
    opened, page, keys = opened_by_keys(reader, CRUISE, live=True)
    keys.turn(page.locator(".ww-views"), "gauges")
    expect(page.locator("wet-wing-panel")).to_have_attribute("data-view", "gauges")
    keys.enter(page.locator(".ww-hidden-note:visible button").first)
    expect(page.locator("wet-wing-panel")).to_have_attribute("data-view", "inside")
    opened.settle()
    keys.stands()
    keys.choose(page.get_by_label("Look at"), "left")
    expect(page.locator(".ww-drawing")).to_have_attribute("data-closer", "left")

    # Looking ahead: its links lead to their moments, and the answer from there leaves the keyboard in it.
    keys.enter(page.locator(".ww-ahead > summary"))
    listed = page.locator(".ww-ahead-list")
    expect(listed).to_contain_text("final reserve")
    way = listed.locator("button").first
    goal = way.inner_text()
    keys.enter(way)
    expect(page.locator(".ww-now-time")).to_have_text(goal.partition(".")[0])
    expect(page.locator(".ww-ahead-note")).to_contain_text(f"From {goal}")
    expect(listed).not_to_have_class(re.compile("ww-old"))
    keys.stands()

    keys.to(page.locator(".ww-time"), back=True)
    keys.type("1:25:00")
    keys.press("Enter")
    keys.choose(page.locator("select.ww-part"), "centre-left")
    chain = page.locator(".ww-because li")
    opened.settle()
    fourth = chain.nth(3).locator(".ww-moment-time")
    goal = fourth.inner_text()
    keys.enter(fourth)
    expect(page.locator(".ww-now-time")).to_have_text(goal.partition(".")[0])
    opened.settle()
    keys.stands()
    expect(chain.first.locator(".ww-moment-time")).to_be_focused()
    asked = chain.nth(1).locator(".ww-link-button").nth(1)
    part = asked.inner_text()
    keys.enter(asked)
    expect(page.locator(".ww-now")).to_contain_text(part)
    opened.settle()
    keys.stands()

    first = page.locator(".ww-next-changes button").first
    before_s = float(page.evaluate(f"() => {PANEL}.timeS"))
    following = min(change.time_s for change in flown().changes if change.time_s > before_s + 0.001)
    keys.enter(first)
    time_is(page, following)
    opened.settle()
    keys.stands()
    expect(first).to_be_focused()


def answer(keys: Keys, question: Locator, sure: str) -> Locator:
    """Say how sure, check, and give what the question says then; the keyboard stays at Check."""
    keys.turn(question.locator(".ww-sure"), sure)
    keys.enter(question.locator(".ww-check"))
    keys.stands()
    return question.locator(".ww-result")


def test_predictions_are_chosen_ordered_and_sketched_by_keys(reader: OpenReader) -> None:
    _, page, keys = opened_by_keys(reader, CRUISE)
    hold, sketch = page.locator("#cruise-hold"), page.locator("#cruise-sketch")
    keys.to(hold.locator("input[type=radio]").first)
    keys.press("Space")
    expect(answer(keys, hold, "certain")).to_contain_text("(certain)")
    for field in sketch.locator(".ww-sketch-number").all():
        keys.to(field)
        keys.type("6,000")
    expect(answer(keys, sketch, "guess")).to_contain_text("Not so (a guess)")
    see = sketch.locator(".ww-see:visible").first
    keys.enter(see)
    time_is(page, float(see.get_attribute("data-ww-time") or "nan"))
    keys.stands()

    page.goto(page.url.replace("cruise", "start"))
    keys.enter(page.locator("a.md-skip"))
    order = page.locator("#start-sequence")
    rows = order.locator(".ww-order-item")

    def places() -> list[int]:
        return [int(place) for place in rows.evaluate_all("rows => rows.map(row => row.dataset.place)")]

    for place in range(1, rows.count() + 1):
        while places().index(place) > place - 1:
            up = order.locator(f'[data-place="{place}"] .ww-order-move').first
            if not up.evaluate("(own) => own === document.activeElement"):
                keys.to(up)
            keys.press("ArrowUp")
        # Its own buttons stand in the order of the list, so the next one is further on.
    expect(answer(keys, order, "rather")).to_contain_text("Right (fairly sure)")


def test_two_panels_go_together_by_keys(reader: OpenReader) -> None:
    opened, page, keys = opened_by_keys(reader, "twins/burn-order.html")
    left, right = (page.locator(f".ww-twin-{side} wet-wing-panel") for side in ("left", "right"))
    parting = page.locator(".ww-twin-parting button")
    # By its own words: what a panel shows in the meantime may still be the moment before.
    (names,) = re.findall(r"\d+:\d\d:\d\d", parting.inner_text())
    keys.enter(parting)
    for panel in (left, right):
        expect(panel.locator(".ww-now-time")).to_have_text(names)
    keys.stands()
    keys.to(left.locator(".ww-flightline"))
    keys.press("End")
    for panel in (left, right):
        expect(panel.locator(".ww-now-time")).to_have_text(figures.clock(flown().duration_s))
    keys.to(right.locator(".ww-flightline"))
    keys.press("Home")
    opened.settle()
    expect(left.locator(".ww-now-time")).to_have_text("0:00:00")
    keys.stands()


def test_a_bench_is_loaded_broken_and_given_a_file_by_keys(reader: OpenReader, tmp_path: Path) -> None:
    opened, page, keys = opened_by_keys(reader, "bench/rowan-54.html", live=True)
    part = page.locator(".ww-change-part")
    keys.choose(part, "main-left")
    keys.choose(page.locator('.ww-change-form [data-field="choice"]'), "leak")
    keys.to(page.locator('.ww-change-form [data-field="figure"]'))
    keys.type("100")
    keys.press("Enter")
    opened.wait_until_flown(1)
    keys.stands()

    mine = tmp_path / "mine.toml"
    mine.write_text(script_text("rowan-hop")[0].replace('title = "Rowan hop"', 'title = "My hop"'), "utf-8")
    opened.settle()
    keys.give_file(page.locator("input.ww-open"), mine, back=True)
    source = page.locator(".ww-bench-source")
    expect(source).to_have_text("My hop, from mine.toml.")
    # The way back goes when it has been gone.
    keys.enter(page.get_by_role("button", name="Back to the page's flight"), back=True)
    expect(source).to_have_text("Rowan hop, as it ships.")
    opened.settle()
    keys.stands()
    field = page.locator(".ww-inputs").get_by_label("Cruise", exact=True)
    keys.to(field)
    keys.type("40")
    keys.press("Enter")
    expect(source).to_contain_text("with one figure changed")
    keys.stands()


def test_a_paper_is_handed_out_by_keys(reader: OpenReader) -> None:
    opened, page, keys = opened_by_keys(reader, CRUISE)
    keys.enter(page.locator(".ww-handout-open"))
    keys.stands()
    keys.to(page.get_by_label("Seed", exact=True), back=True)
    keys.type("7")
    keys.press("Enter")
    expect(page.locator(".ww-sheet-key .ww-sheet-made")).to_contain_text("Seed 7.")
    keys.enter(page.get_by_role("button", name="Another paper"))
    expect(page.locator(".ww-sheet-key .ww-sheet-made")).to_contain_text("Seed 8.")
    keys.stands()
    drawings = page.locator(".ww-sheet-drawings figure")
    count = drawings.count()
    keys.to(page.locator(".ww-handout-moments input").first, back=True)
    keys.press("Space")
    expect(drawings).to_have_count(count - 1)
    keys.enter(page.locator(".ww-handout-close"))
    expect(page.locator(".ww-handout-open")).to_be_focused()
    keys.stands()
    opened.settle()


def test_a_class_is_run_by_keys_and_nothing_is_a_trap(reader: OpenReader) -> None:
    opened, page, keys = opened_by_keys(reader, CRUISE)
    keys.enter(page.locator(".ww-class-open"))
    opened.settle()
    keys.stands()
    bar = page.locator(".ww-class-bar")
    keys.enter(bar.get_by_role("button", name="Freeze"))
    keys.stands()
    keys.enter(page.get_by_role("button", name="Reveal what is behind"))
    opened.settle()
    keys.stands()
    # Round all stops of the view, and out of it by its own button.
    keys.enter(bar.get_by_role("button", name="Leave class view"))
    expect(page.locator(".ww-class-open")).to_be_focused()
    keys.stands()


def test_exercises_are_made_and_answered_by_keys(reader: OpenReader) -> None:
    _, page, keys = opened_by_keys(reader, "exercises/index.html", live=False)
    figure = page.locator('fieldset[data-ww-kind="number"]').first
    wish = figure.evaluate("(own) => JSON.parse(own.dataset.wwNumber)")
    keys.to(figure.locator(".ww-number-field"))
    keys.type(f"{wish['amount']:.0f}")
    expect(answer(keys, figure, "certain")).to_contain_text("Right (certain)")
    see = figure.locator(".ww-see:visible").first
    keys.to(see)


def test_a_worksheet_is_filled_by_keys(reader: OpenReader) -> None:
    opened, page, keys = opened_by_keys(reader, "planning/uplift.html", live=True)
    gauged = page.locator("#ws-uplift-gauged")
    expect(gauged).to_be_editable()
    keys.to(gauged)
    keys.type("9000")
    expect(page.locator(".ww-ws-finding").first).to_contain_text("less than the book")
    expect(gauged).to_be_focused()
    keys.type("lots")
    expect(page.locator("#ws-uplift-gauged-problem")).to_contain_text("is not a number")
    keys.enter(page.get_by_role("button", name="Back to the page's flight"), back=True)
    expect(page.locator("#ws-uplift-gauged-problem")).to_be_hidden()
    opened.settle()
    keys.stands()


def test_a_hidden_trouble_is_found_by_keys(reader: OpenReader) -> None:
    opened, page, keys = opened_by_keys(reader, "troubles/find-it.html", live=True)
    question = page.locator("#find-missing")
    keys.enter(question.locator(".ww-challenge-row button").first)
    expect(page.locator("wet-wing-panel")).to_have_attribute("data-challenge", "")
    opened.settle()
    keys.stands()
    keys.enter(question.get_by_role("button", name="Go to the panel"))
    keys.stands()
    keys.to(page.locator(".ww-flightline"))
    keys.press("Shift+ArrowRight", "Shift+ArrowRight")
    keys.enter(page.locator(".ww-challenge-banner button"), back=True)
    keys.stands()
    keys.enter(question.get_by_role("button", name="Look inside"))
    expect(question.locator(".ww-looks li")).to_have_count(1)
    keys.stands()
    selects = question.locator(".ww-challenge-play select")
    keys.choose(selects.nth(1), "centre")
    keys.choose(selects.nth(2), "water")
    expect(answer(keys, question, "certain")).to_contain_text("Not so (certain)")
    keys.enter(question.get_by_role("button", name="Show me the answer"))
    expect(question.locator(".ww-case:visible")).to_have_count(1)
    opened.settle()
    keys.stands()

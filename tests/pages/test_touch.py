"""A reader with nothing but a finger: taps, and drags that neither scroll the page nor are taken for that."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.pages.conftest import OpenReader
from tests.pages.finger import Finger
from tests.pages.flights import first_hold, flown
from tests.pages.reader import Reader
from tests.pages.test_changes import edits, same
from wetwing.draw import figures
from wetwing.flight.clock import clock
from wetwing.flight.script import Edit, script_text

CRUISE = "phases/cruise.html"
PANEL = "document.querySelector('wet-wing-panel')"
TABLET, TELEPHONE = 820, 390

# What a finger aims at, less than 24 px wide or high.
SMALL = """(all) => all.filter((own) => own.checkVisibility() && !own.matches('.ww-hidden')).map((own) => {
  const box = (own.matches('input') && own.closest('label') || own).getBoundingClientRect();
  return [own, Math.round(box.width), Math.round(box.height)];
}).filter(([, wide, high]) => wide && (wide < 24 || high < 24))
  .map(([own, wide, high]) => `${own.className || own.textContent} ${wide} × ${high}`)"""
TARGETS = (
    "wet-wing-panel :is(button, input, select, summary, [tabindex]), fieldset.ww-predict :is(button, input),"
    " .ww-order-grip, .ww-proof, .ww-go, .ww-levels input, .ww-worksheet :is(button, input, select),"
    " .ww-exercise-form :is(button, input, select), dialog button"
)


def assert_large_enough(page: Page) -> None:
    small = page.locator(TARGETS).evaluate_all(SMALL)
    assert not small, f"targets below 24 px: {small}"


def time_s(page: Page) -> float:
    """The time that the panel shows, s."""
    found: float = page.evaluate(f"() => {PANEL}.timeS")
    return found


def chosen(page: Page) -> str:
    """The part that is asked about."""
    found: str = page.evaluate(f"() => {PANEL}.chosen")
    return found


def opened_by_finger(reader: OpenReader, path: str, **how: object) -> tuple[Reader, Page, Finger]:
    opened = reader(path, touch=True, **how)
    if "block_runtime" not in how:
        opened.wait_until_live()
    return opened, opened.page, Finger(opened.page)


def tap_choice(block: Locator, words: str) -> None:
    """Tap one of a few words that stand side by side."""
    block.locator("label", has_text=words).first.tap()


def on_plan(page: Page, part: str) -> Locator:
    """The symbol of a part in the drawing that is on show."""
    return page.locator(f'.ww-plan:visible [data-part="{part}"]').first


def test_the_flight_line_and_the_plan_follow_a_finger_and_still_let_it_scroll(reader: OpenReader) -> None:
    opened, page, finger = opened_by_finger(reader, CRUISE, width=TELEPHONE, block_runtime=True)
    line, plan = page.locator(".ww-flightline"), page.locator(".ww-plans")
    finger.tap_at(line, 0.6, 0.4)
    opened.settle()
    tapped_s = time_s(page)
    assert tapped_s > 9000
    finger.drag(finger.place(line, 0.6, 0.4), (-80, 4))
    opened.settle()
    dragged_s = time_s(page)
    assert dragged_s < tapped_s - 2000
    # A finger that goes up scrolls, wherever it begins, and moves neither the time nor the part asked about.
    part = chosen(page)
    for place in (line, plan):
        assert finger.scroll_from(place) > 100
        opened.settle()
        assert (time_s(page), chosen(page)) == (dragged_s, part)
    page.locator(".ww-next").tap()
    expect(page.locator(".ww-now-time")).to_have_text(figures.clock(next_change_s(dragged_s)))
    assert_large_enough(page)

    # The name of a row, a tank, and a pump that is smaller than a finger.
    x, y = finger.place(page.locator(".ww-flightline svg:visible [data-row='centre'] .floor"), 0.0)
    page.touchscreen.tap(x - 24, y)
    expect(page.locator("select.ww-part")).to_have_value("centre")
    tap_choice(page.locator(".ww-sides"), "Right")
    finger.tap_at(on_plan(page, "outboard-right"), 0.5)
    expect(page.locator("select.ww-part")).to_have_value("outboard-right")
    pump = on_plan(page, "main-right-aft")
    x, y = finger.place(pump)
    box = pump.bounding_box()
    assert box and box["width"] < 24
    page.touchscreen.tap(x - box["width"] / 2 - 3, y)
    expect(page.locator("select.ww-part")).to_have_value("main-right-aft")

    # Because, and what comes next: each link leads to its moment.
    page.locator(".ww-time").tap()
    page.locator(".ww-time").fill(clock(first_hold().time_s + 30, 1))
    page.locator(".ww-time").press("Enter")
    finger.tap_at(on_plan(page, "centre-left"), 0.5)
    expect(page.locator(".ww-now")).to_contain_text("Centre left pump")
    step = page.locator(".ww-because li").nth(3).locator(".ww-moment-time")
    goal = step.inner_text()
    step.tap()
    expect(page.locator(".ww-now-time")).to_have_text(goal.partition(".")[0])
    before_s = time_s(page)
    page.locator(".ww-next-changes button").first.tap()
    page.wait_for_function(f"(before) => {PANEL}.timeS > before", arg=before_s)

    tap_choice(page.locator(".ww-views"), "On the gauges")
    expect(page.locator("wet-wing-panel")).to_have_attribute("data-view", "gauges")
    page.locator(".ww-hidden-note:visible button").first.tap()
    expect(page.locator("wet-wing-panel")).to_have_attribute("data-view", "inside")


def next_change_s(from_s: float) -> float:
    return min(change.time_s for change in flown().changes if change.time_s > from_s + 0.001)


def test_changes_are_made_dragged_undone_kept_and_compared_by_finger(reader: OpenReader) -> None:
    opened, page, finger = opened_by_finger(reader, CRUISE, width=TABLET)
    finger.tap_at(page.locator(".ww-flightline"), 0.5, 0.4)
    tap_choice(page.locator('[data-control="centre-feed"]'), "manual")
    opened.wait_until_flown(1)
    [switched] = edits(opened)
    assert (switched.part, switched.state) == ("centre-feed", "manual")

    grip = page.locator(".ww-handle").first
    finger.drag(finger.place(grip), (90, 6), lift=False)
    expect(grip.locator(".ww-handle-time")).to_be_visible()
    finger.lift()
    page.wait_for_function(f"(before) => {PANEL}.edits[0].time_s > before + 600", arg=switched.time_s)
    [dropped] = edits(opened)
    opened.settle()
    page.locator(".ww-handle").first.tap()
    page.wait_for_function(f"(goal) => Math.abs({PANEL}.timeS - goal) < 0.1", arg=dropped.time_s)

    # Its entry in the card, the form for anything else, and the way back and forth.
    field = page.locator('.ww-edits [data-field="time"]')
    field.tap()
    field.fill(clock(switched.time_s, 1))
    field.press("Enter")
    page.wait_for_function(f"(goal) => Math.abs({PANEL}.edits[0].time_s - goal) < 0.1", arg=switched.time_s)
    page.locator(".ww-change").tap()
    form = page.locator(".ww-change-form")
    form.locator("select.ww-change-part").select_option("main-left")
    form.locator('[data-field="choice"]').select_option("leak")
    form.locator('[data-field="figure"]').fill("1200")
    form.locator(".ww-change-time").fill("2:30:00")
    form.locator(".ww-change-add").tap()
    opened.wait_until_flown(2)
    assert_large_enough(page)
    for way, count in (("undo", 1), ("redo", 2), ("undo", 1)):
        page.locator(f".ww-{way}").tap()
        opened.wait_until_flown(count)

    page.locator(".ww-keep").tap()
    expect(page.locator(".ww-kept-list > li")).to_have_count(1)
    page.locator(".ww-clear").tap()
    opened.wait_until_flown(0)
    compare = page.locator('.ww-kept-list [data-field="compare"]')
    compare.tap()
    expect(compare).to_have_attribute("aria-pressed", "true")
    expect(page.locator(".ww-differs")).to_contain_text("Compared with Flight 1")
    page.locator('.ww-kept-list [data-field="show"]').tap()
    opened.wait_until_flown(1)
    assert same(edits(opened), [Edit(round(switched.time_s, 1), "centre-feed", "manual")])


DOMAIN = f"() => Object.values({PANEL}.flightLine.domain())"


def test_traces_are_tapped_brushed_and_chosen_and_a_side_is_looked_at_closely(reader: OpenReader) -> None:
    opened, page, finger = opened_by_finger(reader, CRUISE, width=TABLET, block_runtime=True)
    page.locator(".ww-traces > summary").tap()
    over = page.locator(".ww-trace .u-over").first
    expect(page.locator(".ww-trace-now").first).to_be_visible()
    whole_s = flown().duration_s
    finger.tap_at(over, 0.75)
    page.wait_for_function(f"(goal) => Math.abs({PANEL}.timeS - goal) < 120", arg=0.75 * whole_s)
    tapped_s = time_s(page)
    assert finger.scroll_from(over) > 100
    opened.settle()
    assert time_s(page) == tapped_s
    finger.drag(finger.place(over, 0.75), (-0.25 * width_of(over), 3))
    page.wait_for_function(f"(goal) => Math.abs({PANEL}.timeS - goal) < 240", arg=0.5 * whole_s)
    dragged_s = time_s(page)

    # A finger holds no Shift down: a button makes the next drag mark a stretch, once.
    drag = page.locator(".ww-stretch-drag")
    drag.tap()
    expect(drag).to_have_attribute("aria-pressed", "true")
    finger.drag(finger.place(over, 0.2), (0.2 * width_of(over), 2), lift=False)
    expect(page.locator(".ww-trace-stretch:visible")).to_have_count(1)
    finger.lift()
    expect(page.locator("select.ww-zoom")).to_have_value("stretch")
    assert page.evaluate(DOMAIN) == pytest.approx([0.2 * whole_s, 0.4 * whole_s], abs=240)
    assert time_s(page) == dragged_s
    expect(drag).to_have_attribute("aria-pressed", "false")
    page.locator(".ww-stretch-whole").tap()
    expect(page.locator("select.ww-zoom")).to_have_value("flight")
    names = page.locator(".ww-trace-names").first
    expect(names).to_contain_text("Centre")
    page.locator(".ww-trace-key label", has_text=re.compile("^Centre$")).first.tap()
    expect(names).not_to_contain_text("Centre")
    tap_choice(page.locator(".ww-trace-groups"), "Flows")
    expect(page.locator(".ww-trace-title").first).to_contain_text("kg/h")
    assert_large_enough(page)

    page.get_by_label("Look at").select_option("left")
    opened.settle()
    expect(page.locator(".ww-drawing")).to_have_attribute("data-closer", "left")
    finger.tap_at(on_plan(page, "main-left-forward"), 0.5)
    expect(page.locator("select.ww-part")).to_have_value("main-left-forward")
    assert finger.scroll_from(page.locator(".ww-plans")) > 100


def width_of(target: Locator) -> float:
    box = target.bounding_box()
    assert box
    return box["width"]


def check(question: Locator, sure: str = "fairly sure") -> Locator:
    """Say how sure, check, and give what the question says then."""
    tap_choice(question.locator(".ww-sure"), sure)
    question.locator(".ww-check").tap()
    return question.locator(".ww-result")


def test_predictions_are_chosen_ordered_and_sketched_by_finger(reader: OpenReader) -> None:
    _, page, finger = opened_by_finger(reader, CRUISE, width=TELEPHONE, block_runtime=True)
    hold = page.locator("#cruise-hold")
    hold.locator(".ww-option label", has=page.locator('[data-right="false"]')).first.tap()
    expect(check(hold, "certain")).to_contain_text("Not so (certain)")
    see = hold.locator(".ww-see:visible").first
    goal = float(see.get_attribute("data-ww-time") or "nan")
    see.tap()
    page.wait_for_function(f"(goal) => Math.abs({PANEL}.timeS - goal) < 0.1 && !{PANEL}.replaying", arg=goal)

    sketch = page.locator("#cruise-sketch")
    plot = sketch.locator("svg.ww-sketch-plot")
    wide = width_of(plot)
    start = finger.place(plot, 70 / wide, 0.25)
    stood = page.evaluate("() => window.scrollY")
    # Down and up again: the hand draws, and the page stands still under it.
    finger.drag(start, ((wide - 80) / 2, 60), ((wide - 80) / 2, -40))
    assert page.evaluate("() => window.scrollY") == stood
    expect(check(sketch)).to_contain_text("fairly sure")
    expect(plot.locator(".theirs")).to_have_count(1)
    assert_large_enough(page)

    page.goto(page.url.replace("cruise", "start"))
    order = page.locator("#start-sequence")
    rows = order.locator(".ww-order-item")

    def places() -> list[int]:
        return [int(place) for place in rows.evaluate_all("rows => rows.map(row => row.dataset.place)")]

    began = places()
    # By its handle an item is drawn two places down; anywhere else the page is scrolled.
    grip = finger.place(rows.nth(0).locator(".ww-order-grip"))
    third = rows.nth(2).bounding_box()
    assert third
    finger.drag(grip, (2, third["y"] + third["height"] - 4 - grip[1]))
    assert places() == [*began[1:3], began[0], *began[3:]]
    assert finger.scroll_from(rows.nth(1).locator(".ww-order-words"), 160) > 60
    assert places() == [*began[1:3], began[0], *began[3:]]
    for place in range(1, len(began) + 1):
        up = order.locator(f'[data-place="{place}"] .ww-order-move').first
        while places().index(place) > place - 1:
            up.tap()
    expect(check(order)).to_contain_text("Right (fairly sure)")
    assert_large_enough(page)


TOGETHER = """() => {
  const [one, other] = [...document.querySelectorAll('wet-wing-panel')];
  return !one.painting && !other.painting && one.timeS === other.timeS;
}"""


def test_two_panels_go_together_under_a_finger(reader: OpenReader) -> None:
    _, page, finger = opened_by_finger(reader, "twins/burn-order.html", width=TABLET, block_runtime=True)
    left, right = (page.locator(f".ww-twin-{side} wet-wing-panel") for side in ("left", "right"))
    finger.tap_at(right.locator(".ww-flightline"), 0.5, 0.4)
    page.wait_for_function(TOGETHER)
    together_s = float(right.evaluate("(panel) => panel.timeS"))
    assert together_s > 6000
    finger.drag(finger.place(left.locator(".ww-flightline"), 0.5, 0.4), (70, 3))
    page.wait_for_function(TOGETHER)
    moved_s = float(left.evaluate("(panel) => panel.timeS"))
    assert moved_s > together_s + 1000
    page.locator(".ww-twin-parting button").tap()
    page.wait_for_function(f"(before) => {PANEL}.timeS < before", arg=moved_s)
    finger.tap_at(left.locator('.ww-plan:visible [data-part="main-left"]').first, 0.5)
    expect(right.locator("select.ww-part")).to_have_value("main-left")
    assert_large_enough(page)


def test_a_bench_is_set_broken_and_given_a_file_by_finger(reader: OpenReader, tmp_path: Path) -> None:
    opened, page, _ = opened_by_finger(reader, "bench/rowan-54.html", width=TELEPHONE)
    script, _ = script_text("rowan-hop")
    mine = tmp_path / "mine.toml"
    mine.write_text(script.replace('title = "Rowan hop"', 'title = "My hop"'), "utf-8")
    with page.expect_file_chooser() as asked:
        page.locator("input.ww-open").tap()
    asked.value.set_files(mine)
    source = page.locator(".ww-bench-source")
    expect(source).to_have_text("My hop, from mine.toml.")
    page.get_by_role("button", name="Show the flight before").tap()
    expect(source).to_have_text("Rowan hop, as it ships.")

    field = page.locator(".ww-inputs").get_by_label("Cruise", exact=True)
    field.tap()
    field.fill("40")
    page.get_by_role("button", name="Fly with these figures").tap()
    expect(source).to_contain_text("with one figure changed")
    form = page.locator(".ww-change-form")
    part = form.locator("select.ww-change-part")
    part.select_option(part.locator("optgroup[label=Tanks] option").first.get_attribute("value"))
    form.locator('[data-field="choice"]').select_option("leak")
    form.locator('[data-field="figure"]').fill("100")
    form.locator(".ww-change-add").tap()
    opened.wait_until_flown(1)
    assert page.evaluate("() => document.documentElement.scrollWidth") <= TELEPHONE
    assert_large_enough(page)


def test_a_class_is_run_and_a_paper_handed_out_by_finger(reader: OpenReader) -> None:
    opened, page, finger = opened_by_finger(reader, CRUISE, width=TABLET, block_runtime=True)
    page.locator(".ww-class-open").tap()
    bar = page.locator(".ww-class-bar")
    expect(bar).to_be_visible()
    opened.settle()
    stood = page.locator(".ww-now-time").first.inner_text()
    bar.get_by_role("button", name="Freeze").tap()
    page.locator(".ww-next").tap()
    expect(page.locator(".ww-when.ww-frozen .ww-now-time")).to_have_text(stood)
    page.get_by_role("button", name="Reveal what is behind").tap()
    expect(page.locator(".ww-frozen-note")).to_have_count(0)
    expect(page.locator(".ww-now-time").first).not_to_have_text(stood)
    bar.get_by_role("button", name="Cover").tap()
    tap_choice(bar, "Reasons")
    expect(page.locator(".ww-because")).to_be_hidden()
    page.get_by_role("button", name="Reveal the reasons").tap()
    expect(page.locator(".ww-because")).to_be_visible()
    before_s = time_s(page)
    finger.drag(finger.place(page.locator(".ww-flightline"), 0.5, 0.4), (60, 2))
    opened.settle()
    assert time_s(page) != before_s
    assert_large_enough(page)
    bar.get_by_role("button", name="Leave class view").tap()
    expect(page.locator("dialog.ww-class")).to_have_count(0)

    page.locator(".ww-handout-open").tap()
    seed = page.get_by_label("Seed", exact=True)
    first = page.locator(".ww-sheet-questions tbody").first.inner_text()
    page.get_by_role("button", name="Another paper").tap()
    expect(seed).to_have_value("2")
    expect(page.locator(".ww-sheet-questions tbody").first).not_to_have_text(first)
    drawings = page.locator(".ww-sheet-drawings figure")
    count = drawings.count()
    page.locator(".ww-handout-moments label").first.tap()
    expect(drawings).to_have_count(count - 1)
    small = page.locator(".ww-handout-controls :is(button, input, select)").evaluate_all(SMALL)
    assert not small
    page.get_by_role("button", name="Back to the page").tap()
    expect(page.locator(".ww-handout")).to_have_count(0)


def test_exercises_are_answered_by_finger(reader: OpenReader) -> None:
    _, page, _ = opened_by_finger(reader, "exercises/index.html", width=TELEPHONE, block_runtime=True)
    figure = page.locator('fieldset[data-ww-kind="number"]').first
    wish = figure.evaluate("(own) => JSON.parse(own.dataset.wwNumber)")
    figure.locator(".ww-number-field").tap()
    figure.locator(".ww-number-field").fill(f"{wish['amount']:.0f}")
    expect(check(figure, "certain")).to_contain_text("Right (certain)")
    choice = page.locator("fieldset.ww-exercise", has=page.locator('input[data-right="false"]')).first
    choice.locator(".ww-option label", has=page.locator('[data-right="false"]')).first.tap()
    expect(check(choice, "a guess")).to_contain_text("Not so (a guess)")
    assert_large_enough(page)


def test_a_worksheet_is_filled_by_finger(reader: OpenReader) -> None:
    opened, page, finger = opened_by_finger(reader, "planning/minimum-fuel.html", width=TELEPHONE)
    delay, slider = page.locator("#ws-minimum-fuel-delay"), page.locator(".ww-ws-slider")
    expect(delay).to_be_editable()
    before = delay.input_value()
    finger.drag(finger.place(slider, 0.5), (0.4 * width_of(slider), 2))
    expect(delay).not_to_have_value(before)
    expect(page.locator(".ww-ws-finding").first).to_contain_text("FUEL")
    opened.settle()
    assert_large_enough(page)
    page.get_by_role("button", name="Back to the page's flight").tap()
    expect(delay).to_have_value(before)
    delay.tap()
    delay.fill("soon")
    expect(page.locator("#ws-minimum-fuel-delay-problem")).to_contain_text("is not a number")


def test_a_hidden_trouble_is_found_by_finger(reader: OpenReader) -> None:
    opened, page, finger = opened_by_finger(reader, "troubles/find-it.html", width=TELEPHONE)
    question = page.locator("#find-missing")
    question.locator(".ww-challenge-row button").first.tap()
    expect(page.locator("wet-wing-panel")).to_have_attribute("data-challenge", "")
    question.get_by_role("button", name="Go to the panel").tap()
    finger.tap_at(page.locator(".ww-flightline"), 0.5, 0.4)
    opened.settle()
    page.locator(".ww-challenge-banner button").tap()
    question.locator(".ww-challenge-play select").nth(0).select_option("main-left")
    question.get_by_role("button", name="Look inside").tap()
    expect(question.locator(".ww-looks li")).to_have_count(1)
    part, kind = (question.locator(".ww-challenge-play select").nth(at) for at in (1, 2))
    part.select_option("centre")
    kind.select_option("water")
    expect(check(question, "a guess")).to_contain_text("Not so (a guess)")
    assert_large_enough(page)
    question.get_by_role("button", name="Show me the answer").tap()
    expect(question.locator(".ww-case:visible")).to_have_count(1)
    expect(page.locator("wet-wing-panel")).not_to_have_attribute("data-challenge", "")

"""A reader's own changes: made, dragged, typed, undone, kept, compared; nothing is lost by a failure."""

import json
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.pages.conftest import OpenReader
from tests.pages.flights import AIRCRAFT, SCRIPT, flown
from tests.pages.reader import Reader, assert_accessible
from wetwing.draw import figures
from wetwing.flight.clock import clock
from wetwing.flight.compact import compact
from wetwing.flight.script import Edit
from wetwing.teach.compare import first_difference

CRUISE = "phases/cruise.html"
EDITS = "() => document.querySelector('wet-wing-panel').edits"
TIME = "() => document.querySelector('wet-wing-panel').timeS"
LEAK = Edit(9000.0, "main-left", "leak 1200")
OPENED = Edit(9300.0, "cross-feed", "open")


def edits(opened: Reader) -> list[Edit]:
    """The reader's changes that are on show."""
    found: list[dict[str, Any]] = opened.page.evaluate(EDITS)
    return [Edit(each["time_s"], each["part"], each["state"]) for each in found]


def add(opened: Reader, part: str, what: str, at: str, figure: str | None = None) -> None:
    """Change something with the form."""
    form = opened.page.locator(".ww-change-form")
    if not form.is_visible():
        opened.page.locator(".ww-change").click()
    form.locator("select.ww-change-part").select_option(part)
    form.locator('[data-field="choice"]').select_option(what)
    if figure is not None:
        form.locator('[data-field="figure"]').fill(figure)
    form.locator(".ww-change-time").fill(at)
    form.locator(".ww-change-add").click()


def make_change(page: Page, edit: Edit) -> None:
    """Change something as the panel's other pieces do."""
    page.evaluate(
        "([part, state, timeS]) => document.querySelector('wet-wing-panel').edit({ part, state, timeS })",
        [edit.part, edit.state, edit.time_s],
    )


def exact(time_s: float) -> str:
    """A time as the panel writes it: with a tenth only where it needs one."""
    return clock(time_s, 1).removesuffix(".0")


def handle(page: Page, number: int) -> Locator:
    """The handle of a change in the lane."""
    return page.locator(".ww-handle").nth(number - 1)


def drag(page: Page, grip: Locator, by_px: float, drop: bool = True) -> None:
    """Take a handle and pull it along the flight line."""
    grip.scroll_into_view_if_needed()
    box = grip.bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + by_px / 2, y, steps=3)
    page.mouse.move(x + by_px, y, steps=3)
    if drop:
        page.mouse.up()


def same(found: list[Edit], wanted: list[Edit]) -> bool:
    """Whether two lists of changes are the same to the tenth of a second."""
    return [(e.part, e.state, round(e.time_s, 1)) for e in found] == [
        (e.part, e.state, round(e.time_s, 1)) for e in wanted
    ]


def test_any_change_is_made_dragged_typed_and_undone(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    page = opened.page
    opened.wait_until_live()
    opened.go_to("3:00:00")

    # What the aircraft can't take is told at the form, and nothing changes.
    add(opened, "main-left", "leak", "2:30:00", figure="99999")
    told = page.locator(".ww-change-form .ww-problem")
    expect(told).to_have_text("'99999' is no such figure. Write a number from 1 to 60,000 kg/h.")
    page.locator('.ww-change-form [data-field="figure"]').fill("1200")
    page.locator(".ww-change-time").fill("55:00:00")
    page.locator(".ww-change-add").click()
    expect(told).to_contain_text("a time outside the flight")
    expect(told).to_contain_text("allowed: 0:00:00 to ")
    assert edits(opened) == []
    add(opened, "main-left", "leak", "2:30:00", figure="1200")
    opened.wait_until_flown(1)
    assert same(edits(opened), [LEAK])
    expect(page.locator(".ww-change-said")).to_contain_text("Main left: leak 1,200 kg/h")
    assert opened.figure("main-left.actual_kg") == pytest.approx(
        flown(LEAK).quantity("main-left.actual_kg", 10800.0), abs=5.01
    )

    # Dragged: the time is shown while it moves, Escape leaves it where it was, dropping flies.
    grip = handle(page, 1)
    drag(page, grip, -60, drop=False)
    expect(grip.locator(".ww-handle-time")).to_be_visible()
    page.keyboard.press("Escape")
    expect(grip.locator(".ww-handle-time")).to_be_hidden()
    page.mouse.up()
    assert same(edits(opened), [LEAK])
    drag(page, grip, 80)
    expect(grip).not_to_have_attribute("aria-valuetext", "2:30:00")
    page.wait_for_function(f"() => ({EDITS})()[0].time_s > 9001")
    dropped = edits(opened)[0]
    expect(handle(page, 1)).to_have_attribute("aria-valuetext", exact(dropped.time_s))
    expect(handle(page, 1)).to_be_focused()

    # By keyboard: a second, a minute, and the field of its twin in the card, which names what it can't take.
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowLeft")
    page.wait_for_function(
        f"(wanted) => Math.abs(({EDITS})()[0].time_s - wanted) < 0.01", arg=dropped.time_s - 59
    )
    field = page.locator(".ww-edits > li").first.locator('[data-field="time"]')
    for wrong, why in (("soon", "is not a time"), ("99:00:00", "a time outside the flight")):
        field.fill(wrong)
        field.press("Enter")
        expect(page.locator(".ww-edits > li .ww-problem")).to_contain_text(why)
        expect(field).to_have_value(wrong)
    assert len(edits(opened)) == 1
    field.fill("2:30:00")
    field.press("Enter")
    page.wait_for_function(f"() => ({EDITS})()[0].time_s === 9000")
    expect(page.locator(".ww-edits > li").first.locator('[data-field="time"]')).to_be_focused()
    page.locator(".ww-edits > li").first.locator('[data-field="figure"]').fill("3000")
    page.keyboard.press("Enter")
    page.wait_for_function(f"() => ({EDITS})()[0].state === 'leak 3000'")

    # Undo and redo by keys, outside fields; Delete removes; Reset says what it sets aside and brings it back.
    page.locator(".ww-flightline").focus()
    page.keyboard.press("Control+z")
    page.keyboard.press("Control+z")
    page.wait_for_function(
        f"(wanted) => Math.abs(({EDITS})()[0].time_s - wanted) < 0.01", arg=dropped.time_s - 59
    )
    page.keyboard.press("Control+Shift+z")
    page.keyboard.press("Control+y")
    page.wait_for_function(f"() => ({EDITS})()[0].state === 'leak 3000'")
    expect(page.locator(".ww-redo")).to_be_disabled()
    handle(page, 1).focus()
    page.keyboard.press("Delete")
    opened.wait_until_flown(0)
    page.locator(".ww-undo").click()
    opened.wait_until_flown(1)
    page.locator(".ww-reset").click()
    opened.wait_until_flown(0)
    expect(page.locator(".ww-note")).to_contain_text("Reset set aside one change of yours.")
    page.locator(".ww-note button").click()
    opened.wait_until_flown(1)
    assert same(edits(opened), [Edit(9000.0, "main-left", "leak 3000")])
    page.emulate_media(forced_colors="active")
    assert_accessible(page)
    page.emulate_media(forced_colors="none", color_scheme="dark")
    page.locator('label[for="__palette_1"]').dispatch_event("click")
    assert_accessible(page)
    opened.resize(320)
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 320


def test_changes_at_once_are_all_kept_too_many_refused_and_hundreds_leave_nothing_behind(
    reader: OpenReader,
) -> None:
    opened = reader(CRUISE)
    opened.wait_until_live()
    page = opened.page
    problems = page.evaluate(
        """() => {
             const panel = document.querySelector('wet-wing-panel');
             const wishes = {
               'centre-feed': 'manual', 'cross-feed': 'open', 'main-left': 'water 40', 'engine-9': 'failed',
             };
             return Promise.all(Object.entries(wishes).map(([part, state]) =>
               panel.edit({ part, state, timeS: 20000 })));
           }"""
    )
    opened.wait_until_flown(3)
    assert problems[:3] == [None, None, None]
    assert "unknown part 'engine-9'" in problems[3]
    refused = page.evaluate(
        """async () => {
             const panel = document.querySelector('wet-wing-panel');
             const many = Array.from({ length: 50 }, (_own, at) => (
               { time_s: 25000 + at, part: 'cross-feed', state: at % 2 ? 'open' : 'shut' }));
             await panel.flyWith(many);
             return panel.edit({ part: 'centre-feed', state: 'manual', timeS: 25100 });
           }"""
    )
    assert refused == "A flight takes at most 50 changes. Remove one first."
    opened.wait_until_flown(50)

    devtools = page.context.new_cdp_session(page)
    fly_many = """async ([from, to]) => {
        const panel = document.querySelector('wet-wing-panel');
        for (let n = from; n < to; n += 1) {
          const edit = { time_s: 26000 + (n % 40), part: 'centre-feed', state: 'manual' };
          const problem = await panel.flyWith([edit]);
          if (problem) throw new Error(problem);
          await new Promise((done) => requestAnimationFrame(done));
        }
      }"""

    def heap_mb() -> float:
        for _ in range(2):
            devtools.send("HeapProfiler.collectGarbage")
        return float(devtools.send("Runtime.getHeapUsage")["usedSize"]) / 1e6

    page.evaluate(fly_many, [0, 100])
    after_100 = heap_mb()
    page.evaluate(fly_many, [100, 300])
    after_300 = heap_mb()
    # A flight that is not let go is about 0.4 MB: two hundred would be eighty.
    assert after_300 - after_100 < 3.0


def test_flights_are_kept_compared_and_shared_between_tabs(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    page = opened.page
    opened.wait_until_live()
    opened.go_to("3:00:00")
    make_change(page, LEAK)
    opened.wait_until_flown(1)

    # The recorded flight is the shadow: what the tank had, and where the two part.
    was = flown().quantity("main-left.actual_kg", 10800.0)
    wide = page.locator(".ww-fit-wide")
    shadow = wide.locator('[data-part="main-left"] rect.ww-was')
    expect(shadow).not_to_have_attribute("display", "none")
    said = wide.locator('[data-for="main-left"] tspan[data-was]')
    expect(said).to_contain_text(f"was\u00a0{round(was, -1):,.0f}")
    expect(wide.locator('[data-part="outboard-right"] rect.ww-was')).to_have_attribute("display", "none")
    first = first_difference(flown(), flown(LEAK))
    assert first
    parts = page.locator(".ww-differs button")
    expect(parts).to_contain_text("A state first differs at ")
    parts.click()
    page.wait_for_function(f"(wanted) => Math.abs(({TIME})() - wanted) < 0.2", arg=first.time_s)
    opened.go_to("3:00:00")

    # Kept, and laid behind another flight.
    page.locator(".ww-keep-name").fill("A leak")
    page.locator(".ww-keep").click()
    expect(page.locator(".ww-kept-list > li")).to_have_count(1)
    page.locator(".ww-clear").click()
    opened.wait_until_flown(0)
    expect(shadow).to_have_attribute("display", "none")
    page.get_by_role("button", name="Compare A leak").click()
    expect(page.get_by_role("button", name="Compare A leak")).to_have_attribute("aria-pressed", "true")
    leaked = flown(LEAK).quantity("main-left.actual_kg", 10800.0)
    expect(said).to_contain_text(f"was\u00a0{round(leaked, -1):,.0f}")
    expect(page.locator(".ww-differs")).to_contain_text("A leak")
    page.get_by_role("button", name="Compare A leak").click()
    expect(said).to_be_empty()
    page.get_by_role("button", name="Show A leak").click()
    opened.wait_until_flown(1)

    # Another tab keeps one too: both list both, and what is on show stays.
    key = f"ww-kept/{page.locator('wet-wing-panel').get_attribute('data-page')}/{AIRCRAFT}/{SCRIPT}"
    other = page.context.new_page()
    other.goto(page.url)
    other.wait_for_selector("wet-wing-panel[data-live]", state="attached")
    expect(other.locator(".ww-kept-list > li")).to_have_count(1)
    make_change(other, OPENED)
    expect(other.locator(".ww-edits > li")).to_have_count(1)
    other.locator(".ww-keep").click()
    expect(other.locator(".ww-kept-list > li")).to_have_count(2)
    expect(page.locator(".ww-kept-list > li")).to_have_count(2)
    expect(page.locator(".ww-kept-said")).to_contain_text("Another tab has changed the kept flights")
    assert same(edits(opened), [LEAK])
    other.close()

    # Renamed by keyboard; a name twice is told; the fifth is refused and the four stay.
    page.get_by_role("button", name="Rename A leak").press("Enter")
    page.keyboard.type("Flight 1")
    page.keyboard.press("Enter")
    expect(page.locator(".ww-kept-list .ww-problem:visible")).to_contain_text(
        "Another kept flight is called 'Flight 1'"
    )
    page.keyboard.press("Control+a")
    page.keyboard.type("Leak of 1,200")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Rename Leak of 1,200")).to_be_focused()
    for _ in range(3):
        page.locator(".ww-keep").click()
    expect(page.locator(".ww-keep-form .ww-problem")).to_contain_text("at most 4 can be")
    expect(page.locator(".ww-kept-list > li")).to_have_count(4)
    page.get_by_role("button", name="Remove Leak of 1,200").click()
    page.get_by_role("button", name="Bring it back").click()
    stored = json.loads(page.evaluate("(key) => localStorage.getItem(key)", key))
    assert [flight["name"] for flight in stored["flights"]][-1] == "Leak of 1,200"
    page.reload()
    expect(page.locator(".ww-kept-list > li")).to_have_count(4)


def test_what_comes_next_counts_down_and_a_flight_that_ends_early_says_why(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    page = opened.page
    opened.wait_until_live()
    opened.go_to("2:00:00")
    coming = [c for c in flown().changes if c.time_s > 7200][:5]
    rows = page.locator(".ww-next-changes > li")
    expect(rows).to_have_count(5)
    for row, change in zip(rows.all(), coming, strict=True):
        expect(row).to_contain_text(change.after)
    minutes, seconds = divmod(round(coming[0].time_s - 7200), 60)
    expect(rows.first).to_contain_text(f"in {minutes} min {seconds} s" if seconds else f"in {minutes} min")
    rows.first.locator("button").press("Enter")
    page.wait_for_function(f"(wanted) => Math.abs(({TIME})() - wanted) < 0.01", arg=coming[0].time_s)

    lost = (Edit(14400.0, "engine-1", "failed"), Edit(14460.0, "engine-2", "failed"))
    for edit in lost:
        add(opened, edit.part, edit.state, exact(edit.time_s))
        expect(page.locator(".ww-change-said")).to_contain_text(f"Added. {exact(edit.time_s)}")
    ended = flown(*lost).ended
    assert ended
    opened.wait_until_flown(2)
    expect(page.locator(".ww-ended")).to_contain_text(
        f"ends early, at {exact(ended.time_s)}: {ended.sentence}"
    )
    expect(page.locator(".ww-lane-end")).to_have_text(f"Ends early, {exact(ended.time_s)}")
    page.locator(".ww-flightline").focus()
    page.keyboard.press("End")
    page.wait_for_function(f"(wanted) => Math.abs(({TIME})() - wanted) < 0.01", arg=ended.time_s)
    page.locator(".ww-clear").click()
    expect(page.locator(".ww-ended")).to_be_hidden()
    expect(page.locator(".ww-lane-end")).to_have_count(0)


# Ends the worker when it is asked the next time, as a browser short of memory does.
KILLER = """
const Native = self.Worker;
self.killNext = false;
self.Worker = new Proxy(Native, {
  construct(target, given) {
    const made = new target(...given);
    const post = made.postMessage.bind(made);
    made.postMessage = (message, ...rest) => {
      if (!self.killNext || message.type !== 'ask') return post(message, ...rest);
      self.killNext = false;
      Native.prototype.terminate.call(made);
      return made.dispatchEvent(new ErrorEvent('error', { message: 'killed' }));
    };
    return made;
  },
});
"""


# The same without a word to the page, while the request is at work.
SILENT_KILLER = KILLER.replace(
    """Native.prototype.terminate.call(made);
      return made.dispatchEvent(new ErrorEvent('error', { message: 'killed' }));""",
    """post(message, ...rest);
      return setTimeout(() => Native.prototype.terminate.call(made), 20);""",
)


def test_a_worker_that_dies_without_a_sign_costs_no_change(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    page = opened.page
    page.add_init_script(SILENT_KILLER)
    page.reload()
    opened.wait_until_live()
    opened.go_to("2:30:00")
    page.evaluate("() => { self.killNext = true; }")
    opened.set_switch("centre-feed", "manual")
    # Long before a limit on an answer is over, and the flight that was asked for is flown by the next worker.
    expect(page.locator(".ww-note")).to_contain_text("stopped and starts again", timeout=5_000)
    opened.wait_until_flown(1)
    expect(page.locator(".ww-note")).to_be_hidden()
    assert same(edits(opened), [Edit(9000.0, "centre-feed", "manual")])
    assert opened.state("centre-left") == "delivering"


def test_a_killed_worker_and_a_device_that_stores_nothing_cost_no_change(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    page = opened.page
    page.add_init_script(KILLER)
    page.add_init_script(
        "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };"
    )
    page.reload()
    opened.wait_until_live()
    opened.go_to("2:30:00")
    opened.set_switch("centre-feed", "manual")
    opened.wait_until_flown(1)
    page.evaluate("() => { self.killNext = true; }")
    opened.set_switch("cross-feed", "open")
    expect(page.locator(".ww-note")).to_contain_text("The live simulation stopped and starts again.")
    expect(page.locator(".ww-note")).to_contain_text("Your changes (1) are kept")
    opened.wait_until_flown(2)
    expect(page.locator(".ww-note")).to_be_hidden()
    manual = Edit(9000.0, "centre-feed", "manual")
    assert same(edits(opened), [manual, Edit(9000.0, "cross-feed", "open")])
    assert opened.state("cross-feed") in ("moving", "open")

    page.locator(".ww-keep").click()
    expect(page.locator(".ww-keep-form .ww-problem")).to_contain_text("has no room left")
    expect(page.locator(".ww-kept-list > li")).to_have_count(1)
    page.locator(".ww-keep").click()
    expect(page.locator(".ww-kept-list > li")).to_have_count(2)


# Holds whole answers back until they are let go, so that what is shown before them is painted however busy
# the machine is.
HOLD_ANSWERS = """() => {
  const { client } = document.querySelector('wet-wing-panel').door;
  const hear = client.hear.bind(client);
  const held = [];
  client.hear = (message) => (message.type === 'answer' ? held.push(message) : hear(message));
  self.letGo = () => {
    client.hear = hear;
    held.forEach(hear);
  };
}"""
# Watches a panel: what it shows while a flight is flown, and what it has when all is flown.
WATCH_FLYING = """() => {
  const panel = document.querySelector('wet-wing-panel');
  self.seen = [];
  const update = panel.pictures.update.bind(panel.pictures);
  panel.pictures.update = (shown) => {
    update(shown);
    const { flight, moment, early, timeS } = shown;
    seen.push({
      early: Boolean(early), timeS, endS: flight.durationS, edits: flight.edits.map(({ state }) => state),
      feed: moment.setting('centre-feed'), cross: moment.setting('cross-feed'),
      kept: panel.edits.map(({ state }) => state), whole: panel.flight.durationS,
      entries: panel.querySelectorAll('.ww-edits > li').length,
    });
  };
}"""


def test_a_change_is_seen_before_the_rest_of_its_flight_is_flown(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    opened.wait_until_live()
    page = opened.page
    opened.go_to("1:50:00")
    page.evaluate(WATCH_FLYING)
    page.evaluate(HOLD_ANSWERS)
    opened.set_switch("centre-feed", "manual")
    page.wait_for_function("seen.some(({ early }) => early)")
    page.evaluate("letGo()")
    opened.wait_until_flown(1)
    expect(page.locator("wet-wing-panel[data-flying]")).to_have_count(0)
    expect(page.locator(".ww-chart .unflown:visible")).to_have_count(0)
    seen = page.evaluate("seen")
    early = [one for one in seen if one["early"]]
    assert early, "the change was shown with its whole flight alone"
    whole = flown(Edit(6600.0, "centre-feed", "manual"))
    for one in early:
        # What is on show is new; the flight, the list of changes and the card are still as before.
        assert (one["feed"], one["edits"], one["kept"], one["entries"]) == ("manual", ["manual"], [], 0)
        assert one["timeS"] == 6600.0 <= one["endS"] < one["whole"]
    last = seen[-1]
    assert (last["early"], last["kept"], last["endS"]) == (False, ["manual"], whole.duration_s)
    # What the page has put together is the record of that flight, to the last digit.
    record = page.evaluate("document.querySelector('wet-wing-panel').flight.document")
    assert record == json.loads(json.dumps(compact(whole)))


def test_a_change_ends_the_flying_of_the_one_before_and_keeps_it(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    opened.wait_until_live()
    page = opened.page
    opened.go_to("1:50:00")
    page.evaluate(WATCH_FLYING)
    problems = page.evaluate(
        """async () => {
             const panel = document.querySelector('wet-wing-panel');
             const first = panel.edit({ part: 'centre-feed', state: 'manual' });
             const second = panel.edit({ part: 'cross-feed', state: 'open' });
             const refused = panel.edit({ part: 'cross-feed', state: 'sideways' });
             return Promise.all([first, second, refused]);
           }"""
    )
    assert problems[:2] == [None, None]
    assert "sideways" in problems[2]
    opened.wait_until_flown(2)
    wholes = [one["edits"] for one in page.evaluate("seen") if not one["early"]]
    assert ["manual"] not in wholes, "the first flight was flown to its end, though nobody waited for it"
    both = flown(Edit(6600.0, "centre-feed", "manual"), Edit(6600.0, "cross-feed", "open"))
    record = page.evaluate("document.querySelector('wet-wing-panel').flight.document")
    assert record == json.loads(json.dumps(compact(both)))
    # Each can be undone by itself.
    for count in (1, 0):
        page.locator(".ww-undo").click()
        opened.wait_until_flown(count)


def test_where_the_reader_goes_meanwhile_is_shown_when_it_is_flown(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    opened.wait_until_live()
    page = opened.page
    opened.go_to("1:50:00")
    page.evaluate(HOLD_ANSWERS)
    page.evaluate(
        """() => {
             self.panel = document.querySelector('wet-wing-panel');
             self.whole = panel.edit({ part: 'centre-feed', state: 'manual' });
           }"""
    )
    page.wait_for_function("panel.flying.early")
    held_s = page.evaluate("panel.goTo(20000), panel.timeS")
    page.evaluate("panel.transport.step(1), letGo(), whole")
    whole = flown(Edit(6600.0, "centre-feed", "manual"))
    goal = next(change.time_s for change in whole.changes if change.time_s > 20000)
    assert 6600.0 <= held_s < 20000.0
    expect(page.locator(".ww-now-time")).to_have_text(figures.clock(goal))

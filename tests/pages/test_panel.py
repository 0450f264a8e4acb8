"""A reader at the panel: live, switched, linked, by keyboard, from a folder, and with bad links."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.pages.conftest import OpenReader, Visit
from tests.pages.flights import first, first_hold, flown
from wetwing.draw import figures
from wetwing.flight.clock import clock
from wetwing.flight.script import Edit

CRUISE = "phases/cruise.html"


def rounded(time_s: float) -> str:
    """A time as a reader types it: to the tenth of a second."""
    return clock(time_s, 1)


def shown(time_s: float) -> str:
    """A time as the panel shows it."""
    return figures.clock(time_s)


def test_a_switch_flies_the_rest_of_the_flight_as_the_simulation_says(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    opened.wait_until_live()
    assert "Live" in opened.text(".ww-state")
    hold = first_hold()
    opened.go_to(rounded(hold.time_s + 0.1))
    opened.choose("centre-right")
    assert opened.state("centre-right") == "stopped by automatics"
    assert "high-level sensor" in opened.chain()

    opened.set_switch("centre-feed", "manual")
    opened.wait_until_flown(1)
    link = opened.page.evaluate("() => document.querySelector('wet-wing-panel').links.address()")
    edit_s = float(opened.page.evaluate("() => document.querySelector('wet-wing-panel').edits[0].time_s"))
    otherwise = flown(Edit(edit_s, "centre-feed", "manual"))
    spill = first(otherwise, "vent-right", "spilling")
    assert opened.page.locator(".ww-differs").inner_text()
    opened.go_to(rounded(spill.time_s + 60))
    expect(opened.page.locator(".ww-alert:visible", has_text="Main right overfull")).to_be_visible()
    held_kg = opened.figure("main-right.actual_kg")
    assert held_kg == pytest.approx(otherwise.quantity("main-right.actual_kg", spill.time_s + 60), abs=5.01)
    assert flown().quantity("total.vented_kg", flown().duration_s) == 0.0

    opened.page.locator(".ww-undo").click()
    opened.wait_until_flown(0)
    assert "centre-feed,manual" in link


def test_a_link_opens_the_same_state_for_a_colleague(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    opened.wait_until_live()
    hold = first_hold()
    opened.go_to(rounded(hold.time_s + 30))
    opened.set_switch("centre-feed", "manual")
    opened.wait_until_flown(1)
    opened.go_to(rounded(hold.time_s + 1500))
    opened.page.locator(".ww-units label", has_text="lb").click()
    opened.page.locator(".ww-copy").click()
    link = opened.page.evaluate("() => document.querySelector('wet-wing-panel').links.address()")
    seen = {name: opened.figure(f"{name}.actual_kg") for name in ("main-left", "main-right", "centre")}
    states = {name: opened.state(name) for name in ("centre-left", "vent-right", "main-right")}

    colleague = reader(CRUISE + "#" + link.partition("#")[2])
    colleague.wait_until_live()
    colleague.wait_until_flown(1)
    expect(colleague.page.locator(".ww-now-time")).to_have_text(shown(hold.time_s + 1500))
    assert {name: colleague.figure(f"{name}.actual_kg") for name in seen} == seen
    assert {name: colleague.state(name) for name in states} == states
    assert "lb" in (colleague.page.locator('.ww-tables [data-unit-word="kg"]').first.text_content() or "")

    # A bad link that is followed now takes nothing away from what the colleague has.
    colleague.page.evaluate("(hash) => (location.hash = hash)", BAD_LINKS["unknown part"])
    expect(colleague.page.locator(".ww-note")).to_contain_text("What was on show stays.")
    expect(colleague.page.locator(".ww-now-time")).to_have_text(shown(hold.time_s + 1500))
    assert len(colleague.page.evaluate("() => document.querySelector('wet-wing-panel').edits")) == 1


BAD_LINKS = {
    "cut short": "v=1&aircraft=alder-165&flight=day-sector&edit=1:58:20,centre",
    "another version": "v=99&aircraft=alder-165&flight=day-sector&t=1:00:00",
    "unknown part": "v=1&aircraft=alder-165&flight=day-sector&edit=1:58:20,center-feed,manual",
    "unknown state": "v=1&aircraft=alder-165&flight=day-sector&edit=1:58:20,centre-feed,sideways",
    "outside the flight": "v=1&aircraft=alder-165&flight=day-sector&t=55:00:00",
    "another aircraft": "v=1&aircraft=alder-999&flight=day-sector&t=1:00:00",
    "markup": "v=1&aircraft=alder-165&flight=day-sector&t=<img src=x onerror=alert(1)>",
    "giant number": "v=1&aircraft=alder-165&flight=day-sector&t=" + "9" * 400,
    "ten thousand edits": "v=1&aircraft=alder-165&flight=day-sector"
    + "&edit=1:00:00,centre-feed,manual" * 10_000,
}


def test_a_bad_link_says_so_and_keeps_what_is_shown(visit: Visit) -> None:
    first, *others = BAD_LINKS
    opened = visit(f"{CRUISE}#{BAD_LINKS[first]}")
    page, note = opened.page, opened.page.locator(".ww-note")
    start = float(page.locator("wet-wing-panel").get_attribute("data-start") or "nan")
    expect(note).to_contain_text("This link can't be opened.")
    expect(note).to_contain_text("The page opens at its own moment.")
    assert opened.text(".ww-now-time") == shown(start)
    # A link that is followed later takes nothing away from what the reader sees then.
    opened.go_to("2:00:00")
    for fault in others:
        page.evaluate("() => document.querySelector('wet-wing-panel').note(null)")
        page.evaluate("(hash) => (location.hash = hash)", BAD_LINKS[fault])
        expect(note).to_contain_text("This link can't be opened.")
        expect(note).to_contain_text("What was on show stays.")
        assert opened.text(".ww-now-time") == "2:00:00", fault
        assert note.locator("img").count() == 0, fault


REACHABLE = (
    *("units", "flightline", "back", "play", "next", "time", "speed", "switch"),
    *("copy", "reset", "part", "describe"),
)
CLASSES_UP = """() => {
    const all = [];
    for (let e = document.activeElement; e; e = e.parentElement) all.push(e.className ?? '');
    return all.join(' ');
}"""


def test_the_keyboard_alone_does_everything(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    opened.wait_until_live()
    page = opened.page
    reached: set[str] = set()
    wanted = [f"ww-{name}" for name in REACHABLE]
    for _ in range(160):
        page.keyboard.press("Tab")
        classes = page.evaluate(CLASSES_UP)
        reached |= {name for name in wanted if name in str(classes)}
    assert reached == set(wanted)

    page.locator(".ww-flightline").focus()
    page.keyboard.press("Home")
    expect(page.locator(".ww-now-time")).to_have_text("0:00:00")
    page.keyboard.press("Shift+ArrowRight")
    expect(page.locator(".ww-now-time")).to_have_text("0:10:00")
    assert "0:10:00" in (page.locator(".ww-flightline").get_attribute("aria-valuetext") or "")
    page.locator(".ww-time").focus()
    page.keyboard.press("Control+a")
    page.keyboard.type("2:00:00")
    page.keyboard.press("Enter")
    expect(page.locator(".ww-now-time")).to_have_text("2:00:00")
    page.locator('[data-control="centre-feed"] input:checked').focus()
    page.keyboard.press("ArrowRight")
    opened.wait_until_flown(1)
    expect(page.locator(".ww-edits")).to_contain_text("manual")


def test_a_wrong_time_is_told_beside_its_field(visit: Visit) -> None:
    opened = visit(CRUISE)
    before = opened.text(".ww-now-time")
    for wrong in ("later", "99:00:00", "-1"):
        opened.page.locator(".ww-time").fill(wrong)
        opened.page.locator(".ww-time").press("Enter")
        expect(opened.page.locator(".ww-time-problem")).to_be_visible()
        assert opened.text(".ww-now-time") == before


def test_guided_moments_move_the_panel(visit: Visit) -> None:
    opened = visit(CRUISE)
    moments = opened.page.locator("ol [data-ww-time]:not([data-ww-edit])")
    assert moments.count() >= 3
    for i in range(moments.count()):
        time_s = float(moments.nth(i).get_attribute("data-ww-time") or "nan")
        moments.nth(i).dispatch_event("click")
        expect(opened.page.locator(".ww-now-time")).to_have_text(shown(time_s))


def test_predictions_are_judged_by_the_simulation(visit: Visit) -> None:
    opened = visit(CRUISE)
    questions = opened.page.locator("fieldset.ww-predict")
    assert questions.count() >= 2
    question = questions.first
    wrong = question.locator('input[data-right="false"]').first
    wrong.check()
    question.locator(".ww-sure label").first.click()
    question.locator(".ww-check").click()
    expect(question.locator(".ww-result")).to_contain_text("Not so")
    question.locator('input[data-right="true"]').check()
    question.locator(".ww-check").click()
    expect(question.locator(".ww-result")).to_contain_text("Right")
    assert question.locator("[data-ww-time]:visible").count() >= 1


def test_the_site_opens_from_a_folder_live_and_searchable(reader: OpenReader, site: Path) -> None:
    opened = reader(CRUISE, folder=site)
    start = opened.text(".ww-now-time")
    opened.wait_until_live()
    # Nothing plays unless the reader plays it.
    expect(opened.page.locator(".ww-play")).to_have_text("Play")
    assert opened.text(".ww-now-time") == start
    opened.go_to(rounded(first_hold().time_s + 0.1))
    opened.set_switch("centre-feed", "manual")
    opened.wait_until_flown(1)
    # The theme's search listens to keys, as they are let go.
    opened.page.locator(".md-search__input").press_sequentially("outboard")
    expect(opened.page.locator(".md-search-result__item").first).to_be_visible()
    opened.page.keyboard.press("Escape")
    expect(opened.page.locator("#__search")).not_to_be_checked()


def test_scrubbing_does_not_wait_for_python(visit: Visit) -> None:
    opened = visit(CRUISE)
    line = opened.page.locator(".ww-flightline")
    line.scroll_into_view_if_needed()
    box = line.bounding_box()
    assert box
    opened.page.mouse.move(box["x"] + box["width"] * 0.5, box["y"] + box["height"] * 0.4)
    opened.page.mouse.down()
    clock_now = opened.page.locator(".ww-now-time").first
    before = opened.text(".ww-now-time")
    for share in (0.55, 0.6, 0.65, 0.7):
        opened.page.mouse.move(box["x"] + box["width"] * share, box["y"] + box["height"] * 0.4)
        expect(clock_now).not_to_have_text(before)
        before = opened.text(".ww-now-time")
    opened.page.mouse.up()


def test_describe_says_the_whole_state_in_words(visit: Visit) -> None:
    opened = visit(CRUISE)
    opened.page.locator(".ww-describe").click()
    words = opened.text(".ww-description")
    for tank in flown().aircraft.tanks:
        assert tank.label.lower() in words.lower()
    assert "kg" in words

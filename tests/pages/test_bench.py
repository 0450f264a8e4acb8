"""A reader at a bench: every switch, the script's figures, scripts as files, and files that are none."""

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.pages.conftest import OpenReader
from tests.pages.flights import flown
from tests.pages.reader import Reader, assert_accessible
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.own_script import own_script
from wetwing.flight.record import Flight
from wetwing.flight.script import read_script, script_text, settable

ALDER = "bench/alder-165.html"
ROWAN = "bench/rowan-54.html"


def field(page: Page, label: str) -> Any:
    return page.locator(".ww-inputs").get_by_label(label, exact=True)


def fly_inputs(reader: Reader, told: str) -> None:
    reader.page.get_by_role("button", name="Fly with these figures").click()
    expect(reader.page.locator(".ww-bench-source")).to_contain_text(told)
    reader.settle()


def changes_shown(page: Page) -> list[list[str]]:
    found: list[list[str]] = page.evaluate(
        "() => document.querySelector('wet-wing-panel').flight.changes.map(({ part, to }) => [part, to])"
    )
    return found


def changes_of(flight: Flight) -> list[list[str]]:
    return [[change.part, change.after] for change in flight.changes]


def test_every_aircraft_of_the_fleet_has_a_bench_with_all_its_switches(site: Path) -> None:
    for name in fleet():
        text = (site / "bench" / f"{name}.html").read_text("utf-8")
        assert f'data-aircraft="{name}"' in text
        for part in settable(read_aircraft(name)):
            assert f'data-control="{part}"' in text, f"{name}: {part}"


def test_figures_are_flown_saved_and_opened_again(reader: OpenReader, tmp_path: Path) -> None:
    opened = reader(ALDER)
    page = opened.page
    opened.wait_until_live()
    field(page, "Mass without fuel").fill("70,000")
    field(page, "Cruise").fill("300")
    expect(page.locator(".ww-inputs-told")).to_contain_text("2 figures not flown yet")
    fly_inputs(opened, "with 2 figures changed")
    changes = {"load.zero_fuel_kg": 70_000, "duration.cruise": 300}
    plane = read_aircraft("alder-165")
    expected = fly(plane, own_script(*script_text("day-sector"), changes, plane)[1])
    assert changes_shown(page) == changes_of(expected)
    opened.go_to("2:00:00")
    shown_kg = opened.figure("main-left.actual_kg")
    assert shown_kg == pytest.approx(expected.quantity("main-left.actual_kg", 7200.0), abs=5.01)

    opened.set_switch("centre-feed", "manual")
    opened.wait_until_flown(1)
    both = changes_shown(page)
    page.get_by_label("Title of what is saved").fill("Long and manual")
    with page.expect_download() as saving:
        page.get_by_role("button", name="Save this flight as a script").click()
    assert saving.value.suggested_filename == "long-and-manual.toml"
    saved = tmp_path / "long-and-manual.toml"
    saving.value.save_as(saved)
    assert changes_of(fly(plane, read_script(str(saved), plane))) == both

    page.get_by_role("button", name="Back to the page's flight").click()
    expect(page.locator(".ww-bench-source")).to_have_text("Day sector, as it ships.")
    assert changes_shown(page) == changes_of(flown())
    page.locator("input.ww-open").set_input_files(saved)
    expect(page.locator(".ww-bench-source")).to_have_text("Long and manual, from long-and-manual.toml.")
    assert changes_shown(page) == both
    expect(field(page, "Mass without fuel")).to_have_value("70,000")
    # A link would not hold it, and says so instead of leading elsewhere.
    page.locator(".ww-copy").click()
    expect(page.locator(".ww-copied")).to_contain_text("can't hold a script of your own")
    assert_accessible(page)


def test_a_wrong_figure_is_told_beside_its_field_and_nothing_is_lost(reader: OpenReader) -> None:
    opened = reader(ALDER, dark=True)
    page = opened.page
    opened.wait_until_live()
    opened.go_to("2:00:00")
    opened.set_switch("centre-feed", "manual")
    opened.wait_until_flown(1)
    before = changes_shown(page)
    page.locator(".ww-units label", has_text="lb").click()
    expect(field(page, "Mass without fuel")).to_have_value("166,449")
    page.locator(".ww-units label", has_text="kg").click()
    expect(field(page, "Mass without fuel")).to_have_value("75,500")
    field(page, "Mass without fuel").fill("much")
    field(page, "Cruise").fill("200")
    field(page, "Cruise").press("Enter")
    problem = page.locator(".ww-input", has_text="Mass without fuel").locator(".ww-problem")
    expect(problem).to_have_text("Write a number from 100 to 80,500 kg.")
    expect(field(page, "Mass without fuel")).to_be_focused()
    # What only the simulation knows is told at the same place.
    field(page, "Mass without fuel").fill("75,500")
    field(page, "Main left").fill("7,000")
    page.get_by_role("button", name="Fly with these figures").click()
    problem = page.locator(".ww-input", has=page.get_by_label("Main left", exact=True)).locator(".ww-problem")
    expect(problem).to_contain_text("7000 kg; allowed: at most 6740 kg at 4 °C")
    assert_accessible(page)
    assert changes_shown(page) == before
    expect(field(page, "Cruise")).to_have_value("200")
    expect(page.locator(".ww-edits > li")).to_have_count(1)


def drop(page: Page, name: str, text: str) -> None:
    """Drop a file on the panel, as the browser tells it."""
    page.evaluate(
        """([name, text]) => {
             const panel = document.querySelector('wet-wing-panel');
             const data = new DataTransfer();
             data.items.add(new File([text], name));
             for (const type of ['dragenter', 'dragover', 'drop']) {
               const options = { dataTransfer: data, bubbles: true, cancelable: true };
               panel.dispatchEvent(new DragEvent(type, options));
               if (type === 'dragover') window.marked = panel.classList.contains('ww-dropping');
             }
           }""",
        [name, text],
    )
    assert page.evaluate("() => window.marked")


def test_a_file_that_is_no_script_is_refused_in_plain_words(reader: OpenReader) -> None:
    opened = reader(ROWAN)
    page = opened.page
    opened.wait_until_live()
    before = changes_shown(page)
    own = script_text("rowan-hop")[0]
    problem = page.locator(".ww-file-problem")
    for name, text, words in (
        ("notes.txt", "Dear all, the meeting is at noon.", "'notes.txt' is no script: not readable as TOML"),
        ("huge.toml", "#" * 200_001, "'huge.toml' has 200,001 bytes"),
        ("empty.toml", "", "'empty.toml' is empty"),
        ("photo.jpg", "\0\0\0", "holds something other than text"),
        ("new.toml", own.replace("wetwing-script/1", "wetwing-script/7"), "of the format 'wetwing-script/7'"),
        ("odd.toml", own.replace("ground-power", "ground-power-x"), "nearest: ground-power"),
        ("half.toml", own.replace('ends_at = "', 'ends_at = "-'), "ends_at: time '-"),
        ("<img src=x onerror=alert(1)>.toml", "a", "is no script"),
    ):
        drop(page, name, text)
        expect(problem).to_contain_text(words)
        expect(problem).to_contain_text("The last good flight stays on show.")
    assert problem.locator("img").count() == 0
    assert changes_shown(page) == before
    drop(page, "alder.toml", script_text("day-sector")[0])
    expect(problem).to_contain_text("a script for another aircraft, Alder 165.")
    expect(problem.get_by_role("link")).to_have_attribute("href", "alder-165.html")
    assert changes_shown(page) == before

    # A good one takes the message away, and keys alone bring the flight before it back.
    drop(page, "mine.toml", own.replace('title = "Rowan hop"', 'title = "My hop"'))
    expect(page.locator(".ww-bench-source")).to_have_text("My hop, from mine.toml.")
    expect(problem).to_be_hidden()
    page.get_by_role("button", name="Show the flight before").focus()
    page.keyboard.press("Enter")
    expect(page.locator(".ww-bench-source")).to_have_text("Rowan hop, as it ships.")
    record = json.loads(page.locator("script.ww-record").text_content() or "")
    assert len(changes_shown(page)) == len(record["changes"])

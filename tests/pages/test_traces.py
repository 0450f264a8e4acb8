"""The traces and the look ahead: linked to the flight line, saved, in words, by keyboard alone."""

import csv
import io
import re
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.pages.conftest import OpenReader
from tests.pages.flights import first_hold, flown
from tests.pages.reader import Reader, assert_accessible
from wetwing.draw import figures
from wetwing.flight.ahead import ahead
from wetwing.flight.compact import compact
from wetwing.flight.script import Edit

CRUISE = "phases/cruise.html"
PIXELS = """(colour) => {
  const root = document.querySelector('.ww-traces-body');
  const wanted = getComputedStyle(root).getPropertyValue(colour).trim();
  const own = [1, 3, 5].map((at) => parseInt(wanted.slice(at, at + 2), 16));
  const canvas = root.querySelector('canvas');
  const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
  let count = 0;
  for (let i = 0; i < data.length; i += 4) {
    if (own.every((value, at) => Math.abs(data[i + at] - value) <= 1) && data[i + 3] === 255) count += 1;
  }
  return count;
}"""
"""How many points of the first trace have a colour of the style sheet."""
DOMAIN = "() => Object.values(document.querySelector('wet-wing-panel').flightLine.domain())"


def open_traces(opened: Reader) -> Page:
    """Unfold the traces and wait until the first is drawn."""
    page = opened.page
    page.locator(".ww-traces > summary").click()
    expect(page.locator(".ww-trace-plot canvas").first).to_be_visible()
    expect(page.locator(".ww-trace-now").first).to_be_visible()
    opened.settle()
    return page


def trace(page: Page, title: str) -> Locator:
    """One trace by its title."""
    return page.locator(".ww-trace").filter(has=page.locator(".ww-trace-title", has_text=title))


def across(page: Page, title: str) -> dict[str, float]:
    """Where a trace is drawn on the screen; it is scrolled there first."""
    over = trace(page, title).locator(".u-over")
    over.scroll_into_view_if_needed()
    box = over.bounding_box()
    assert box
    return {"left": box["x"], "right": box["x"] + box["width"], "y": box["y"] + box["height"] / 2}


def value(page: Page, title: str, label: str) -> float:
    """A value of a trace's key."""
    rows = trace(page, title).locator(".ww-trace-key > li")
    row = rows.filter(has=page.get_by_text(label, exact=True))
    text = row.locator(".ww-trace-value").inner_text()
    found = re.match(r"[\u22120-9,.]+", text)
    assert found, text
    return float(found[0].replace(",", "").replace("\u2212", "-"))


def test_one_time_for_traces_and_flight_line_pointed_clicked_and_brushed(reader: OpenReader) -> None:
    opened = reader(CRUISE, block_runtime=True)
    page = open_traces(opened)
    flight = flown()
    box = across(page, "Tanks")
    # Both are drawn on one scale: their edges are the same pixels.
    edges = page.evaluate(
        """() => {
             const { flightLine } = document.querySelector('wet-wing-panel');
             const picture = flightLine.picture();
             const box = picture.getBoundingClientRect();
             const scale = box.width / picture.viewBox.baseVal.width;
             const { left, right } = flightLine.laid.get(picture);
             return [box.left + left * scale, box.left + right * scale];
           }"""
    )
    assert edges == pytest.approx([box["left"], box["right"]], abs=1.5)

    def at(share: float) -> float:
        return box["left"] + share * (box["right"] - box["left"])

    # Pointing shows the values of that time, and moves nothing.
    start = opened.text(".ww-now-time")
    page.mouse.move(at(0.5), box["y"])
    expect(page.locator(".ww-trace-when")).to_contain_text("where you point")
    pointed_s = 0.5 * flight.duration_s
    assert value(page, "Tanks", "Main left") == pytest.approx(
        flight.quantity("main-left.actual_kg", pointed_s), abs=15
    )
    assert opened.text(".ww-now-time") == start
    fine = page.locator(".ww-chart-pointed")
    expect(fine).not_to_have_attribute("display", "none")
    assert fine.evaluate("(line) => line.getBoundingClientRect().left") == pytest.approx(at(0.5), abs=1.5)

    # A click moves the panel's time.
    page.mouse.click(at(0.75), box["y"])
    expect(page.locator(".ww-now-time")).not_to_have_text(start)
    time_s = float(page.evaluate("() => document.querySelector('wet-wing-panel').timeS"))
    assert time_s == pytest.approx(0.75 * flight.duration_s, abs=60)
    page.mouse.move(5, 5)
    expect(page.locator(".ww-trace-when")).not_to_contain_text("where you point")
    assert value(page, "Tanks", "Main right") == pytest.approx(
        flight.quantity("main-right.actual_kg", time_s), abs=15
    )

    # The ledger's own moment is pointed at and gone to as theirs are.
    opens = page.locator(".ww-ledger button")
    opens.hover()
    expect(page.locator(".ww-trace-when")).to_contain_text(f"Values at {opens.inner_text()}")
    opens.click()
    expect(page.locator(".ww-now-time")).to_have_text(opens.inner_text())
    page.evaluate("(timeS) => document.querySelector('wet-wing-panel').goTo(timeS)", time_s)
    page.mouse.move(5, 5)

    # Scrubbing only moves the cursor: the lines are not drawn again.
    page.evaluate("() => (window.canvas = document.querySelector('.ww-trace-plot canvas'))")
    before = page.locator(".ww-trace-now").first.get_attribute("style")
    page.locator(".ww-flightline").focus()
    page.keyboard.press("Shift+ArrowLeft")
    expect(page.locator(".ww-trace-now").first).not_to_have_attribute("style", before or "")
    assert page.evaluate("() => window.canvas === document.querySelector('.ww-trace-plot canvas')")

    # Brushing shows the stretch alone, in the flight line as well.
    box = across(page, "Tanks")
    page.keyboard.down("Shift")
    page.mouse.move(at(0.2), box["y"])
    page.mouse.down()
    page.mouse.move(at(0.4), box["y"])
    expect(page.locator(".ww-trace-stretch:visible")).to_have_count(1)
    page.mouse.up()
    page.keyboard.up("Shift")
    expect(page.locator("select.ww-zoom")).to_have_value("stretch")
    shown = page.evaluate(DOMAIN)
    assert shown == pytest.approx([0.2 * flight.duration_s, 0.4 * flight.duration_s], abs=60)
    assert page.evaluate("() => window.canvas !== document.querySelector('.ww-trace-plot canvas')")

    page.locator(".ww-stretch-whole").click()
    expect(page.locator("select.ww-zoom")).to_have_value("flight")
    expect(page.locator(".ww-stretch-time").nth(1)).to_have_value(figures.clock(flight.duration_s))


def test_the_keyboard_alone_chooses_zooms_reads_and_saves(reader: OpenReader, tmp_path: Path) -> None:
    opened = reader(CRUISE, block_runtime=True)
    page = opened.page
    page.locator(".ww-traces > summary").focus()
    page.keyboard.press("Enter")
    expect(page.locator(".ww-trace-plot canvas").first).to_be_visible()
    page.locator(".ww-trace-groups input:checked").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowLeft")
    expect(page.locator(".ww-trace-groups input:checked")).to_have_value("masses")

    first = page.locator(".ww-stretch-time").first
    first.focus()
    for wrong in ("soon", "9:00:00"):
        page.keyboard.press("Control+a")
        page.keyboard.type(wrong)
        page.keyboard.press("Enter")
        expect(page.locator(".ww-stretch .ww-problem")).to_be_visible()
        expect(first).to_have_attribute("aria-invalid", "true")
        expect(first).to_have_value(wrong)
    page.keyboard.press("Control+a")
    page.keyboard.type("1:00:00")
    page.keyboard.press("Tab")
    page.keyboard.press("Control+a")
    page.keyboard.type("1:30:00")
    page.keyboard.press("Enter")
    expect(page.locator(".ww-stretch .ww-problem")).to_be_hidden()
    assert page.evaluate(
        "() => Object.values(document.querySelector('wet-wing-panel').flightLine.domain())"
    ) == [
        3600,
        5400,
    ]

    tanks = trace(page, "Tanks")
    tanks.locator("summary", has_text="In words").focus()
    page.keyboard.press("Enter")
    words = tanks.locator(".ww-trace-words > li", has_text=re.compile("^Centre:")).inner_text()
    held_kg = flown().quantity("centre.actual_kg", 3600)
    assert f"{figures.figure(held_kg, 'kg')}\u00a0kg at 1:00:00" in words
    tanks.locator("summary", has_text="Table").focus()
    page.keyboard.press("Enter")
    tanks.locator(".ww-trace-more select").select_option("300")
    rows = tanks.locator("tbody tr")
    expect(rows).to_have_count(7)
    cells = rows.nth(1).locator("th, td").all_inner_texts()
    assert cells[0] == "1:05:00"
    heads = tanks.locator("thead th").all_inner_texts()
    shown = dict(zip(heads, cells, strict=True))
    assert shown["Centre, kg"] == figures.figure(flown().quantity("centre.actual_kg", 3900), "kg")

    # A line that is not ticked is not drawn.
    tick = tanks.locator(".ww-trace-key label", has_text=re.compile("^Centre$")).locator("input")
    names = tanks.locator(".ww-trace-names")
    expect(names).to_contain_text("Centre")
    tick.focus()
    page.keyboard.press("Space")
    expect(names).not_to_contain_text("Centre")

    save = tanks.locator(".ww-trace-save")
    save.focus()
    with page.expect_download() as download:
        page.keyboard.press("Enter")
    path = tmp_path / download.value.suggested_filename
    download.value.save_as(path)
    assert path.name == "alder-165-day-sector-tanks.csv"
    table = list(csv.DictReader(io.StringIO(path.read_text("utf-8"))))
    record = compact(flown())
    columns = record["quantities"]
    times = record["time_s"]
    assert isinstance(columns, dict) and isinstance(times, list)
    assert [float(row["time_s"]) for row in table] == times
    for tank in flown().aircraft.tanks:
        actual, gauged = f"{tank.name}.actual_kg", f"{tank.name}.gauged_kg"
        assert [float(row[actual]) for row in table] == columns[actual]
        # Blank where the gauge was blank, and otherwise what it read.
        read = [(row[gauged], kept) for row, kept in zip(table, columns[gauged], strict=True)]
        assert all(float(text) == kept for text, kept in read if text)
        assert all(kept == 0.0 for text, kept in read if not text)
        assert any(text for text, _ in read)

    page.emulate_media(color_scheme="dark")
    assert_accessible(page)
    page.emulate_media(color_scheme="light", forced_colors="active")
    assert_accessible(page)


def test_a_change_leaves_the_earlier_flight_behind_and_units_are_the_readers(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    opened.wait_until_live()
    page = open_traces(opened)
    pale = "--ww-trace-earlier"
    plain = page.evaluate(PIXELS, pale)
    hold = first_hold()
    opened.go_to(figures.clock(hold.time_s + 1))
    opened.set_switch("centre-feed", "manual")
    opened.wait_until_flown(1)
    edit_s = float(page.evaluate("() => document.querySelector('wet-wing-panel').edits[0].time_s"))
    opened.go_to(figures.clock(edit_s + 600))
    time_s = float(page.evaluate("() => document.querySelector('wet-wing-panel').timeS"))
    otherwise = flown(Edit(edit_s, "centre-feed", "manual"))
    key = trace(page, "Tanks").locator(".ww-trace-key > li", has=page.get_by_text("Centre", exact=True))
    now, was = (
        figures.figure(flight.quantity("centre.actual_kg", time_s), "kg") for flight in (otherwise, flown())
    )
    assert now != was
    expect(key.locator(".ww-trace-value")).to_have_text(f"{now}\u00a0kg (was {was}\u00a0kg)")
    # The earlier flight is a pale line behind: its colour has come into the picture.
    assert page.evaluate(PIXELS, pale) > plain + 200

    page.locator(".ww-units label", has_text="lb").click()
    expect(page.locator(".ww-trace-title").first).to_have_text("Tanks, lb")
    in_lb = figures.figure(otherwise.quantity("centre.actual_kg", time_s), "kg", "lb")
    expect(key.locator(".ww-trace-value")).to_contain_text(f"{in_lb}\u00a0lb")

    # Every group of traces can be looked at, and nothing fails (the fixture hears of errors).
    for group in page.locator(".ww-trace-groups input").all():
        group.check(force=True)
        opened.settle()
        assert page.locator(".ww-trace:visible").count() >= 1
    expect(page.locator(".ww-trace-title").first).to_have_text("The wings, lb")

    # On the gauges only what a crew is shown is traced.
    page.locator(".ww-views input[value=gauges]").check(force=True)
    expect(page.locator(".ww-trace-nothing")).to_contain_text("only what a crew is shown")
    names = page.locator(".ww-trace:visible .ww-trace-name")
    expect(names).to_have_text(["By the gauges"])
    page.locator(".ww-trace-groups input[value=pressures]").check(force=True)
    expect(page.locator(".ww-trace-nothing")).to_contain_text("a crew would not be told")
    assert page.locator(".ww-trace:visible").count() == 0
    page.locator(".ww-trace-nothing button").click()
    expect(page.locator(".ww-trace:visible").first).to_be_visible()


def test_looking_ahead_answers_for_the_time_on_show(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    page = opened.page
    opened.wait_until_live()
    opened.go_to("2:00:00")
    page.locator(".ww-ahead > summary").click()
    listed = page.locator(".ww-ahead-list")
    expect(page.locator(".ww-ahead-note")).to_contain_text("From 2:00:00")
    found = ahead(flown(), 7200.0)
    assert found.endurance and found.landing
    expect(listed).to_contain_text(f"{figures.figure(found.endurance.usable_kg, 'kg')} kg of the")
    for level in found.levels:
        expect(listed).to_contain_text(flown().aircraft.parts[level.tank].label)
    expect(listed).to_contain_text("above the final reserve")
    expect(listed).to_contain_text("Both wings change alike")

    # Another time: the old answer is told to be old, then the new one comes.
    before = listed.inner_text()
    opened.go_to("3:30:00")
    expect(page.locator(".ww-ahead-note")).to_contain_text("From 3:30:00")
    expect(listed).not_to_have_class(re.compile("ww-old"))
    expect(listed).not_to_have_text(before)
    way = listed.locator(".ww-link-button").last
    goal = way.inner_text()
    way.focus()
    page.keyboard.press("Enter")
    expect(page.locator(".ww-now-time")).to_have_text(goal.partition(".")[0])


def test_without_the_simulation_looking_ahead_says_so(reader: OpenReader) -> None:
    opened = reader(CRUISE, block_runtime=True, width=390)
    opened.page.locator(".ww-ahead > summary").click()
    expect(opened.page.locator(".ww-ahead-note")).to_contain_text("needs the live simulation")
    open_traces(opened)
    overflow = "() => document.documentElement.scrollWidth > document.documentElement.clientWidth"
    assert not opened.page.evaluate(overflow)
    opened.resize(320)
    assert not opened.page.evaluate(overflow)

"""A reader at the worksheets: wrong fields, units, files, the panel's troubles, paper, no mouse."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.pages.conftest import OpenReader
from tests.pages.flights import flown
from tests.pages.reader import Reader, assert_accessible
from wetwing.flight.script import Edit
from wetwing.teach.worksheets.entry import Reader as TypedBy
from wetwing.teach.worksheets.fill import KINDS, fill

SHEETS = {
    "fuel-plan": "planning/fuel-plan.html",
    "uplift": "planning/uplift.html",
    "fuel-checks": "planning/fuel-checks.html",
    "minimum-fuel": "planning/minimum-fuel.html",
    "diversion": "planning/diversion.html",
}


def field(page: Page, name: str) -> Any:
    kind = page.locator(".ww-worksheet").get_attribute("data-ww-kind")
    return page.locator(f"#ws-{kind}-{name}")


def problem(page: Page, name: str) -> Any:
    kind = page.locator(".ww-worksheet").get_attribute("data-ww-kind")
    return page.locator(f"#ws-{kind}-{name}-problem")


def figures(page: Page) -> dict[str, str]:
    """The table of results, as it is read; a label that stands twice keeps its first figure."""
    found: dict[str, str] = {}
    for row in page.locator(".ww-ws-results tbody tr").all():
        figure = row.locator(".ww-ws-figure").inner_text().replace("\u00a0", " ")
        found.setdefault(row.locator("th").inner_text(), figure)
    return found


def wait_for_answer(reader: Reader) -> None:
    """Wait until the sheet has answered what was typed last."""
    page = reader.page
    page.wait_for_timeout(350)
    expect(page.locator(".ww-worksheet")).not_to_have_attribute("aria-busy", "true", timeout=60_000)
    reader.settle()


def opened(reader: OpenReader, kind: str, **how: Any) -> Reader:
    found = reader(SHEETS[kind], **how)
    found.wait_until_live()
    expect(field(found.page, "gauged" if kind == "uplift" else "reserve")).to_be_editable()
    wait_for_answer(found)
    return found


def test_a_sheet_reads_without_scripts(reader: OpenReader, site: Path) -> None:
    for path in SHEETS.values():
        assert "What comes out" in (site / path).read_text("utf-8"), path
    page = reader(SHEETS["fuel-plan"], scripts=False).page
    sheet = fill(KINDS["fuel-plan"], flown(), 0.0, {}, TypedBy(), "sheet")
    assert sheet.work is not None
    block_kg = next(result.value for result in sheet.work.results if result.name == "block")
    assert block_kg is not None
    assert figures(page)["Fuel before the start"] == f"{block_kg:,.0f} kg"
    expect(field(page, "trip")).to_have_js_property("readOnly", True)


def test_every_wrong_field_says_so_and_a_right_one_says_how_it_was_read(reader: OpenReader) -> None:
    uplift = opened(reader, "uplift")
    page = uplift.page
    before = figures(page)
    wrong = {
        "gauged": ("500 L", "'L' makes it a volume; this field is a mass."),
        "density": ("1.77", "It would fit in lb/L"),
        "litres": ("-5", "is less than nothing"),
        "arrival": ("1,23,4", "is not a number"),
        "ground": ("", "This field is empty"),
        "fixed": ("900 t", "can't be meant"),
    }
    for name, (typed, _told) in wrong.items():
        field(page, name).fill(typed)
    wait_for_answer(uplift)
    for name, (typed, told) in wrong.items():
        expect(problem(page, name)).to_contain_text(told)
        expect(field(page, name)).to_have_value(typed)
        expect(field(page, name)).to_have_attribute("aria-invalid", "true")
    expect(page.locator(".ww-ws-state")).to_contain_text("6 fields say what is wrong")
    assert figures(page) == before
    expect(page.get_by_role("button", name="Print this sheet")).to_be_disabled()
    assert_accessible(page)

    # By hand: 3,100 − 100 + 11,000 L × 0.800 kg/L is 11,800.
    right = {
        "arrival": "3.1 t",
        "ground": "100",
        "litres": "11,000",
        "density": "0.8",
        "temperature": "15",
        "gauged": "12,5",
        "fixed": "0",
    }
    for name, typed in right.items():
        field(page, name).fill(typed)
    wait_for_answer(uplift)
    expect(page.locator("#ws-uplift-gauged-read")).to_have_text("read as 12.5 kg")
    expect(page.locator("#ws-uplift-arrival-read")).to_have_text("read as 3,100 kg")
    expect(page.locator("#ws-uplift-litres-read")).to_have_text("read as 11,000 L")
    field(page, "gauged").fill("11950")
    wait_for_answer(uplift)
    assert figures(page)["Expected on the gauges"] == "11,800 kg"
    expect(page.locator(".ww-ws-finding").first).to_contain_text("150 kg more than the book")
    expect(page.locator(".ww-ws-band svg")).to_be_visible()

    # Other units: the same masses, written anew.
    page.locator(".ww-units label", has_text="lb").first.click()
    expect(field(page, "gauged")).to_have_value("26,345")
    assert figures(page)["Expected on the gauges"] == "26,015 lb"


def test_a_sheet_goes_out_as_files_and_comes_back(reader: OpenReader, tmp_path: Path) -> None:
    plan = opened(reader, "fuel-plan", width=390, dark=True)
    page = plan.page
    for name, typed in {"zero_fuel": "62 t", "taxi": "270", "trip": "8,900", "holding": "2340"}.items():
        field(page, name).fill(typed)
    wait_for_answer(plan)
    assert figures(page)["Fuel before the start"] == "12,285 kg"
    saved = {}
    for ending in ("CSV", "JSON"):
        with page.expect_download() as saving:
            page.get_by_role("button", name=f"Save as {ending}").click()
        saved[ending] = tmp_path / saving.value.suggested_filename
        saving.value.save_as(saved[ending])
    assert "out,block,Fuel before the start,12285,kg," in saved["CSV"].read_text("utf-8")
    whole = json.loads(saved["JSON"].read_text("utf-8"))
    assert whole["fields"]["zero_fuel"] == 62_000
    page.get_by_role("button", name="Back to the page's flight").click()
    wait_for_answer(plan)
    expect(field(page, "zero_fuel")).to_have_value("75,500")
    take_in = page.locator(".ww-ws-tools input[type=file]")
    take_in.set_input_files({"name": "x.json", "mimeType": "application/json", "buffer": b"{}"})
    expect(page.locator(".ww-ws-tools .ww-problem")).to_have_text(
        "'x.json' was not read in. This file names no format; this sheet reads 'wetwing-worksheet/1'."
    )
    take_in.set_input_files(saved["JSON"])
    expect(field(page, "zero_fuel")).to_have_value("62,000")
    wait_for_answer(plan)
    assert figures(page)["Fuel before the start"] == "12,285 kg"
    overflow = "() => document.scrollingElement.scrollWidth - window.innerWidth"
    assert page.evaluate(overflow) <= 0


def test_the_panels_trouble_is_found_by_the_checks(reader: OpenReader) -> None:
    checks = opened(reader, "fuel-checks", width=820)
    page = checks.page
    expect(page.locator(".ww-ws-finding").first).to_contain_text("within the tolerance")
    page.locator(".ww-try .ww-go").first.click()
    checks.wait_until_flown(1)
    page.get_by_role("button", name="Fill from the panel").click()
    expect(page.locator(".ww-ws-finding").first).to_contain_text("beyond", timeout=60_000)
    leaking = flown(Edit(4200.0, "main-left", "leak 900"))
    last = max(n for n in range(1, 9) if field(page, f"time_{n}").input_value())
    hours, minutes = field(page, f"time_{last}").input_value().split(":")
    time_s = int(hours) * 3600.0 + int(minutes) * 60.0
    shown_kg = float(field(page, f"gauged_{last}").input_value().replace(",", ""))
    assert shown_kg == pytest.approx(leaking.quantity("total.gauged_kg", time_s), abs=0.51)
    page.get_by_role("button", name="Add a row from the panel").click()
    expect(field(page, f"time_{last + 1}")).not_to_have_value("", timeout=60_000)


def test_minimum_fuel_by_keyboard_alone(reader: OpenReader) -> None:
    minimum = opened(reader, "minimum-fuel")
    page = minimum.page
    assert figures(page)["It stands at"] == "normal"
    field(page, "committed").focus()
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Shift+Tab")
    slider = page.locator(".ww-ws-slider")
    expect(slider).to_be_focused()
    page.keyboard.press("End")
    expect(field(page, "delay")).to_have_value("120")
    wait_for_answer(minimum)
    assert figures(page)["It stands at"] == "mayday fuel"
    expect(page.locator(".ww-ws-finding").first).to_contain_text("MAYDAY MAYDAY MAYDAY FUEL")
    page.keyboard.press("Shift+Tab")
    expect(field(page, "delay")).to_be_focused()
    page.keyboard.press("ControlOrMeta+A")
    page.keyboard.type("60")
    wait_for_answer(minimum)
    assert figures(page)["It stands at"] == "minimum fuel"
    expect(slider).to_have_value("60")


def test_each_sheet_prints_on_one_page(reader: OpenReader) -> None:
    for kind in ("fuel-plan", "fuel-checks"):
        sheet = opened(reader, kind)
        page = sheet.page
        page.evaluate("() => { window.print = () => {}; }")
        page.get_by_role("button", name="Print this sheet").click()
        paper = page.pdf(format="A4")
        assert len(re.findall(rb"/Type\s*/Page\b(?!s)", paper)) == 1, kind
        page.evaluate("() => window.dispatchEvent(new Event('afterprint'))")
        expect(page.locator("[data-ww-off]")).to_have_count(0)

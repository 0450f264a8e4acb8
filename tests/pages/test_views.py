"""A reader changes how the panel is seen: on the gauges, closer, in other units, and in words."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.draw.test_wing_plan import text_boxes
from tests.pages.conftest import OpenReader
from tests.pages.flights import first_hold, flown
from tests.pages.reader import Reader, assert_accessible
from wetwing.draw import figures
from wetwing.draw.frame import LAYOUTS
from wetwing.draw.wing_plan import wing_plan_tree
from wetwing.flight.clock import clock
from wetwing.flight.record import Flight
from wetwing.flight.script import Edit

CRUISE = "phases/cruise.html"
PREPARATION = "phases/preparation.html"
OF = "v=1&aircraft=alder-165&flight=day-sector"
LEAK_S, SEEN_S = 7200.0, 9000.0

# The words of a drawing, text by text, without what is hidden.
WORDS_OF = """(picture) => {
  const shown = (element) => getComputedStyle(element).display !== 'none';
  const seen = (element) => {
    for (let own = element; own !== picture; own = own.parentElement) if (!shown(own)) return false;
    return true;
  };
  const words = (text) => [...text.childNodes]
    .filter((node) => node.nodeType === 3 || shown(node)).map((node) => node.textContent).join('');
  return [...picture.querySelectorAll('.labels text')].filter(seen).map(words).filter((text) => text.trim());
}"""


def plan(page: Page) -> list[str]:
    """The words of the wide drawing."""
    return [str(text) for text in page.locator(".ww-fit-wide .ww-plan").evaluate(WORDS_OF)]


def drawn(flight: Flight, time_s: float, view: str, units: str = "kg") -> list[str]:
    """The same words, as they are drawn without a page."""
    tree = wing_plan_tree(flight.aircraft, flight.moment(time_s), LAYOUTS["wide"], units=units, view=view)
    return [text for text, _ in text_boxes(tree, view) if text.strip()]


def link(*edits: Edit, time_s: float, more: str = "") -> str:
    """A link to a state of the cruise page."""
    told = "".join(f"&edit={clock(e.time_s, 1)},{e.part},{e.state.replace(' ', '+')}" for e in edits)
    return f"{CRUISE}#{OF}{told}&t={clock(time_s, 1)}{more}"


def test_the_gauges_hide_a_trouble_that_inside_shows(reader: OpenReader) -> None:
    edits = (
        Edit(LEAK_S, "main-left", "leak 300"),
        Edit(LEAK_S, "cross-feed", "indication frozen"),
        Edit(LEAK_S + 60.0, "cross-feed", "open"),
        Edit(LEAK_S, "main-right-aft", "failed"),
    )
    at_s = LEAK_S + 300.0
    flight = flown(*edits)
    assert not [a for a in flight.aircraft.alerts if flight.moment(at_s).state(a.name) == "on"]
    opened = reader(link(*edits, time_s=at_s, more="&view=gauges"), width=1440)
    page = opened.page
    opened.wait_until_live()
    opened.wait_until_flown(len(edits))
    opened.settle()
    assert plan(page) == drawn(flight, at_s, "gauges")
    expect(page.get_by_role("radio", name="On the gauges")).to_be_checked()

    # Nothing in the panel tells of it: not the cards, not the list of parts, not the words.
    opened.choose("main-left")
    expect(page.locator(".ww-now")).to_contain_text("gauge")
    page.locator(".ww-describe").click()
    expect(page.locator(".ww-description")).to_contain_text("Cross-feed valve: shown shut, told open.")
    seen = page.locator("wet-wing-panel").inner_text().lower()
    for word in ("leak 300", "leaks", "leaking", "has failed", "delivering"):
        assert word not in seen, word
    assert page.locator("select.ww-part optgroup[label=Troubles]").count() == 0
    assert "Hidden in this view" in opened.chain()
    assert "view=gauges" in page.evaluate("() => document.querySelector('wet-wing-panel').links.address()")
    assert_accessible(page)

    # By the keyboard alone: the way inside stands where the thing is hidden.
    page.locator(".ww-because .ww-link-button", has_text="Show inside").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("radio", name="Inside")).to_be_focused()
    opened.settle()
    inside = plan(page)
    assert [re.sub(r"\swas\s.*$", "", text) for text in inside] == drawn(flight, at_s, "inside")
    assert any("leaking" in text for text in inside)
    assert "cross-feed, shown shut" in inside
    assert "aft pump failed, switched on" in inside
    page.keyboard.press("ArrowRight")
    opened.settle()
    assert plan(page) == drawn(flight, at_s, "gauges")
    page.emulate_media(forced_colors="active")
    assert_accessible(page)


TEXTS_CUT = """() => {
  const picture = [...document.querySelectorAll('.ww-fit .ww-plan')].find((own) => own.getClientRects().length);
  const frame = picture.getBoundingClientRect();
  const texts = [...picture.querySelectorAll('.labels text')].filter((text) => text.getClientRects().length && text.textContent.trim());
  const cut = texts.filter((text) => {
    const box = text.getBoundingClientRect();
    return box.width > 0 && (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1);
  });
  return { count: texts.length, cut: cut.map((text) => text.textContent), size: parseFloat(getComputedStyle(texts[0]).fontSize) * picture.getScreenCTM().a };
}"""  # noqa: E501


def test_a_closer_look_is_larger_and_cuts_no_text(reader: OpenReader) -> None:
    opened = reader(CRUISE, width=1440, block_runtime=True)
    page = opened.page
    select = page.get_by_label("Look at")
    whole = page.evaluate(TEXTS_CUT)
    assert whole["cut"] == [] and whole["count"] > 30
    select.focus()
    for place in ("left side", "centre", "right side"):
        page.keyboard.press("ArrowDown")
        expect(select).to_have_value(place.split(" ", maxsplit=1)[0])
        opened.settle()
        closer = page.evaluate(TEXTS_CUT)
        assert closer["cut"] == [], place
        assert closer["count"] >= 5
        assert closer["size"] > 1.1 * whole["size"], place
    opened.choose("main-left")
    expect(select).to_have_value("left")
    opened.resize(820)
    assert page.evaluate(TEXTS_CUT)["cut"] == []
    opened.resize(390)
    expect(page.locator(".ww-fit-snug .ww-plan")).to_have_attribute("viewBox", re.compile("^0 0 720 "))
    opened.resize(1440)
    select.select_option("whole")
    opened.settle()
    assert page.evaluate(TEXTS_CUT)["count"] == whole["count"]


def test_units_volumes_and_numbers_are_the_readers_everywhere(reader: OpenReader) -> None:
    time_s = first_hold().time_s + 60.0
    opened = reader(link(time_s=time_s, more="&units=t"), width=1440, dark=True, block_runtime=True)
    page = opened.page
    opened.settle()
    assert plan(page) == drawn(flown(), time_s, "inside", "t")
    page.locator(".ww-writing > summary").click()
    page.get_by_label("Volumes").select_option("US gal")
    page.get_by_label("Numbers").select_option("1.234,5")
    kg = flown().quantity("main-left.actual_kg", time_s)
    litres = flown().quantity("main-left.volume_l", time_s)
    mass = figures.figure(kg, "kg", "t").replace(".", ",")
    opened.settle()
    assert f"{mass}\u00a0t" in plan(page)
    opened.open_figures()
    cell = page.locator('.ww-tables [data-value="main-left.volume_l"]')
    gallons = figures.figure(litres / 3.785411784, "L").replace(",", ".")
    expect(cell).to_have_text(gallons)
    expect(page.locator('.ww-tables [data-density="main-left"]')).to_have_text(
        f"{kg / litres:.3f}".replace(".", ",")
    )
    page.locator(".ww-describe").click()
    words = opened.text(".ww-description")
    assert f"Main left: {mass} t, {gallons} US gal at {kg / litres:.3f}".replace(".", ",", 2)[:20] in words
    assert f"{mass} t" in words and f"{gallons} US gal" in words
    assert "units=t" in page.evaluate("() => document.querySelector('wet-wing-panel').links.address()")
    page.reload()
    opened.settle()
    expect(page.locator("select.ww-form")).to_have_value("1.234,5")
    assert f"{mass}\u00a0t" in plan(page)


def test_a_field_takes_what_is_shown_and_says_what_it_does_not_take(reader: OpenReader) -> None:
    opened = reader(PREPARATION, width=1280)
    page = opened.page
    opened.wait_until_live()
    block = page.locator('[data-control="preselect"]')
    field, problem = block.locator("input"), block.locator(".ww-problem")
    for wrong, said in (("much", "is not a number. Write it as 1,234.5"), ("999,999", "out of range")):
        field.fill(wrong)
        field.press("Enter")
        expect(problem).to_contain_text(said)
        expect(problem).to_contain_text("kg.")
        assert field.input_value() == wrong
    field.fill("17,500")
    block.get_by_role("button").click()
    opened.wait_until_flown(1)
    expect(page.locator(".ww-edits")).to_contain_text("17,500 kg")
    page.locator(".ww-units label", has_text="t").last.click()
    expect(field).to_have_value("17.500")
    field.fill("18,25")
    field.press("Enter")
    opened.wait_until_flown(1 if page.locator(".ww-edits > li").count() == 1 else 2)
    page.locator(".ww-now-time").click()
    expect(field).to_have_value("18.250")


STATES: dict[str, tuple[tuple[Edit, ...], float, list[str]]] = {
    "all normal": ((), SEEN_S, ["No alerts.", "On board:", "Main left:", "Centre:", "Delivering:"]),
    "leak": (
        (Edit(LEAK_S, "main-left", "leak 1200"),),
        SEEN_S,
        ["Trouble: main left leaks: 1,200 kg/h when the tank is full", "leaking."],
    ),
    "valve stuck": (
        (Edit(LEAK_S, "cross-feed", "stuck"), Edit(LEAK_S + 60, "cross-feed", "open")),
        SEEN_S,
        ["Trouble: cross-feed valve is stuck where it stands", "Cross-feed valve: shut, told open, stuck."],
    ),
    "tank low": ((), 0.0, ["Caution: main", "low level"]),
}


def low_s() -> float:
    """When the first low-level alert of the day's flight is on, s."""
    names = [alert.name for alert in flown().aircraft.alerts if alert.name.startswith("low-level")]
    changes = [change for change in flown().changes if change.part in names and change.after == "on"]
    return changes[0].time_s + 1.0 if changes else 0.0


@pytest.mark.parametrize("name", STATES)
def test_a_moment_is_described_to_a_screen_reader(reader: OpenReader, name: str) -> None:
    edits, time_s, wanted = STATES[name]
    if name == "tank low":
        time_s = low_s()
        if time_s == 0.0:
            # The day's flight lands above the low level: a leak brings it there.
            edits = (Edit(LEAK_S, "main-left", "leak 3000"),)
            flight = flown(*edits)
            time_s = (
                next(c.time_s for c in flight.changes if c.part == "low-level-left" and c.after == "on") + 1
            )
    opened: Reader = reader(link(*edits, time_s=time_s), block_runtime=not edits)
    if edits:
        opened.wait_until_live()
        opened.wait_until_flown(len(edits))
    opened.settle()
    button = opened.page.get_by_role("button", name="Describe this moment in words")
    button.focus()
    opened.page.keyboard.press("Enter")
    told = opened.page.locator(".ww-description").aria_snapshot()
    paragraphs = [line for line in told.splitlines() if line.lstrip().startswith("- paragraph")]
    assert len(paragraphs) >= 12, told
    assert len(paragraphs) == len(told.splitlines()), (
        "each sentence is a paragraph, and there is nothing else"
    )
    for words in wanted:
        assert words in told, told
    moment = flown(*edits).moment(time_s)
    on_board = figures.figure(moment.quantity("total.on_board_kg"), "kg")
    assert f"On board: {on_board} kg." in told

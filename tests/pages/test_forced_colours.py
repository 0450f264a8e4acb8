"""Forced colours, light and dark: each piece open, each word read, each state told without its own colour."""

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.pages.conftest import OpenReader
from tests.pages.reader import Reader, assert_accessible

CRUISE = "phases/cruise.html"
EDIT = "([part, state, timeS]) => document.querySelector('wet-wing-panel').edit({ part, state, timeS })"

# Axe sees no words of pictures. Behind a word lies its own halo, or else what its picture stands on. The chip
# of the time, whose words lie on a shape of their own, is left out.
PALE = """() => {
  const canvas = document.createElement('canvas').getContext('2d', { willReadFrequently: true });
  const rgb = (colour) => {
    canvas.clearRect(0, 0, 1, 1);
    canvas.fillStyle = colour;
    canvas.fillRect(0, 0, 1, 1);
    return [...canvas.getImageData(0, 0, 1, 1).data];
  };
  const light = ([r, g, b]) => [r, g, b].map((own) => own / 255)
    .map((own) => (own <= 0.03928 ? own / 12.92 : ((own + 0.055) / 1.055) ** 2.4))
    .reduce((sum, own, at) => sum + own * [0.2126, 0.7152, 0.0722][at], 0);
  const ground = (element) => {
    for (let own = element; own; own = own.parentElement) {
      const found = rgb(getComputedStyle(own).backgroundColor);
      if (found[3] === 255) return found;
    }
    return rgb('Canvas');
  };
  const pale = [];
  for (const text of document.querySelectorAll('svg text')) {
    if (!text.checkVisibility({ visibilityProperty: true }) || !text.textContent.trim() || text.matches('.chip-words')) continue;
    const style = getComputedStyle(text);
    const behind = style.stroke === 'none' ? ground(text.ownerSVGElement) : rgb(style.stroke);
    const [one, other] = [light(rgb(style.fill)), light(behind)].sort((a, b) => b - a);
    const contrast = (one + 0.05) / (other + 0.05);
    const picture = text.ownerSVGElement.getAttribute('class');
    if (contrast < 4.5) pale.push(`${picture}: ${text.textContent.trim().slice(0, 30)} ${contrast.toFixed(2)}`);
  }
  return pale;
}"""  # noqa: E501


def assert_seen(page: Page) -> None:
    """The words of the pictures in forced colours on black and on white, and all that axe finds on white: on
    black it is told the colours that the page asked for, not those that are forced.
    """
    for scheme in ("dark", "light"):
        page.emulate_media(forced_colors="active", color_scheme=scheme)
        assert page.evaluate(PALE) == [], scheme
    assert_accessible(page)


def look(own: Locator, *properties: str, of: str | None = None) -> list[str]:
    """Computed properties of an element, or of what stands before it."""
    found: list[str] = own.first.evaluate(
        "(own, [names, of]) => names.map((name) => getComputedStyle(own, of).getPropertyValue(name))",
        [list(properties), of],
    )
    return found


def open_changes(opened: Reader) -> Page:
    """A flight with a setting and a leak, kept, compared with, traced, and looked ahead from."""
    page = opened.page
    opened.wait_until_live()
    opened.go_to("3:00:00")
    page.evaluate(EDIT, ["main-left", "leak 1200", 9000])
    page.evaluate(EDIT, ["cross-feed", "open", 9300])
    opened.wait_until_flown(2)
    page.locator(".ww-keep").click()
    page.locator(".ww-undo").click()
    opened.wait_until_flown(1)
    page.locator('.ww-kept-list [data-field="compare"]').click()
    expect(page.locator('.ww-kept-list [aria-pressed="true"]')).to_have_count(1)
    page.locator(".ww-change").click()
    opened.choose("centre-left")
    for fold in (".ww-traces", ".ww-ahead"):
        page.locator(f"{fold} > summary").click()
    expect(page.locator(".ww-ahead-list")).to_contain_text("final reserve")
    expect(page.locator(".ww-trace-plot canvas").first).to_be_visible()
    page.locator(".ww-stretch-drag").click()
    opened.settle()
    return page


def open_predictions(opened: Reader) -> Page:
    """A choice and a sketch, both answered, and both wrong."""
    page = opened.page
    page.locator('#cruise-hold input[data-right="false"]').first.check()
    for field in page.locator("#cruise-sketch .ww-sketch-number").all():
        field.fill("6,000")
        field.press("Enter")
    for name in ("cruise-hold", "cruise-sketch"):
        page.locator(f"#{name} .ww-sure label").first.click()
        page.locator(f"#{name} .ww-check").click()
        expect(page.locator(f"#{name} .ww-result")).to_contain_text("Not so")
    return page


def open_order(opened: Reader) -> Page:
    """An order, answered as it stands."""
    page = opened.page
    page.locator("#start-sequence .ww-sure label").first.click()
    page.locator("#start-sequence .ww-check").click()
    expect(page.locator("#start-sequence .ww-order-yours").first).to_be_visible()
    return page


def open_exercise(opened: Reader) -> Page:
    """A figure, answered wrong."""
    figure = opened.page.locator('fieldset[data-ww-kind="number"]').first
    figure.locator(".ww-number-field").fill("1")
    figure.locator(".ww-sure label").first.click()
    figure.locator(".ww-check").click()
    expect(figure.locator(".ww-result")).to_contain_text("Not so")
    return opened.page


def open_uplift(opened: Reader) -> Page:
    """A worksheet with a finding, a band, and a field that says what is wrong."""
    page = opened.page
    opened.wait_until_live()
    gauged = page.locator("#ws-uplift-gauged")
    expect(gauged).to_be_editable()
    gauged.fill("9000")
    expect(page.locator(".ww-ws-finding").first).to_contain_text("less than the book")
    page.locator("#ws-uplift-density").fill("1.77")
    expect(page.locator("#ws-uplift-density-problem")).to_be_visible()
    return page


def open_case(opened: Reader) -> Page:
    """A hidden trouble with one look inside."""
    page = opened.page
    opened.wait_until_live()
    page.locator("#find-missing .ww-case-number").press("Enter")
    expect(page.locator("wet-wing-panel")).to_have_attribute("data-challenge", "")
    page.locator("#find-missing").get_by_role("button", name="Look inside").click()
    expect(page.locator("#find-missing .ww-looks li")).to_have_count(1)
    return page


def open_twin(opened: Reader) -> Page:
    """Two panels where the right one has an alert and the left one has none."""
    page = opened.page
    page.locator(".ww-twin-left .ww-time").fill("2:05:00")
    page.locator(".ww-twin-left .ww-time").press("Enter")
    expect(page.locator(".ww-twin-right .ww-alert:visible").first).to_be_visible()
    return page


def open_bench(opened: Reader) -> Page:
    """A bench with a figure that can't be."""
    page = opened.page
    opened.wait_until_live()
    field = page.locator(".ww-inputs").get_by_label("Mass without fuel", exact=True)
    field.fill("much")
    field.press("Enter")
    expect(page.locator(".ww-input .ww-problem:visible")).to_have_count(1)
    return page


PIECES = {
    "predictions": (CRUISE, open_predictions),
    "order": ("phases/start.html", open_order),
    "exercise": ("exercises/index.html", open_exercise),
    "worksheet": ("planning/uplift.html", open_uplift),
    "find it": ("troubles/find-it.html", open_case),
    "twin": ("twins/burn-order.html", open_twin),
    "bench": ("bench/alder-165.html", open_bench),
}
"""Pieces and the way to open them."""


@pytest.mark.parametrize("piece", PIECES)
def test_a_piece_is_seen_in_forced_colours(reader: OpenReader, piece: str) -> None:
    path, open_piece = PIECES[piece]
    live = open_piece in (open_uplift, open_case, open_bench)
    page = open_piece(reader(path, block_runtime=not live))
    assert_seen(page)


def test_a_changed_flight_is_seen_in_forced_colours(reader: OpenReader) -> None:
    opened = reader(CRUISE)
    page = open_changes(opened)
    page.locator(".ww-more:visible").click()
    assert_seen(page)

    # What a colour told besides is told by a shape, a line or a sign.
    assert look(page.locator('.ww-kept-list [aria-pressed="true"]'), "content", of="::before") != ["none"]
    assert look(page.locator(".ww-stretch-drag"), "content", of="::before") != ["none"]
    checked = page.locator('[data-control="cross-feed"] input:checked + span')
    assert look(checked, "content", of="::before") != ["none"]
    dot = page.locator(".ww-because > li:not(.ww-hidden-step)")
    assert look(dot, "background-color", of="::before") == look(page.locator(".ww-now"), "color")
    drawn = page.locator(".ww-plan:visible")
    opened.choose("main-left")
    opened.settle()
    assert look(drawn.locator("rect.ww-was"), "stroke-dasharray") != ["none"]
    chosen, other = (drawn.locator(f'[data-part="{name}"] .shell') for name in ("main-left", "main-right"))
    assert look(chosen, "stroke-width") != look(other, "stroke-width")
    chart = page.locator(".ww-flightline svg:visible")
    now, then = chart.locator(".phase[data-now] rect"), chart.locator(".phase:not([data-now]) rect")
    assert look(now, "stroke-width") != look(then, "stroke-width")
    # Lines of one black are named where they run.
    for name in ("Main", "Outboard", "Centre"):
        expect(page.locator(".ww-trace-names").first).to_contain_text(name)

    page.get_by_label("Look at").select_option("left")
    opened.settle()
    assert page.evaluate(PALE) == []
    page.locator(".ww-views input[value=gauges]").check(force=True)
    opened.settle()
    assert page.evaluate(PALE) == []
    assert look(drawn.locator(".fuel"), "stroke-dasharray") != ["none"]


def test_a_class_and_its_paper_are_seen_in_forced_colours(reader: OpenReader) -> None:
    opened = reader(CRUISE, block_runtime=True)
    page = opened.page
    page.locator(".ww-class-open").click()
    opened.settle()
    page.get_by_role("button", name="Freeze").click()
    expect(page.locator(".ww-frozen-note")).to_be_visible()
    assert_seen(page)
    assert look(page.locator('.ww-class-bar [aria-pressed="true"]'), "content", of="::before") != ["none"]
    page.keyboard.press("Escape")
    expect(page.locator("dialog.ww-class")).to_have_count(0)
    page.locator(".ww-handout-open").click()
    expect(page.locator(".ww-axes").first).to_be_visible()
    assert_seen(page)

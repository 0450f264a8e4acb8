"""Hand-outs for print: empty cells, a key on a sheet of its own, the same paper from the same seed."""

from playwright.sync_api import Page, expect

from tests.pages.conftest import OpenReader
from tests.pages.flights import first_hold, flown
from tests.pages.reader import Reader, assert_accessible
from wetwing.draw import figures

CRUISE = "phases/cruise.html"
TABLE = """(kind) => [...document.querySelectorAll(`.ww-sheet-${kind} tbody tr`)].map((row) =>
    [...row.querySelectorAll('td')].map((cell) => [cell.textContent, cell.className]))"""


def open_handout(opened: Reader) -> Page:
    opened.page.locator(".ww-handout-open").focus()
    opened.page.keyboard.press("Enter")
    expect(opened.page.locator(".ww-handout")).to_be_visible()
    opened.settle()
    return opened.page


def test_a_paper_asks_what_its_key_answers(reader: OpenReader) -> None:
    opened = reader(CRUISE, block_runtime=True)
    page = open_handout(opened)
    questions, key = page.evaluate(TABLE, "questions"), page.evaluate(TABLE, "key")
    flat = [
        (asked, answer)
        for row, own in zip(questions, key, strict=True)
        for asked, answer in zip(row, own, strict=True)
    ]
    empty = [(asked, answer) for asked, answer in flat if asked[1] == "ww-empty"]
    assert len(empty) == round(len(flat) / 2)
    for asked, answer in flat:
        if asked[1] == "ww-empty":
            assert asked[0] == "to fill in" and answer[1] == "ww-asked" and answer[0]
        else:
            assert asked[0] == answer[0] and answer[1] == ""
    # The key tells the simulation's own figures: the tanks at the first hold.
    hold = flown().moment(first_hold().time_s)
    wanted = [
        figures.figure(hold.quantity(f"{tank.name}.actual_kg"), "kg") for tank in flown().aircraft.tanks
    ]
    assert [row[0][0] for row in key[: len(wanted)]] == wanted
    # What is asked stands nowhere on the questions' drawings.
    first = page.locator(".ww-sheet-drawings figure").first
    for tank, row in zip(flown().aircraft.tanks, questions, strict=False):
        told = first.locator(f'[data-value="{tank.name}.actual_kg"]').first.text_content()
        assert (told == "…………") == (row[0][1] == "ww-empty")
    expect(page.locator(".ww-sheet-key .ww-sheet-made")).to_contain_text("Seed 1. Alder 165, revision A.")


def test_a_seed_gives_the_same_paper_again(reader: OpenReader) -> None:
    opened = reader(CRUISE, block_runtime=True, dark=True)
    page = open_handout(opened)
    one = page.evaluate(TABLE, "questions")
    page.get_by_role("button", name="Another paper").click()
    expect(page.locator(".ww-seed")).to_have_value("2")
    assert page.evaluate(TABLE, "questions") != one
    seed = page.get_by_label("Seed", exact=True)
    seed.fill("none")
    seed.press("Enter")
    expect(page.get_by_text("'none' is no seed.")).to_be_visible()
    assert page.evaluate(TABLE, "questions") != one
    seed.fill("1")
    seed.press("Enter")
    assert page.evaluate(TABLE, "questions") == one
    # Without any moment the last good sheets stay, and it is said.
    boxes = page.locator(".ww-handout-moments input")
    for box in boxes.all():
        box.uncheck()
    expect(page.get_by_text("Choose at least one moment.")).to_be_visible()
    boxes.first.check()
    expect(page.locator(".ww-sheet-drawings figure")).to_have_count(1)
    page.emulate_media(forced_colors="active")
    assert_accessible(page)
    page.keyboard.press("Escape")
    expect(page.locator(".ww-handout")).to_have_count(0)
    expect(page.locator(".ww-handout-open")).to_be_focused()
    expect(page.locator(".ww-frame")).to_be_visible()


def test_the_key_starts_a_sheet_of_its_own_on_a4_and_letter(reader: OpenReader) -> None:
    opened = reader(CRUISE, block_runtime=True)
    page = open_handout(opened)
    page.emulate_media(media="print")
    expect(page.locator(".ww-handout-controls")).to_be_hidden()
    sheets = page.locator(".ww-sheet").count()
    breaks = page.evaluate(
        "() => [...document.querySelectorAll('.ww-sheet')].map((own) => getComputedStyle(own).breakAfter)"
    )
    assert breaks == ["page"] * (sheets - 1) + ["auto"]
    for size in ("A4", "Letter"):
        printed = page.pdf(format=size)
        # Each sheet fits on one side of paper: so the key shares none with the questions.
        assert printed.count(b"/Type /Page\n") == sheets, size
    page.emulate_media(media="screen")


def test_a_page_on_paper_is_its_text_and_a_still_picture(reader: OpenReader) -> None:
    opened = reader(CRUISE, block_runtime=True)
    page = opened.page
    # An answer that stands open on the screen.
    answer = page.locator("fieldset.ww-predict details.ww-answer").first
    answer.evaluate("(own) => { own.hidden = false; own.open = true; }")
    expect(answer).to_be_visible()
    page.emulate_media(media="print")
    for gone in (
        ".md-header",
        ".md-sidebar",
        ".md-footer",
        ".ww-transport",
        ".ww-share",
        ".ww-answer",
        ".ww-figures",
    ):
        for own in page.locator(gone).all():
            expect(own).to_be_hidden()
    expect(page.locator(".ww-plan:visible")).to_have_count(1)
    expect(page.locator("fieldset.ww-predict:visible legend").first).to_be_visible()
    assert page.locator(".ww-because").evaluate("(own) => own.scrollHeight <= own.clientHeight + 1")
    page.emulate_media(media="screen")

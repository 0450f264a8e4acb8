"""The page of exercises: a figure, a choice and an order answered, another paper made, all of it readable."""

from playwright.sync_api import expect

from tests.pages.conftest import OpenReader
from tests.pages.reader import assert_accessible

PAGE = "exercises/index.html"


def test_a_reader_works_on_a_paper_and_makes_another(reader: OpenReader) -> None:
    opened = reader(PAGE)
    page = opened.page
    questions = page.locator("fieldset.ww-exercise")
    expect(questions).to_have_count(12)

    figure = page.locator('fieldset[data-ww-kind="number"]').first
    field = figure.locator(".ww-number-field")
    figure.locator(".ww-sure label", has_text="certain").click()
    field.fill("ten")
    figure.locator(".ww-check").click()
    expect(figure.locator(".ww-result")).to_contain_text("'ten' is not a number")
    page.locator("select[name=units]").select_option("lb")
    expect(figure.locator(".ww-number-unit")).to_have_text("lb")
    # The second slip of a ledger counts one engine alone: the feedback names what lies behind it.
    wish = figure.evaluate("(own) => JSON.parse(own.dataset.wwNumber)")
    slip = wish["slips"][1]
    field.fill(f"{slip['amount'] / 0.45359237:.0f}")
    figure.locator(".ww-check").click()
    expect(figure.locator(".ww-result")).to_contain_text("Not so (certain)")
    expect(figure.locator(".ww-why:visible")).to_have_attribute("id", slip["why"])
    expect(figure.locator(".ww-why:visible")).to_contain_text(
        "Behind it: One engine's figure stands for both."
    )
    field.fill(f"{wish['amount'] / 0.45359237:.0f}")
    figure.locator(".ww-check").click()
    expect(figure.locator(".ww-result")).to_contain_text("Right (certain)")
    expect(figure.locator(".ww-why:visible")).to_have_count(0)
    see = figure.locator(".ww-see").first.get_attribute("href") or ""
    assert see.startswith("../bench/alder-165.html#v=1&aircraft=alder-165&flight=day-sector")
    assert_accessible(page)
    opened.resize(320)
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 320

    seed = page.locator("input[name=seed]")
    seed.fill("x")
    page.locator(".ww-exercise-form button[type=submit]").click()
    expect(page.locator(".ww-exercise-form .ww-problem")).to_contain_text("'x' is not a number")
    seed.fill("5")
    page.locator("input[name=count]").fill("2")
    for kind in ("next", "order", "trouble", "ledger", "uplift", "endurance", "delay", "balance"):
        page.locator(f"input[name=kinds][value={kind}]").uncheck()
    page.locator(".ww-exercise-form button[type=submit]").click()
    expect(page.locator(".ww-exercise-state")).to_have_text("2 questions made.", timeout=120_000)
    expect(questions).to_have_count(2)
    expect(questions.first).to_have_attribute("id", "x-alder-165-5-state-1")
    questions.first.locator('input[data-right="true"]').check()
    questions.first.locator(".ww-sure label", has_text="a guess").click()
    questions.first.locator(".ww-check").click()
    expect(questions.first.locator(".ww-result")).to_contain_text("Right (a guess)")

    page.goto(page.url.replace(PAGE, "results.html"))
    # Answered wrong at first, so it stands among all answers and among those to come back to.
    expect(page.locator(".ww-results a", has_text="How much fuel is missing")).to_have_count(2)
    expect(page.locator(".ww-results")).to_contain_text("figure")


def test_without_scripts_each_answer_is_a_fold_out(reader: OpenReader) -> None:
    page = reader(PAGE, scripts=False).page
    question = page.locator("fieldset.ww-exercise").first
    assert page.locator(".ww-exercise-form").is_hidden()
    assert question.locator(".ww-why").first.is_hidden()
    question.locator("summary").click()
    assert question.locator('.ww-why[data-right="true"]').is_visible()

"""An exercise as HTML: the same in the built page and from the worker, with its answer as a fold-out.

Its markup is that of every question of the course, so the page's script brings it to life in the same way.
"""

import json
import re

from wetwing.draw.svg import Element, make
from wetwing.teach.exercises.misconceptions import MISCONCEPTIONS
from wetwing.teach.exercises.records import Evidence, Item, Number, Option, Question, Table
from wetwing.teach.words import clock, number

PAGE = "exercises/index.html"
"""Where the questions stand within the site: results name them by it."""

UP = "../"
_MARK = re.compile(r"\{([-−]?[\d,]+(?:\.\d+)?)[ \u00a0]?([^{}\d]*)\}")
_CONVERTED = ("kg", "kg/h")
_LOOK = {"number": "compute"}
"""The style of a form of question, where it is not called as the form: `ww-number` is a switch's."""


def fieldset(question: Question) -> str:
    """The whole question as HTML."""
    name = question.name
    parts: list[Element] = [make("legend", *words(question.ask))]
    if question.given:
        parts.append(_given(question.given))
    answer = make("details", make("summary", "The answer, and why"), class_="ww-answer")
    if question.form == "order":
        parts.append(_shuffled(question))
        answer.add(make("ol", *(_right_place(item) for item in question.items), class_="ww-order-right"))
        answer.add(make("p", *_belief(question.misconceptions[0]), class_="ww-belief"))
    elif question.number:
        parts.append(make("div", class_="ww-number-slot"))
        answer.add(*_worked_out(question, question.number))
    else:
        parts += [_option(name, i, option) for i, option in enumerate(question.options, start=1)]
        whys = [_why(name, i, option, question) for i, option in enumerate(question.options, start=1)]
        answer.add(make("ul", *whys, class_="ww-whys"))
    field = make(
        "fieldset",
        *parts,
        answer,
        class_=f"ww-predict ww-{_LOOK.get(question.form, question.form)} ww-exercise",
        id=name,
        data_ww_question=name,
        data_ww_kind=question.form,
        data_ww_page=PAGE,
    )
    if question.number:
        field.attributes["data-ww-number"] = _number_wish(name, question.number)
    return field.render()


def words(text: str) -> list[Element | str]:
    """A text whose marks, `{430 kg}`, become figures that follow the reader's units."""
    found: list[Element | str] = []
    at = 0
    for mark in _MARK.finditer(text):
        found.append(text[at : mark.start()])
        found.append(_figure(mark[1], mark[2].strip()))
        at = mark.end()
    return [piece for piece in (*found, text[at:]) if piece != ""]


def _figure(amount: str, unit: str) -> Element:
    shown = f"{amount.replace('-', '−')}\u00a0{unit}".rstrip("\u00a0")
    if unit not in _CONVERTED:
        return make("span", shown, class_="ww-figure")
    value = float(amount.replace(",", "").replace("−", "-"))
    return Element(
        "data",
        {"class": "ww-value", "value": f"{value:.6g}", "data-ww-unit": unit, "data-ww-step": "1"},
        [shown],
    )


def _given(table: Table) -> Element:
    head = make("tr", *(make("th", cell, scope="col") for cell in table.head))
    rows = []
    for first, *rest in table.rows:
        cells = [make("td", *words(cell)) for cell in rest]
        if len(cells) + 1 < len(table.head):
            cells[-1].attributes["colspan"] = str(len(table.head) - len(cells))
        rows.append(make("tr", make("th", first, scope="row"), *cells))
    inside = make("table", make("thead", head), make("tbody", *rows), class_="ww-given-table")
    return make("div", inside, class_="ww-given", tabindex="0", role="group", aria_label="What is given")


def _option(name: str, number_: int, option: Option) -> Element:
    radio = Element(
        "input",
        {
            "type": "radio",
            "name": name,
            "value": str(number_),
            "data-right": _yes(option.right),
            "data-why": f"{name}-why-{number_}",
        },
    )
    return make("div", make("label", radio, " ", make("span", *words(option.words))), class_="ww-option")


def _why(name: str, number_: int, option: Option, question: Question) -> Element:
    verdict = "Right" if option.right else "Not so"
    because = question.because if option.right else option.because
    belief = _belief(option.misconception) if option.misconception else []
    return make(
        "li",
        make("strong", f"{verdict}: ", *words(option.words)),
        " ",
        *words(because),
        *([" ", *belief] if belief else []),
        " ",
        _see(option.evidence, "shows" if option.right else "contradicts"),
        id=f"{name}-why-{number_}",
        class_="ww-why",
        data_right=_yes(option.right),
    )


def _belief(name: str) -> list[Element | str]:
    """What a wrong answer believes, and what is so."""
    found = MISCONCEPTIONS[name]
    return ["Behind it: ", make("q", found.believes, class_="ww-believes"), " ", found.correct]


def _see(evidence: Evidence, does: str) -> Element:
    return make("a", f"See the moment that {does} it", class_="ww-see", href=UP + evidence.address())


def _shuffled(question: Question) -> Element:
    items = [
        make("li", *words(question.items[place - 1].words), class_="ww-order-item", data_place=str(place))
        for place in question.shown
    ]
    return make("ol", *items, class_="ww-order-list")


def _right_place(item: Item) -> Element:
    link = make("a", clock(item.evidence.time_s), class_="ww-see ww-at", href=UP + item.evidence.address())
    told = make("span", link, " ", make("strong", *words(item.words)), " ", *words(item.because))
    told.attributes["class"] = "ww-order-flight"
    return make("li", told)


def _worked_out(question: Question, wanted: Number) -> list[Element]:
    right = make(
        "p",
        make("strong", "The answer: ", *words(_amount(wanted.amount, wanted))),
        ", give or take ",
        *words(_tolerance(wanted)),
        ". ",
        *words(question.because),
        " ",
        _see(question.evidence, "shows"),
    )
    slips = [
        make(
            "li",
            make("strong", "If you came to ", *words(_amount(slip.amount, wanted)), ":"),
            " ",
            *_belief(slip.misconception),
            id=f"{question.name}-slip-{i}",
            class_="ww-why",
            data_right="false",
        )
        for i, slip in enumerate(wanted.slips, start=1)
    ]
    return [right, make("ul", *slips, class_="ww-whys")]


def _amount(amount: float, wanted: Number) -> str:
    return f"{{{number(amount, wanted.step)} {wanted.unit}}}"


def _tolerance(wanted: Number) -> str:
    """How far off is right still; a mass as a mark."""
    step = min(wanted.step, 1.0)
    text = f"{number(wanted.tolerance, step)} {wanted.unit}"
    return f"{{{text}}}" if wanted.unit in _CONVERTED else text


def _number_wish(name: str, wanted: Number) -> str:
    """What the page's script needs to judge a figure, in SI."""
    slips = [
        {"amount": slip.amount, "why": f"{name}-slip-{i}"} for i, slip in enumerate(wanted.slips, start=1)
    ]
    wish = {"amount": wanted.amount, "unit": wanted.unit, "tolerance": wanted.tolerance, "slips": slips}
    return json.dumps(wish, separators=(",", ":"))


def _yes(value: bool) -> str:
    return "true" if value else "false"

"""A worksheet as HTML: filled in with the flight's own figures, so it reads and prints without scripts."""

import json
from dataclasses import asdict

from wetwing.aircraft.model import Aircraft
from wetwing.draw.svg import Element, make
from wetwing.draw.tolerance_band import tolerance_band
from wetwing.flight.record import Flight
from wetwing.teach.words import number, say
from wetwing.teach.worksheets.entry import UNIT_OF, clock_words
from wetwing.teach.worksheets.fill import Filled
from wetwing.teach.worksheets.fill import answer as plain_answer
from wetwing.teach.worksheets.sheet import Field, Finding, Result

CAUTION = (
    "For learning, with a fictional aircraft. The approved manuals, the operator's fuel policy and "
    "procedures, "
    "local rules and licensed instruction come first."
)
LEVELS = {"fits": ("✓", "Fits"), "note": ("→", "Note"), "beyond": ("!", "Beyond")}
"""The sign and the word of each level of a finding: never its colour alone."""

MOST_DECIMALS = 3


def worksheet_html(filled: Filled, aircraft: Aircraft, flight: Flight, time_s: float, page: str) -> str:
    """Return a worksheet for a page; `page` makes its ids."""
    kind, key = filled.kind, f"ws-{filled.kind.name}"
    sheet = make(
        "section", class_="ww-worksheet", id=key, aria_labelledby=f"{key}-title", data_ww_kind=kind.name
    )
    sheet.attributes |= {"data-ww-time": f"{time_s!r}", "data-ww-page": page, "data-search-exclude": ""}
    sheet.add(
        make("h3", kind.title, class_="ww-ws-title", id=f"{key}-title"),
        make("p", class_="ww-ws-of").add(
            make("span", f"{aircraft.title}, {flight.script.title.lower()}", class_="ww-ws-flight"),
            make("span", "Date: ", make("span", class_="ww-ws-date")),
            make("span", "Name: ", make("span", class_="ww-ws-name")),
        ),
        make("p", "The figures are those of this page's flight.", class_="ww-ws-state", role="status"),
        _inputs(filled, key),
        make("div", class_="ww-ws-answer", tabindex="-1").add(*answer(filled)),
        make("p", CAUTION, class_="ww-ws-caution"),
    )
    facts = {
        "title": kind.title,
        "caution": CAUTION,
        "flight": {"aircraft": aircraft.name, "script": flight.script.name},
        "answer": worksheet_answer(filled),
        "fields": [asdict(field) | {"unit": UNIT_OF[field.kind]} for field in filled.fields],
    }
    data = json.dumps(facts, ensure_ascii=False, separators=(",", ":")).replace("</", "<\\/")
    script = f'<script type="application/json" class="ww-ws-facts">{data}</script>'
    return sheet.render().removesuffix("</section>") + script + "</section>"


def worksheet_answer(filled: Filled) -> dict[str, object]:
    """A filled worksheet as plain data with its drawing, for the page."""
    band = filled.work.band if filled.work else None
    drawn = {"svg": tolerance_band(band).render(), "sentence": band.sentence} if band else None
    return {**plain_answer(filled), "band": drawn}


def answer(filled: Filled) -> list[Element]:
    """What comes out: the findings, the drawing, the table."""
    if filled.work is None:
        return []
    found = [findings(filled.work.findings)]
    if filled.work.band is not None:
        band = make("figure", class_="ww-ws-band").add(
            tolerance_band(filled.work.band), make("figcaption", say(filled.work.band.sentence))
        )
        found.append(band)
    if filled.work.results:
        found.append(results(filled.work.results))
    return found


def findings(said: tuple[Finding, ...]) -> Element:
    """Each finding with the sign and the word of its level."""
    rows = []
    for finding in said:
        sign, word = LEVELS[finding.level]
        rows.append(
            make("li", class_="ww-ws-finding", data_level=finding.level).add(
                make("span", sign, class_="ww-ws-sign", aria_hidden="true"),
                make("strong", f"{word}. "),
                make("span", say(finding.sentence)),
            )
        )
    return make("ul", *rows, class_="ww-ws-findings")


def results(found: tuple[Result, ...]) -> Element:
    """The table of results: figure, how it is reckoned, and the paragraph behind it."""
    heads = ("Result", "Figure", "How it is reckoned", "Paragraph")
    head = make("thead", make("tr", *(make("th", words, scope="col") for words in heads)))
    body = make("tbody")
    for result in found:
        row = make("tr", class_="ww-ws-whole" if result.whole else None)
        shown = result.words or f"{number(result.value or 0.0, result.step)}\u00a0{result.unit}"
        row.add(
            make("th", result.label, scope="row"),
            make("td", shown, class_="ww-ws-figure"),
            make("td", result.formula, class_="ww-ws-formula"),
            make("td", result.paragraph, class_="ww-ws-paragraph"),
        )
        body.add(row)
    return make("table", make("caption", "What comes out"), head, body, class_="ww-ws-results")


def _inputs(filled: Filled, key: str) -> Element:
    fields = make("fieldset", make("legend", "What goes in"), class_="ww-ws-in")
    single = [field for field in filled.fields if field.row is None]
    rows = [field for field in filled.fields if field.row is not None]
    fields.add(make("div", class_="ww-ws-fields").add(*(_single(field, key) for field in single)))
    if rows:
        fields.add(_rows(rows, key))
    return fields


def _single(field: Field, key: str) -> Element:
    own = f"{key}-{field.name}"
    told = field.empty if field.empty and field.value is None else field.help
    return make("div", class_="ww-ws-field", data_field=field.name).add(
        make("label", field.label, for_=own),
        make("span", class_="ww-ws-entry").add(*_entry(field, own, None)),
        make("span", say(told or field.empty or ""), class_="ww-ws-help", id=f"{own}-help"),
        *_said(own),
    )


def _entry(field: Field, own: str, label: str | None) -> list[Element]:
    described = f"{own}-read {own}-problem" if label else f"{own}-help {own}-read {own}-problem"
    if field.choices:
        chosen = int(field.value or 0.0)
        options = [
            make("option", words, value=str(i), selected="" if i == chosen else None)
            for i, words in enumerate(field.choices)
        ]
        return [make("select", *options, id=own, disabled="", aria_describedby=described)]
    entry = make("input", type="text", id=own, value=text_of(field), readonly="", autocomplete="off")
    entry.attributes |= {"inputmode": "decimal", "aria-describedby": described}
    if label:
        entry.attributes["aria-label"] = label
    return [entry, make("span", UNIT_OF[field.kind], class_="ww-ws-unit")]


def _said(own: str) -> list[Element]:
    return [
        make("span", class_="ww-ws-read", id=f"{own}-read", hidden=""),
        make("span", class_="ww-problem", id=f"{own}-problem", hidden=""),
    ]


def _rows(rows: list[Field], key: str) -> Element:
    """Fields that stand side by side, and under each row what is wrong with it."""
    columns = [field.label for field in rows if field.row == rows[0].row]
    head = make(
        "thead",
        make("tr", make("th", "Check", scope="col"), *(make("th", words, scope="col") for words in columns)),
    )
    body = make("tbody")
    for row in sorted({field.row or 0 for field in rows}):
        own_fields = [field for field in rows if field.row == row]
        line = make("tr", make("th", str(row), scope="row"), class_="ww-ws-row", data_row=str(row))
        under = make("td", colspan=str(len(columns) + 1))
        for field in own_fields:
            own = f"{key}-{field.name}"
            cell = make("td", data_label=field.label, data_field=field.name)
            line.add(
                cell.add(
                    make("span", class_="ww-ws-entry").add(*_entry(field, own, f"{field.label}, check {row}"))
                )
            )
            under.add(*_said(own))
        body.add(line, make("tr", under, class_="ww-ws-under"))
    return make("table", make("caption", "Checks"), head, body, class_="ww-ws-rows")


def text_of(field: Field) -> str:
    """A field's value as it stands in it: at most three decimals, and none where they are noughts."""
    if field.value is None:
        return ""
    if field.kind == "clock":
        return clock_words(field.value)
    decimals = {"mass": 0, "flow": 0, "volume": 0, "minutes": 1}.get(field.kind, MOST_DECIMALS)
    text = number(field.value, float(f"1e-{decimals}"))
    return text.rstrip("0").rstrip(".") if "." in text else text

"""The two sheets of a paper as HTML: questions with boxes and lines, and the key with reasons and links."""

from dataclasses import dataclass
from html import escape

from wetwing.teach.exercises import KINDS, MISCONCEPTIONS, Evidence, Paper, Question
from wetwing.teach.exercises.records import Number, Table
from wetwing.teach.words import Units, clock, in_units, number, say
from wetwing_tools.paper.style import style

CAUTION = (
    "For learning. The aircraft and all figures are fictional. Approved manuals, operators' procedures, "
    "local rules and licensed instruction come first."
)
LB_LINE = "1 lb is 0.4536 kg; densities stay in kg/L."
LETTERS = "ABCDEFGH"


@dataclass(frozen=True, slots=True)
class Sheet:
    """How a paper is written: units, the site's address where it is known, and the revision of the model."""

    paper: Paper
    units: Units
    address: str
    model: str

    def text(self, said: str) -> str:
        """A text in the units of the paper, escaped."""
        return escape(say(said, self.units))

    def link(self, evidence: Evidence) -> str:
        """A link to a state, written out: paper has no other way to lead there."""
        way = f"{self.address}{evidence.address(self.units)}"
        return f'<a class="link" href="{escape(way)}">{escape(way)}</a>'


def paper_html(paper: Paper, units: Units, model: str, address: str = "") -> str:
    """The questions, to be answered with a pen."""
    sheet = Sheet(paper, units, address, model)
    who = '<p class="who"><span>Name</span><span>Date</span></p>'
    body = "\n".join(_question(sheet, i, question) for i, question in enumerate(paper.questions, start=1))
    return _document(sheet, "Exercises", who, body)


def key_html(paper: Paper, units: Units, model: str, address: str = "") -> str:
    """The answers: each with its reason, the belief behind each wrong one, and the links that show them."""
    sheet = Sheet(paper, units, address, model)
    body = "\n".join(_answer(sheet, i, question) for i, question in enumerate(paper.questions, start=1))
    return _document(sheet, "Key to the exercises", "", body)


def _document(sheet: Sheet, what: str, who: str, body: str) -> str:
    paper = sheet.paper
    about = f"{paper.title}, {paper.flight_title.lower()}"
    seed = f"Seed {paper.seed}, model {sheet.model}"
    hint = f" {LB_LINE}" if sheet.units == "lb" else ""
    return f"""<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{escape(f"{what}: {about}, seed {paper.seed}")}</title>
<style>{style(f"{what}: {about}. {seed}.")}</style>
</head>
<body>
<header>
<h1>{escape(what)}</h1>
<p>{escape(about)}. {len(paper.questions)} questions. {escape(seed)}.{hint}</p>
{who}
<p class="caution">{escape(CAUTION)}</p>
</header>
<main>
{body}
</main>
</body>
</html>
"""


def _head(sheet: Sheet, i: int, question: Question) -> str:
    ids = f' <span class="points">({", ".join(question.objectives)})</span>' if question.objectives else ""
    return f"<h2>{i}. {sheet.text(question.ask)}{ids}</h2>"


def _question(sheet: Sheet, i: int, question: Question) -> str:
    given = _table(sheet, question.given) if question.given else ""
    if question.form == "choose":
        rows = [
            f'<li><span class="box"></span><span>{letter}. {sheet.text(option.words)}</span></li>'
            for letter, option in zip(LETTERS, question.options, strict=False)
        ]
        inside = f'<ol class="choose">{"".join(rows)}</ol>'
    elif question.form == "order":
        rows = [
            f'<li><span class="box"></span><span>{sheet.text(question.items[place - 1].words)}</span></li>'
            for place in question.shown
        ]
        inside = (
            f'<p>Write 1 to {len(question.items)} into the boxes.</p><ol class="order">{"".join(rows)}</ol>'
        )
    else:
        assert question.number
        unit = sheet.units if question.number.unit == "kg" else question.number.unit
        lines = '<div class="line"></div>' * 2
        inside = f'{lines}<p>Answer: <span class="answer">&nbsp;</span> {unit}</p>'
    return f"<section>{_head(sheet, i, question)}{given}{inside}</section>"


def _table(sheet: Sheet, table: Table) -> str:
    head = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in table.head)
    rows = []
    for first, *rest in table.rows:
        spare = len(table.head) - 1 - len(rest)
        wide = f' colspan="{spare + 1}"' if spare else ""
        cells = [f"<td>{sheet.text(cell)}</td>" for cell in rest[:-1]]
        cells.append(f"<td{wide}>{sheet.text(rest[-1])}</td>")
        rows.append(f'<tr><th scope="row">{escape(first)}</th>{"".join(cells)}</tr>')
    return f"<table><thead><tr>{head}</tr></thead><tbody>{''.join(rows)}</tbody></table>"


def _answer(sheet: Sheet, i: int, question: Question) -> str:
    kind = f"<p>{escape(KINDS[question.kind].capitalize())}.</p>"
    if question.form == "choose":
        inside = _chosen(sheet, question)
    elif question.form == "order":
        inside = _ordered(sheet, question)
    else:
        assert question.number
        inside = _computed(sheet, question, question.number)
    return f'<section class="key">{_head(sheet, i, question)}{kind}{inside}</section>'


def _chosen(sheet: Sheet, question: Question) -> str:
    rows = []
    # Where one state shows every answer it is written once.
    same = len({option.evidence for option in question.options}) == 1
    for letter, option in zip(LETTERS, question.options, strict=False):
        words = f"{letter}. {sheet.text(option.words)}"
        way = "" if same else f"<br>{sheet.link(option.evidence)}"
        if option.right:
            rows.append(f'<li><span class="right">✓ {words}</span> {sheet.text(question.because)}{way}</li>')
        else:
            belief = _belief(option.misconception or "")
            rows.append(f"<li>{words} {sheet.text(option.because)} {belief}{way}</li>")
    shown = f"<p>{sheet.link(question.evidence)}</p>" if same else ""
    return f'<ul class="choices">{"".join(rows)}</ul>{shown}'


def _ordered(sheet: Sheet, question: Question) -> str:
    rows = [
        f'<li><span class="right">{sheet.text(item.words)}</span> {clock(item.evidence.time_s)}. '
        f"{sheet.text(item.because)}<br>{sheet.link(item.evidence)}</li>"
        for item in question.items
    ]
    places = ", ".join(str(place) for place in question.shown)
    beliefs = "".join(f"<p>{_belief(name)}</p>" for name in question.misconceptions)
    return f"<p>In the boxes, from above: {places}.</p><ol>{''.join(rows)}</ol>{beliefs}"


def _computed(sheet: Sheet, question: Question, wanted: Number) -> str:
    def said(amount: float, step: float) -> str:
        if wanted.unit == "kg":
            own = step / 1000.0 if sheet.units == "t" else step
            return f"{number(in_units(amount, sheet.units), own)} {sheet.units}"
        return f"{number(amount, step)} {wanted.unit}"

    right = (
        f"{said(wanted.amount, wanted.step)}, give or take {said(wanted.tolerance, min(wanted.step, 1.0))}"
    )
    slips = "".join(
        f"<li>{said(slip.amount, wanted.step)}: {_belief(slip.misconception)}</li>" for slip in wanted.slips
    )
    return (
        f'<p><span class="right">✓ {escape(right)}</span>. {sheet.text(question.because)}<br>'
        f"{sheet.link(question.evidence)}</p><ul>{slips}</ul>"
    )


def _belief(name: str) -> str:
    found = MISCONCEPTIONS[name]
    return f'<span class="belief">“{escape(found.believes)}”</span> ({name}) {escape(found.correct)}'

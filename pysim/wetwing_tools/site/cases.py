"""A table of flights side by side: a column a flight, a row a cue, every cell worked out."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from html import escape

from wetwing.aircraft.mistakes import Mistake
from wetwing.teach.claims import Claims
from wetwing.teach.text import has
from wetwing.teach.values import Value, value_of
from wetwing_tools.site import html
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.yaml_lines import Mapping

MOST_ROWS = 8


@dataclass(frozen=True, slots=True)
class Case:
    """A flight with its name, the claims that are judged in it, and the state that its head opens.

    `acts` says whether somebody moves a switch in it, in answer to a trouble.
    """

    name: str
    claims: Claims
    target: html.Target
    page: str | None = None
    acts: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """A cue, and what each flight shows of it."""

    say: str
    values: list[Value]


def rows_of(maker: PageMaker, node: Mapping, key: str, cases: Sequence[Case], at: str) -> list[Row]:
    """Work out a row's figure in each flight, at `at` where the row names no moment; none where one of the
    rows is a slip. Raises Mistake.
    """
    wishes = node.mappings(key)
    if not 1 <= len(wishes) <= MOST_ROWS:
        raise Mistake(node.place(), f"{key}: {len(wishes)}", f"1 to {MOST_ROWS}")
    found = [maker.tried(wish.line, _row, maker, wish, cases, at) for wish in wishes]
    rows = [row for row in found if row]
    return rows if len(rows) == len(found) else []


def _row(maker: PageMaker, wish: Mapping, cases: Sequence[Case], at: str) -> Row:
    wish = maker.known(wish, ("say", "figure"))
    say, figure = wish.text("say"), wish.text("figure")
    words = maker.prose(str(say).strip(), say.line)
    asked = _with_moment(str(figure), at)
    values = [value_of(case.claims, asked, wish.place(figure.line)) for case in cases]
    maker.figures += len(values)
    return Row(words, values)


def _with_moment(figure: str, at: str) -> str:
    """Put the moment of the table into a figure that names none; its rounding stays behind the moment."""
    if has(figure, "at") or has(figure, "from") or figure.startswith("count "):
        return figure
    quantity, to, step = figure.rpartition(" to ") if " to " in figure else (figure, "", "")
    return f"{quantity} at {at}{to}{step}"


def check_told_apart(cases: Sequence[Case], rows: Sequence[Row], place: str) -> None:
    """Raise Mistake where two flights show the same in every row: the table would teach nothing."""
    if not rows:
        return  # a slip that has been told
    seen: dict[tuple[str, ...], str] = {}
    for i, case in enumerate(cases):
        cells = tuple(_plain(row.values[i]) for row in rows)
        if cells in seen:
            raise Mistake(
                place,
                f"'{seen[cells]}' and '{case.name}' are alike in every row",
                "a row that tells them apart",
            )
        seen[cells] = case.name


def table(maker: PageMaker, caption: str, cases: Sequence[Case], rows: Sequence[Row], corner: str) -> str:
    """The table as HTML. A cell that differs from the first column's is strong."""
    heads = "".join(f'<th scope="col">{_head(maker, case)}</th>' for case in cases)
    body = []
    for row in rows:
        first = _plain(row.values[0])
        cells = "".join(
            f"<td>{_cell(value, i > 0 and _plain(value) != first)}</td>" for i, value in enumerate(row.values)
        )
        body.append(f'<tr><th scope="row" markdown="span">{row.say}</th>{cells}</tr>')
    label = escape(caption)
    return "\n".join(
        [
            f'<div class="ww-compare" role="region" aria-label="{label}" tabindex="0" markdown="block">',
            '<table class="ww-compare-table">',
            f"<caption><span>{label}</span></caption>",
            f'<thead><tr><th scope="col">{escape(corner)}</th>{heads}</tr></thead>',
            "<tbody>",
            *body,
            "</tbody>",
            "</table>",
            "</div>",
        ]
    )


def _head(maker: PageMaker, case: Case) -> str:
    link = f'<a class="ww-see" {maker.attributes(case.target)}>{escape(case.name)}</a>'
    if not case.page:
        return link
    page, label = escape(case.page), f"{escape(case.name)}: its page"
    return f'{link}<br><a class="ww-to-page" href="{page}" aria-label="{label}">its page</a>'


def _cell(value: Value, differs: bool) -> str:
    shown = html.figure(value)
    return f"<strong>{shown}</strong>" if differs else shown


def _plain(value: Value) -> str:
    return value.text


def edited(maker: PageMaker, edits_text: str, place: str) -> Claims:
    """The claims of the page's flight with edits. Raises Mistake."""
    return replace(maker.claims, edits=maker.claims.edits_of(edits_text, place))

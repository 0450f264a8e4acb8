"""The last touch to a page's HTML: what belongs together stays on one line, and wide tables can be stacked.

A figure keeps its unit, and a name its hyphens. A table of many columns gets each column's head on its cells, so
that a phone can show one under another; its roles stand in it, since a browser may take them away with the
layout of a table.
"""

import re
from html import escape, unescape

FEWEST_COLUMNS = 4
WIDE_COLUMNS = 7
LONGEST_NAME = 26
"""Characters of code that stay on one line: more would not fit on a phone."""

_TAG = re.compile(r"(<[^>]+>)")
_VERBATIM = re.compile(r"<(/?)(pre|code|script|style|textarea|svg|button|option)\b")
_UNITS = "kg/h|kg|L/h|L|°C|bar|%|min|h|s|ft|K|mm|m|kN|kW|NM|kt|t|lb|years|hours|minutes"
_FIGURE = re.compile(rf"(?<=\d) (?=(?:{_UNITS})(?![\w/]))")
_OBJECTIVE = re.compile(r"\bF(?:-[A-Z]{3}){1,2}-(?:\d|[A-Z]{3})\b|\bF-[A-Z]{3}-[A-Z]{3}\b")
_CODE = re.compile(rf"(?<!<pre>)<code>([^<\n]{{1,{LONGEST_NAME}}})</code>")
_TABLE = re.compile(r"<table>(.*?)</table>", re.DOTALL)
_HEAD = re.compile(r"<th\b[^>]*>(.*?)</th>", re.DOTALL)
_BODY = re.compile(r"<tbody>(.*?)</tbody>", re.DOTALL)
_ROW = re.compile(r"<tr>(.*?)</tr>", re.DOTALL)
_CELL = re.compile(r"<td\b")


def polished(html: str) -> str:
    """The same page with its figures, names and tables kept together."""
    html = _CODE.sub(r'<code class="ww-whole">\1</code>', html)
    return _TABLE.sub(lambda table: _stackable(table[0]), _unbroken(html))


def _unbroken(html: str) -> str:
    found, verbatim = [], 0
    for piece in _TAG.split(html):
        if piece.startswith("<"):
            if tag := _VERBATIM.match(piece):
                verbatim = max(0, verbatim + (-1 if tag[1] else 1))
        elif not verbatim:
            piece = _FIGURE.sub("\u00a0", piece)
            piece = _OBJECTIVE.sub(r'<span class="ww-whole">\g<0></span>', piece)
        found.append(piece)
    return "".join(found)


def _stackable(table: str) -> str:
    heads = [" ".join(unescape(_TAG.sub("", head)).split()) for head in _HEAD.findall(table)]
    body = _BODY.search(table)
    if len(heads) < FEWEST_COLUMNS or not body:
        return table
    rows = _ROW.sub(lambda row: f'<tr role="row">{_headed(row[1], heads)}</tr>', body[1])
    size = "wide" if len(heads) >= WIDE_COLUMNS else "usual"
    return (
        table.replace(body[0], f'<tbody role="rowgroup">{rows}</tbody>')
        .replace("<table>", f'<table role="table" data-stack="{size}">')
        .replace("<thead>", '<thead role="rowgroup">')
        .replace("<tr>", '<tr role="row">')
        .replace("<th>", '<th role="columnheader">')
    )


def _headed(row: str, heads: list[str]) -> str:
    """The cells of a row, each with its column's head."""
    names = iter(heads)
    return _CELL.sub(lambda _: f'<td role="cell" data-head="{escape(next(names, ""))}"', row)

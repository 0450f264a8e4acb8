"""The small HTML pieces that pages are made of."""

import re
from dataclasses import dataclass
from html import escape

from wetwing.flight.script import Edit
from wetwing.teach.link import Link, LinkEdit, format_link
from wetwing.teach.values import Value
from wetwing.teach.words import clock, number

_MARK = re.compile(r"\{([-−]?[\d,]+(?:\.\d+)?)[ \u00a0]?([^{}\d]*)\}")
_SPAN = re.compile(r"(?<![\w.,>])\d+ (?:h|min|s)(?: \d+ (?:min|s))?(?!\w)")
"""A length of time in words, `16 min 20 s`, which no line breaks."""
_CONVERTED = ("kg", "kg/h")


@dataclass(frozen=True, slots=True)
class Target:
    """A state of the page's panel that a link opens."""

    time_s: float
    part: str | None = None
    edits: tuple[Edit, ...] = ()

    def address(self, aircraft: str, flight: str) -> str:
        """The fragment that opens this state on a page with a panel."""
        edits = tuple(LinkEdit(edit.time_s, edit.part, edit.state) for edit in self.edits)
        return format_link(Link(aircraft, flight, edits, self.time_s))

    def hooks(self) -> str:
        """The attributes by which the panel's script knows where to go."""
        found = [f'data-ww-time="{self.time_s!r}"']
        if self.part:
            found.append(f'data-ww-part="{escape(self.part)}"')
        if self.edits:
            found.append(f'data-ww-edit="{escape(self.told_edits())}"')
        return " ".join(found)

    def told_edits(self) -> str:
        """The edits as the panel's script reads them; nothing where there are none."""
        return ";".join(f"{edit.time_s!r},{edit.part},{edit.state}" for edit in self.edits)


def figure(value: Value) -> str:
    """A computed figure; one in kg carries what the script needs to say it in pounds."""
    if value.unit is None:
        return _SPAN.sub(r'<span class="ww-figure">\g<0></span>', marked(value.text))
    # The sign of degrees stands close to its figure; every other unit stands apart.
    gap = "" if value.unit == "°" else "\u00a0"
    text = f"{number(value.amount, value.step)}{gap}{value.unit}".rstrip("\u00a0")
    if value.unit not in _CONVERTED:
        return f'<span class="ww-figure">{escape(text)}</span>'
    hooks = f'value="{value.amount:.6g}" data-ww-unit="{value.unit}" data-ww-step="{value.step:g}"'
    return f'<data class="ww-value" {hooks}>{escape(text)}</data>'


def marked(sentence: str) -> str:
    """A sentence of the simulation whose marks, `{430 kg}`, become figures; all else is escaped."""
    found, at = [], 0
    for mark in _MARK.finditer(sentence):
        found.append(escape(sentence[at : mark.start()]))
        amount = float(mark[1].replace(",", "").replace("−", "-"))
        decimals = len(mark[1].partition(".")[2])
        found.append(figure(Value(mark[0], amount, mark[2], 10.0**-decimals)))
        at = mark.end()
    return "".join([*found, escape(sentence[at:])])


def proof_elsewhere(time_s: float, part_label: str | None, flight: str) -> str:
    """The mark of a statement that was checked in a flight which the page's panel does not show."""
    where = f"{clock(time_s)}, {part_label}" if part_label else clock(time_s)
    said = f"Checked when this page was built, in another flight: {flight}, {where}"
    return f'<span class="ww-proof" role="img" title="{escape(said)}" aria-label="{escape(said)}">✓</span>'


def proof(target: Target, attributes: str, part_label: str | None) -> str:
    """The mark of a checked statement: a link to the moment that shows it."""
    where = f"{clock(target.time_s)}, {part_label}" if part_label else clock(target.time_s)
    said = f"Checked when this page was built. Open the moment that shows it: {where}"
    return f'<a class="ww-proof" {attributes} title="{escape(said)}" aria-label="{escape(said)}">✓</a>'

"""One page's notation turned into HTML, every statement checked on the way."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from html import escape

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.teach.claims import Claims, Verdict
from wetwing.teach.flights import Flights
from wetwing.teach.values import value_of
from wetwing_tools.site import html, notation
from wetwing_tools.site.front import Front, Objective
from wetwing_tools.site.slips import Slips
from wetwing_tools.site.strays import check_fences, stray
from wetwing_tools.site.yaml_lines import Mapping as Lines

_HEADING = re.compile(r"^# .+$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class PanelWish:
    """What a page asks of its panel."""

    start_s: float
    focus: str | None
    controls: tuple[str, ...]
    caption: str | None
    bench: bool = False


@dataclass(frozen=True, slots=True)
class TwinSide:
    """One of two panels that stand side by side: what it is called, its flight, and what it asks for."""

    name: str
    claims: Claims
    wish: PanelWish


@dataclass(frozen=True, slots=True)
class TwinWish:
    """Two panels on one time."""

    title: str
    left: TwinSide
    right: TwinSide


@dataclass
class PageMaker:
    """Turns one page's Markdown with our notation into Markdown with HTML; slips are gathered, not raised.

    `panel_elsewhere` is the address of a page with a panel, for links of a page that has none. `flights_of`
    gives the flights of another aircraft or script; `side` says whose text this is, where two panels stand
    side by side. `course` has the objectives of all pages, for those that this page lists by id.
    """

    page: str
    front: Front
    claims: Claims
    slips: Slips
    makers: "Mapping[str, Callable[[PageMaker, notation.Block], str]]"
    panel_elsewhere: str = ""
    panel: PanelWish | None = None
    twin: TwinWish | None = None
    side: str | None = None
    flights_of: Callable[[str, str], Flights] | None = None
    has_panel: bool = False
    exercises: str | None = None
    course: Mapping[str, Objective] = field(default_factory=dict)
    steps: int = 0
    trials: int = 0
    checked: int = 0
    figures: int = 0
    _ids: set[str] = field(default_factory=set)

    def make(self, markdown: str, first_line: int) -> str:
        """Turn the whole page."""
        pieces = list(notation.pieces(markdown, first_line))
        kinds = {piece.kind for piece in pieces if isinstance(piece, notation.Block)}
        self.has_panel = bool(kinds & {"panel", "twin"})
        found = []
        for piece in pieces:
            if isinstance(piece, notation.Prose):
                check_fences(piece, self.page, self.slips)
                found.append(self.prose(piece.text, piece.line))
            else:
                found.append(f"\n{self._block(piece)}\n")
        return self._with_objectives("\n".join(found))

    def _block(self, block: notation.Block) -> str:
        try:
            return self.makers[block.kind](self, block)
        except Mistake as mistake:
            self.slips.mistake(self.page, line_of(mistake, self.page, block.line - 1), mistake)
            return ""

    def tried[T, **Given](
        self, line: int, make: Callable[Given, T], *given: Given.args, **named: Given.kwargs
    ) -> T | None:
        """What `make` gives; None, and a slip, where it raises a Mistake, so that a block tells all of its own.

        `line` is where a mistake stands that names no line itself.
        """
        try:
            return make(*given, **named)
        except Mistake as mistake:
            self.slips.mistake(self.page, line_of(mistake, self.page, line), mistake)
            return None

    def known(self, node: Lines, allowed: Sequence[str]) -> Lines:
        """A mapping of a block with keys that are allowed alone.

        Each other key is a slip, and is read as the nearest that is missing, so that what it holds is judged.
        """
        mended, slips = node.mended(allowed)
        for slip in slips:
            self.slips.mistake(self.page, line_of(slip, self.page, node.line), slip)
        return mended

    def prose(self, text: str, line: int, claims: Claims | None = None) -> str:
        """Turn the inline notation of a text; `claims` judges it, the page's own where none is given."""
        judge = claims or self.claims
        found = []
        for piece in notation.inline(text, line):
            match piece:
                case str():
                    found.append(piece)
                case notation.Figure(asked, at):
                    found.append(self._figure(asked, at, judge))
                case notation.Said(sentence, claim, at):
                    found.append(self._said(sentence, claim, at, judge))
                case notation.Stray(started, at):
                    self.slips.mistake(self.page, at, stray(started, f"{self.page}:{at}"))
                    found.append(started)
        return "".join(found)

    def _figure(self, asked: str, line: int, claims: Claims) -> str:
        self.figures += 1
        try:
            return html.figure(value_of(claims, asked, f"{self.page}:{line}"))
        except Mistake as mistake:
            self.slips.mistake(self.page, line, mistake)
            return ""

    def _said(self, sentence: str, claim: str, line: int, claims: Claims) -> str:
        shown = self.prose(sentence, line, claims)
        verdict = self.judge(claim, line, claims)
        if verdict is None:
            return shown
        if not verdict.holds:
            plain = " ".join(sentence.split())
            self.slips.add(self.page, line, f'"{plain}" is not true: {verdict.claim}; found: {verdict.found}')
        self.checked += 1
        target = html.Target(verdict.time_s, verdict.part, verdict.edits)
        label = self.label(target.part)
        mark = (
            html.proof(target, self.attributes(target), label)
            if verdict.flight is None
            else html.proof_elsewhere(target.time_s, label, verdict.flight)
        )
        return f'<span class="ww-said">{shown}{mark}</span>'

    def judge(self, claim: str, line: int, claims: Claims | None = None) -> Verdict | None:
        """Judge a claim; a mistake in it is a slip and gives None."""
        try:
            return (claims or self.claims).check(claim, f"{self.page}:{line}")
        except Mistake as mistake:
            self.slips.mistake(self.page, line, mistake)
            return None

    def attributes(self, target: html.Target) -> str:
        """The attributes of a link to a state: of this page's panel, or else of the page that has one."""
        address = target.address(self.claims.flights.aircraft.name, self.claims.flights.script.name)
        if self.side:
            # A link to two panels holds a part for each: nothing stands for the left one as the page has it.
            address = address if self.side == "left" else f"#;{address[1:]}"
            return f'href="{escape(address)}" {target.hooks()} data-ww-side="{self.side}"'
        if self.has_panel:
            return f'href="{escape(address)}" {target.hooks()}'
        return f'href="{escape(self.panel_elsewhere + address)}"'

    def label(self, part: str | None) -> str | None:
        """What people call a part."""
        return self.claims.flights.aircraft.parts[part].label if part else None

    def moment(self, node: Lines, key: str, claims: Claims | None = None) -> float:
        """The time in s of the moment that stands under a key, in the page's flight or in that of `claims`.

        Raises Mistake.
        """
        text = node.text(key)
        return (claims or self.claims).moments.find(text, node.place(text.line))

    def part_of(self, node: Lines, key: str) -> str | None:
        """The part that is named under a key; None where the key is missing. Raises Mistake."""
        part = node.optional(key)
        return self.check_part(part, node.place(part.line)) if part else None

    def check_part(self, part: str, place: str) -> str:
        """The part's name, or a Mistake."""
        parts = self.claims.flights.aircraft.parts
        if part not in parts:
            raise unknown(place, "part", part, parts)
        return part

    def new_id(self, wanted: str, place: str) -> str:
        """An id that no other question of the page has. Raises Mistake."""
        if not re.fullmatch(r"[a-z][a-z0-9-]*", wanted):
            raise Mistake(place, f"id '{wanted}'", "lower-case letters, digits and hyphens")
        if wanted in self._ids:
            raise Mistake(
                place, f"id '{wanted}' stands twice on this page", "an id of its own for every question"
            )
        self._ids.add(wanted)
        return wanted

    def _with_objectives(self, markdown: str) -> str:
        """Put what the reader will be able to do under the page's heading."""
        if not self.front.listed:
            return markdown
        known = {**self.course, **{own.id: own for own in self.front.objectives}}
        lines = ['\n\n<div class="ww-objectives" markdown="block">\n', "By the end of this page you can:\n"]
        for name in self.front.listed:
            objective = known.get(name)
            if objective:
                # Neither an id nor a number of the syllabus is broken at the end of a line.
                number = objective.syllabus and f"<span>{objective.syllabus}</span>"
                syllabus = f", syllabus reference {number}" if number else ""
                code = f'<span class="ww-objective"><span>{objective.id}</span>{syllabus}</span>'
                lines.append(f"- {objective.text} {code}")
        lines.append("\n</div>\n")
        said = "\n".join(lines)
        heading = _HEADING.search(markdown)
        at = heading.end() if heading else 0
        return markdown[:at] + said + markdown[at:]


def line_of(mistake: Mistake, page: str, default: int) -> int:
    """The line that a mistake's place names on this page."""
    found = re.match(re.escape(page) + r":(\d+)", mistake.place)
    return int(found[1]) if found else default

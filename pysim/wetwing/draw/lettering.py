"""Lettering: how wide a text is, and labels built of words that are filled in later.

Widths are an estimate from a plain sans-serif; they place labels, and tests use them to prove that none
overlap.
"""

from dataclasses import dataclass, field

from wetwing.draw.frame import Box
from wetwing.draw.svg import Element, make

# Thousandths of the font size. Letters that are not listed take the middle width.
_NARROW = {**dict.fromkeys("ijl.,:;'|!", 250), **dict.fromkeys("ftrI -()/", 320)}
_WIDE = {**dict.fromkeys("mwMW%", 850), **dict.fromkeys("ABCDEGHKNOPQRSUVXYZ", 690)}
_MIDDLE = 556
BOLD = 1.06
BROAD = 1.1
"""A broad font needs the tenth by which widths are estimated."""


def width_px(text: str, size_px: float, bold: bool = False) -> float:
    """Estimate the width of `text` set at `size_px`, px; within a tenth for the usual sans-serif fonts."""
    thousandths = sum(_NARROW.get(letter) or _WIDE.get(letter) or _MIDDLE for letter in text)
    return thousandths * size_px * (BOLD if bold else 1.0) / 1000.0


@dataclass(frozen=True, slots=True)
class Word:
    """A piece of a line: fixed text, or a hook with the longest text that it may show."""

    text: str
    look: str = ""
    hooks: tuple[tuple[str, str], ...] = ()
    scale: float = 1.0  # of its letters, in those of the line

    @property
    def seldom(self) -> bool:
        """Whether it is shown only where something is amiss, or beside an earlier flight."""
        hooks = dict(self.hooks)
        return "data-was" in hooks or any(sign in hooks.get("data-when", "") for sign in _AMISS)

    @property
    def is_state(self) -> bool:
        """Whether it is a part's state, whatever that is."""
        return "data-state" in dict(self.hooks) and "data-when" not in dict(self.hooks)

    def element(self) -> Element:
        """Return the piece as a tspan."""
        span = make("tspan", class_=self.look or None)
        span.attributes.update(self.hooks)
        return span if any(name in _FILLED for name, _ in self.hooks) else span.add(self.text)


_AMISS = (":set=", ":shown=", "~", "flowing back", "no signal")
_FILLED = ("data-was", "data-value", "data-unit-word", "data-rate", "data-state")


INSIDE, ON_GAUGES = "of-inside", "of-gauges"
"""The classes of what stands in one of the two views alone."""


def inside(*pieces: Word) -> list[Word]:
    """Return pieces that only the view *inside* shows."""
    return [Word(piece.text, f"{piece.look} {INSIDE}".strip(), piece.hooks, piece.scale) for piece in pieces]


def on_gauges(*pieces: Word) -> list[Word]:
    """Return pieces that only the view *on the gauges* shows."""
    return [
        Word(piece.text, f"{piece.look} {ON_GAUGES}".strip(), piece.hooks, piece.scale) for piece in pieces
    ]


def word(text: str, look: str = "", when: str | None = None) -> Word:
    """Return fixed text, shown only `when` the test holds if one is given."""
    return Word(text, look, (("data-when", when),) if when else ())


def value(quantity: str, unit: str, longest: str, look: str = "value", when: str | None = None) -> Word:
    """Return a figure without its unit."""
    hooks: tuple[tuple[str, str], ...] = (("data-value", quantity), ("data-unit", unit))
    return Word(longest, look, (*hooks, ("data-when", when)) if when else hooks)


def unit(sign: str, look: str = "unit", when: str | None = None) -> Word:
    """Return a unit's sign, which begins with a space."""
    hooks = (("data-unit-word", sign), ("data-when", when)) if when else (("data-unit-word", sign),)
    return Word(f"\u00a0{sign}", look, hooks)


def was(quantity: str, longest: str, scale: float) -> Word:
    """Return what a mass was in an earlier flight, in smaller letters: nothing where there is none."""
    return Word(f"\u00a0was {longest}", "ww-was", (("data-was", quantity),), scale)


def unless(piece: Word, test: str) -> Word:
    """Return a piece that is hidden while the test holds."""
    return Word(piece.text, piece.look, (*piece.hooks, ("data-unless", test)))


def state(part: str, states: tuple[str, ...], look: str = "state", when: str | None = None) -> Word:
    """Return a part's state."""
    longest = max(states, key=lambda own: width_px(own, 1.0))
    return Word(longest, look, (("data-state", part), *((("data-when", when),) if when else ())))


def rate(quantity: str, look: str = "quiet", when: str | None = None) -> Word:
    """Return how a quantity changes."""
    hooks: tuple[tuple[str, str], ...] = (("data-rate", quantity),)
    return Word("falling 1,450 kg/h", look, (*hooks, ("data-when", when)) if when else hooks)


@dataclass(slots=True)
class Line:
    """One line of a label."""

    words: list[Word]
    size: float
    bold: bool = False
    look: str = ""
    # Stands in the place of the line before it: those of the look `gives` are hidden while it has words.
    instead: bool = False

    def width(self, usual: bool = False) -> float:
        """Estimate the greatest width of the line, px, or that of its `usual` words. Words under different
        conditions are taken to exclude one another."""
        widths: dict[str, float] = {}
        for piece in self.words:
            if usual and piece.seldom:
                continue
            when = dict(piece.hooks).get("data-when", "")
            widths[when] = widths.get(when, 0.0) + self._width(piece)
        always, more = widths.pop("", 0.0), max(widths.values(), default=0.0)
        # The longest state is not the one that has a flow: that is no longer than half of it.
        spare = sum(self._width(piece) for piece in self.words if piece.is_state) / 2 if usual else 0.0
        return always + max(0.0, more - spare)

    def _width(self, piece: Word) -> float:
        return width_px(piece.text, self.size * piece.scale, self.bold)


@dataclass(slots=True)
class Label:
    """Lines of text that belong to a part."""

    part: str
    lines: list[Line]
    leading: float
    anchor: str = "start"
    look: str = ""
    place: tuple[float, float] = field(default=(0.0, 0.0))
    half: str = ""

    def width(self, usual: bool = False) -> float:
        """Return the width of the widest line, px, or that of the usual words."""
        return max(line.width(usual) for line in self.lines)

    def height(self) -> float:
        """Return the height of all lines, px."""
        return sum(self.step(line) for line in self.lines)

    def step(self, line: Line) -> float:
        """Return how far a line takes the pen down, px."""
        return 0.0 if line.instead else max(self.leading, line.size * 1.14)

    def box(self, usual: bool = False) -> Box:
        """Return the box of the label whose `place` is the top of its anchor, or that of its usual words."""
        x, y = self.place
        width = self.width(usual)
        left = {"start": x, "middle": x - width / 2, "end": x - width}[self.anchor]
        return Box(left, y, left + width, y + self.height())

    def element(self) -> Element:
        """Return the label as a group of text lines."""
        group = make(
            "g", class_=f"label {self.look}".strip(), data_for=self.part, data_half=self.half or None
        )
        x, y = self.place
        for line in self.lines:
            y += self.step(line)
            look = f"{line.look} instead".strip() if line.instead else line.look
            text = make(
                "text", *(piece.element() for piece in line.words), x=x, y=y - line.size * 0.26,
                class_=look or None, font_size=line.size, font_weight=600 if line.bold else None,
                text_anchor=None if self.anchor == "start" else self.anchor,
            )  # fmt: skip
            group.add(text)
        return group

"""The accuracy page of the site: every published figure beside the computed one, hits and misses."""

import re
from math import ceil, log10
from pathlib import Path

from tests.accuracy.collect import all_figures
from tests.accuracy.figure import Figure

ROOT = Path(__file__).resolve().parents[2]
FILE = ROOT / "docs" / "reference" / "accuracy.md"
SOLVER = Path(__file__).parent / "independent-solver.md"

WIDE = 0.05
"""Where more than this share of a figure is allowed, its source gives a range, and the table shows it so."""

HEAD = """---
# Written by `python -m tests.accuracy` from the tests' figures: change those, not this page.
title: Accuracy
---

# Accuracy

How near the simulation comes to figures from outside. *Expected* is what is published, or what is reckoned
apart from the flight where the source says so. A figure is met where it agrees within the rounding of what is
published, or within the tolerance or range that its source states. A miss is shown with the reason.

The same figures are tests: they fail when a figure that was met is missed, and when a miss is met. The
aircraft are fictional, so nothing here compares an aircraft with a real one. [The model](model.md) gives the
equations.
"""


def page() -> str:
    """The page in Markdown."""
    figures = all_figures()
    missed = [figure for figure in figures if not figure.is_within]
    groups = {figure.group: [f for f in figures if f.group == figure.group] for figure in figures}
    told = f"Of {len(figures)} figures {len(figures) - len(missed)} are met and {len(missed)} are missed."
    parts = [HEAD, f"{told}\n"]
    parts += [_section(group, groups[group]) for group in sorted(groups)]
    return "\n".join([*parts, SOLVER.read_text(encoding="utf-8")])


def _section(group: str, figures: list[Figure]) -> str:
    rows = [row(figure) for figure in figures]
    sources = list(dict.fromkeys(figure.source for figure in figures))
    return "\n".join(
        [
            f"## {group}\n",
            "| Figure | Expected | Computed | Result |",
            "| --- | --: | --: | --- |",
            *rows,
            "",
            f"Source: {_signs(sources[0])}.\n" if len(sources) == 1 else _listed(sources, figures),
        ]
    )


def _listed(sources: list[str], figures: list[Figure]) -> str:
    """Several sources, each with the figures that it stands for."""
    lines = ["Sources:", ""]
    for source in sources:
        names = [figure.name for figure in figures if figure.source == source]
        which = names[0] if len(names) == 1 else f"{names[0]}, and {len(names) - 1} more"
        lines.append(f"- {_text(which)}: {_signs(source)}.")
    return "\n".join([*lines, ""])


def row(figure: Figure) -> str:
    """A figure's row of its table."""
    unit = f" {figure.unit}" if figure.unit else ""
    wide = figure.allowed > WIDE * abs(figure.published) > 0.0
    # A range is told by few digits: one more shows where in it the figure lies.
    places = _places(figure.allowed) + (1 if wide and figure.allowed < 10.0 else 0)
    if wide:
        ends = (figure.published - figure.allowed, figure.published + figure.allowed)
        expected = f"{' to '.join(_number(end, places) for end in ends)}{unit}"
    else:
        told = _number(figure.published, _published_places(figure, places))
        expected = f"{told} ± {_number(figure.allowed, _places(figure.allowed))}{unit}"
    verdict = "met" if figure.is_within else f"**missed**: {_signs(figure.misses)}"
    computed = f"{_number(figure.computed, places)}{unit}"
    return f"| {_text(figure.name)} | {expected} | {computed} | {verdict} |"


def _text(words: str) -> str:
    """With a capital and true minus signs."""
    return _signs(f"{words[:1].upper()}{words[1:]}")


def _signs(words: str) -> str:
    return re.sub(r"(?<!\w)-(?=\d)", "−", words)


def _places(allowed: float) -> int:
    """Decimals that show what is allowed, to its first digit."""
    return max(0, ceil(-log10(allowed) - 1e-9)) if allowed > 0.0 else 3


def _published_places(figure: Figure, places: int) -> int:
    """Decimals of a published figure: half a unit of the last one is allowed where it is merely rounded."""
    rounded = abs(figure.allowed - 0.5 / 10 ** (places - 1)) < 1e-12
    return max(0, places - 1) if rounded else places


def _number(value: float, places: int) -> str:
    text = f"{value:,.{places}f}"
    if text.strip("-0.") == "":
        text = text.lstrip("-")  # what rounds to nothing has no sign
    return text.replace("-", "−")

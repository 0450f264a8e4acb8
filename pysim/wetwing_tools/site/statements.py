"""`python -m wetwing_tools.site.statements`: how many sentences that say what the system does are checked.

A sentence counts when it stands in the text of a page of the course, names a part or a kind of part, and is
no question, no heading, no rule of what must be, no pointer to another page, and nothing said to the reader.
It is checked when it carries a claim or a figure that is worked out; a plain figure, `{= 430 kg}`, is none.

Every folder is a part of the course but the reference, which says what words and files mean and holds its
formulae to tests of their own, and the guides for instructors, which are about pages and commands.
"""

import re
import sys
from collections.abc import Iterator
from collections.abc import Mapping as Map
from pathlib import Path

import click

from wetwing.aircraft.mistakes import Mistake
from wetwing.teach.values import is_plain
from wetwing_tools.site import notation
from wetwing_tools.site.front import first_line_of
from wetwing_tools.site.yaml_lines import Mapping, Text, read_yaml

LOOKED_UP = ("reference", "instructors")
"""Folders that are no part of the course: they are looked up."""

FIRST_PAGES = "first pages"
"""What stands beside the folders is counted as a folder of this name."""

TEXTS = ("text", "because")

_NAMES = re.compile(
    r"\b(tanks?|pumps?|valves?|manifolds?|cent(?:re|res)|mains?|outboards?|engines?|apu|gauges?|sensors?|"
    r"return flow|cross-feed|slats?|vents?|automatics|selector|fuel|scavenge|bypass(?:es)?)\b",
    re.IGNORECASE,
)
_NOT_BEHAVIOUR = re.compile(
    r"\?\W*$|\b(you|your|must|should|would|may|this page|this section|14 CFR|CS-25)\b"
    # A link first, or after the bold name of an item: it says where more stands.
    r"|^\W*(\*\*[^*]*\*\*\W*)?\[[^\]]*\]\([^)]*\)|^\W*More: |\bread \["
    # The bold name of an item is a heading.
    r"|^\W*\*\*[^*]*\*\*\W*$"
    r"|^\W*(look|watch|try|turn|switch|put|ask|choose|say|see|open|step|read|select|copy|compare)\b",
    re.IGNORECASE,
)
# What closes a sentence stays with it: a check that ends there does not reach into the next one.
_SENTENCE_END = re.compile(
    r"(?<=[.!?])\s+|(?<=[.!?][\x02\"')\]*])\s+|(?<=[.!?][\x02\"')\]*]{2})\s+"
    r"|(?<=[.!?][\x02\"')\]*]{3})\s+|\n\s*\n"
)
# Code, headings, rows of tables and HTML are no sentences.
_CODE = re.compile(
    r"^(`{3,}|~{3,})[^\n]*\n[\s\S]*?^\1[ ]*$|`[^`]*`|^#[^\n]*$|^\|[^\n]*$|<[^>]+>", re.MULTILINE
)
_CHECKED_FROM, _CHECKED_TO = "\x01", "\x02"


def sentences(text: str) -> Iterator[tuple[str, bool]]:
    """Yield each sentence of a text that says what the system does, and whether it is checked."""
    flat: list[str] = []
    for piece in notation.inline(text, 1):
        match piece:
            case str():
                flat.append(piece)
            case notation.Figure(asked, _):
                # A computed figure cannot go stale: its sentence counts as checked.
                flat.append("N" if is_plain(asked) else f"{_CHECKED_FROM}N{_CHECKED_TO}")
            case notation.Said(sentence, _, _):
                flat.append(f"{_CHECKED_FROM}{sentence}{_CHECKED_TO}")
            case notation.Stray(started, _):
                flat.append(started)
    plain = _CODE.sub(" ", "".join(flat))
    inside = False
    for sentence in _SENTENCE_END.split(plain):
        checked = inside or _CHECKED_FROM in sentence
        if _CHECKED_FROM in sentence or _CHECKED_TO in sentence:
            inside = sentence.rfind(_CHECKED_FROM) > sentence.rfind(_CHECKED_TO)
        words = " ".join(sentence.replace(_CHECKED_FROM, "").replace(_CHECKED_TO, "").split())
        if checked or (_NAMES.search(words) and not _NOT_BEHAVIOUR.search(words)):
            yield words, checked


def texts_of(markdown: str, page: str) -> Iterator[str]:
    """Yield the running texts of a page: prose, and what our blocks say."""
    for piece in notation.pieces(markdown):
        if isinstance(piece, notation.Prose) or piece.kind == "caution":
            yield piece.text
        else:
            yield from _texts_in(read_yaml(piece.text, page, piece.line))


def _texts_in(node: object) -> Iterator[str]:
    if isinstance(node, list):
        for item in node:
            yield from _texts_in(item)
    elif isinstance(node, Mapping):
        for key, value in node.values.items():
            if key in TEXTS and isinstance(value, Text):
                yield str(value)
            elif not isinstance(value, Text):
                yield from _texts_in(value)


def in_course(page: str) -> bool:
    """Whether a page, by its path, is one whose sentences count."""
    return page.partition("/")[0] not in LOOKED_UP


def folder_of(page: str) -> str:
    """The folder that a page is counted with."""
    return page.partition("/")[0] if "/" in page else FIRST_PAGES


def count(docs: Path, unchecked: list[str]) -> dict[str, tuple[int, int]]:
    """Count checked and all statements of each folder; what is unchecked goes into the list."""
    found: dict[str, tuple[int, int]] = {}
    for path in sorted(docs.rglob("*.md")):
        page = path.relative_to(docs).as_posix()
        if not in_course(page):
            continue
        checked, total = found.get(folder_of(page), (0, 0))
        source = path.read_text("utf-8")
        body = re.sub(r"\A---\n.*?\n---\n", "", source, flags=re.DOTALL)
        for text in texts_of(body, page):
            for sentence, is_checked in sentences(text):
                total += 1
                checked += is_checked
                if not is_checked:
                    unchecked.append(f"{page}:{_line(source, body, sentence)}: {sentence}")
        found[folder_of(page)] = checked, total
    return {folder: counts for folder, counts in found.items() if counts[1]}


def together(counts: Map[str, tuple[int, int]]) -> tuple[int, int]:
    """Checked and all statements of the whole course."""
    return sum(checked for checked, _ in counts.values()), sum(total for _, total in counts.values())


def _line(source: str, body: str, sentence: str) -> int:
    """The line on which a sentence begins, found by its first words."""
    start = re.search(r"\s+".join(re.escape(word) for word in sentence.split()[:3]), source)
    return source.count("\n", 0, start.start()) + 1 if start else first_line_of(source, body)


@click.command(
    help="Count the sentences of the course that say what the system does, and how many are checked."
)
@click.option("--docs", type=click.Path(path_type=Path, file_okay=False, exists=True), default=Path("docs"))
@click.option("--unchecked", is_flag=True, help="List the sentences that carry no check.")
def main(docs: Path, unchecked: bool) -> None:
    """Print `N of M statements checked`, for each folder and for all."""
    missing: list[str] = []
    try:
        counts = count(docs, missing)
    except Mistake as mistake:
        click.echo(str(mistake), err=True)
        sys.exit(1)
    if unchecked:
        click.echo("\n".join(missing))
    for folder, (checked, total) in counts.items():
        click.echo(f"{folder}: {checked} of {total}")
    checked, total = together(counts)
    click.echo(f"{checked} of {total} statements checked")


if __name__ == "__main__":
    main()

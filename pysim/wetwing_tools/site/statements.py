"""`python -m wetwing_tools.site.statements`: how many sentences that say what the system does are checked.

A sentence counts when it stands in the text of a page of the phases, system, troubles or planning, names
a part or a kind of part, and is no question, no heading, no rule of what must be, and nothing said to the
reader.
"""

import re
import sys
from collections.abc import Iterator
from pathlib import Path

import click

from wetwing.aircraft.mistakes import Mistake
from wetwing_tools.site import notation
from wetwing_tools.site.front import first_line_of
from wetwing_tools.site.yaml_lines import Mapping, Text, read_yaml

FOLDERS = ("phases", "system", "troubles", "planning")
TEXTS = ("text", "because")

_NAMES = re.compile(
    r"\b(tanks?|pumps?|valves?|manifolds?|cent(?:re|res)|mains?|outboards?|engines?|apu|gauges?|sensors?|"
    r"return flow|cross-feed|slats?|vents?|automatics|selector|fuel|scavenge|bypass(?:es)?)\b",
    re.IGNORECASE,
)
_NOT_BEHAVIOUR = re.compile(
    r"\?\W*$|\b(you|your|must|should|would|may|this page|this section|14 CFR|CS-25)\b"
    r"|^\W*(look|watch|try|turn|switch|put|ask|choose|say|see|open|step|read|select|copy|compare)\b",
    re.IGNORECASE,
)
_SENTENCE_END = re.compile(r"(?<=[.!?])[\x02\"')\]]*\s+|\n\s*\n")
# Code, headings, rows of tables and HTML are no sentences.
_CODE = re.compile(r"```[\s\S]*?```|`[^`]*`|^#[^\n]*$|^\|[^\n]*$|<[^>]+>", re.MULTILINE)
_CHECKED_FROM, _CHECKED_TO = "\x01", "\x02"


def sentences(text: str) -> Iterator[tuple[str, bool]]:
    """Yield each sentence of a text that says what the system does, and whether it is checked."""
    flat: list[str] = []
    for piece in notation.inline(text, 1):
        match piece:
            case str():
                flat.append(piece)
            case notation.Figure():
                # A computed figure cannot go stale: its sentence counts as checked.
                flat.append(f"{_CHECKED_FROM}N{_CHECKED_TO}")
            case notation.Said(sentence, _, _):
                flat.append(f"{_CHECKED_FROM}{sentence}{_CHECKED_TO}")
            case notation.Stray(started, _):
                flat.append(started)
    plain = _CODE.sub(" ", "".join(flat))
    inside = False
    for sentence in _SENTENCE_END.split(plain):
        checked = inside or _CHECKED_FROM in sentence
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


def count(docs: Path, unchecked: list[str]) -> tuple[int, int]:
    """Count checked and all statements of the docs folder; what is unchecked goes into the list."""
    checked = total = 0
    for path in sorted(path for folder in FOLDERS for path in (docs / folder).rglob("*.md")):
        source = path.read_text("utf-8")
        page = path.relative_to(docs).as_posix()
        body = re.sub(r"\A---\n.*?\n---\n", "", source, flags=re.DOTALL)
        for text in texts_of(body, page):
            for sentence, is_checked in sentences(text):
                total += 1
                checked += is_checked
                if not is_checked:
                    unchecked.append(f"{page}:{_line(source, body, sentence)}: {sentence}")
    return checked, total


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
    """Print `N of M statements checked`."""
    missing: list[str] = []
    try:
        checked, total = count(docs, missing)
    except Mistake as mistake:
        click.echo(str(mistake), err=True)
        sys.exit(1)
    if unchecked:
        click.echo("\n".join(missing))
    click.echo(f"{checked} of {total} statements checked")


if __name__ == "__main__":
    main()

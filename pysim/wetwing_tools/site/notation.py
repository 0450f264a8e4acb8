"""Where the notation of a page stands: fenced blocks, checked sentences and figures, each with its line.

What stands in code, fenced or not, is left alone, so that a page can show the notation itself.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

BLOCKS = (
    "panel",
    "twin",
    "moments",
    "predict",
    "order",
    "sketch",
    "challenge",
    "try",
    "outcomes",
    "look-alikes",
    "worksheet",
    "caution",
    "exercises",
)

_FENCE = re.compile(r"(?P<indent> *)(?P<fence>`{3,}|~{3,})(?P<info>[^`]*)")
_INLINE = re.compile(
    r"""
      (?P<code>(?P<ticks>`+)(?!`)(?:(?!\n[ ]*\n).)+?(?<!`)(?P=ticks)(?!`))
    | \{=(?P<value>[^{}]*)\}
    | \[(?P<sentence>(?:(?!\n[ ]*\n)(?:[^\[\]]|\[[^\[\]]*\]))+)\]\{holds:(?P<claim>[^{}]*)\}
    | (?P<stray>\{=|\{holds\b|(?<=\])\{\s*[A-Za-z]\w*\s*:)
    """,
    re.VERBOSE | re.DOTALL,
)


@dataclass(frozen=True, slots=True)
class Prose:
    """Markdown that holds no block of ours; `line` is the line of its first character."""

    text: str
    line: int


@dataclass(frozen=True, slots=True)
class Block:
    """A fenced block of ours: its kind, the text inside, and the line of that text's first character."""

    kind: str
    text: str
    line: int


@dataclass(frozen=True, slots=True)
class Figure:
    """`{= asked}`: a figure to be worked out."""

    asked: str
    line: int


@dataclass(frozen=True, slots=True)
class Said:
    """`[sentence]{holds: claim}`: a statement that the build checks."""

    sentence: str
    claim: str
    line: int


@dataclass(frozen=True, slots=True)
class Stray:
    """A beginning of notation that never ends, or braces behind a sentence that are none of ours."""

    text: str
    line: int


Inline = str | Figure | Said | Stray


@dataclass(frozen=True, slots=True)
class Fence:
    """A fence that is no block of ours: the first word behind it, whether it is indented, and its line."""

    word: str
    is_indented: bool
    line: int


def pieces(markdown: str, first_line: int = 1) -> Iterator[Prose | Block]:
    """Cut a page's Markdown into prose (ordinary code fences included) and our blocks."""
    lines = markdown.split("\n")
    prose: list[str] = []
    prose_line = first_line
    at = 0
    while at < len(lines):
        opened = _FENCE.fullmatch(lines[at])
        end = _end_of_fence(lines, at, opened["fence"]) if opened else at
        kind = opened["info"].strip() if opened else ""
        if kind in BLOCKS and opened and not opened["indent"]:
            if prose:
                yield Prose("\n".join(prose), prose_line)
            yield Block(kind, "\n".join(lines[at + 1 : end]), first_line + at + 1)
            prose, prose_line = [], first_line + end + 1
        else:
            prose += lines[at : end + 1]
        at = end + 1
    if prose:
        yield Prose("\n".join(prose), prose_line)


def fences(text: str, line: int) -> Iterator[Fence]:
    """The fences of a prose, in its order; what stands inside one is not looked at."""
    lines = text.split("\n")
    at = 0
    while at < len(lines):
        opened = _FENCE.fullmatch(lines[at])
        if not opened:
            at += 1
            continue
        word = (opened["info"].split() or [""])[0]
        yield Fence(word, bool(opened["indent"]), line + at)
        at = _end_of_fence(lines, at, opened["fence"]) + 1


def _end_of_fence(lines: list[str], start: int, fence: str) -> int:
    """The index of the closing fence; of the last line where it is never closed."""
    closing = re.compile(rf" *{re.escape(fence[0])}{{{len(fence)},}} *")
    for at in range(start + 1, len(lines)):
        if closing.fullmatch(lines[at]):
            return at
    return len(lines) - 1


def inline(text: str, line: int) -> Iterator[Inline]:
    """Cut prose into plain text and our inline notation; fenced code is plain text."""
    for chunk, chunk_line, is_code in _without_fences(text, line):
        if is_code:
            yield chunk
        else:
            yield from _inline(chunk, chunk_line)


def _without_fences(text: str, line: int) -> Iterator[tuple[str, int, bool]]:
    lines = text.split("\n")
    plain_start, at = 0, 0
    while at < len(lines):
        opened = _FENCE.fullmatch(lines[at])
        if not opened:
            at += 1
            continue
        end = _end_of_fence(lines, at, opened["fence"])
        if at > plain_start:
            yield "\n".join(lines[plain_start:at]) + "\n", line + plain_start, False
        is_last = end == len(lines) - 1
        yield "\n".join(lines[at : end + 1]) + ("" if is_last else "\n"), line + at, True
        plain_start = at = end + 1
    if plain_start < len(lines):
        yield "\n".join(lines[plain_start:]), line + plain_start, False


def _inline(text: str, line: int) -> Iterator[Inline]:
    at = 0
    for found in _INLINE.finditer(text):
        if found["code"]:
            continue
        if found.start() > at:
            yield text[at : found.start()]
        at = found.end()
        here = line + text.count("\n", 0, found.start())
        if found["value"] is not None:
            yield Figure(found["value"].strip(), here)
        elif found["claim"] is not None:
            yield Said(found["sentence"], found["claim"].strip(), here)
        else:
            yield Stray(text[found.start() : found.start() + 40].split("\n")[0], here)
    yield text[at:]

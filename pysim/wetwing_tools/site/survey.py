"""What a page of the course holds, read from its Markdown alone: objectives, questions, moments, words.

Nothing is flown for it, so that every page is known before the first one is made, and the pages that list
them can be made with the rest.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from wetwing.aircraft.mistakes import Mistake
from wetwing.teach.words import number as grouped
from wetwing_tools.site import notation
from wetwing_tools.site.front import Front, body_of, first_line_of, read_front
from wetwing_tools.site.statements import sentences, texts_of
from wetwing_tools.site.yaml_lines import Mapping, Node, Text, read_yaml

QUESTIONS = ("predict", "order", "sketch", "challenge")
READ_ALOUD = ("ask", "hint", "say", "because", "text", "title", "caption", "name")
"""The keys of our blocks under which words for the reader stand."""

_GIVEN = re.compile(r"\{= *([\d,]+) *(kg/h|kg|L|°C|s|ft|%) *\}")
_HEADING = re.compile(r"^# +(.+?) *(?:\{.*\})?$", re.MULTILINE)
_UNSAID = re.compile(
    r"```[\s\S]*?```|~~~[\s\S]*?~~~|<!--[\s\S]*?-->|<[^>]+>|\]\([^)]*\)|^\s*\|[ :|-]+\|\s*$", re.M
)


@dataclass(frozen=True, slots=True)
class Purpose:
    """A question, a guided moment or a trial: where it stands, what it says, and what it is for.

    `anchor` opens it on its page. `purposes` are the ids as its `for` has them; None where it has none.
    """

    kind: str
    anchor: str
    line: int
    says: str
    purposes: tuple[Text, ...] | None


@dataclass(frozen=True, slots=True)
class Survey:
    """One page. `statements` counts the checked sentences that teach, `said` those that say what
    the system does, with whether each is checked; `texts` are the words outside the questions. `worksheets`
    counts the sheets to work with, `exercises` the questions of its recorded papers.
    """

    page: str
    title: str
    front: Front
    questions: tuple[Purpose, ...]
    moments: tuple[Purpose, ...]
    trials: tuple[Purpose, ...]
    statements: int
    figures: int
    said: tuple[bool, ...]
    texts: tuple[str, ...]
    worksheets: int = 0
    exercises: int = 0
    source: str = ""

    def purposes_of(self, one: Purpose) -> tuple[str, ...]:
        """The objectives that a question or moment is for: the page's only one where it names none."""
        if one.purposes is not None:
            return tuple(str(name) for name in one.purposes)
        listed = dict.fromkeys(str(name) for name in self.front.listed)
        return tuple(listed) if len(listed) == 1 else ()


def survey(source: str, page: str) -> Survey:
    """Read a page. Raises Mistake where its front matter or one of its blocks cannot be read."""
    front, markdown = read_front(source, page), body_of(source)
    heading = _HEADING.search(markdown)
    questions, moments, trials = list[Purpose](), list[Purpose](), list[Purpose]()
    texts: list[str] = []
    statements = figures = worksheets = exercises = 0
    for piece in notation.pieces(markdown, first_line_of(source, markdown)):
        kind = piece.kind if isinstance(piece, notation.Block) else ""
        asks = kind in QUESTIONS
        held, computed = _counted(piece.text)
        figures += computed
        if kind in ("", "caution"):
            texts.append(piece.text)
        else:
            node = read_yaml(piece.text, page, piece.line)
            if asks and isinstance(node, Mapping):
                questions.append(_question(node, kind, piece.line))
            elif kind == "moments" and isinstance(node, list):
                moments += _moments(node, len(moments))
            elif kind == "try" and isinstance(node, Mapping):
                anchor = f"try-{len(trials) + 1}"
                trials.append(Purpose("try", anchor, node.line, _text(node, "say"), _for(node)))
            worksheets += kind == "worksheet"
            exercises += _asked(node) if kind == "exercises" else 0
            if not asks:
                texts += _words_in(node)
        # A question asks; what its answers say is no teaching, but a search for a trouble is all explanation.
        statements += held if not asks or kind == "challenge" else 0
    return Survey(
        page=page,
        title=_plain(heading[1]) if heading else page,
        front=front,
        questions=tuple(questions),
        moments=tuple(moments),
        trials=tuple(trials),
        statements=statements,
        figures=figures,
        said=tuple(checked for text in texts_of(markdown, page) for _, checked in sentences(text)),
        texts=tuple(said(text) for text in texts),
        worksheets=worksheets,
        exercises=exercises,
        source=source,
    )


def said(text: str, figure: str = "1") -> str:
    """A text as it is read: without notation, code fences and addresses; a computed figure is one word."""
    found = []
    for piece in notation.inline(text, 1):
        match piece:
            case str():
                found.append(piece)
            case notation.Figure():
                found.append(figure)
            case notation.Said(sentence, _, _):
                found.append(said(sentence, figure))
            case notation.Stray(started, _):
                found.append(started)
    return _UNSAID.sub(" ", "".join(found))


def _plain(heading: str) -> str:
    return re.sub(r"[`*]", "", said(heading)).strip()


def _counted(text: str) -> tuple[int, int]:
    """The checked sentences of a text, and its figures, those inside its sentences included."""
    held = figures = 0
    for piece in notation.inline(text, 1):
        if isinstance(piece, notation.Figure):
            figures += 1
        elif isinstance(piece, notation.Said):
            held += 1
            figures += _counted(piece.sentence)[1]
    return held, figures


def _question(node: Mapping, kind: str, block_line: int) -> Purpose:
    name = node.values.get("id")
    anchor = str(name) if isinstance(name, Text) else ""
    line = name.line if isinstance(name, Text) else block_line
    return Purpose(kind, anchor, line, _text(node, "ask"), _for(node))


def _asked(node: Node) -> int:
    """The questions that a recorded paper is to have; none where the block does not say it in a number."""
    count = node.values.get("count") if isinstance(node, Mapping) else None
    return int(count) if isinstance(count, Text) and count.isdigit() else 0


def _moments(steps: list[Node], before: int) -> Iterator[Purpose]:
    mappings = (step for step in steps if isinstance(step, Mapping))
    for number, step in enumerate(mappings, start=before + 1):
        yield Purpose("moment", f"moment-{number}", step.line, _text(step, "title"), _for(step))


def _for(node: Mapping) -> tuple[Text, ...] | None:
    """The ids under `for`. Raises Mistake where it is empty or holds something that is no text."""
    if "for" not in node.values:
        return None
    found = tuple(node.texts("for"))
    if not found:
        raise Mistake(node.place(), "'for' is empty", "for: [ID, …], or no 'for'")
    return found


def _text(node: Mapping, key: str) -> str:
    found = node.values.get(key)
    if not isinstance(found, Text):
        return ""
    # A figure that the text itself gives is told as it stands; what a flight has to work out is not.
    given = _GIVEN.sub(lambda figure: f"{grouped(float(figure[1].replace(',', '')))} {figure[2]}", str(found))
    return " ".join(said(given, "(figure)").split())


def _words_in(node: Node) -> Iterator[str]:
    if isinstance(node, list):
        for item in node:
            yield from _words_in(item)
    elif isinstance(node, Mapping):
        for key, value in node.values.items():
            if isinstance(value, Text):
                if key in READ_ALOUD:
                    yield str(value)
            else:
                yield from _words_in(value)

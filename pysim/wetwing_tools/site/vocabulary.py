"""Words of the trade: what the pages use, the glossary has to define.

The rule is mechanical, so that nobody has to keep a list. A trade term is what a part of the fleet is called,
less the words that only say where it is or which one (`Main left forward pump` is a pump), and each state of
pumps, valves, tanks, engines and sensors; the words of controls, rules, alerts and the airframe are plain. A
term that a page of the course uses must stand in the glossary: as a term of its own, or in the text of one.
"""

import re
from collections.abc import Iterable, Mapping, Sequence

from wetwing.aircraft.mistakes import Mistake, nearest
from wetwing.aircraft.model import Aircraft
from wetwing_tools.site.slips import Slips
from wetwing_tools.site.statements import in_course
from wetwing_tools.site.survey import Survey, said

GLOSSARY = "reference/glossary.md"

PLACES = frozenset(
    (
        *("left", "right", "centre", "main", "outboard", "inner", "outer", "tail", "wing", "forward", "aft"),
        *("first", "second", "engine", "generator", "tank", "of", "the", "and", "at", "by", "in"),
    )
)
"""Words of a label that say where a part is, or which of several it is."""

PLAIN = ("control", "rule", "display", "node", "airframe")
"""Kinds of part whose states are words of every day."""

_TERM = re.compile(r"^([A-Z][^\n]*)\n:   ", re.MULTILINE)


def trade_terms(fleet: Iterable[Aircraft]) -> dict[str, str]:
    """Every trade term of the fleet, with the part that has it."""
    found: dict[str, str] = {}
    for aircraft in fleet:
        for part in aircraft.parts.values():
            if part.kind == "alert":
                continue
            label = re.sub(r"\(.*?\)|,.*", "", part.label)
            plain = part.kind in PLAIN
            words = [word for word in re.findall(r"[^\W\d][\w-]*", label) if word.lower() not in PLACES]
            for term in (" ".join(words).lower(), *(() if plain else part.states)):
                # A word or two of a rule's name ("emptied") may be anybody's.
                if term and (" " in term or part.kind != "rule"):
                    found.setdefault(term, part.name)
    return found


def check(surveys: Sequence[Survey], glossary: str, fleet: Iterable[Aircraft], slips: Slips) -> None:
    """Note each trade term that the course uses and the glossary does not have, where it is used first."""
    defined = said(glossary).lower()
    entries = list(entries_of(glossary))
    course = [one for one in surveys if in_course(one.page)]
    for term, part in trade_terms(fleet).items():
        if _pattern(term).search(defined):
            continue
        for one in course:
            if any(_pattern(term).search(text.lower()) for text in one.texts):
                line = line_of(term, one)
                found = f"'{term}' (a word of {part}) is not in the glossary"
                allowed = f"an entry of {GLOSSARY}, or another word"
                place = f"{one.page}:{line}"
                slips.mistake(one.page, line, Mistake(place, found, allowed, nearest(term, entries)))
                break


def entries_of(glossary: str) -> Iterable[str]:
    """The terms that the glossary defines, each of a list for itself."""
    for heading in _TERM.findall(glossary):
        yield from (term.strip().lower() for term in heading.split(", "))


def first_uses(surveys: Sequence[Survey], glossary: str) -> Mapping[str, Survey | None]:
    """Each term of the glossary with the first page of the course that uses it; None where no page does."""
    course = [one for one in surveys if in_course(one.page)]
    found: dict[str, Survey | None] = {}
    for heading in _TERM.findall(glossary):
        # "Running, held back" is one state; "Centre, main, outboard" are three words.
        forms = {heading.lower(), *(term.lower() for term in heading.split(", "))}
        patterns = [_pattern(form) for form in forms]
        uses = (one for one in course for text in one.texts if any(p.search(text.lower()) for p in patterns))
        found[heading] = next(uses, None)
    return found


def line_of(term: str, survey: Survey) -> int:
    """The line of a page's source on which a term stands first; the first line where it is broken up."""
    found = _pattern(term).search(survey.source.lower())
    return survey.source.count("\n", 0, found.start()) + 1 if found else 1


def _pattern(term: str) -> re.Pattern[str]:
    """A term in running text: in one or several, with a blank or a hyphen between its words."""
    words = r"[\s-]+".join(re.escape(word) for word in re.split(r"[\s-]+", term))
    return re.compile(rf"(?<![\w-]){words}(?:s|es)?(?![\w-])")

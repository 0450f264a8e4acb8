"""What looks like notation of ours and is none: a key behind a sentence, a fence of an unknown kind."""

import re

from pygments.lexers import get_lexer_by_name  # type: ignore[import-untyped]
from pygments.util import ClassNotFound  # type: ignore[import-untyped]

from wetwing.aircraft.mistakes import Mistake, nearest, unknown
from wetwing_tools.site.notation import BLOCKS, Prose, fences
from wetwing_tools.site.slips import Slips

_HINT = "[Sentence.]{holds: claim}, or {= figure}; braces cannot stand inside"
_KEY = re.compile(r"\{\s*(\w+)\s*:")


def stray(started: str, place: str) -> Mistake:
    """What is wrong with inline notation that does not end, or whose key is not `holds`."""
    key = _KEY.match(started)
    if key and not started.startswith("{holds:"):
        near = nearest(key[1], ("holds",))
        return Mistake(place, f"'{key[0]}' stands behind a sentence", _HINT, f"{{{near}:" if near else None)
    return Mistake(place, f"'{started}' begins a notation that does not end", _HINT)


def check_fences(prose: Prose, page: str, slips: Slips) -> None:
    """Note each fence that would be shown as code though it was meant as a block."""
    for fence in fences(prose.text, prose.line):
        place = f"{page}:{fence.line}"
        if fence.word in BLOCKS and fence.is_indented:
            found, allowed = f"the block '{fence.word}' is indented", "its fence at the beginning of the line"
            slips.mistake(page, fence.line, Mistake(place, found, allowed))
        elif fence.word and fence.word not in BLOCKS and not _is_language(fence.word):
            slips.mistake(page, fence.line, unknown(place, "block or language", fence.word, BLOCKS))


def _is_language(word: str) -> bool:
    """Whether code of that kind can be shown; braces hold attributes of their own."""
    if word.startswith("{"):
        return True
    try:
        get_lexer_by_name(word)
    except ClassNotFound:
        return False
    return True

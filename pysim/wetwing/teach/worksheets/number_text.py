"""Numbers as people type them, in the form that the reader chose.

The panel's script reads its own fields the same way; `tests/vectors/typed_numbers.json` holds both to one
answer.
"""

import re
from typing import NamedTuple


class Form(NamedTuple):
    """The mark between thousands, and the decimal mark."""

    group: str
    point: str


FORMS = {"1,234.5": Form(",", "."), "1 234,5": Form("\u202f", ","), "1.234,5": Form(".", ",")}
"""The forms on offer, by their own sample."""

USUAL_FORM = "1,234.5"
_SPACES = re.compile(r"[\s\u00a0\u202f'’]")
_NUMBER = re.compile(r"-?[\d.,]*\d")
_GROUPED = re.compile(r"-?[1-9]\d{0,2}([.,]\d{3})+")
LONGEST = 40


def read_number(text: str, form: str) -> float | None:
    """The number that a text says, or None where it says none.

    Of two marks the last is the decimal mark. One mark that stands more than once parts thousands, as does
    the form's own between one to three digits, the first no zero, and three. In `1,234.5`, `1,234` is 1234,
    and `12,5`, `0,804` and `1234,567` have decimals; in `1.234,5`, `1,234` is 1.234.
    """
    if len(text) > LONGEST:
        return None
    typed = _SPACES.sub("", re.sub(r"^[−–]", "-", text.strip()))
    if not _NUMBER.fullmatch(typed) or not typed.isascii():
        return None
    marks = {char for char in typed if char in ".,"}
    last = max(typed.rfind("."), typed.rfind(","))
    point = (
        last if last >= 0 and (len(marks) == 2 or not _parts_thousands(typed, typed[last], form)) else None
    )
    whole, decimals = (typed[:point], typed[point + 1 :]) if point is not None else (typed, "")
    if point is not None and typed.count(typed[point]) > 1:
        return None
    if any(mark in whole for mark in ".,") and not _GROUPED.fullmatch(whole):
        return None
    bare = whole.replace(",", "").replace(".", "")
    return float(f"{bare if bare not in ('', '-') else bare + '0'}.{decimals or '0'}")


def _parts_thousands(typed: str, mark: str, form: str) -> bool:
    pieces = typed.split(mark)
    return len(pieces) > 2 or (mark == FORMS[form].group and _GROUPED.fullmatch(typed) is not None)


def plain(text: str) -> bool:
    """Whether a text can be read in one way only: digits with nothing between them."""
    return re.fullmatch(r"\s*[-−–]?\d+\s*", text) is not None

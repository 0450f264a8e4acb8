"""Cutting a line of the checked language at its keywords, leaving what stands in quotes or brackets whole."""

from collections.abc import Iterator

from wetwing.aircraft.mistakes import Mistake


def split_at(text: str, keyword: str) -> tuple[str, str] | None:
    """Cut `text` at the first free-standing `keyword`; None where there is none."""
    for start, word in _words(text):
        if word == keyword:
            return text[:start].strip(), text[start + len(keyword) :].strip()
    return None


def split_last(text: str, keyword: str) -> tuple[str, str] | None:
    """Cut `text` at the last free-standing `keyword`; None where there is none."""
    starts = [start for start, word in _words(text) if word == keyword]
    if not starts:
        return None
    return text[: starts[-1]].strip(), text[starts[-1] + len(keyword) :].strip()


def has(text: str, keyword: str) -> bool:
    """Tell whether a keyword stands free in `text`."""
    return any(word == keyword for _, word in _words(text))


def check_closed(text: str, place: str) -> None:
    """Raise Mistake where a quote or a bracket of `text` is not closed: its keywords could not be found."""
    if text.count('"') % 2:
        raise Mistake(place, f"a quote in '{text[:80]}' is not closed", "quotes in pairs")
    plain = "".join(piece for at, piece in enumerate(text.split('"')) if at % 2 == 0)
    if plain.count("(") != plain.count(")"):
        raise Mistake(place, f"a bracket in '{text[:80]}' is not closed", "brackets in pairs")


def unquoted(text: str) -> str:
    """Take the quotes off a state of several words."""
    text = text.strip()
    return text[1:-1].strip() if len(text) > 1 and text[0] == text[-1] == '"' else text


def unbracketed(text: str) -> str:
    """Take off one pair of brackets that encloses the whole of `text`, if there is one."""
    if not (text.startswith("(") and text.endswith(")")):
        return text
    depth = 0
    for at, character in enumerate(text):
        depth += (character == "(") - (character == ")")
        if depth == 0 and at < len(text) - 1:
            return text
    return text[1:-1].strip()


def _words(text: str) -> Iterator[tuple[int, str]]:
    """Yield each word outside quotes and brackets with its place."""
    quoted, depth, start = False, 0, -1
    for at, character in enumerate(text + " "):
        if character == '"':
            quoted = not quoted
        elif not quoted:
            depth += (character == "(") - (character == ")")
        plain = not quoted and depth == 0 and not character.isspace() and character not in '"()'
        if plain and start < 0:
            start = at
        elif not plain and start >= 0:
            yield start, text[start:at]
            start = -1

"""On which line of a TOML text each key stands: the reader itself forgets it."""

import re
import tomllib
from typing import cast

Path = tuple[str | int, ...]

_HEADER = re.compile(r"\s*(\[{1,2})(?P<keys>[^\[\]]+)\]{1,2}\s*(?:#.*)?")
_PAIR = re.compile(
    r"""\s*(?P<keys>(?:"[^"]*"|'[^']*'|[^\s=\["'#]+)(?:\s*\.\s*(?:"[^"]*"|[\w-]+))*)\s*=(?P<value>.*)"""
)


def lines_of(text: str) -> dict[Path, int]:
    """The line, counted from 1, of every table and key of a text that can be read as TOML.

    What stands inside an inline table has the line of the key that holds it.
    """
    lines = text.split("\n")
    found: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    table: Path = ()
    at = 0
    while at < len(lines):
        line = lines[at]
        if header := _HEADER.fullmatch(line):
            table = _keys(header["keys"])
            if header[1] == "[[":
                counts[table] = counts.get(table, -1) + 1
                table = (*table, counts[table])
            found.setdefault(table, at + 1)
        elif pair := _PAIR.fullmatch(line):
            found.setdefault((*table, *_keys(pair["keys"])), at + 1)
            at = _last_line(lines, at, pair["value"])
        at += 1
    return found


def line_of(lines: dict[Path, int], path: Path) -> int:
    """The line of a place, or of the nearest that holds it; 1 where nothing does."""
    while path and path not in lines:
        inside = [line for known, line in lines.items() if known[: len(path)] == path]
        if inside:
            return min(inside)
        path = path[:-1]
    return lines.get(path, 1)


def _keys(text: str) -> Path:
    """`a."b.c"` as the two keys that it is."""
    values: object = tomllib.loads(f"{text} = 0")
    keys: list[str | int] = []
    while isinstance(values, dict):
        ((key, values),) = cast("dict[str, object]", values).items()
        keys.append(key)
    return tuple(keys)


def _last_line(lines: list[str], at: int, value: str) -> int:
    """The index of the line on which a value that begins on the line `at` ends."""
    for end in range(at, len(lines)):
        try:
            tomllib.loads("x =" + "\n".join([value, *lines[at + 1 : end + 1]]))
        except tomllib.TOMLDecodeError:
            continue
        return end
    return at

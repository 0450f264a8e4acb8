"""Every slip of an aircraft's or a script's file, each with its line.

The reader stops at the first slip, for what follows hangs on it. So the slip is noted and mended in a copy:
a name by the nearest, what is missing or out of bounds by the same key of a like table, of this file or of
the fleet. Then the copy is read again. A mended value is a guess; what only a guess can have brought is not
told, so the last slips of a file may show when the first ones are mended.
"""

import copy
import re
import tomllib
from collections.abc import Callable, Iterator
from functools import cache
from typing import cast

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.read import fleet, fleet_text
from wetwing.flight.script import script_text, scripts
from wetwing.flight.toml_text import toml_text
from wetwing_tools.data.lines import Path, line_of, lines_of

Values = dict[str, object]
Parse = Callable[[str], object]

MOST_SLIPS = 60
_STEP = re.compile(r"""(?P<key>"[^"]*"|[^.\[\]"]+)|\[(?P<index>\d+)\]""")
_UNKNOWN = re.compile(r"unknown (?P<what>.+?) '(?P<name>.*)'", re.DOTALL)
_OF_A_KEY = re.compile(r"missing|unknown |found |-?[\d.e+]+( \S+)?$|.* with no unit|unit |no unit")
"""What is wrong with one key alone, whatever stands elsewhere."""


def slips_of(text: str, file: str, parse: Parse) -> list[Mistake]:
    """What is wrong with a file; nothing where `parse` reads it. `parse` raises Mistake."""
    try:
        parse(text)
        return []
    except Mistake as mistake:
        first = mistake
    try:
        values, lines = cast("Values", tomllib.loads(text)), lines_of(text)
    except (ValueError, RecursionError):
        return [first]
    return list(_told(first, values, lines, file, parse))


def _told(
    first: Mistake, values: Values, lines: dict[Path, int], file: str, parse: Parse
) -> Iterator[Mistake]:
    mended, met, has_guessed = copy.deepcopy(values), set[tuple[str, str]](), False
    named_anew, guessed = set[Path](), set[Path]()
    mistake: Mistake | None = first
    while mistake is not None and len(met) < MOST_SLIPS:
        key = (mistake.place, mistake.found)
        if key in met or (has_guessed and not _OF_A_KEY.match(mistake.found)):
            return
        met.add(key)
        path = _path(mistake, mended, file)
        # A value under a key that was only guessed at is not judged, nor are bounds beside a guessed value.
        is_judged = path not in named_anew and not (path[:2] in guessed and _is_bound(mistake))
        if is_judged:
            yield _with_line(mistake, line_of(lines, path), file)
        how = _mend(mistake, path, mended)
        if how is None:
            return
        if mistake.nearest:
            named_anew.add((*path[:-1], mistake.nearest))
        if how:
            has_guessed = True
            guessed.add(path[:2])
        mistake = _read(mended, parse)


def _is_bound(mistake: Mistake) -> bool:
    return not mistake.found.startswith(("missing", "unknown ", "found "))


def _read(values: Values, parse: Parse) -> Mistake | None:
    try:
        parse(toml_text(values, ""))
    except Mistake as mistake:
        return mistake
    return None


def _with_line(mistake: Mistake, line: int, file: str) -> Mistake:
    """The mistake with its line behind the name of the file."""
    inner = mistake.place.removeprefix(file).removeprefix(": ")
    place = f"{file}:{line}: {inner}" if inner else f"{file}:{line}"
    return Mistake(place, mistake.found, mistake.allowed, mistake.nearest)


def _path(mistake: Mistake, values: Values, file: str) -> Path:
    """The keys of a mistake's place. A part may be named without its section, as rules name it."""
    inner = mistake.place.removeprefix(file).removeprefix(": ")
    path: Path = tuple(
        int(step["index"]) if step["index"] else step["key"].strip('"') for step in _STEP.finditer(inner)
    )
    unknown = _UNKNOWN.fullmatch(mistake.found)
    if unknown and unknown["what"] == "key":
        path = (*path, unknown["name"])
    if mistake.place.partition(":")[0] == "inputs":
        # A figure of a variant: its key stands whole under [changes].
        named = unknown["name"] if unknown else mistake.place.partition(": ")[2]
        path = ("changes", named) if named else ("changes",)
    if path and path[0] not in values:
        for section, inside in values.items():
            if isinstance(inside, dict) and path[0] in inside:
                return (section, *path)
    return path


def _mend(mistake: Mistake, path: Path, values: Values) -> bool | None:
    """Mend one slip in `values`; whether that took a guess, or None where nothing can be done."""
    if not path:
        return None
    holder, last = _at(values, path[:-1]), path[-1]
    near = mistake.nearest
    if mistake.found == "missing":
        if isinstance(holder, dict) and near and near.startswith("found '"):
            holder[str(last)] = holder.pop(near[len("found '") : -1])
            return False
        return _guess(holder, path, values)
    unknown = _UNKNOWN.fullmatch(mistake.found)
    if unknown and unknown["what"] in ("key", "input") and isinstance(holder, dict):
        value = holder.pop(str(last), None)
        if near and near not in holder:
            holder[near] = value
        return False
    if unknown and near and _replace(holder, last, unknown["name"], near):
        return False
    return _guess(holder, path, values)


def _replace(holder: object, last: str | int, name: str, near: str) -> bool:
    """Put the nearest name in place of one that is not known, in a text, a list or as a key."""
    if isinstance(holder, dict) and last not in holder and name in holder:
        last = name
    value = _in(holder, last)
    word = re.compile(rf"(?<![\w.-]){re.escape(name)}(?![\w-])")
    if isinstance(value, str) and word.search(value):
        _put(holder, last, word.sub(near, value))
        return True
    if isinstance(value, list) and name in value:
        value[value.index(name)] = near
        return True
    if isinstance(holder, dict) and isinstance(last, str) and isinstance(value, dict) and name in value:
        value[near] = value.pop(name)
        return True
    return False


def _guess(holder: object, path: Path, values: Values) -> bool | None:
    """Take the value of the same key from a like table; leave the key out where no table has it."""
    last = path[-1]
    for donor in _like(path, values):
        taken = _in(donor, last)
        if taken is not None and taken != _in(holder, last):
            return True if _put(holder, last, copy.deepcopy(taken)) else None
    if isinstance(holder, dict) and last in holder:
        del holder[last]
        return True
    return None


def _like(path: Path, values: Values) -> Iterator[object]:
    """Tables that stand where a place's own stands: its neighbours, and those of what ships."""
    for whole in (values, *_shipped()):
        yield _at(whole, path[:-1])
        section = _at(whole, path[:-2])
        if isinstance(section, dict | list) and len(path) > 1:
            yield from section.values() if isinstance(section, dict) else section


@cache
def _shipped() -> tuple[Values, ...]:
    texts = [*map(fleet_text, fleet()), *(script_text(name)[0] for name in scripts())]
    return tuple(map(tomllib.loads, texts))


def _at(values: object, path: Path) -> object:
    for step in path:
        values = _in(values, step)
    return values


def _in(holder: object, step: str | int) -> object:
    if isinstance(holder, dict):
        return holder.get(step)
    if isinstance(holder, list) and isinstance(step, int) and step < len(holder):
        return holder[step]
    return None


def _put(holder: object, step: str | int, value: object) -> bool:
    if isinstance(holder, dict):
        holder[step] = value
        return True
    if isinstance(holder, list) and isinstance(step, int) and step < len(holder):
        holder[step] = value
        return True
    return False

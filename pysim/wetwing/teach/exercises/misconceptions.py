"""The beliefs that wrong answers come from, read from their file and checked."""

import re
import tomllib
from dataclasses import dataclass
from importlib.resources import files

from wetwing.aircraft.mistakes import Mistake, unknown

FORMAT = "wetwing-misconceptions/1"
_FILE = "misconceptions.toml"
_ID = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
_KEYS = ("believes", "correct")


@dataclass(frozen=True, slots=True)
class Misconception:
    """What a learner wrongly believes, and the sentence that corrects it."""

    name: str
    believes: str
    correct: str


def parse_misconceptions(text: str, place: str = _FILE) -> dict[str, Misconception]:
    """Read the beliefs of a file by their ids. Raises Mistake."""
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise Mistake(place, f"not readable as TOML: {error}") from None
    found = table.pop("format", None)
    if found != FORMAT:
        raise Mistake(f"{place}: format", f"'{found}'", f'"{FORMAT}"', FORMAT)
    return {name: _one(name, entry, place) for name, entry in table.items()}


def _one(name: str, entry: object, place: str) -> Misconception:
    if not _ID.fullmatch(name):
        raise Mistake(f"{place}: {name}", "no id", "small letters and digits, with hyphens between words")
    if not isinstance(entry, dict):
        raise Mistake(
            f"{place}: {name}", f"found {type(entry).__name__}", "a table with believes and correct"
        )
    for key in entry:
        if key not in _KEYS:
            raise unknown(f"{place}: {name}", "key", key, _KEYS)
    texts = []
    for key in _KEYS:
        said = entry.get(key)
        if not isinstance(said, str) or not said.endswith("."):
            raise Mistake(
                f"{place}: {name}.{key}", f"found {said!r:.60}", "a whole sentence, with its full stop"
            )
        texts.append(said)
    return Misconception(name, *texts)


MISCONCEPTIONS = parse_misconceptions((files("wetwing.teach.exercises") / _FILE).read_text(encoding="utf-8"))

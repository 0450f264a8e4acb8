"""The files that ship, small changes of them, and what is said of a slip."""

import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from wetwing.aircraft.mistakes import Mistake


@dataclass(frozen=True)
class Slip:
    """A change of a file that ships, and the message that names it."""

    name: str
    old: str
    new: str
    says: str


def slips_in(path: Path) -> list[Slip]:
    return [Slip(**slip) for slip in tomllib.loads(path.read_text(encoding="utf-8"))["slip"]]


def alder_text() -> str:
    return (files("wetwing.aircraft") / "fleet" / "alder-165.toml").read_text(encoding="utf-8")


def day_sector_text() -> str:
    return (files("wetwing.flight") / "scripts" / "day-sector.toml").read_text(encoding="utf-8")


def changed(text: str, *changes: tuple[str, str]) -> str:
    """The text with the first of each `old` made `new`; an `old` that is not there is the test's own slip."""
    for old, new in changes:
        assert old in text, f"the file no longer says: {old}"
        text = text.replace(old, new, 1)
    return text


def mistake_of(reads: Callable[[], object]) -> Mistake:
    """The mistake that reading raises; anything else, a crash or a success, fails the test."""
    try:
        reads()
    except Mistake as mistake:
        return mistake
    raise AssertionError("read without a word")


def says(mistake: Mistake, message: str) -> bool:
    """Whether a mistake's whole message is this one; `…` stands for one name or more."""
    pattern = ".+".join(re.escape(piece) for piece in message.split("…"))
    if not re.fullmatch(pattern, str(mistake)):
        raise AssertionError(f"\nsays:   {mistake}\nwanted: {message}")
    return True

"""The flights that answer learners' questions: `questions/edits.toml` by name."""

import tomllib
from pathlib import Path

from tests.flight.trouble_flights import flown_as
from wetwing.flight.record import Flight

FOLDER = Path(__file__).with_name("questions")


def questions() -> dict[str, dict[str, str | list[str]]]:
    """Every question with its flights' edits."""
    return tomllib.loads((FOLDER / "edits.toml").read_text(encoding="utf-8"))


def asked(question: str, flight: str, *more: str, **changes: float) -> Flight:
    """The flight of that name for a question, with more edits and other fields of the script."""
    edits = questions()[question][flight]
    assert isinstance(edits, list), flight
    return flown_as(*edits, *more, **changes)

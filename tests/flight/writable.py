"""What an author or a reader may write, kept in `tests/golden/writable.txt`: every trouble and every input.

Scripts that people have written hang on these names, ranges and usual figures. When a change of one is meant,
write them anew and read the difference before it is committed:

    python -m tests.flight.writable
"""

from collections.abc import Iterator
from pathlib import Path

from tests.flight.random_scripts import aircraft_of, fleet, flights_of, script_of
from wetwing.flight.inputs import inputs
from wetwing.flight.troubles import CATALOGUE

FILE = Path(__file__).resolve().parents[1] / "golden" / "writable.txt"
HEAD = "# what | figure and unit | from, to | usual, or as it ships; by `python -m tests.flight.writable`"


def troubles() -> Iterator[str]:
    """Each kind of trouble of each kind of part, with the sentence that tells of it."""
    for part, kinds in CATALOGUE.items():
        for own in kinds:
            figure = f"{own.key} {own.unit}".strip() if own.key else "-"
            spread = f"{own.least:g}, {own.most:g} | {own.default:g}" if own.key else "- | -"
            yield f"{part}, {own.kind} | {figure} | {spread} | {own.sentence}"


def fields() -> Iterator[str]:
    """Each input of the first flight of each aircraft."""
    for name in fleet():
        aircraft, script = aircraft_of(name), flights_of(name)[0]
        for own in inputs(script_of(script, name), aircraft):
            yield f"{name}, {own.key} | {own.unit or '-'} | {own.least:g}, {own.most:g} | {own.value:g}"


def lines() -> list[str]:
    """All of it."""
    return [HEAD, *troubles(), *fields()]


if __name__ == "__main__":
    FILE.write_text("\n".join(lines()) + "\n", "utf-8")
    print(f"{FILE.relative_to(FILE.parents[2])}: {len(lines()) - 1} lines")

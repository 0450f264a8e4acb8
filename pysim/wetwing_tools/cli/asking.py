"""What every command takes: a script, an aircraft, units and edits; and how they become a flight."""

import sys
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import click
from rich.console import Console

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.flight.clock import clock as plain_clock
from wetwing.flight.clock import seconds
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight
from wetwing.flight.script import Edit, Script, with_edits
from wetwing.teach.words import UNITS, Units, say
from wetwing_tools.cli.whole import script_and_aircraft


@dataclass(frozen=True, slots=True)
class Asked:
    """A flight, and how to speak of it."""

    flight: Flight
    units: Units


def common_options[Command: Callable[..., Any]](command: Command) -> Command:
    """Give a command the argument and options that all of them take."""
    for option in (
        click.option(
            "--set",
            "edits",
            multiple=True,
            metavar='"TIME PART=STATE"',
            help="At TIME somebody sets PART to STATE, or PART gets a trouble: "
            '"1:20:00 main-left leak 1200", "1:20:00 cross-feed stuck shut"; "2:00:00 main-left mended" ends '
            "it. May be given often.",
        ),
        click.option(
            "--units",
            type=click.Choice(UNITS),
            default="kg",
            show_default=True,
            help="Unit of mass in what is printed.",
        ),
        click.option(
            "--aircraft",
            metavar="NAME",
            help="The aircraft's name, or the path of its file; the script's own if not given.",
        ),
        click.argument("script", metavar="SCRIPT"),
    ):
        command = option(command)
    return command


def flown(script: str, aircraft: str | None, units: Units, edits: tuple[str, ...]) -> Asked:
    """Read, edit and fly. Raises Mistake."""
    plain, read = script_and_aircraft(script, aircraft)
    wished = tuple(edit_of(text, plain, number) for number, text in enumerate(edits, start=1))
    edited = with_edits(plain, wished, read)
    # Progress belongs to a person at a terminal: a pipe or a file gets the flight alone.
    progress = Console(stderr=True)
    if sys.stderr.isatty():
        with progress.status(f"Flying {edited.title} with the {read.title} …"):
            return Asked(fly(read, edited), units)
    return Asked(fly(read, edited), units)


def edit_of(text: str, script: Script, number: int) -> Edit:
    """Read `TIME PART=STATE`, or with a blank for the sign: `TIME PART TROUBLE FIGURE`. Raises Mistake."""
    place = f"--set {number}"
    time, _, setting = text.strip().partition(" ")
    sign = "=" if "=" in setting else " "
    part, _, state = setting.strip().partition(sign)
    if not part.strip() or not state.strip():
        allowed = ("TIME PART=STATE", "TIME PART TROUBLE", "TIME PART TROUBLE FIGURE")
        raise Mistake(place, f"'{text}'", allowed, "1:58:20 centre-feed=manual")
    return Edit(time_of(time, script, place), part.strip(), " ".join(state.split()))


def time_of(text: str, script: Script, place: str) -> float:
    """Read h:mm:ss, or a phase's name, to seconds within the flight. Raises Mistake."""
    starts = {phase.name: phase.start_s for phase in script.phases}
    if text in starts:
        return starts[text]
    if not text[:1].isdigit():
        raise unknown(place, "time or phase", text, (*starts, "h:mm:ss"))
    time_s = seconds(text, place)
    if time_s > script.ends_s:
        last = plain_clock(script.ends_s)
        raise Mistake(place, f"{text} is after the end of the flight", f"0:00:00 to {last}", last)
    return time_s


def part_of(name: str, flight: Flight, place: str) -> str:
    """Give the part's name back, or raise Mistake."""
    if name not in flight.aircraft.parts:
        raise unknown(place, "part", name, flight.aircraft.parts)
    return name


def label_of(part: str, flight: Flight) -> str:
    """What people call a part; `phase` is one too. What a trouble does stands in its reason."""
    found = flight.aircraft.parts.get(part)
    if found is None:
        return part.capitalize()
    return "Trouble" if found.kind == "trouble" else found.label


def state_words(state: str, units: Units) -> str:
    """A state as people read it: one that is a mass, as a preselected total is, in their units."""
    return say(f"{{{state}}}", units).strip("{}")


def screen() -> Console:
    """Standard output: styled at a terminal, plain text in a pipe, and there as wide as the text."""
    if sys.stdout.isatty():
        return Console(highlight=False)
    return Console(highlight=False, no_color=True, width=200, soft_wrap=True)

"""`wetwing because`: the chain of reasons of a part's state."""

import click
from rich.text import Text

from wetwing.flight.reasons import because as chain_of
from wetwing.teach.words import Units, clock, say
from wetwing_tools.cli.asking import common_options, flown, label_of, part_of, screen, state_words, time_of


@click.command()
@common_options
@click.argument("time", metavar="TIME")
@click.argument("part", metavar="PART")
def because(
    script: str, time: str, part: str, aircraft: str | None, units: Units, edits: tuple[str, ...]
) -> None:
    """Print why PART is as it is at TIME: each reason with the changes that made it."""
    asked = flown(script, aircraft, units, edits)
    flight = asked.flight
    name = part_of(part, flight, "PART")
    time_s = time_of(time, flight.script, "TIME")
    out = screen()
    state = flight.moment(time_s).state(name)
    out.print(Text(f"{label_of(name, flight)} at {clock(time_s)}: {state_words(state, units)}", style="bold"))
    steps = chain_of(flight, time_s, name)
    if not steps:
        out.print("It has been so since the beginning of the flight.")
    for step in steps:
        change = step.change
        line = Text(f"{'  ' * step.depth}{clock(change.time_s)}  ", style="dim")
        line.append(f"{label_of(change.part, flight)} became {state_words(change.after, units)}. ")
        line.append(say(change.reason.sentence, units))
        out.print(line)

"""`wetwing ahead`: levels to come, endurance, landing fuel and balance from one time on."""

import click
from rich.text import Text

from wetwing.flight.ahead import Ahead
from wetwing.flight.ahead import ahead as look_ahead
from wetwing.flight.record import Flight
from wetwing.teach.words import Units, clock, mass, say, span
from wetwing_tools.cli.asking import common_options, flown, label_of, screen, state_words, time_of


@click.command()
@common_options
@click.argument("time", metavar="TIME")
def ahead(script: str, time: str, aircraft: str | None, units: Units, edits: tuple[str, ...]) -> None:
    """Print what lies ahead at TIME: next levels, how long the fuel lasts, fuel at landing, balance."""
    asked = flown(script, aircraft, units, edits)
    time_s = time_of(time, asked.flight.script, "TIME")
    found = look_ahead(asked.flight, time_s)
    out = screen()
    out.print(Text(f"Ahead of {clock(time_s)}", style="bold"))
    for line in lines(asked.flight, found, units):
        out.print(Text(line))


def lines(flight: Flight, found: Ahead, units: Units) -> list[str]:
    """What lies ahead, a sentence or two a line."""
    told = []
    for level in found.levels:
        part, state = label_of(level.part, flight), state_words(level.after, units)
        head = f"{label_of(level.tank, flight)}: in {span(level.in_s)}, {part} {state}."
        told.append(f"{head} {say(level.sentence, units)}")
    if found.endurance is None:
        told.append("Endurance: no engine runs.")
    else:
        left = found.endurance
        usable, on_board = mass(left.usable_kg, units), mass(left.on_board_kg, units)
        head = f"Endurance, if nobody touches anything: {span(left.lasts_s)}"
        told.append(f"{head}, {usable} usable of {on_board} on board. {say(left.sentence, units)}")
        told += [f"Stranded then: {say(stranded.sentence, units)}" for stranded in left.stranded]
    if found.landing is not None:
        told.append(f"Landing at {clock(found.landing.time_s)}: {found.landing.standing}.")
        told.append(say(found.landing.sentence, units))
    told.append(f"Balance: {say(found.imbalance.sentence, units)}")
    return told

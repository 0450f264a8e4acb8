"""`wetwing next`: when a part changes next, to what, and why."""

import click
from rich.text import Text

from wetwing.flight.reasons import next_change
from wetwing.teach.words import Units, clock, say, span
from wetwing_tools.cli.asking import common_options, flown, label_of, part_of, screen, state_words, time_of


@click.command("next")
@common_options
@click.argument("time", metavar="TIME")
@click.argument("part", metavar="PART")
def next_(
    script: str, time: str, part: str, aircraft: str | None, units: Units, edits: tuple[str, ...]
) -> None:
    """Print when PART changes next after TIME, to what, and why."""
    asked = flown(script, aircraft, units, edits)
    flight = asked.flight
    name = part_of(part, flight, "PART")
    time_s = time_of(time, flight.script, "TIME")
    out = screen()
    state = flight.moment(time_s).state(name)
    out.print(Text(f"{label_of(name, flight)} at {clock(time_s)}: {state_words(state, units)}", style="bold"))
    change = next_change(flight, time_s, name)
    if change is None:
        out.print("It does not change again in this flight.")
        return
    after = state_words(change.after, units)
    out.print(Text(f"Next, in {span(change.time_s - time_s)}, at {clock(change.time_s)}: {after}"))
    out.print(Text(say(change.reason.sentence, units)))

"""`wetwing fly`: the whole flight as a log of changes with reasons, as one JSON document, or as traces."""

import csv
import json
import sys

import click
from rich.text import Text

from wetwing.flight.document import document
from wetwing.flight.record import Flight
from wetwing.teach.words import Units, clock, mass, say
from wetwing_tools.cli.asking import common_options, flown, label_of, screen, state_words


@click.command()
@common_options
@click.option("--json", "as_json", is_flag=True, help="Print the whole flight as one JSON document.")
@click.option("--csv", "as_csv", is_flag=True, help="Print the traces, one row a keyframe, in SI units.")
def fly(
    script: str, aircraft: str | None, units: Units, edits: tuple[str, ...], as_json: bool, as_csv: bool
) -> None:
    """Fly SCRIPT and print each change of a part with its reason."""
    if as_json and as_csv:
        raise click.UsageError("--json and --csv exclude each other.")
    asked = flown(script, aircraft, units, edits)
    if as_json:
        whole = document(asked.flight, lambda sentence: say(sentence, asked.units))
        json.dump(whole, sys.stdout, ensure_ascii=False, separators=(",", ":"))
        sys.stdout.write("\n")
    elif as_csv:
        print_traces(asked.flight)
    else:
        print_log(asked.flight, asked.units)
    sys.stdout.flush()


def print_traces(flight: Flight) -> None:
    """Print every quantity at every keyframe as comma-separated values; two rows of one time are a jump."""
    writer = csv.writer(sys.stdout, lineterminator="\n")
    names = list(flight.quantities)
    writer.writerow(["time_s", *names])
    columns = [flight.quantities[name] for name in names]
    for at, time_s in enumerate(flight.time_s):
        writer.writerow([repr(time_s), *(repr(column[at]) for column in columns)])


def print_log(flight: Flight, units: Units) -> None:
    """Print the changes for people: phases as headings, one line a change, its reason after it."""
    out = screen()
    out.print(f"{flight.script.title}, {flight.aircraft.title}, {clock(flight.duration_s)}", style="bold")
    phases = list(flight.phases)
    for change in flight.changes:
        while phases and phases[0].start_s <= change.time_s:
            phase = phases.pop(0)
            out.print(Text(f"\n{phase.label}, from {clock(phase.start_s)}", style="bold"))
        line = Text(f"{clock(change.time_s):>9}  ", style="dim")
        line.append(
            f"{label_of(change.part, flight)}: {state_words(change.after, units)}",
            style="bold" if change.reason.kind in ("rule", "trouble") else "",
        )
        line.append(f"  {say(change.reason.sentence, units)}", style="dim")
        out.print(line)
    out.print(Text(f"\n{_balance(flight, units)}"))
    if flight.ended:
        why = say(flight.ended.sentence, units)
        out.print(Text(f"The flight ends early, at {clock(flight.ended.time_s)}: {why}", style="bold"))


def _balance(flight: Flight, units: Units) -> str:
    """The fuel's account, from the first keyframe to the last."""
    last = flight.moment(flight.duration_s)
    start_kg = flight.moment(0.0).quantity("total.on_board_kg")
    uplifted_kg, burned_kg = last.quantity("total.uplifted_kg"), last.quantity("total.burned_kg")
    vented_kg, left_kg = last.quantity("total.vented_kg"), last.quantity("total.on_board_kg")
    lost = "".join(
        f"{way} {mass(amount_kg, units)}, "
        for way in ("leaked", "discharged")
        if (amount_kg := last.quantity(f"total.{way}_kg")) > 0.0
    )
    return (
        f"At the start {mass(start_kg, units)}, uplifted {mass(uplifted_kg, units)}, "
        f"burned {mass(burned_kg, units)}, lost by the vents {mass(vented_kg, units)}, {lost}"
        f"at the end {mass(left_kg, units)}."
    )

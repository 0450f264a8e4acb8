"""`wetwing differences`: what differs between two aircraft, and what a crew sees of it and when."""

from collections.abc import Iterable
from itertools import groupby

import click
from rich.text import Text

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.draw.gauges import Gauges
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight
from wetwing.flight.script import Edit, script_for, with_edits
from wetwing.teach.differences import HEADS, Pair, Told, Trial, compare
from wetwing.teach.words import UNITS, Units, clock, in_sentence, say
from wetwing_tools.cli.asking import screen
from wetwing_tools.cli.whole import aircraft_of, script_with


@click.command()
@click.option("--units", type=click.Choice(UNITS), default="kg", show_default=True, help="Unit of mass.")
@click.option("--script", metavar="NAME", help="The script that both fly, where they are alike.")
@click.argument("first", metavar="AIRCRAFT")
@click.argument("second", metavar="AIRCRAFT")
def differences(first: str, second: str, script: str | None, units: Units) -> None:
    """Print what differs between two aircraft: what a crew sees and when, rules, alerts and figures."""
    one, other = aircraft_of(first), aircraft_of(second)
    if one.name == other.name:
        raise Mistake("AIRCRAFT", f"'{one.name}' twice", "two aircraft")
    out = screen()
    for line in lines(compared(one, other, script)):
        out.print(Text(say(line, units)))


def compared(first: Aircraft, second: Aircraft, script: str | None = None) -> Pair:
    """Compare two aircraft, each flown through its own script or both through one. Raises Mistake."""

    def flown(aircraft: Aircraft, edits: tuple[Edit, ...]) -> Flight:
        read = script_with(script or script_of(aircraft), aircraft)
        return fly(aircraft, with_edits(read, edits, aircraft) if edits else read)

    return compare(first, second, script_with(script or script_of(first), first), flown, Gauges)


def script_of(aircraft: Aircraft) -> str:
    """The script that ships for an aircraft; a revision flies that of the aircraft it comes from."""
    found = script_for(aircraft.name)
    if found is None:
        raise Mistake("AIRCRAFT", f"no script ships for '{aircraft.name}'", "--script NAME")
    return found


def lines(pair: Pair) -> Iterable[str]:
    """A comparison as lines of text, with marks of quantities."""
    names = (pair.first.name, pair.second.name)
    yield f"{names[0]} and {names[1]}"
    if pair.alike:
        for trial in pair.trials:
            yield from _trial(trial, names)
        yield from _told("Rules", pair.rules, names)
    yield from _told("Alerts", pair.alerts, names)
    yield from _rows(pair, names)
    for system in dict.fromkeys(system for own in pair.logic for system in own):
        yield from ("", f"Rules: {system.lower()}")
        for name, own in zip(names, pair.logic, strict=True):
            yield from (f"  {name}: {label}. {sentence}" for label, sentence in own.get(system, []))
    for name, stages in zip(names, pair.stages, strict=bool(pair.stages)):
        yield from ("", f"{name} through its own script")
        for stage in stages:
            figures = (f"{head} {figure}" for head, figure in zip(HEADS, stage.figures, strict=True))
            yield f"  {stage.label}: {'; '.join(figures)}"


def _trial(trial: Trial, names: tuple[str, str]) -> Iterable[str]:
    yield from ("", f"What a crew sees: {trial.says[:1].lower()}{trial.says[1:].rstrip('.')}")
    if not trial.sights.found:
        yield "  Nothing differs."
    for sight in trial.sights.found:
        most = f"; at most {sight.most}" if sight.most else ""
        shown = f"{names[0]} {sight.first}; {names[1]} {sight.second}{most}"
        yield f"  {clock(sight.time_s)}  {sight.label}: {shown}"
        yield f"    {names[sight.in_second]}: {sight.sentence}"


def _told(title: str, found: Iterable[Told], names: tuple[str, str]) -> Iterable[str]:
    yield from ("", title)
    empty = True
    for one in found:
        empty = False
        yield f"  {one.label} ({one.what})"
        for name, sentence, when in (
            (names[0], one.first, one.first_when),
            (names[1], one.second, one.second_when),
        ):
            if sentence is not None:
                yield f"    {name}: {sentence}"
                yield from (f"      {what} {condition}" for what, condition in when)
    if empty:
        yield "  Nothing differs."


def _rows(pair: Pair, names: tuple[str, str]) -> Iterable[str]:
    if not pair.rows:
        yield from ("", "Figures", "  Nothing differs.")
    for system, rows in groupby(pair.rows, key=lambda row: row.system):
        yield from ("", system)
        for row in rows:
            part = f"{in_sentence(row.part)}, " if row.part else ""
            yield f"  {part}{row.what}: {names[0]} {row.first or 'none'}; {names[1]} {row.second or 'none'}"

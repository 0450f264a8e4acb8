"""`wetwing at`: the state of every part at one time."""

import click
from rich.table import Table
from rich.text import Text

from wetwing.flight.record import Moment
from wetwing.flight.troubles import told
from wetwing.teach.blank import tank_is_blank, total_is_blank
from wetwing.teach.words import Units, clock, flow, mass, number, say
from wetwing_tools.cli.asking import common_options, flown, label_of, screen, state_words, time_of

# What is shown of each kind of part beside its state, in this order.
SHOWN = (
    *("actual_kg", "gauged_kg", "temperature_c", "flow_kg_h", "pressure_bar", "used_kg", "oil_c"),
    *("surge_kg", "differential_bar", "inlet_margin_bar"),
)


@click.command()
@common_options
@click.argument("time", metavar="TIME")
def at(script: str, time: str, aircraft: str | None, units: Units, edits: tuple[str, ...]) -> None:
    """Print the state of every part at TIME (h:mm:ss, or a phase's name for its beginning)."""
    asked = flown(script, aircraft, units, edits)
    flight = asked.flight
    time_s = time_of(time, flight.script, "TIME")
    moment = flight.moment(time_s)
    out = screen()
    phase = flight.phase(time_s)
    on_board = mass(moment.quantity("total.on_board_kg"), units)
    gauged = mass(moment.quantity("total.gauged_kg"), units)
    if total_is_blank(flight.aircraft, moment):
        gauged = "blank"
    head = f"{clock(time_s)}, {phase.label.lower()}: on board {on_board}, gauges {gauged}"
    out.print(Text(head, style="bold"))
    out.print(_table(moment, units))


def _table(moment: Moment, units: Units) -> Table:
    table = Table(box=None, pad_edge=False)
    for head in ("Part", "Name", "State", "Figures"):
        table.add_column(head, no_wrap=True)
    flight = moment.flight
    wrong = {
        trouble.name: say(told(trouble, flight.aircraft.parts[trouble.part]), units)
        for trouble in flight.script.troubles
    }
    for part in flight.aircraft.parts.values():
        table.add_row(
            label_of(part.name, flight),
            part.name,
            state_words(moment.state(part.name), units),
            wrong.get(part.name) or figures(moment, part.name, units),
        )
    return table


def figures(moment: Moment, part: str, units: Units) -> str:
    """The quantities of a part in words: `gauges 6,480 kg, 12 °C`."""
    known = moment.flight.quantities
    found = [(key, moment.quantity(f"{part}.{key}")) for key in SHOWN if f"{part}.{key}" in known]
    blank = tank_is_blank(moment.flight.aircraft, moment, part)
    return ", ".join(
        "gauge blank" if blank and key == "gauged_kg" else _figure(key, value, units) for key, value in found
    )


def _figure(key: str, value: float, units: Units) -> str:
    match key:
        case "actual_kg":
            return mass(value, units)
        case "gauged_kg":
            return f"gauge {mass(value, units)}"
        case "used_kg":
            return f"used {mass(value, units)}"
        case "flow_kg_h":
            return flow(value, units)
        case "pressure_bar":
            return f"{number(value, 0.01)} bar"
        case "oil_c":
            return f"oil {number(value)} °C"
        case "surge_kg":
            return f"surge space {mass(value, units)}"
        case "differential_bar":
            return f"takes {number(value, 0.01)} bar"
        case "inlet_margin_bar":
            return f"inlet {number(value, 0.01)} bar in hand"
        case _:
            return f"{number(value)} °C"

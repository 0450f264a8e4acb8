"""What people do on a flight, read from a script."""

from wetwing.aircraft.condition import check
from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.names import quantities, states
from wetwing.aircraft.table import Table
from wetwing.flight.clock import clock, seconds
from wetwing.flight.edits import check_setting
from wetwing.flight.script_records import Action, Phase, Setting


def actions(top: Table, aircraft: Aircraft, phases: tuple[Phase, ...], ends_s: float) -> tuple[Action, ...]:
    """What people do, in the order of the file."""
    known_states = states(aircraft, tuple(phase.name for phase in phases))
    known_quantities = quantities(aircraft)
    found: list[Action] = []
    for i, values in enumerate(top.listed("actions", default=True)):
        table = Table(values, f"{top.place}: actions[{i}]")
        chosen = table.table("set")
        settings: list[Setting] = []
        for part, value in chosen.values.items():
            chosen.asked.add(part)
            settings.append(check_setting(part, _setting_text(value), aircraft, chosen.place))
        if not settings:
            raise Mistake(chosen.place, "nothing set", 'one part or more, such as { slats = "out" }')
        at_s = seconds(table.text("at"), table.at("at")) if table.has("at") else None
        when = table.optional_condition("when")
        if (at_s is None) == (when is None):
            raise Mistake(table.place, "an action needs a time or a condition", ("at", "when"))
        if at_s is not None and at_s > ends_s:
            raise Mistake(table.at("at"), clock(at_s), f"within the flight, to {clock(ends_s)}")
        if when:
            check(when, table.at("when"), known_states, known_quantities)
            for leaf in when.leaves():
                if getattr(leaf, "change", None):
                    raise Mistake(table.at("when"), "fallen() or risen()", "only in a rule's ends")
        after_s = table.number("after_s", 0, 1e5, "s", 0.0) if when else 0.0
        found.append(Action(tuple(settings), table.text("note", ""), at_s, when, after_s))
        table.finish()
    return tuple(found)


def _setting_text(value: object) -> str:
    if isinstance(value, bool):
        return str(value)
    if isinstance(value, int) and abs(value) >= 10**18:
        return "a number of many digits"
    return f"{value:.12g}" if isinstance(value, int | float) else str(value)

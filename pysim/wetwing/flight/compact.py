"""A flight as a page carries it: columns rounded to what a display can show, constant columns once."""

from collections.abc import Iterable, Sequence
from typing import Protocol

from wetwing.aircraft.model import Aircraft
from wetwing.flight.record import Change, Command, Ended, Flight, Reason
from wetwing.flight.script import Script

FORMAT = "wetwing-record/1"
DECIMALS = {"kg": 2, "kg_h": 1, "bar": 3, "c": 2, "l": 1, "ft": 0, "mach": 4, "fill": 5, "s": 3, "percent": 1}
LEFT_OUT = ("flight.time_s",)


def decimals(quantity: str) -> int:
    """How many decimals of a quantity a page needs."""
    attribute = quantity.rpartition(".")[2]
    for ending in sorted(DECIMALS, key=len, reverse=True):
        if attribute == ending or attribute.endswith("_" + ending):
            return DECIMALS[ending]
    return 3


def columns(named: Iterable[tuple[str, Sequence[float]]]) -> dict[str, list[float]]:
    """The columns that a page needs, rounded; one value stands for a column that has but one."""
    found: dict[str, list[float]] = {}
    for name, column in named:
        if name in LEFT_OUT:
            continue
        digits = decimals(name)
        # Adding zero turns a rounded -0.0 into 0.0: it would be shown as a minus sign.
        least, most = round(min(column), digits) + 0.0, round(max(column), digits) + 0.0
        found[name] = [least] if least == most else [round(value, digits) + 0.0 for value in column]
    return found


def compact(flight: Flight) -> dict[str, object]:
    """The compact record, ready for JSON; documented on the page of formats."""
    aircraft, script = flight.aircraft, flight.script
    return {
        "format": FORMAT,
        "aircraft": {"name": aircraft.name, "title": aircraft.title, "revision": aircraft.revision},
        "script": {"name": script.name, "title": script.title},
        "edits": edits_json(script),
        "duration_s": round(flight.duration_s, 3),
        "ended": ended_json(flight.ended),
        "phases": [{"name": p.name, "label": p.label, "start_s": p.start_s} for p in flight.phases],
        "parts": parts(flight),
        "time_s": [round(time_s, 3) for time_s in flight.time_s],
        "quantities": columns(flight.quantities.items()),
        "changes": [change_json(change) for change in flight.changes],
        "commands": [command_json(command) for command in flight.commands],
    }


def ended_json(ended: Ended | None) -> dict[str, object] | None:
    """Why a flight ended early, or None."""
    if ended is None:
        return None
    return {"time_s": round(ended.time_s, 3), "name": ended.name, "sentence": ended.sentence}


class Begun(Protocol):
    """A flight, or one in the making: what it has from its start on."""

    @property
    def aircraft(self) -> Aircraft: ...
    @property
    def script(self) -> Script: ...
    @property
    def start_states(self) -> dict[str, str]: ...
    @property
    def start_settings(self) -> dict[str, str]: ...


def parts(flight: Begun) -> list[dict[str, object]]:
    """Every part with its kind, its possible states and settings, and how it starts."""
    found: list[dict[str, object]] = []
    troubles = {trouble.name: trouble for trouble in flight.script.troubles}
    for part in flight.aircraft.parts.values():
        entry: dict[str, object] = {
            "name": part.name,
            "label": part.label,
            "kind": part.kind,
            "states": list(part.states),
            "settings": list(part.settings),
            "start": flight.start_states[part.name],
        }
        if part.name in flight.start_settings:
            entry["set"] = flight.start_settings[part.name]
        quantity = getattr(part, "quantity", None)
        if quantity:
            entry["quantity"] = {"unit": quantity.unit, "least": quantity.least, "most": quantity.most}
        if part.name in troubles:
            entry["of"], entry["trouble"] = troubles[part.name].part, troubles[part.name].kind
        for extra in ("level", "sentence"):
            if hasattr(part, extra):
                entry[extra] = getattr(part, extra)
        found.append(entry)
    return found


def edits_json(script: Script) -> list[dict[str, object]]:
    """The edits of a script."""
    return [{"time_s": edit.time_s, "part": edit.part, "state": edit.state} for edit in script.edits]


def command_json(command: Command) -> dict[str, object]:
    """One setting made by a person."""
    return {"time_s": round(command.time_s, 3), "part": command.part, "state": command.state}


def change_json(change: Change) -> dict[str, object]:
    """One change."""
    return {
        "time_s": round(change.time_s, 3),
        "part": change.part,
        "from": change.before,
        "to": change.after,
        "reason": reason_json(change.reason),
    }


def reason_json(reason: Reason) -> dict[str, object]:
    """One reason; a fact has a state or a value with its unit."""
    facts: list[dict[str, object]] = []
    for fact in reason.facts:
        if fact.value is None:
            facts.append({"name": fact.name, "state": fact.state})
        else:
            facts.append({"name": fact.name, "value": round(fact.value, 3), "unit": fact.unit})
    return {
        "kind": reason.kind,
        "name": reason.name,
        "sentence": reason.sentence,
        "facts": facts,
        "causes": list(reason.causes),
    }

"""A script's troubles and their mendings, read and checked: `[[troubles]]`, `[[mendings]]`."""

from wetwing.aircraft.condition import check
from wetwing.aircraft.mistakes import Mistake, nearest, unknown
from wetwing.aircraft.model import Aircraft, Part
from wetwing.aircraft.names import quantities, states
from wetwing.aircraft.table import Table
from wetwing.flight.clock import clock, seconds
from wetwing.flight.script_records import Phase
from wetwing.flight.troubles import Breakdown, Mended, Trouble, breakdown, breakdowns

MOST_TROUBLES = 100
_KEYS = ("name", "part", "kind", "at", "when", "after_s", "lasts_s", "until", "note")


def troubles(top: Table, aircraft: Aircraft, phases: tuple[Phase, ...], ends_s: float) -> tuple[Trouble, ...]:
    """The troubles of a script in its order. Raises Mistake."""
    rows = top.listed("troubles", default=True)
    if len(rows) > MOST_TROUBLES:
        raise Mistake(top.at("troubles"), f"{len(rows)} troubles", f"at most {MOST_TROUBLES}")
    found: list[Trouble] = []
    for i, values in enumerate(rows):
        table = Table(values, f"{top.place}: troubles[{i}]")
        name = _name(table, i, found, aircraft)
        found.append(_trouble(table, name, aircraft, phases, ends_s))
    return tuple(found)


def mendings(top: Table, aircraft: Aircraft, ends_s: float) -> tuple[Mended, ...]:
    """When parts are mended: each ends every trouble that its part has then. Raises Mistake."""
    rows = top.listed("mendings", default=True)
    if len(rows) > MOST_TROUBLES:
        raise Mistake(top.at("mendings"), f"{len(rows)} mendings", f"at most {MOST_TROUBLES}")
    found: list[Mended] = []
    for i, values in enumerate(rows):
        table = Table(values, f"{top.place}: mendings[{i}]")
        part = table.reference("part", "part that can have a trouble", tuple(troubled(aircraft)))
        at_s = seconds(table.text("at"), table.at("at"))
        if at_s > ends_s:
            raise Mistake(table.at("at"), clock(at_s), f"within the flight, to {clock(ends_s)}")
        table.finish()
        found.append(Mended(at_s, part))
    return tuple(found)


def troubled(aircraft: Aircraft) -> dict[str, Part]:
    """Parts that can have a trouble."""
    return {name: part for name, part in aircraft.parts.items() if breakdowns(part)}


def _name(table: Table, index: int, before: list[Trouble], aircraft: Aircraft) -> str:
    name = table.name("name") if table.has("name") else f"trouble-{index + 1}"
    if name in [trouble.name for trouble in before]:
        raise Mistake(table.at("name"), f"'{name}' is used twice", "a name of its own for every trouble")
    if name in aircraft.parts:
        raise Mistake(table.at("name"), f"'{name}' is a part's name", "a name that no part has")
    return name


def _trouble(
    table: Table, name: str, aircraft: Aircraft, phases: tuple[Phase, ...], ends_s: float
) -> Trouble:
    place = table.at("part")
    part = aircraft.parts[table.reference("part", "part", aircraft.parts)]
    able = troubled(aircraft)
    if part.name not in able:
        raise Mistake(place, f"{part.name} ({part.kind}) can have no trouble", able)
    found = breakdown(part, table.text("kind"), table.at("kind"))
    severity = _severity(table, found)
    at_s = seconds(table.text("at"), table.at("at")) if table.has("at") else None
    when = table.optional_condition("when")
    if (at_s is None) == (when is None):
        raise Mistake(table.place, "a trouble needs a time or a condition", ("at", "when"))
    if at_s is not None and at_s > ends_s:
        raise Mistake(table.at("at"), clock(at_s), f"within the flight, to {clock(ends_s)}")
    if when:
        known_states = states(aircraft, tuple(phase.name for phase in phases))
        check(when, table.at("when"), known_states, quantities(aircraft))
        if any(getattr(leaf, "change", None) for leaf in when.leaves()):
            raise Mistake(table.at("when"), "fallen() or risen()", "only in a rule's ends")
    if at_s is not None and "after_s" in table.values:
        raise Mistake(table.at("after_s"), "found with at", "only with when")
    lasts_s = table.number("lasts_s", 0.1, 1e6, "s") if table.has("lasts_s") else None
    until_s = seconds(table.text("until"), table.at("until")) if table.has("until") else None
    if lasts_s is not None and until_s is not None:
        raise Mistake(table.at("until"), "found with lasts_s", "either lasts_s or until")
    if until_s is not None and (until_s <= (at_s or 0.0) or until_s > ends_s):
        allowed = f"after {clock(at_s or 0.0)}, when it begins, to {clock(ends_s)}"
        raise Mistake(table.at("until"), clock(until_s), allowed)
    trouble = Trouble(
        name=name,
        part=part.name,
        kind=found.kind,
        severity=severity,
        at_s=at_s,
        when=when,
        after_s=table.number("after_s", 0, 1e5, "s", 0.0),
        until_s=until_s,
        lasts_s=lasts_s,
        note=table.text("note", ""),
    )
    table.finish()
    return trouble


def _severity(table: Table, found: Breakdown) -> float:
    # The severity's key differs from kind to kind, so a key of another kind is the likeliest slip: name it.
    keys = (*_KEYS, found.key) if found.key else _KEYS
    for key in table.values:
        if key not in keys:
            if found.key is None:
                near = nearest(key, keys)
                raise Mistake(
                    table.at(key), f"unknown key for '{found.kind}', which takes no figure", keys, near
                )
            raise unknown(table.place, f"key for '{found.kind}'", key, (found.key, *_KEYS))
    if found.key is None:
        return float(found.default)
    return table.number(found.key, found.least, found.most, found.unit, float(found.default))

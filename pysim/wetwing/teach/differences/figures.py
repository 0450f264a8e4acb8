"""Figures in which two aircraft of one kind differ, part by part: for two revisions of one type.

Each field of a part's record is compared with the same field of the part of the same name. The unit stands in
the field's name, so that a figure that the format gets later is compared without a word here.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields

from wetwing.aircraft.condition import Condition
from wetwing.aircraft.model import Aircraft, Overflow, Part, Quantity
from wetwing.teach.words import number

SYSTEMS: dict[str, tuple[str, ...]] = {
    "Tanks and vents": ("tanks", "vents"),
    "Pumps and feed": (
        "pumps",
        "bypasses",
        "check_valves",
        "jet_pumps",
        "engines",
        "apus",
        "filters",
        "nodes",
    ),
    "Valves, transfer and return": ("valves", "transfers", "returns", "outlets"),
    "Refuelling": ("supplies",),
    "Gauging, sensors and power": (
        *("sensors", "probes", "compensators", "meters", "totalisers", "displays", "buses"),
    ),
    "Controls": ("controls",),
}
"""The parts of an aircraft by system: the names of its lists. Rules and alerts are compared by `logic`."""

WHOLE = ("limits", "balance", "airframe")
"""What belongs to no part."""

UNITS = {
    "_bar_h2_t2": "bar·h²/t²",
    "_bar_h_t": "bar·h/t",
    "_kg_h_at_1_bar": "kg/h",
    "_w_m2_k": "W/m²·K",
    "_kg_m3": "kg/m³",
    "_kg_h": "kg/h",
    "_kj_k": "kJ/K",
    "_w_k": "W/K",
    "_percent": "%",
    "_bar": "bar",
    "_deg": "°",
    "_kg": "kg",
    "_kw": "kW",
    "_m2": "m²",
    "_ft": "ft",
    "_l": "L",
    "_m": "m",
    "_s": "s",
    "_n": "N",
}
"""The unit that belongs to each ending of a field's name; the longest that fits counts."""

WORDS = {
    "shut_off": "pressure at no flow",
    "linear": "loss with flow",
    "square": "loss with flow squared",
    "uncovers": "draws air below",
    "recovers": "draws fuel again above",
    "stops": "stops at",
    "stroke": "time to open or shut",
    "wet_at": "wet at",
    "dry_at": "dry at",
    "surge": "surge space",
    "to": "overflows to",
    "at": "overflows at",
    "runs_when": "runs when",
    "opens_when": "opens when",
    "shown_when": "shown when",
    "powered_when": "powered when",
    "mac": "mean aerodynamic chord",
    "lemac": "leading edge of the mean aerodynamic chord",
    "zero_fuel_cg": "balance without fuel",
    "cg_limits": "limits of the balance",
}
"""What a field is called where its own name would not do."""

STEPS = (1.0, 0.1, 0.01, 0.001, 0.0001)

_NO_FIGURE = ("name", "label", "kind", "states", "parts")
_PLACES = ("at_m", "outline_m", "fuselage_m", "wing_m", "nacelle_m")


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that differs, with its marks of quantities; `None` where an aircraft has none.

    `code` says that the two are conditions, as the file has them.
    """

    system: str
    part: str
    what: str
    first: str | None
    second: str | None
    code: bool = False


def figures(first: Aircraft, second: Aircraft) -> list[Row]:
    """Every figure in which two aircraft of one kind differ, by system; parts of one alone come first."""
    found: list[Row] = []
    for system, lists in SYSTEMS.items():
        ours = {part.name: part for name in lists for part in getattr(first, name)}
        theirs = {part.name: part for name in lists for part in getattr(second, name)}
        found += [Row(system, part.label, "the part", "there", None) for part in _gone(ours, theirs)]
        found += [Row(system, part.label, "the part", None, "there") for part in _gone(theirs, ours)]
        for name, part in ours.items():
            if name in theirs:
                found += _rows(system, part.label, part, theirs[name], (first, second))
    for key in WHOLE:
        found += _rows(
            "Limits and balance", _words(key), getattr(first, key), getattr(second, key), (first, second)
        )
    return found


def _gone(ours: dict[str, Part], theirs: dict[str, Part]) -> Iterable[Part]:
    return (part for name, part in ours.items() if name not in theirs)


def _rows(
    system: str, label: str, one: object, other: object, both: tuple[Aircraft, Aircraft]
) -> Iterator[Row]:
    """The fields of two records of one kind that are not the same."""
    if type(one) is not type(other):
        yield Row(system, label, "kind of part", _kind(one), _kind(other))
        return
    for found in fields(one):  # type: ignore[arg-type]
        if found.name in _NO_FIGURE or found.name in _PLACES:
            continue
        ours, theirs = getattr(one, found.name), getattr(other, found.name)
        if isinstance(ours, Overflow | Quantity) and isinstance(theirs, Overflow | Quantity):
            yield from _rows(system, label, ours, theirs, both)
        elif _plain(ours) != _plain(theirs):
            code = isinstance(ours, Condition) or isinstance(theirs, Condition)
            shown = [_shown(found.name, value, who) for value, who in ((ours, both[0]), (theirs, both[1]))]
            yield Row(system, label, _words(found.name), shown[0], shown[1], code)


def _plain(value: object) -> object:
    """A value as it is compared: a condition by its meaning, not by how its text is laid out."""
    if isinstance(value, Condition):
        return value.node
    if isinstance(value, tuple):
        return tuple(_plain(one) for one in value)
    return value


def _kind(part: object) -> str:
    return part.kind if isinstance(part, Part) else type(part).__name__.lower()


def _words(field: str) -> str:
    """What a field is called, without its unit."""
    bare = field.removesuffix(_suffix(field))
    return WORDS.get(bare, bare.replace("_", " "))


def _suffix(field: str) -> str:
    return max((end for end in UNITS if field.endswith(end)), key=len, default="")


def _shown(field: str, value: object, aircraft: Aircraft) -> str | None:
    """A value of a field, with its unit as a mark."""
    match value:
        case None:
            return None
        case bool():
            return "yes" if value else "no"
        case int() | float():
            return marked(float(value), UNITS.get(_suffix(field), ""))
        case Condition():
            return " ".join(value.text.split())
        case str():
            return aircraft.parts[value].label if value in aircraft.parts else value
        case tuple():
            shown = [_shown(field, one, aircraft) for one in value]
            return ", ".join(one for one in shown if one is not None)
        case _:
            return str(value)


def marked(value: float, unit: str) -> str:
    """A figure with as many places as it has, four at most, as a mark where it has a unit: `{1,450 L}`."""
    step = next((one for one in STEPS if abs(value / one - round(value / one)) < 1e-6), STEPS[-1])
    text = number(value, step)
    return f"{{{text} {unit}}}" if unit else text

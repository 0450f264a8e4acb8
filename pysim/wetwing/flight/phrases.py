"""Facts as plain words, with every quantity in braces so that it can be shown in the reader's units."""

from wetwing.aircraft.condition import UNITS, Compare, Is
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.names import PHASE

_OPPOSITE = {">=": "<", ">": "<=", "<=": ">", "<": ">="}


def mark(value: float, unit: str) -> str:
    """A quantity in braces, rounded as far as a person would read it: `{1,430 kg/h}`."""
    size = abs(value)
    if unit in ("bar",):
        text = f"{value:.2f}"
    elif unit in ("°C",):
        text = f"{value:.0f}" if abs(value - round(value)) < 0.05 else f"{value:.1f}"
    elif size < 10 and abs(value - round(value)) >= 0.05:
        text = f"{value:.1f}"
    else:
        text = f"{value:,.0f}"
    if text in ("-0", "-0.0", "-0.00"):
        text = text[1:]
    return f"{{{text} {unit}}}" if unit else text


def plain(sentence: str) -> str:
    """A sentence with the braces of its marks taken off: `{430 kg}` is `430 kg`."""
    return sentence.replace("{", "").replace("}", "")


def quantity_words(quantity: str, aircraft: Aircraft) -> str:
    """A quantity as subject and verb: `Main left gauge reads`."""
    subject, _, attribute = quantity.partition(".")
    if subject == "total":
        return {"gauged_kg": "The gauges read in total", "on_board_kg": "Fuel on board is"}.get(
            attribute, f"Total {words(attribute)} is"
        )
    if subject == "flight":
        return {"altitude_ft": "Altitude is", "gross_kg": "Gross weight is", "time_s": "Time is"}.get(
            attribute, f"{words(attribute)} is"
        )
    part = aircraft.parts[subject]
    if attribute.startswith("value_"):
        return f"{part.label} is"
    verbs = {
        "gauged_kg": "gauge reads",
        "actual_kg": "holds",
        "volume_l": "holds",
        "used_kg": "has used",
        "flow_kg_h": "draws" if part.kind in ("engine", "apu") else "passes",
        "rate_kg_h": "changes by",
    }
    return f"{part.label} {verbs.get(attribute, 'is at')}"


def words(name: str) -> str:
    """An identifier as words: `skin_temperature_c` is `Skin temperature`."""
    for ending in sorted(UNITS, key=len, reverse=True):
        if name.endswith("_" + ending):
            name = name[: -len(ending) - 1]
            break
    return name.replace("_", " ").replace("-", " ").capitalize()


def leaf_words(leaf: Is | Compare, truth: bool, aircraft: Aircraft, state: str, right: float) -> str:
    """A comparison that decided something, as a clause. `state` is the part's actual state, `right` the
    threshold's value.
    """
    if isinstance(leaf, Is):
        if leaf.part == PHASE:
            return f"the phase is {state}"
        return f"{aircraft.parts[leaf.part].label} is {state}"
    unit = leaf.unit or UNITS.get(leaf.left.rpartition("_")[2], "kg")
    op = leaf.op if truth else _OPPOSITE[leaf.op]
    limit = mark(right, unit)
    if leaf.change:
        verb = "has given" if leaf.change == "fallen" else "has gained"
        subject = aircraft.parts[leaf.left.partition(".")[0]].label
        return f"{subject} {verb} {limit}" if op in (">", ">=") else f"{subject} {verb} less than {limit}"
    subject = quantity_words(leaf.left, aircraft)
    return {
        ">=": f"{subject} {limit} or more",
        ">": f"{subject} more than {limit}",
        "<=": f"{subject} {limit} or less",
        "<": f"{subject} less than {limit}",
    }[op]


def inner(label: str) -> str:
    """A label within a sentence: its first letter small, unless it begins an abbreviation."""
    return label[:1].lower() + label[1:] if label[1:2].islower() or label[1:2] == " " else label


def rule_words(label: str, active: bool, has_been: bool) -> str:
    """A rule's state as a clause."""
    return (
        f"{inner(label)} is active"
        if active
        else f"{inner(label)} has ended"
        if has_been
        else f"{inner(label)} is not active"
    )


def clauses(parts: list[str]) -> str:
    """Clauses joined as a sentence joins them, without its full stop."""
    if len(parts) <= 1:
        return "".join(parts)
    return ", ".join(parts[:-1]) + " and " + parts[-1]

"""Facts as plain words, with every quantity in braces so that it can be shown in the reader's units."""

from wetwing.aircraft.condition import UNITS, Compare, Is
from wetwing.aircraft.model import Aircraft, Part
from wetwing.aircraft.names import PHASE

_OPPOSITE = {">=": "<", ">": "<=", "<=": ">", "<": ">="}
_MIRRORED = {">=": "<=", ">": "<", "<=": ">=", "<": ">"}


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


def _threshold(value: float, unit: str) -> str:
    """A figure of a file as a mark: a person reads it as it stands there, with all its decimals."""
    rounded = mark(value, unit)
    if not unit or float(rounded[1:].partition(" ")[0].replace(",", "")) == value:
        return rounded
    return f"{{{f'{value:,.6f}'.rstrip('0').rstrip('.')} {unit}}}"


def plain(sentence: str) -> str:
    """A sentence with the braces of its marks taken off: `{430 kg}` is `430 kg`."""
    return sentence.replace("{", "").replace("}", "")


_TOTALS = {
    "gauged_kg": "The gauges read in total",
    "on_board_kg": "Fuel on board is",
    "computed_kg": "Fuel by use is",
    "discrepancy_kg": "Fuel that use does not explain is",
    "imbalance_kg": "The right wing's gauges, less the left wing's, read",
}
_FLIGHT = {
    "altitude_ft": "Altitude is",
    "gross_kg": "Gross weight is",
    "cg_percent": "Balance is",
    "time_s": "Time is",
}
_VERBS = {
    "gauged_kg": "gauge reads",
    "actual_kg": "holds",
    "volume_l": "holds",
    "used_kg": "has used",
    "rate_kg_h": "changes by",
    "oil_c": "oil is at",
    "freezing_margin_c": "is above freezing by",
    "differential_bar": "takes",
    "inlet_margin_bar": "inlet has in hand",
    "surge_kg": "surge space holds",
    "fill": "is filled to",
    "air_share": "share of air is",
}


def quantity_words(quantity: str, aircraft: Aircraft) -> str:
    """A quantity as subject and verb: `Main left gauge reads`."""
    subject, _, attribute = quantity.partition(".")
    if subject == "total":
        return _TOTALS.get(attribute, f"Total {words(attribute).lower()} is")
    if subject == "flight":
        return {
            "altitude_ft": "Altitude is",
            "gross_kg": "Gross weight is",
            "cg_percent": "Balance is",
            "flammable_above_c": "The lower flammable limit is",
            "time_s": "Time is",
        }.get(attribute, f"{words(attribute)} is")
    part = aircraft.parts[subject]
    if attribute.startswith("value_"):
        return f"{part.label} is"
    if attribute == "flow_kg_h":
        return f"{part.label} {'draws' if part.kind in ('engine', 'apu') else 'passes'}"
    return f"{part.label} {_VERBS.get(attribute, 'is at')}"


def words(name: str) -> str:
    """An identifier as words: `skin_temperature_c` is `Skin temperature`."""
    for ending in sorted(UNITS, key=len, reverse=True):
        if name.endswith("_" + ending):
            name = name[: -len(ending) - 1]
            break
    return name.replace("_", " ").replace("-", " ").capitalize()


_STATES = {
    "failed": "has failed",
    "no power": "has no power",
    "no signal": "gives no signal",
    "reads": "gives a signal",
    "running, held back": "is running but held back",
    "running, nothing drawn": "is running with nothing drawn from it",
    "nothing drawn": "has nothing drawn from it",
}


def state_words(part: Part, state: str) -> str:
    """A part's state as a clause: `engine 1 has failed`."""
    if part.kind == "vent" and state == "holding":
        return f"{inner(part.label)} loses nothing"
    if part.kind == "alert":
        # Its label is a clause of its own, often with a colon.
        return f"the alert “{part.label}” is {state}"
    return f"{inner(part.label)} {_STATES.get(state, f'is {state}')}"


def leaf_words(leaf: Is | Compare, truth: bool, aircraft: Aircraft, state: str, right: float) -> str:
    """A comparison that decided something, as a clause. `state` is the part's actual state, `right` the
    threshold's value.
    """
    if isinstance(leaf, Is):
        if leaf.part == PHASE:
            return f"the phase is {state}"
        return state_words(aircraft.parts[leaf.part], state)
    unit = leaf.unit or UNITS.get(leaf.left.rpartition("_")[2], "kg")
    op = leaf.op if truth else _OPPOSITE[leaf.op]
    if leaf.change:
        verb = "has given" if leaf.change == "fallen" else "has gained"
        subject = inner(aircraft.parts[leaf.left.partition(".")[0]].label)
        less = "" if op in (">", ">=") else "less than "
        return f"{subject} {verb} {less}{mark(right, unit)}"
    subject = inner(quantity_words(leaf.left, aircraft))
    signed = _signed_words(leaf.left, aircraft, right < 0.0 or (right == 0.0 and op in ("<", "<=")))
    if signed:
        # What may go either way is told by its direction, never as a negative figure.
        subject, turned = signed
        op, right = (_MIRRORED[op], -right) if turned else (op, right)
    limit = mark(right, unit) if isinstance(leaf.right, str) else _threshold(right, unit)
    below, above = ("below", "above") if subject.endswith(" is at") else ("less than", "more than")
    stem = subject[:-3] if subject.endswith(" is at") else subject
    return {
        ">=": f"{subject} {limit} or more",
        ">": f"{stem} {above} {limit}",
        "<=": f"{subject} {limit} or less",
        "<": f"{stem} {below} {limit}",
    }[op]


def _signed_words(quantity: str, aircraft: Aircraft, negative: bool) -> tuple[str, bool] | None:
    """Subject and verb of a quantity that may be negative, and whether the comparison is turned round."""
    subject, _, attribute = quantity.partition(".")
    if quantity == "total.imbalance_kg":
        one, other = ("left", "right") if negative else ("right", "left")
        return f"the {one} wing's gauges exceed the {other} wing's by", negative
    if quantity == "flight.pitch_deg":
        return f"the nose is {'down' if negative else 'up'} by", negative
    if quantity == "flight.roll_deg":
        return f"the {'left' if negative else 'right'} wing is low by", negative
    if attribute == "rate_kg_h":
        return f"{inner(aircraft.parts[subject].label)} {'loses' if negative else 'gains'}", negative
    return None


def blank_words(leaf: Compare, aircraft: Aircraft) -> str:
    """That a quantity gives no reading, as a clause."""
    subject, _, attribute = leaf.left.partition(".")
    if subject == "total":
        known = {"gauged_kg": "the total of the gauges", "imbalance_kg": "the gauges of the two wings"}
        return f"no reading comes from {known.get(attribute, words(attribute).lower())}"
    return f"no reading comes from the gauge of {inner(aircraft.parts[subject].label)}"


_LESS = " by less than "
_LEVEL = {
    "the nose is down": ("the nose is up", "the nose is"),
    "the nose is up": ("the nose is down", "the nose is"),
    "the left wing is low": ("the right wing is low", "the wings are"),
    "the right wing is low": ("the left wing is low", "the wings are"),
}


def narrowed(parts: list[str]) -> list[str]:
    """Two clauses that hold an attitude from both sides, as the one that people say."""
    found: list[str] = []
    for part in parts:
        way, less, limit = part.partition(_LESS)
        if less and way in _LEVEL:
            other, stem = _LEVEL[way]
            if f"{other}{_LESS}{limit}" in parts:
                part = f"{stem} within {limit} of level"
        if part not in found:
            found.append(part)
    return found


def tilt_words(pitch_deg: float, roll_deg: float) -> str:
    """Attitude away from level cruise, to follow a clause: ` with the nose 2.5° down`; nothing when level."""
    ways = []
    if pitch_deg != 0.0:
        ways.append(f"the nose {abs(pitch_deg):g}° {'up' if pitch_deg > 0.0 else 'down'}")
    if roll_deg != 0.0:
        ways.append(f"the {'right' if roll_deg > 0.0 else 'left'} wing {abs(roll_deg):g}° low")
    return f" with {' and '.join(ways)}" if ways else ""


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
    """Clauses joined as a sentence joins them, each said once, without its full stop."""
    parts = narrowed(list(dict.fromkeys(parts)))
    if len(parts) <= 1:
        return "".join(parts)
    return ", ".join(parts[:-1]) + " and " + parts[-1]

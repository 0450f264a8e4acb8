"""What can go wrong with each kind of part: the catalogue of troubles, and one trouble as a script has it.

A trouble's severity is one number with its unit in the key, `share = 0.5`; a kind without a key is whole or
not at all, and its severity is 1.
"""

from dataclasses import dataclass
from math import floor

from wetwing.aircraft.condition import Condition
from wetwing.aircraft.mistakes import Mistake, out_of_range, unknown
from wetwing.aircraft.model import Control, Part
from wetwing.flight.phrases import inner


@dataclass(frozen=True, slots=True)
class Breakdown:
    """One kind of trouble: the key, range and usual value of its severity, and what it does in a sentence.

    `{label}` stands for the part, `{severity}` for the figure with its unit.
    """

    kind: str
    key: str | None
    least: float
    most: float
    default: float
    unit: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Trouble:
    """A part's trouble: from `at_s`, or from when `when` has held `after_s`; until a time, for a time, or
    until it is mended.
    """

    name: str
    part: str
    kind: str
    severity: float
    at_s: float | None
    when: Condition | None
    after_s: float
    until_s: float | None
    lasts_s: float | None
    note: str


@dataclass(frozen=True, slots=True)
class Mended:
    """Every trouble of a part ends."""

    time_s: float
    part: str


def _whole(kind: str, sentence: str) -> Breakdown:
    return Breakdown(kind, None, 1.0, 1.0, 1.0, "", sentence)


def _leak(kind: str, least: float, most: float, sentence: str) -> Breakdown:
    return Breakdown(kind, "kg_h", least, most, 1000.0, "kg/h", sentence)


_STUCK_OPEN = "The check valve of {label} is stuck open: fuel can pass it backwards."
_STUCK_SHUT = "The check valve of {label} is stuck shut: nothing passes it."
_LOW_OUTPUT = Breakdown(
    "low output", "share", 0.05, 0.95, 0.6, "", "{label} gives {severity} of its pressure."
)
_NO_SIGNAL = _whole("no signal", "{label} gives no signal.")
_FROZEN = _whole("frozen", "{label} keeps showing what it last showed.")
_GAUGE = (
    _NO_SIGNAL,
    _FROZEN,
    Breakdown("biased", "percent", -60, 100, 10, "%", "{label} is wrong by {severity} of what it measures."),
    Breakdown(
        *("drifting", "percent_h", -50, 50, 2, "%/h"),
        "{label} drifts away from what it measures by {severity}.",
    ),
)

CATALOGUE: dict[str, tuple[Breakdown, ...]] = {
    "pump": (
        _LOW_OUTPUT,
        _whole("failed", "{label} has failed."),
        _whole("breaker open", "The breaker of {label} is open: it has no power."),
        Breakdown(
            *("drawing vapour", "share", 0.05, 0.95, 0.5, ""),
            "{label} draws vapour: {severity} of its pressure is left.",
        ),
        _whole("check valve stuck open", _STUCK_OPEN),
        _whole("check valve stuck shut", _STUCK_SHUT),
    ),
    "bypass": (_whole("check valve stuck open", _STUCK_OPEN), _whole("check valve stuck shut", _STUCK_SHUT)),
    "check-valve": (
        _whole("stuck open", "{label} is stuck open: fuel can pass it backwards."),
        _whole("stuck shut", "{label} is stuck shut: nothing passes it."),
    ),
    "supply": (_LOW_OUTPUT,),
    "valve": (
        _whole("stuck", "{label} is stuck where it stands."),
        _whole("stuck open", "{label} is stuck open."),
        _whole("stuck shut", "{label} is stuck shut."),
        Breakdown("slow", "factor", 1.5, 100, 4, "", "{label} takes {severity} times as long to move."),
        _whole("indication frozen", "{label} moves, but its indication does not."),
    ),
    "tank": (
        _leak("leak", 1, 60000, "{label} leaks: {severity} when the tank is full, less as it empties."),
        Breakdown("water", "l", 1, 500, 40, "L", "At the bottom of {label} lie {severity} of water."),
    ),
    "node": (_leak("leak", 1, 60000, "{label} leaks: {severity} at one bar, more at a higher pressure."),),
    "engine": (
        _whole("failed", "{label} has failed: it burns nothing."),
        _leak(
            "leak before the meter",
            1,
            60000,
            "{label} leaks before its flow meter: {severity} at one bar, more at a higher pressure.",
        ),
        _leak(
            "leak after the meter",
            1,
            60000,
            "{label} leaks after its flow meter: {severity} at one bar, more at a higher pressure.",
        ),
    ),
    "apu": (_whole("failed", "{label} has failed: it burns nothing."),),
    "vent": (_whole("blocked", "{label} is blocked."),),
    "bus": (_whole("lost", "{label} is lost: nothing on it has power."),),
    "jet-pump": (
        _whole("blocked", "{label} is blocked: it moves nothing."),
        Breakdown("low output", "share", 0.05, 0.95, 0.6, "", "{label} gives {severity} of its flow."),
    ),
    "sensor": (
        _NO_SIGNAL,
        _whole("stuck wet", "{label} shows wet, whatever the level."),
        _whole("stuck dry", "{label} shows dry, whatever the level."),
        _FROZEN,
        Breakdown("biased", "l", -5000, 5000, 200, "L", "{label} is wrong by {severity} of fuel."),
        Breakdown("drifting", "l_h", -2000, 2000, 100, "L/h", "{label} drifts by {severity} of fuel."),
    ),
    "probe": _GAUGE,
    "compensator": _GAUGE,
    "meter": _GAUGE,
    "totaliser": (
        _NO_SIGNAL,
        _FROZEN,
        Breakdown("biased", "kg", -5000, 5000, 500, "kg", "{label} is wrong by {severity}."),
        Breakdown("drifting", "kg_h", -2000, 2000, 100, "kg/h", "{label} drifts by {severity}."),
    ),
    "rule": (
        _whole("inhibited", "The rule {label} is inhibited: it never acts."),
        _whole("false start", "The rule {label} acts without its reason."),
    ),
    "control with a number": (
        Breakdown(
            *("wrong units", "factor", 0.1, 10, 0.45359237, ""),
            "What is entered at {label} counts as {severity} times the figure.",
        ),
    ),
    "control with settings": (_whole("stuck", "{label} is stuck: setting it changes nothing."),),
    "filter": (
        Breakdown(
            *("clogging", "bar_h", 0.01, 20, 0.3, "bar/h"),
            "{label} clogs: what it takes at 1 t/h grows by {severity}.",
        ),
        _whole("blocked", "{label} is blocked."),
    ),
    "airframe": (
        Breakdown(
            *("extra drag", "share", 0.01, 3, 0.2, ""),
            "The drag that the aircraft has at no lift grows by {severity}.",
        ),
    ),
}
"""Troubles by the kind of part. A kind of part that is not here has none."""


def breakdowns(part: Part) -> tuple[Breakdown, ...]:
    """The troubles that a part can have."""
    if isinstance(part, Control):
        return CATALOGUE["control with a number" if part.quantity else "control with settings"]
    return CATALOGUE.get(part.kind, ())


def breakdown(part: Part, kind: str, place: str) -> Breakdown:
    """The trouble of that kind that a part can have. Raises Mistake."""
    known = {found.kind: found for found in breakdowns(part)}
    if not known:
        raise Mistake(place, f"{part.name} ({part.kind}) can have no trouble", "a part that can")
    if kind not in known:
        raise unknown(place, f"trouble of {part.name}", kind, known)
    return known[kind]


def check_severity(found: Breakdown, severity: float, place: str) -> float:
    """A severity within its range. Raises Mistake."""
    if not found.least <= severity <= found.most:
        raise out_of_range(place, severity, found.least, found.most, found.unit)
    return severity


def told(trouble: Trouble, part: Part) -> str:
    """What a trouble does, in a sentence; its figure is marked in braces, `{1200 kg/h}`."""
    found = breakdown(part, trouble.kind, f"trouble {trouble.name}")
    text = found.sentence.replace("{severity}", mark(found, trouble.severity))
    label = part.label if text.startswith("{label}") else inner(part.label)
    return text.replace("{label}", label)


def told_over(trouble: Trouble, part: Part) -> str:
    """That a trouble has gone, in a sentence."""
    if trouble.kind.startswith("leak"):
        return f"{part.label} no longer leaks."
    label = inner(part.label)
    known = {
        "water": f"The water at the bottom of {label} is gone.",
        "extra drag": "The extra drag is gone.",
        "wrong units": f"What is entered at {label} counts as it is again.",
    }
    return known.get(trouble.kind, f"{part.label} works again.")


def mark(found: Breakdown, severity: float) -> str:
    """A severity as a mark in a sentence: `{1,200 kg/h}`; a share of the whole as `{60 %}`."""
    if found.key == "share":
        return f"{{{_plain(severity * 100.0)} %}}"
    return f"{{{f'{_plain(severity)} {found.unit}'.rstrip()}}}"


def _plain(value: float) -> str:
    # The marks of sentences hold no exponent.
    text = f"{floor(value * 1e4 + 0.5) / 1e4:,.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text

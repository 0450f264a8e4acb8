"""Words that several kinds of question share: parts, figures, times in claims, what happens."""

from wetwing.aircraft.model import Part
from wetwing.teach.words import clock, in_sentence, number

_HAPPENS = {
    ("pump", "delivering"): "begins to deliver",
    ("pump", "running, held back"): "is held back by a higher pressure",
    ("pump", "running, nothing drawn"): "runs with nothing drawn from it",
    ("pump", "stopped by automatics"): "is stopped by the automatics",
    ("pump", "off"): "is off",
    ("pump", "dry"): "draws air",
    ("rule", "active"): "becomes active",
    ("rule", "inactive"): "ends",
    ("alert", "on"): "comes on",
    ("alert", "off"): "goes off",
    ("engine", "starting"): "starts",
    ("engine", "running"): "reaches idle",
    ("engine", "off"): "is shut down",
    ("transfer", "flowing"): "flows",
    ("transfer", "resting"): "comes to rest",
    ("return", "flowing"): "flows",
    ("return", "resting"): "comes to rest",
    ("jet-pump", "flowing"): "begins to move fuel",
    ("jet-pump", "dry"): "has nothing left to move",
    ("sensor", "wet"): "becomes wet",
    ("sensor", "dry"): "becomes dry",
    ("valve", "open"): "is open",
    ("valve", "shut"): "is shut",
}


def happens(part: Part, after: str) -> str | None:
    """What a change is in words, with the part: `Return-flow hold (right) becomes active`; None where it is
    no change that a reader would name.
    """
    kind = "engine" if part.kind == "apu" else part.kind
    found = _HAPPENS.get((kind, after))
    return None if found is None else f"{part.label} {found}"


def figure(amount: float, unit: str, step: float = 1.0) -> str:
    """A figure as a mark of a sentence: `{6,480 kg}`."""
    return f"{{{number(amount, step)} {unit}}}"


def at(time_s: float) -> str:
    """A time of a flight as a moment of a claim."""
    return f"begin + {clock(time_s)}"


def quoted(state: str) -> str:
    """A state as a claim writes it."""
    return f'"{state}"' if " " in state else state


def the(part: Part) -> str:
    """A part inside a sentence: `the main left aft pump`, `engine 1`, `the APU valve`."""
    word = in_sentence(part.label)
    return word if part.kind == "engine" else f"the {word}"


def tank_words(part: Part) -> str:
    """A tank inside a sentence: `the main left tank`."""
    return f"the {in_sentence(part.label)} tank"


def capital(text: str) -> str:
    """A text with its first letter large."""
    return text[:1].upper() + text[1:]

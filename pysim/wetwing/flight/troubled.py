"""The aircraft as one flight has it: with its troubles, and the indications that may lie, as parts."""

from dataclasses import replace

from wetwing.aircraft.model import Aircraft, Part
from wetwing.flight.script import Script
from wetwing.flight.troubles import told

STATES = ("absent", "present")
UNSEEN = "indication frozen"


def indications(script: Script) -> dict[str, str]:
    """Name of the indication of each valve whose own may freeze."""
    return {
        trouble.part: f"{trouble.part}-indication" for trouble in script.troubles if trouble.kind == UNSEEN
    }


def troubled(aircraft: Aircraft, script: Script) -> Aircraft:
    """The same aircraft with one more part a trouble, and one a doubtful indication."""
    if not script.troubles:
        return aircraft
    parts = dict(aircraft.parts)
    for valve, name in indications(script).items():
        part = aircraft.parts[valve]
        label = f"{part.label}, as shown"
        parts[name] = Part(name, label, "indication", part.states, (), part.initial)
    for trouble in script.troubles:
        label = told(trouble, aircraft.parts[trouble.part]).replace("{", "").replace("}", "").rstrip(".")
        parts[trouble.name] = Part(trouble.name, label, "trouble", STATES, (), STATES[0])
    return replace(aircraft, parts=parts)

"""What ends a flight before its script does: a result with its reason, not an error."""

from wetwing.flight.path import Segment
from wetwing.flight.phrases import mark
from wetwing.flight.record import Ended
from wetwing.flight.world import World


def ended(world: World, frozen: list[bool], segment: Segment) -> Ended | None:
    """Why the flight ends at this instant, if it does; `frozen` says which tanks have come to freezing."""
    plant, aircraft, script = world.plant, world.aircraft, world.script
    found: Ended | None = None
    for i, blocked in enumerate(plant.faults.vents):
        if blocked and world.flows.vent_kg_h[i] + max(world.flows.surge_kg_h[i], 0.0) > 0.0:
            vent = aircraft.vents[i].label
            sentence = f"A full tank presses against a blocked vent ({vent}): its structure gives way."
            found = Ended(world.time_s, "structure-limit", sentence)
    for i, has_frozen in enumerate(frozen):
        if has_frozen:
            label, freezing = aircraft.tanks[i].label, script.freezing_c
            sentence = f"{label} has come to its freezing point, {mark(freezing, '°C')}: it would not flow."
            found = Ended(world.time_s, "fuel-freezing", sentence)
    if not segment.ground and not any(
        world.is_in(engine.name, "running", "starting") for engine in aircraft.engines
    ):
        dry = any(world.is_in(engine.name, "stopped for want of fuel") for engine in aircraft.engines)
        name = "fuel-exhausted" if dry else "no-engine"
        sentence = "No engine gets fuel any more, in the air." if dry else "No engine runs, in the air."
        found = Ended(world.time_s, name, sentence)
    return found

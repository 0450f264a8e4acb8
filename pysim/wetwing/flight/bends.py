"""Where the fuel flow of the engines bends: as the thrust comes down to idle or leaves it.

A step across a bend errs by what no higher order mends, so it would be tried shorter and shorter.
"""

from wetwing.flight.path import Segment, place
from wetwing.flight.plant import Flows, Plant
from wetwing.flight.wiring import Configuration
from wetwing.physics.burn import flow_kg_h
from wetwing.physics.thrust import idle_flow_kg_h

LOCATED_S = 1e-4
"""So near that what a step has beyond the bend is nothing."""


def bend_s(
    plant: Plant, configuration: Configuration, segment: Segment, flows: Flows, start_s: float, end_s: float
) -> float | None:
    """Time, s, of the first bend between two times of a segment; `flows` are those at the start.

    Only what lies on one side of a bend at the start and on the other at the end is found. The mass is taken
    to go on as it does at the start.
    """
    if segment.steady is not None or not configuration.propelling:
        return None
    gaining_kg_s = sum(flows.slopes[: plant.tanks])

    def above(time_s: float) -> list[bool]:
        gross_kg = flows.gross_kg + gaining_kg_s * (time_s - start_s)
        return _above(plant, configuration, segment, time_s, gross_kg)

    first, last = above(start_s), above(end_s)
    turning = [i for i, was in enumerate(first) if was is not last[i]]
    low_s, high_s = start_s, end_s
    while turning and high_s - low_s > LOCATED_S:
        middle_s = 0.5 * (low_s + high_s)
        there = above(middle_s)
        turned = [i for i in turning if there[i] is not first[i]]
        if turned:
            turning, high_s = turned, middle_s
        else:
            low_s = middle_s
    return high_s if turning else None


def _above(
    plant: Plant, configuration: Configuration, segment: Segment, time_s: float, gross_kg: float
) -> list[bool]:
    """Whether the thrust asks each engine for more than its idle."""
    here = place(segment, time_s, plant.script.deviation_k)
    share = plant.thrust_share(configuration, segment, here, gross_kg)
    asked_kg_h = flow_kg_h(plant.aircraft.airframe.static_flow_kg_h, min(max(share, 0.0), 1.0))
    return [
        asked_kg_h > idle_flow_kg_h(plant.users[i].idle_flow_kg_h, here.pressure_ratio)
        for i in configuration.propelling
    ]

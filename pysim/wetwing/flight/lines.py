"""How many straight lines show a step: between keyframes all that is shown is straight within an error."""

from math import sqrt

from wetwing.flight.path import Segment
from wetwing.flight.plant import Plant
from wetwing.physics.air import SEA_LEVEL_K
from wetwing.physics.steps import Step

MOST_PIECES = 60
# A straight line between two keyframes may err by this much: less than a display shows.
LINE_ERROR_KG = 0.7
LINE_ERROR_GAUGED_KG = 1.5
LINE_ERROR_K = 0.1
LINE_ERROR_OIL_K = 0.2
LINE_ERROR_AIR_K = 0.3
LINE_ERROR_KG_H = 4.0
LINE_ERROR_OF_FLOW = 0.0025
SMALL_KG = 100.0
"""Temperature is held to what matters: twice the error at this mass, more in the last few kilograms of a
tank.
"""


def pieces(plant: Plant, segment: Segment, taken: Step) -> int:
    """How many straight lines show the step: the error of a line falls with the square of its length."""
    n, oil, surge = plant.tanks, plant.oil_at, plant.surge_at
    worst = 0.0
    for i, bend in enumerate(taken.bend()):
        line = abs(bend)
        if n <= i < 2 * n:
            held = taken.before[i - n]
            line *= held / (held + SMALL_KG) / LINE_ERROR_K
        elif oil <= i < surge:
            line /= LINE_ERROR_OIL_K
        else:
            line /= LINE_ERROR_KG
        if line > worst:
            worst = line
    worst = max(worst, _gauge_bend(plant, taken), _air_bend(segment, taken))
    used = plant.used_at
    first, last, early = taken.first, taken.last, taken.stages[0]
    for i in range(used, used + len(plant.aircraft.engines)):
        # The stage at three tenths of the step, against the line there; 0.21 of a parabola against 0.25.
        line = abs(early[i] - 0.7 * first[i] - 0.3 * last[i]) * (0.25 / 0.21) * 3600.0
        line /= LINE_ERROR_KG_H + LINE_ERROR_OF_FLOW * 1800.0 * (first[i] + last[i])
        if line > worst:
            worst = line
    return 1 if worst <= 1.0 else min(MOST_PIECES, int(sqrt(worst)) + 1)


def _gauge_bend(plant: Plant, taken: Step) -> float:
    """How far the gauges of a tilted aircraft bend between the step's ends: they see the fuel's shape."""
    posture = plant.posture
    if posture.pitch_deg == 0.0 and posture.roll_deg == 0.0:
        return 0.0
    gauging = plant.gauging
    worst = 0.0
    shares = (0.0, 0.25, 0.5, 0.75, 1.0)
    states = [taken.at(share) for share in shares]
    for tank in range(plant.tanks):
        seen = [
            gauging.gauged_kg(tank, taken.start_s + share * taken.length_s, state, posture)
            for share, state in zip(shares, states, strict=True)
        ]
        for share, kg in zip(shares, seen, strict=True):
            bend = abs(kg - seen[0] - share * (seen[-1] - seen[0]))
            if bend > worst:
                worst = bend
    # A gauge bends at corners, where a probe falls dry: there a line's error falls with its length alone.
    worst /= LINE_ERROR_GAUGED_KG
    return worst * worst


def _air_bend(segment: Segment, taken: Step) -> float:
    """How far the total temperature bends between the step's ends: T (1 + 0.2 M²), M a straight line."""
    mach = segment.mach_per_s * taken.length_s
    return 0.25 * 0.2 * SEA_LEVEL_K * mach * mach / LINE_ERROR_AIR_K

"""The mouth of a gravity transfer's pipe: its pipe full, part full, or dry.

A full pipe runs full until its mouth comes out of the fuel. Air is in it then, and it stays dry until fuel
stands over the mouth again. From there it runs part full, as over a weir, with what the fuel over its mouth
gives, and is full again when enough covers it. So what trickles into a tank that is as good as empty goes
straight on, and no flap opens and shuts at every hair.
"""

from wetwing.flight.facts import Watch
from wetwing.flight.watches import falls_to, rises_to
from wetwing.flight.wiring import PART_FULL
from wetwing.physics.tank import FULL_PIPE_KG

FULL, DRY = "full", "dry"

WETS_KG = 10.0
"""Over the mouth, what wets a dry pipe."""

DRIES_KG = 1.0
"""Over the mouth, a film that gives nothing more."""


def next_mouth(mouth: str, over_kg: float) -> str:
    """What a mouth has become, with so much fuel over it."""
    if mouth == FULL:
        return FULL if over_kg > 0.0 else DRY
    if mouth == DRY:
        return PART_FULL if over_kg >= WETS_KG else DRY
    if over_kg >= FULL_PIPE_KG:
        return FULL
    return PART_FULL if over_kg > DRIES_KG else DRY


def mouth_watches(mouth: str, tank: int, mouth_kg: float) -> list[Watch]:
    """What turns a mouth next; `mouth_kg` is what the tank holds below it."""
    if mouth == FULL:
        return [falls_to(tank, mouth_kg)]
    if mouth == DRY:
        return [rises_to(tank, mouth_kg + WETS_KG)]
    return [falls_to(tank, mouth_kg + DRIES_KG), rises_to(tank, mouth_kg + FULL_PIPE_KG)]

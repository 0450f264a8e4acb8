"""The comparisons of physics whose turning is an event: each is true once the event has come."""

from wetwing.flight.facts import Watch
from wetwing.flight.plant import Flows, Plant
from wetwing.physics.fuel import DENSITY_SLOPE_KG_M3_K

OPENING_BAR = 1e-9
"""A check valve is open when the pressure behind it is higher than that before it by more than this."""


def falls_to(tank: int, kg: float) -> Watch:
    """A tank's mass comes down to `kg`."""
    return Watch(lambda t, y, f: kg - y[tank], strict=False, needs_flows=False)


def rises_to(tank: int, kg: float) -> Watch:
    """A tank's mass comes up to `kg`."""
    return Watch(lambda t, y, f: y[tank] - kg, strict=False, needs_flows=False)


def volume_rises_to(plant: Plant, tank: int, volume_l: float) -> Watch:
    """A tank's volume comes up to `volume_l`."""
    return Watch(lambda t, y, f: plant.volume_l(tank, y) - volume_l, strict=False, needs_flows=False)


def volume_falls_to(plant: Plant, tank: int, volume_l: float) -> Watch:
    """A tank's volume comes down to `volume_l`."""
    return Watch(lambda t, y, f: volume_l - plant.volume_l(tank, y), strict=False, needs_flows=False)


def gain_kg_s(plant: Plant, tank: int, at_l: float, flows: Flows) -> float:
    """What a tank at `at_l` gains beyond what keeps that volume while its temperature moves, kg/s."""
    return flows.slopes[tank] - at_l * 1e-3 * DENSITY_SLOPE_KG_M3_K * flows.slopes[plant.tanks + tank]


def gains(plant: Plant, tank: int, at_l: float) -> Watch:
    """A full tank begins to gain."""
    return Watch(lambda t, y, f: gain_kg_s(plant, tank, at_l, f), strict=True, needs_flows=True)


def spill_ends(tank: int) -> Watch:
    """A spilling tank loses more than it gains."""
    return Watch(lambda t, y, f: -f.spill_kg_h[tank], strict=True, needs_flows=True)


def opens(node: int, head_bar: float) -> Watch:
    """A source's head is above its node's pressure: its check valve is open."""
    return Watch(lambda t, y, f: head_bar - f.node_bar[node] - OPENING_BAR, strict=True, needs_flows=True)


def starves(node: int, least_bar: float) -> Watch:
    """A node's pressure is below what a user can draw against."""
    return Watch(lambda t, y, f: least_bar - f.node_bar[node], strict=True, needs_flows=True)

"""The comparisons of physics whose turning is an event: each is true once the event has come."""

from collections.abc import Callable

from wetwing.flight.facts import Watch
from wetwing.flight.plant import Flows, Plant
from wetwing.flight.readers import inlet_margin_bar, over_bypass_bar
from wetwing.physics.air import GRAVITY_M_S2
from wetwing.physics.fuel import DENSITY_SLOPE_KG_M3_K, density_kg_m3
from wetwing.physics.vapour import PA_BAR

OPENING_BAR = 1e-9
"""A check valve is open when the pressure behind it is higher than that before it by more than this."""

FLAP_M = 1e-4
"""Head that lifts a flap: levels that have met drift, and a flap must not open and shut at every hair."""


def falls_to(tank: int, kg: float) -> Watch:
    """A tank's mass comes down to `kg`."""
    return Watch(lambda t, y, f: kg - y[tank], strict=False, needs_flows=False)


def rises_to(tank: int, kg: float) -> Watch:
    """A tank's mass comes up to `kg`."""
    return Watch(lambda t, y, f: y[tank] - kg, strict=False, needs_flows=False)


def transfer_head_m(plant: Plant, transfer: int, state: list[float], flows: Flows) -> float:
    """What drives a gravity transfer: the surface behind its flap above that before it, less any vacuum."""
    a, b, _ = plant.transfers[transfer]
    vacuum_bar = flows.fed.vacuum_bar[a] - flows.fed.vacuum_bar[b]
    density = density_kg_m3(plant.density_15c, state[plant.tanks + a])
    return plant.head_m(transfer, state) - vacuum_bar * PA_BAR / (density * GRAVITY_M_S2)


def flap_opens(plant: Plant, transfer: int) -> Watch:
    """A gravity transfer's head lifts its flap."""
    return Watch(
        lambda t, y, f: transfer_head_m(plant, transfer, y, f) - FLAP_M, strict=False, needs_flows=False
    )


def flap_shuts(plant: Plant, transfer: int) -> Watch:
    """A gravity transfer's head is gone."""
    return Watch(lambda t, y, f: -transfer_head_m(plant, transfer, y, f), strict=False, needs_flows=False)


def sensed_l(plant: Plant, sensor: str, tank: int) -> Callable[[float, list[float]], float]:
    """The volume that a level sensor takes its tank to hold: the true one, unless it is wrong."""
    faults = plant.faults

    def litres(time_s: float, state: list[float]) -> float:
        true = plant.volume_l(tank, state)
        return faults.reading(sensor, true, time_s, 1.0) if sensor in faults.slips else true

    return litres


def wets(plant: Plant, sensor: str, tank: int, at_l: float) -> Watch:
    """A sensor comes under the fuel."""
    litres = sensed_l(plant, sensor, tank)
    return Watch(lambda t, y, f: litres(t, y) - at_l, strict=False, needs_flows=False)


def dries(plant: Plant, sensor: str, tank: int, at_l: float) -> Watch:
    """A sensor comes out of the fuel."""
    litres = sensed_l(plant, sensor, tank)
    return Watch(lambda t, y, f: at_l - litres(t, y), strict=False, needs_flows=False)


def rises_in(at: int, kg: float) -> Watch:
    """A component of the state comes up to `kg`."""
    return Watch(lambda t, y, f: y[at] - kg, strict=False, needs_flows=False)


def falls_in(at: int, kg: float) -> Watch:
    """A component of the state comes down to `kg`."""
    return Watch(lambda t, y, f: kg - y[at], strict=False, needs_flows=False)


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


def opens(source: int, node: int) -> Watch:
    """A source's head is above its node's pressure: its check valve is open."""
    return Watch(
        lambda t, y, f: f.fed.source_head_bar[source] - f.node_bar[node] - OPENING_BAR,
        strict=True,
        needs_flows=True,
    )


def flows_back(source: int) -> Watch:
    """Fuel passes a source backwards, through a check valve that is stuck open."""
    return Watch(lambda t, y, f: -f.source_kg_h[source], strict=True, needs_flows=True)


def pushes_out(node: int) -> Watch:
    """A point with a way out, such as a leak, comes above ambient pressure: there the flow begins, with a
    bend that no step may straddle.
    """
    return Watch(lambda t, y, f: f.node_bar[node], strict=True, needs_flows=True)


def starves(plant: Plant, user: int) -> Watch:
    """More gas reaches a user's own pump than it takes."""
    return Watch(lambda t, y, f: -inlet_margin_bar(plant, user, t, f), strict=True, needs_flows=True)


def bypasses(plant: Plant, name: str) -> Watch:
    """A filter takes so much pressure that fuel passes round it."""
    return Watch(lambda t, y, f: over_bypass_bar(plant, name, t, f), strict=True, needs_flows=True)

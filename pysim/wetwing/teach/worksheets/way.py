"""What a worksheet takes from a flight: its take-off and landing, its fuel by purpose, its holding flow."""

from itertools import pairwise

from wetwing.aircraft.model import Aircraft
from wetwing.flight.record import Flight
from wetwing.flight.script import Script
from wetwing.physics.burn import Aeroplane, holding_flow_kg_h
from wetwing.teach.timeline import Timeline

STARTS = ("starting", "running")
AFTER_UPLIFT_S = 120.0
"""The gauges are read so long after the last fuel has come: a parameter of this project."""


def take_off_s(script: Script) -> float:
    """When the take-off begins: the aircraft stands still for the last time before it flies. The beginning of
    the flight where the script starts in the air.
    """
    at = next((i for i, point in enumerate(script.path) if not point.ground), 0)
    while at > 0 and not (script.path[at].ground and script.path[at].mach == 0.0):
        at -= 1
    return script.path[at].time_s


def touchdown_s(script: Script) -> float | None:
    """When the flight lands, or None where it does not."""
    return next(
        (
            first.time_s
            for first, second in zip(script.path, script.path[1:], strict=False)
            if not first.ground and second.ground
        ),
        None,
    )


def landing_s(flight: Flight) -> float:
    """When the flight lands, or ends."""
    found = touchdown_s(flight.script)
    return flight.duration_s if found is None else min(found, flight.duration_s)


def first_start_s(flight: Flight) -> float:
    """When the first engine starts; the beginning where engines run from the start, or never."""
    engines = {engine.name for engine in flight.aircraft.engines}
    return next((c.time_s for c in flight.changes if c.part in engines and c.after in STARTS), 0.0)


def taxi_start_s(flight: Flight) -> float:
    """When the flight's own fuel begins to burn: the APU or an engine starts, whichever is first.

    The beginning of the flight where one runs from the start, or none ever starts.
    """
    names = {engine.name for engine in flight.aircraft.engines} | _apus(flight.aircraft)
    if any(flight.state(name, 0.0) in STARTS for name in names):
        return 0.0
    return next((c.time_s for c in flight.changes if c.part in names and c.after in STARTS), 0.0)


def _apus(aircraft: Aircraft) -> set[str]:
    return {part.name for part in aircraft.parts.values() if part.kind == "apu"}


def apu_burned_kg(flight: Flight, from_s: float, to_s: float) -> float:
    """Fuel burned by the APU between two times: its flow is a straight line from keyframe to keyframe."""
    edges = [from_s, *(time_s for time_s in flight.time_s if from_s < time_s < to_s), to_s]
    timeline, total_kg = Timeline(flight), 0.0
    for name in sorted(_apus(flight.aircraft)):
        for start_s, end_s in pairwise(edges):
            if end_s > start_s:
                first_kg_h, last_kg_h = timeline.line(f"{name}.flow_kg_h", start_s, end_s)
                total_kg += 0.5 * (first_kg_h + last_kg_h) * (end_s - start_s) / 3600.0
    return total_kg


def burned_kg(flight: Flight, from_s: float, to_s: float) -> float:
    """Fuel burned between two times, by engines and APU."""
    return flight.quantity("total.burned_kg", to_s) - flight.quantity("total.burned_kg", from_s)


def unusable_kg(aircraft: Aircraft) -> float:
    """What no gauge counts."""
    return sum(tank.unusable_kg for tank in aircraft.tanks)


def capacity_l(aircraft: Aircraft) -> float:
    """What refuelling can put in: each tank up to its high-level sensor; all of a tank that has none."""
    total_l = 0.0
    for tank in aircraft.tanks:
        levels = [sensor.wet_at_l for sensor in aircraft.sensors if sensor.tank == tank.name]
        highest_l = max(levels, default=0.0)
        # A low-level sensor says nothing of how much goes in.
        total_l += highest_l if highest_l > 0.5 * tank.capacity_l else tank.capacity_l
    return total_l


def uplift_end_s(flight: Flight) -> float | None:
    """When the last fuel of the refuelling has come, or None where none came before the first start."""
    column = flight.quantities["total.uplifted_kg"]
    most_kg = flight.quantity("total.uplifted_kg", first_start_s(flight))
    if most_kg <= 0.0:
        return None
    return next(time_s for time_s, held in zip(flight.time_s, column, strict=True) if held >= most_kg - 1e-6)


def aeroplane(aircraft: Aircraft) -> Aeroplane:
    """The aircraft as the formulae of the burn take it."""
    frame = aircraft.airframe
    return Aeroplane(
        wing_area_m2=frame.wing_area_m2,
        drag_zero_lift=frame.drag_zero_lift,
        induced_factor=frame.drag_induced,
        static_thrust_n=frame.engine_thrust_n,
        static_flow_kg_h=frame.static_flow_kg_h,
        engines=len(aircraft.engines),
    )


def holding_kg_h(flight: Flight, gross_kg: float) -> float:
    """Flow of all engines in the hold at a mass: least drag, clean, 1,500 ft, standard day."""
    least_kg_h = sum(engine.idle_flow_kg_h for engine in flight.aircraft.engines)
    flow = holding_flow_kg_h(aeroplane(flight.aircraft), gross_kg, wear_factor=flight.script.wear_factor)
    return max(least_kg_h, flow)


def highest(script: Script) -> tuple[float, float]:
    """Altitude in feet and Mach number of the highest point of the way."""
    point = max(script.path, key=lambda each: each.altitude_ft)
    return point.altitude_ft, point.mach

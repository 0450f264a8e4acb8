"""How the fuel lies: for one attitude, the volumes at which sensors and pick-ups are reached, and levels.

A sensor or a pick-up is a point in its tank. The aircraft's file says what its tank holds when the fuel, at
level attitude, reaches that point; with the nose up or a wing low it is reached at another volume.
"""

from wetwing.aircraft.model import Aircraft
from wetwing.physics.probes import Gauge
from wetwing.physics.tank_shape import Attitude, TankShape


class Posture:
    """One attitude of an aircraft: pitch and roll away from level cruise, degrees."""

    def __init__(self, frame: "Frame", pitch_deg: float, roll_deg: float) -> None:
        aircraft = frame.aircraft
        self.pitch_deg = pitch_deg
        self.roll_deg = roll_deg
        self.attitudes: list[Attitude] = [shape.at(pitch_deg, roll_deg) for shape in frame.shapes]
        tank = frame.tank_index
        sources = (*aircraft.pumps, *aircraft.bypasses)
        self.uncovers_l: list[float] = []
        self.recovers_l: list[float] = []
        for source in sources:
            i = tank[source.tank or ""]
            self.uncovers_l.append(self._reached(frame, i, source.uncovers_l, source.at_m))
            self.recovers_l.append(self._reached(frame, i, source.recovers_l, source.at_m))
        for _ in aircraft.supplies:
            self.uncovers_l.append(0.0)
            self.recovers_l.append(0.0)
        self.wet_l: list[float] = []
        self.dry_l: list[float] = []
        for sensor in aircraft.sensors:
            i = tank[sensor.tank]
            self.wet_l.append(self._reached(frame, i, sensor.wet_at_l, sensor.at_m))
            self.dry_l.append(self._reached(frame, i, sensor.dry_at_l, sensor.at_m))
        self.jet_stops_l: list[float] = []
        self.jet_recovers_l: list[float] = []
        for jet in aircraft.jet_pumps:
            i = tank[jet.from_tank]
            self.jet_stops_l.append(self._reached(frame, i, jet.stops_l, jet.at_m))
            self.jet_recovers_l.append(self._reached(frame, i, jet.recovers_l, jet.at_m))

    def _reached(self, frame: "Frame", tank: int, level_l: float, at_m: tuple[float, float]) -> float:
        if self.pitch_deg == 0.0 and self.roll_deg == 0.0:
            return level_l
        # The height at level attitude is that of the flat surface, wherever in the tank the point stands.
        z = frame.level[tank].level_exactly_m(level_l)
        reached = self.attitudes[tank].volume_below_l(at_m[0], at_m[1], z)
        # A pick-up that the tilt lays bare needs more fuel; one that it drowns still needs a little.
        return max(reached, 0.3 * level_l)


class Frame:
    """An aircraft's tanks as shapes with their gauges, and the postures met so far."""

    def __init__(self, aircraft: Aircraft) -> None:
        self.aircraft = aircraft
        self.tank_index = {tank.name: i for i, tank in enumerate(aircraft.tanks)}
        self.shapes = [
            TankShape(
                tank.outline_m,
                tank.bottom_m,
                tank.dihedral_deg,
                tank.depth_m,
                tank.depth_outboard_m,
                tank.capacity_l,
            )
            for tank in aircraft.tanks
        ]
        self.level = [shape.at(0.0, 0.0) for shape in self.shapes]
        self.probes = [
            [probe for probe in aircraft.probes if probe.tank == tank.name] for tank in aircraft.tanks
        ]
        self.gauges = [
            Gauge(shape, tuple(probe.at_m for probe in probes)) if probes else None
            for shape, probes in zip(self.shapes, self.probes, strict=True)
        ]
        self._known: dict[tuple[float, float], Posture] = {}

    def at(self, pitch_deg: float, roll_deg: float) -> Posture:
        """The posture at an attitude; made once."""
        key = (pitch_deg, roll_deg)
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = Posture(self, pitch_deg, roll_deg)
        return found

"""What the crew sees of the fuel: probes, compensators, totaliser and meters, right or wrong.

A probe sees how far it is covered, and a compensator what the fuel is like. A gauge multiplies the volume
that its probes make of that by the density that its compensator makes of it, and takes off what is unusable:
it reads zero at unusable (14 CFR 25.1337(b)). Where the aircraft's file says so, its computer knows pitch and
roll, and allows for them. A blank reading is not a number, so no condition on it holds.
"""

from wetwing.aircraft.model import Aircraft
from wetwing.flight.faults import Faults
from wetwing.flight.posture import Frame, Posture
from wetwing.physics.dielectric import POLARISATION_M3_KG, density_from_dielectric_kg_m3, dielectric_constant
from wetwing.physics.fuel import (
    DENSITY_SLOPE_KG_M3_K,
    LEAST_DENSITY_KG_M3,
    MOST_DENSITY_KG_M3,
    REFERENCE_C,
)

BLANK = float("nan")
DEAD_DIELECTRIC = 2.1
"""What a gauge takes for its fuel where the compensator is dead: that of fuel of 0.80 kg/L."""

WATER_DIELECTRIC = 80.0


class Gauging:
    """The gauges of one flight. `no_signal` names gauging parts without power; the world keeps it."""

    def __init__(self, aircraft: Aircraft, frame: Frame, faults: Faults, density_15c_kg_m3: float) -> None:
        self.aircraft = aircraft
        self.frame = frame
        self.faults = faults
        self.density_15c_kg_m3 = density_15c_kg_m3
        self.corrected = aircraft.corrects_attitude
        self.tanks = len(aircraft.tanks)
        self.unusable = [tank.unusable_kg for tank in aircraft.tanks]
        self.names = [[probe.name for probe in probes] for probes in frame.probes]
        by_tank = {compensator.tank: compensator.name for compensator in aircraft.compensators}
        self.compensators = [by_tank.get(tank.name, "") for tank in aircraft.tanks]
        self.totaliser = aircraft.totalisers[0].name if aircraft.totalisers else ""
        by_engine = {meter.engine: meter.name for meter in aircraft.meters}
        self.meters = [by_engine.get(engine.name, "") for engine in aircraft.engines]
        self.no_signal: set[str] = set()
        self._wrong = [False] * self.tanks
        self._wrong_for: tuple[object, object] = (None, None)
        # Gauge, totaliser, imbalance and ledger all ask for the same readings, at each keyframe and event.
        self._read: list[float | None] = []
        self._read_for: tuple[object, ...] = (None,)
        self._read_s = -1.0

    def gauged_kg(self, tank: int, time_s: float, state: list[float], posture: Posture) -> float:
        """What a tank's gauge reads, kg; not a number where it is blank."""
        asked = self._read_for
        if (
            state is not asked[0]
            or time_s != self._read_s
            or posture is not asked[1]
            or self.faults.slips is not asked[2]
            or self.no_signal is not asked[3]
        ):
            self._read_for = (state, posture, self.faults.slips, self.no_signal)
            self._read_s = time_s
            self._read = [None] * self.tanks
        found = self._read[tank]
        if found is None:
            found = self._read[tank] = self._reading_kg(tank, time_s, state, posture)
        return found

    def _reading_kg(self, tank: int, time_s: float, state: list[float], posture: Posture) -> float:
        density = self.density_15c_kg_m3 + DENSITY_SLOPE_KG_M3_K * (state[self.tanks + tank] - REFERENCE_C)
        held = state[tank]
        gauge = self.frame.gauges[tank]
        if gauge is not None:
            if (self.faults.any or self.no_signal) and self._is_wrong(tank):
                return self._troubled(tank, time_s, 1000.0 * held / density, density, posture)
            if posture.pitch_deg != 0.0 or posture.roll_deg != 0.0:
                volume_l = 1000.0 * held / density
                read_l = gauge.reads_l(posture.attitudes[tank], volume_l, (), self.corrected)
                held = read_l * density * 1e-3
        low = self.unusable[tank]
        return held - low if held > low else 0.0

    def _is_wrong(self, tank: int) -> bool:
        """Whether anything of a tank's own gauge is broken or silent, or water lies at its probes. A trouble
        elsewhere leaves it as it is, to the last bit.
        """
        slips, silent = self.faults.slips, self.no_signal
        # Both are made anew when anything in them changes, and the water with the slips.
        if self._wrong_for[0] is not slips or self._wrong_for[1] is not silent:
            self._wrong = [
                self.faults.water_l[i] > 0.0
                or any(name in slips or name in silent for name in (*names, compensator))
                for i, (names, compensator) in enumerate(zip(self.names, self.compensators, strict=True))
            ]
            self._wrong_for = slips, silent
        return self._wrong[tank]

    def _troubled(
        self, tank: int, time_s: float, volume_l: float, density_kg_m3: float, posture: Posture
    ) -> float:
        gauge = self.frame.gauges[tank]
        names = self.names[tank]
        faults = self.faults
        lost = tuple(i for i, name in enumerate(names) if name in self.no_signal)
        if gauge is None or len(lost) == len(names):
            return BLANK
        if posture.pitch_deg == 0.0 and posture.roll_deg == 0.0:
            litres = volume_l
        else:
            litres = gauge.reads_l(posture.attitudes[tank], volume_l, lost, self.corrected)
        kept = [name for i, name in enumerate(names) if i not in lost]
        wrong = [name for name in kept if name in faults.slips]
        if wrong:
            # Each probe has its share of the reading; a slip is a share of what it measures.
            each = [
                faults.reading(name, litres, time_s, 0.01 * litres) if name in wrong else litres
                for name in kept
            ]
            litres = sum(each) / len(each)
        true = dielectric_constant(min(max(density_kg_m3, LEAST_DENSITY_KG_M3), MOST_DENSITY_KG_M3))
        water_l = faults.water_l[tank]
        if water_l > 0.0:
            # Water lies at the foot of the lowest probe alone, and counts there by its own constant.
            litres += water_l * (WATER_DIELECTRIC - true) / (true - 1.0) / len(names)
        compensator = self.compensators[tank]
        taken = true
        if compensator in self.no_signal:
            taken = DEAD_DIELECTRIC
        elif compensator in faults.slips:
            taken = faults.reading(compensator, true, time_s, 0.01 * true)
            taken = min(max(taken, 1.2), 80.0)
        # The probes' signal is in proportion to K - 1 of the fuel that they stand in.
        kg = litres * (true - 1.0) / (taken - 1.0) * self._density_of(taken, true, density_kg_m3) * 1e-3
        low = self.unusable[tank]
        return kg - low if kg > low else 0.0

    def _density_of(self, taken: float, true: float, density_kg_m3: float) -> float:
        if taken == true:
            return density_kg_m3
        return density_from_dielectric_kg_m3(taken, POLARISATION_M3_KG)

    def total_kg(self, time_s: float, state: list[float], posture: Posture) -> float:
        """What the totaliser reads, kg; not a number where it, or a gauge, is blank."""
        total = 0.0
        for tank in range(self.tanks):
            total += self.gauged_kg(tank, time_s, state, posture)
        if self.totaliser in self.no_signal:
            return BLANK
        if self.totaliser in self.faults.slips:
            return self.faults.reading(self.totaliser, total, time_s, 1.0)
        return total

    def metered_kg_h(self, engine: int, true_kg_h: float, time_s: float) -> float:
        """What an engine's meter says of a flow; nothing where it has no signal."""
        name = self.meters[engine]
        if name in self.no_signal:
            return 0.0
        if name in self.faults.slips:
            return max(0.0, self.faults.reading(name, true_kg_h, time_s, 0.01 * true_kg_h))
        return true_kg_h

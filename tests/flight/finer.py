"""The same flight by tighter steps, and by another integrator between the same events."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest
from scipy.integrate import solve_ivp  # type: ignore[import-untyped]

import wetwing.flight.fly as flying
from wetwing.aircraft.model import Aircraft
from wetwing.flight.path import Segment
from wetwing.flight.plant import Plant
from wetwing.flight.record import Flight
from wetwing.flight.script import Script
from wetwing.flight.wiring import Configuration

TIGHT = {
    "LONGEST_STEP_S": 5.0,
    "STEP_ERROR_KG": 1e-7,
    "STEP_ERROR_K": 1e-7,
    "LINE_ERROR_KG": 0.02,
    "LINE_ERROR_K": 0.005,
    "LINE_ERROR_KG_H": 0.2,
}


def finer(patch: pytest.MonkeyPatch, aircraft: Aircraft, script: Script) -> Flight:
    """The flight by steps of five seconds at most, each held to a hundredth of the usual error or less."""
    with patch.context() as tight:
        for name, value in TIGHT.items():
            tight.setattr(flying, name, value)
        return flying.fly(aircraft, script)


@dataclass
class Stretch:
    """A piece of a flight in which nothing discrete changes."""

    start_s: float
    end_s: float
    state: list[float]
    configuration: Configuration
    segment: Segment


class Recorder(flying.Flying):
    """Keeps what the continuous side was between each two events."""

    def flight(self) -> Flight:
        self.stretches: list[Stretch] = []
        self.final: list[float] = []
        found = super().flight()
        self.final = self.world.state
        return found

    def _advance(self, limit_s: float, cut_s: float) -> None:
        start_s, state = self.world.time_s, list(self.world.state)
        configuration, segment = self.configuration, self.segment
        super()._advance(limit_s, cut_s)
        last = self.stretches[-1] if self.stretches else None
        if last and last.configuration is configuration and last.segment is segment:
            last.end_s = self.world.time_s
        else:
            self.stretches.append(Stretch(start_s, self.world.time_s, state, configuration, segment))


def by_scipy(
    plant: Plant,
    stretch: Stretch,
    state: list[float],
    until: Callable[[float, list[float]], float] | None = None,
) -> tuple[float, list[float]]:
    """Time and state at the end of a stretch, or where `until` crosses zero, by an eighth-order method."""
    events = None
    if until is not None:

        def crossing(time_s: float, y: np.ndarray) -> float:
            return until(time_s, list(y))

        crossing.terminal = True  # type: ignore[attr-defined]
        events = [crossing]
    # As it was along the stretch: the flight has gone on since, and its battery has been switched off.
    plant.posture = plant.postures[plant.segments.index(stretch.segment)]
    plant.gauging.no_signal = set()
    found = solve_ivp(
        lambda time_s, y: plant.slopes(stretch.configuration, stretch.segment, time_s, list(y)),
        (stretch.start_s, stretch.end_s + (600.0 if until else 0.0)),
        state,
        method="DOP853",
        rtol=1e-10,
        atol=1e-8,
        events=events,
    )
    assert found.success
    return float(found.t[-1]), [float(value) for value in found.y[:, -1]]

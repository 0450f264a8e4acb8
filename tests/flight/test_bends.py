"""Where the engines' fuel flow bends, as thrust leaves idle: against a law written for the tests."""

from dataclasses import replace
from itertools import pairwise
from typing import Any
from unittest.mock import patch

import pytest

import wetwing.flight.fly as flying
from tests.flight.by_hand import FOOT_M, flow_kg_h, pressure_pa
from tests.flight.flights import alder, day_sector, flown
from wetwing.aircraft.model import Aircraft
from wetwing.flight.bends import bend_s
from wetwing.flight.fly import Flying, fly
from wetwing.flight.record import Flight

SLATS = 0.018
"""What they add to the drag."""


def found_in(flight: Flight) -> list[float]:
    """The bends that ended a step of a flight."""
    found: list[float] = []

    def noting(*given: Any) -> float | None:
        bend = bend_s(*given)
        if bend is not None:
            found.append(bend)
        return bend

    with patch.object(flying, "bend_s", noting):
        assert fly(alder(), flight.script).time_s == flight.time_s
    return found


def asked_kg_h(flight: Flight, time_s: float, extra_drag: float) -> float:
    """What the thrust asks of each of two engines, by the slopes of the script's path."""
    path = flight.script.path
    begin, end = next((a, b) for a, b in pairwise(path) if a.time_s <= time_s < b.time_s)
    length_s = end.time_s - begin.time_s
    share = (time_s - begin.time_s) / length_s
    return flow_kg_h(
        (begin.altitude_ft + share * (end.altitude_ft - begin.altitude_ft)) * FOOT_M,
        begin.mach + share * (end.mach - begin.mach),
        flight.quantity("flight.gross_kg", time_s),
        (end.altitude_ft - begin.altitude_ft) * FOOT_M / length_s,
        (end.mach - begin.mach) / length_s,
        extra_drag=extra_drag,
    )


def test_a_step_ends_where_the_thrust_leaves_idle() -> None:
    flight = flown()
    bends = [bend for bend in found_in(flight) if 25_020.0 < bend < 25_110.0]
    assert bends
    ratio = pressure_pa(flight.quantity("flight.altitude_ft", bends[-1]) * FOOT_M) / 101_325.0
    idle_kg_h = 365.0 * (0.7 + 0.3 * ratio)
    assert asked_kg_h(flight, bends[-1], SLATS) == pytest.approx(idle_kg_h, abs=0.02)
    # What was found before, from further off, was as near as the mass could be foretold.
    assert bends[0] == pytest.approx(bends[-1], abs=0.1)
    # The flow itself has its corner there.
    assert min(abs(time_s - bends[-1]) for time_s in flight.time_s) < 1e-3


def test_a_bend_that_is_known_saves_steps() -> None:
    def steps() -> int:
        with patch.object(flying, "step", side_effect=flying.step) as tried:
            fly(alder(), day_sector())
        return tried.call_count

    known = steps()
    with patch.object(flying, "bend_s", return_value=None):
        assert steps() >= known + 8


def bend_between(aircraft: Aircraft, start_s: float, end_s: float) -> float | None:
    """The bend between two times of the demonstration flight's path, with both engines running and its
    first load.
    """
    made = Flying(aircraft, day_sector())
    plant, world = made.plant, made.world
    running = ("running", "running", *("off" for _ in aircraft.apus))
    idle = made.configuration.active
    configuration = plant.configure(replace(idle, users=running))
    segment = next(s for s in plant.segments if s.start_s <= start_s < s.end_s)
    return bend_s(plant, configuration, segment, world.flows, start_s, end_s)


def test_the_first_of_several_bends_is_found_and_none_where_none_is() -> None:
    aircraft = alder()

    def bend(*idles_kg_h: float, start_s: float = 25_140.0) -> float | None:
        engines = [
            replace(engine, idle_flow_kg_h=idle)
            for engine, idle in zip(aircraft.engines, idles_kg_h, strict=True)
        ]
        return bend_between(replace(aircraft, engines=tuple(engines)), start_s, 25_379.0)

    early, late = bend(200.0, 200.0), bend(300.0, 300.0)
    assert early is not None
    assert late is not None
    assert early < late - 60.0
    assert bend(200.0, 300.0) == bend(300.0, 200.0) == early
    # One has turned already.
    assert bend(200.0, 300.0, start_s=early + 1.0) == pytest.approx(late, abs=1e-3)
    assert bend(400.0, 400.0) is None
    # Nothing bends in a cruise along which nothing changes.
    assert bend_between(aircraft, 10_000.0, 12_000.0) is None

"""Whole flights against an oracle: other equations' text, another network solver, another integrator.

`ORACLE_FLIGHTS=200` in the environment follows that many random flights instead of a few.
"""

import os

import pytest

import wetwing.flight.feed as feed
import wetwing.flight.fly as flying
import wetwing.flight.plant as plant
import wetwing.physics.burn as burn
import wetwing.physics.heat as heat
from tests.flight.flights import edit
from tests.flight.random_scripts import aircraft_of, drawn, flights_of, script_of
from tests.oracle.follow import NEAR_S, Disagreement, Oracle, follow
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight
from wetwing.flight.script import with_edits

COUNT = int(os.environ.get("ORACLE_FLIGHTS", "12"))
MOST_EVENTS = 400
"""Of one flight: where automatics chatter for hours, the first few hundred events tell enough."""

KG, KELVIN, SHARE = 0.1, 0.05, 1e-4
FLIGHTS = {
    "the demonstration flight": ("alder-165", ()),
    "centre feed in manual": ("alder-165", ("1:30:00 centre-feed=manual",)),
    "cross-feed open": ("alder-165", ("2:00:00 cross-feed=open",)),
    "slats out before the start": ("alder-165", ("0:30:00 slats=out",)),
    "a leak in a tank": ("alder-165", ("3:00:00 main-left=leak 1200",)),
    "a leak after the meter": ("alder-165", ("3:00:00 engine-1=leak after the meter 800",)),
    "a leak, and the cross-feed opened on it": (
        *("alder-165",),
        ("2:30:00 main-right=leak 2500", "3:10:00 cross-feed=open", "5:00:00 main-right=mended"),
    ),
    "both pumps of a main tank failed": (
        *("alder-165",),
        ("3:00:00 main-right-aft=failed", "3:00:00 main-right-forward=failed"),
    ),
    "a check valve stuck open": (
        *("alder-165",),
        ("2:00:00 centre-right=check valve stuck open", "2:10:00 centre-right=off"),
    ),
    "a check valve stuck open at a pick-up that runs dry": (
        *("alder-165",),
        (
            "6:46:00 main-left=leak 20000",
            "7:04:00 centre-left=failed",
            "7:04:00 main-left-forward=failed",
            "7:04:00 main-left-aft=failed",
            "7:04:00 bypass-left=check valve stuck open",
            "7:10:00 main-left=mended",
            "7:10:00 cross-feed=open",
        ),
    ),
    "gauges that lie": (
        *("alder-165",),
        ("0:01:00 compensator-main-left=biased 5", "1:00:00 probe-main-right-3=no signal"),
    ),
    "revision B": ("alder-165-b", ()),
    "the turboprop": ("rowan-54", ()),
    "the long flight": ("juniper-285", ()),
}


def flown(name: str) -> Flight:
    aircraft, edits = FLIGHTS[name]
    craft = aircraft_of(aircraft)
    script = script_of(flights_of(aircraft)[0], aircraft)
    return fly(craft, with_edits(script, tuple(edit(text) for text in edits), craft))


def assert_agrees(oracle: Oracle) -> None:
    """Events within ten milliseconds, but for the few whose margin hardly moves; masses and temperatures."""
    assert oracle.late.value <= NEAR_S, oracle.late
    assert oracle.kg.value <= KG, oracle.kg
    assert oracle.kelvin.value <= KELVIN, oracle.kelvin
    assert oracle.share.value <= SHARE, oracle.share
    assert oracle.events > 20


@pytest.mark.parametrize("name", FLIGHTS)
def test_a_flight_is_that_of_the_oracle(name: str) -> None:
    oracle = follow(flown(name))
    assert_agrees(oracle)
    assert len(oracle.slow) <= 0.1 * oracle.events, oracle.slow


def finer_steps(patch: pytest.MonkeyPatch, share: float) -> None:
    for name in ("STEP_ERROR_KG", "STEP_ERROR_K", "STEP_ERROR_OIL_K"):
        patch.setattr(flying, name, share * getattr(flying, name))


@pytest.mark.parametrize("name", ["centre feed in manual", "the turboprop"])
def test_with_finer_steps_the_two_agree_to_grams_and_milliseconds(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    finer_steps(monkeypatch, 0.02)
    oracle = follow(flown(name))
    assert oracle.slow == []
    assert oracle.late.value <= 0.005, oracle.late
    assert oracle.kg.value <= 0.02, oracle.kg
    assert oracle.kelvin.value <= 0.001, oracle.kelvin


@pytest.mark.parametrize("seed", range(COUNT))
def test_a_random_flight_is_that_of_the_oracle(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    # Finer steps: here the equations and the order of events are tested, whatever happens. What the usual
    # steps are worth is tested above.
    finer_steps(monkeypatch, 0.1)
    flight = drawn(seed)
    try:
        oracle = follow(fly(flight.aircraft, flight.script), MOST_EVENTS)
    except Disagreement as found:
        raise AssertionError(flight.told()) from found
    assert oracle.kg.value <= KG, (oracle.kg, flight.told())
    assert oracle.kelvin.value <= KELVIN, (oracle.kelvin, flight.told())
    assert oracle.late.value <= NEAR_S, (oracle.late, flight.told())


SLIPS = {
    "oil cooler": (heat, "EFFECTIVENESS", 0.89),
    "pump curves": (feed, "PUMP_DENSITY_KG_M3", 805.0),
    "dissolved air": (plant, "AIR_TIME_CONSTANT_S", 5300.0),
    "fuel flow": (burn, "C2", 1.978),
}


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_of_the_simulation_would_be_found(slip: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(*SLIPS[slip])
    with pytest.raises(AssertionError):
        assert_agrees(follow(flown("cross-feed open")))

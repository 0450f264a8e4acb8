"""A check valve stuck open at a source that gives nothing: fuel comes back through it, and none is drawn."""

from dataclasses import replace

import pytest

from tests.flight.flights import turn
from tests.flight.promises import assert_promises
from tests.flight.random_scripts import aircraft_of, fleet, flights_of, script_of
from tests.flight.trouble_flights import at_s, flown_as, gained, led_by, value
from wetwing.flight.fly import fly
from wetwing.flight.script import Edit, InitialTank, with_edits

STUCK = "check valve stuck open"
NEARLY_L = 1.3
TANKS = [
    (name, tank.name)
    for name in fleet()
    if flights_of(name)
    for tank in aircraft_of(name).tanks
    if any(source.tank == tank.name for source in (*aircraft_of(name).pumps, *aircraft_of(name).bypasses))
]


@pytest.mark.parametrize(("aircraft", "tank"), TANKS)
def test_no_tank_gives_more_than_it_holds(aircraft: str, tank: str) -> None:
    craft = aircraft_of(aircraft)
    script = script_of(flights_of(aircraft)[0], aircraft)
    sources = [each for each in (*craft.pumps, *craft.bypasses) if each.tank == tank]
    most_l = max(each.uncovers_l for each in sources)
    held = replace(script.tanks[tank], actual_kg=NEARLY_L * most_l * script.density_15c_kg_m3 * 1e-3)
    loaded: dict[str, InitialTank] = {**script.tanks, tank: held}
    edits = tuple(Edit(1.0, each.name, STUCK) for each in sources)
    flight = fly(craft, with_edits(replace(script, tanks=loaded), edits, craft))
    assert_promises(flight)
    assert min(flight.quantities[f"{tank}.actual_kg"]) >= 0.0


LEFT_RUNS_DRY = (
    "6:46:00 main-left=leak 20000",
    "7:04:00 centre-left=failed",
    "7:04:00 main-left-forward=failed",
    "7:04:00 main-left-aft=failed",
)
"""On the way to the stand the left engine lives on suction, until the bypass comes out of the fuel."""


def test_a_dry_bypass_that_is_stuck_open_feeds_no_engine() -> None:
    sound = turn(flown_as(*LEFT_RUNS_DRY), "bypass-left", "dry")
    flight = flown_as(*LEFT_RUNS_DRY, f"7:04:00 bypass-left={STUCK}")
    dry = turn(flight, "bypass-left", "dry")
    assert dry.time_s == pytest.approx(sound.time_s, abs=0.1)
    stopped = turn(flight, "engine-1", "stopped for want of fuel")
    assert stopped.time_s == dry.time_s
    assert flight.state("manifold-left", dry.time_s) == "unfed"


def test_fuel_comes_back_through_a_dry_bypass_and_covers_it_again() -> None:
    mended = "7:10:00"
    flight = flown_as(
        *LEFT_RUNS_DRY,
        f"7:04:00 bypass-left={STUCK}",
        f"{mended} main-left=mended",
        f"{mended} cross-feed=open",
    )
    assert turn(flight, "bypass-left", "dry").time_s < at_s(mended)
    back = turn(flight, "bypass-left", "flowing back", at_s(mended))
    assert back.time_s <= at_s(mended) + 5.0
    assert "edit-5" in led_by(flight, back)
    assert value(flight, "bypass-left.flow_kg_h", back.time_s + 30.0) < -1000.0
    assert gained(flight, "main-left.actual_kg", back.time_s, back.time_s + 120.0) > 30.0
    assert gained(flight, "main-right.actual_kg", back.time_s, back.time_s + 120.0) < -30.0

"""Learners' questions about disagreeing quantities, leaks and reserves, each answered by flights."""

from math import exp, sqrt

import pytest

from tests.flight.asked import asked
from tests.flight.flights import turn
from tests.flight.trouble_flights import GRAVITY_M_S2, alerts, at_s, flown_as, gained, looks, value
from wetwing.flight.record import Flight
from wetwing.physics.ledger import finding
from wetwing.physics.planning import final_reserve_kg, standing_of

LOOK = looks("2:00:00", "4:00:00")


def missing(flight: Flight, *times: str) -> list[float]:
    return [value(flight, "total.discrepancy_kg", time) for time in times]


# Sensed or computed fuel on board: believe which?
def test_the_lower_of_sensed_and_computed_is_never_more_than_there_is() -> None:
    def both(name: str) -> tuple[float, float, float]:
        flight = asked("sensed-or-computed", name, *LOOK)
        unusable, surge = 52.0, 0.0
        true = value(flight, "total.on_board_kg", "4:00:00") - unusable - surge
        return (
            value(flight, "total.gauged_kg", "4:00:00"),
            value(flight, "total.computed_kg", "4:00:00"),
            true,
        )

    sensed, computed, true = both("sound")
    assert sensed == pytest.approx(true, abs=5.0)
    assert computed == pytest.approx(true, abs=15.0)
    sensed, computed, true = both("meter-low")
    assert computed > true + 500.0
    assert sensed == pytest.approx(true, abs=5.0)
    sensed, computed, true = both("gauges-high")
    assert sensed > true + 500.0
    assert computed == pytest.approx(true, abs=15.0)
    sensed, computed, true = both("leak")
    assert computed > true + 500.0
    assert sensed == pytest.approx(true, abs=5.0)
    for name in ("sound", "meter-low", "gauges-high", "leak"):
        sensed, computed, true = both(name)
        assert min(sensed, computed) < true + 15.0, name


# The quantities disagree: what first?
def test_a_gauge_steps_a_leak_grows_and_a_meter_grows_with_level_tanks() -> None:
    times = ("2:50:00", "3:10:00", "3:30:00", "3:50:00", "4:10:00")
    gauge, leak, meter = (asked("what-first", name) for name in ("gauge", "leak", "meter"))
    assert finding(missing(gauge, *times), 350.0) == "gauge"
    assert finding(missing(leak, *times), 350.0) == "leak"
    assert finding(missing(flown_as(), *times), 350.0) == "agrees"
    # A meter that reads low grows like a leak. Two flow figures that differ on equal engines tell them apart.
    assert finding(missing(meter, *times), 350.0) == "leak"
    flows = [value(meter, f"engine-{n}.metered_kg_h", "4:00:00") for n in (1, 2)]
    assert flows[0] / flows[1] == pytest.approx(0.6, rel=1e-6)
    equal = [value(leak, f"engine-{n}.metered_kg_h", "4:00:00") for n in (1, 2)]
    assert equal[0] / equal[1] == pytest.approx(1.0, rel=1e-6)


def holding_flow_kg_h(mass_kg: float) -> float:
    """Two engines at the speed of least drag: D = 2 m g sqrt(c_D0 k)."""
    drag_n = 2.0 * mass_kg * GRAVITY_M_S2 * sqrt(0.0182 * 0.042)
    x = drag_n / 2.0 / 130_000.0
    return 2.0 * 4110.0 * 0.93756 * (1.0 - exp(-1.97676 * x * exp(1.39548 * x)))


# Does the low-level alert define the reserve?
def test_the_low_level_alert_is_a_fixed_quantity_and_the_reserve_is_not() -> None:
    at_alert, reserves = [], []
    for zero_fuel_kg in (60_000.0, 80_000.0):
        flight = asked("low-level-and-reserve", "little-fuel", zero_fuel_kg=zero_fuel_kg)
        sounds = turn(flight, "low-level-left", "on")
        at_alert.append(value(flight, "main-left.volume_l", sounds.time_s))
        reserves.append(final_reserve_kg(holding_flow_kg_h(zero_fuel_kg + 3000.0)))
    assert at_alert == pytest.approx([940.0, 940.0], abs=0.1)
    assert reserves[1] / reserves[0] > 1.25
    # Two mains at the alert hold for so long: not the reserve's thirty minutes, and longer if light.
    minutes = [60.0 * 2.0 * 0.75 * 940.0 / holding_flow_kg_h(mass) for mass in (63_000.0, 83_000.0)]
    assert minutes[0] > minutes[1] > 30.0


# "Minimum fuel" or an emergency?
def test_a_delay_makes_minimum_fuel_and_a_longer_one_an_emergency() -> None:
    flight = flown_as("0:03:30 preselect=20600")
    landed_kg = value(flight, "total.gauged_kg", "7:03:30")
    flow = value(flight, "engine-1.flow_kg_h", "6:50:00") + value(flight, "engine-2.flow_kg_h", "6:50:00")
    hold = max(flow, holding_flow_kg_h(flight.script.zero_fuel_kg + landed_kg))
    reserve = flight.script.plan_kg["final_reserve_kg"]
    assert landed_kg > reserve
    standings = [
        standing_of(landed_kg - hold * minutes / 60.0, reserve, committed=True, change_kg=hold * 5.0 / 60.0)
        for minutes in range(31)
    ]
    spare = (landed_kg - reserve) / hold * 60.0
    for minutes, standing in enumerate(standings):
        if minutes > spare:
            assert standing == "mayday fuel"
        elif minutes > spare - 5.0:
            assert standing == "minimum fuel"
        else:
            assert standing == "normal"
    assert {"normal", "minimum fuel", "mayday fuel"} == set(standings)


# An imbalance, or a leak?
def test_of_four_imbalances_the_total_finds_the_leak() -> None:
    flights = {
        name: asked("imbalance-or-leak", name) for name in ("leak", "one-sided-feed", "wrong-gauge", "apu")
    }
    time = "3:40:00"
    for name, flight in flights.items():
        # Against the normal flight at the same time, each shows a wing that is low.
        differs = value(flight, "total.imbalance_kg", time) - value(flown_as(), "total.imbalance_kg", time)
        assert abs(differs) > 200.0, name
    assert value(flights["leak"], "total.leaked_kg", time) > 400.0
    assert missing(flights["leak"], time)[0] > 400.0
    assert missing(flights["one-sided-feed"], time)[0] == pytest.approx(missing(flown_as(), time)[0], abs=2.0)
    # A wrong gauge is missing at once and grows no more; a leak grows.
    step = missing(flights["wrong-gauge"], "3:00:01", time)
    assert step[0] > 500.0
    assert step[1] < 1.05 * step[0]
    grows = missing(flights["leak"], "3:00:01", time)
    assert grows[1] - grows[0] == pytest.approx(value(flights["leak"], "total.leaked_kg", time), abs=2.0)
    # The APU burns 130 kg/h that no meter counts: it is missing, it grows, and it is known.
    hours = (at_s(time) - turn(flown_as(), "engine-2", "starting").time_s) / 3600.0
    assert missing(flights["apu"], time)[0] == pytest.approx(130.0 * hours, abs=15.0)


# A leak is confirmed: why might an engine be shut down?
def test_shutting_an_engine_down_tells_whether_the_leak_is_beyond_its_valve() -> None:
    engine, tank = (asked("engine-shut-down-for-a-leak", name) for name in ("engine", "tank"))
    rates = []
    for flight in (engine, tank):
        shut = turn(flight, "shut-off-1", "shut", at_s("4:30:00"))
        before = gained(flight, "total.leaked_kg", "4:20:00", "4:30:00") * 6.0
        after = gained(flight, "total.leaked_kg", shut.time_s, shut.time_s + 600.0) * 6.0
        rates.append((before, after))
        assert "leak" in alerts(flight)
    assert rates[0][0] > 1000.0
    assert rates[0][1] == 0.0
    assert rates[1][0] > 900.0
    # A tank goes on leaking, a little less as it empties.
    assert 0.85 * rates[1][0] < rates[1][1] < rates[1][0]

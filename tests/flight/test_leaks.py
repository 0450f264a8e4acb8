"""Leaks: where each shows, what stops it, and what the fuel used says of it."""

from math import sqrt

import pytest

from tests.flight.flights import alder, flown, turn
from tests.flight.trouble_flights import (
    alerts,
    assert_balanced,
    at_s,
    density_kg_m3,
    flown_as,
    gained,
    led_by,
    looks,
    value,
)
from wetwing.flight.reasons import because

APU_ON_MAINS_KG = 130.0 * (at_s("0:35:00") - at_s("0:31:02")) / 3600.0
"""What the APU has burned since the first engine's start: no meter counts it."""


# ------------------------------------------------------------------ a tank


@pytest.mark.parametrize("kg_h", [300.0, 1200.0, 9000.0])
def test_a_tank_leaks_as_through_a_hole_at_its_bottom(kg_h: float) -> None:
    # Torricelli: dm/dt = -q sqrt(V/V_full), so sqrt(m) falls evenly: by q t / (2 sqrt(m_full)).
    start, end = at_s("0:23:00"), at_s("0:30:30")
    flight = flown_as(f"0:23:00 centre=leak {kg_h}", *looks("0:30:30"))
    density = density_kg_m3(value(flight, "centre.temperature_c", "0:26:45"))
    full_kg = next(tank for tank in alder().tanks if tank.name == "centre").capacity_l * density / 1000.0
    held_kg = value(flight, "centre.actual_kg", start)
    fallen = sqrt(held_kg) - kg_h * (end - start) / 3600.0 / (2.0 * sqrt(full_kg))
    lost_kg = gained(flight, "total.leaked_kg", start, end)
    assert lost_kg == pytest.approx(held_kg - fallen * fallen, rel=1e-4)
    assert value(flight, "centre.actual_kg", start) - value(flight, "centre.actual_kg", end) == pytest.approx(
        lost_kg, abs=1e-6
    )


def test_a_tank_s_leak_is_missed_by_gauge_and_meter_and_told_by_their_difference() -> None:
    flight = flown_as("2:00:00 main-left=leak 1200")
    for time in ("2:30:00", "3:30:00", "4:30:00"):
        leaked = value(flight, "total.leaked_kg", time)
        # No meter sees it: what is missing is what has leaked, beside what the APU has burned.
        missing = value(flight, "total.discrepancy_kg", time)
        assert missing == pytest.approx(leaked + APU_ON_MAINS_KG, abs=1.0)
    alert = turn(flight, "leak", "on")
    due = next(t for t in range(7200, 14400) if value(flight, "total.discrepancy_kg", t) >= 350.0)
    assert alert.time_s == pytest.approx(due + 60.0, abs=2.0)
    assert "edit-1" in led_by(flight, alert)
    assert "edit-1" in {step.change.part for step in because(flight, alert.time_s, "leak")}
    # The leaking wing falls behind: the imbalance is the leak, since both engines burn alike.
    assert value(flight, "total.imbalance_kg", "4:30:00") > 1500.0
    assert_balanced(flight)


def test_a_tank_leaks_until_a_film_is_left() -> None:
    flight = flown_as("0:23:00 outboard-left=leak 60000", "0:30:00 outboard-left=mended")
    # A tank of 1,133 kg loses its last kilogram in 2 m / q: about two and a half minutes.
    assert value(flight, "outboard-left.actual_kg", "0:28:00") == pytest.approx(0.5, abs=1e-3)
    leaked = value(flight, "total.leaked_kg", "0:30:00")
    assert leaked == pytest.approx(value(flown(), "outboard-left.actual_kg", "0:23:00") - 0.5, abs=0.5)
    assert_balanced(flight)


def test_two_leaks_add_and_a_mended_one_stops() -> None:
    one = flown_as("3:30:00 main-left=leak 500", *looks("3:40:00"))
    two = flown_as("3:30:00 main-left=leak 300", "3:30:00 main-left=leak 200", "3:40:00 main-left=mended")
    first = gained(one, "total.leaked_kg", "3:30:00", "3:40:00")
    assert gained(two, "total.leaked_kg", "3:30:00", "3:40:00") == pytest.approx(first, rel=1e-9)
    assert gained(two, "total.leaked_kg", "3:40:00", "6:00:00") == 0.0


# ------------------------------------------------------------------ a line


@pytest.mark.parametrize(("node", "kg_h"), [("manifold-left", 1000.0), ("manifold-right", 250.0)])
def test_a_line_leaks_by_the_root_of_its_pressure(node: str, kg_h: float) -> None:
    flight = flown_as(f"4:00:00 {node}=leak {kg_h}")
    pressure = value(flight, f"{node}.pressure_bar", "4:02:00")
    hour = 60.0 * gained(flight, "total.leaked_kg", "4:01:30", "4:02:30")
    assert hour == pytest.approx(kg_h * sqrt(pressure), rel=1e-3)


def test_a_line_s_leak_falls_away_with_the_pumps_that_press_on_it() -> None:
    flight = flown_as(
        *("4:00:00 manifold-left=leak 1200", "4:30:00 engine-1-run=off"),
        *("4:30:00 main-left-forward=off", "4:30:00 main-left-aft=off"),
    )
    pressure = value(flight, "manifold-left.pressure_bar", "4:25:00")
    before = gained(flight, "total.leaked_kg", "4:20:00", "4:29:00") / 9.0
    after = gained(flight, "total.leaked_kg", "4:31:00", "4:40:00") / 9.0
    assert before == pytest.approx(1200.0 / 60.0 * sqrt(pressure), rel=0.01)
    # What is left is the weight of the fuel that stands above the hole, through the bypass.
    assert after < 0.2 * before


def test_a_line_s_leak_is_fed_through_the_cross_feed_until_that_is_shut() -> None:
    flight = flown_as(
        *("4:00:00 manifold-left=leak 1200", "4:00:00 cross-feed=open"),
        *("4:10:00 engine-1-run=off", "4:10:00 main-left-forward=off", "4:10:00 main-left-aft=off"),
        "4:30:00 cross-feed=shut",
    )
    fed = gained(flight, "total.leaked_kg", "4:15:00", "4:29:00") / 14.0
    alone = gained(flight, "total.leaked_kg", "4:31:00", "4:45:00") / 14.0
    # The sound side loses what the leak takes, and stops losing it.
    lost = -gained(flight, "main-right.actual_kg", "4:15:00", "4:29:00") / 14.0
    kept = -gained(flight, "main-right.actual_kg", "4:31:00", "4:45:00") / 14.0
    assert alone < 0.2 * fed
    assert lost - kept == pytest.approx(fed, rel=0.05)


# ------------------------------------------------------------------ an engine, before and after its meter


def test_before_the_meter_the_leak_is_missing_and_after_it_the_fuel_used_has_it() -> None:
    times = ("4:30:00", "5:00:00")
    before = flown_as("4:00:00 engine-1=leak before the meter 1000", *looks(*times))
    after = flown_as("4:00:00 engine-1=leak after the meter 1000", *looks(*times))
    for time in times:
        leaked = value(before, "total.leaked_kg", time)
        assert leaked == pytest.approx(value(after, "total.leaked_kg", time), rel=1e-6)
        assert value(before, "total.discrepancy_kg", time) == pytest.approx(leaked + APU_ON_MAINS_KG, abs=1.0)
        assert value(after, "total.discrepancy_kg", time) == pytest.approx(APU_ON_MAINS_KG, abs=1.0)
        burns = value(before, "engine-1.flow_kg_h", time)
        assert value(before, "engine-1.metered_kg_h", time) == pytest.approx(burns, rel=1e-9)
        rate = 1000.0 * sqrt(value(after, "manifold-left.pressure_bar", time))
        burns = value(after, "engine-1.flow_kg_h", time)
        assert value(after, "engine-1.metered_kg_h", time) == pytest.approx(burns + rate, rel=1e-3)
    used = [gained(flight, "engine-1.used_kg", "4:00:00", "5:00:00") for flight in (before, after)]
    leaked = value(after, "total.leaked_kg", "5:00:00")
    assert used[1] - used[0] == pytest.approx(leaked, rel=0.02)
    assert "leak" in alerts(before)
    assert "leak" not in alerts(after)


@pytest.mark.parametrize("kind", ["leak before the meter", "leak after the meter"])
def test_an_engine_s_leak_stops_when_its_shut_off_valve_is_shut(kind: str) -> None:
    flight = flown_as(f"4:00:00 engine-1={kind} 1000", "4:30:00 engine-1-run=off")
    shut_s = turn(flight, "shut-off-1", "shut", at_s("4:30:00")).time_s
    assert gained(flight, "total.leaked_kg", "4:20:00", "4:30:00") > 200.0
    assert gained(flight, "total.leaked_kg", shut_s, "5:00:00") == 0.0
    # A tank's leak goes on whatever is shut: that is what the trial tells.
    tank = flown_as("4:00:00 main-left=leak 1000", "4:30:00 engine-1-run=off")
    assert gained(tank, "total.leaked_kg", shut_s, "5:00:00") > 200.0


def test_the_loss_of_a_leak_is_in_proportion_to_its_severity() -> None:
    rates = [
        gained(
            flown_as(f"4:00:00 main-left=leak {kg_h}", *looks("4:00:06")),
            *("total.leaked_kg", "4:00:00", "4:00:06"),
        )
        for kg_h in (100, 200, 400)
    ]
    assert rates[1] == pytest.approx(2.0 * rates[0], rel=1e-3)
    assert rates[2] == pytest.approx(4.0 * rates[0], rel=1e-3)

"""Learners' questions about gauging and loading, each answered by flights."""

from dataclasses import replace

import pytest

from tests.flight.asked import FOLDER, asked, questions
from tests.flight.flights import alder, day_sector, turn, turns
from tests.flight.trouble_flights import GRAVITY_M_S2, at_s, density_kg_m3, flown_as, gained, looks, value
from wetwing.flight.fly import fly
from wetwing.flight.script import InitialTank, read_script
from wetwing.physics.ledger import uplift_check

LOADED = "0:19:30"
LOOK = looks("2:00:00", "6:00:00")
CAPACITY_L = {tank.name: tank.capacity_l for tank in alder().tanks}


def test_every_question_has_a_flight() -> None:
    # Of the 23, five are answered by loadings, air and plans in place of edits.
    assert len(questions()) == 18
    for name, row in questions().items():
        assert str(row["question"]).endswith("?"), name
        assert len(row) >= 2, name


# How can a gauge show mass when a tank holds volume?
def test_a_gauge_shows_mass_since_it_knows_height_and_density() -> None:
    flight = asked("gauge-shows-mass", "sound", *LOOK)
    for time in ("2:00:00", "6:00:00"):
        litres = value(flight, "main-left.volume_l", time)
        density = density_kg_m3(value(flight, "main-left.temperature_c", time))
        shown = value(flight, "main-left.gauged_kg", time)
        assert shown == pytest.approx(litres * density / 1000.0 - 18.0, rel=1e-6)
    # The fuel has cooled by 24 K: each litre weighs 18 g more, and the gauge has followed.
    warm, cold = (value(flight, "main-left.temperature_c", time) for time in ("2:00:00", "6:00:00"))
    assert 0.74 * (warm - cold) == pytest.approx(18.0, abs=1.5)
    dead = asked("gauge-shows-mass", "dead-compensator", *LOOK)
    error = value(dead, "main-left.gauged_kg", "6:00:00") / value(flight, "main-left.gauged_kg", "6:00:00")
    # Without a compensator it takes the usual fuel for its own, and is off by 1 to 2 %.
    assert 0.005 < abs(error - 1.0) < 0.02


# The truck's litres times density disagree with the gauges: how much is allowed, what next?
def test_litres_times_density_find_a_wrong_ticket_and_a_wrong_gauge() -> None:
    def check(ticket_kg_m3: float, gauge: str) -> tuple[bool, float, float]:
        flight = asked("litres-against-gauges", gauge, declared_density_15c_kg_m3=ticket_kg_m3)
        ticket = density_kg_m3(14.0, flight.script.declared_density_15c_kg_m3) / 1000.0
        gauged = value(flight, "total.gauged_kg", LOADED)
        litres = value(flight, "total.uplifted_l", LOADED)
        found = uplift_check(3963.0, 0.0, litres, ticket, gauged)
        sticks = sum(value(flight, f"{tank.name}.actual_kg", LOADED) for tank in alder().tanks) - 52.0
        return found.agrees, found.difference_kg, gauged - sticks

    assert check(804.0, "sound")[0]
    agrees, difference, against_sticks = check(840.0, "sound")
    # A wrong density on the ticket: the sticks agree with the gauges.
    assert not agrees
    assert difference < -700.0
    assert against_sticks == pytest.approx(0.0, abs=10.0)
    agrees, difference, against_sticks = check(804.0, "wrong-probes")
    # Gauges that read high end the refuelling too early: the sticks agree with the ticket.
    assert not agrees
    assert difference > 700.0
    assert against_sticks == pytest.approx(difference, abs=40.0)


# The order was right and the total wrong: how?
def test_an_order_in_pounds_shows_in_the_total_and_in_no_tank() -> None:
    flight = asked("order-right-total-wrong", "pounds")
    assert flight.setting("preselect", at_s(LOADED)) == "22700 kg"
    total = value(flight, "total.gauged_kg", LOADED)
    assert total / 22_700.0 == pytest.approx(0.454, abs=0.003)
    # Each tank looks like a tank on its way to full; wing and wing agree.
    assert abs(value(flight, "total.imbalance_kg", LOADED)) < 100.0


# Who decides how the fuel spreads between the tanks?
def test_a_controller_shuts_each_tank_s_valve_at_its_sensor() -> None:
    flight = asked("who-spreads-the-fuel", "sound")
    for tank in ("outboard-left", "main-left", "main-right", "outboard-right"):
        sensor = turn(flight, f"high-level-{tank}", "wet", at_s("0:04:00"))
        assert turn(flight, f"refuel-valve-{tank}", "moving", at_s("0:05:00")).time_s == sensor.time_s
    opens = turn(flight, "refuel-valve-centre", "moving", at_s("0:04:00"))
    assert opens.reason.name == "wings-full"
    assert value(flight, "total.gauged_kg", LOADED) == pytest.approx(22_700.0, abs=60.0)
    stuck = asked("who-spreads-the-fuel", "stuck-valve")
    # With one valve stuck the wings are never full, so the centre gets nothing.
    assert turns(stuck, "refuel-valve-centre", "open") == []
    assert value(stuck, "total.imbalance_kg", LOADED) > 1500.0


def centroid_y_m(outline: tuple[tuple[float, float], ...]) -> float:
    """Of a polygon, by its triangles with the origin."""
    area = moment = 0.0
    for (x, y), (x_next, y_next) in zip(outline, (*outline[1:], outline[0]), strict=True):
        cross = x * y_next - x_next * y
        area += cross / 2.0
        moment += cross * (y + y_next) / 6.0
    return moment / area


# Why are the wings filled before the centre?
def test_fuel_in_the_wings_relieves_the_root_and_fuel_in_the_centre_does_not() -> None:
    def bending(**kg: float) -> float:
        tanks = {
            tank.name: InitialTank(kg.get(tank.name.replace("-", "_"), 0.0), 15.0) for tank in alder().tanks
        }
        flight = fly(alder(), replace(day_sector(), tanks=tanks, ends_s=60.0, actions=()))
        return value(flight, "flight.root_bending_kn_m", "0:00:30")

    wings, centre = bending(main_left=3000.0, main_right=3000.0), bending(centre=6000.0)
    # Half of the wings' fuel on each side, at the centroid of the main's outline: that is the relief.
    arm_m = centroid_y_m(next(tank.outline_m for tank in alder().tanks if tank.name == "main-right"))
    assert centre - wings == pytest.approx(0.5 * 6000.0 * arm_m * GRAVITY_M_S2 / 1000.0, rel=1e-6)
    outboards = bending(outboard_left=1000.0, outboard_right=1000.0)
    inboard = bending(main_left=1000.0, main_right=1000.0)
    # The farther out, the more it relieves.
    assert outboards < inboard < bending(centre=2000.0)


# Do the gauges, and the reserves, count unusable fuel?
def test_a_gauge_reads_zero_where_the_pumps_draw_air() -> None:
    flight = asked("unusable-fuel", "run-dry")
    for side, engine in (("left", "engine-1"), ("right", "engine-2")):
        stopped = turn(flight, engine, "stopped for want of fuel")
        held = value(flight, f"main-{side}.actual_kg", stopped.time_s)
        assert held == pytest.approx(18.0, abs=2.0)
        assert value(flight, f"main-{side}.gauged_kg", stopped.time_s) == pytest.approx(0.0, abs=2.0)
    # With the nose three degrees lower the pick-up is uncovered with more in the tank.
    path = tuple(
        replace(point, pitch_deg=-3.0) if point.altitude_ft == 35_000 else point
        for point in day_sector().path
    )
    down = fly(alder(), replace(flight.script, path=path))
    stopped = turn(down, "engine-1", "stopped for want of fuel")
    assert value(down, "main-left.actual_kg", stopped.time_s) > 19.0


# Why do full tanks hold fewer kilograms today?
def test_full_tanks_hold_a_thousandth_less_for_each_kelvin() -> None:
    cold, hot = flown_as(uplift_temperature_c=0.0), flown_as(uplift_temperature_c=40.0)
    full = [turn(flight, "high-level-main-left", "wet", at_s("0:04:00")).time_s for flight in (cold, hot)]
    litres = [
        value(flight, "main-left.volume_l", time) for flight, time in zip((cold, hot), full, strict=True)
    ]
    kilograms = [
        value(flight, "main-left.actual_kg", time) for flight, time in zip((cold, hot), full, strict=True)
    ]
    assert litres == pytest.approx([8085.0, 8085.0], abs=0.1)
    warmer_k = value(hot, "main-left.temperature_c", full[1]) - value(
        cold, "main-left.temperature_c", full[0]
    )
    share = 1.0 - kilograms[1] / kilograms[0]
    assert share / warmer_k == pytest.approx(0.74 / 811.0, rel=0.02)
    # 2 % stay free for expansion, even after the valve has shut (25.969).
    after = value(hot, "main-left.volume_l", LOADED)
    assert after < 0.98 * CAPACITY_L["main-left"]


# Which pump feeds the APU, and why an imbalance after a long turnaround?
def test_the_apu_draws_on_the_left_main_through_its_own_pump() -> None:
    flight = fly(alder(), read_script(str(FOLDER / "long-turnaround.toml"), alder()))
    assert flight.state("apu-pump", at_s("1:00:00")) == "delivering"
    started = turn(flight, "apu", "running").time_s
    hours = (flight.duration_s - started) / 3600.0
    assert gained(flight, "total.imbalance_kg", started, flight.duration_s) == pytest.approx(
        130.0 * hours, abs=0.5
    )
    assert gained(flight, "main-right.actual_kg", started, flight.duration_s) == 0.0
    # With the main pumps on, the check valve lets them feed it in the battery pump's place.
    normal = flown_as()
    assert normal.state("apu-pump", at_s("0:23:00")) == "off"
    assert value(normal, "main-left-forward.flow_kg_h", "0:23:00") == pytest.approx(130.0, rel=1e-6)

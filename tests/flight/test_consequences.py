"""What is easy to get wrong: who starves first, what a shut-in line shows, what a reason names, odd files."""

from dataclasses import replace
from functools import partial

import pytest

from tests.aircraft.files import alder_text, changed, day_sector_text, mistake_of
from tests.flight.by_hand import inlet_margin_bar, loss_bar
from tests.flight.flights import alder, chain, day_sector, edit, flown, phase_s, turn
from wetwing.aircraft.read import parse_aircraft
from wetwing.aircraft.table import Table
from wetwing.flight.clock import clock
from wetwing.flight.fly import fly
from wetwing.flight.script import parse_script, with_edits
from wetwing.physics.tank_shape import TankShape

# ------------------------------------------------------------------ pressures and starvation


def test_a_manifold_behind_a_check_valve_is_not_pressed_by_the_battery_pump() -> None:
    # The APU line's check valve passes from the left manifold only: nothing but the main's static head, and
    # the suction bypass's own 0.02 bar, push there.
    flight = flown()
    at_s = turn(flight, "apu-pump", "delivering").time_s + 20.0
    assert flight.quantity("apu-line.pressure_bar", at_s) > 0.8
    tank = next(tank for tank in alder().tanks if tank.name == "main-left")
    shape = TankShape(
        tank.outline_m, tank.bottom_m, tank.dihedral_deg, tank.depth_m, tank.depth_outboard_m, tank.capacity_l
    )
    level_m = shape.at(0.0, 0.0).level_m(flight.quantity("main-left.volume_l", at_s)) - tank.bottom_m
    density = 804.0 - 0.74 * (flight.quantity("main-left.temperature_c", at_s) - 15.0)
    head_bar = 0.02 * density / 800.0 + 1e-5 * density * 9.80665 * level_m
    assert flight.quantity("manifold-left.pressure_bar", at_s) == pytest.approx(head_bar, abs=1e-6)
    assert 0.05 < head_bar < 0.12


def test_of_two_that_starve_the_worse_fed_stops_and_the_other_may_go_on() -> None:
    # A narrow suction bypass: too little for engine 1 and, while it draws, for the APU; enough for the APU
    # alone.
    narrow = "[bypasses.bypass-left]"
    text = alder_text()
    head, tail = text.split(narrow)
    aircraft = parse_aircraft(
        head + narrow + changed(tail, ("square_bar_h2_t2 = 0.004", "square_bar_h2_t2 = 0.3")), "alder.toml"
    )
    at_s = 3060.0
    switches = [f"{clock(at_s)} {pump}=off" for pump in ("main-left-forward", "main-left-aft", "centre-left")]
    edits = tuple(edit(each) for each in ("0:45:00 apu-run=on", *switches))
    flight = fly(aircraft, with_edits(day_sector(), edits, aircraft))
    assert turn(flight, "engine-1", "stopped for want of fuel").time_s == at_s
    assert flight.state("apu", at_s + 60.0) == "running"
    # While both draw, the manifold is lower by what the bypass then takes: the APU is starved too.
    celsius = flight.quantity("main-left.temperature_c", at_s)
    apu_kg_h = flight.quantity("apu.flow_kg_h", at_s)
    engine_kg_h = flight.quantity("engine-1.flow_kg_h", at_s - 1e-6)
    both = engine_kg_h + apu_kg_h + flight.quantity("return-left.flow_kg_h", at_s - 1e-6)
    lower_bar = loss_bar(0.006, 0.3, both, celsius) - loss_bar(0.006, 0.3, apu_kg_h, celsius)
    alone_bar = inlet_margin_bar(flight, "apu", "apu-line", "main-left", at_s)
    assert flight.quantity("apu.inlet_margin_bar", at_s) == pytest.approx(alone_bar, abs=1e-5)
    assert alone_bar - lower_bar < 0.0 < alone_bar


def test_a_full_tank_that_swells_spills_again() -> None:
    # An outboard that return flow has filled loses its return flow to the slats, cools and shrinks; low over
    # warm ground it swells again, and what its vent line lets stand is never exceeded.
    up = [point for point in day_sector().path if point.time_s <= 3660.0]
    low = [replace(up[-1], time_s=time_s, altitude_ft=3000.0, mach=0.34) for time_s in (4560.0, 26_460.0)]
    script = replace(day_sector(), deviation_k=20.0, path=(*up, *low), ends_s=10_800.0)
    flight = fly(alder(), with_edits(script, (edit("0:58:00 slats=out"),), alder()))
    for name in ("outboard-left", "outboard-right"):
        holds = turn(flight, name, "holding", 3400.0)
        spills = turn(flight, name, "spilling", holds.time_s)
        assert flight.quantity(f"{name}.temperature_c", 4200.0) < flight.quantity(
            f"{name}.temperature_c", holds.time_s
        )
        assert "swells" in spills.reason.sentence
        limit_l = next(tank for tank in alder().tanks if tank.name == name).overflow.at_l
        assert flight.quantity(f"{name}.volume_l", spills.time_s) == pytest.approx(limit_l, abs=1e-3)
        # Same volume, same mass: it spills where it is as warm as when it last was full.
        assert flight.quantity(f"{name}.temperature_c", spills.time_s) == pytest.approx(
            flight.quantity(f"{name}.temperature_c", holds.time_s), abs=1e-3
        )
        assert max(flight.quantities[f"{name}.volume_l"]) <= limit_l + 1e-4


# ------------------------------------------------------------------ reasons


def test_a_low_pressure_alert_names_the_pressure_and_leads_to_the_switches() -> None:
    # At 5,000 ft suction is enough for the engine, but not for the alert.
    pumps = ("main-left-forward", "main-left-aft", "centre-left")
    flight = flown(*(f"0:51:00 {pump}=off" for pump in pumps))
    alert = turn(flight, "feed-pressure-1", "on")
    assert alert.time_s == 3060.0
    assert "Left manifold is below" in alert.reason.sentence
    assert "0.40 bar" in alert.reason.sentence
    assert {"main-left-forward", "main-left-aft"} & {change.part for change in chain(flight, alert)}


def test_return_flow_that_ends_with_its_engine_says_so() -> None:
    flight = flown("2:00:00 engine-1-run=off")
    rests = turn(flight, "return-left", "resting", 7200.0)
    assert rests.time_s == 7200.0
    assert "ngine 1" in rests.reason.sentence
    assert turn(flight, "engine-1", "off") in chain(flight, rests)


def test_a_pump_stopped_for_an_engine_is_not_blamed_on_a_rule_of_long_ago() -> None:
    flight = flown("2:00:00 engine-1-run=off")
    stops = turn(flight, "centre-right", "stopped by automatics", 7200.0)
    assert "engine 1 is off" in stops.reason.sentence
    assert stops.reason.name == "centre-right.runs_when"


def test_a_spill_that_ends_names_what_ended_it() -> None:
    flight = flown()
    released = flown("4:00:00 cross-feed=open", "4:00:00 main-left-forward=off", "4:00:00 main-left-aft=off")
    ends = turn(flight, "outboard-left", "holding", phase_s(flight, "cruise"))
    assert "return-left" in {change.part for change in chain(flight, ends)}
    ends = turn(released, "outboard-left", "holding", phase_s(flight, "cruise"))
    assert "outboard-release" in {change.part for change in chain(released, ends)}


def test_a_source_that_opens_across_a_cross_feed_names_the_pump_that_ran_dry() -> None:
    flight = flown("4:00:00 cross-feed=open", "4:00:00 main-left-forward=off", "4:00:00 main-left-aft=off")
    feeds = turn(flight, "bypass-left", "feeding", 14_400.0)
    assert "main-right-forward" in {change.part for change in chain(flight, feeds)}


def test_a_round_mass_is_said_without_a_decimal() -> None:
    said = [change.reason.sentence for change in flown().changes]
    assert any("{4 kg}" in sentence for sentence in said)
    assert not any(".0 kg}" in sentence for sentence in said)


# ------------------------------------------------------------------ the plan


def test_the_flight_burns_about_what_its_plan_says() -> None:
    flight = flown()
    plan = flight.script.plan_kg
    take_off_s = phase_s(flight, "climb")
    landed_s = next(p.time_s for p in day_sector().path if p.time_s > phase_s(flight, "descent") and p.ground)
    burned = flight.quantity("total.burned_kg", landed_s) - flight.quantity("total.burned_kg", take_off_s)
    assert burned == pytest.approx(plan["trip_kg"], rel=0.03)
    assert plan["contingency_kg"] == pytest.approx(0.05 * plan["trip_kg"], rel=0.02)
    assert sum(plan.values()) <= flight.quantity("total.gauged_kg", phase_s(flight, "start"))


# ------------------------------------------------------------------ hostile files


@pytest.mark.parametrize("digits", [400, 5000])
def test_a_number_of_hundreds_of_digits_is_refused(digits: int) -> None:
    for text, old, read in (
        (alder_text(), "capacity_l = 1450", lambda text: parse_aircraft(text, "alder.toml")),
        (day_sector_text(), "density_15c_kg_m3 = 804", lambda text: parse_script(text, "day.toml", alder())),
        (day_sector_text(), "preselect = 22700", lambda text: parse_script(text, "day.toml", alder())),
    ):
        endless = changed(text, (old, f"{old.partition('=')[0]}= 1{'0' * digits}"))
        assert len(str(mistake_of(partial(read, endless)))) < 400


def test_what_is_nested_without_end_is_refused_not_shown() -> None:
    deep: list[object] = []
    for _ in range(200_000):
        deep = [deep]
    table = Table({"capacity_l": deep}, "alder.toml: tanks.centre")
    assert len(str(mistake_of(lambda: table.number("capacity_l", 1, 2, "L")))) < 200


@pytest.mark.parametrize("name", ["phase", "total", "flight", "and", "or", "not", "is", "fallen", "risen"])
def test_a_part_cannot_take_a_name_that_conditions_use(name: str) -> None:
    text = alder_text() + f'\n[controls.{name}]\nlabel = "x"\nsettings = ["a", "b"]\n'
    assert name in mistake_of(lambda: parse_aircraft(text, "alder.toml")).place


def test_a_number_without_a_unit_is_told_without_a_gap() -> None:
    text = changed(day_sector_text(), ("mach = 0.70", "mach = 1.70"))
    assert str(mistake_of(lambda: parse_script(text, "day.toml", alder()))) == (
        "day.toml: path[5].mach: 1.7; allowed: 0 to 0.95; nearest: 0.95"
    )


def test_the_most_that_a_tank_is_told_to_take_is_what_it_takes() -> None:
    text = changed(day_sector_text(), ("main-left = { actual_kg = 1985", "main-left = { actual_kg = 7985"))
    mistake = mistake_of(lambda: parse_script(text, "day.toml", alder()))
    most_kg = mistake.allowed[0].split()[2]
    parse_script(text.replace("7985", most_kg), "day.toml", alder())


def test_lines_of_any_resistance_that_a_file_may_give_are_solved() -> None:
    # The largest resistances that the reader lets through: the engines starve, and are told so.
    text = changed(
        alder_text(),
        (
            "linear_bar_h_t = 0.010\nsquare_bar_h2_t2 = 0.0040",
            "linear_bar_h_t = 0.010\nsquare_bar_h2_t2 = 1000",
        ),
        (
            "head_bar = 0.02\nlinear_bar_h_t = 0.006\nsquare_bar_h2_t2 = 0.004",
            "head_bar = 0.02\nlinear_bar_h_t = 0.006\nsquare_bar_h2_t2 = 1000",
        ),
    )
    aircraft = parse_aircraft(text, "alder.toml")
    script = parse_script(
        changed(
            day_sector_text(),
            (
                '[[actions]]\nat = "0:49:40"',
                '[[actions]]\nat = "0:48:00"\nset = { cross-feed = "open", main-left-forward = "off", '
                'main-left-aft = "off" }\n\n[[actions]]\nat = "0:49:40"',
            ),
        ),
        "day.toml",
        aircraft,
    )
    flight = fly(aircraft, script)
    assert turn(flight, "engine-1", "stopped for want of fuel")

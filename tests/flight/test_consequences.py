"""What is easy to get wrong: who starves first, what a shut-in line shows, what a reason names, odd files."""

from dataclasses import replace
from functools import partial

import pytest

from tests.aircraft.files import alder_text, changed, day_sector_text, mistake_of
from tests.flight.flights import alder, chain, day_sector, edit, flown, hold, phase_s, turn, turns
from wetwing.aircraft.read import parse_aircraft
from wetwing.aircraft.table import Table
from wetwing.flight.clock import clock
from wetwing.flight.fly import fly
from wetwing.flight.script import parse_script, with_edits

HOLD_S = round(hold(flown())[0].time_s) + 60


# ------------------------------------------------------------------ pressures and starvation


def test_a_manifold_behind_a_check_valve_is_not_pressed_by_the_battery_pump() -> None:
    # The APU line's check valve passes from the left manifold only: nothing but suction head pushes there.
    flight = flown()
    at_s = turn(flight, "apu-pump", "delivering").time_s + 20.0
    assert flight.quantity("apu-line.pressure_bar", at_s) > 0.8
    assert flight.quantity("manifold-left.pressure_bar", at_s) == pytest.approx(0.02, abs=1e-3)


def test_of_two_that_starve_the_worse_fed_stops_and_the_other_may_go_on() -> None:
    # A light aircraft on suction late in the climb: enough for engine 1 with its return flow, too little for
    # the APU besides.
    light = replace(day_sector(), zero_fuel_kg=60_000.0)
    plain = fly(alder(), light)
    late_s = range(round(phase_s(plain, "cruise")) - 530, round(phase_s(plain, "cruise")))
    at_s = next(t for t in late_s if plain.quantity("engine-1.flow_kg_h", t) < 2110.0)
    switches = [f"{clock(at_s)} {pump}=off" for pump in ("main-left-forward", "main-left-aft", "centre-left")]
    edits = tuple(edit(text) for text in ("0:45:00 apu-run=on", *switches))
    flight = fly(alder(), with_edits(light, edits, alder()))
    assert turn(flight, "apu", "stopped for want of fuel").time_s == at_s
    assert flight.quantity("bypass-left.flow_kg_h", at_s) == pytest.approx(2710.0, abs=5.0)
    assert flight.state("engine-1", at_s) == "running"
    assert flight.ended is None or flight.duration_s > at_s


def test_an_overfull_tank_that_begins_to_gain_again_spills_at_once() -> None:
    # Full outboards and no return flow: a skin that is colder first and warmer later makes the fuel swell.
    flight = fly(
        alder(),
        replace(
            day_sector(),
            density_15c_kg_m3=837.43,
            deviation_k=10.11,
            uplift_temperature_c=44.23,
            zero_fuel_kg=44_480.0,
        ),
    )
    assert turns(flight, "outboard-left", "spilling", turn(flight, "slats", "out", 20_000.0).time_s)
    for name in ("outboard-left", "outboard-right"):
        limit_l = next(tank for tank in alder().tanks if tank.name == name).overflow.at_l
        assert max(flight.quantities[f"{name}.volume_l"]) <= limit_l + 1e-4


# ------------------------------------------------------------------ reasons


def test_a_low_pressure_alert_names_the_pressure_and_leads_to_the_switches() -> None:
    flight = flown(f"{clock(HOLD_S)} main-left-forward=off", f"{clock(HOLD_S)} main-left-aft=off")
    alert = turn(flight, "feed-pressure-1", "on")
    assert "Left manifold" in alert.reason.sentence
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
    assert "Engine 1 is off" in stops.reason.sentence
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
    assert any("{8 kg}" in sentence for sentence in said)
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
        ("square_bar_h2_t2 = 0.030", "square_bar_h2_t2 = 1000"),
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

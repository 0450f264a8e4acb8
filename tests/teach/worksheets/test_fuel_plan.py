"""The fuel plan: a worked example from outside, the flight's own burn, the limits, the cost of carrying."""

import pytest

from tests.flight.fleet_flights import flown
from tests.teach.worksheets.sheets import AIRCRAFT, filled, flight, problems, result, said
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.own_script import own_script
from wetwing.flight.record import Flight
from wetwing.flight.script import read_script, script_aircraft, script_text
from wetwing.teach.worksheets import way
from wetwing.teach.worksheets.fill import kind_of
from wetwing.teach.worksheets.sheet import Kind

# Planning example, worked by hand: holding flow 2,340 kg/h.
EXAMPLE = {
    "zero_fuel": 62_000.0,
    "taxi": 270.0,
    "trip": 8900.0,
    "hours": 200.0,
    "alternate": 1500.0,
    "holding": 2340.0,
    "remaining": 0.0,
}


def test_the_planning_example() -> None:
    sheet = filled("fuel-plan", EXAMPLE)
    wanted = {
        "contingency": 445.0,
        "final_reserve": 1170.0,
        "landing_fuel": 3115.0,
        "take_off_fuel": 12_015.0,
        "block": 12_285.0,
        "take_off_mass": 74_015.0,
        "landing_mass": 65_115.0,
        "carriage": 0.0,
    }
    for name, value in wanted.items():
        assert result(sheet, name) == pytest.approx(value, abs=1e-6), name
    assert result(sheet, "uplift_l") == pytest.approx(12_285.0 / 0.80474)


@pytest.mark.parametrize(
    ("method", "trip", "wanted"),
    [(0, 3000.0, 195.0), (1, 8900.0, 267.0), (2, 8900.0, 890.0), (2, 1000.0, 195.0)],
)
def test_contingency_by_each_method_is_never_under_five_minutes_in_the_hold(
    method: int, trip: float, wanted: float
) -> None:
    sheet = filled("fuel-plan", EXAMPLE | {"method": method, "trip": trip})
    assert result(sheet, "contingency") == pytest.approx(wanted)


def test_a_short_trip_says_that_the_five_minutes_govern() -> None:
    told = [sentence for _level, sentence in said(filled("fuel-plan", EXAMPLE | {"trip": 3000.0}))]
    assert any("five minutes in the hold" in sentence for sentence in told)
    told = [sentence for _level, sentence in said(filled("fuel-plan", EXAMPLE))]
    assert not any("five minutes in the hold" in sentence for sentence in told)


def test_the_flights_own_figures_fill_it() -> None:
    sheet = filled("fuel-plan")
    day = flight()
    values = {name: entry.value or 0.0 for name, entry in sheet.entries.items()}
    burned = day.quantities["total.burned_kg"][-1]
    # Nothing burns before the APU starts, and nothing of the taxi is left out.
    assert values["taxi"] == round(day.quantity("total.burned_kg", 2820.0))
    assert values["trip"] == round(
        day.quantity("total.burned_kg", 25_380.0) - day.quantity("total.burned_kg", 2820.0)
    )
    assert values["taxi"] + values["trip"] < burned
    # 40 s at 95 kg/h, then 130 kg/h until it is switched off 858 s later: the APU's share, by hand.
    assert result(sheet, "apu") == pytest.approx((40.0 * 95.0 + 858.0 * 130.0) / 3600.0, abs=0.5)
    assert result(sheet, "block") == pytest.approx(values["taxi"] + result(sheet, "take_off_fuel"))
    assert values["hours"] == pytest.approx(376.0)


def test_taxi_begins_with_the_apu_or_the_first_engine_and_an_aircraft_without_apu_has_no_share_of_it() -> (
    None
):
    alder, rowan, juniper = flight(), flown("rowan-54"), flown("juniper-285")
    for one, first in ((alder, "apu"), (rowan, "engine-2"), (juniper, "apu")):
        starts = next(c for c in one.changes if c.after == "starting")
        assert (starts.part, way.taxi_start_s(one)) == (first, starts.time_s)
    assert way.taxi_start_s(rowan) == way.first_start_s(rowan)
    kind = kind_of("fuel-plan", "here")
    named = [row.name for row in kind.work(rowan, 0.0, _values(kind, rowan)).results]
    assert "apu" not in named
    # It runs again after the landing: that is no taxi fuel of this flight.
    off_s = way.take_off_s(juniper.script)
    whole = way.apu_burned_kg(juniper, 0.0, juniper.duration_s)
    assert 20.0 < way.apu_burned_kg(juniper, 0.0, off_s) < whole - 10.0
    before_s = way.first_start_s(juniper)
    assert way.apu_burned_kg(juniper, 0.0, before_s) == pytest.approx(way.burned_kg(juniper, 0.0, before_s))


def _values(kind: Kind, flown_: Flight) -> dict[str, float | None]:
    return {field.name: field.value for field in kind.fields(flown_, 0.0)}


@pytest.mark.parametrize("script", ["day-sector", "short-sector", "tankering", "juniper-long", "rowan-hop"])
def test_a_planned_reserve_is_what_thirty_minutes_of_holding_burn(script: str) -> None:
    """At the mass of arrival at the alternate, as the flight has it: no less, and little more."""
    name = script_aircraft(script)
    aircraft = read_aircraft(name)
    one = fly(aircraft, read_script(script, aircraft))
    plan = one.script.plan_kg
    arrives_kg = one.quantity("flight.gross_kg", way.landing_s(one)) - plan["alternate_kg"]
    needed_kg = 0.5 * way.holding_kg_h(one, arrives_kg)
    assert needed_kg <= plan["final_reserve_kg"] <= 1.06 * needed_kg


def test_reserves_and_holding_flow_agree_with_each_other() -> None:
    sheet = filled("fuel-plan", {"extra": 1000.0})
    reserve_kg, flow_kg_h = result(sheet, "final_reserve"), result(sheet, "holding_flow")
    assert reserve_kg == pytest.approx(flow_kg_h / 2.0)
    last_kg = 75_500.0 + result(sheet, "contingency") + reserve_kg + 1000.0
    assert flow_kg_h == pytest.approx(way.holding_kg_h(flight(), last_kg), rel=1e-12)


def test_what_extra_costs_is_what_the_simulation_burns_more_with_it() -> None:
    """The flight against one with 1,000 kg less in the tanks, and the sheet's estimate, to a tenth of it."""
    less_kg = 1000.0
    script = own_script(*script_text("day-sector"), {"set.preselect": 22_700 - less_kg}, AIRCRAFT)[1]
    lighter, heavier = fly(AIRCRAFT, script), flight()
    off_s, down_s = way.take_off_s(script), way.landing_s(heavier)
    flown_kg = way.burned_kg(heavier, off_s, down_s) - way.burned_kg(lighter, off_s, down_s)
    landed_kg = heavier.quantity("total.on_board_kg", down_s) - lighter.quantity("total.on_board_kg", down_s)
    assert 500.0 < landed_kg < less_kg
    estimated_kg = result(filled("fuel-plan", {"extra": landed_kg}, lighter), "carriage")
    assert estimated_kg == pytest.approx(flown_kg, rel=0.1)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"zero_fuel": 81_000.0}, "The mass without fuel is {500 kg} above its limit of {80,500 kg}."),
        ({"trip": 2000.0, "extra": 8000.0}, "The landing mass is"),
        ({"performance": 90_000.0}, "above the take-off limit of the day."),
        ({"density": 0.775, "extra": 3000.0, "zero_fuel": 60_000.0}, "The tanks take"),
    ],
)
def test_a_limit_that_is_passed_is_said(given: dict[str, object], told: str) -> None:
    beyond = [sentence for level, sentence in said(filled("fuel-plan", given)) if level == "beyond"]
    assert any(told in sentence for sentence in beyond)


def test_the_plan_of_the_page_is_within_every_limit() -> None:
    assert [level for level, _sentence in said(filled("fuel-plan"))].count("beyond") == 0


def test_the_limit_that_governs() -> None:
    sheet = filled("fuel-plan", EXAMPLE | {"zero_fuel": 80_400.0})
    candidates = (101_000.0, 86_000.0 + 8900.0, 80_500.0 + 12_015.0)
    assert result(sheet, "limit") == pytest.approx(min(candidates))


def test_every_wrong_field_is_told_at_once() -> None:
    found = problems(filled("fuel-plan", {"taxi": "-5", "trip": "500 L", "density": "1.77", "reserve": "10"}))
    assert set(found) == {"taxi", "trip", "density", "reserve"}

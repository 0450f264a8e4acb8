"""Fuel checks, minimum fuel and the diversion: by hand, and against the flight's own outcome."""

import pytest

from tests.teach.worksheets.sheets import HOURS_4, filled, flight, problems, result, said, words
from wetwing.aircraft.mistakes import Mistake
from wetwing.flight.script import Edit
from wetwing.teach.worksheets.diverted import descent_from, plan_diversion, speed_kt
from wetwing.teach.worksheets.entry import Reader
from wetwing.teach.worksheets.fill import kind_of, reader_of

LEAK = Edit(4200.0, "main-left", "leak 900")
EMPTY = {
    f"{column}_{row}": None for column in ("time", "gauged", "used", "plan", "left") for row in range(1, 9)
}


def rows(*missing_kg: float, every_s: float = 1800.0) -> dict[str, object]:
    """Checks of a flight that left with 12,000 kg and burns 1,000 an interval, as planned."""
    found: dict[str, object] = {**EMPTY, "departure": 12_000.0, "tolerance": 200.0, "reserve": 1170.0}
    for i, missing in enumerate(missing_kg, start=1):
        found |= {
            f"time_{i}": i * every_s,
            f"gauged_{i}": 12_000.0 - 1000.0 * i - missing,
            f"used_{i}": 1000.0 * i,
            f"plan_{i}": 8000.0 - 1000.0 * i,
            f"left_{i}": 240.0 - 30.0 * i,
        }
    return found


@pytest.mark.parametrize(
    ("missing", "level", "told"),
    [
        ((0.0, 10.0, 20.0, 10.0, 15.0), "fits", "within the tolerance"),
        # By the ledger's own worked figures.
        ((0.0, 90.0, 180.0, 270.0, 360.0), "beyond", "It grows from check to check, by {180 kg/h}: a leak"),
        ((0.0, 0.0, 350.0, 350.0, 350.0), "beyond", "It came in one step"),
        ((0.0, -100.0, -200.0, -300.0, -400.0), "beyond", "No leak makes fuel"),
        ((0.0, 400.0), "beyond", "5 checks at equal intervals would say"),
    ],
)
def test_what_the_row_of_differences_says(missing: tuple[float, ...], level: str, told: str) -> None:
    first = said(filled("fuel-checks", rows(*missing)))[0]
    assert first[0] == level
    assert told in first[1]


@pytest.mark.parametrize(("masses", "factor"), [("kg", 1.0), ("t", 1000.0), ("lb", 0.45359237)])
def test_who_adds_up_the_fields_comes_to_what_is_missing(masses: str, factor: float) -> None:
    sheet = filled("fuel-checks", time_s=HOURS_4, reader=Reader(masses=masses))
    shown = {name: (entry.value or 0.0) / factor for name, entry in sheet.entries.items()}
    decimals = 3 if masses == "t" else 0
    for row in range(1, 7):
        parts = (shown["departure"], shown[f"gauged_{row}"], shown[f"used_{row}"])
        assert all(part == pytest.approx(round(part, decimals), abs=1e-9) for part in parts)
        missing = result(sheet, f"missing_{row}") / factor
        assert missing == pytest.approx(parts[0] - parts[1] - parts[2], abs=1e-6)


def test_uneven_intervals_are_not_read_as_a_trend() -> None:
    given = rows(0.0, 90.0, 180.0, 270.0, 360.0) | {"time_5": 5 * 1800.0 + 600.0}
    assert "at equal intervals" in said(filled("fuel-checks", given))[0][1]


def test_the_prediction_by_hand() -> None:
    """Fifth row: 6,640 on board, 3,000 still to burn by the plan, 360 missing in 2 h, 90 min to go: 270."""
    sheet = filled("fuel-checks", rows(0.0, 90.0, 180.0, 270.0, 360.0))
    assert result(sheet, "against") == pytest.approx(100.0)
    assert result(sheet, "lost") == pytest.approx(270.0)
    assert result(sheet, "landing") == pytest.approx(6640.0 - 3000.0 - 270.0)


def test_a_sound_flight_is_predicted_to_land_as_it_does_and_a_leak_is_found() -> None:
    sound = filled("fuel-checks", time_s=HOURS_4)
    landed_kg = flight().quantity("total.gauged_kg", 25_380.0)
    assert result(sound, "landing") == pytest.approx(landed_kg, abs=1.0)
    assert [level for level, _sentence in said(sound)] == ["fits", "fits"]
    until_s = 4200.0 + 9000.0
    leaking = filled("fuel-checks", flown=flight(LEAK), time_s=until_s)
    assert said(leaking)[0][0] == "beyond"
    assert "a leak before the meters" in said(leaking)[0][1]
    first_s = leaking.entries["time_1"].value
    assert first_s is not None
    leaked_kg = flight(LEAK).quantity("total.leaked_kg", until_s) - flight(LEAK).quantity(
        "total.leaked_kg", first_s
    )
    assert result(leaking, "growth") == pytest.approx(leaked_kg / (until_s - first_s) * 3600.0, rel=0.02)


def test_rows_that_are_not_whole_or_not_in_order_are_told_field_by_field() -> None:
    given = rows(0.0, 0.0, 0.0) | {"used_2": None, "left_2": None, "gauged_3": "x"}
    assert set(problems(filled("fuel-checks", given))) == {"gauged_3"}
    assert set(problems(filled("fuel-checks", given | {"gauged_3": 9000.0}))) == {"used_2", "left_2"}
    late = rows(0.0, 0.0) | {"time_2": 1800.0}
    assert "Each row is later" in problems(filled("fuel-checks", late))["time_2"]
    assert said(filled("fuel-checks", rows())) == [("note", "No row is filled.")]


@pytest.mark.parametrize(
    ("landing", "committed", "standing"),
    [(1300.0, 1, "minimum fuel"), (1169.0, 1, "mayday fuel"), (1500.0, 1, "normal"), (1300.0, 0, "normal")],
)
def test_standings_by_hand(landing: float, committed: int, standing: str) -> None:
    given = {"landing": landing, "reserve": 1170.0, "committed": committed}
    assert words(filled("minimum-fuel", given, time_s=23_940.0), "standing") == standing


def test_a_delay_leads_through_minimum_to_mayday_fuel() -> None:
    """3,510 − 1,170 = 2,340: an hour at 2,340 kg/h to mayday fuel, 55 minutes to minimum fuel."""
    given = {"landing": 3510.0, "reserve": 1170.0, "holding": 2340.0}
    sheet = filled("minimum-fuel", given, time_s=23_940.0)
    assert result(sheet, "to_mayday") == pytest.approx(60.0)
    assert result(sheet, "to_minimum") == pytest.approx(55.0)
    for minutes, standing in ((54.0, "normal"), (56.0, "minimum fuel"), (61.0, "mayday fuel")):
        assert (
            words(filled("minimum-fuel", given | {"delay": minutes}, time_s=23_940.0), "standing") == standing
        )
    gone = filled("minimum-fuel", given | {"delay": 120.0}, time_s=23_940.0)
    assert result(gone, "left") == pytest.approx(3510.0 - 4680.0)
    assert any("engines stop before the landing" in sentence for _level, sentence in said(gone))


def test_the_calls_are_those_of_the_standing() -> None:
    given: dict[str, object] = {"landing": 1300.0, "reserve": 1170.0}
    sheet = filled("minimum-fuel", given, time_s=23_940.0)
    assert said(sheet)[0][1].startswith("Say MINIMUM FUEL.")
    assert "no emergency" in said(sheet)[0][1]
    sheet = filled("minimum-fuel", given | {"landing": 1000.0}, time_s=23_940.0)
    assert said(sheet)[0][1].startswith("Say MAYDAY MAYDAY MAYDAY FUEL.")


def test_a_diversion_at_the_end_is_the_flights_own_landing() -> None:
    """Turned just before the top of descent, over the distance that the flight still has, it lands alike."""
    sound = flight()
    at_s = 23_880.0
    descent = descent_from(sound, 37_000.0, 0.78)
    distance_nm = descent.air_nm + speed_kt(sound, at_s) * 60.0 / 3600.0
    sheet = filled("diversion", {"time": at_s, "distance": distance_nm + 1e-6}, time_s=at_s)
    assert result(sheet, "lasts") * 60.0 == pytest.approx(25_380.0 - at_s, abs=0.5)
    own_kg = sound.quantity("total.on_board_kg", 25_380.0)
    unusable_kg = sum(tank.unusable_kg for tank in sound.aircraft.tanks)
    assert result(sheet, "landing") == pytest.approx(own_kg - unusable_kg, abs=2.0)


def test_the_way_down_is_integrated_exactly_where_it_can_be() -> None:
    """An hour at Mach 0.78 and 37,000 ft, 3 K below standard: 0.78 × 20.0468 × √213.65 m/s."""
    assert speed_kt(flight(), 20_000.0) == pytest.approx(0.78 * 20.0468 * 213.65**0.5 * 3600 / 1852, rel=1e-4)


def test_a_headwind_costs_and_a_leak_on_the_way_is_told() -> None:
    at_s = 11_400.0
    still = result(filled("diversion", {"time": at_s}, time_s=at_s), "landing")
    against = result(filled("diversion", {"time": at_s, "wind": -80.0}, time_s=at_s), "landing")
    assert against < still - 100.0
    leaking = filled("diversion", {"time": at_s}, flown=flight(LEAK), time_s=at_s)
    assert any("a leak, or fuel vented" in sentence for _level, sentence in said(leaking))


@pytest.mark.parametrize(
    ("given", "field", "told"),
    [
        ({"distance": 30.0}, "distance", "The descent from this height takes"),
        ({"time": "0:10"}, "time", "lies outside"),
        ({"wind": "-300 kt"}, "wind", "can't be meant"),
    ],
)
def test_a_diversion_that_cannot_be_flown_is_refused_beside_the_field(
    given: dict[str, object], field: str, told: str
) -> None:
    found = problems(filled("diversion", given, time_s=11_400.0))
    assert set(found) == {field}
    assert told in found[field]


def test_the_least_distance_is_flown_and_less_is_refused() -> None:
    least_nm = plan_diversion(flight(), 11_400.0, 20.0, 0.0)
    assert isinstance(least_nm, float)
    assert problems(filled("diversion", {"distance": least_nm - 0.1}, time_s=11_400.0))
    assert not problems(filled("diversion", {"distance": least_nm + 0.1}, time_s=11_400.0))


def test_what_a_page_can_ask_wrongly() -> None:
    with pytest.raises(Mistake, match=r"unknown worksheet 'uplifts'.*nearest: uplift"):
        kind_of("uplifts", "request.kind")
    with pytest.raises(Mistake, match=r"unknown field 'gauge'.*nearest: gauged"):
        filled("uplift", {"gauge": 1.0})
    for wrong in (("1'234.5", "kg", "L"), ("1,234.5", "st", "L"), ("1,234.5", "kg", "gal")):
        with pytest.raises(Mistake, match="request: unknown"):
            reader_of(*wrong, "request")

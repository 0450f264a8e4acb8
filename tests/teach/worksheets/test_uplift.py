"""The uplift check: by hand, with a hidden fault, and with each slip of units."""

import pytest

from tests.teach.worksheets.sheets import filled, flight, problems, result, said
from wetwing.draw.tolerance_band import tolerance_band
from wetwing.flight.script import Edit

# By hand: 3,100 − 100 + 11,000 L × 0.800 = 11,800; 11,950 shown is 150 over, within 3 % of 8,800: 264.
BY_HAND = {
    "arrival": 3100.0,
    "ground": 100.0,
    "litres": 11_000.0,
    "density": 0.8,
    "temperature": 15.0,
    "gauged": 11_950.0,
    "ordered": None,
}


def levels(given: dict[str, object]) -> list[str]:
    return [level for level, _sentence in said(filled("uplift", BY_HAND | given))]


def test_the_sum_by_hand() -> None:
    sheet = filled("uplift", BY_HAND)
    for name, value in {
        "uplift": 8800.0,
        "expected": 11_800.0,
        "difference": 150.0,
        "tolerance": 264.0,
    }.items():
        assert result(sheet, name) == pytest.approx(value), name
    assert levels({}) == ["fits"]
    assert levels({"gauged": 12_064.0}) == ["fits"]
    assert levels({"gauged": 12_065.0}) == ["beyond"]
    assert levels({"gauged": 11_535.0}) == ["beyond"]
    assert levels({"gauged": 12_065.0, "fixed": 300.0}) == ["fits"]


def test_the_density_is_taken_to_the_fuels_temperature() -> None:
    sheet = filled("uplift", BY_HAND | {"temperature": 35.0})
    assert result(sheet, "density_there") == pytest.approx(0.8 - 20 * 0.00074)


def test_the_flights_own_refuelling_agrees() -> None:
    sheet = filled("uplift")
    assert abs(result(sheet, "difference")) < 0.5
    assert [level for level, _sentence in said(sheet)] == ["fits", "fits"]


def test_a_probe_that_reads_high_is_beyond_the_band() -> None:
    sheet = filled("uplift", flown=flight(Edit(60.0, "probe-centre-1", "biased 40")))
    assert result(sheet, "difference") > result(sheet, "tolerance") > 400.0
    assert said(sheet)[0][0] == "beyond"


@pytest.mark.parametrize(
    ("given", "told"),
    [
        # Gauges in pounds, written down as kilograms: the uplift of 8,800 kg shows as 19,401.
        (
            {"gauged": 3000.0 + 8800.0 / 0.45359237},
            "kilograms were taken for pounds, or the gauges read pounds",
        ),
        ({"gauged": 3000.0 + 8800.0 * 0.45359237}, "pounds were taken for kilograms"),
        ({"gauged": 3000.0 + 8800.0 * 3.785411784}, "US gallons were taken for litres"),
        ({"gauged": 3000.0 + 8800.0 / 3.785411784}, "litres were taken for US gallons"),
    ],
)
def test_a_slip_of_units_is_named_by_its_size(given: dict[str, object], told: str) -> None:
    assert any(told in sentence for _level, sentence in said(filled("uplift", BY_HAND | given)))


def test_a_difference_that_no_slip_makes_names_none() -> None:
    assert not any(
        "slip" in sentence for _level, sentence in said(filled("uplift", BY_HAND | {"gauged": 9000.0}))
    )


def test_a_need_divided_by_pounds_to_a_litre_brings_45_per_cent() -> None:
    """20,000 kg ordered, 4,015 there, the need divided by 1.77; the gauges agree with the truck."""
    there_kg = 5000.0 * 0.803
    needed_kg = 20_000.0 - there_kg
    litres = needed_kg / 1.77
    gauged_kg = there_kg + litres * 0.803
    sheet = filled(
        "uplift",
        {
            "arrival": there_kg,
            "ground": 0.0,
            "litres": litres,
            "density": 0.803,
            "temperature": 15.0,
            "gauged": gauged_kg,
            "ordered": 20_000.0,
        },
    )
    assert abs(result(sheet, "difference")) < 1e-6
    (fits, beyond) = said(sheet)
    assert fits[0] == "fits"
    assert beyond[0] == "beyond"
    assert "45 % of what the order needs" in beyond[1]
    assert "pounds were taken for kilograms" in beyond[1]


def test_more_burned_than_there_was_is_told_beside_the_field() -> None:
    assert set(problems(filled("uplift", BY_HAND | {"ground": 20_000.0}))) == {"ground"}


@pytest.mark.parametrize(("gauged", "shape"), [(11_950.0, 3), (13_500.0, 3), (9000.0, 3)])
def test_the_bar_has_its_figure_inside(gauged: float, shape: int) -> None:
    sheet = filled("uplift", BY_HAND | {"gauged": gauged})
    assert sheet.work is not None
    assert sheet.work.band is not None
    drawing = tolerance_band(sheet.work.band)
    (figure,) = [each for each in drawing.walk() if each.attributes.get("class") == "ww-band-figure"]
    places = [tuple(map(float, place.split(","))) for place in figure.attributes["points"].split()]
    assert len(places) == shape
    assert all(0.0 <= x <= 640.0 and 0.0 <= y <= 92.0 for x, y in places)
    middle = sum(x for x, _y in places) / 3.0
    assert (middle > 320.0) == (gauged > 11_800.0)

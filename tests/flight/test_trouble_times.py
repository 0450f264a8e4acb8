"""When troubles come and go: at a time, on a condition, for a while, until a time, until they are mended."""

import pytest

from tests.flight.flights import flown, turn, turns
from tests.flight.trouble_flights import (
    assert_balanced,
    at_s,
    flown_as,
    flown_with,
    gained,
    led_by,
    looks,
    value,
)
from wetwing.flight.record import Flight

FIGURES = ("total.on_board_kg", "main-left.actual_kg", "centre.actual_kg", "engine-1.used_kg")


def leaks(flight: Flight) -> tuple[float, float]:
    """When the trouble called seam comes and when it goes."""
    return turn(flight, "seam", "present").time_s, turn(flight, "seam", "absent").time_s


def test_a_trouble_lasts_its_time_or_until_a_time() -> None:
    row = '{ name = "seam", part = "main-left", kind = "leak", kg_h = 900, at = "3:00:00"'
    lasting, until = flown_with(row + ", lasts_s = 600 }"), flown_with(row + ', until = "3:10:00" }')
    for flight in (lasting, until):
        assert leaks(flight) == (at_s("3:00:00"), at_s("3:10:00"))
        assert gained(flight, "total.leaked_kg", "3:00:00", "3:10:00") > 100.0
        assert gained(flight, "total.leaked_kg", "3:10:00", "7:00:00") == 0.0
        goes = turn(flight, "seam", "absent")
        assert led_by(flight, goes) == {"seam"}
        assert_balanced(flight)
    for name in FIGURES:
        assert lasting.quantities[name][-1] == pytest.approx(until.quantities[name][-1], rel=1e-6)


def test_a_trouble_mended_by_an_edit_ends_as_one_that_ends_by_itself() -> None:
    edited = flown_as("3:00:00 main-left=leak 900", "3:10:00 main-left=mended")
    row = '{ part = "main-left", kind = "leak", kg_h = 900, at = "3:00:00", until = "3:10:00" }'
    assert edited.quantities == flown_with(row).quantities


def test_a_mended_part_loses_every_trouble_that_it_has() -> None:
    flight = flown_as(
        *("3:00:00 main-left-forward=low output 0.5", "3:05:00 main-left-forward=failed"),
        "3:10:00 main-left-forward=mended",
    )
    assert flight.state("edit-1", at_s("3:10:00")) == flight.state("edit-2", at_s("3:10:00")) == "absent"
    pressure = value(flight, "main-left-forward.pressure_bar", "4:00:00")
    assert pressure == pytest.approx(value(flown(), "main-left-forward.pressure_bar", "4:00:00"), abs=1e-3)


def test_a_trouble_comes_when_its_condition_has_held_so_long() -> None:
    flight = flown_with(
        '{ name = "seam", part = "main-left", kind = "leak", kg_h = 900, '
        'when = "flight.altitude_ft > 30,000 ft", after_s = 120, lasts_s = 60 }'
    )
    reached = next(t for t in range(3000, 5000) if value(flown(), "flight.altitude_ft", t) > 30_000.0)
    comes, goes = leaks(flight)
    assert comes == pytest.approx(reached + 120.0, abs=1.0)
    assert goes - comes == pytest.approx(60.0)
    # It comes once: the aircraft stays above that height for hours.
    assert len(turns(flight, "seam")) == 2


def test_a_trouble_whose_condition_breaks_off_does_not_come() -> None:
    flight = flown_with(
        '{ name = "seam", part = "main-left", kind = "leak", kg_h = 900, '
        'when = "slats is out and phase is taxi", after_s = 3000 }'
    )
    assert turns(flight, "seam") == []
    assert flight.quantities["total.on_board_kg"] == flown().quantities["total.on_board_kg"]


def test_before_it_comes_a_trouble_changes_nothing() -> None:
    flight = flown_as("3:00:00 main-left=leak 900")
    for name in FIGURES:
        for k, time_s in enumerate(flight.time_s):
            if time_s < at_s("3:00:00"):
                assert flight.quantities[name][k] == flown().quantities[name][k]
    before = [change for change in flight.changes if change.time_s < at_s("3:00:00")]
    assert before == [change for change in flown().changes if change.time_s < at_s("3:00:00")]


@pytest.mark.parametrize(
    ("edit", "figure", "severities"),
    [
        ("3:30:00 main-left-forward=low output", "main-left-forward.pressure_bar", (0.8, 0.6, 0.4)),
        ("3:30:00 probe-main-left-1=biased", "main-left.gauged_kg", (-40.0, -20.0, 0.0)),
        ("3:30:00 totaliser=biased", "total.gauged_kg", (100.0, 300.0, 500.0)),
        ("3:30:00 meter-1=biased", "engine-1.metered_kg_h", (-20.0, 0.0, 20.0)),
        ("3:30:00 main-left=water", "main-left.gauged_kg", (10.0, 20.0, 30.0)),
        ("3:30:00 preselect=wrong units", "preselect.value_kg", (0.2, 0.4, 0.6)),
    ],
)
def test_a_severity_twice_as_far_is_twice_the_effect(
    edit: str, figure: str, severities: tuple[float, float, float]
) -> None:
    low, middle, high = (
        value(flown_as(f"{edit} {severity:g}", *looks("3:31:00")), figure, "3:31:00")
        for severity in severities
    )
    assert middle - low != 0.0
    assert high - middle == pytest.approx(middle - low, rel=2e-3)

"""What the crews of the Rowan 54 and the Juniper 285 are told when it goes wrong."""

import pytest

from tests.flight.fleet_flights import airborne_s, flown
from tests.flight.flights import turn, turns


@pytest.mark.parametrize(
    ("name", "leaks", "at_kg"),
    [
        ("rowan-54", "0:55:00 main-left=leak 1500", 90.0),
        ("juniper-285", "5:00:00 inner-left=leak 6000", 600.0),
    ],
)
def test_a_leak_is_told_from_what_is_missing(name: str, leaks: str, at_kg: float) -> None:
    flight = flown(name, leaks)
    told = turn(flight, "leak", "on")
    # It has been so for a minute; the gauges' own error is in it, so it is looked at as the crew sees it.
    assert flight.quantity("total.discrepancy_kg", told.time_s - 60.0) == pytest.approx(at_kg, abs=1.0)
    assert flight.quantity("total.leaked_kg", told.time_s) > at_kg


@pytest.mark.parametrize(
    ("name", "edits", "tank", "kg_h"),
    [
        (
            "rowan-54",
            (
                "1:00:00 engine-jet-right=check valve stuck open",
                "1:00:00 fuel-pump-1=on",
                "1:00:30 cross-feed=open",
            ),
            "main-right",
            200.0,
        ),
        (
            "juniper-285",
            (
                "5:00:00 inner-right-first=check valve stuck open",
                "5:00:10 inner-right-first=off",
                "5:00:20 inner-right-second=off",
                "5:00:30 cross-feed=open",
            ),
            "inner-right",
            800.0,
        ),
    ],
)
def test_fuel_that_goes_where_it_should_not_is_told(
    name: str, edits: tuple[str, ...], tank: str, kg_h: float
) -> None:
    flight = flown(name, *edits)
    told = turn(flight, "abnormal-transfer-right", "on")
    assert flight.quantity(f"{tank}.rate_kg_h", told.time_s) > kg_h
    assert flight.quantity(f"{tank}.actual_kg", told.time_s) > flight.quantity(
        f"{tank}.actual_kg", told.time_s - 55.0
    )
    assert not turns(flight, "abnormal-transfer-left")


def test_fuel_trapped_in_centre_and_tail_is_told() -> None:
    valves = ("1:50:00 centre-valve-left=stuck shut", "1:50:00 centre-valve-right=stuck shut")
    centre = turn(flown("juniper-285", *valves), "trapped-centre", "on")
    assert flown("juniper-285", *valves).quantity("centre.gauged_kg", centre.time_s) > 10_000.0
    tail = flown("juniper-285", "6:00:00 trim-valve-centre=stuck shut")
    emptied = turn(tail, "tail-emptied", "active")
    assert turn(tail, "trapped-tail", "on").time_s == pytest.approx(emptied.time_s + 60.0, abs=0.1)
    assert tail.quantity("tail.gauged_kg", airborne_s(tail)[1]) > 2000.0


def test_an_outer_valve_that_sticks_traps_its_fuel() -> None:
    flight = flown("juniper-285", "3:00:00 outer-valve-left=stuck shut")
    release = turn(flight, "outer-release", "active")
    assert turn(flight, "trapped-outer-left", "on").time_s == pytest.approx(release.time_s + 30.0)
    assert not turns(flight, "trapped-outer-right")


def test_fuel_that_stays_in_the_tail_brings_the_balance_to_its_caution() -> None:
    """Trim transfer aft goes on although the balance has come to its target."""
    flight = flown("juniper-285", "1:45:00 trim-aft=false start", "1:45:00 trim-forward=inhibited")
    warned = turn(flight, "balance-aft", "on")
    assert flight.quantity("flight.cg_percent", warned.time_s - 10.0) == pytest.approx(35.5, abs=0.01)

"""What counts as missing fuel: a leak and a loss by a vent do, what the crew has jettisoned does not."""

import pytest

from tests.flight.fleet_flights import airborne_s, flown
from tests.flight.flights import turn, turns
from wetwing.flight.record import Flight

JETTISON = ("1:35:50 jettison-floor=40000", "1:36:00 jettison-switch=on")


def value(flight: Flight, quantity: str, time_s: float) -> float:
    return flight.quantity(quantity, time_s)


def test_jettisoned_fuel_is_known_and_raises_no_leak_alert() -> None:
    flight = flown("juniper-285", *JETTISON)
    ends_s = turn(flight, "jettison", "inactive", 5000.0).time_s
    assert value(flight, "total.discharged_kg", ends_s + 60.0) > 25_000.0
    for after_s in (60.0, 3600.0, 7200.0):
        sound = value(flown("juniper-285"), "total.discrepancy_kg", 4.0 * 3600.0)
        assert value(flight, "total.discrepancy_kg", ends_s + after_s) == pytest.approx(sound, abs=120.0)
    assert turns(flight, "leak") == []


def test_fuel_by_use_takes_off_what_went_overboard_on_purpose() -> None:
    flight = flown("juniper-285", *JETTISON)
    for time_s in (2.0 * 3600.0, 5.0 * 3600.0):
        assert value(flight, "total.computed_kg", time_s) == pytest.approx(
            value(flight, "total.gauged_kg", time_s), abs=120.0
        )


def test_what_was_jettisoned_before_the_engines_started_is_no_part_of_the_account() -> None:
    """Fuel that went on the ground is gone from the gauges that the account opens with."""
    flight = flown("juniper-285", *JETTISON)
    opens_s = turn(flight, "engine-2", "starting").time_s
    assert value(flight, "total.discharged_kg", opens_s) == 0.0
    assert value(flight, "total.discrepancy_kg", opens_s + 1.0) == pytest.approx(0.0, abs=1.0)


def test_a_leak_during_a_jettison_is_told() -> None:
    flight = flown("juniper-285", *JETTISON, "1:36:00 inner-left=leak 20000")
    told = turn(flight, "leak", "on", 5760.0)
    assert told.time_s < turn(flight, "jettison", "inactive", 5760.0).time_s
    assert value(flight, "total.leaked_kg", told.time_s) == pytest.approx(
        value(flight, "total.discrepancy_kg", told.time_s), abs=250.0
    )


# ------------------------------------------------------------------ what leaves by a vent


SPILLS = ("1:22:00 centre-feed=manual", "2:06:00 centre-feed=automatic")
"""In manual the centre feeds on while return flow fills the wings, until they spill by both vents."""


def test_a_loss_by_a_vent_is_told_in_the_cruise_and_not_in_the_descent() -> None:
    flight = flown("alder-165", *SPILLS)
    descent_s = next(phase.start_s for phase in flight.phases if phase.name == "descent")
    lost_kg = value(flight, "total.vented_kg", descent_s)
    assert 200.0 < lost_kg < 350.0
    told = turns(flight, "leak", "on")
    assert len(told) == 1
    # While it spills: hours before a nose-down gauge adds its own error.
    ends_s = turn(flight, "main-right-spilling", "off", told[0].time_s).time_s
    assert told[0].time_s < ends_s < descent_s - 3600.0


def test_a_leak_that_has_been_told_stays_told_when_the_nose_goes_down() -> None:
    """Its difference lies between the two thresholds: off level it would not be told for the first time."""
    flight = flown("alder-165", "6:00:00 main-left=leak 1400", "6:38:00 main-left=mended")
    told = turn(flight, "leak", "on", 21_600.0)
    descent_s = next(phase.start_s for phase in flight.phases if phase.name == "descent")
    assert told.time_s < descent_s
    assert 350.0 < value(flight, "total.discrepancy_kg", descent_s + 60.0) < 550.0
    assert flight.state("leak", descent_s + 900.0) == "on"
    assert len(turns(flight, "leak", "on")) == 1


@pytest.mark.parametrize("minute", [54, 56, 58, 60, 62])
def test_no_loss_by_a_vent_is_told_of_in_the_descent_alone(minute: int) -> None:
    """Whatever was lost: a loss is told where the gauges are right, or not at all."""
    back = f"{minute // 60 + 1}:{minute % 60:02d}:00"
    flight = flown("alder-165", "1:22:00 centre-feed=manual", f"{back} centre-feed=automatic")
    descent_s = next(phase.start_s for phase in flight.phases if phase.name == "descent")
    assert all(change.time_s < descent_s for change in turns(flight, "leak", "on"))


def test_the_surge_spaces_alone_are_no_leak() -> None:
    """What stands in them is on no gauge and drains back: nothing has left the aircraft."""
    flight = flown("alder-165", "1:22:00 centre-feed=manual", "1:51:30 centre-feed=automatic")
    assert max(flight.quantities["vent-right.surge_kg"]) > 80.0
    assert value(flight, "total.vented_kg", flight.duration_s) < 20.0
    assert turns(flight, "leak") == []


@pytest.mark.parametrize("name", ["alder-165", "alder-165-b", "juniper-285", "rowan-54"])
def test_no_normal_flight_comes_near_its_leak_alert(name: str) -> None:
    flight = flown(name)
    assert turns(flight, "leak") == []
    start_s, end_s = airborne_s(flight)
    missing = zip(flight.time_s, flight.quantities["total.discrepancy_kg"], strict=True)
    least = {"alder-165": 550.0, "alder-165-b": 550.0, "juniper-285": 600.0, "rowan-54": 90.0}[name]
    assert max(kg for time_s, kg in missing if start_s <= time_s <= end_s) < 0.5 * least

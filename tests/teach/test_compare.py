"""Where two flights part."""

from dataclasses import replace

from tests.teach.hand_made import CHANGES, EDITED_CHANGES, change, claims, flight
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.script import Edit, read_script, with_edits
from wetwing.teach.compare import Difference, first_difference


def difference(ours: tuple[object, ...], theirs: tuple[object, ...]) -> Difference | None:
    flights = claims().flights
    one = flight(flights.aircraft, flights.script, ours)  # type: ignore[arg-type]
    other = flight(flights.aircraft, flights.script, theirs)  # type: ignore[arg-type]
    return first_difference(one, other)


def test_the_same_flight_has_no_difference() -> None:
    assert difference(CHANGES, CHANGES) is None


def test_what_only_the_first_flight_does_is_told_as_missing() -> None:
    found = difference(CHANGES, EDITED_CHANGES)
    assert found is not None
    assert (found.time_s, found.part, found.in_second) == (40.0, "slat-hold", False)
    assert (found.before, found.after) == ("inactive", "active")
    assert found.said().startswith(
        "A state first differs at 0:00:40: slat hold active, where it was inactive."
    )


def test_what_only_the_second_flight_does_is_told() -> None:
    found = difference(CHANGES[:3], EDITED_CHANGES)
    assert found is not None
    assert (found.time_s, found.part, found.before, found.after) == (60.0, "vent-left", "dry", "spilling")
    assert "In the edited flight: Because of overflow." in found.said()


def test_an_alert_stands_in_quotes_for_its_label_is_a_sentence() -> None:
    alert = next(one for one in claims().flights.aircraft.alerts)
    comes = change(60.0, alert.name, "off", "on", "it is so")
    found = difference(CHANGES[:3], (*CHANGES[:3], comes))
    assert found is not None
    assert found.kind == "alert"
    assert f"0:01:00: the alert “{alert.label}” on, where it was off. " in found.said()


def test_a_trouble_that_one_flight_alone_has_is_the_cause_and_no_difference() -> None:
    trouble = change(50.0, "edit-1", "absent", "present", "leak", kind="trouble")
    assert difference(CHANGES, (*CHANGES, trouble)) is None
    follows = change(60.0, "vent-left", "dry", "spilling", "leak", kind="trouble")
    found = difference(CHANGES[:3], (*CHANGES[:3], trouble, follows))
    assert found is not None
    assert (found.time_s, found.part) == (60.0, "vent-left")


def test_a_setting_is_the_cause_and_no_difference() -> None:
    assert (
        difference(CHANGES[:3], (*CHANGES[:3], change(50.0, "flaps", "in", "out", "s", kind="action")))
        is None
    )


def test_the_same_event_a_little_later_is_no_difference() -> None:
    later = tuple(replace(one, time_s=one.time_s + 0.001) for one in CHANGES)
    assert difference(CHANGES, later) is None
    much_later = tuple(replace(one, time_s=one.time_s + 5.0) for one in CHANGES)
    found = difference(CHANGES, much_later)
    assert found is not None
    assert found.time_s == 10.0


def test_an_event_that_happens_twice_is_matched_by_its_time() -> None:
    again = change(70.0, "slat-hold", "inactive", "active", "slat-hold")
    found = difference(CHANGES, (*CHANGES[:6], again, CHANGES[6]))
    assert found is not None
    assert (found.time_s, found.in_second) == (70.0, True)


def test_troubles_of_edits_are_causes_even_where_both_flights_call_theirs_by_one_name() -> None:
    aircraft = read_aircraft("alder-165")
    script = read_script("day-sector", aircraft)
    leaking, failing = (
        fly(aircraft, with_edits(script, (edit,), aircraft))
        for edit in (Edit(9000.0, "main-left", "leak 1200"), Edit(9300.0, "engine-2", "failed"))
    )
    found = first_difference(leaking, failing)
    assert found is not None
    assert leaking.aircraft.parts[found.part].kind != "trouble"
    assert 9000.0 < found.time_s <= 9300.0

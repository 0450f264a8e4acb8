"""What a crew sees of the Alder 165's revision B, against revision A."""

import pytest

from tests.flight.fleet_flights import flown
from tests.flight.flights import turn


def test_revision_b_proves_the_centre_pumps_for_a_hundred_seconds() -> None:
    for name, lasts_s in (("alder-165", 150.0), ("alder-165-b", 100.0)):
        for rule in ("proving-run-1", "proving-run-2"):
            begun = turn(flown(name), rule, "active")
            assert turn(flown(name), rule, "inactive").time_s == pytest.approx(begun.time_s + lasts_s)
    # Short as they are, the two runs no longer meet: the crew see the centre pumps stop in between.
    between_s = turn(flown("alder-165-b"), "proving-run-1", "active").time_s - 5.0
    assert flown("alder-165-b").state("centre-left", between_s) == "stopped by automatics"
    assert flown("alder-165").state("centre-left", between_s) == "delivering"


def test_revision_b_gives_the_centre_back_sooner() -> None:
    for name, gives_kg in (("alder-165", 430.0), ("alder-165-b", 350.0)):
        flight = flown(name)
        begun = turn(flight, "return-flow-hold-right", "active")
        ended = turn(flight, "return-flow-hold-right", "inactive", begun.time_s)
        fallen = [flight.quantity("main-right.gauged_kg", c.time_s) for c in (begun, ended)]
        assert fallen[0] - fallen[1] == pytest.approx(gives_kg, abs=0.05)


def test_revision_b_stops_both_centre_pumps_when_one_runs_dry() -> None:
    """In revision A each pump is stopped for itself; in B the second one stops while it still delivers."""
    stops = {}
    for name in ("alder-165", "alder-165-b"):
        flight = flown(name)
        dry = turn(flight, "centre-left", "dry")
        pumps = ("centre-left", "centre-right")
        stops[name] = [turn(flight, pump, "stopped by automatics", dry.time_s) for pump in pumps]
        after_s = [stop.time_s - dry.time_s for stop in stops[name]]
        assert after_s[0] == pytest.approx(10.0 if name == "alder-165" else 5.0)
    assert stops["alder-165"][1].time_s > stops["alder-165"][0].time_s + 5.0
    assert stops["alder-165"][1].before == "dry"
    assert stops["alder-165-b"][1].time_s == stops["alder-165-b"][0].time_s
    assert stops["alder-165-b"][1].before == "delivering"


def test_revision_b_releases_the_outboards_earlier() -> None:
    for name, at_kg in (("alder-165", 900.0), ("alder-165-b", 1100.0)):
        flight = flown(name)
        release = turn(flight, "outboard-release", "active")
        mains = [flight.quantity(f"main-{side}.gauged_kg", release.time_s) for side in ("left", "right")]
        assert min(mains) == pytest.approx(at_kg, abs=0.01)

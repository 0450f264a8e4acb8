"""A figure of a gauge or meter that shows nothing is blank: the zero that the record holds is no reading."""

import pytest

from wetwing.aircraft.read import read_aircraft
from wetwing.flight.script import read_script
from wetwing.teach.claims import Claims
from wetwing.teach.flights import Flights
from wetwing.teach.values import value_of

AIRCRAFT = read_aircraft("alder-165")
CLAIMS = Claims(Flights(AIRCRAFT, read_script("day-sector", AIRCRAFT)))
CRUISE = "phase cruise + 0:01:00"


def all_probes_of(tank: str) -> str:
    names = [probe.name for probe in AIRCRAFT.probes if probe.tank == tank]
    return ", ".join(f"{name}=no signal at phase cruise" for name in names)


def shown(edit: str, quantity: str) -> str:
    return value_of(CLAIMS, f"with {edit} then {quantity} at {CRUISE}", "page.md:1").text


@pytest.mark.parametrize("quantity", ["gauged_kg", "discrepancy_kg", "imbalance_kg"])
def test_a_blank_gauge_takes_the_sums_with_it(quantity: str) -> None:
    assert shown(all_probes_of("main-left"), f"total.{quantity}") == "blank"


def test_the_other_tanks_and_what_is_inside_keep_their_figures() -> None:
    lost = all_probes_of("main-left")
    assert shown(lost, "main-left.gauged_kg") == "blank"
    assert shown(lost, "main-left.actual_kg").endswith(" kg")
    assert shown(lost, "main-right.gauged_kg").endswith(" kg")


def test_one_probe_of_several_leaves_a_reading_and_the_centre_no_imbalance_blank() -> None:
    assert shown("probe-main-left-1=no signal at phase cruise", "main-left.gauged_kg").endswith(" kg")
    assert shown(all_probes_of("centre"), "total.imbalance_kg").endswith(" kg")


def test_a_silent_meter_is_blank_and_its_engine_is_not() -> None:
    assert shown("meter-1=no signal at phase cruise", "engine-1.metered_kg_h") == "blank"
    assert shown("meter-1=no signal at phase cruise", "engine-1.flow_kg_h").endswith(" kg/h")

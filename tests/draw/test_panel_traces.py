"""The traces: every quantity of every aircraft of the fleet stands in them, in groups that the data makes."""

from typing import Any, cast

import pytest

from tests.draw.test_other_aircraft import without_a_centre_tank
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.names import quantities
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.draw.panel_traces import trace_groups, traces_html

FLEET = tuple(read_aircraft(name) for name in fleet())

# What a record holds beside the traces: figures that a reader finds in the table of every figure.
NOT_TRACED = ("volume_l", "fill", "rate_kg_h", "air_share", "surge_kg", "used_kg", "uplifted_l")
NOT_TRACED_WHOLE = (
    *("total.uplifted_kg", "total.metered_kg", "flight.time_s", "flight.altitude_ft", "flight.mach"),
    *("flight.pitch_deg", "flight.roll_deg"),
)


def lines_of(aircraft: Aircraft) -> list[dict[str, Any]]:
    groups = cast(list[dict[str, Any]], trace_groups(aircraft))
    return [line for group in groups for plot in group["plots"] for line in plot["lines"]]


def terms(line: dict[str, Any]) -> list[str]:
    return [term.removeprefix("-") for term in line.get("terms", [line["name"]])]


@pytest.mark.parametrize("aircraft", FLEET, ids=lambda aircraft: aircraft.name)
def test_every_line_is_a_quantity_of_the_aircraft_and_hardly_any_is_left_out(aircraft: Aircraft) -> None:
    known = set(quantities(aircraft))
    traced = {term for line in lines_of(aircraft) for term in terms(line)}
    assert traced <= known
    pumped = {f"{pump.name}.pressure_bar" for pump in (*aircraft.bypasses, *aircraft.supplies)}
    left = {
        name
        for name in known - traced - pumped - set(NOT_TRACED_WHOLE)
        if name.partition(".")[2] not in NOT_TRACED and ".value_" not in name
    }
    assert left == set()


@pytest.mark.parametrize("aircraft", FLEET, ids=lambda aircraft: aircraft.name)
def test_columns_of_a_saved_file_have_names_of_their_own_in_each_plot(aircraft: Aircraft) -> None:
    groups = cast(list[dict[str, Any]], trace_groups(aircraft))
    for group in groups:
        assert group["plots"], group["name"]
        for plot in group["plots"]:
            names = [line["name"] for line in plot["lines"]]
            labels = [line["label"] for line in plot["lines"]]
            assert len(names) == len(set(names)) == len(set(labels)) > 0
            assert plot["unit"] in ("kg", "kg/h", "bar", "°C", "%", "kN·m")


@pytest.mark.parametrize("aircraft", FLEET, ids=lambda aircraft: aircraft.name)
def test_what_a_crew_is_shown_is_what_instruments_read(aircraft: Aircraft) -> None:
    told = {line["name"] for line in lines_of(aircraft) if line.get("told")}
    assert f"{aircraft.tanks[0].name}.gauged_kg" in told
    assert f"{aircraft.engines[0].name}.metered_kg_h" in told
    assert not any(name.endswith((".actual_kg", ".flow_kg_h", "_bar")) for name in told)
    instruments = {"probe", "totaliser", "meter"}
    for line in lines_of(aircraft):
        for parts in line.get("blank", ()):
            assert {aircraft.parts[part].kind for part in parts} <= instruments


def test_fuel_from_outside_is_told_apart_from_fuel_between_the_tanks() -> None:
    aircraft = read_aircraft("alder-165")
    plots = {plot["title"]: plot for plot in cast(Any, trace_groups(aircraft)[1])["plots"]}
    outside = {line["name"] for line in plots["From and to the outside"]["lines"]}
    inside = {line["name"] for line in plots["Between the tanks and lines"]["lines"]}
    assert {"refuel-supply.flow_kg_h", "refuel-valve-centre.flow_kg_h", "vent-left.flow_kg_h"} <= outside
    assert {"cross-feed.flow_kg_h", "return-left.flow_kg_h", "scavenge.flow_kg_h"} <= inside


def test_the_wings_are_set_against_each_other() -> None:
    aircraft = read_aircraft("alder-165")
    wings, pairs = cast(Any, trace_groups(aircraft)[5])["plots"]
    signed = set(wings["lines"][0]["terms"])
    assert signed == {
        *("-outboard-left.actual_kg", "-main-left.actual_kg"),
        *("main-right.actual_kg", "outboard-right.actual_kg"),
    }
    assert [line["label"] for line in pairs["lines"]] == [
        "Main right less main left",
        "Outboard right less outboard left",
    ]


def test_an_aircraft_without_some_parts_has_no_empty_traces() -> None:
    names = {line["name"] for line in lines_of(without_a_centre_tank())}
    assert not any(name.startswith(("centre", "scavenge")) for name in names)


def test_the_sections_are_folded_and_wait_for_the_script() -> None:
    for section in traces_html():
        assert section.tag == "details"
        assert "open" not in section.attributes
        assert "ww-live" in section.attributes["class"]

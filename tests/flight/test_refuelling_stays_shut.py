"""An order that has been met stays met while fuel is used: the valves open again at a margin, not at a
hair.
"""

from dataclasses import replace
from functools import cache

import pytest

from tests.flight.fleet_flights import FLIGHTS
from tests.flight.flights import edit, turns
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight
from wetwing.flight.script import read_script, with_edits

MARGIN_KG = {"alder-165": 200.0, "alder-165-b": 200.0, "juniper-285": 500.0, "rowan-54": 40.0}
STANDS_S = {"alder-165": 2700.0, "alder-165-b": 2700.0, "juniper-285": 5000.0, "rowan-54": 1700.0}
"""Until shortly before take-off."""

LEAKS = {
    "alder-165": "0:20:00 main-left=leak 3000",
    "alder-165-b": "0:20:00 main-left=leak 3000",
    "juniper-285": "0:45:00 inner-left=leak 6000",
    "rowan-54": "0:06:30 main-left=leak 900",
}


@cache
def left_on_the_hose(name: str, *edits: str) -> Flight:
    """The preparation with the hose left on and the engines left off."""
    aircraft = read_aircraft(name)
    script = read_script(FLIGHTS[name], aircraft)

    def left_out(part: str, state: str) -> bool:
        ends = part in ("refuel-hose", "refuel-door") and state in ("disconnected", "shut")
        return ends or part.startswith("engine")

    actions = tuple(
        action
        for action in script.actions
        if not any(left_out(setting.part, setting.state) for setting in action.settings)
    )
    script = replace(script, actions=actions, ends_s=STANDS_S[name])
    return fly(aircraft, with_edits(script, tuple(edit(text) for text in edits), aircraft))


@pytest.mark.parametrize("name", MARGIN_KG)
def test_fuel_that_is_used_meanwhile_opens_no_valve(name: str) -> None:
    """The APU runs for half an hour and more, where there is one."""
    apu = read_aircraft(name).apus
    flight = left_on_the_hose(name, *(("0:02:30 apu-run=on",) if apu else ()))
    met = turns(flight, "refuelling", "inactive")[0]
    assert turns(flight, "refuelling", since_s=met.time_s + 1.0) == []
    if apu:
        # Less than was ordered, by what the APU took after the valves had shut.
        order_kg = flight.quantity("preselect.value_kg", flight.duration_s)
        assert order_kg - MARGIN_KG[name] < flight.quantity("total.gauged_kg", flight.duration_s)
        assert max(flight.quantities["apu.flow_kg_h"]) > 100.0


@pytest.mark.parametrize("name", MARGIN_KG)
def test_it_fills_again_once_the_gauges_read_less_by_its_margin(name: str) -> None:
    flight = left_on_the_hose(name, LEAKS[name])
    order_kg = flight.quantity("preselect.value_kg", flight.duration_s)
    met = turns(flight, "refuelling", "inactive")[0]
    again = turns(flight, "refuelling", "active", met.time_s)
    assert again
    # The Alder's controller looks at the gauges for 20 s, in which the leak takes 17 kg.
    for change in again:
        read_kg = flight.quantity("total.gauged_kg", change.time_s)
        assert order_kg - MARGIN_KG[name] - 18.0 <= read_kg <= order_kg - MARGIN_KG[name] + 0.5
    lost_kg = flight.quantity("total.leaked_kg", flight.duration_s)
    assert len(again) <= lost_kg / MARGIN_KG[name]


def test_a_larger_order_is_filled_at_once() -> None:
    flight = left_on_the_hose("alder-165", "0:03:30 preselect=15000", "0:22:00 preselect=16000")
    again = turns(flight, "refuelling", "active", 22 * 60.0)
    assert [change.time_s for change in again] == pytest.approx([22 * 60.0 + 20.0])
    assert flight.quantity("total.gauged_kg", flight.duration_s) >= 16000.0 - 200.0


def test_what_is_said_names_the_margin() -> None:
    flight = left_on_the_hose("alder-165", LEAKS["alder-165"])
    again = turns(flight, "refuelling", "active")[1]
    assert "{200 kg} less" in again.reason.sentence
    facts = {fact.name: fact.value or 0.0 for fact in again.reason.facts}
    assert facts["total.gauged_kg"] == pytest.approx(facts["preselect.value_kg"] - 217.0, abs=5.0)

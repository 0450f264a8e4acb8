"""The alerts of the Alder 165: each sounds for its reason, leaves with it, and keeps quiet otherwise."""

import pytest

from tests.flight.coverage import Scenario, flown, staged
from tests.flight.flights import alder, turn, turns
from tests.flight.trouble_flights import alerts, flown_as, gained, led_by, value
from wetwing.flight.record import Flight

REQUIRED = {
    "abnormal transfer": "abnormal-transfer-centre",
    "trapped fuel": "trapped-centre",
    "leak": "leak",
    "low level": "low-level-left",
}
"""The four that AMC 25.1305(a)(2) asks for at the least."""

STAGED = [scenario for scenario in staged() if scenario.aircraft == "alder-165"]
LIGHTEST_KG_M3, FULLEST_KG = 775.0, 80_500.0
"""The lightest Jet A-1, and the highest mass without fuel."""


def flight_for(alert: str) -> tuple[Scenario, Flight]:
    scenario = next(scenario for scenario in STAGED if alert in scenario.shows)
    return scenario, flown(scenario)


# ------------------------------------------------------------------ each sounds, and leaves


@pytest.mark.parametrize("alert", alder().alerts, ids=lambda alert: alert.name)
def test_each_alert_sounds_when_it_should_and_leaves_when_its_condition_ends(alert: object) -> None:
    part = next(one for one in alder().alerts if one is alert)
    _, flight = flight_for(part.name)
    sounds = turn(flight, part.name, "on")
    leaves = turn(flight, part.name, "off", sounds.time_s)
    assert leaves.time_s > sounds.time_s
    assert leaves.reason.sentence.startswith("The alert leaves: ")
    assert sounds.reason.facts
    # One on each side: an alert never names the other wing's.
    for side, other in (("left", "right"), ("right", "left")):
        if part.name.endswith(side):
            assert part.name.replace(side, other) not in alerts(flight) or part.name.startswith("low-level")


@pytest.mark.parametrize(
    "changes", [{}, {"deviation_k": 15.0}, {"deviation_k": -15.0}, {"zero_fuel_kg": 60_000.0}]
)
def test_no_alert_sounds_in_a_normal_flight(changes: dict[str, float]) -> None:
    assert alerts(flown_as(**changes)) == []


def test_the_four_that_the_rules_ask_for_are_there() -> None:
    known = {alert.name: alert for alert in alder().alerts}
    for name in REQUIRED.values():
        assert known[name].level == "caution"
        assert alerts(flight_for(name)[1])


# ------------------------------------------------------------------ the four, in numbers


def test_the_leak_alert_waits_for_350_kg_and_a_minute() -> None:
    flight = flown_as("2:00:00 main-left=leak 2400")
    sounds = turn(flight, "leak", "on")
    assert value(flight, "total.discrepancy_kg", sounds.time_s - 60.0) == pytest.approx(350.0, abs=1.0)
    # In a climb, a descent and an approach the gauges differ from level flight by less than two thirds of it.
    usual = flown_as()
    assert max(abs(kg) for kg in usual.quantities["total.discrepancy_kg"]) < 233.0
    assert value(flight, "total.leaked_kg", sounds.time_s) < 400.0


@pytest.mark.parametrize(
    ("density", "deviation", "uplift"),
    [(LIGHTEST_KG_M3, 30.0, 40.0), (LIGHTEST_KG_M3, 0.0, 14.0), (840.0, -10.0, 5.0)],
)
def test_the_low_level_alert_leaves_thirty_minutes_of_cruise(
    density: float, deviation: float, uplift: float
) -> None:
    # Little fuel, much load, and every tank but the mains empty: the level is reached in cruise.
    flight = flown_as(
        "0:03:30 preselect=9500",
        density_15c_kg_m3=density,
        deviation_k=deviation,
        uplift_temperature_c=uplift,
        zero_fuel_kg=FULLEST_KG,
    )
    for side, engine in (("left", "engine-1"), ("right", "engine-2")):
        sounds = turn(flight, f"low-level-{side}", "on")
        assert flight.phase(sounds.time_s).name == "cruise"
        assert value(flight, f"outboard-{side}.gauged_kg", sounds.time_s) < 1.0
        stops = turn(flight, engine, "stopped for want of fuel")
        assert stops.time_s - sounds.time_s >= 30 * 60.0
        # Not far more either: an alert that comes an hour early is not heeded.
        assert stops.time_s - sounds.time_s <= 40 * 60.0


def test_no_single_fault_takes_both_the_gauge_and_the_low_level_alert() -> None:
    low = ("0:03:30 preselect=9500",)
    dead_gauge = [f"0:30:00 probe-main-left-{n}=no signal" for n in range(1, 8)]
    assert "low-level-left" in alerts(flown_as(*low, *dead_gauge))
    dead_sensor = flown_as(*low, "0:30:00 low-level-main-left=no signal")
    assert "low-level-left" not in alerts(dead_sensor)
    right_s = turn(dead_sensor, "low-level-right", "on").time_s
    assert 0.0 < value(dead_sensor, "main-left.gauged_kg", right_s) < 800.0


def test_trapped_centre_fuel_is_told_while_the_mains_still_have_an_hour_and_a_half() -> None:
    _, flight = flight_for("trapped-centre")
    sounds = turn(flight, "trapped-centre", "on")
    # Centre pumps give nothing, 2,500 kg in a main, and two engines that draw on the mains alone.
    assert value(flight, "centre.gauged_kg", sounds.time_s) > 2000.0
    assert value(flight, "main-left.gauged_kg", sounds.time_s) / value(
        flight, "engine-1.flow_kg_h", sounds.time_s
    ) == pytest.approx(1.75, abs=0.2)
    assert "edit-1" in led_by(flight, sounds)


@pytest.mark.parametrize("tank", ["left", "centre", "right"])
def test_an_abnormal_transfer_is_told_within_two_minutes(tank: str) -> None:
    _, flight = flight_for(f"abnormal-transfer-{tank}")
    pump = {"left": "main-left-forward", "centre": "centre-left", "right": "main-right-forward"}[tank]
    sounds = turn(flight, f"abnormal-transfer-{tank}", "on")
    back = turn(flight, pump, "flowing back")
    assert sounds.time_s - back.time_s == pytest.approx(60.0, abs=5.0)
    name = tank if tank == "centre" else f"main-{tank}"
    assert gained(flight, f"{name}.actual_kg", back.time_s, sounds.time_s) > 50.0
    assert {"edit-1", pump} <= led_by(flight, sounds)


def test_warnings_and_cautions_are_those_of_25_1322() -> None:
    levels = {alert.level for alert in alder().alerts}
    assert levels == {"warning", "caution", "advisory"}
    warnings = {alert.name for alert in alder().alerts if alert.level == "warning"}
    # A warning asks for an act at once: here, pressure that an engine is about to lose (25.1305).
    assert warnings == {"feed-pressure-1", "feed-pressure-2"}
    _, flight = flight_for("feed-pressure-1")
    sounds = turns(flight, "feed-pressure-1", "on")[0]
    assert {"edit-1", "edit-2"} & led_by(flight, sounds)
    assert turn(flight, "engine-1", "stopped for want of fuel").time_s > sounds.time_s

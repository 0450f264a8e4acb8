"""Valves that stick, are slow or lie; rules that act or fail to; buses that die; controls that do nothing."""

import pytest

from tests.flight.flights import alder, flown, turn, turns
from tests.flight.trouble_flights import (
    alerts,
    assert_balanced,
    at_s,
    flown_as,
    gained,
    led_by,
    looks,
    value,
)

AC_1 = ("main-left-forward", "centre-left", "main-right-aft")
"""The pumps on AC bus 1."""


# ------------------------------------------------------------------ valves


def test_a_valve_stuck_where_it_stands_does_not_follow_and_traps_its_tank() -> None:
    flight = flown_as("6:00:00 outboard-valve-left=stuck")
    release = turn(flight, "outboard-release", "active")
    assert turns(flight, "outboard-valve-left", since_s=at_s("6:00:00")) == []
    assert flight.state("outboard-valve-right", release.time_s + 10.0) == "open"
    alert = turn(flight, "trapped-outboard-left", "on")
    assert alert.time_s == pytest.approx(release.time_s + 30.0)
    assert {"edit-1", "outboard-release"} <= led_by(flight, alert)
    # 1,180 kg of the reserve stay where no engine can draw them.
    assert value(flight, "outboard-left.actual_kg", "7:00:00") > 1100.0
    assert value(flight, "outboard-right.actual_kg", "7:00:00") < 400.0


def test_a_mended_valve_goes_where_it_was_told_meanwhile() -> None:
    flight = flown_as("6:00:00 outboard-valve-left=stuck", "6:50:00 outboard-valve-left=mended")
    opens = turn(flight, "outboard-valve-left", "open")
    assert opens.time_s == at_s("6:50:04")
    assert "edit-1" in led_by(flight, opens)
    assert flight.state("trapped-outboard-left", at_s("6:50:04")) == "off"


def test_a_cross_feed_stuck_open_feeds_both_engines_from_the_stronger_side() -> None:
    flight = flown_as("3:10:00 cross-feed=stuck open")
    moves = turn(flight, "cross-feed", "moving")
    assert led_by(flight, moves) == {"cross-feed", "edit-1"}
    # The forward right pump is the strongest by a hair: its side gives more, whatever is commanded.
    strong = -gained(flight, "main-right.actual_kg", "3:15:00", "4:00:00")
    weak = -gained(flight, "main-left.actual_kg", "3:15:00", "4:00:00")
    assert strong > weak + 50.0
    assert flight.setting("cross-feed", at_s("4:00:00")) == "shut"


def test_a_shut_off_valve_stuck_shut_stops_its_engine() -> None:
    flight = flown_as("2:00:00 shut-off-1=stuck shut")
    stopped = turn(flight, "engine-1", "stopped for want of fuel")
    assert stopped.time_s == at_s("2:00:02")
    assert led_by(flight, stopped) == {"engine-1", "shut-off-1", "edit-1"}
    assert "shut-off-1-disagrees" in alerts(flight)


@pytest.mark.parametrize("factor", [4.0, 10.0])
def test_a_slow_valve_takes_so_many_times_as_long(factor: float) -> None:
    flight = flown_as(f"2:00:00 cross-feed=slow {factor}", "2:01:00 cross-feed=open")
    opens = turn(flight, "cross-feed", "open")
    assert opens.time_s - at_s("2:01:00") == pytest.approx(3.0 * factor)
    assert "edit-1" not in alerts(flight)
    assert ("cross-feed-in-transit" in alerts(flight)) == (3.0 * factor > 10.0)


def test_a_frozen_indication_says_shut_while_the_valve_is_open() -> None:
    flight = flown_as(
        "3:10:00 cross-feed=indication frozen", "3:11:00 cross-feed=open", "4:00:00 cross-feed=mended"
    )
    assert flight.state("cross-feed", at_s("3:30:00")) == "open"
    assert flight.state("cross-feed-indication", at_s("3:30:00")) == "shut"
    # Flow and trend tell what the position does not.
    assert abs(value(flight, "cross-feed.flow_kg_h", "3:30:00")) > 100.0
    shows = turn(flight, "cross-feed-indication", "open")
    assert shows.time_s == at_s("4:00:00")


# ------------------------------------------------------------------ rules


def test_an_inhibited_rule_ends_at_once_and_does_not_act_again() -> None:
    flight = flown_as("0:40:00 slat-hold=inhibited", "7:04:00 slat-hold=mended")
    ends = turn(flight, "slat-hold", "inactive", at_s("0:40:00"))
    assert ends.time_s == at_s("0:40:00")
    assert led_by(flight, ends) == {"slat-hold", "edit-1"}
    # Each engine was to take off on its own wing tank: now the centre feeds both.
    starts = turn(flight, "centre-left", "delivering", at_s("0:40:00"))
    assert starts.time_s == at_s("0:40:00")
    assert "edit-1" in led_by(flight, starts)
    assert value(flight, "centre-left.flow_kg_h", "0:47:10") > 3000.0
    # Slats go out again before landing: nothing. Mended, it acts, for its reason still holds.
    assert flight.state("slat-hold", at_s("7:00:00")) == "inactive"
    assert flight.state("slat-hold", at_s("7:04:00")) == "active"


def test_an_inhibited_release_leaves_the_outboards_full() -> None:
    flight = flown_as("6:00:00 outboard-release=inhibited")
    assert turns(flight, "outboard-release", "active") == []
    assert value(flight, "outboard-left.actual_kg", "7:10:00") > 1100.0
    assert "low-level-right" in alerts(flight)


def test_a_rule_that_acts_without_its_reason_holds_the_centre_until_it_is_mended() -> None:
    flight = flown_as("2:00:00 slat-hold=false start", "4:45:00 slat-hold=mended")
    acts = turn(flight, "slat-hold", "active", at_s("2:00:00"))
    assert acts.reason.kind == "trouble"
    stops = turn(flight, "centre-left", "stopped by automatics", at_s("2:00:00"))
    assert {"edit-1", "slat-hold"} <= led_by(flight, stops)
    assert gained(flight, "centre.actual_kg", "2:00:10", "4:44:00") == pytest.approx(0.0, abs=1.0)
    trapped = turn(flight, "trapped-centre", "on")
    assert value(flight, "main-left.gauged_kg", trapped.time_s) == pytest.approx(2500.0, abs=60.0)
    assert flight.state("slat-hold", at_s("4:45:00")) == "inactive"
    assert flight.state("centre-left", at_s("4:45:00")) == "delivering"
    assert flight.state("trapped-centre", at_s("4:46:00")) == "off"


# ------------------------------------------------------------------ buses


def test_a_lost_bus_stops_its_pumps_and_ends_its_rules() -> None:
    # In the first hold, when a rule on the bus is active and has something to let go.
    hold_s = turn(flown(), "return-flow-hold-right", "active").time_s
    time = f"1:{int(hold_s // 60) % 60 + 3:02d}:00"
    flight = flown_as(f"{time} ac-1=lost", f"{time} centre-feed=automatic", "1:40:00 ac-1=mended")
    dead = turn(flight, "ac-1", "dead")
    assert led_by(flight, dead) == {"ac-1", "edit-1"}
    for name in AC_1:
        assert flight.state(name, at_s(time)) == "no power"
        assert value(flight, f"{name}.pressure_bar", at_s(time) + 1.0) == 0.0
    ends = turn(flight, "return-flow-hold-right", "inactive")
    assert ends.time_s == at_s(time)
    assert {"ac-1", "edit-1"} <= led_by(flight, ends)
    # The other bus goes on: each side has one main pump left, and no engine stops.
    assert flight.state("main-left-aft", at_s(time)) == "delivering"
    assert turns(flight, "engine-1", "stopped for want of fuel") == []
    mended = turn(flight, "ac-1", "powered", at_s("1:40:00"))
    assert "edit-1" in led_by(flight, mended)
    assert flight.state("centre-left", at_s("1:40:00")) == "delivering"


def test_with_the_battery_bus_go_gauges_sensors_and_valves() -> None:
    flight = flown_as(
        "2:00:00 battery=lost", "2:00:30 cross-feed=open", "2:05:00 battery=mended", *looks("1:59:59")
    )
    gauging = (*alder().probes, *alder().compensators, *alder().meters, *alder().totalisers)
    for part in (*gauging, *alder().sensors):
        assert flight.state(part.name, at_s("2:02:00")) == "no signal"
        assert "edit-1" in led_by(flight, turn(flight, part.name, "no signal", at_s("2:00:00")))
    assert value(flight, "total.gauged_kg", "2:02:00") == 0.0
    # A valve without power stays where it is, and goes where it was told once it has power again.
    assert flight.state("cross-feed", at_s("2:04:00")) == "shut"
    assert flight.state("cross-feed", at_s("2:05:03")) == "open"
    assert value(flight, "total.gauged_kg", "2:06:00") > 17_000.0
    # What the engines used meanwhile nobody has counted: it is missing from then on.
    burned = gained(flight, "total.burned_kg", "2:00:00", "2:05:00")
    missed = value(flight, "total.discrepancy_kg", "2:06:00") - value(
        flight, "total.discrepancy_kg", "1:59:59"
    )
    assert missed == pytest.approx(
        -gained(flight, "total.metered_kg", "2:00:00", "2:05:00") + burned, abs=0.5
    )
    assert_balanced(flight)


# ------------------------------------------------------------------ controls


def test_a_stuck_control_is_set_and_nothing_follows() -> None:
    flight = flown_as("0:40:00 slats=stuck")
    assert flight.setting("slats", at_s("1:00:00")) == "in"
    assert flight.state("slats", at_s("1:00:00")) == "out"
    # So the hold for take-off never ends, and the centre is not burned.
    assert flight.state("slat-hold", at_s("2:00:00")) == "active"
    assert value(flight, "centre.actual_kg", "2:00:00") == pytest.approx(
        value(flight, "centre.actual_kg", "0:50:00"), abs=1.0
    )
    # Slats that are out add their drag: the flow is up.
    ratio = value(flight, "engine-1.flow_kg_h", "2:00:00") / value(flown(), "engine-1.flow_kg_h", "2:00:00")
    assert ratio > 1.3

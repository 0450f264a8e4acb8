"""Rules that never rest are found, named and refused: at one instant, and over a flight."""

import time

import pytest

import wetwing.flight.fly as flying
from tests.aircraft.files import alder_text, changed, day_sector_text, mistake_of, says
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import parse_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.script import Script, parse_script


def alder_with(*changes: tuple[str, str]) -> tuple[Aircraft, Script]:
    aircraft = parse_aircraft(changed(alder_text(), *changes), "alder.toml")
    return aircraft, parse_script(day_sector_text(), "day.toml", aircraft)


def a_rule_that_stops_the_pump_that_it_waits_for() -> tuple[Aircraft, Script]:
    """Active while a pump delivers, and the pump may run only while it is inactive."""
    return alder_with(
        (
            "[rules.slat-hold]",
            '[rules.twitch]\nlabel = "Twitch"\nsentence = "The APU pump delivers."\n'
            "starts = 'apu-pump is delivering or apu-pump is \"running, nothing drawn\"'\n\n"
            "[rules.slat-hold]",
        ),
        (
            'runs_when = "apu-run is on and main-left-forward is off and main-left-aft is off"',
            'runs_when = "apu-run is on and twitch is inactive"',
        ),
    )


def test_a_rule_that_flips_for_ever_at_one_instant_is_named_and_refused() -> None:
    aircraft, script = a_rule_that_stops_the_pump_that_it_waits_for()
    begun = time.process_time()
    mistake = mistake_of(lambda: fly(aircraft, script))
    assert time.process_time() - begun < 2.0
    assert says(
        mistake,
        "alder-165, pump apu-pump: turns for ever between off and running, nothing drawn at 0:20:00.0 "
        "(it follows apu-run and twitch); allowed: conditions that let it rest, such as an end some way from "
        "its start",
    )


def test_two_rules_through_two_pumps_that_flip_for_ever_are_refused() -> None:
    aircraft, script = alder_with(
        (
            "centre-left-dry is inactive and (\n    proving-run-1",
            "centre-left-dry is inactive and centre-right is not delivering and (\n    proving-run-1",
        ),
        (
            "centre-right-dry is inactive and (\n    proving-run-1",
            "centre-right-dry is inactive and centre-left is delivering and (\n    proving-run-1",
        ),
    )
    mistake = mistake_of(lambda: fly(aircraft, script))
    assert "turns for ever between" in mistake.found
    assert "0:31:52.0" in mistake.found
    assert mistake.place in ("alder-165, pump centre-left", "alder-165, pump centre-right")


def a_valve_that_opens_whenever_it_is_shut() -> tuple[Aircraft, Script]:
    """At rest at no time, though at every instant: a stroke of a tenth of a second, for seven hours."""
    return alder_with(
        (
            "[rules.slat-hold]",
            '[rules.knock]\nlabel = "Knock"\nsentence = "The valve is shut."\n'
            'starts = "apu-valve is shut"\nends = "apu-valve is open"\n\n[rules.slat-hold]',
        ),
        ('stroke_s = 2\nopens_when = "apu-run is on"', 'stroke_s = 0.1\nopens_when = "knock is active"'),
    )


def test_automatics_that_chatter_for_ever_over_time_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    aircraft, script = a_valve_that_opens_whenever_it_is_shut()
    monkeypatch.setattr(flying, "MOST_STEPS", 2000)
    mistake = mistake_of(lambda: fly(aircraft, script))
    assert "more than 2000 steps" in mistake.found
    assert mistake.place.startswith("day-sector at 0:0")


def test_feedback_that_takes_its_time_is_no_loop() -> None:
    # A hold that lets go below, and takes hold above, two levels some way apart.
    aircraft, script = alder_with(
        (
            'starts = "slats is out"',
            'starts = "main-left.gauged_kg > 6300 kg"\nends = "main-left.gauged_kg < 6200 kg"',
        )
    )
    flight = fly(aircraft, script)
    turned = [change for change in flight.changes if change.part == "slat-hold"]
    assert 4 <= len(turned) <= 40

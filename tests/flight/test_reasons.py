"""Every change says why: facts, causes that point back, and a sentence that a person can read."""

import re

import pytest

from tests.flight.flights import alder, assert_in_order, day_sector, flown, hold, phase_s, turn, turns
from wetwing.aircraft.condition import unit_of
from wetwing.flight.clock import clock
from wetwing.flight.phrases import state_words, tilt_words
from wetwing.flight.reasons import LONGEST_CHAIN, because, next_change
from wetwing.flight.record import Change, Flight
from wetwing.flight.world import NO_READING

HOLD_S = round(hold(flown())[0].time_s)
FLIGHTS = (
    (),
    (f"{clock(HOLD_S + 60)} centre-feed=manual",),
    ("2:00:00 cross-feed=open", "2:30:00 main-left-forward=off", "2:30:00 main-left-aft=off"),
    ("2:00:00 engine-1-run=off", "2:10:00 engine-1-run=on"),
    ("0:48:00 main-left-forward=off", "0:48:00 main-left-aft=off", "3:00:00 apu-run=on"),
    ("0:03:30 preselect=9000",),
    ("0:08:00 refuel-door=shut", "0:40:00 centre-feed=manual"),
    # With troubles: of power, of pumps and valves, of tanks, of gauging, of rules.
    ("2:00:00 ac-1=lost", "2:30:00 ac-1=mended"),
    ("0:08:00 battery=lost", "0:09:00 battery=mended", "2:00:00 battery=lost"),
    ("1:20:00 centre-left=check valve stuck open", "1:40:00 centre-left=off", "2:20:00 centre-left=mended"),
    ("2:00:00 main-left-forward=failed", "2:10:00 main-left-aft=breaker open", "2:30:00 centre-left=off"),
    ("2:00:00 main-left=leak 4000", "4:00:00 engine-2=leak after the meter 900", "5:00:00 main-left=mended"),
    ("1:20:00 main-left=water 60", "3:00:00 filter-1=clogging 2", "4:00:00 filter-1=mended"),
    ("0:05:00 high-level-main-left=stuck dry", "0:06:00 refuel-valve-main-left=stuck open"),
    ("1:00:00 high-level-main-left=biased 300", "1:30:00 probe-centre-1=no signal", "2:00:00 meter-1=frozen"),
    ("2:00:00 slat-hold=false start", "2:30:00 slat-hold=mended", "3:00:00 outboard-release=inhibited"),
    ("2:00:00 engine-1=failed", "3:00:00 engine-1=mended", "1:22:00 cross-feed=slow 20"),
    ("1:20:00 cross-feed=indication frozen", "1:21:00 cross-feed=open", "1:25:00 cross-feed=mended"),
)
# Shown through `say`, which sets the figure's commas itself: a mark may come without them.
UNITS = ("kg", "kg/h", "L", "bar", "°C", "°", "s", "ft", "%", "bar/h", "%/h", "L/h")
QUANTITY = re.compile(r"\{-?\d{1,3}(?:(?:,\d{3})*|\d*)(?:\.\d+)?(?: ([^{}\d]+))?\}")
LAWS = (
    *("pressure", "level", "travel", "flow", "overflow", "overflow-ends", "pick-up-uncovered", "power"),
    *("start", "start-complete", "starvation", "motive-flow", "indication"),
)
every_flight = pytest.mark.parametrize("edits", FLIGHTS)


@every_flight
def test_every_change_has_a_person_a_cause_a_fact_or_a_law(edits: tuple[str, ...]) -> None:
    for change in flown(*edits).changes:
        reason = change.reason
        assert reason.kind in ("rule", "action", "physics", "trouble")
        if reason.kind == "rule":
            assert reason.facts or reason.causes, change
        if reason.kind == "physics":
            assert reason.name in LAWS, change


@every_flight
def test_what_is_laid_to_power_or_to_a_trouble_leads_to_a_bus_or_a_trouble(edits: tuple[str, ...]) -> None:
    flight = flown(*edits)
    kinds = {name: part.kind for name, part in flight.aircraft.parts.items()}
    for change in flight.changes:
        led_by = {kinds[flight.changes[cause].part] for cause in change.reason.causes}
        if change.reason.name == "power":
            assert change.reason.kind == "physics"
            assert "bus" in led_by, change
        if change.reason.kind == "trouble" and kinds[change.part] != "trouble":
            assert "trouble" in led_by, change
        if kinds[change.part] == "trouble":
            assert change.reason.kind == "trouble"
            assert change.after in ("present", "absent")


def test_a_dead_bus_stops_its_rules_and_pumps_and_says_so() -> None:
    flight = flown("4:30:00 ac-1=lost", "4:35:00 ac-1=mended")
    lost_s, mended_s = 16_200.0, 16_500.0
    dead = turn(flight, "ac-1", "dead")
    assert (dead.time_s, dead.reason.kind) == (lost_s, "trouble")
    ended = turn(flight, "centre-left-dry", "inactive", lost_s)
    assert ended.time_s == lost_s
    assert (ended.reason.kind, ended.reason.name) == ("physics", "power")
    assert ended.reason.sentence == "AC bus 1 is dead: the rule has no power."
    assert flight.changes[ended.reason.causes[0]] is dead
    stopped = turn(flight, "main-left-forward", "no power")
    assert stopped.time_s == lost_s
    assert flight.changes[stopped.reason.causes[0]] is dead
    back = turn(flight, "main-left-forward", "delivering", lost_s)
    assert back.time_s == mended_s
    assert back.reason.sentence.startswith("AC bus 1 is powered again. ")
    assert turn(flight, "ac-1", "powered", lost_s) in [flight.changes[i] for i in back.reason.causes]


def test_a_bus_that_comes_back_leaves_a_valve_where_it_was_told_to_be() -> None:
    # Sensors give their signals before valves follow what they are told: none twitches.
    flight = flown("0:08:00 battery=lost", "0:09:00 battery=mended")
    for tank in ("main-left", "main-right", "outboard-left", "outboard-right"):
        assert not [c for c in turns(flight, f"refuel-valve-{tank}") if 480.0 <= c.time_s < 545.0]
        assert flight.state(f"high-level-{tank}", 500.0) == "no signal"
        assert flight.state(f"high-level-{tank}", 540.0) == "dry"


def test_fuel_that_flows_back_is_laid_to_the_check_valve_and_to_who_stopped_the_pump() -> None:
    flight = flown("1:20:00 centre-left=check valve stuck open", "1:40:00 centre-left=off")
    automatic = turn(flight, "centre-left", "flowing back")
    switched = turn(flight, "centre-left", "flowing back", 6000.0)
    assert automatic.reason.sentence.startswith("The automatics stop it: return-flow hold (")
    assert switched.time_s == 6000.0
    assert switched.reason.sentence.startswith("Centre left pump switched off. ")
    for change in (automatic, switched):
        assert change.reason.kind == "trouble"
        assert "kg/h} flow back into its tank." in change.reason.sentence


def test_attitude_is_said_in_words() -> None:
    said = [change.reason.sentence for change in flown().changes if change.reason.name == "level"]
    assert any("with the nose 3° down, losing {" in sentence for sentence in said)
    assert tilt_words(2.5, 0.0) == " with the nose 2.5° up"
    assert tilt_words(-0.5, 10.0) == " with the nose 0.5° down and the right wing 10° low"
    assert tilt_words(0.0, -4.0) == " with the left wing 4° low"
    assert tilt_words(0.0, 0.0) == ""


def test_a_leak_alert_after_the_meters_were_dead_leads_to_the_meters() -> None:
    # They counted nothing for half an hour: the fuel burned meanwhile counts as unexplained.
    flight = flown("2:00:00 battery=lost", "2:30:00 battery=mended")
    alert = turn(flight, "leak", "on")
    assert alert.time_s == pytest.approx(9060.0)
    led_by = {flight.changes[cause].part for cause in alert.reason.causes}
    assert led_by <= {"meter-1", "meter-2"}
    assert led_by
    assert "edit-1" in {step.change.part for step in because(flight, alert.time_s, "leak")}


@every_flight
def test_causes_point_back_and_states_follow_each_other(edits: tuple[str, ...]) -> None:
    assert_in_order(flown(*edits))


@every_flight
def test_a_cause_is_never_later_and_a_fact_is_so_at_that_time(edits: tuple[str, ...]) -> None:
    flight = flown(*edits)
    states = dict(flight.start_states)
    seen = 0
    for change in flight.changes:
        for cause in change.reason.causes:
            assert flight.changes[cause].time_s <= change.time_s
        for fact in change.reason.facts:
            if fact.state == NO_READING:
                assert "." in fact.name, change
            elif fact.state is not None and fact.name != "phase":
                assert states[fact.name] == fact.state, change
                seen += 1
            elif fact.value is not None:
                assert fact.value == fact.value, change
                assert fact.unit == unit_of(fact.name), change
        states[change.part] = change.after
    assert seen > 50


@every_flight
def test_a_rule_s_change_names_a_rule_or_a_condition_of_the_aircraft(edits: tuple[str, ...]) -> None:
    parts = alder().parts
    for change in flown(*edits).changes:
        if change.reason.kind == "rule":
            part, _, key = change.reason.name.partition(".")
            assert part in parts, change
            if key:
                assert part == change.part
                assert key in ("runs_when", "opens_when", "shown_when", "powered_when")
            else:
                assert parts[part].kind in ("rule", "alert"), change


@every_flight
def test_sentences_read_as_sentences(edits: tuple[str, ...]) -> None:
    for change in flown(*edits).changes:
        sentence = change.reason.sentence
        assert sentence[0].isupper(), sentence
        assert sentence.endswith("."), sentence
        assert not sentence.endswith(".."), sentence
        assert "None" not in sentence
        assert "  " not in sentence
        assert "_" not in sentence, sentence
        assert "nan" not in sentence
        assert all(unit in (*UNITS, "") for unit in QUANTITY.findall(sentence)), sentence
        bare = QUANTITY.sub("", sentence)
        assert "{" not in bare and "}" not in bare, sentence
        # A number with a unit stands in braces, so that a reader gets it in the reader's own units.
        assert not re.search(r"\d (kg|kg/h|L|bar|°C|s)\b", bare), sentence
        # No clause twice, no label with its capital after a colon or a comma, and states as people say them.
        clauses = re.split(r"[,:.] | and ", sentence.rstrip("."))
        assert len(set(clauses)) == len(clauses), sentence
        for later in re.findall(r"[:,] ([A-Z][a-z]+)", sentence):
            assert later in {"Engine"}, sentence
        assert not re.search(r"\bis (failed|no signal|no power|reads|nothing)\b", sentence), sentence
        assert "At {0.00 bar}" not in sentence and "{0 kg/h}" not in sentence, sentence


@every_flight
def test_only_people_and_phases_act_without_more(edits: tuple[str, ...]) -> None:
    flight = flown(*edits)
    acted = [change for change in flight.changes if change.reason.kind == "action"]
    commanded = {(command.time_s, command.part) for command in flight.commands}
    assert acted
    for change in acted:
        assert change.reason.name == "setting"
        assert (change.time_s, change.part) in commanded, change


def links(flight: Flight, time_s: float, part: str) -> list[Change]:
    return [step.change for step in because(flight, time_s, part)]


def test_why_the_centre_is_stopped_in_the_first_hold() -> None:
    flight = flown()
    begun, _ = hold(flight)
    side = begun.part.rpartition("-")[2]
    chain = links(flight, begun.time_s + 60.0, "centre-right")
    assert (chain[0].part, chain[0].after) == ("centre-right", "stopped by automatics")
    parts = [change.part for change in chain]
    told = [begun.part, f"high-level-main-{side}", f"return-valve-{side}", f"cooling-return-{side}"]
    assert [part for part in parts if part in told][:2] == told[:2]
    assert set(told) <= set(parts)
    # Return flow fills the main through the outboard, whose spilling is a link too.
    assert any(part in (f"return-{side}", f"outboard-{side}") for part in parts)
    depth: dict[str, int] = {}
    for step in because(flight, begun.time_s + 60.0, "centre-right"):
        depth.setdefault(step.change.part, step.depth)
    assert depth["centre-right"] == 0
    assert depth[begun.part] == 1
    assert depth[f"high-level-main-{side}"] == 2


def test_a_chain_ends_with_people_physics_or_the_start_and_says_nothing_twice() -> None:
    flight = flown()
    for time_s in (phase_s(flight, "taxi"), HOLD_S + 60.0, phase_s(flight, "descent") + 1200.0):
        for part in alder().parts:
            steps = because(flight, time_s, part)
            assert len(steps) <= LONGEST_CHAIN
            assert len({step.index for step in steps}) == len(steps)
            assert all(flight.changes[step.index] is step.change for step in steps)
            assert all(step.change.time_s <= time_s for step in steps)
            if steps:
                assert steps[0].change.part == part
                assert steps[0].change.after == flight.state(part, time_s)
            reached = {cause for step in steps for cause in step.change.reason.causes}
            if len(steps) < LONGEST_CHAIN:
                assert reached <= {step.index for step in steps}


def test_why_the_outboard_valves_are_open_leads_to_the_main_tank_s_gauge() -> None:
    flight = flown()
    at_s = turn(flight, "outboard-valve-left", "open", phase_s(flight, "descent")).time_s + 60.0
    chain = links(flight, at_s, "outboard-valve-left")
    assert [change.part for change in chain[:3]] == [
        "outboard-valve-left",
        "outboard-valve-left",
        "outboard-release",
    ]
    assert any(fact.name.endswith(".gauged_kg") for fact in chain[2].reason.facts)


def test_why_fuel_leaves_by_the_vent_leads_to_the_selector_or_the_running_centre() -> None:
    flight = flown(f"{clock(HOLD_S + 60)} centre-feed=manual")
    spills = turn(flight, "vent-right", "spilling")
    parts = [change.part for change in links(flight, spills.time_s, "main-right-spilling")]
    assert parts[:3] == ["main-right-spilling", "vent-right", "main-right"]
    assert {"return-right", "centre-right", "centre-feed"} & set(parts)


def test_nothing_has_changed_nothing_to_explain() -> None:
    assert because(flown(), HOLD_S, "cross-feed") == ()
    assert because(flown(), 0.0, "centre-left") == ()


def test_an_unknown_part_has_no_reason() -> None:
    with pytest.raises(KeyError):
        because(flown(), 0.0, "centre-middle")
    with pytest.raises(KeyError):
        next_change(flown(), 0.0, "centre-middle")


def test_what_next_is_the_first_change_after_now() -> None:
    flight = flown()
    begun, ended = hold(flight)
    following = next_change(flight, begun.time_s, "centre-left")
    assert following is not None
    assert (following.after, following.time_s) == ("delivering", ended.time_s)
    # The change of this very moment is past.
    before = next_change(flight, begun.time_s - 1.0, "centre-left")
    assert before is not None
    assert before.time_s == begun.time_s


def test_what_next_walks_through_all_of_a_part_s_changes_and_ends() -> None:
    flight = flown()
    for part in alder().parts:
        found, time_s = [], -1.0
        while (change := next_change(flight, time_s, part)) is not None:
            found.append(change)
            time_s = change.time_s
        # Of several changes at one instant, the walk gives the first and goes on.
        assert [c.time_s for c in found] == sorted({c.time_s for c in turns(flight, part)})


def test_the_phase_is_a_part_that_conditions_see_and_no_change() -> None:
    flight = flown()
    assert not [change for change in flight.changes if change.part == "phase"]
    for phase in day_sector().phases:
        assert flight.state("phase", phase.start_s) == phase.name


def test_an_alert_inside_a_clause_stands_in_quotation_marks() -> None:
    leak = alder().parts["leak"]
    assert state_words(leak, "on") == f"the alert “{leak.label}” is on"

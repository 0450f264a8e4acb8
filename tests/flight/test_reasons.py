"""Every change says why: facts, causes that point back, and a sentence that a person can read."""

import re

import pytest

from tests.flight.flights import alder, assert_in_order, day_sector, flown, hold, phase_s, turn, turns
from wetwing.flight.clock import clock
from wetwing.flight.reasons import LONGEST_CHAIN, because, next_change
from wetwing.flight.record import Change, Flight

HOLD_S = round(hold(flown())[0].time_s)
FLIGHTS = (
    (),
    (f"{clock(HOLD_S + 60)} centre-feed=manual",),
    ("2:00:00 cross-feed=open", "2:30:00 main-left-forward=off", "2:30:00 main-left-aft=off"),
    ("2:00:00 engine-1-run=off", "2:10:00 engine-1-run=on"),
    ("0:48:00 main-left-forward=off", "0:48:00 main-left-aft=off", "3:00:00 apu-run=on"),
    ("0:03:30 preselect=9000",),
    ("0:08:00 refuel-door=shut", "0:40:00 centre-feed=manual"),
)
QUANTITY = re.compile(r"\{-?\d{1,3}(,\d{3})*(\.\d+)? (kg|kg/h|L|bar|°C|s|ft|%)\}")
every_flight = pytest.mark.parametrize("edits", FLIGHTS)


@every_flight
def test_every_change_has_a_person_a_cause_a_fact_or_a_law(edits: tuple[str, ...]) -> None:
    for change in flown(*edits).changes:
        reason = change.reason
        assert reason.kind in ("rule", "action", "physics", "trouble")
        if reason.kind == "rule":
            assert reason.facts or reason.causes, change
        if reason.kind == "physics":
            assert reason.name in {
                *("pressure", "level", "travel", "flow", "overflow", "overflow-ends", "pick-up-uncovered"),
                *("start", "start-complete", "starvation", "motive-flow"),
            }


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
            if fact.state is not None and fact.name != "phase":
                assert states[fact.name] == fact.state, change
                seen += 1
            elif fact.value is not None:
                assert (
                    fact.unit
                    == {"kg": "kg", "kg_h": "kg/h", "c": "°C", "bar": "bar"}[
                        "kg_h" if fact.name.endswith("kg_h") else fact.name.rpartition("_")[2]
                    ]
                )
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
                assert key in ("runs_when", "opens_when", "shown_when")
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
        bare = QUANTITY.sub("", sentence)
        assert "{" not in bare and "}" not in bare, sentence
        # A number with a unit stands in braces, so that a reader gets it in the reader's own units.
        assert not re.search(r"\d (kg|kg/h|L|bar|°C|s)\b", bare), sentence


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

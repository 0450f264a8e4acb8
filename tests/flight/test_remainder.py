"""A flight and the remainder of another make that other, and a flight in stages is the flight itself."""

import json
from dataclasses import asdict, replace
from typing import Any

import pytest

from tests.flight.flights import alder, day_sector, edit, flown
from tests.flight.random_scripts import aircraft_of, drawn
from wetwing import browser
from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.flight import stages
from wetwing.flight.compact import compact
from wetwing.flight.document import document
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight
from wetwing.flight.remainder import remainder
from wetwing.flight.script import Script, with_edits
from wetwing.flight.stages import FlyingInStages

EDITS = (
    ("2:00:00 centre-feed=manual",),
    ("1:23:20 main-left=leak 1500", "2:30:00 main-left=mended"),
    ("0:03:30 preselect=wrong units", "6:59:00 cross-feed=open"),
    ("1:10:00 probe-main-left-1=frozen", "5:00:00 cross-feed=indication frozen", "5:10:00 cross-feed=open"),
    ("3:00:00 cross-feed=open", "3:00:00 main-left-forward=failed", "3:30:00 ac-1=lost"),
    ("0:00:00 cross-feed=open",),
    (),
)


def edited(texts: tuple[str, ...]) -> Script:
    return with_edits(day_sector(), tuple(edit(text) for text in texts), alder())


def text(made: object) -> Any:
    """As JSON carries it."""
    return json.loads(json.dumps(made, allow_nan=False))


def joined(record: dict[str, Any], lacking: dict[str, Any]) -> dict[str, Any]:
    """What the page does: `docs/panel/remainder.js`."""
    after: dict[str, int] = lacking["after"]
    rows = after["keyframes"]
    if rows:
        assert record["time_s"][rows - 1] == after["time_s"]
    new = len(lacking["time_s"])

    def column(name: str, own: list[float]) -> list[float]:
        before = own[:rows] if len(own) > 1 else own * rows
        later: list[float] = lacking["quantities"].get(name, [])
        whole = before + (later * new if len(later) == 1 else later)
        return whole[:1] if len(set(whole)) == 1 else whole

    taken = ("edits", "duration_s", "ended", "parts")
    return {
        **record,
        **{name: lacking[name] for name in taken if name in lacking},
        "time_s": record["time_s"][:rows] + lacking["time_s"],
        "quantities": {name: column(name, own) for name, own in record["quantities"].items()},
        "changes": record["changes"][: after["changes"]] + lacking["changes"],
        "commands": record["commands"][: after["commands"]] + lacking["commands"],
    }


def in_stages(aircraft: Aircraft, script: Script, known: Flight | None = None) -> tuple[Flight, list[Any]]:
    """The flight, and how long what is flown was after each stage."""
    flying = FlyingInStages(aircraft, script)
    lengths = [len(flying.kept.times) for _stage in flying.stages(known.kept if known else None)]
    assert flying.whole is not None
    return flying.whole, lengths


@pytest.mark.parametrize("before", EDITS)
@pytest.mark.parametrize("after", EDITS)
def test_a_flight_and_a_remainder_make_the_other(before: tuple[str, ...], after: tuple[str, ...]) -> None:
    had, wanted = flown(*before), flown(*after)
    lacking = text(remainder(wanted, had.script))
    assert lacking["whole"]
    assert joined(text(compact(had)), lacking) == text(compact(wanted))
    if before == after:
        assert lacking["time_s"] == lacking["changes"] == lacking["commands"] == []
        assert lacking["parting_s"] is None


@pytest.mark.parametrize("seed", range(12))
def test_so_it_is_with_any_flight(seed: int) -> None:
    found = drawn(seed)
    plain = replace(found.script, troubles=(), mended=(), edits=())
    try:
        had, wanted = fly(found.aircraft, plain), fly(found.aircraft, found.script)
    except Mistake:
        return
    assert joined(text(compact(had)), text(remainder(wanted, plain))) == text(compact(wanted))
    assert joined(text(compact(wanted)), text(remainder(had, found.script))) == text(compact(had))


@pytest.mark.parametrize("known", [None, EDITS[1]])
@pytest.mark.parametrize("texts", EDITS)
def test_stages_make_the_same_flight(texts: tuple[str, ...], known: tuple[str, ...] | None) -> None:
    whole, lengths = in_stages(alder(), edited(texts), flown(*known) if known else None)
    assert document(whole) == document(flown(*texts))
    assert lengths == sorted(lengths)
    kept = [flight.kept for flight in (whole, flown(*texts))]
    rests = [[rest.time_s for rest in own.rests] for own in kept if own is not None]
    assert len(rests) == 2
    assert rests[0] == rests[1]


def test_after_each_stage_the_flight_is_right_as_far_as_it_is_flown() -> None:
    had, wanted = flown(), flown(*EDITS[4])
    whole = text(compact(wanted))
    flying = FlyingInStages(alder(), wanted.script)
    seen = 0
    for _stage in flying.stages(had.kept):
        lacking = text(remainder(flying, had.script))
        if not lacking["time_s"]:
            continue
        seen += 1
        made = joined(text(compact(had)), lacking)
        assert not lacking["whole"]
        assert made["duration_s"] == made["time_s"][-1] >= 10800.0
        assert made["time_s"] == whole["time_s"][: len(made["time_s"])]
        assert made["changes"] == whole["changes"][: len(made["changes"])]
        assert made["commands"] == whole["commands"][: len(made["commands"])]
        assert made["ended"] is None
        later = [
            one for one in whole["changes"][len(made["changes"]) :] if one["time_s"] < made["duration_s"]
        ]
        assert later == []
        for name, column in made["quantities"].items():
            own = whole["quantities"][name]
            count = len(made["time_s"])
            assert column * (count if len(column) == 1 else 1) == (
                own * count if len(own) == 1 else own[:count]
            )
    assert seen > 10


def test_what_is_left_on_the_way_is_taken_up_by_another_flight() -> None:
    left = FlyingInStages(alder(), edited(EDITS[0]))
    for _stage in left.stages(flown().kept):
        if left.world.time_s > 9000.0:
            break
    script = edited((*EDITS[0], "2:20:00 cross-feed=open"))
    at = left.kept.rest_before(8400.0)
    assert at is not None and at.time_s >= 7200.0
    flying = FlyingInStages(alder(), script)
    for _stage in flying.stages(left.kept):
        pass
    assert flying.whole and document(flying.whole) == document(fly(alder(), script))


def test_a_flight_that_is_refused_is_refused_in_the_same_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """Too many steps are too many, however they are shared out."""
    monkeypatch.setattr("wetwing.flight.fly.MOST_STEPS", 50)
    monkeypatch.setattr(stages, "MOST_STEPS", 50)
    with pytest.raises(Mistake) as whole:
        fly(alder(), day_sector())
    with pytest.raises(Mistake) as in_parts:
        in_stages(alder(), day_sector())
    assert str(in_parts.value) == str(whole.value)


def test_a_script_with_another_load_has_nothing_in_common() -> None:
    other = replace(day_sector(), zero_fuel_kg=70000.0)
    lacking = text(remainder(flown(), other))
    assert lacking["after"] == {"keyframes": 0, "time_s": None, "changes": 0, "commands": 0}
    assert lacking["parts"] == text(compact(flown()))["parts"]


def test_other_aircraft_are_not_taken_up() -> None:
    other = aircraft_of("alder-165-b")
    whole, _lengths = in_stages(other, day_sector(), flown())
    assert document(whole) == document(fly(other, day_sector()))


@pytest.fixture
def forgetful() -> None:
    """A door that has flown nothing yet."""
    browser._flown.clear()


def asked(edits: tuple[str, ...], had: tuple[str, ...], shows_s: float) -> str:
    told = [[asdict(edit(text)) for text in texts] for texts in (edits, had)]
    request = {"ask": "fly", "aircraft": "alder-165", "script": "day-sector"}
    return json.dumps({**request, "edits": told[0], "had": told[1], "shows_s": shows_s})


@pytest.mark.usefixtures("forgetful")
def test_the_door_gives_what_is_shown_first_and_then_the_whole() -> None:
    answering = browser.answer_in_parts(asked(EDITS[0], (), 7300.0))
    given = []
    while True:
        try:
            given.append(next(answering))
        except StopIteration as end:
            whole = end.value
            break
    (first,) = [json.loads(part)["remainder"] for part in given if part]
    assert len(given) > 10
    assert 7300.0 < first["duration_s"] < 10000.0
    assert (first["parting_s"], first["whole"]) == (7200.0, False)
    answer = json.loads(whole)
    assert answer["remainder"] == text(remainder(flown(*EDITS[0]), flown().script))
    assert whole == browser.answer(asked(EDITS[0], (), 7300.0))
    assert joined(text(compact(flown())), answer["remainder"]) == text(compact(flown(*EDITS[0])))


def test_the_door_gives_no_first_part_where_it_would_show_nothing_new() -> None:
    assert not any(browser.answer_in_parts(asked(EDITS[0], (), 7100.0)))
    assert not any(browser.answer_in_parts(asked(EDITS[0], EDITS[0], 7300.0)))


@pytest.mark.usefixtures("forgetful")
def test_the_door_knows_what_it_has_flown_though_nobody_waited() -> None:
    """A reader who changes their mind does not wait for the way up to there again."""
    browser.answer(asked((), (), 0.0))
    left = browser.answer_in_parts(asked(EDITS[0], (), 7300.0))
    while not next(left):
        pass
    left.close()
    again = ("2:00:00 centre-feed=manual", "2:00:00 cross-feed=open")
    answering = browser.answer_in_parts(asked(again, (), 7300.0))
    stages = 0
    while not next(answering):
        stages += 1
    assert stages < 6
    answering.close()


def test_the_door_refuses_what_it_cannot_read() -> None:
    for wrong, said in (({"had": 7}, "request.had"), ({"had": [], "shows_s": "now"}, "request.shows_s")):
        request = {"ask": "fly", "aircraft": "alder-165", "script": "day-sector", "shows_s": 0, **wrong}
        problem = json.loads(browser.answer(json.dumps(request)))["problem"]
        assert problem["place"] == said

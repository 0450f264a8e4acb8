"""The small parts of the bank: dice, misconceptions, what a question serves, the request for a paper."""

import json
import re
from pathlib import Path

import pytest

from wetwing.aircraft.mistakes import Mistake
from wetwing.browser import answer
from wetwing.teach.exercises import KINDS, MISCONCEPTIONS, objectives_served
from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.misconceptions import parse_misconceptions
from wetwing.teach.exercises.numbers import number, rounded
from wetwing.teach.exercises.objectives import serves

ROOT = Path(__file__).resolve().parents[3]
OBJECTIVE = re.compile(r"^ +- id: (F(?:-[A-Z0-9]+)+)$", re.MULTILINE)


def test_dice_give_known_numbers_on_every_machine() -> None:
    dice = Dice(4, "alder-165", "state")
    assert [dice.below(1000) for _ in range(6)] == [680, 357, 421, 95, 685, 797]


def test_dice_of_another_name_or_seed_differ_and_every_side_comes_up() -> None:
    def thrown(*names: str | int) -> list[int]:
        dice = Dice(*names)  # type: ignore[arg-type]
        return [dice.below(6) for _ in range(600)]

    assert thrown(1, "a") == thrown(1, "a")
    assert thrown(1, "a") != thrown(1, "b")
    assert thrown(1, "a") != thrown(2, "a")
    # Two names are not one name that is written together.
    assert thrown(1, "ab", "c") != thrown(1, "a", "bc")
    counts = [thrown(1, "a").count(side) for side in range(6)]
    # 600 throws: 100 of each, give or take four standard deviations of 9.1.
    assert all(63 < count < 137 for count in counts), counts


def test_dice_mix_and_choose_within_their_range() -> None:
    dice = Dice(9)
    assert sorted(dice.mixed("abcdef")) == list("abcdef")
    assert {dice.between(10, 30, 10) for _ in range(60)} == {10, 20, 30}
    with pytest.raises(ValueError, match="0 sides"):
        dice.below(0)


def test_every_misconception_is_a_belief_and_its_correction() -> None:
    assert len(MISCONCEPTIONS) > 25
    beliefs = [one.believes for one in MISCONCEPTIONS.values()]
    assert len(set(beliefs)) == len(beliefs)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("format = 'wetwing-misconceptions/2'", "wetwing-misconceptions/1"),
        ("format = 'wetwing-misconceptions/1'\n[Bad]\nbelieves='A.'\ncorrect='B.'", "no id"),
        ("format = 'wetwing-misconceptions/1'\n[bad]\nbelieves='A.'", "bad.correct"),
        ("format = 'wetwing-misconceptions/1'\n[bad]\nbelieves='A'\ncorrect='B.'", "full stop"),
        ("format = 'wetwing-misconceptions/1'\n[bad]\nbeleives='A.'\ncorrect='B.'", "nearest: believes"),
        ("format = 'wetwing-misconceptions/1'\nbad = 3", "a table"),
        ("[", "not readable as TOML"),
    ],
)
def test_a_slip_in_the_file_of_misconceptions_is_told(text: str, says: str) -> None:
    with pytest.raises(Mistake, match=says):
        parse_misconceptions(text)


def test_every_misconception_is_used_and_every_used_one_is_known() -> None:
    sources = (ROOT / "pysim" / "wetwing" / "teach" / "exercises").glob("*.py")
    text = "\n".join(path.read_text("utf-8") for path in sources)
    assert [name for name in MISCONCEPTIONS if f'"{name}"' not in text] == []


def test_kinds_serve_objectives_that_the_course_has() -> None:
    known = {
        name for path in (ROOT / "docs").rglob("*.md") for name in OBJECTIVE.findall(path.read_text("utf-8"))
    }
    served = objectives_served()
    assert set(served) == set(KINDS)
    assert [name for ids in served.values() for name in ids if name not in known] == []


@pytest.mark.parametrize(
    ("kind", "phase", "about", "ids"),
    [
        (
            "trouble",
            "cruise",
            ["fuel", "drifting"],
            {"F-TRB-1", "F-TRB-CMP", "F-SYS-GAU-2", "F-TRB-LKT", "F-SYS-GAU-3", "F-PLN-6"},
        ),
        ("trouble", "climb", ["pump", "failed, centre"], {"F-TRB-1", "F-TRB-CON", "F-SYS-PMP-2"}),
        (
            "reason",
            "cruise",
            ["stuck wet", "rule"],
            {"F-SYS-PMP-1", "F-CRZ-2", "F-SYS-AUT-1", "F-SYS-AUT-2", "F-TRB-HLD"},
        ),
        ("state", "start", [], {"F-STA-3", "F-SYS-PMP-1"}),
        ("delay", "cruise", ["anything else"], {"F-PLN-7", "F-PLN-8", "F-PLN-9"}),
    ],
)
def test_a_question_serves_what_it_is_about(kind: str, phase: str, about: list[str], ids: set[str]) -> None:
    found = serves(kind, phase, about)
    assert set(found) == ids
    assert len(set(found)) == len(found)
    assert ids <= set(objectives_served()[kind])


def test_the_kinds_together_serve_four_objectives_in_ten() -> None:
    known = {
        name for path in (ROOT / "docs").rglob("*.md") for name in OBJECTIVE.findall(path.read_text("utf-8"))
    }
    served = {one for ids in objectives_served().values() for one in ids}
    assert len(served) >= 0.4 * len(known)


def test_a_slip_too_near_the_answer_is_no_slip() -> None:
    found = number(
        100.0, "kg", 1.0, 5.0, [(108.0, "sides-joined"), (120.0, "until-dry"), (121.0, "all-is-well")], None
    )
    assert found is not None
    assert [slip.misconception for slip in found.slips] == ["until-dry"]
    assert number(100.0, "kg", 1.0, 5.0, [(101.0, "sides-joined")], None) is None


@pytest.mark.parametrize(
    ("value", "step", "is_"), [(14.9, 10.0, 10.0), (15.0, 10.0, 20.0), (-15.0, 10.0, -20.0)]
)
def test_rounding_is_half_away_from_zero(value: float, step: float, is_: float) -> None:
    assert rounded(value, step) == is_


def asked(**request: object) -> dict[str, object]:
    return dict(json.loads(answer(json.dumps({"ask": "exercises", **request}))))


def test_the_door_gives_a_paper_whole_or_in_parts() -> None:
    wish: dict[str, object] = {"seed": 6, "aircraft": "rowan-54", "kinds": ["state", "uplift"], "count": 2}
    whole = asked(**wish)
    assert whole["ok"]
    assert whole["parts"] == 2
    parts = [asked(**wish, part=part) for part in (0, 1)]
    assert [one for part in parts for one in part["html"]] == whole["html"]  # type: ignore[attr-defined]
    first = str(whole["html"][0])  # type: ignore[index]
    assert first.startswith('<fieldset class="ww-predict ww-choose ww-exercise"')
    assert first.count('data-right="true"') == 2  # the option, and why it is right
    assert 'href="../bench/rowan-54.html#v=1&amp;aircraft=rowan-54' in first


@pytest.mark.parametrize(
    ("request_", "says"),
    [
        ({"seed": "4"}, "request.seed: found 4; allowed: a whole number, 0 or more"),
        ({"seed": True}, "request.seed"),
        ({"seed": 1, "part": 10}, "request.part: found 10; allowed: a whole number, 0 to 9"),
        ({"seed": 1, "kinds": "state"}, "request.kinds: found state; allowed: a list of names"),
        ({"seed": 1, "aircraft": 4}, "request.aircraft"),
        ({"seed": 1, "kinds": ["<b>"]}, "unknown kind of question '<b>'"),
    ],
)
def test_the_door_refuses_with_a_message(request_: dict[str, object], says: str) -> None:
    found = asked(**request_)
    assert not found["ok"]
    assert says in str(found["problem"])

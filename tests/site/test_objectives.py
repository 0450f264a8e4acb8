"""Objectives: what every page and question has to say, and what the matrix shows."""

import pytest

from wetwing.aircraft.read import read_aircraft
from wetwing_tools.site import objectives
from wetwing_tools.site.course import Course, read_course
from wetwing_tools.site.slips import Slips
from wetwing_tools.site.survey import survey

FLEET = (read_aircraft("alder-165"),)
TWO = (
    "objectives:\n  - id: F-A-1\n    text: Say one.\n    syllabus: 021 08 02\n"
    "  - id: F-A-2\n    text: Say two.\n"
)
ONE = "objectives:\n  - id: F-B-1\n    text: Say three.\n"


def page(front: str, *blocks: str) -> str:
    return f"---\ntitle: T\n{front}---\n\n# A page\n\n" + "\n".join(blocks)


def asks(name: str, ids: str | None = None) -> str:
    wanted = f"for: [{ids}]\n" if ids is not None else ""
    return f'```predict\nid: {name}\n{wanted}ask: "Which {{= 430 kg}}?"\noptions: []\n```\n'


def shows(ids: str | None = None) -> str:
    wanted = f"  for: [{ids}]\n" if ids is not None else ""
    return f"```moments\n- at: begin\n  title: See it\n{wanted}  text: So.\n```\n"


def tries(ids: str) -> str:
    return f"```try\nfor: [{ids}]\nwith: x\nsay: Do it.\ntext: So.\n```\n"


def slips(**pages: str) -> list[str]:
    found = Slips()
    read_course({f"{name}.md": text for name, text in pages.items()}).check(found, FLEET)
    return [str(slip) for slip in sorted(found.found)]


GOOD = page(TWO, asks("q", "F-A-1, F-A-2"), shows("F-A-1, F-A-2"))


def test_a_course_whose_objectives_are_all_served_has_no_slip() -> None:
    assert slips(a=GOOD, b=page(ONE, asks("q"), shows())) == []


def test_an_objective_of_another_page_is_listed_by_its_id() -> None:
    other = page("objectives:\n  - F-A-1\n", asks("q"))
    assert slips(a=GOOD, b=other) == []
    assert slips(b=other) == ["b.md:4: unknown objective 'F-A-1'"]


@pytest.mark.parametrize(
    ("bad", "line", "found"),
    [
        (asks("q"), 14, "predict 'q' does not say which objective it is for; allowed: for: [F-A-1, F-A-2]"),
        (
            asks("q", "F-A-3"),
            15,
            "unknown objective of this page 'F-A-3'; allowed: F-A-1, F-A-2; nearest: F-A-",
        ),
        (shows("F-A-l"), 16, "unknown objective of this page 'F-A-l'; allowed: F-A-1, F-A-2; nearest: F-A-"),
        (tries("F-B-1"), 14, "unknown objective of this page 'F-B-1'; allowed: F-A-1, F-A-2; nearest: F-A-"),
    ],
)
def test_a_question_or_moment_for_nothing_that_the_page_lists(bad: str, line: int, found: str) -> None:
    told = slips(a=page(TWO, bad, asks("p", "F-A-1, F-A-2"), shows("F-A-1, F-A-2")))
    assert len(told) == 1
    assert told[0].startswith(f"a.md:{line}: {found}")


def test_a_question_on_a_page_without_objectives() -> None:
    (told,) = slips(a=page("", asks("q")))
    assert told.startswith(
        "a.md:8: predict 'q' does not say which objective it is for; allowed: objectives in"
    )


def test_an_id_that_is_defined_twice_and_one_that_stands_twice() -> None:
    again = page(TWO, asks("q", "F-A-1, F-A-2"), shows())
    told = slips(a=GOOD, b=again)
    assert [one.partition(";")[0] for one in told] == [
        "b.md:4: objective 'F-A-1' is defined a second time, first at a.md:4",
        "b.md:7: objective 'F-A-2' is defined a second time, first at a.md:7",
    ]
    twice = page(f"{ONE}  - F-B-1\n", asks("q"), shows())
    assert slips(a=twice) == [
        "a.md:6: objective 'F-B-1' stands twice on this page, first on line 4; allowed: each id once"
    ]


def test_a_page_that_teaches_names_what_it_is_for() -> None:
    idle = page("", "[A.]{holds: slats is in at begin}")
    found = slips(**{"a": GOOD, "twins/x": idle, "twins/index": idle, "y": idle})
    assert [one.partition(";")[0] for one in found] == ["twins/x.md:1: a page that names no objective"]


def test_objectives_that_nobody_teaches_or_asks_are_all_told() -> None:
    alone = page(TWO, asks("q", "F-A-1"), shows("F-A-1"))
    told = [one.partition(";")[0] for one in slips(a=alone, b=page(ONE, shows()))]
    assert told == [
        "a.md:7: no page teaches objective 'F-A-2'",
        "a.md:7: no question asks objective 'F-A-2'",
        "b.md:4: no question asks objective 'F-B-1'",
    ]


@pytest.mark.parametrize(
    ("block", "is_taught"),
    [
        (shows(), True),
        (shows("F-A-2"), False),
        (shows("F-A-2") + tries("F-A-1"), True),
        ("[Said.]{holds: x}", True),
        ("Said.", False),
        ('```predict\nid: q\nask: "[Said.]{holds: x}"\n```', False),
    ],
)
def test_what_teaches(block: str, is_taught: bool) -> None:
    assert objectives.teaches(survey(page(TWO, block), "a.md"), "F-A-1") is is_taught


def test_a_build_that_leaves_pages_out_does_not_judge_the_whole() -> None:
    course = read_course({"a.md": GOOD, "b.md": page("objectives:\n  - F-A-1\n", asks("q"))}, {"a.md"})
    found = Slips()
    course.check(found, FLEET)
    assert not found.found
    assert set(course.objectives) == {"F-A-1", "F-A-2"}
    assert not any("(../a.md)" in text for text in course.pages({}).values())


def test_the_matrix_names_pages_moments_questions_and_exercises() -> None:
    course: Course = read_course({"phases/a.md": GOOD, "b.md": page(ONE, asks("r"), shows(), tries("F-B-1"))})
    made = course.pages({"Sequence": ("F-A-1",)})
    matrix = made["reference/objectives.md"]
    assert "| [F-A-1](objectives-phases.md#f-a-1) | Say one. | 1 | 1 | 1 | 1 |" in matrix
    assert "| [F-B-1](objectives-first-pages.md#f-b-1) | " in matrix
    assert matrix.partition("## Exercises\n")[2].split("\n")[3] == "| Sequence | F-A-1 |"
    text = made["reference/objectives-phases.md"]
    own = text.partition("## F-A-1\n")[2].partition("## F-A-2\n")[0]
    assert "Say one. Syllabus reference: 021 08 02." in own
    assert "| Pages | [A page](../phases/a.md) |" in own
    assert "| Moments and trials | [See it](../phases/a.md#moment-1) |" in own
    assert "| Questions | [Which 430 kg? (choose)](../phases/a.md#q) |" in own
    assert "| Exercises | Sequence |" in own
    assert "F-B-1" not in text
    last = made["reference/objectives-first-pages.md"].partition("## F-B-1\n")[2]
    assert "<ul><li>[See it](../b.md#moment-1)</li><li>[Do it.](../b.md#try-1)</li></ul>" in last
    assert "| Exercises | – |" in last

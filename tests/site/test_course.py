"""What the build asks of the course's text: its length, its words, its links; and the pages that show it."""

import re
from pathlib import Path

import pytest

from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.teach.exercises import objectives_served
from wetwing_tools.site import changes_page, differences, generated, reading, state_links, vocabulary
from wetwing_tools.site.course import Course, exercise_objectives, read_course
from wetwing_tools.site.library import Library
from wetwing_tools.site.slips import Slips
from wetwing_tools.site.statements import LOOKED_UP, count, together
from wetwing_tools.site.survey import survey

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
FLEET = tuple(read_aircraft(name) for name in fleet())
MATRIX = (
    "objectives",
    *(f"objectives-{area}" for area in ("phases", "system", "troubles", "planning", "side-by-side")),
)
OBJECTIVE = "---\nobjectives:\n  - id: F-A-1\n    text: Say it.\n---\n\n# A page\n\n"


@pytest.fixture(scope="module")
def course() -> Course:
    """The course as it is."""
    pages = [path for path in sorted(DOCS.rglob("*.md")) if "panel" not in path.parts]
    return read_course({path.relative_to(DOCS).as_posix(): path.read_text("utf-8") for path in pages})


# -- length and grade


def test_minutes_are_words_moments_and_questions() -> None:
    text = f"{OBJECTIVE}{'word ' * 360}\n"
    moment = "```moments\n- at: begin\n  title: Two words\n  text: So it is.\n```\n"
    question = '```predict\nid: q\nask: "How many words count here, then?"\noptions: []\n```\n'
    assert reading.minutes(survey(text, "a.md")) == pytest.approx(2.0 + 2 / 180)
    assert reading.minutes(survey(text + moment, "a.md")) == pytest.approx(3.0 + 7 / 180)
    assert reading.minutes(survey(text + question, "a.md")) == pytest.approx(3.5 + 2 / 180)


def test_a_worksheet_and_each_question_of_a_paper_take_their_time() -> None:
    text = f"{OBJECTIVE}{'word ' * 360}\n"
    sheet = "```worksheet\nkind: fuel-plan\n```\n"
    paper = "```exercises\nseed: 4\ncount: 12\n```\n"
    one = survey(text + sheet + paper, "bench/a.md")
    assert reading.minutes(one) == pytest.approx(2.0 + 2 / 180 + 5.0 + 12 * 1.5)
    assert (reading.questions(one), one.worksheets, len(one.questions)) == (12, 1, 0)
    # Both stand in the page's row, and in the sum of its folder.
    table = reading.page([one, survey(text + sheet, "bench/b.md")], {})
    rows = [
        [cell.strip() for cell in row.split("|")[1:-1]] for row in table.split("\n") if row.startswith("| ")
    ]
    heads = rows[0]
    told = {row[0]: (row[heads.index("Questions")], row[heads.index("Sheets")]) for row in rows[2:5]}
    assert told == {
        "[A page](../bench/a.md)": ("12", "1"),
        "[A page](../bench/b.md)": ("0", "1"),
        "**Together**": ("12", "2"),
    }


@pytest.mark.parametrize("page", ["phases/a.md", "reference/a.md"])
def test_a_page_that_takes_too_long_is_refused(page: str) -> None:
    found = Slips()
    reading.check_page(survey(f"# A page\n\n{'word ' * 3700}", page), found)
    (slip,) = found.found
    assert str(slip).startswith(f"{page}:1: this page takes 20.6 minutes; allowed: 20 minutes or less")


def test_no_page_that_the_build_makes_takes_too_long(course: Course) -> None:
    made = {
        **generated.pages(FLEET[0], FLEET[1:]),
        **differences.pages(FLEET, Library().flights),
        **course.pages(exercise_objectives()),
    }
    taken = {one.page: reading.minutes(one) for one in read_course(made).surveys}
    assert set(taken) == set(made)
    assert {page: minutes for page, minutes in taken.items() if minutes > reading.MOST_MIN} == {}


def test_the_grade_is_the_published_formula() -> None:
    # 20 sentences of 5 words of 4 letters: 4.71 · 4 + 0.5 · 5 − 21.43.
    assert reading.grade(
        ["Only four tiny word make. " * 0 + "Each word here have four. " * 20]
    ) == pytest.approx(4.71 * 4.0 + 0.5 * 5.0 - 21.43)
    assert reading.grade(["Too short."]) is None
    plain = reading.grade(["The pump runs. The tank is full. " * 20])
    heavy = reading.grade(
        ["Notwithstanding considerable interdependencies, configurations deteriorate. " * 20]
    )
    assert plain is not None
    assert heavy is not None
    assert plain < heavy


def test_what_is_not_read_is_not_counted() -> None:
    text = "[A [long](../phases/cruise.md#hold) word.]{holds: centre-left is dry at begin} `code` {= x at y}"
    one = survey(f"# A page\n\n{text}\n\n```sh\nmake it so\n```\n", "a.md")
    words = [word for part in one.texts for word in reading.words_of(part)]
    assert words == ["A", "page", "A", "long", "word", "code", "1"]
    assert (one.statements, one.figures, one.title) == (1, 1, "A page")


def test_the_table_has_a_row_for_every_page(course: Course) -> None:
    text = course.pages({})["reference/pages.md"]
    assert set(re.findall(r"^\| \[[^\n]*?\]\(\.\./([^)]+)\)", text, re.MULTILINE)) == {
        *(one.page for one in course.surveys),
        *(f"reference/{name}.md" for name in MATRIX),
    }


# -- words


def test_pages_that_the_build_makes_have_their_minutes_too(course: Course) -> None:
    made = {"reference/alerts.md": "# Alder 165: alerts\n\n" + "A word of it. " * 90}
    text = course.pages({}, made)["reference/pages.md"]
    row = next(line for line in text.splitlines() if "](../reference/alerts.md)" in line)
    assert [cell.strip() for cell in row.split("|")][1:4] == [
        "[Alder 165: alerts](../reference/alerts.md)",
        "2.0",
        "363",
    ]
    assert "](../reference/objectives.md)" in text


def test_a_trade_term_that_the_glossary_has_not_is_told_where_it_is_used_first() -> None:
    glossary = "# Glossary\n\nPump\n:   What moves fuel.\n\nCheck valve\n:   One way.\n"
    pages = {
        "phases/a.md": "# A\n\nA pump runs.\n\nIts check valve, and the shut-off valves.\n",
        "phases/b.md": "# B\n\nA shut-off valve.\n",
        "reference/glossary.md": glossary,
    }
    course, found = read_course(pages), Slips()
    vocabulary.check(course.surveys, glossary, FLEET, found)
    (slip,) = found.found
    assert str(slip).startswith(
        "phases/a.md:5: 'shut-off valve' (a word of shut-off-1) is not in the glossary"
    )


def test_trade_terms_come_from_the_fleet_without_places_and_plain_words() -> None:
    terms = vocabulary.trade_terms(FLEET)
    assert {"pump", "jet pump", "cross-feed valve", "running, held back", "return-flow hold"} <= terms.keys()
    assert not {"main left", "left", "open by itself", "active", "automatic", "emptied"} & terms.keys()


def test_the_course_uses_no_trade_term_without_an_entry(course: Course) -> None:
    found = Slips()
    vocabulary.check(course.surveys, course.glossary, FLEET, found)
    assert not found.found, found.report()


def test_where_a_term_is_used_first() -> None:
    glossary = "Running, held back\n:   A pump.\n\nGallery\n:   A pipe.\n"
    pages = {"phases/b.md": "# B\n\nA pump is held back.\n", "phases/a.md": "# A\n\nIt is held back.\n"}
    uses = vocabulary.first_uses(read_course(pages).surveys, glossary)
    assert {term: one.page if one else None for term, one in uses.items()} == {
        "Running, held back": "phases/b.md",
        "Gallery": None,
    }


# -- links to states


def known(name: str) -> Aircraft:
    return next(one for one in FLEET if one.name == name)


@pytest.mark.parametrize(
    ("link", "says"),
    [
        ("../phases/cruise.md#v=1&t=1:28:00", None),
        ("#v=1&aircraft=rowan-54&flight=rowan-hop&t=0:10:00", None),
        ("a.md#v=1&edit=1:00:00,main-left,leak+1200;v=1&t=1:00:00", None),
        ("cruise.md#check-yourself", None),
        ("cruise.md#v=1&tt=1:28:00", "unknown key 'tt'"),
        ("cruise.md#v=1&aircraft=rowan-45", "unknown aircraft 'rowan-45'"),
        ("cruise.md#v=1&flight=day-sectr", "unknown flight 'day-sectr'"),
        ("days.md#v=1&flight=day-sector-hot&t=1:00:00", None),
        ("cold.md#v=1&flight=day-sector-cold&t=1:00:00", None),
        ("cold.md#v=1&flight=day-sector-hot", "for the flight day-sector-hot; allowed: day-sector-cold"),
        ("hop.md#v=1&t=0:10:00", None),
        ("hop.md#v=1&aircraft=alder-165", "for the aircraft alder-165; allowed: rowan-54, which is what hop"),
        (
            "days.md#v=1&aircraft=rowan-54&flight=day-sector",
            "for the aircraft rowan-54; allowed: alder-165",
        ),
        ("#v=1&aircraft=rowan-54&flight=day-sector", "the flight day-sector with the aircraft rowan-54"),
        ("hop.md#v=1&t=7:00:00", "t, 7:00:00; allowed: up to the end of rowan-hop, 1:"),
        ("hop.md#v=1&edit=6:00:00,cross-feed,open", "the time of cross-feed, 6:00:00; allowed: up to the"),
        ("cold.md#v=1&t=9:00:00", "t, 9:00:00; allowed: up to the end of day-sector-cold, 7:21:00"),
        ("cruise.md#v=1&edit=1:00:00,main-lft,leak", "unknown part 'main-lft'"),
        ("cruise.md#v=1&edit=1:00:00,cross-feed,ajar", "unknown setting or trouble of cross-feed 'ajar'"),
        ("a.md#v=1&t=1:00:00;v=1&aircraft=nought", "unknown aircraft 'nought'"),
        ("cruise.md#v=9&t=1:00:00", "9"),
    ],
)
def test_a_link_to_a_state_names_what_there_is(link: str, says: str | None) -> None:
    found = Slips()
    text = f"# A\n\n```md\n[x](#v=1&nonsense=1)\n```\n\nSee `[x](#q=1)` and [the hold]({link}).\n"
    shown = {
        "cold.md": state_links.shown_by("# Cold\n", None, "day-sector-cold", "alder-165"),
        "hop.md": state_links.shown_by("# Hop\n", "rowan-54", None, "alder-165"),
        "days.md": state_links.shown_by("# Days\n\n```twin\n```\n", None, None, "alder-165"),
    }
    state_links.check(text, "a.md", "alder-165", known, found, shown)
    if says is None:
        assert not found.found
    else:
        (slip,) = found.found
        assert slip.line == 7
        assert says in slip.message


# -- changes, statements, exercises


def test_the_list_of_changes_is_a_page_with_the_model_s_revision() -> None:
    changelog = (ROOT / "CHANGELOG.md").read_text("utf-8")
    text = changes_page.page(changelog, "1.2.3-abcdef01")
    assert text.startswith("# Changes\n\nThis site was built with model revision `1.2.3-abcdef01`")
    assert text.endswith(changelog.partition("\n")[2])
    with pytest.raises(ValueError, match="does not begin"):
        changes_page.page("# News\n", "1")


def test_nine_statements_in_ten_are_checked_and_no_folder_is_left_behind() -> None:
    missing: list[str] = []
    counts = count(DOCS, missing)
    checked, total = together(counts)
    assert checked >= 0.9 * total, f"{checked} of {total}\n" + "\n".join(missing)
    folders = {page.parent.name for page in DOCS.rglob("*.md") if page.parent != DOCS} - set(LOOKED_UP)
    assert counts.keys() >= folders - {"bench", "exercises"}
    behind = {folder: (some, all_) for folder, (some, all_) in counts.items() if some < 0.85 * all_}
    assert not behind, f"{behind}\n" + "\n".join(missing)


def test_exercises_serve_objectives_that_the_course_has(course: Course) -> None:
    served = {one for ids in objectives_served().values() for one in ids}
    assert served <= set(course.objectives)

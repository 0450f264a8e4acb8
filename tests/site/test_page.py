"""Pages turned into HTML against the flight that is known by heart; slips with their lines."""

import re
from collections.abc import Mapping

import pytest

from tests.teach.hand_made import claims
from wetwing.aircraft.mistakes import Mistake
from wetwing_tools.site import blocks
from wetwing_tools.site.checking import maker_of
from wetwing_tools.site.front import Front, first_line_of, read_front
from wetwing_tools.site.library import Library
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.slips import Slips


def maker(names: Mapping[str, str] | None = None) -> PageMaker:
    return PageMaker(
        "phases/x.md", Front(), claims(dict(names or {})), Slips(), blocks.MAKERS, "../index.html"
    )


def made(page: str) -> tuple[str, PageMaker]:
    one = maker()
    html = one.make(page, 1)
    assert not one.slips.found, one.slips.report()
    return html, one


def slips(page: str) -> list[str]:
    one = maker()
    one.make(page, 1)
    return [str(slip) for slip in one.slips.found]


PANEL = "\n```panel\nstart: slats becomes out\ncontrols: [slats, centre-feed]\n```\n"


def test_a_true_sentence_gets_a_mark_that_opens_its_moment() -> None:
    html, one = made(f"[The slats are out.]{{holds: slats is out at slats becomes out}}{PANEL}")
    assert '<span class="ww-said">The slats are out.<a class="ww-proof"' in html
    assert 'href="#v=1&amp;aircraft=alder-165&amp;flight=day-sector&amp;t=0:00:10"' in html
    assert 'data-ww-time="10.0" data-ww-part="slats"' in html
    assert one.checked == 1


def test_the_mark_of_another_flight_opens_nothing_and_names_it() -> None:
    library, slips = Library(), Slips()
    usual = ("alder-165", "day-sector")
    source = f"[It is hot.]{{holds: on day-sector-hot then main-left.temperature_c > 10 °C at end}}{PANEL}"
    source = source.replace("slats becomes out", "begin")
    one = maker_of("phases/x.md", source, "../index.html", library, usual, slips)
    assert one
    html = one.make(source, 1)
    assert not slips.found, slips.report()
    mark = re.search(r'It is hot\.<span class="ww-proof" role="img" title="([^"]+)" aria-label="\1">✓</span>', html)
    assert mark
    assert mark[1].startswith("Checked when this page was built, in another flight: day-sector-hot, 7:")


def test_an_option_is_no_claim_about_another_flight() -> None:
    option = "  - say: A.\n    true_if: on day-sector-hot then slats is in at end\n    because: B.\n"
    other = "  - say: C.\n    true_if: slats is out at slats becomes out\n    because: D.\n"
    source = f"```predict\nid: q\nask: What?\noptions:\n{option}{other}```\n"
    found = Slips()
    one = maker_of("phases/x.md", source, "", Library(), ("alder-165", "day-sector"), found)
    assert one
    one.make(source, 1)
    assert str(found.found[0]).startswith("phases/x.md:6: an option about the flight day-sector-hot; allowed: a")


def test_on_a_page_without_a_panel_the_mark_leads_to_one_that_has_it() -> None:
    html, _ = made("[The slats are out.]{holds: slats is out at slats becomes out}")
    assert 'href="../index.html#v=1' in html
    assert "data-ww-time" not in html


def test_a_false_sentence_is_a_slip_with_page_and_line() -> None:
    (slip,) = slips("# Head\n\nText.\n[The slats\nare in.]{holds: slats is in at slats becomes out}\n")
    assert slip.startswith('phases/x.md:4: "The slats are in." is not true')
    assert "slats is 'out'" in slip


def test_every_slip_of_a_page_is_said() -> None:
    page = "[A.]{holds: slats is in at slats becomes out}\n[B.]{holds: slat is in at end}\n"
    page += "{= nonsense}\n{= open\n"
    assert [slip.split(" ")[0] for slip in slips(page)] == [f"phases/x.md:{line}:" for line in (1, 2, 3, 4)]


def test_figures_carry_what_the_script_needs_for_pounds() -> None:
    html, _ = made("It holds {= main-left.actual_kg at slats becomes out}.")
    assert '<data class="ww-value" value="900" data-ww-unit="kg" data-ww-step="1">900\u00a0kg</data>' in html


def test_a_panel_is_noted_and_its_place_kept() -> None:
    html, one = made(f"# Head\n{PANEL}")
    assert html.count(blocks.SLOT) == 1
    assert one.panel is not None
    assert (one.panel.start_s, one.panel.controls) == (10.0, ("slats", "centre-feed"))


@pytest.mark.parametrize(
    ("page", "line", "message"),
    [
        (PANEL + PANEL, 8, "a second panel"),
        ("```panel\nstart: begin\ncontrols: [slat]\n```", 3, "nearest: slats"),
        ("```panel\nstart: begin\ncontrols: [vent-left]\n```", 3, "nobody can set"),
        ("```panel\nstart: begin\ncontrols: []\n```", 2, "1 to 4"),
        ("```panel\nstart: nowhere\ncontrols: [slats]\n```", 2, "unknown moment"),
        ("```panel\nstat: begin\ncontrols: [slats]\n```", 2, "nearest: start"),
        ("```panel\ncontrols: [slats]\n```", 2, "no 'start'"),
        ("```moments\n- at: begin\n  title: T\n  text: {= x}\n```", 4, "in quotes"),
        (
            "```moments\n- at: begin\n  title: T\n  text: '[A.]{holds: slats is out at begin}'\n```",
            4,
            "not true",
        ),
        ("```moments\ntitle: T\n```", 2, "no list"),
        ("```try\nwith: slats=out at begin + 0:00:20\nsay: S\n```", 2, "no 'text'"),
        ("```predict\nid: a\nask: Q\noptions:\n- say: A\n  because: B\n```", 5, "no 'true_if'"),
    ],
)
def test_slips_in_blocks_name_their_line(page: str, line: int, message: str) -> None:
    (slip,) = slips(page)
    assert slip.startswith(f"phases/x.md:{line}: "), slip
    assert message in slip


@pytest.mark.parametrize(
    ("page", "told"),
    [
        (
            "```panel\nstart: nowhere\nfocus: main-lft\ncontrols: [slat, vent-left]\n```",
            {2: "unknown moment", 3: "nearest: main-left", 4: "nobody can set"},
        ),
        (
            "```moments\n- at: nowhere\n  title: T\n  part: main-lft\n"
            "  text: '[A.]{holds: slats is out at begin}'\n"
            "- at: begin\n  titel: '{= nonsense}'\n  text: W\n```",
            {2: "unknown moment", 4: "nearest: main-left", 5: "not true", 7: "nearest: title"},
        ),
        (
            "```try\nwith: slats=out at begin + 0:00:20\nsay: '{= nonsense}'\npart: main-lft\n"
            "text: '[A.]{holds: slats is in at end}'\n```",
            {3: "no figure", 4: "nearest: main-left", 5: "not true"},
        ),
        (
            "```predict\nid: a\nask: Q\noptions:\n- say: A\n  true_if: slat is in at end\n  becuse: '{= x}'\n"
            "- say: B\n  true_if: slats is in at end\n  because: B\n  part: main-lft\n  shows: nowhere\n```",
            {6: "nearest: slats", 7: "nearest: because", 11: "nearest: main-left", 12: "unknown moment"},
        ),
        (
            "```order\nid: a\nask: Q\nitems:\n- say: A\n  at: nowhere\n"
            "- say: B\n  at: begin\n  part: main-lft\n"
            "- say: C\n  at: end\n  because: '{= x}'\n```",
            {6: "unknown moment", 9: "nearest: main-left", 12: "no figure"},
        ),
        (
            "```look-alikes\nat: end\ncases:\n- name: A\n  with: slats=ot at begin\n"
            "- name: B\n  with: slat=out at begin\n"
            "rows:\n- say: One\n  figure: main-lft.gauged_kg\n- say: Two\n  figure: state of slat\n```",
            {5: "nearest: out", 7: "nearest: slats", 10: "nearest: main-left", 12: "nearest: slats"},
        ),
        (
            "```twin\ntitle: T\nat: begin\nfocus: main-lft\ncontrols: [slat]\nleft:\n  name: L\n"
            "  text: '{= x}'\nright:\n  name: R\n  edits: slats=ot at begin\n  text: T\n```",
            {4: "nearest: main-left", 5: "nearest: slats", 8: "no figure", 11: "nearest: out"},
        ),
        (
            "```outcomes\ntrouble: slats=out at begin + 0:00:20\nnothing:\n  say: S\n  text: '{= x}'\n"
            "right:\n  say: S\n  with: slats=ot at end\n  text: T\n"
            "tempting:\n  say: S\n  text: T\nrows: []\n```",
            {5: "no figure", 8: "nearest: out", 11: "no 'with'"},
        ),
    ],
    ids=lambda found: found.split()[0] if isinstance(found, str) else "",
)
def test_every_slip_of_a_block_is_said(page: str, told: dict[int, str]) -> None:
    found = slips(page)
    for line, message in told.items():
        here = [slip for slip in found if slip.startswith(f"phases/x.md:{line}: ")]
        assert any(message in slip for slip in here), f"line {line}: {found}"
    assert {int(slip.split(":")[1]) for slip in found} == set(told), found


@pytest.mark.parametrize(
    ("page", "line", "message"),
    [
        ("A.\n\n[B.]{hold: slats is in at end}", 3, "nearest: {holds:"),
        ("[B.]{ holds : slats is in at end}", 1, "stands behind a sentence"),
        ("A.\n\n```pannel\nstart: begin\n```", 3, "nearest: panel"),
        ("- A\n\n    ```panel\n    start: begin\n    ```", 3, "is indented"),
    ],
)
def test_what_would_be_shown_as_it_stands_though_it_was_meant_as_notation(
    page: str, line: int, message: str
) -> None:
    (slip,) = slips(page)
    assert slip.startswith(f"phases/x.md:{line}: "), slip
    assert message in slip


def test_code_and_attributes_are_no_notation_of_ours() -> None:
    page = '[Link](x.md){ .wide } and `[A]{hold: x}`\n\n```toml title="a"\nx = 1\n```\n\n```\nplain\n```\n'
    assert not slips(page + "\n```` markdown\n```pannel\n```\n````\n")


def question(first: str, second: str) -> str:
    return (
        "```predict\nid: why\nask: Why?\noptions:\n"
        f"- say: One.\n  true_if: {first}\n  because: Because one.\n"
        f"- say: Two.\n  true_if: {second}\n  because: 'It holds {{= main-left.actual_kg at end}}.'\n```"
    )


def test_the_simulation_says_which_option_is_right() -> None:
    html, one = made(question("slats is in at end", "slats is out at end") + PANEL)
    assert re.findall(r'data-right="(\w+)" data-why', html) == ["true", "false"]
    radios = re.findall(r"<input[^>]*>", html)
    assert len(radios) == 2
    assert not any("data-ww-time" in radio for radio in radios), "choosing must not give the answer away"
    assert "<strong>Not so: Two.</strong> It holds <data" in html
    assert html.count("See the moment") == 2
    assert one.checked == 1


@pytest.mark.parametrize(
    ("first", "second", "message"),
    [
        ("slats is out at end", "slats is out at end", "none of the options is true"),
        ("slats is in at end", "slats is in at begin", "2 of the options is true"),
    ],
)
def test_a_question_with_no_one_answer_is_refused(first: str, second: str, message: str) -> None:
    (slip,) = slips(question(first, second))
    assert message in slip


def test_try_judges_its_text_in_the_edited_flight() -> None:
    page = (
        "```try\nwith: slats=out at begin + 0:00:20\nsay: Leave the slats out.\npart: vent-left\n"
        "shows: vent-left becomes spilling\ntext: |\n"
        "  [Fuel spills.]{holds: vent-left is spilling at end}\n```"
    )
    html, _ = made(page + PANEL)
    assert html.count('data-ww-edit="20.0,slats,out"') == 2
    assert 'data-ww-time="60.0" data-ww-part="vent-left"' in html
    assert "A state first differs at 0:00:40" in html


def test_front_matter_is_read_with_its_lines() -> None:
    source = (
        "---\ntitle: T\nmoments:\n  one: begin\nobjectives:\n  - id: F-1\n    text: Say it.\n---\n\n# Head\n"
    )
    front = read_front(source, "a.md")
    assert front.moments == {"one": "begin"}
    assert front.moments["one"].line == 4
    assert front.objectives[0].id == "F-1"
    assert first_line_of(source, "# Head\n") == 10
    assert read_front("# No front matter\n", "a.md") == Front()


@pytest.mark.parametrize(
    ("source", "message"),
    [
        ("---\nmoment:\n  a: begin\n---\n", "a.md:2: unknown key 'moment'"),
        ("---\nmoments:\n  A b: begin\n---\n", "moment 'A b'"),
        ("---\nmoments:\n  end: begin\n---\n", "has a meaning already"),
        ("---\nobjectives:\n  - id: F\n---\n", "a.md:3: no 'text'"),
        ("---\na: [\n---\n", "YAML"),
    ],
)
def test_slips_in_front_matter_are_named(source: str, message: str) -> None:
    with pytest.raises(Mistake) as caught:
        read_front(source, "a.md")
    assert message in str(caught.value)


def test_objectives_stand_under_the_heading() -> None:
    source = "---\nobjectives:\n  - id: F-1\n    text: Say it.\n    syllabus: 021 08 02\n---\n"
    one = PageMaker("a.md", read_front(source, "a.md"), claims(), Slips(), blocks.MAKERS)
    html = one.make("# Head\n\nText.\n", 7)
    assert re.search(
        r"# Head\n\n<div.*<span>F-1</span>, syllabus reference <span>021 08 02</span>.*</div>\n\n\nText",
        html,
        re.DOTALL,
    )

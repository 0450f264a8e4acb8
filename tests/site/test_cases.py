"""Look-alikes and outcomes: flights side by side, each judged in its own, and what the build refuses."""

import re

import pytest

from wetwing.teach.claims import Claims
from wetwing_tools.site import blocks
from wetwing_tools.site.front import Front
from wetwing_tools.site.library import Library
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.slips import Slips

FLIGHTS = Library().flights("alder-165", "day-sector")
LEAK = "main-left=leak 1500 at phase cruise"
DRIFT = "compensator-main-left=drifting -8 at phase cruise"
PANEL = "\n```panel\nstart: begin\ncontrols: [cross-feed]\n```\n"

LOOK_ALIKES = f"""
```look-alikes
at: phase cruise + 0:40:00
cases:
  - name: It leaks
    with: {LEAK}
    part: main-left
  - name: Its gauge drifts
    with: {DRIFT}
    page: gauge.md
rows:
  - say: Left main, gauge
    figure: main-left.gauged_kg to 10
  - say: Left main, **inside**
    figure: main-left.actual_kg to 10
  - say: Cross-feed
    figure: state of cross-feed
```
"""

OUTCOMES = f"""
```outcomes
trouble: {LEAK}
at: phase descent
nothing:
  say: Nobody acts.
  shows: leak becomes on
  part: leak
  text: |
    [It stays shut.]{{holds: cross-feed is shut at phase descent}}
right:
  say: The selector goes to manual.
  with: centre-feed=manual at (leak becomes on) + 0:05:00
  text: |
    [It is manual.]{{holds: centre-feed is manual at phase descent}}
tempting:
  say: The cross-feed is opened.
  with: cross-feed=open at (leak becomes on) + 0:05:00
  text: |
    [It is open.]{{holds: cross-feed is open at phase descent}}
rows:
  - say: Lost
    figure: total.leaked_kg
```
"""


def made(page: str) -> tuple[str, PageMaker]:
    one = PageMaker("troubles/x.md", Front(), Claims(FLIGHTS), Slips(), blocks.MAKERS, "../index.html")
    return one.make(page + PANEL, 1), one


def html_of(page: str) -> str:
    html, one = made(page)
    assert not one.slips.found, one.slips.report()
    return html


def slip(page: str) -> str:
    _, one = made(page)
    (found,) = one.slips.found
    return str(found)


def test_look_alikes_are_worked_out_in_each_flight_at_one_time() -> None:
    html, one = made(LOOK_ALIKES)
    assert not one.slips.found, one.slips.report()
    assert (one.checked, one.figures) == (2, 9)
    time_s = next(p.start_s for p in FLIGHTS.recorded.flight.phases if p.name == "cruise") + 2400.0
    assert html.count(f'data-ww-time="{time_s!r}"') == 3
    rows = re.findall(r"<tr><th scope=\"row\".*?</tr>", html)
    amounts = [[float(found) for found in re.findall(r'value="([\d.]+)"', row)] for row in rows[:2]]
    (working, leaks, drifts), (inside, gone, full) = amounts
    assert leaks < working - 500
    assert abs(drifts - working) > 100
    assert inside == full > gone  # the drifting gauge has lost nothing
    assert [bool(re.search(r"<td><strong>.*kg", cell)) for cell in rows[1].split("</td>")[:3]] == [
        False,
        True,
        False,
    ]
    assert 'href="gauge.html"' in html


def test_cases_that_no_row_tells_apart_are_refused() -> None:
    page = re.sub(r"  - say: Left main, gauge\n.*\n  - say: Left main, \*\*inside\*\*\n.*\n", "", LOOK_ALIKES)
    assert "'All working' and 'It leaks' are alike in every row" in slip(page)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("page: gauge.md", "page: gauge", "page 'gauge'; allowed: a page's file"),
        ("part: main-left", "part: main-lft", "main-lft"),
        ("figure: main-left.gauged_kg to 10", "figure: main-left.gaged_kg", "nearest: main-left.gauged_kg"),
        ("rows:", "row:", "unknown key 'row'"),
    ],
)
def test_a_slip_in_look_alikes_is_told_with_its_line(old: str, new: str, told: str) -> None:
    found = slip(LOOK_ALIKES.replace(old, new, 1))
    assert told in found
    assert re.match(r"troubles/x\.md:\d+: ", found)


def test_each_outcome_is_judged_in_its_own_flight() -> None:
    html, one = made(OUTCOMES)
    assert not one.slips.found, one.slips.report()
    assert (one.checked, one.figures) == (6, 3)
    for title in ("nothing is done", "the right thing is done", "the tempting thing is done"):
        assert f"If {title}" in html
    edits = re.findall(r'data-ww-edit="([^"]*)"', html)
    assert any("cross-feed,open" in found and "main-left,leak 1500" in found for found in edits)
    lost = [float(found) for found in re.findall(r'value="([\d.]+)"', html.partition("<tbody>")[2])]
    assert len(lost) == 3 and min(lost) > 1000


def test_a_statement_of_one_outcome_is_not_judged_in_another() -> None:
    assert '"It is open." is not true' in slip(
        OUTCOMES.replace("with: cross-feed=open", "with: centre-left=off")
    )


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("with: centre-feed=manual", "with: centre-feed=manul", "centre-feed"),
        ("with: cross-feed=open at", "with: main-right=leak 900 at", "what a crew can do"),
        (f"trouble: {LEAK}", "trouble: main-left=leek 1500 at phase cruise", "leek"),
        ("right:\n", "rihgt:\n", "unknown key 'rihgt'"),
    ],
)
def test_a_slip_in_outcomes_is_told_with_its_line(old: str, new: str, told: str) -> None:
    found = slip(OUTCOMES.replace(old, new, 1))
    assert told in found
    assert re.match(r"troubles/x\.md:\d+: ", found)


def test_an_act_that_changes_nothing_is_refused() -> None:
    page = OUTCOMES.replace("with: centre-feed=manual at", "with: centre-feed=automatic at")
    _, one = made(page)
    assert any("changes nothing" in str(found) for found in one.slips.found)


def test_the_right_thing_may_be_to_move_no_switch() -> None:
    page = OUTCOMES.replace("  with: centre-feed=manual at (leak becomes on) + 0:05:00\n", "").replace(
        "[It is manual.]{holds: centre-feed is manual at phase descent}",
        "[It stays automatic.]{holds: centre-feed is automatic at phase descent}",
    )
    html, one = made(page)
    assert not one.slips.found, one.slips.report()
    assert "If the right thing is done" in html
    heads = re.findall(r">([^<]+)</a></th>", html)
    assert heads == ["No switch is moved", "The tempting thing is done"]


def test_the_tempting_thing_is_always_an_act() -> None:
    found = slip(OUTCOMES.replace("  with: cross-feed=open at (leak becomes on) + 0:05:00\n", ""))
    assert "no 'with'" in found


def test_an_instrument_that_errs_may_change_figures_alone() -> None:
    page = OUTCOMES.replace(f"trouble: {LEAK}", "trouble: meter-1=biased 20 at phase cruise")
    page = page.replace("  shows: leak becomes on\n  part: leak\n", "").replace(
        "(leak becomes on)", "phase cruise"
    )
    html, one = made(page.replace("total.leaked_kg", "main-right.actual_kg"))
    assert [str(found) for found in one.slips.found] == []
    start_s = next(phase.start_s for phase in FLIGHTS.recorded.flight.phases if phase.name == "cruise")
    assert f'data-ww-time="{start_s!r}"' in html.partition("ww-outcome-right")[0]

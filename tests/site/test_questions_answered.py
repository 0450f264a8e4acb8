"""What learners ask is answered within two clicks from the home page, each with a state that shows it."""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from wetwing.aircraft.read import read_aircraft
from wetwing.flight.script import read_script
from wetwing.teach.claims import Claims
from wetwing.teach.flights import Flights
from wetwing.teach.link import parse_link
from wetwing_tools.site import blocks
from wetwing_tools.site.front import body_of, first_line_of, read_front
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.slips import Slips

DOCS = Path(__file__).parents[2] / "docs"

# A word or two of each question that learners ask in public, which its heading must hold.
ASKED = (
    "gauge show mass",
    "truck's litres",
    "order was right and the total is wrong",
    "Who decides how the fuel spreads",
    "wings filled before the centre",
    "count unusable fuel",
    "fewer kilograms today",
    "Which pump feeds the APU",
    "centre pumps have stopped",
    "cross-feed shut for take-off",
    "burn the centre first",
    "pumps push equally",
    "centre rises",
    "cold limit",
    "Sensed or computed",
    "quantities disagree",
    "last of the centre",
    "low-level alert define",
    "Minimum fuel, or an emergency",
    "Both pumps of one wing",
    "balancing put an engine out",
    "imbalance, or a leak",
    "leak is confirmed",
)


class _Links(HTMLParser):
    """The links of a piece of HTML that open a state."""

    def __init__(self) -> None:
        super().__init__()
        self.states: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        href = dict(attrs).get("href") or ""
        if tag == "a" and href.startswith("#v="):
            self.states.append(href)


@pytest.fixture(scope="module")
def answers() -> dict[str, str]:
    """Each question's heading, and its answer as HTML."""
    source = (DOCS / "questions.md").read_text("utf-8")
    front = read_front(source, "questions.md")
    aircraft = read_aircraft("alder-165")
    flights = Flights(aircraft, read_script("day-sector", aircraft))
    slips, markdown = Slips(), body_of(source)
    maker = PageMaker("questions.md", front, Claims(flights, front.moments), slips, blocks.MAKERS)
    html = maker.make(markdown, first_line_of(source, markdown))
    assert not slips.found, slips.report()
    pieces = re.split(r"^### (.+)$", html, flags=re.MULTILINE)
    return dict(zip(pieces[1::2], pieces[2::2], strict=True))


@pytest.mark.parametrize("words", ASKED)
def test_a_question_is_answered_with_a_state_that_shows_it(words: str, answers: dict[str, str]) -> None:
    (heading,) = [heading for heading in answers if words in heading]
    links = _Links()
    links.feed(answers[heading])
    assert links.states, f"'{heading}' shows no state"
    for address in links.states:
        found = parse_link(address)
        assert (found.aircraft, found.flight) == ("alder-165", "day-sector")


def test_the_answers_are_one_click_from_the_home_page() -> None:
    assert "](questions.md)" in (DOCS / "index.md").read_text("utf-8")


def test_every_answer_leads_on_to_a_page_that_exists(answers: dict[str, str]) -> None:
    for heading, answer in answers.items():
        pages = re.findall(r"\]\(([a-z-]+/[a-z-]+\.md)\)", answer)
        assert pages, f"'{heading}' leads nowhere"
        assert all((DOCS / page).is_file() for page in pages), pages

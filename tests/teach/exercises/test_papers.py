"""Papers: the same from the same seed, each answer right by the simulation and each distractor wrong."""

import json
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from wetwing.aircraft.mistakes import Mistake
from wetwing.flight.script import Edit
from wetwing.teach.claims import Claims
from wetwing.teach.exercises import KINDS, MISCONCEPTIONS, Paper, Question, Stock, Wish, make_paper
from wetwing.teach.exercises.document import paper_document
from wetwing.teach.exercises.paper import make_part
from wetwing.teach.exercises.records import Evidence
from wetwing.teach.flights import Flights
from wetwing.teach.link import parse_link

GOLDEN = Path(__file__).with_name("paper-alder-165-4.json")
SEEDS = (("alder-165", 4), ("rowan-54", 7))
COUNT = 12


@pytest.fixture(scope="module")
def stocks() -> dict[tuple[str, int], Stock]:
    return {(aircraft, seed): Stock(seed, aircraft) for aircraft, seed in SEEDS}


@pytest.fixture(scope="module")
def papers(stocks: dict[tuple[str, int], Stock]) -> list[tuple[Paper, Stock]]:
    return [
        (make_paper(Wish(seed, aircraft, COUNT), stocks[aircraft, seed]), stocks[aircraft, seed])
        for aircraft, seed in SEEDS
    ]


def judged_anew(stock: Stock, evidence: Evidence, claim: str) -> bool:
    """Judge a claim in the whole flight of a state, flown anew from its script."""
    return Claims(_whole(stock), edits=evidence.edits).check(claim, "test").holds


_flights: dict[tuple[str, int], Flights] = {}


def _whole(stock: Stock) -> Flights:
    key = (stock.aircraft, 0)
    if key not in _flights:
        _flights[key] = Flights(stock.flights.aircraft, stock.flights.script)
    return _flights[key]


def test_a_seed_gives_the_paper_that_it_gave(papers: list[tuple[Paper, Stock]]) -> None:
    """Whoever changes the model on purpose writes the file anew: `python -m tests.teach.exercises`."""
    assert paper_document(papers[0][0]) == json.loads(GOLDEN.read_text("utf-8"))


def test_exactly_one_answer_holds_and_every_other_names_its_misconception(
    papers: list[tuple[Paper, Stock]],
) -> None:
    count = 0
    for paper, stock in papers:
        for question in paper.questions:
            right = [option for option in question.options if option.right]
            assert len(right) == (1 if question.form == "choose" else 0), question.name
            for option in question.options:
                assert judged_anew(stock, option.evidence, option.claim) == option.right, option
                assert (option.misconception is None) == option.right
                assert option.right or option.misconception in MISCONCEPTIONS
                count += 1
    assert count > 30


def test_no_two_options_read_alike_and_a_question_has_enough_of_them(
    papers: list[tuple[Paper, Stock]],
) -> None:
    for paper, _ in papers:
        for question in paper.questions:
            words = [option.words for option in question.options] + [item.words for item in question.items]
            assert len(set(words)) == len(words), question.name
            if question.form != "number":
                assert 3 <= len(words) <= 5, question.name


def test_items_stand_in_the_flights_order_and_apart(papers: list[tuple[Paper, Stock]]) -> None:
    found = 0
    for paper, stock in papers:
        for question in paper.questions:
            for earlier, later in pairwise(question.items):
                assert later.evidence.time_s - earlier.evidence.time_s >= 1.0
                assert judged_anew(stock, earlier.evidence, earlier.claim), earlier
                found += 1
            if question.items:
                assert sorted(question.shown) == list(range(1, len(question.items) + 1))
                assert list(question.shown) != sorted(question.shown)
    assert found > 5


def test_figures_agree_with_the_simulation_and_slips_lie_outside(papers: list[tuple[Paper, Stock]]) -> None:
    found = 0
    for paper, stock in papers:
        for question in paper.questions:
            if question.number is None:
                continue
            number = question.number
            assert number.claim, question.name
            assert judged_anew(stock, question.evidence, number.claim), question.name
            assert number.slips
            for slip in number.slips:
                assert abs(slip.amount - number.amount) > 2.0 * number.tolerance, question.name
                assert slip.misconception in MISCONCEPTIONS
            found += 1
    assert found > 7


def states_of(question: Question) -> list[Evidence]:
    return [question.evidence, *(o.evidence for o in question.options), *(i.evidence for i in question.items)]


def test_every_link_opens_the_state_that_it_names(papers: list[tuple[Paper, Stock]]) -> None:
    for paper, stock in papers:
        for question in paper.questions:
            for evidence in states_of(question):
                page, _, fragment = evidence.address("kg").partition("#")
                link = parse_link(f"#{fragment}")
                assert link is not None
                assert page == f"bench/{paper.aircraft}.html"
                assert (link.aircraft, link.flight) == (paper.aircraft, stock.flights.script.name)
                assert link.time_s == pytest.approx(evidence.time_s, abs=1e-9)
                edits = tuple(Edit(edit.time_s, edit.part, edit.state) for edit in link.edits)
                assert edits == evidence.edits


@pytest.mark.parametrize(
    ("objective", "says"),
    [
        ("F-TRB-CHK", "stuck open: fuel can pass it backwards"),
        ("F-TRB-RTN", "Return valve"),
        ("F-TRB-DRG", "drag"),
    ],
)
def test_each_family_of_troubles_is_asked_about(objective: str, says: str) -> None:
    """What gains on the others and what burns more are look-alikes of a leak, and each can be the answer."""
    stock = Stock(1, "alder-165")
    paper = make_paper(Wish(1, "alder-165", 1, kinds=("trouble",), objectives=(objective,)), stock)
    (question,) = paper.questions
    (right,) = [option for option in question.options if option.right]
    assert says in right.words
    assert judged_anew(stock, right.evidence, right.claim)


def test_no_paper_asks_the_same_twice_and_says_what_it_left_out(papers: list[tuple[Paper, Stock]]) -> None:
    for paper, _ in papers:
        asked = [(question.ask, question.given, question.items) for question in paper.questions]
        assert all(asked.count(one) == 1 for one in asked)
        assert len({question.name for question in paper.questions}) == len(paper.questions)
        shares = dict(Wish(paper.seed, paper.aircraft, COUNT).shares())
        made = [question.kind for question in paper.questions]
        assert {kind for kind in KINDS if made.count(kind) < shares[kind]} == set(paper.left_out)


def test_a_question_is_the_same_whatever_else_the_paper_asks(stocks: dict[tuple[str, int], Stock]) -> None:
    stock = stocks["rowan-54", 7]
    many = make_part(Wish(7, "rowan-54", count=18), "state", 3, stock)
    few = make_part(Wish(7, "rowan-54", count=1, kinds=("state",)), "state", 1, stock)
    assert many[:1] == few


def test_an_objective_keeps_only_the_questions_that_serve_it(stocks: dict[tuple[str, int], Stock]) -> None:
    wish = Wish(7, "rowan-54", count=3, kinds=("state", "next"), objectives=("F-CRZ-1",))
    paper = make_paper(wish, stocks["rowan-54", 7])
    assert paper.questions
    assert all("F-CRZ-1" in question.objectives for question in paper.questions)


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        ({"seed": -1}, "seed: -1; allowed: 0 to 999999"),
        ({"seed": 1, "count": 0}, "count: 0 questions; allowed: 1 to 40"),
        ({"seed": 1, "kinds": ("stat",)}, "unknown kind of question 'stat'"),
        ({"seed": 1, "kinds": ()}, "no kind of question"),
        ({"seed": 1, "aircraft": "alder-166"}, "nearest: alder-165"),
        ({"seed": 1, "objectives": ("F-CRZ-99",)}, "unknown objective"),
        ({"seed": 1, "kinds": ("uplift",), "objectives": ("F-CRZ-1",)}, "no question of the chosen kinds"),
    ],
)
def test_a_wish_that_cannot_be_met_is_told(wish: dict[str, object], says: str) -> None:
    with pytest.raises(Mistake, match=says.replace("(", r"\(")):
        Wish(**wish)  # type: ignore[arg-type]


def test_a_claim_that_is_wrong_would_be_seen(papers: list[tuple[Paper, Stock]]) -> None:
    """The judge of these tests can say no: with the time of another state an answer is no longer right."""
    paper, stock = papers[0]
    question = next(one for one in paper.questions if one.kind == "uplift")
    assert question.number
    assert question.number.claim
    cut = question.number.claim.rpartition(" at ")[0]
    later = replace(question.evidence, time_s=question.evidence.time_s + 7200.0)
    assert not judged_anew(stock, later, f"{cut} at begin + 6:00:00")

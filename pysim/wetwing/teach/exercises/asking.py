"""A request for a paper, as the page's worker gets it: read, checked, and answered whole or in parts.

A part is the questions of one kind: the page asks for them one after another, and shows how far it is.
"""

from collections.abc import Callable

from wetwing.aircraft.mistakes import Mistake
from wetwing.teach.exercises.document import paper_document
from wetwing.teach.exercises.paper import KINDS, Wish, joined, make_paper, make_part
from wetwing.teach.exercises.records import Question
from wetwing.teach.exercises.stock import Stock

Shown = Callable[[Question], str]


def answer_exercises(
    request: dict[str, object], stocks: dict[tuple[int, str], Stock], shown: Shown
) -> dict[str, object]:
    """The paper as data with each question as HTML. Raises Mistake.

    `part`, from 0, asks for the questions of one kind alone; `parts` says how many there are.
    """
    wish = read_wish(request)
    key = (wish.seed, wish.aircraft)
    if key not in stocks:
        # A stock holds whole flights: one is enough.
        stocks.clear()
        stocks[key] = Stock(*key)
    stock = stocks[key]
    shares = wish.shares()
    if "part" in request:
        at = _whole(request, "part", 0, len(shares) - 1)
        kind, count = shares[at]
        questions = make_part(wish, kind, count, stock)
        paper = joined(Wish(wish.seed, wish.aircraft, count, (kind,), wish.objectives), stock, [questions])
    else:
        paper = make_paper(wish, stock)
    return {
        "paper": paper_document(paper),
        "html": [shown(question) for question in paper.questions],
        "parts": len(shares),
    }


def read_wish(request: dict[str, object]) -> Wish:
    """What a request asks for. Raises Mistake."""
    aircraft = request.get("aircraft", "alder-165")
    if not isinstance(aircraft, str):
        raise Mistake("request.aircraft", f"found {type(aircraft).__name__}", "a text")
    return Wish(
        seed=_whole(request, "seed", 0, None),
        aircraft=aircraft,
        count=_whole(request, "count", 1, None) if "count" in request else 12,
        kinds=_names(request, "kinds") or tuple(KINDS),
        objectives=_names(request, "objectives"),
    )


def _whole(request: dict[str, object], key: str, least: int, most: int | None) -> int:
    found = request.get(key)
    ends = f"{least} or more" if most is None else f"{least} to {most}"
    if (
        isinstance(found, bool)
        or not isinstance(found, int)
        or found < least
        or (most is not None and found > most)
    ):
        raise Mistake(f"request.{key}", f"found {str(found)[:40]}", f"a whole number, {ends}")
    return found


def _names(request: dict[str, object], key: str) -> tuple[str, ...]:
    found = request.get(key, [])
    if not isinstance(found, list) or not all(isinstance(one, str) for one in found):
        raise Mistake(f"request.{key}", f"found {str(found)[:40]}", "a list of names")
    return tuple(dict.fromkeys(found))

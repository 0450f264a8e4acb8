"""A question with answers to choose from: the simulation judges each, and a doubtful question is refused."""

from collections.abc import Iterable
from dataclasses import dataclass

from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.records import Option
from wetwing.teach.exercises.stock import Case

FEWEST, MOST = 3, 4


@dataclass(frozen=True, slots=True)
class Candidate:
    """An answer that may stand in a question: its claim makes it right, its misconception makes it tempting.

    `because` says what the flight shows, whether the answer is right or not. `case` is the flight in which
    its claim is judged.
    """

    words: str
    claim: str
    misconception: str
    because: str
    case: Case
    time_s: float


def options(candidates: Iterable[Candidate], dice: Dice) -> tuple[Option, ...] | None:
    """Judge every candidate; the right one and some wrong ones in an order of chance.

    None where not exactly one is right, where too few are wrong, or where two read alike.
    """
    judged = [(one, one.case.judge(one.claim).holds) for one in candidates]
    right = [one for one, holds in judged if holds]
    wrong = [one for one, holds in judged if not holds]
    words = [one.words for one, _ in judged]
    if len(right) != 1 or len(wrong) < FEWEST - 1 or len(set(words)) < len(words):
        return None
    chosen = [*right, *dice.mixed(wrong)[: MOST - 1]]
    return tuple(_option(one, one is right[0]) for one in dice.mixed(chosen))


def _option(one: Candidate, right: bool) -> Option:
    return Option(
        words=one.words,
        claim=one.claim,
        right=right,
        because=one.because,
        evidence=one.case.evidence(one.time_s),
        misconception=None if right else one.misconception,
    )

"""A paper: so many questions of some kinds, decided by a seed alone.

A question is known by aircraft, seed, kind and its number within the kind: it is the same whatever else the
paper asks. So a paper can be made a kind at a time, and a result keeps its meaning.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.teach.exercises import (
    balance,
    delay,
    endurance,
    ledger,
    next_change,
    order,
    reason,
    state,
    trouble,
    uplift,
)
from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.objectives import objectives_served
from wetwing.teach.exercises.records import Paper, Question
from wetwing.teach.exercises.stock import Stock, check_source

MAKERS: dict[str, Callable[[Stock, Dice, str], Question | None]] = {
    module.KIND: module.make
    for module in (state, next_change, reason, order, trouble, ledger, uplift, endurance, delay, balance)
}
KINDS = {
    "state": "read the state",
    "next": "predict the next change",
    "reason": "choose the reason",
    "order": "order the steps",
    "trouble": "find the trouble",
    "ledger": "compute the ledger",
    "uplift": "compute the uplift",
    "endurance": "compute the endurance",
    "delay": "compute the delay",
    "balance": "compute the balance",
}
"""The kinds of question, and what each asks the reader to do."""

MOST_QUESTIONS = 40
MOST_DRAWS = 60
"""Candidates that are drawn for one question before the kind is given up."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What a paper is asked for. Raises Mistake where that can't be."""

    seed: int
    aircraft: str = "alder-165"
    count: int = 12
    kinds: tuple[str, ...] = tuple(KINDS)
    objectives: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        check_source(self.seed, self.aircraft)
        if not 1 <= self.count <= MOST_QUESTIONS:
            raise Mistake("count", f"{self.count} questions", f"1 to {MOST_QUESTIONS}")
        if not self.kinds:
            raise Mistake("kind", "no kind of question", tuple(KINDS))
        for kind in self.kinds:
            if kind not in KINDS:
                raise unknown("kind", "kind of question", kind, KINDS)
        served = sorted({one for ids in objectives_served().values() for one in ids})
        for objective in self.objectives:
            if objective not in served:
                raise unknown("objective", "objective", objective, served)
        if not self.shares():
            told = ", ".join(kind for kind in KINDS if self._serves(kind))
            raise Mistake("objective", "no question of the chosen kinds serves it", told)

    def shares(self) -> tuple[tuple[str, int], ...]:
        """How many questions of each kind, in the order of the kinds: as even as can be. The seed says which
        kinds have one more.
        """
        able = [kind for kind in KINDS if kind in self.kinds and self._serves(kind)]
        if not able:
            return ()
        each, more = divmod(self.count, len(able))
        favoured = Dice(self.seed, "shares").mixed(able)[:more]
        found = [(kind, each + (kind in favoured)) for kind in able]
        return tuple((kind, count) for kind, count in found if count)

    def _serves(self, kind: str) -> bool:
        return not self.objectives or bool(set(objectives_served()[kind]) & set(self.objectives))


def make_paper(wish: Wish, stock: Stock | None = None) -> Paper:
    """The whole paper. `stock` may hold the flights of the same seed and aircraft already."""
    stock = stock or Stock(wish.seed, wish.aircraft)
    return joined(wish, stock, [make_part(wish, kind, count, stock) for kind, count in wish.shares()])


def make_part(wish: Wish, kind: str, count: int, stock: Stock) -> tuple[Question, ...]:
    """The questions of one kind; fewer than `count` where the aircraft gives no more clear ones."""
    found: list[Question] = []
    seen: set[tuple[object, ...]] = set()
    dice = Dice(wish.seed, wish.aircraft, kind)
    misses = number = 0
    while len(found) < count and misses < MOST_DRAWS:
        question = MAKERS[kind](stock, dice, f"x-{wish.aircraft}-{wish.seed}-{kind}-{number + 1}")
        if question is None or (key := _key(question)) in seen:
            misses += 1
            continue
        seen.add(key)
        number, misses = number + 1, 0
        if not wish.objectives or set(wish.objectives) & set(question.objectives):
            found.append(question)
        elif number >= MOST_DRAWS:
            break
    return tuple(found)


def joined(wish: Wish, stock: Stock, parts: Iterable[tuple[Question, ...]]) -> Paper:
    """The parts of a paper as one, with what could not be made."""
    found = list(parts)
    short = [kind for (kind, count), part in zip(wish.shares(), found, strict=True) if len(part) < count]
    flights = stock.flights
    return Paper(
        seed=wish.seed,
        aircraft=wish.aircraft,
        title=flights.aircraft.title,
        flight=flights.script.name,
        flight_title=flights.script.title,
        questions=tuple(question for part in found for question in part),
        left_out=tuple(short),
    )


def _key(question: Question) -> tuple[object, ...]:
    """What makes two questions the same: the words, the figures, and the right answer."""
    plain = replace(question, name="")
    return (
        plain.ask,
        plain.given,
        tuple(option.words for option in plain.options if option.right),
        plain.items,
    )

"""Order the steps: some changes of one flight, to be put in the order in which they happen."""

from collections.abc import Iterator
from itertools import pairwise

from wetwing.flight.record import Change, Flight
from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.objectives import serves
from wetwing.teach.exercises.records import Item, Question
from wetwing.teach.exercises.stock import Case, Stock
from wetwing.teach.exercises.wording import at, capital, happens, quoted
from wetwing.teach.words import clock, up_to_tenth

KIND = "order"
FEWEST, MOST = 4, 5
APART_S = 2.0
"""Two items nearer than this would ask for luck, not for understanding."""

LONGEST_S = 3600.0
WITHOUT_RELAYS = ("valve", "control")
"""A switch's own change, and the valve that obeys it at once, are told by the switch alone."""


def make(stock: Stock, dice: Dice, name: str) -> Question | None:
    """One question, or None where the draw gives no clear one."""
    # The script's own flight twice as often: what goes before an edit is only its own.
    case = dice.pick((stock.plain, *stock.everyday))
    flight = case.flight
    worth = [
        i
        for i, change in enumerate(flight.changes)
        if change.time_s >= case.edited_s and _is_worth(case, change)
    ]
    if len(worth) < MOST:
        return None
    at_index = dice.below(len(worth))
    chosen: list[int] = []
    count = dice.between(FEWEST, MOST)
    for i in worth[at_index:]:
        change = flight.changes[i]
        if chosen and change.time_s - flight.changes[chosen[-1]].time_s < APART_S:
            continue
        if chosen and change.time_s - flight.changes[chosen[0]].time_s > LONGEST_S:
            break
        chosen.append(i)
        if len(chosen) == count:
            break
    changes = [flight.changes[i] for i in chosen]
    if len(chosen) < count or not _once(flight, changes) or not _linked(flight, chosen):
        return None
    items = _items(case, changes)
    shown = dice.mixed(range(1, count + 1))
    while shown == sorted(shown):
        shown = dice.mixed(range(1, count + 1))
    first_s = changes[0].time_s
    return Question(
        name=name,
        kind=KIND,
        form="order",
        objectives=serves(KIND, case.phase(first_s), [*case.matters, *_matters(case, changes)]),
        ask=f"{case.told_edits()}Some things that happen within the hour after "
        f"{clock(60.0 * (first_s // 60.0))}, {flight.phase(first_s).label.lower()}. Put them in order.",
        given=None,
        because="The flight has them in this order; each line says why it happens.",
        evidence=items[0].evidence,
        items=items,
        shown=tuple(shown),
        misconceptions=("effect-before-cause",),
    )


def _matters(case: Case, changes: list[Change]) -> Iterator[str]:
    """What the items are about: the kinds of their parts, and the filling before the flight."""
    yield from dict.fromkeys(case.aircraft.parts[change.part].kind for change in changes)
    if case.phase(changes[0].time_s) == "preparation":
        yield "filling"


def _is_worth(case: Case, change: Change) -> bool:
    part = case.aircraft.parts.get(change.part)
    if part is None or part.kind in WITHOUT_RELAYS or happens(part, change.after) is None:
        return False
    # That the demand has changed a hair is nothing to be reasoned.
    return change.reason.kind in ("rule", "action") or change.reason.name != "pressure"


def _once(flight: Flight, changes: list[Change]) -> bool:
    """Whether each of them comes once from the first to the last."""
    first_s, last_s = changes[0].time_s, changes[-1].time_s
    wanted = {(change.part, change.after) for change in changes}
    found = [
        (change.part, change.after)
        for change in flight.changes
        if first_s <= change.time_s <= last_s and (change.part, change.after) in wanted
    ]
    return len(found) == len(wanted) == len(changes)


def _linked(flight: Flight, chosen: list[int]) -> bool:
    """Whether one of them is a reason of another, so that the order can be reasoned and not only recalled."""
    for i in chosen[1:]:
        front, seen = set(flight.changes[i].reason.causes), set[int]()
        while front:
            if front & set(chosen):
                return True
            seen |= front
            front = {cause for one in sorted(front) for cause in flight.changes[one].reason.causes} - seen
    return False


def _items(case: Case, changes: list[Change]) -> tuple[Item, ...]:
    # A moment after the one before, so that the claim names this change and no earlier one.
    after_s = max(0.0, changes[0].time_s - 1.0)
    moments = [f"{one.part} becomes {quoted(one.after)} after ({at(after_s)})" for one in changes]
    claims = [f"{earlier} before {later}" for earlier, later in pairwise(moments)]
    return tuple(
        Item(
            words=f"{happens(case.aircraft.parts[change.part], change.after)}.",
            claim=claim,
            because=capital(change.reason.sentence),
            evidence=case.evidence(up_to_tenth(change.time_s)),
        )
        for change, claim in zip(changes, [*claims, claims[-1]], strict=True)
    )

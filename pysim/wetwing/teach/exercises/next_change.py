"""Predict the next change: the state is given; what will this pump do next, if nobody touches anything?"""

from collections.abc import Iterator

from wetwing.aircraft.model import Pump
from wetwing.flight.reasons import because, next_change
from wetwing.flight.record import Change, Moment
from wetwing.teach.exercises.choosing import Candidate, options
from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.objectives import serves
from wetwing.teach.exercises.records import Question, Table
from wetwing.teach.exercises.stock import Case, Stock
from wetwing.teach.exercises.wording import at, capital, figure, quoted, the
from wetwing.teach.words import clock, span, up_to_tenth

KIND = "next"
LONGEST_S = 3.0 * 3600.0
APART_S = 1.0
"""Two changes of the part nearer than this can't be told apart by anybody."""

EXPECTED = {
    "stopped by automatics": ("The automatics stop it.", "automatics-interfere"),
    "dry": ("It draws air: its tank is dry.", "until-dry"),
    "running, held back": ("It runs on, held back by a higher pressure.", "fullest-feeds"),
    "delivering": ("It begins to deliver.", "on-means-delivering"),
}


def make(stock: Stock, dice: Dice, name: str) -> Question | None:
    """One question, or None where the draw gives no clear one."""
    case, time_s = stock.draw(dice)
    nodes = {engine.node for engine in stock.engines}
    pump = dice.pick([pump for pump in case.aircraft.pumps if pump.node in nodes and pump.tank])
    moment = case.moment(time_s)
    end_s = _horizon(stock, case, time_s)
    change = next_change(case.flight, time_s, pump.name)
    # Most pumps stay as they are most of the time: a paper full of them would teach to answer that always.
    if (change is None or change.time_s >= end_s) and dice.below(4):
        return None
    if change is not None and change.time_s < end_s and not _foreseeable(case, change, time_s):
        return None
    found = options(_candidates(case, moment, pump, change, end_s), dice)
    if found is None:
        return None
    right = next(option for option in found if option.right)
    state = moment.state(pump.name)
    return Question(
        name=name,
        kind=KIND,
        form="choose",
        objectives=serves(KIND, case.phase(time_s), [*case.matters, *_matters(change, end_s)]),
        ask=f"{case.told_edits()}At {case.said(time_s)}, {the(pump)} is {state}. Nobody touches anything. "
        f"What does it do next, before {clock(end_s)}?",
        given=_given(case, moment),
        because=right.because,
        evidence=right.evidence,
        options=found,
    )


def _matters(change: Change | None, end_s: float) -> Iterator[str]:
    """What a foreseen change is about: a rule, a tank that is dry."""
    if change is not None and change.time_s < end_s:
        if change.reason.kind == "rule":
            yield "rule"
        if change.after == "dry":
            yield "dry"


def _horizon(stock: Stock, case: Case, time_s: float) -> float:
    """The end of the phase, or some hours on: what lies behind that nobody can be asked to foresee."""
    later = [phase.start_s for phase in case.flight.phases if phase.start_s > time_s]
    return min([*later, time_s + LONGEST_S, stock.running_s[1]])


def _foreseeable(case: Case, change: Change, time_s: float) -> bool:
    """Whether the state at a time leads to a change: a level or a rule makes it, and no later action."""
    if change.time_s < time_s + 60.0 or change.reason.kind in ("action", "trouble"):
        return False
    following = next_change(case.flight, change.time_s, change.part)
    if following is not None and following.time_s < change.time_s + APART_S:
        return False
    later = [
        step.change
        for step in because(case.flight, change.time_s, change.part)
        if step.change.time_s > time_s
    ]
    if any(one.reason.kind in ("action", "trouble") for one in later):
        return False
    return any(
        one.reason.kind == "rule" or one.reason.name in ("level", "pick-up-uncovered") for one in later
    )


def _candidates(
    case: Case, moment: Moment, pump: Pump, change: Change | None, end_s: float
) -> list[Candidate]:
    now, time_s = moment.state(pump.name), moment.time_s
    comes = change is not None and change.time_s < end_s
    if comes and change is not None:
        seen_s = change.time_s
        seen = f"It is {change.after} {span(seen_s - time_s)} later, at {clock(seen_s)}."
        seen = f"{seen} {capital(change.reason.sentence)}"
    else:
        seen_s = time_s
        seen = f"It stays {now} until {clock(end_s)}."
    # A link's time is rounded up to its tenth of a second, so that the change has happened there.
    shown_s = up_to_tenth(seen_s)
    found = []
    for after, (words, misconception) in EXPECTED.items():
        if after == now:
            continue
        claim = f"{pump.name} next becomes {quoted(after)} after {at(time_s)}"
        found.append(Candidate(words, claim, misconception, seen, case, shown_s))
    stays = f"{pump.name} is {quoted(now)} from {at(time_s)} to {at(end_s)}"
    by_rule = change is not None and comes and change.reason.kind == "rule"
    slip = "crew-does-it" if by_rule else "nothing-changes"
    found.append(Candidate("It stays as it is.", stays, slip, seen, case, shown_s))
    return found


def _given(case: Case, moment: Moment) -> Table:
    """Every tank's gauge and trend, and what the pumps of the engines do."""
    rows = []
    for tank in case.aircraft.tanks:
        rate = moment.quantity(f"{tank.name}.rate_kg_h")
        trend = (
            "steady"
            if abs(rate) < 5.0
            else f"{'rises' if rate > 0.0 else 'falls'}, {figure(abs(rate), 'kg/h', 10.0)}"
        )
        pumps = [pump for pump in case.aircraft.pumps if pump.tank == tank.name]
        told = "; ".join(f"{pump.label}: {moment.state(pump.name)}" for pump in pumps)
        rows.append((tank.label, figure(moment.quantity(f"{tank.name}.gauged_kg"), "kg", 10.0), trend, told))
    return Table(("Tank", "Gauge", "Trend", "Pumps"), tuple(rows))

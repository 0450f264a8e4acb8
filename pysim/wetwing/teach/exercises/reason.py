"""Choose the reason: a pump delivers nothing; why?"""

from collections.abc import Iterator

from wetwing.aircraft.model import Pump
from wetwing.flight.record import Moment
from wetwing.teach.exercises.choosing import Candidate, options
from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.feed_table import feed_table, with_automatics
from wetwing.teach.exercises.objectives import serves
from wetwing.teach.exercises.records import Option, Question
from wetwing.teach.exercises.stock import Case, Stock
from wetwing.teach.exercises.wording import at, capital, figure, quoted, tank_words, the

KIND = "reason"
NEARLY_EMPTY_KG = 200.0
SILENT = ("stopped by automatics", "running, held back", "dry", "off", "failed", "no power")


def make(stock: Stock, dice: Dice, name: str) -> Question | None:
    """One question, or None where the draw gives no clear one."""
    case, time_s = stock.draw(dice)
    moment = case.moment(time_s)
    nodes = {engine.node for engine in stock.engines}
    silent = [
        pump
        for pump in case.aircraft.pumps
        if pump.node in nodes and pump.tank and moment.state(pump.name) in SILENT
    ]
    if not silent:
        return None
    pump = dice.pick(silent)
    found = options(_candidates(case, moment, pump), dice)
    if found is None:
        return None
    last = case.flight.last_change(pump.name, time_s)
    right = next(option for option in found if option.right)
    said = case.flight.changes[last].reason.sentence if last is not None else ""
    return Question(
        name=name,
        kind=KIND,
        form="choose",
        objectives=serves(KIND, case.phase(time_s), [*case.matters, *_matters(right)]),
        ask=f"{_told(case, pump)}At {case.said(time_s)}, {the(pump)} delivers nothing. Why?",
        given=with_automatics(case, moment, feed_table(case, moment, pump.node)),
        because=f"{right.because} {capital(said)}".strip(),
        evidence=case.evidence(time_s),
        options=found,
    )


def _matters(right: Option) -> Iterator[str]:
    """What the right reason is about."""
    for words, matter in (("is active", "rule"), ("held back", "held back"), ("is failed", "failed")):
        if words in right.claim:
            yield matter


def _told(case: Case, pump: Pump) -> str:
    """What was done to the flight, unless that is the answer."""
    return "" if any(edit.part == pump.name for edit in case.edits) else case.told_edits()


def _candidates(case: Case, moment: Moment, pump: Pump) -> list[Candidate]:
    time_s, name = moment.time_s, pump.name
    state, tank = moment.state(name), case.aircraft.parts[pump.tank or ""]
    gauged = figure(moment.quantity(f"{tank.name}.gauged_kg"), "kg", 10.0)
    so = f"{capital(the(pump))} is {state}."
    found = []

    def add(words: str, condition: str, misconception: str, because: str) -> None:
        claim = f"{condition} at {at(time_s)}"
        found.append(Candidate(words, claim, misconception, because, case, time_s))

    add("It has failed.", f"{name} is failed", "silent-is-broken", so)
    add(
        "Its tank is empty, or nearly.",
        f"{tank.name}.gauged_kg < {NEARLY_EMPTY_KG:.0f} kg",
        "silent-is-empty",
        f"{capital(tank_words(tank))} holds {gauged}.",
    )
    if pump.settings:
        add(
            "It is switched off.", f"{name} is off", "silent-is-off", f"Its switch is {moment.setting(name)}."
        )
    if pump.bus:
        bus = case.aircraft.parts[pump.bus]
        add(
            "It has no power.",
            f"{name} is {quoted('no power')}",
            "silent-is-unpowered",
            f"{bus.label} is {moment.state(bus.name)}.",
        )
    add(
        "It runs, and a higher pressure in the line keeps its check valve shut.",
        f"{name} is {quoted('running, held back')}",
        "held-means-stopped" if state == "stopped by automatics" else "silent-is-broken",
        _pressures(moment, pump),
    )
    rules = {rule.name: rule for rule in case.aircraft.rules}
    asked = (
        {leaf.part for leaf in pump.runs_when.leaves() if hasattr(leaf, "part")} if pump.runs_when else set()
    )
    for rule in (rules[part] for part in sorted(asked) if part in rules):
        active = moment.state(rule.name)
        add(
            f"A rule of the automatics stops it: {rule.label.lower()}.",
            f"{name} is {quoted('stopped by automatics')} and {rule.name} is active",
            "wrong-rule" if state == "stopped by automatics" else "automatics-interfere",
            f"{rule.label} is {active}. {rule.sentence}"
            if active == "active"
            else f"{rule.label} is {active}.",
        )
    return found


def _pressures(moment: Moment, pump: Pump) -> str:
    own = figure(moment.quantity(f"{pump.name}.pressure_bar"), "bar", 0.01)
    line = figure(moment.quantity(f"{pump.node}.pressure_bar"), "bar", 0.01)
    return f"Its own pressure is {own}, that of the line {line}. It is {moment.state(pump.name)}."

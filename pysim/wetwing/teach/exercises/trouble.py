"""Find the trouble: what the gauges, meters and alerts show is given; which trouble explains it?

The look-alikes are flown too: where one of them would show the same, the question is refused.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from wetwing.aircraft.model import Pump
from wetwing.flight.edits import parse_edit
from wetwing.flight.troubles import Trouble, told
from wetwing.teach.exercises.choosing import MOST, Candidate, options
from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.families import DRAWN, FAMILIES
from wetwing.teach.exercises.objectives import serves
from wetwing.teach.exercises.records import Question, Table
from wetwing.teach.exercises.stock import Case, Group, Stock
from wetwing.teach.exercises.wording import at, capital, figure

KIND = "trouble"
SAME = {"kg/h": 150.0, "bar": 0.12}
"""Two readings nearer than this look the same to a reader; of masses the stock says it."""

ROUNDED = {"kg": 10.0, "kg/h": 10.0, "bar": 0.01}
LATER_MIN = (14, 26, 2)
BELIEVED = {
    "check valve stuck open": "fuel-cannot-go-back",
    "stuck shut": "return-flow-is-nothing",
    "extra drag": "leak-is-more-burn",
}
"""Who would believe in a trouble that has no other, by its kind."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One figure that the crew can see, and how near two of them look the same."""

    quantity: str
    label: str
    unit: str
    same: float


def make(stock: Stock, dice: Dice, name: str) -> Question | None:
    """One question, or None where the draw gives no clear one."""
    family = dice.pick(DRAWN)
    group = FAMILIES[family](stock)
    if group is None:
        return None
    pump = family == "pump"
    later_s = group.at_s + 60.0 * (1 if pump else dice.between(*LATER_MIN))
    readings = _pump_readings(stock, group) if pump else _fuel_readings(stock)
    # A trouble that does not show yet can't be asked for, and can't be told from a sound flight.
    shows = [case for case in group.cases if not _alike(readings, case, stock.plain, later_s)]
    cases = [*shows, stock.plain]
    if len(cases) < MOST or later_s > stock.running_s[1] or any(case.flight.ended for case in cases):
        return None
    if any(_alike(readings, *pair, later_s) for pair in combinations(cases, 2)):
        return None
    truth = dice.pick(shows)
    found = options([_candidate(stock, case, truth, readings, later_s) for case in cases], dice)
    if found is None or len(found) < MOST:
        return None
    right = next(option for option in found if option.right)
    ids = serves(KIND, truth.phase(later_s), _matters(stock, truth, family))
    return Question(
        name=name,
        kind=KIND,
        form="choose",
        objectives=ids,
        ask=f"All was well until {truth.said(group.at_s)}. What explains the readings at "
        f"{truth.said(later_s)}?",
        given=_table(stock.plain, truth, readings, group.at_s, later_s),
        because=right.because,
        evidence=right.evidence,
        options=found,
    )


def _matters(stock: Stock, truth: Case, family: str) -> Iterator[str]:
    """What a trouble is about: its family, and its own kind."""
    yield family
    edit = truth.edits[0]
    parsed, part = (
        parse_edit(edit, stock.flights.aircraft, "exercise"),
        stock.flights.aircraft.parts[edit.part],
    )
    assert isinstance(parsed, Trouble)
    sides = {tank.name: tank.side for tank in stock.flights.aircraft.tanks}
    centre = isinstance(part, Pump) and sides.get(part.tank or "") == "centre"
    yield f"{parsed.kind}, centre" if centre else parsed.kind


def _fuel_readings(stock: Stock) -> list[Reading]:
    found = [
        Reading(f"{tank.name}.gauged_kg", f"{tank.label} gauge", "kg", stock.same_kg)
        for tank in stock.flights.aircraft.tanks
    ]
    for engine in stock.engines:
        found.append(Reading(f"{engine.name}.used_kg", f"{engine.label} fuel used", "kg", stock.same_kg))
        found.append(
            Reading(f"{engine.name}.metered_kg_h", f"{engine.label} fuel flow", "kg/h", SAME["kg/h"])
        )
    return found


def _pump_readings(stock: Stock, group: Group) -> list[Reading]:
    broken = stock.flights.aircraft.parts[group.cases[0].edits[0].part]
    assert isinstance(broken, Pump)
    others = [pump for pump in stock.flights.aircraft.pumps if pump.node == broken.node]
    line = stock.flights.aircraft.parts[broken.node]
    found = [
        Reading(f"{pump.name}.pressure_bar", f"{pump.label}, own pressure", "bar", SAME["bar"])
        for pump in others
    ]
    found.append(Reading(f"{line.name}.pressure_bar", f"{line.label}, pressure", "bar", SAME["bar"]))
    found += [
        Reading(f"{pump.name}.flow_kg_h", f"{pump.label}, flow", "kg/h", SAME["kg/h"]) for pump in others
    ]
    return found


def _alike(readings: list[Reading], one: Case, other: Case, time_s: float) -> bool:
    first, second = one.moment(time_s), other.moment(time_s)
    gaps = [
        abs(first.quantity(each.quantity) - second.quantity(each.quantity)) / each.same for each in readings
    ]
    return max(gaps) < 1.0


def _alerts(case: Case, time_s: float) -> list[str]:
    moment = case.moment(time_s)
    return [alert.label for alert in case.aircraft.alerts if moment.state(alert.name) == "on"]


def _table(plain: Case, truth: Case, readings: list[Reading], at_s: float, later_s: float) -> Table:
    def row(each: Reading, case: Case, time_s: float) -> str:
        return figure(case.moment(time_s).quantity(each.quantity), each.unit, ROUNDED[each.unit])

    rows: list[tuple[str, ...]] = [
        (each.label, row(each, plain, at_s - 1.0), row(each, truth, later_s), row(each, plain, later_s))
        for each in readings
    ]
    told = [
        "; ".join(_alerts(case, time_s)) or "none"
        for case, time_s in ((plain, at_s - 1.0), (truth, later_s), (plain, later_s))
    ]
    rows.append(("Alerts", *told))
    return Table(("Reading", "Before", "Now", "In a sound flight, now"), tuple(rows))


def _candidate(stock: Stock, case: Case, truth: Case, readings: list[Reading], time_s: float) -> Candidate:
    """That this case shows what is given: within what a reader can tell apart."""
    shown, own = truth.moment(time_s), case.moment(time_s)
    told = []
    for each in readings:
        value, slack = shown.quantity(each.quantity), 0.5 * each.same
        told.append(f"{each.quantity} >= {value - slack:.3f} {each.unit}")
        told.append(f"{each.quantity} <= {value + slack:.3f} {each.unit}")
    claim = f"{' and '.join(told)} at {at(time_s)}"
    words, misconception = _words(stock, case)
    widest = max(
        readings,
        key=lambda each: abs(shown.quantity(each.quantity) - own.quantity(each.quantity)) / each.same,
    )
    if case is truth:
        return Candidate(words, claim, misconception, _explained(stock, case, readings, time_s), case, time_s)
    would = figure(own.quantity(widest.quantity), widest.unit, ROUNDED[widest.unit])
    reads = figure(shown.quantity(widest.quantity), widest.unit, ROUNDED[widest.unit])
    seen = f"{widest.label} would show {would}; it shows {reads}."
    return Candidate(words, claim, misconception, seen, case, time_s)


def _explained(stock: Stock, case: Case, readings: list[Reading], time_s: float) -> str:
    """What the trouble moves, against a sound flight."""
    own, sound = case.moment(time_s), stock.plain.moment(time_s)
    moved = []
    for each in readings:
        gap = own.quantity(each.quantity) - sound.quantity(each.quantity)
        if abs(gap) >= 0.5 * each.same:
            way = "more" if gap > 0.0 else "less"
            moved.append(f"{each.label}: {figure(abs(gap), each.unit, ROUNDED[each.unit])} {way}")
    return f"Against a sound flight, {'; '.join(moved)}." if moved else "Nothing differs from a sound flight."


def _words(stock: Stock, case: Case) -> tuple[str, str]:
    """What a case is called, and who would believe it."""
    if not case.edits:
        return "Nothing is wrong: the readings are those of a sound flight.", "all-is-well"
    edit = case.edits[0]
    parsed = parse_edit(edit, stock.flights.aircraft, "exercise")
    assert isinstance(parsed, Trouble)
    part = stock.flights.aircraft.parts[edit.part]
    words = capital(told(parsed, part))
    if parsed.kind == "leak":
        return words, "gauge-is-a-leak"
    if parsed.kind.startswith("leak"):
        return words, "leak-place-does-not-matter"
    if parsed.kind == "drifting":
        return words, "leak-is-a-gauge"
    if parsed.kind == "biased":
        return words, "meter-is-believed" if parsed.severity < 0.0 else "more-flow-is-more-burn"
    if parsed.kind in BELIEVED:
        return words, BELIEVED[parsed.kind]
    return words, "pump-fault-is-total" if parsed.kind == "failed" else "silent-is-broken"

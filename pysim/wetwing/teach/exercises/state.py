"""Read the state: pressures and switches are given; which tank feeds the engine?"""

from wetwing.aircraft.model import Pump
from wetwing.flight.record import Moment
from wetwing.teach.exercises.choosing import Candidate, options
from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.feed_table import feed_table, pumps_of
from wetwing.teach.exercises.objectives import serves
from wetwing.teach.exercises.records import Question
from wetwing.teach.exercises.stock import Case, Stock
from wetwing.teach.exercises.wording import at, capital, figure, tank_words, the

KIND = "state"


def make(stock: Stock, dice: Dice, name: str) -> Question | None:
    """One question, or None where the draw gives no clear one."""
    case, time_s = stock.draw(dice)
    engine = dice.pick(stock.engines)
    moment = case.moment(time_s)
    if moment.state(engine.name) != "running" or moment.state(engine.node) != "fed":
        return None
    found = options(_candidates(case, moment, engine.node), dice)
    if found is None:
        return None
    right = next(option for option in found if option.right)
    return Question(
        name=name,
        kind=KIND,
        form="choose",
        objectives=serves(KIND, case.phase(time_s), case.matters),
        ask=f"{case.told_edits()}{capital(the(engine))} runs at {case.said(time_s)}. Where does its fuel "
        "come from?",
        given=feed_table(case, moment, engine.node),
        because=right.because,
        evidence=case.evidence(time_s),
        options=found,
    )


def _candidates(case: Case, moment: Moment, node: str) -> list[Candidate]:
    parts, time_s = case.aircraft.parts, moment.time_s
    pumps = pumps_of(case, node)
    tanks = list(dict.fromkeys(pump.tank or "" for pump in pumps))
    fullest = max(tanks, key=lambda tank: moment.quantity(f"{tank}.gauged_kg"))
    found = []

    def add(words: str, condition: str, misconception: str, because: str) -> None:
        claim = f"{condition} at {at(time_s)}"
        found.append(Candidate(words, claim, misconception, because, case, time_s))

    crossings = [valve for valve in case.aircraft.valves if valve.ends and _joins(case, valve.ends, node)]
    # With the sides joined more than one tank may feed: such a moment is left to another question.
    apart = [f"{valve.name} is shut" for valve in crossings]
    for tank in tanks:
        own = [pump for pump in pumps if pump.tank == tank]
        others = [pump for pump in pumps if pump.tank != tank]
        feeds = f"({' or '.join(f'{pump.name} is delivering' for pump in own)})"
        alone = " and ".join([feeds, *(f"{pump.name} is not delivering" for pump in others), *apart])
        slip = "fullest-feeds" if tank == fullest else "on-means-delivering"
        add(f"From {tank_words(parts[tank])}.", alone, slip, _seen(moment, own))
    if len(tanks) > 1:
        each = " and ".join(
            f"({' or '.join(f'{pump.name} is delivering' for pump in pumps if pump.tank == tank)})"
            for tank in tanks
        )
        words = "From all tanks whose pumps push into its line, together."
        add(words, each, "pumps-share", _seen(moment, pumps))
    for valve in crossings:
        add(
            f"From the other side, through {the(valve)}.",
            f"{valve.name} is open and {valve.name}.flow_kg_h > 1 kg/h",
            "sides-joined",
            f"{valve.label} is {moment.state(valve.name)}.",
        )
    bypasses = [bypass for bypass in case.aircraft.bypasses if bypass.node == node]
    for bypass in bypasses:
        add(
            f"By suction, through {the(bypass)}.",
            f"{bypass.name} is feeding",
            "suction-as-usual",
            f"{bypass.label} is {moment.state(bypass.name)}: the line is under pressure.",
        )
    return found


def _joins(case: Case, ends: tuple[str, str], node: str) -> bool:
    """Whether a valve joins a line with the line of another engine."""
    lines = {engine.node for engine in case.aircraft.engines if engine.propels}
    return node in ends and set(ends) <= lines


def _seen(moment: Moment, pumps: list[Pump]) -> str:
    """What some pumps do, with their own pressures."""
    told = [
        f"{the(pump) if i else capital(the(pump))} is {moment.state(pump.name)} at "
        f"{figure(moment.quantity(f'{pump.name}.pressure_bar'), 'bar', 0.01)}"
        for i, pump in enumerate(pumps)
    ]
    return f"{'; '.join(told)}."

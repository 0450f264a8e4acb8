"""Compute the ledger: what is missing, from the departure fuel, the gauges and the fuel used."""

from wetwing.physics.ledger import discrepancy_kg
from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.families import leak_group
from wetwing.teach.exercises.numbers import number, rounded
from wetwing.teach.exercises.objectives import serves
from wetwing.teach.exercises.records import Question, Table
from wetwing.teach.exercises.stock import Stock
from wetwing.teach.exercises.trouble import LATER_MIN
from wetwing.teach.exercises.wording import at, figure
from wetwing.teach.words import clock

KIND = "ledger"
STEP_KG = 10.0
TOLERANCE = 0.7
"""In masses that look the same to a reader, as is what is worth asking for."""

WORTH_ASKING = 2.0


def make(stock: Stock, dice: Dice, name: str) -> Question | None:
    """One question, or None where the draw gives no clear one."""
    group = leak_group(stock)
    case = dice.pick(group.cases)
    time_s = group.at_s + 60.0 * dice.between(*LATER_MIN)
    if time_s > stock.running_s[1] or case.flight.ended:
        return None
    moment = case.moment(time_s)
    used = [rounded(moment.quantity(f"{engine.name}.used_kg"), STEP_KG) for engine in stock.engines]
    gauges = [rounded(moment.quantity(f"{tank.name}.gauged_kg"), STEP_KG) for tank in case.aircraft.tanks]
    true_used = sum(moment.quantity(f"{engine.name}.used_kg") for engine in stock.engines)
    departure = rounded(moment.quantity("total.computed_kg") + true_used, STEP_KG)
    missing = discrepancy_kg(departure, sum(gauges), sum(used))
    tolerance = rounded(TOLERANCE * stock.same_kg, 5.0)
    if missing < WORTH_ASKING * stock.same_kg:
        return None
    slips = [
        (departure - sum(gauges), "gauges-tell-the-loss"),
        (departure - sum(gauges) - used[0], "one-engine-counts"),
        (departure - sum(used), "used-is-left"),
    ]
    claim = (
        f"total.discrepancy_kg >= {missing - tolerance:.0f} kg and "
        f"total.discrepancy_kg <= {missing + tolerance:.0f} kg at {at(time_s)}"
    )
    found = number(missing, "kg", STEP_KG, tolerance, slips, claim)
    if found is None or not case.judge(claim).holds:
        return None
    rows = [
        ("Fuel at departure", figure(departure, "kg")),
        *(
            (f"{tank.label} gauge", figure(gauged, "kg"))
            for tank, gauged in zip(case.aircraft.tanks, gauges, strict=True)
        ),
        *(
            (f"{engine.label} fuel used", figure(amount, "kg"))
            for engine, amount in zip(stock.engines, used, strict=True)
        ),
    ]
    return Question(
        name=name,
        kind=KIND,
        form="number",
        objectives=serves(KIND, case.phase(time_s)),
        ask=f"At {case.said(time_s)} the crew compares. How much fuel is missing: not on "
        "board, and not used?",
        given=Table(("Reading", f"At {clock(time_s)}"), tuple(rows)),
        because=f"Departure {figure(departure, 'kg')}, less {figure(sum(gauges), 'kg')} on the gauges, less "
        f"{figure(sum(used), 'kg')} used: {figure(missing, 'kg')}.",
        evidence=case.evidence(time_s),
        number=found,
    )

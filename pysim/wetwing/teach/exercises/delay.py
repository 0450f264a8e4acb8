"""Compute the delay: how long the flight can hold before it lands with its final reserve."""

from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.flow_rows import flow_rows, metered_kg_h
from wetwing.teach.exercises.numbers import number, rounded
from wetwing.teach.exercises.objectives import serves
from wetwing.teach.exercises.records import Question, Table
from wetwing.teach.exercises.stock import Stock
from wetwing.teach.exercises.wording import at, figure
from wetwing.teach.words import clock
from wetwing.teach.worksheets import way

KIND = "delay"
STEP_KG = 10.0
TOLERANCE_MIN = 2.0
LONGER_PERCENT = (20, 180, 10)
"""What a longer way takes, as a share of the reserve."""

SAME = 2.0
"""In masses that look the same to a reader: how near the landing has to be to what the figures say."""


def make(stock: Stock, dice: Dice, name: str) -> Question | None:
    """One question, or None where the draw gives no clear one."""
    case, flight = stock.plain, stock.plain.flight
    time_s = stock.minute(dice, 0.1, 0.95)
    down_s = way.touchdown_s(flight.script)
    reserve = rounded(flight.script.plan_kg.get("final_reserve_kg", 0.0), STEP_KG)
    if case.phase(time_s) != "cruise" or down_s is None or down_s > flight.duration_s or reserve <= 0.0:
        return None
    moment = case.moment(time_s)
    gauged = rounded(moment.quantity("total.gauged_kg"), STEP_KG)
    to_burn = rounded(way.burned_kg(flight, time_s, down_s), STEP_KG)
    holding = rounded(way.holding_kg_h(flight, flight.quantity("flight.gross_kg", down_s)), STEP_KG)
    flows = metered_kg_h(stock.engines, moment)
    now = sum(flows)
    longer = rounded(reserve * dice.between(*LONGER_PERCENT) / 100.0, STEP_KG)
    # The flight itself goes the planned way: what is judged is where that would land.
    planned = gauged - to_burn
    lands = planned - longer
    if lands <= reserve or now <= 0.0:
        return None
    minutes = 60.0 * (lands - reserve) / holding
    slips = [
        (60.0 * lands / holding, "reserve-is-spent"),
        (60.0 * (planned - reserve) / holding, "plan-stays-true"),
        (60.0 * (gauged - reserve) / holding, "trip-is-free"),
        (60.0 * (lands - reserve) / now, "holding-is-cruise"),
    ]
    slack = SAME * stock.same_kg
    claim = (
        f"total.gauged_kg >= {planned - slack:.0f} kg and total.gauged_kg <= {planned + slack:.0f} kg "
        f"at {at(down_s)}"
    )
    found = number(minutes, "min", 1.0, TOLERANCE_MIN, slips, claim)
    if found is None or not case.judge(claim).holds:
        return None
    rows = [
        ("Gauges in total", figure(gauged, "kg")),
        ("Still to burn, by the plan", figure(to_burn, "kg")),
        ("More than that, by the way that has been cleared", figure(longer, "kg")),
        *flow_rows(stock.engines, flows),
        ("Flow in the hold, all engines", figure(holding, "kg/h")),
        ("Final reserve", figure(reserve, "kg")),
    ]
    return Question(
        name=name,
        kind=KIND,
        form="number",
        objectives=serves(KIND, case.phase(time_s)),
        ask=f"At {case.said(time_s)} the crew is committed to the destination. How many minutes in the hold, "
        "and the landing is predicted with the final reserve alone?",
        given=Table(("Figure", f"At {clock(time_s)}"), tuple(rows)),
        because=f"{figure(gauged, 'kg')}, less {figure(to_burn, 'kg')} and {figure(longer, 'kg')}, lands "
        f"{figure(lands, 'kg')}: {figure(lands - reserve, 'kg')} above the reserve, "
        f"by {figure(holding, 'kg/h')} in the hold, are "
        f"{figure(minutes, 'min')}. Minimum fuel is due before that, mayday fuel from there on.",
        evidence=case.evidence(down_s),
        number=found,
    )

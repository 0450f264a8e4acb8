"""Compute the endurance: how long until the reserve is reached, at the present flow."""

from wetwing.flight.ahead import ahead
from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.flow_rows import STEP_KG_H, flow_rows, metered_kg_h
from wetwing.teach.exercises.numbers import number, rounded
from wetwing.teach.exercises.objectives import serves
from wetwing.teach.exercises.records import Question, Table
from wetwing.teach.exercises.stock import Stock
from wetwing.teach.exercises.wording import at, figure
from wetwing.teach.words import clock, span

KIND = "endurance"
STEP_KG = 10.0
TOLERANCE_MIN = 4.0


def make(stock: Stock, dice: Dice, name: str) -> Question | None:
    """One question, or None where the draw gives no clear one."""
    case = stock.plain
    time_s = stock.minute(dice, 0.3, 0.95)
    if case.phase(time_s) != "cruise":
        return None
    moment = case.moment(time_s)
    gauged = rounded(moment.quantity("total.gauged_kg"), STEP_KG)
    flows = metered_kg_h(stock.engines, moment)
    reserve = rounded(stock.flights.script.plan_kg.get("final_reserve_kg", 0.0), STEP_KG)
    if reserve <= 0.0 or gauged <= 1.5 * reserve or min(flows) <= 0.0:
        return None
    minutes = 60.0 * (gauged - reserve) / sum(flows)
    slips = [
        (60.0 * gauged / sum(flows), "reserve-is-spent"),
        (60.0 * (gauged - reserve) / flows[0], "one-engine-counts"),
    ]
    within = " and ".join(
        f"{engine.name}.metered_kg_h >= {flow - STEP_KG_H:.0f} kg/h and "
        f"{engine.name}.metered_kg_h <= {flow + STEP_KG_H:.0f} kg/h"
        for engine, flow in zip(stock.engines, flows, strict=True)
    )
    found = number(minutes, "min", 1.0, TOLERANCE_MIN, slips, f"{within} at {at(time_s)}")
    # Last of all: flying on takes as long as a flight.
    looked = ahead(case.flight, time_s).endurance if found else None
    if found is None or looked is None:
        return None
    rows = [
        ("Gauges in total", figure(gauged, "kg")),
        *flow_rows(stock.engines, flows),
        ("Final reserve", figure(reserve, "kg")),
    ]
    return Question(
        name=name,
        kind=KIND,
        form="number",
        objectives=serves(KIND, case.phase(time_s)),
        ask=f"At {case.said(time_s)}: in how many minutes is only the final reserve left, at the "
        "present flow?",
        given=Table(("Reading", f"At {clock(time_s)}"), tuple(rows)),
        because=f"{figure(gauged - reserve, 'kg')} above the reserve, by {figure(sum(flows), 'kg/h')}: "
        f"{figure(minutes, 'min')}. Flown on with nobody touching anything, at this height and speed, the "
        f"engines run {span(looked.lasts_s)} until the first of them gets no fuel any more.",
        evidence=case.evidence(time_s),
        number=found,
    )

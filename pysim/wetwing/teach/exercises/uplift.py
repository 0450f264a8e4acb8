"""Compute the uplift: what the gauges should read, from the arrival fuel, litres and density."""

from wetwing.physics.ledger import uplift_check
from wetwing.physics.units import LEAST_KG_L, MOST_KG_L, POUND_KG
from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.numbers import number, rounded
from wetwing.teach.exercises.objectives import serves
from wetwing.teach.exercises.records import Question, Table
from wetwing.teach.exercises.stock import Stock
from wetwing.teach.exercises.wording import at, figure
from wetwing.teach.words import clock

KIND = "uplift"
STEP_KG = 10.0
STEP_L = 10.0
STEP_S = 10.0
LEAST_UPLIFT_L = 500.0
TOLERANCE_SHARE = 0.005
LEAST_TOLERANCE_KG = 40.0


def make(stock: Stock, dice: Dice, name: str) -> Question | None:
    """One question, or None where the draw gives no clear one."""
    case, flight = stock.plain, stock.plain.flight
    litres = flight.quantities["total.uplifted_l"]
    fuelled = [i for i, value in enumerate(litres) if LEAST_UPLIFT_L < value < litres[-1]]
    if not fuelled:
        return None
    start_s, end_s = flight.time_s[fuelled[0]], flight.time_s[fuelled[-1]]
    first = int(start_s // STEP_S) + 1
    time_s = STEP_S * dice.between(first, max(first, int(end_s // STEP_S)))
    before_s = max((t for t, value in zip(flight.time_s, litres, strict=True) if value <= 0.0), default=0.0)
    before, now = flight.moment(before_s), flight.moment(time_s)
    uplift_l = rounded(now.quantity("total.uplifted_l"), STEP_L)
    if uplift_l < LEAST_UPLIFT_L:
        return None
    density = rounded(now.quantity("total.uplifted_kg") / now.quantity("total.uplifted_l"), 0.001)
    if not LEAST_KG_L <= density <= MOST_KG_L:
        return None
    arrival = rounded(before.quantity("total.gauged_kg"), STEP_KG)
    burned = rounded(now.quantity("total.burned_kg") - before.quantity("total.burned_kg"), STEP_KG)
    check = uplift_check(
        arrival, burned, uplift_l, density, rounded(now.quantity("total.gauged_kg"), STEP_KG)
    )
    expected = check.expected_kg
    tolerance = max(LEAST_TOLERANCE_KG, TOLERANCE_SHARE * expected)
    slips = [
        (arrival + uplift_l - burned, "litres-are-kilograms"),
        (arrival + uplift_l / density - burned, "divided-by-density"),
        (arrival + uplift_l * density / POUND_KG - burned, "pounds-per-litre"),
        (uplift_l * density - burned, "arrival-forgotten"),
        (arrival + uplift_l * density, "ground-burn-forgotten"),
    ]
    claim = (
        f"total.gauged_kg >= {expected - tolerance:.0f} kg and "
        f"total.gauged_kg <= {expected + tolerance:.0f} kg at {at(time_s)}"
    )
    found = number(expected, "kg", STEP_KG, tolerance, slips, claim)
    if found is None or not case.judge(claim).holds:
        return None
    rows = [
        ("Gauges on arrival", figure(arrival, "kg")),
        ("The truck's meter", figure(uplift_l, "L")),
        ("Density of the fuel as it is", f"{density:.3f} kg/L"),
        ("Burned by the APU since arrival", figure(burned, "kg")),
    ]
    return Question(
        name=name,
        kind=KIND,
        form="number",
        objectives=serves(KIND, case.phase(time_s)),
        ask=f"Refuelling goes on at {clock(time_s)}. What should the gauges read in total now?",
        given=Table(("Figure", "Value"), tuple(rows)),
        because=f"{figure(arrival, 'kg')} and {figure(uplift_l, 'L')} at {density:.3f} kg/L, less "
        f"{figure(burned, 'kg')}: {figure(expected, 'kg')}. The gauges read "
        f"{figure(now.quantity('total.gauged_kg'), 'kg')}.",
        evidence=case.evidence(time_s),
        number=found,
    )

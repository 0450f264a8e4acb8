"""Compute the balance: where the centre of gravity lies, from masses and arms."""

from wetwing.physics.balance import arm_of_percent_m, centre_of_gravity_m, percent_mac
from wetwing.physics.outline import centroid_m
from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.numbers import number, rounded
from wetwing.teach.exercises.objectives import serves
from wetwing.teach.exercises.records import Question, Table
from wetwing.teach.exercises.stock import Stock
from wetwing.teach.exercises.wording import at, figure

KIND = "balance"
STEP_KG = 10.0
STEP_M = 0.01
TOLERANCE_PERCENT = 0.4


def make(stock: Stock, dice: Dice, name: str) -> Question | None:
    """One question, or None where the draw gives no clear one."""
    case, time_s = stock.draw(dice)
    moment, aircraft, script = case.moment(time_s), case.aircraft, stock.flights.script
    mac_m, lemac_m = aircraft.balance.mac_m, aircraft.balance.lemac_m
    zero_m = rounded(arm_of_percent_m(script.zero_fuel_cg_percent, mac_m, lemac_m), STEP_M)
    tanks = [
        (
            tank,
            rounded(moment.quantity(f"{tank.name}.actual_kg"), STEP_KG),
            rounded(centroid_m(tank.outline_m)[0], STEP_M),
        )
        for tank in aircraft.tanks
    ]
    masses = [(script.zero_fuel_kg, zero_m), *((mass, arm) for _, mass, arm in tanks)]
    fuel = masses[1:]
    if sum(mass for mass, _ in fuel) <= 0.0:
        return None
    arm_m = centre_of_gravity_m(masses)
    percent = percent_mac(arm_m, mac_m, lemac_m)
    slips = [
        (percent_mac(centre_of_gravity_m(fuel), mac_m, lemac_m), "empty-aircraft-forgotten"),
        (percent_mac(sum(arm for _, arm in masses) / len(masses), mac_m, lemac_m), "arms-averaged"),
        (100.0 * arm_m / mac_m, "chord-forgotten"),
        (percent_mac(zero_m, mac_m, lemac_m), "fuel-does-not-move-it"),
    ]
    claim = (
        f"flight.cg_percent >= {percent - TOLERANCE_PERCENT:.2f} % and "
        f"flight.cg_percent <= {percent + TOLERANCE_PERCENT:.2f} % at {at(time_s)}"
    )
    found = number(percent, "%", 0.1, TOLERANCE_PERCENT, slips, claim)
    if found is None or not case.judge(claim).holds:
        return None
    rows = [
        ("Aircraft without fuel", figure(script.zero_fuel_kg, "kg"), f"{zero_m:.2f} m"),
        *((tank.label, figure(mass, "kg"), f"{arm:.2f} m") for tank, mass, arm in tanks),
        ("Leading edge of the mean chord", "", f"{lemac_m:.2f} m"),
        ("Length of the mean chord", "", f"{mac_m:.2f} m"),
    ]
    return Question(
        name=name,
        kind=KIND,
        form="number",
        objectives=serves(KIND, case.phase(time_s), case.matters),
        ask=f"{case.told_edits()}Where is the centre of gravity at {case.said(time_s)}, in per cent of the "
        "mean chord?",
        given=Table(("Part", "Mass", "Arm aft of the nose"), tuple(rows)),
        because=f"The moments sum to an arm of {arm_m:.2f} m. From the leading edge that is "
        f"{arm_m - lemac_m:.2f} m of {mac_m:.2f} m: {percent:.1f} %.",
        evidence=case.evidence(time_s),
        number=found,
    )

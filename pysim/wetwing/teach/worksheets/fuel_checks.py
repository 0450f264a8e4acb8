"""In-flight fuel checks: on board and used along the way, what is missing, its trend, the landing.

The tolerance is an example; the reader's operator sets it.
"""

from dataclasses import dataclass
from itertools import pairwise

from wetwing.flight.record import Flight
from wetwing.physics.ledger import FEWEST_READINGS, discrepancy_kg, finding, leak_flow_kg_h
from wetwing.teach.worksheets import way
from wetwing.teach.worksheets.entry import clock_words
from wetwing.teach.worksheets.sheet import Field, Finding, Kind, Result, Values, Work, given, mark

ROWS = 8
FILLED = 6
EVERY_S = 1800.0
COLUMNS = ("time", "gauged", "used", "plan", "left")
EVEN = 0.1
"""Intervals that differ by no more than this share count as equal."""


@dataclass(frozen=True, slots=True)
class Check:
    """One row, filled: time in s, masses in kg, minutes to the landing, what is missing in kg. `plan_kg` is
    what the plan still has to burn from there.
    """

    row: int
    time_s: float
    gauged_kg: float
    used_kg: float
    plan_kg: float
    left_min: float
    missing_kg: float


def fields(flight: Flight, time_s: float) -> tuple[Field, ...]:
    """Checks of the flight every half hour, up to a time."""
    most_kg = flight.aircraft.limits.take_off_kg
    start_s, down_s = way.first_start_s(flight), way.landing_s(flight)
    planned_kg = flight.script.plan_kg.get("final_reserve_kg", 0.0)
    found = [
        Field(
            "departure",
            "Gauges at the first engine start",
            "mass",
            flight.quantity("total.gauged_kg", start_s),
            0.0,
            most_kg,
        ),
        Field(
            "tolerance",
            "Tolerance of the sum",
            "mass",
            200.0,
            0.0,
            most_kg,
            "An example. The operator sets it.",
        ),
        Field("reserve", "Final reserve", "mass", planned_kg, 0.0, most_kg, "As the flight's plan has it."),
    ]
    first_s = way.take_off_s(flight.script) + EVERY_S
    times = [
        time_s - i * EVERY_S for i in range(FILLED) if time_s - i * EVERY_S >= first_s and time_s <= down_s
    ]
    times = [float(int(found_s / 60.0) * 60) for found_s in reversed(times)]
    for row in range(1, ROWS + 1):
        at_s = times[row - 1] if row <= len(times) else None
        found += _row(flight, row, at_s, down_s, most_kg)
    return tuple(found)


def used_kg(flight: Flight, time_s: float) -> float:
    """Fuel used by the engines' meters since the first start."""
    start_s = way.first_start_s(flight)
    return flight.quantity("total.metered_kg", time_s) - flight.quantity("total.metered_kg", start_s)


def _row(flight: Flight, row: int, at_s: float | None, down_s: float, most_kg: float) -> list[Field]:
    gauged_kg = used = plan_kg = left_min = None
    if at_s is not None:
        gauged_kg, used = flight.quantity("total.gauged_kg", at_s), used_kg(flight, at_s)
        plan_kg, left_min = way.burned_kg(flight, at_s, down_s), (down_s - at_s) / 60.0
    empty = "An empty row is left out."
    return [
        Field(f"time_{row}", "Time", "clock", at_s, 0.0, 86_400.0, empty=empty, row=row),
        Field(
            f"gauged_{row}", "On board, by the gauges", "mass", gauged_kg, 0.0, most_kg, empty=empty, row=row
        ),
        Field(f"used_{row}", "Used, by the meters", "mass", used, 0.0, most_kg, empty=empty, row=row),
        Field(
            f"plan_{row}", "Still to burn, by the plan", "mass", plan_kg, 0.0, most_kg, empty=empty, row=row
        ),
        Field(f"left_{row}", "To the landing", "minutes", left_min, 0.0, 1440.0, empty=empty, row=row),
    ]


def work(flight: Flight, time_s: float, values: Values) -> Work:
    """Add up each row, then look along them."""
    departure_kg = given(values, "departure")
    problems = _gaps(values)
    if problems:
        return Work(problems=problems)
    checks = _checks(values, departure_kg)
    problems = {
        f"time_{later.row}": "Each row is later than the one above; that one "
        f"says {clock_words(earlier.time_s)}."
        for earlier, later in pairwise(checks)
        if later.time_s <= earlier.time_s
    }
    if problems:
        return Work(problems=problems)
    if not checks:
        return Work(findings=(Finding("note", "No row is filled."),))
    results = [
        Result(
            f"missing_{check.row}",
            f"Missing at {clock_words(check.time_s)}",
            "kg",
            check.missing_kg,
            "at the start − (on board + used)",
            "14 CFR 25.1305, 25.1337(b)",
        )
        for check in checks
    ]
    tolerance_kg, reserve_kg = given(values, "tolerance"), given(values, "reserve")
    findings = [_said(checks, tolerance_kg)]
    if len(checks) > 1:
        more, landing_kg = _trend(checks)
        results += more
        findings.append(_landing(landing_kg, reserve_kg))
    return Work(tuple(results), tuple(findings))


def _gaps(values: Values) -> dict[str, str]:
    """Fields that a row with anything in it still needs."""
    problems: dict[str, str] = {}
    for row in range(1, ROWS + 1):
        names = [f"{column}_{row}" for column in COLUMNS]
        missing = [name for name in names if values[name] is None]
        if 0 < len(missing) < len(names):
            problems |= dict.fromkeys(missing, f"Row {row} needs this too, or leave the whole row empty.")
    return problems


def _checks(values: Values, departure_kg: float) -> list[Check]:
    found = []
    for row in range(1, ROWS + 1):
        time_s, gauged_kg, used, plan_kg, left_min = (values[f"{column}_{row}"] for column in COLUMNS)
        if time_s is None or gauged_kg is None or used is None or plan_kg is None or left_min is None:
            continue
        missing_kg = discrepancy_kg(departure_kg, gauged_kg, used)
        found.append(Check(row, time_s, gauged_kg, used, plan_kg, left_min, missing_kg))
    return found


def _said(checks: list[Check], tolerance_kg: float) -> Finding:
    """What the row of differences points to; a leak stays one until it is excluded."""
    missing = [check.missing_kg for check in checks]
    last_kg = missing[-1]
    if abs(last_kg) <= tolerance_kg:
        return Finding(
            "fits",
            f"{mark(last_kg, 'kg')} are missing at the last check: within the tolerance of "
            f"{mark(tolerance_kg, 'kg')}.",
        )
    head = (
        f"{mark(abs(last_kg), 'kg')} {'are missing' if last_kg > 0.0 else 'too many are shown'} at the "
        f"last check, beyond {mark(tolerance_kg, 'kg')}."
    )
    if len(checks) < FEWEST_READINGS or not _even(checks):
        return Finding(
            "beyond",
            f"{head} {FEWEST_READINGS} checks at equal intervals would say whether it grows or has "
            "stepped. Until a leak is excluded, it counts as one.",
        )
    if finding(missing, tolerance_kg) == "leak":
        hours = (checks[-1].time_s - checks[0].time_s) / 3600.0
        rate = mark(leak_flow_kg_h(missing[0], last_kg, hours), "kg/h")
        return Finding(
            "beyond",
            f"{head} It grows from check to check, by {rate}: a leak before the meters, or a gauge "
            "that drifts. It counts as a leak until that is excluded: the cross-feed stays shut.",
        )
    if last_kg < 0.0:
        return Finding(
            "beyond", f"{head} No leak makes fuel: a gauge reads high, or a meter counts too much."
        )
    return Finding(
        "beyond", f"{head} It came in one step and has stood since: suspect a gauge, and exclude a leak."
    )


def _even(checks: list[Check]) -> bool:
    spans = [later.time_s - earlier.time_s for earlier, later in pairwise(checks)]
    return max(spans) - min(spans) <= EVEN * max(spans)


def _trend(checks: list[Check]) -> tuple[list[Result], float]:
    """The landing: what the plan still burns, by the burn so far, and what goes missing besides."""
    first, last = checks[0], checks[-1]
    hours = (last.time_s - first.time_s) / 3600.0
    planned_kg, burned_kg = first.plan_kg - last.plan_kg, last.used_kg - first.used_kg
    against = burned_kg / planned_kg if planned_kg > 0.0 else 1.0
    growth_kg_h = (last.missing_kg - first.missing_kg) / hours
    lost_kg = max(growth_kg_h, 0.0) * last.left_min / 60.0
    landing_kg = last.gauged_kg - last.plan_kg * against - lost_kg
    rule = "CAT.OP.MPA.185"
    results = [
        Result(
            "against",
            "Burn against the plan",
            "%",
            100.0 * against,
            "growth of used ÷ fall of still to burn, first row to last",
            step=0.1,
        ),
        Result(
            "growth",
            "Growth of what is missing",
            "kg/h",
            growth_kg_h,
            "last missing − first missing, ÷ hours",
        ),
        Result(
            "to_burn",
            "Still to burn at this rate",
            "kg",
            last.plan_kg * against,
            "still to burn by the plan × burn against the plan",
        ),
        Result(
            "lost",
            "Still to go missing at this rate",
            "kg",
            lost_kg,
            "growth × time to the landing; none where it does not grow",
        ),
        Result(
            "landing",
            "Predicted at landing",
            "kg",
            landing_kg,
            "on board − still to burn − still to go missing",
            rule,
            whole=True,
        ),
    ]
    return results, landing_kg


def _landing(landing_kg: float, reserve_kg: float) -> Finding:
    apart = mark(abs(landing_kg - reserve_kg), "kg")
    if landing_kg >= reserve_kg:
        return Finding("fits", f"At this trend it lands {apart} above the final reserve.")
    return Finding(
        "beyond",
        f"At this trend it lands {apart} below the final reserve: decide now, while other aerodromes "
        "are open.",
    )


FUEL_CHECKS = Kind("fuel-checks", "Fuel checks in flight", fields, work)

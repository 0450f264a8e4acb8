"""The fuel plan: fuel by purpose, what the aircraft weighs with it, and whether that fits.

Trip fuel is the burn of the flight itself; holding flow is that of the same engines at the mass of arrival.
Source of the purposes: CAT.OP.MPA.181, ICAO Annex 6 Part I; of the limits: definition, 14 CFR 25.25.
"""

from wetwing.flight.record import Flight
from wetwing.physics.air import FOOT_M
from wetwing.physics.balance import flight_masses, take_off_limit
from wetwing.physics.burn import carriage_share_h
from wetwing.physics.fuel import density_kg_m3
from wetwing.physics.planning import (
    HOLDING_AT_LEAST_MIN,
    Plan,
    contingency_kg,
    final_reserve_kg,
    loaded_for_kg,
)
from wetwing.teach.worksheets import way
from wetwing.teach.worksheets.fuel_plan_fields import METHODS, fields
from wetwing.teach.worksheets.sheet import Finding, Kind, Result, Values, Work, given, mark

SHARES = (0.05, 0.03)
TWENTY_MIN = 20.0
ROUNDS = 30
"""Reserves have mass, and mass makes holding flow: each round is 60 times nearer than the last."""

LIMIT_NAMES = {
    "structural": "the structure's take-off limit",
    "performance": "the take-off limit of the day",
    "landing": "the landing limit with the trip fuel on top",
    "zero fuel": "the zero-fuel limit with the take-off fuel on top",
}


def work(flight: Flight, time_s: float, values: Values) -> Work:
    """Add up the plan and hold it to the limits."""
    zero_kg, bare_trip_kg = given(values, "zero_fuel"), given(values, "trip")
    hours = given(values, "hours") / 60.0
    wanted_kg = given(values, "extra") + given(values, "discretionary")
    share_h = _share_h(flight, zero_kg + bare_trip_kg / 2.0 + wanted_kg)
    carriage_kg = loaded_for_kg(wanted_kg, hours, share_h) - wanted_kg
    trip_kg = bare_trip_kg + carriage_kg
    plan, holding_kg_h = _plan(flight, values, trip_kg)
    if plan.block_kg > 1e6:
        return Work(problems={"trip": "With this trip the sum is more than any aircraft can carry."})
    masses = flight_masses(zero_kg, plan.take_off_kg, trip_kg)
    limits = flight.aircraft.limits
    day_kg = values["performance"]
    limit = take_off_limit(
        limits.take_off_kg,
        limits.take_off_kg if day_kg is None else day_kg,
        limits.landing_kg,
        limits.zero_fuel_kg,
        trip_kg,
        plan.take_off_kg,
    )
    uplift_kg = plan.block_kg - given(values, "remaining")
    kg_l = density_kg_m3(1000.0 * given(values, "density"), given(values, "temperature")) / 1000.0
    room_l = way.capacity_l(flight.aircraft)
    method = int(given(values, "method"))
    rule, balance = "CAT.OP.MPA.181", "CAT.POL.MAB.100"
    results = (
        *_apu(flight, rule),
        Result(
            "carriage",
            "Burned by carrying extra and discretionary",
            "kg",
            carriage_kg,
            f"what has to be loaded for them, by {share_h * 100:.1f} % an hour of what is left, less "
            "what lands",
            rule,
        ),
        Result("trip_total", "Trip, with that", "kg", trip_kg, "trip + burned by carrying", rule),
        Result(
            "holding_flow",
            "Holding flow at the last landing",
            "kg/h",
            holding_kg_h,
            "least drag at mass without fuel + fuel at that landing, standard day"
            if values["holding"] is None
            else "as entered",
        ),
        Result(
            "contingency",
            "Contingency",
            "kg",
            plan.contingency_kg,
            f"{METHODS[method]}; never under {HOLDING_AT_LEAST_MIN:.0f} minutes in the hold",
            rule,
        ),
        Result(
            "final_reserve", "Final reserve", "kg", plan.final_reserve_kg, "holding flow × minutes ÷ 60", rule
        ),
        Result(
            "landing_fuel",
            "Fuel at landing, as planned",
            "kg",
            plan.landing_kg,
            "contingency + alternate + final reserve + additional + extra + discretionary",
            rule,
            whole=True,
        ),
        Result(
            "take_off_fuel",
            "Fuel at take-off",
            "kg",
            plan.take_off_kg,
            "trip + fuel at landing",
            rule,
            whole=True,
        ),
        Result(
            "block",
            "Fuel before the start",
            "kg",
            plan.block_kg,
            "taxi + fuel at take-off",
            rule,
            whole=True,
        ),
        Result(
            "uplift",
            "To be taken on",
            "kg",
            max(uplift_kg, 0.0),
            "before the start − on board before refuelling",
        ),
        Result(
            "uplift_l",
            "To be taken on",
            "L",
            max(uplift_kg, 0.0) / kg_l,
            "mass ÷ density at the fuel's temperature",
        ),
        Result(
            "take_off_mass",
            "Take-off mass",
            "kg",
            masses.take_off_kg,
            "mass without fuel + fuel at take-off",
            balance,
            whole=True,
        ),
        Result("landing_mass", "Landing mass", "kg", masses.landing_kg, "take-off mass − trip", balance),
        Result(
            "limit",
            "Take-off mass allowed",
            "kg",
            limit.limit_kg,
            f"the least of four limits; here {LIMIT_NAMES[limit.governs]}",
            "14 CFR 25.25",
        ),
        Result(
            "left",
            "Left for more load or fuel",
            "kg",
            limit.limit_kg - masses.take_off_kg,
            "allowed − take-off mass",
        ),
    )
    findings = [
        *_against_limits(
            flight, zero_kg, masses.take_off_kg, masses.landing_kg, limit.limit_kg, limit.governs
        )
    ]
    needed_l = plan.block_kg / kg_l
    if needed_l > room_l:
        findings.append(
            Finding(
                "beyond",
                f"The tanks take {mark(room_l, 'L')} up to their high-level sensors; this fuel needs "
                f"{mark(needed_l, 'L')} at {mark(kg_l, 'kg/L', 3)}.",
            )
        )
    else:
        findings.append(
            Finding("fits", f"{mark(needed_l, 'L')} go into tanks that take {mark(room_l, 'L')}.")
        )
    if method < len(SHARES) and plan.contingency_kg > SHARES[method] * trip_kg + 0.5:
        findings.append(
            Finding(
                "note",
                f"On a trip this short the five minutes in the hold are more than {METHODS[method]}: "
                "they govern.",
            )
        )
    if uplift_kg < 0.0:
        findings.append(Finding("note", f"{mark(-uplift_kg, 'kg')} more is on board than the plan asks for."))
    findings += _against_script(flight, plan)
    return Work(results, tuple(findings))


def _apu(flight: Flight, rule: str) -> tuple[Result, ...]:
    """What the APU has of the taxi fuel, as the page's flight ran it; nothing where it did not run."""
    apu_kg = way.apu_burned_kg(flight, way.taxi_start_s(flight), way.take_off_s(flight.script))
    if apu_kg <= 0.0:
        return ()
    formula = "its flow × its time before the take-off, on this flight; a part of taxi"
    return (Result("apu", "Of the taxi, by the APU", "kg", apu_kg, formula, rule),)


def _plan(flight: Flight, values: Values, trip_kg: float) -> tuple[Plan, float]:
    """The plan, and the holding flow of the final reserve: found in rounds, as reserves have mass."""
    zero_kg, typed_kg_h = given(values, "zero_fuel"), values["holding"]
    names = ("alternate", "additional", "extra", "discretionary")
    alternate_kg, additional_kg, extra_kg, discretionary_kg = (given(values, name) for name in names)
    later_kg = additional_kg + extra_kg + discretionary_kg
    minutes, method = given(values, "reserve"), int(given(values, "method"))
    spare_kg = reserve_kg = 0.0
    flow_kg_h = typed_kg_h or 0.0
    for _ in range(ROUNDS):
        last_kg = zero_kg + later_kg + spare_kg + reserve_kg
        at_destination_kg_h = typed_kg_h or way.holding_kg_h(flight, last_kg + alternate_kg)
        flow_kg_h = typed_kg_h or way.holding_kg_h(flight, last_kg)
        reserve_kg = final_reserve_kg(flow_kg_h, minutes)
        spare_kg = _contingency_kg(method, trip_kg, given(values, "hours"), at_destination_kg_h)
    plan = Plan(
        given(values, "taxi"),
        trip_kg,
        spare_kg,
        alternate_kg,
        reserve_kg,
        additional_kg,
        extra_kg,
        discretionary_kg,
    )
    return plan, flow_kg_h


def _contingency_kg(method: int, trip_kg: float, minutes: float, holding_kg_h: float) -> float:
    """By the chosen method: a share of the trip, or 20 minutes at the trip's own mean flow; source AMC6
    CAT.OP.MPA.181. The third is compared with the five minutes in the hold too.
    """
    if method < len(SHARES):
        return contingency_kg(trip_kg, holding_kg_h, SHARES[method])
    return max(trip_kg * TWENTY_MIN / minutes, holding_kg_h * HOLDING_AT_LEAST_MIN / 60.0)


def _share_h(flight: Flight, gross_kg: float) -> float:
    altitude_ft, mach = way.highest(flight.script)
    return carriage_share_h(way.aeroplane(flight.aircraft), gross_kg, altitude_ft * FOOT_M, max(mach, 0.1))


def _against_limits(
    flight: Flight, zero_kg: float, take_off_kg: float, landing_kg: float, limit_kg: float, governs: str
) -> list[Finding]:
    limits = flight.aircraft.limits
    found = []
    for name, mass_kg, most_kg in (
        ("The mass without fuel", zero_kg, limits.zero_fuel_kg),
        ("The landing mass", landing_kg, limits.landing_kg),
        ("The take-off mass", take_off_kg, limits.take_off_kg),
    ):
        if mass_kg > most_kg:
            over = mark(mass_kg - most_kg, "kg")
            found.append(Finding("beyond", f"{name} is {over} above its limit of {mark(most_kg, 'kg')}."))
    if not found and take_off_kg > limit_kg:
        over = mark(take_off_kg - limit_kg, "kg")
        found.append(Finding("beyond", f"The take-off mass is {over} above {LIMIT_NAMES[governs]}."))
    if not found:
        spare = mark(limit_kg - take_off_kg, "kg")
        found.append(
            Finding(
                "fits",
                f"Every mass is within its limit. {spare} are left below {LIMIT_NAMES[governs]}, which "
                "is the least.",
            )
        )
    return found


def _against_script(flight: Flight, plan: Plan) -> list[Finding]:
    """What the page's flight was really loaded with, and the reserve that it was planned with."""
    start_s, engine_s = way.taxi_start_s(flight), way.first_start_s(flight)
    # The gauges are read when the engines start, for an APU may run while fuel still comes in.
    loaded_kg = flight.quantity("total.gauged_kg", engine_s) + way.burned_kg(flight, start_s, engine_s)
    apart_kg = loaded_kg - plan.block_kg
    side = "more" if apart_kg >= 0.0 else "less"
    found = [
        Finding(
            "note",
            f"The flight of this page had {mark(loaded_kg, 'kg')} before its start: "
            f"{mark(abs(apart_kg), 'kg')} {side} than this plan.",
        )
    ]
    planned_kg = flight.script.plan_kg.get("final_reserve_kg", plan.final_reserve_kg)
    if abs(planned_kg - plan.final_reserve_kg) > 10.0:
        found.append(
            Finding(
                "note",
                f"Its own plan has a final reserve of {mark(planned_kg, 'kg')}; this sheet has "
                f"{mark(plan.final_reserve_kg, 'kg')}.",
            )
        )
    return found


FUEL_PLAN = Kind("fuel-plan", "Fuel plan", fields, work)

"""The uplift check: litres times density against the gauges, and which slip of units would explain it.

Tolerances are examples; the reader's operator sets them.
"""

from wetwing.flight.record import Flight
from wetwing.physics.fuel import density_kg_m3
from wetwing.physics.ledger import UpliftCheck, uplift_check
from wetwing.physics.units import LEAST_KG_L, MOST_KG_L, POUND_KG, US_GALLON_L
from wetwing.teach.worksheets import way
from wetwing.teach.worksheets.sheet import (
    Band,
    Field,
    Finding,
    Kind,
    Level,
    Result,
    Values,
    Work,
    given,
    mark,
)

LIKENESS = 0.03
"""How near a ratio has to lie to a slip's own for the slip to explain it: a parameter of this project."""

SLIPS = (
    (POUND_KG, "pounds were taken for kilograms"),
    (1.0 / POUND_KG, "kilograms were taken for pounds, or the gauges read pounds"),
    (US_GALLON_L, "US gallons were taken for litres"),
    (1.0 / US_GALLON_L, "litres were taken for US gallons"),
)
"""Mass found over mass expected, and the slip that makes it so."""

ORDER_SLIPS = (
    *SLIPS,
    (US_GALLON_L * POUND_KG, "a density in lb/US gal was taken as one in lb/L, or the reverse"),
)


def fields(flight: Flight, time_s: float) -> tuple[Field, ...]:
    """As the flight was refuelled; `time_s` is not asked."""
    script = flight.script
    end_s = way.uplift_end_s(flight)
    read_s = 0.0 if end_s is None else min(end_s + way.AFTER_UPLIFT_S, flight.duration_s)
    most_kg, room_l = (
        flight.aircraft.limits.take_off_kg,
        sum(tank.capacity_l for tank in flight.aircraft.tanks),
    )
    ordered_kg = ordered_kg_of(flight)
    return (
        Field(
            "arrival",
            "Gauges before refuelling",
            "mass",
            flight.quantity("total.gauged_kg", 0.0),
            0.0,
            most_kg,
        ),
        Field(
            "ground",
            "Burned on the ground until the gauges are read",
            "mass",
            way.burned_kg(flight, 0.0, read_s),
            0.0,
            most_kg,
            "By the APU; it has no meter, so this is its time × its flow.",
        ),
        Field(
            "litres",
            "Taken on, by the truck's meter",
            "volume",
            flight.quantity("total.uplifted_l", read_s),
            0.0,
            10.0 * room_l,
        ),
        Field(
            "density",
            "Density at 15 °C, from the ticket",
            "density",
            script.declared_density_15c_kg_m3 / 1000.0,
            LEAST_KG_L,
            MOST_KG_L,
            "Jet A-1 has {0.775 kg/L} to {0.840 kg/L}.",
        ),
        Field(
            "temperature",
            "Temperature of what was taken on",
            "temperature",
            script.uplift_temperature_c,
            -40.0,
            50.0,
        ),
        Field(
            "gauged",
            "Gauges after refuelling",
            "mass",
            flight.quantity("total.gauged_kg", read_s),
            0.0,
            most_kg,
            "The sum of all tanks.",
        ),
        Field(
            "share",
            "Tolerance, of what was taken on",
            "share",
            3.0,
            0.0,
            20.0,
            "An example. The operator sets it.",
        ),
        Field("fixed", "Tolerance, at least", "mass", 0.0, 0.0, most_kg, "The larger of the two counts."),
        Field(
            "ordered",
            "Ordered, on board after refuelling",
            "mass",
            ordered_kg,
            0.0,
            most_kg,
            empty="Empty: the order is not checked.",
        ),
    )


def ordered_kg_of(flight: Flight) -> float | None:
    """The total that was preselected, where the script says one in kg."""
    for action in flight.script.actions:
        for setting in action.settings:
            if setting.part == "preselect":
                return float(setting.state.partition(" ")[0])
    return None


def work(flight: Flight, time_s: float, values: Values) -> Work:
    """Compare the book with the gauges."""
    litres, gauged_kg = given(values, "litres"), given(values, "gauged")
    kg_l = density_kg_m3(1000.0 * given(values, "density"), given(values, "temperature")) / 1000.0
    arrival_kg, ground_kg = given(values, "arrival"), given(values, "ground")
    if ground_kg > arrival_kg + litres * kg_l:
        return Work(problems={"ground": "More was burned than was there."})
    check = uplift_check(
        arrival_kg, ground_kg, litres, kg_l, gauged_kg, given(values, "share") / 100.0, given(values, "fixed")
    )
    uplift_kg = litres * kg_l
    results = (
        Result(
            "density_there",
            "Density at the fuel's temperature",
            "kg/L",
            kg_l,
            "density at 15 °C − 0.00074 kg/L for each degree above",
            step=0.001,
        ),
        Result("uplift", "Taken on", "kg", uplift_kg, "litres × density"),
        Result(
            "expected",
            "Expected on the gauges",
            "kg",
            check.expected_kg,
            "before − burned on the ground + taken on",
            whole=True,
        ),
        Result(
            "difference",
            "Gauges − expected",
            "kg",
            check.difference_kg,
            "gauges after refuelling − expected",
            whole=True,
        ),
        Result(
            "tolerance",
            "Tolerance",
            "kg",
            check.tolerance_kg,
            "the larger of the share of what was taken on and the fixed mass",
            "operator's policy",
        ),
    )
    findings = [_verdict(check)]
    if not check.agrees:
        findings += _slip(uplift_kg, gauged_kg - arrival_kg + ground_kg)
    findings += _order(values, check, uplift_kg)
    return Work(results, tuple(findings), _band(check, gauged_kg))


def _verdict(check: UpliftCheck) -> Finding:
    apart = mark(abs(check.difference_kg), "kg")
    side = "more" if check.difference_kg > 0.0 else "less"
    if abs(check.difference_kg) < 0.5:
        return Finding("fits", "The gauges show what the book says.")
    if check.agrees:
        return Finding(
            "fits",
            f"The gauges show {apart} {side} than the book: within the tolerance of "
            f"{mark(check.tolerance_kg, 'kg')}.",
        )
    return Finding(
        "beyond",
        f"The gauges show {apart} {side} than the book, and {mark(check.tolerance_kg, 'kg')} are "
        "allowed. Check the arithmetic and the density first, then each tank, then by another means, "
        "such as sticks.",
    )


def likeness(found_kg: float, expected_kg: float, slips: tuple[tuple[float, str], ...]) -> str | None:
    """The slip whose ratio fits found over expected mass, or None. Worked figure: 4,540 found where 10,000
    were expected is pounds taken for kilograms.
    """
    if expected_kg <= 0.0 or found_kg <= 0.0:
        return None
    ratio = found_kg / expected_kg
    near = min(slips, key=lambda slip: abs(ratio / slip[0] - 1.0))
    return near[1] if abs(ratio / near[0] - 1.0) <= LIKENESS else None


def _slip(uplift_kg: float, found_kg: float) -> list[Finding]:
    slip = likeness(found_kg, uplift_kg, SLIPS)
    if slip is None:
        return []
    percent = 100.0 * found_kg / uplift_kg
    return [
        Finding(
            "beyond",
            f"A slip of units fits these figures: the gauges found {percent:.0f} % of the mass that "
            f"was taken on by the book, as if {slip}.",
        )
    ]


def _order(values: Values, check: UpliftCheck, uplift_kg: float) -> list[Finding]:
    ordered_kg = values["ordered"]
    if ordered_kg is None:
        return []
    needed_kg = ordered_kg - (check.expected_kg - uplift_kg)
    apart_kg = check.expected_kg - ordered_kg
    slip = likeness(uplift_kg, needed_kg, ORDER_SLIPS)
    if slip is not None:
        percent = 100.0 * uplift_kg / needed_kg
        return [
            Finding(
                "beyond",
                f"The truck's litres bring {percent:.0f} % of what the order needs. That is what comes "
                f"of it when {slip}: for a need in kilograms, divide by the density in kg/L.",
            )
        ]
    side = "more" if apart_kg > 0.0 else "less"
    level: Level = "fits" if abs(apart_kg) <= check.tolerance_kg else "beyond"
    return [Finding(level, f"By the book {mark(abs(apart_kg), 'kg')} {side} is on board than was ordered.")]


def _band(check: UpliftCheck, gauged_kg: float) -> Band:
    low_kg, high_kg = check.expected_kg - check.tolerance_kg, check.expected_kg + check.tolerance_kg
    sentence = (
        f"Allowed: {mark(low_kg, 'kg')} to {mark(high_kg, 'kg')}. The gauges show {mark(gauged_kg, 'kg')}."
    )
    return Band(low_kg, high_kg, check.expected_kg, gauged_kg, sentence)


UPLIFT = Kind("uplift", "Uplift check", fields, work)

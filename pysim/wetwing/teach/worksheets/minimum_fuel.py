"""Minimum fuel and emergency fuel: the predicted landing against the final reserve, after a delay.

Source: CAT.OP.MPA.185, ICAO Annex 6 Part I, 4.3.7; the words are those of ICAO phraseology.
"""

from wetwing.flight.ahead import ahead
from wetwing.flight.record import Flight
from wetwing.physics.planning import Standing, final_reserve_kg, standing_of
from wetwing.teach.worksheets import way
from wetwing.teach.worksheets.sheet import Field, Finding, Kind, Level, Result, Values, Work, given

COMMITTED = ("No: another aerodrome is still open to us", "Yes: to one aerodrome")
MEANINGS: dict[Standing, tuple[Level, str]] = {
    "normal": ("fits", "Nothing to declare. Compare again after every change of the clearance."),
    "minimum fuel": (
        "note",
        "Say MINIMUM FUEL. You are committed to one aerodrome, and any change of the clearance may "
        "mean landing"
        " below the final reserve. It tells air traffic control that no further delay can be taken; it is no"
        " emergency and gives no priority.",
    ),
    "mayday fuel": (
        "beyond",
        "Say MAYDAY MAYDAY MAYDAY FUEL. At the nearest aerodrome where a safe landing can be made, "
        "less than the"
        " final reserve will be left. It is an emergency.",
    ),
}


def fields(flight: Flight, time_s: float) -> tuple[Field, ...]:
    """The landing as the flight, looked ahead from a time, makes it."""
    most_kg = flight.aircraft.limits.take_off_kg
    planned_kg = flight.script.plan_kg.get("final_reserve_kg")
    down_s = way.landing_s(flight)
    found = ahead(flight, time_s).landing if time_s < down_s else None
    landing_kg = max(found.usable_kg if found else usable_kg(flight, down_s), 0.0)
    reserve_kg = final_reserve_kg(way.holding_kg_h(flight, flight.quantity("flight.gross_kg", down_s)))
    return (
        Field(
            "landing",
            "Usable fuel at landing, without delay",
            "mass",
            landing_kg,
            0.0,
            most_kg,
            "As the simulation predicts it from this moment.",
        ),
        Field(
            "reserve",
            "Final reserve",
            "mass",
            reserve_kg if planned_kg is None else planned_kg,
            1.0,
            most_kg,
            "As the flight's plan has it.",
        ),
        Field("delay", "Delay", "minutes", 0.0, 0.0, 120.0, "In the hold, at 1,500 ft.", slider=True),
        Field(
            "holding",
            "Flow in the delay",
            "flow",
            None,
            10.0,
            50_000.0,
            empty="Empty: holding flow at the landing's mass.",
        ),
        Field("committed", "Committed", "choice", 1.0, 0.0, 1.0, choices=COMMITTED),
        Field(
            "change",
            "What one more change may cost",
            "mass",
            None,
            0.0,
            most_kg,
            empty="Empty: a sixth of the final reserve, five minutes of thirty. An example.",
        ),
    )


def usable_kg(flight: Flight, time_s: float) -> float:
    """Fuel on board above unusable."""
    return flight.quantity("total.on_board_kg", time_s) - way.unusable_kg(flight.aircraft)


def work(flight: Flight, time_s: float, values: Values) -> Work:
    """Take the delay off and say what is left."""
    landing_kg, reserve_kg, delay_min = (
        given(values, "landing"),
        given(values, "reserve"),
        given(values, "delay"),
    )
    flow_kg_h = values["holding"] or way.holding_kg_h(flight, flight.script.zero_fuel_kg + landing_kg)
    committed = given(values, "committed") == 1.0
    spent_kg = flow_kg_h * delay_min / 60.0
    left_kg = landing_kg - spent_kg
    change_kg = reserve_kg / 6.0 if values["change"] is None else values["change"]
    standing = standing_of(left_kg, reserve_kg, committed, change_kg)
    to_mayday_min = max(landing_kg - reserve_kg, 0.0) / flow_kg_h * 60.0
    to_minimum_min = max(landing_kg - change_kg - reserve_kg, 0.0) / flow_kg_h * 60.0
    rule = "CAT.OP.MPA.185"
    results = (
        Result("spent", "The delay takes", "kg", spent_kg, "flow in the delay × minutes ÷ 60"),
        Result(
            "left",
            "Usable fuel at landing",
            "kg",
            left_kg,
            "without delay − what the delay takes",
            rule,
            whole=True,
        ),
        Result(
            "above",
            "Above the final reserve",
            "kg",
            left_kg - reserve_kg,
            "at landing − final reserve",
            rule,
            whole=True,
        ),
        Result(
            "to_minimum",
            "Delay that leads to minimum fuel",
            "min",
            to_minimum_min,
            "(without delay − final reserve − one more change) ÷ flow × 60",
        ),
        Result(
            "to_mayday",
            "Delay that leads to mayday fuel",
            "min",
            to_mayday_min,
            "(without delay − final reserve) ÷ flow × 60",
        ),
        Result(
            "standing",
            "It stands at",
            "",
            None,
            "below the final reserve: mayday fuel; committed, and one change away from it: minimum fuel",
            "ICAO Annex 6 Part I, 4.3.7",
            words=standing,
            whole=True,
        ),
    )
    level, meaning = MEANINGS[standing]
    findings = [Finding(level, meaning)]
    if left_kg < 0.0:
        findings.append(
            Finding("beyond", "The delay takes more than there is: the engines stop before the landing.")
        )
    if standing == "normal" and not committed and left_kg - change_kg < reserve_kg:
        findings.append(
            Finding(
                "note",
                "One change away from the final reserve, and not committed: go to the other aerodrome "
                "while that is open.",
            )
        )
    return Work(results, tuple(findings))


MINIMUM_FUEL = Kind("minimum-fuel", "Minimum fuel", fields, work)

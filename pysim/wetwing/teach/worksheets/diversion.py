"""The diversion: what lands at another aerodrome if the flight turns to it, flown by the simulation."""

from wetwing.flight.record import Flight
from wetwing.physics.planning import final_reserve_kg, standing_of
from wetwing.teach.worksheets import way
from wetwing.teach.worksheets.diverted import descent_starts_s, divert, plan_diversion, speed_kt
from wetwing.teach.worksheets.entry import clock_words
from wetwing.teach.worksheets.minimum_fuel import MEANINGS, usable_kg
from wetwing.teach.worksheets.sheet import Field, Finding, Kind, Result, Values, Work, given, mark

SLOWEST_KT = 100.0


def window_s(flight: Flight) -> tuple[float, float]:
    """When a flight can turn away: from its first point in the air to the beginning of its descent."""
    script = flight.script
    off_s = next((point.time_s for point in script.path if not point.ground), 0.0)
    down_s = descent_starts_s(script)
    return off_s, flight.duration_s if down_s is None else min(down_s, flight.duration_s)


def fields(flight: Flight, time_s: float) -> tuple[Field, ...]:
    """From a time of the flight to an aerodrome some way off."""
    first_s, last_s = window_s(flight)
    at_s = float(int(min(max(time_s, first_s), last_s) / 60.0) * 60)
    return (
        Field(
            "time",
            "Turn away at",
            "clock",
            at_s if at_s >= first_s else at_s + 60.0,
            first_s,
            last_s,
            "Time of the flight, in the air and before the descent.",
        ),
        Field(
            "distance",
            "Distance to the alternate",
            "distance",
            300.0,
            20.0,
            6000.0,
            "Over the ground, from that moment.",
        ),
        Field(
            "wind",
            "Wind along the way",
            "speed",
            0.0,
            -200.0,
            200.0,
            "A tailwind is positive, a headwind negative.",
        ),
        Field("delay", "Delay on arrival", "minutes", 0.0, 0.0, 120.0, "In the hold.", slider=True),
        Field(
            "minutes",
            "Final reserve",
            "minutes",
            30.0,
            30.0,
            120.0,
            "Turbine engines: 30 minutes in the hold.",
        ),
    )


def work(flight: Flight, time_s: float, values: Values) -> Work:
    """Fly it and weigh what lands."""
    if descent_starts_s(flight.script) is None:
        return Work(problems={"time": "This flight does not land, so it has no descent to borrow."})
    at_s, wind_kt = given(values, "time"), given(values, "wind")
    if speed_kt(flight, at_s) + wind_kt < SLOWEST_KT:
        return Work(problems={"wind": "Against this wind it would hardly move over the ground."})
    found = plan_diversion(flight, at_s, given(values, "distance"), wind_kt)
    if isinstance(found, float):
        least = mark(found, "NM")
        return Work(
            problems={"distance": f"The descent from this height takes {least}. Allowed here: that and more."}
        )
    if found.lands_s > 86_000.0:
        return Work(problems={"distance": "It would land more than a day after the beginning of the flight."})
    flown = divert(flight, at_s, found)
    if flown.duration_s < found.lands_s:
        return _not_there(flown)
    landing_kg = usable_kg(flown, found.lands_s)
    gross_kg = flown.quantity("flight.gross_kg", found.lands_s)
    hold_kg_h = way.holding_kg_h(flown, gross_kg)
    spent_kg = hold_kg_h * given(values, "delay") / 60.0
    reserve_kg = final_reserve_kg(hold_kg_h, given(values, "minutes"))
    left_kg = landing_kg - spent_kg
    standing = standing_of(left_kg, reserve_kg, committed=True)
    here_kg = usable_kg(flight, at_s)
    rule = "CAT.OP.MPA.185"
    results = (
        Result(
            "here",
            "Usable fuel where it turns",
            "kg",
            here_kg,
            "on board − unusable, as the flight has it then",
        ),
        Result(
            "lasts",
            "Time to the landing",
            "min",
            (found.lands_s - at_s) / 60.0,
            "level to the top of descent, then the flight's own descent",
        ),
        Result(
            "burned",
            "Burned on the way",
            "kg",
            way.burned_kg(flown, at_s, found.lands_s),
            "by the simulation, flown again from there",
        ),
        Result(
            "landing",
            "Usable fuel at the alternate",
            "kg",
            landing_kg,
            "on board − unusable, at touchdown",
            rule,
            whole=True,
        ),
        Result("spent", "The delay takes", "kg", spent_kg, "holding flow × minutes ÷ 60"),
        Result(
            "reserve",
            "Final reserve",
            "kg",
            reserve_kg,
            "holding flow at the mass of arrival × minutes ÷ 60",
            "CAT.OP.MPA.181",
        ),
        Result(
            "above",
            "Above the final reserve",
            "kg",
            left_kg - reserve_kg,
            "at the alternate − delay − final reserve",
            rule,
            whole=True,
        ),
        Result(
            "hold",
            "Holding time above the final reserve",
            "min",
            max(left_kg - reserve_kg, 0.0) / hold_kg_h * 60.0,
            "above the final reserve ÷ holding flow × 60",
        ),
        Result(
            "standing",
            "It stands at",
            "",
            None,
            "as on the sheet for minimum fuel, committed to the alternate",
            "ICAO Annex 6 Part I, 4.3.7",
            words=standing,
            whole=True,
        ),
    )
    level, meaning = MEANINGS[standing]
    findings = [
        Finding(level, meaning if standing != "normal" else "It lands with the final reserve and more.")
    ]
    gone_kg = here_kg - landing_kg - way.burned_kg(flown, at_s, found.lands_s)
    if gone_kg > 20.0:
        findings.append(
            Finding(
                "beyond",
                f"{mark(gone_kg, 'kg')} more than was burned has gone on the way: a leak, or fuel "
                "vented or discharged.",
            )
        )
    down_s = way.landing_s(flight)
    if way.touchdown_s(flight.script) is not None and flight.duration_s >= down_s:
        findings.append(
            Finding(
                "note",
                f"Going on, the flight lands at {clock_words(down_s)} of its time with "
                f"{mark(usable_kg(flight, down_s), 'kg')} usable.",
            )
        )
    return Work(results, tuple(findings))


def _not_there(flown: Flight) -> Work:
    told = flown.ended.sentence if flown.ended else "It ends before the landing."
    return Work(findings=(Finding("beyond", f"It does not get there. {told}"),))


DIVERSION = Kind("diversion", "What-if diversion", fields, work)

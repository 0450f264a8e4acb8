"""Figures that take a flight to compute: the cold soak, leaks, a slip of units, uplift, cruise, balance."""

from functools import cache
from pathlib import Path

from tests.accuracy.figure import Figure
from tests.flight.flights import alder, day_sector, flown
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight
from wetwing.flight.script import parse_script
from wetwing.physics import balance, burn, fuel, ledger, units
from wetwing.physics.air import FOOT_M
from wetwing.physics.outline import centroid_m

POLAR = Path(__file__).parent / "long-polar-flight.toml"
WARM_EDGE_K, COLD_EDGE_K = -11, -17
"""Deviations that put the cruise of the polar flight at either edge of the air that the report tells of."""


def figures() -> list[Figure]:
    """List every figure of this field, those that miss too."""
    return [*_cold_soak(), *_leaks(), *_unit_slip(), *_uplift(), *_cruise(), *_balance()]


@cache
def polar_flight(deviation_k: int) -> Flight:
    """The long polar flight in air of this deviation."""
    text = POLAR.read_text(encoding="utf-8")
    kept = f"deviation_k = {WARM_EDGE_K}\n"
    assert text.count(kept) == 1
    script = parse_script(text.replace(kept, f"deviation_k = {deviation_k}\n"), POLAR.name, alder())
    return fly(alder(), script)


def _cold_soak() -> list[Figure]:
    found = []
    for edge, deviation_k, misses in (
        ("warm", WARM_EDGE_K, ""),
        (
            "cold",
            COLD_EDGE_K,
            "the report's air lay between both edges, and its aircraft had larger tanks, fuller by then",
        ),
    ):
        flight = polar_flight(deviation_k)
        after_s = 8.0 * 3600.0
        air_c = [flight.quantity("flight.air_temperature_c", hours * 3600.0) for hours in (1.0, 8.0)]
        found.append(
            Figure(
                "Cold soak",
                f"Alder 165, main tank after 8 h, air of {air_c[0]:.0f} to {air_c[1]:.0f} °C ({edge} edge)",
                -34.0,
                flight.quantity("main-left.temperature_c", after_s),
                "°C",
                0.5,
                "public investigation of a long polar flight: the coldest fuel, after about 8 of 10.5 h",
                misses=misses,
            )
        )
    return found


def _leaks() -> list[Figure]:
    begins_s, later_s = 2.0 * 3600.0, 3.5 * 3600.0
    rule = "book-keeping: a meter counts what passes it, burned or lost"

    def growth(flight: Flight, quantity: str) -> float:
        return flight.quantity(quantity, later_s) - flight.quantity(quantity, begins_s)

    before = flown("2:00:00 engine-1=leak before the meter 1200")
    after = flown("2:00:00 engine-1=leak after the meter 1200")
    too_much_kg = growth(after, "total.metered_kg") - growth(after, "total.burned_kg")
    rows = (
        (
            "leak before the meter: growth of the difference",
            growth(before, "total.leaked_kg"),
            growth(before, "total.discrepancy_kg"),
        ),
        ("leak after the meter: growth of the difference", 0.0, growth(after, "total.discrepancy_kg")),
        ("leak after the meter: used beyond burned", growth(after, "total.leaked_kg"), too_much_kg),
    )
    return [
        Figure("Leaks", f"{name} in 1.5 h", published, computed, "kg", 0.5, rule)
        for name, published, computed in rows
    ]


def _unit_slip() -> list[Figure]:
    flight = flown(f"0:02:30 preselect=wrong units {units.POUND_KG}")
    wanted_kg = 22_700.0
    loaded_kg = flight.quantity("total.gauged_kg", 0.5 * 3600.0)
    return [
        Figure(
            "Units",
            "Alder 165 refuelled to a figure in pounds, wanted in kilograms: share on board",
            45.0,
            100.0 * loaded_kg / wanted_kg,
            "%",
            0.5,
            "public report of a 1983 accident: 45 % of the need",
        )
    ]


def _uplift() -> list[Figure]:
    flight = flown()
    arrival_s, departure_s = 60.0, 1800.0
    check = ledger.uplift_check(
        flight.quantity("total.gauged_kg", arrival_s),
        flight.quantity("total.burned_kg", departure_s),
        flight.quantity("total.uplifted_l", departure_s),
        fuel.density_kg_m3(day_sector().density_15c_kg_m3, day_sector().uplift_temperature_c) / 1000.0,
        flight.quantity("total.gauged_kg", departure_s),
    )
    return [
        Figure(
            "Uplift",
            "day sector, gauges after refuelling against litres × density",
            check.expected_kg,
            check.expected_kg + check.difference_kg,
            "kg",
            check.tolerance_kg,
            "reported practice: 3 to 5 % of the uplift; 3 % here",
        )
    ]


def _cruise() -> list[Figure]:
    flight, at_s = flown(), 3.0 * 3600.0
    airframe = alder().airframe
    aeroplane = burn.Aeroplane(
        airframe.wing_area_m2,
        airframe.drag_zero_lift,
        airframe.drag_induced,
        airframe.engine_thrust_n,
        airframe.static_flow_kg_h,
    )
    by_formula_kg_h = burn.cruise_flow_kg_h(
        aeroplane,
        flight.quantity("flight.gross_kg", at_s),
        flight.quantity("flight.altitude_ft", at_s) * FOOT_M,
        flight.quantity("flight.mach", at_s),
    )
    flown_kg_h = sum(flight.quantity(f"engine-{n}.flow_kg_h", at_s) for n in (1, 2))
    return [
        Figure(
            "Cruise flow",
            "Alder 165 in the day sector's cruise, both engines",
            by_formula_kg_h,
            flown_kg_h,
            "kg/h",
            0.002 * by_formula_kg_h,
            "published open performance model, for level flight; a straight line between keyframes",
        )
    ]


def _balance() -> list[Figure]:
    flight, at_s = flown(), 3600.0
    aircraft, script = alder(), day_sector()
    sheet = aircraft.balance
    zero_m = balance.arm_of_percent_m(script.zero_fuel_cg_percent, sheet.mac_m, sheet.lemac_m)
    places = [centroid_m(tank.outline_m) for tank in aircraft.tanks]
    load_kg = [flight.quantity(f"{tank.name}.actual_kg", at_s) for tank in aircraft.tanks]
    percent = balance.travel_percent(
        (script.zero_fuel_kg, zero_m), [x for x, _ in places], [load_kg], sheet.mac_m, sheet.lemac_m
    )[0]
    gross_kg = script.zero_fuel_kg + sum(load_kg)
    bending_n_m = [
        balance.root_bending_n_m(
            gross_kg,
            [
                (kg, abs(y))
                for tank, kg, (_, y) in zip(aircraft.tanks, load_kg, places, strict=True)
                if tank.side == side
            ],
            sheet.lift_arm_m,
        )
        for side in ("left", "right")
    ]
    statics = "statics, reckoned apart from the flight"
    return [
        Figure(
            "Centre of gravity",
            "Alder 165 in the day sector's climb",
            percent,
            flight.quantity("flight.cg_percent", at_s),
            "% MAC",
            0.05,
            statics,
        ),
        Figure(
            "Root bending",
            "Alder 165 in the day sector's climb, mean of both wings",
            0.5 * sum(bending_n_m) / 1e6,
            flight.quantity("flight.root_bending_kn_m", at_s) / 1000.0,
            "MN m",
            0.005,
            statics,
        ),
    ]

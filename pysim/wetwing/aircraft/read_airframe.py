"""The figures of the whole aircraft, read from its file: limits, airframe, balance, outlines."""

from wetwing.aircraft.condition import Condition
from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Airframe, Balance, Limits, Plan
from wetwing.aircraft.table import Table, number


def limits(table: Table) -> Limits:
    """`[limits]`."""
    densities = table.listed("fuel_density_kg_m3")
    if len(densities) != 2 or not all(
        isinstance(value, int | float) and 700 <= value <= 900 for value in densities
    ):
        raise Mistake(
            table.at("fuel_density_kg_m3"),
            f"found {densities}",
            "two numbers from 700 to 900 kg/m³ (0.70 to 0.90 kg/L)",
        )
    least, most = float(str(densities[0])), float(str(densities[1]))
    if least >= most:
        raise Mistake(table.at("fuel_density_kg_m3"), f"found {densities}", "the lower one first")
    found = Limits(
        zero_fuel_kg=table.number("zero_fuel_kg", 100, 1e6, "kg"),
        take_off_kg=table.number("take_off_kg", 100, 1e6, "kg"),
        landing_kg=table.number("landing_kg", 100, 1e6, "kg"),
        ceiling_ft=table.number("ceiling_ft", 1000, 60000, "ft"),
        fuel_density_kg_m3=(least, most),
    )
    table.finish()
    return found


def airframe(table: Table) -> Airframe:
    """`[airframe]`."""
    found = Airframe(
        wing_area_m2=table.number("wing_area_m2", 1, 2000, "m²"),
        drag_zero_lift=table.number("drag_zero_lift", 0.001, 0.2, ""),
        drag_induced=table.number("drag_induced", 0.001, 0.5, ""),
        extra_drag=_when(table, "extra_drag", "adds", 0, 0.5),
        engine_thrust_n=table.number("engine_thrust_n", 100, 1e6, "N"),
        static_flow_kg_h=table.number("static_flow_kg_h", 10, 50000, "kg/h"),
        bleed=_when(table, "bleed", "factor", 1, 1.5),
        rolling_friction=table.number("rolling_friction", 0, 0.2, ""),
        ground_pitch_deg=table.number("ground_pitch_deg", -5, 5, "°", 0.0),
    )
    table.finish()
    return found


def _when(
    table: Table, key: str, figure: str, least: float, most: float
) -> tuple[tuple[Condition, float], ...]:
    found: list[tuple[Condition, float]] = []
    for i, values in enumerate(table.listed(key, True)):
        inner = Table(values, f"{table.at(key)}[{i}]")
        found.append((inner.condition("when"), inner.number(figure, least, most, "")))
        inner.finish()
    return tuple(found)


def balance(table: Table) -> Balance:
    """`[balance]`."""
    limits_percent = table.listed("cg_limits_percent")
    if len(limits_percent) != 2:
        raise Mistake(table.at("cg_limits_percent"), f"found {limits_percent}", "two numbers from 0 to 100 %")
    forward, aft = (
        number(value, f"{table.at('cg_limits_percent')}[{i}]", 0, 100, "%")
        for i, value in enumerate(limits_percent)
    )
    if forward >= aft:
        raise Mistake(table.at("cg_limits_percent"), f"found {limits_percent}", "the forward one first")
    found = Balance(
        mac_m=table.number("mac_m", 0.5, 20, "m"),
        lemac_m=table.number("lemac_m", 0, 100, "m"),
        zero_fuel_cg_percent=table.number("zero_fuel_cg_percent", 0, 100, "%"),
        lift_arm_m=table.number("lift_arm_m", 0.5, 60, "m"),
        cg_limits_percent=(forward, aft),
    )
    table.finish()
    return found


def plan(table: Table) -> Plan:
    """`[plan]`."""
    found = Plan(table.points("fuselage_m"), table.points("wing_m"), table.points("nacelle_m"))
    table.finish()
    return found

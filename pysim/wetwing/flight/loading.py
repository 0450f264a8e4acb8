"""What a script says of the flight's fuel and of how the aircraft is found, read from its file."""

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.table import Table
from wetwing.flight.edits import check_setting
from wetwing.flight.script_records import InitialTank, Script
from wetwing.physics.fuel import LEAST_DENSITY_KG_M3, MOST_DENSITY_KG_M3, density_kg_m3, mass_kg

PLAN_KEYS = ("taxi_kg", "trip_kg", "contingency_kg", "alternate_kg", "final_reserve_kg")


def density_15c_kg_m3(fuel: Table, aircraft: Aircraft) -> float:
    """The fuel's density at 15 °C; one in another unit is recognised by its size."""
    least, most = aircraft.limits.fuel_density_kg_m3
    found = fuel.value("density_15c_kg_m3")
    countable = isinstance(found, int | float) and not isinstance(found, bool) and abs(found) < 1e6
    if isinstance(found, int | float) and countable and not least <= found <= most:
        slips = {"kg/L": 1000.0, "lb/L": 453.59237, "lb/US gal": 119.826427}
        for unit, factor in slips.items():
            if 700 <= found * factor <= 900:
                place = fuel.at("density_15c_kg_m3")
                raise Mistake(
                    place,
                    f"{found:g} looks like {unit}",
                    f"{least:g} to {most:g} kg/m³",
                    f"{found * factor:.0f} kg/m³",
                )
    return fuel.number("density_15c_kg_m3", least, most, "kg/m³")


def tanks(initial: Table, aircraft: Aircraft) -> dict[str, InitialTank]:
    """What each tank holds at the start."""
    table = initial.table("tanks")
    found: dict[str, InitialTank] = {}
    for tank in aircraft.tanks:
        if not table.has(tank.name):
            raise Mistake(
                table.at(tank.name),
                "missing",
                "what the tank holds at the start, such as { actual_kg = 100, temperature_c = 5 }",
            )
        inner = table.table(tank.name)
        found[tank.name] = InitialTank(
            inner.number("actual_kg", 0, 1e6, "kg"),
            inner.number("temperature_c", -60, 60, "°C"),
        )
        inner.finish()
    table.finish()
    return found


def check_volumes(script: Script, aircraft: Aircraft, file: str) -> None:
    """Raise Mistake where a tank is given more than it can hold."""
    for tank in aircraft.tanks:
        held = script.tanks[tank.name]
        most = mass_kg(tank.overflow.at_l, script.density_15c_kg_m3, held.temperature_c)
        if held.actual_kg > most:
            place = f"{file}: initial.tanks.{tank.name}.actual_kg"
            raise Mistake(
                place,
                f"{held.actual_kg:g} kg",
                f"at most {int(most)} kg at {held.temperature_c:g} °C",
                f"{int(most)} kg",
            )


def check_fuel(script: Script, file: str) -> None:
    """Refuse fuel that is frozen, or so cold or warm that its density leaves the model. Raises Mistake."""
    found = {f"initial.tanks.{name}.temperature_c": held.temperature_c for name, held in script.tanks.items()}
    found["fuel.uplift_temperature_c"] = script.uplift_temperature_c
    for key, celsius in found.items():
        if celsius <= script.freezing_c:
            allowed = f"above the freezing point, {script.freezing_c:g} °C"
            raise Mistake(f"{file}: {key}", f"{celsius:g} °C", allowed)
        density = density_kg_m3(script.density_15c_kg_m3, celsius)
        if not LEAST_DENSITY_KG_M3 <= density <= MOST_DENSITY_KG_M3:
            raise Mistake(
                f"{file}: {key}",
                f"{celsius:g} °C, where this fuel has {density:.0f} kg/m³",
                f"a density of {LEAST_DENSITY_KG_M3:g} to {MOST_DENSITY_KG_M3:g} kg/m³",
            )


def used_kg(initial: Table, aircraft: Aircraft) -> dict[str, float]:
    """The last flight's fuel-used figures."""
    used = {engine.name: 0.0 for engine in aircraft.engines}
    if initial.has("used_kg"):
        table = initial.table("used_kg")
        for name in used:
            used[name] = table.number(name, 0, 1e6, "kg", 0.0)
        table.finish()
    return used


def states(initial: Table, aircraft: Aircraft) -> dict[str, str]:
    """States in which parts are found at the start."""
    if not initial.has("parts"):
        return {}
    table = initial.table("parts")
    found: dict[str, str] = {}
    for name in table.values:
        place = table.at(name)
        if name not in aircraft.parts:
            raise unknown(table.place, "part", name, aircraft.parts)
        part = aircraft.parts[name]
        state = table.text(name)
        if part.kind in ("rule", "valve"):
            allowed = tuple(word for word in part.states if word != "moving")
            if state not in allowed:
                raise unknown(place, f"state of {name}", state, allowed)
        else:
            state = check_setting(name, state, aircraft, place).state
        found[name] = state
    return found


def plan_kg(top: Table) -> dict[str, float]:
    """The fuel plan; empty where the script has none."""
    if not top.has("plan"):
        return {}
    table = top.table("plan")
    found = {key: table.number(key, 0, 1e6, "kg") for key in PLAN_KEYS}
    table.finish()
    return found

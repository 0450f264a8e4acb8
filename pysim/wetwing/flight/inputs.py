"""A script's figures that a reader may change by name: loads, fuel, air, cruise levels, lengths of phases.

`inputs` lists them with their limits, `with_inputs` puts other figures into the script's table before it is
read. A figure that stands in the script as it is, `load.zero_fuel_kg`, is judged by the script's reader too.
"""

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass
from typing import Any, cast

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft, Control
from wetwing.aircraft.table import number
from wetwing.flight.script_records import Script
from wetwing.flight.stretch import stretched
from wetwing.physics.fuel import mass_kg

LOWEST_LEVEL_FT = 1000.0
SHORTEST_PHASE_MIN, LONGEST_PHASE_MIN = 1.0, 1200.0
LONGEST_TITLE = 80


@dataclass(frozen=True, slots=True)
class Input:
    """One figure that can be changed: `key` names it, `least` and `most` bound it."""

    key: str
    group: str
    label: str
    unit: str
    least: float
    most: float
    value: float


def inputs(script: Script, aircraft: Aircraft) -> tuple[Input, ...]:
    """Every figure of a script that can be changed, in the order in which a form shows them."""
    return (*_load(script, aircraft), *_fuel(script, aircraft), *_air(script, aircraft))


def with_inputs(
    values: Mapping[str, object], changes: Mapping[str, object], script: Script, aircraft: Aircraft
) -> dict[str, object]:
    """The table of a script with other figures; `script` is that script, read. Raises Mistake."""
    known = {found.key: found for found in inputs(script, aircraft)}
    made = cast("dict[str, Any]", deepcopy(dict(values)))
    minutes: dict[str, float] = {}
    for key, found in changes.items():
        place = f"inputs: {key}"
        if key not in known:
            raise unknown("inputs", "input", key, known)
        field = known[key]
        figure = _whole(number(found, place, *_bounds(field), field.unit))
        first, _, rest = key.partition(".")
        if first == "set":
            _set_first(made, rest, figure)
        elif first == "duration":
            minutes[rest] = figure
        elif first == "level":
            ordinal, _, quantity = rest.partition(".")
            for i in levels(script)[int(ordinal) - 1]:
                made["path"][i][quantity] = figure
        else:
            *tables, name = key.split(".")
            inner = made
            for table in tables:
                inner = inner.setdefault(table, {})
            inner[name] = figure
    return stretched(made, script, minutes) if minutes else made


def levels(script: Script) -> list[list[int]]:
    """The level stretches of a flight as places in its path: two points or more of one altitude in the air,
    above half of the highest.
    """
    highest_ft = max(point.altitude_ft for point in script.path)
    found: list[list[int]] = []
    for i, point in enumerate(script.path):
        if point.ground or point.altitude_ft < 0.5 * highest_ft:
            continue
        if found and found[-1][-1] == i - 1 and script.path[i - 1].altitude_ft == point.altitude_ft:
            found[-1].append(i)
        else:
            found.append([i])
    return [run for run in found if len(run) > 1]


def _bounds(field: Input) -> tuple[float, float]:
    # How much a tank holds depends on the fuel, which may change too: the script's reader says how much.
    return (
        (0.0, 1e6)
        if field.key.startswith("initial.tanks.") and field.unit == "kg"
        else (field.least, field.most)
    )


def _whole(figure: float) -> float:
    """The same figure as files have it: a whole one without decimals."""
    return int(figure) if figure == int(figure) else figure


def _load(script: Script, aircraft: Aircraft) -> list[Input]:
    start, load = "In the tanks at the start", "Load and uplift"
    most_kg, empty_kg = aircraft.limits.zero_fuel_kg, script.zero_fuel_kg
    at_percent = script.zero_fuel_cg_percent
    found = [
        Input("load.zero_fuel_kg", load, "Mass without fuel", "kg", 100, most_kg, empty_kg),
        Input(
            "load.zero_fuel_cg_percent", load, "Its centre of gravity, of the chord", "%", 0, 100, at_percent
        ),
        Input("load.wear_factor", load, "Fuel flow, multiplied for wear by", "", 1, 1.3, script.wear_factor),
    ]
    for part in aircraft.parts.values():
        quantity = part.quantity if isinstance(part, Control) else None
        first = _first_setting(script, part.name) if quantity else None
        if quantity and first is not None:
            found.append(
                Input(
                    f"set.{part.name}", load, part.label, quantity.unit, quantity.least, quantity.most, first
                )
            )
    for tank in aircraft.tanks:
        held = script.tanks[tank.name]
        most_kg = int(mass_kg(tank.overflow.at_l, script.density_15c_kg_m3, held.temperature_c))
        key = f"initial.tanks.{tank.name}"
        found.append(Input(f"{key}.actual_kg", start, tank.label, "kg", 0, most_kg, held.actual_kg))
        found.append(
            Input(
                f"{key}.temperature_c", start, f"{tank.label}, temperature", "°C", -60, 60, held.temperature_c
            )
        )
    return found


def _fuel(script: Script, aircraft: Aircraft) -> list[Input]:
    least, most = aircraft.limits.fuel_density_kg_m3
    limits = {
        "density_15c_kg_m3": ("Density at 15 °C", "kg/m³", least, most),
        "declared_density_15c_kg_m3": ("Density on the ticket", "kg/m³", 300, 2000),
        "uplift_temperature_c": ("Temperature of the uplift", "°C", -40, 50),
        "freezing_c": ("Freezing point (Jet A-1 −47, Jet A −40)", "°C", -80, -20),
        "light_ends": ("Vapour pressure, multiplied by", "", 1, 3),
    }
    return [
        Input(f"fuel.{name}", "The fuel", label, unit, low, high, getattr(script, name))
        for name, (label, unit, low, high) in limits.items()
    ]


def _air(script: Script, aircraft: Aircraft) -> list[Input]:
    found = [Input("air.deviation_k", "The air", "Warmer than standard by", "K", -60, 40, script.deviation_k)]
    way = "The way"
    for ordinal, run in enumerate(levels(script), start=1):
        point, key = script.path[run[0]], f"level.{ordinal}"
        ceiling_ft = aircraft.limits.ceiling_ft
        name = ("First", "Second", "Third", "Fourth")[ordinal - 1] if ordinal < 5 else f"{ordinal}th"
        found.append(
            Input(
                f"{key}.altitude_ft",
                way,
                f"{name} level",
                "ft",
                LOWEST_LEVEL_FT,
                ceiling_ft,
                point.altitude_ft,
            )
        )
        found.append(Input(f"{key}.mach", way, f"{name} level, Mach", "", 0.2, 0.9, point.mach))
    ends_s = [phase.start_s for phase in script.phases[1:]] + [script.ends_s]
    for phase, end_s in zip(script.phases, ends_s, strict=True):
        minutes = (end_s - phase.start_s) / 60.0
        found.append(
            Input(f"duration.{phase.name}", "Length of the phases", phase.label, "min",
                  SHORTEST_PHASE_MIN, LONGEST_PHASE_MIN, minutes)
        )  # fmt: skip
    return found


def _first_setting(script: Script, part: str) -> float | None:
    for action in script.actions:
        for setting in action.settings:
            if setting.part == part:
                return float(setting.state.partition(" ")[0])
    return None


def _set_first(made: dict[str, Any], part: str, figure: float) -> None:
    for action in made["actions"]:
        if part in action["set"]:
            action["set"][part] = figure
            return


def titled(values: Mapping[str, object], title: str) -> dict[str, object]:
    """The table of a script under another title, and a name made from it. Raises Mistake."""
    title = " ".join(title.split())
    if not 1 <= len(title) <= LONGEST_TITLE:
        raise Mistake("title", f"a title of {len(title)} characters", f"1 to {LONGEST_TITLE} characters")
    kept = "".join(char if char.isascii() and char.isalnum() else " " for char in title.lower())
    name = "-".join(kept.split()).lstrip("0123456789-")[:60].rstrip("-")
    if not name:
        raise Mistake(
            "title", f"'{title}'", "a title with a letter from a to z, which the script's name is made from"
        )
    return {**values, "name": name, "title": title}

"""Reference pages of the two formats that people write: the aircraft's file and the flight's script.

The keys are data here, so that a test can hold them to what the shipped files use.
"""

from wetwing.aircraft.read import FORMAT as AIRCRAFT_FORMAT
from wetwing.flight.script import FORMAT as SCRIPT_FORMAT

Keys = dict[str, str]

AT_M = "where it stands on the plan: metres aft of the nose, metres right of the centre line"
LABEL = "what people call it"
CURVE = "pressure lost to flow: this figure times the flow in t/h"
SQUARE = "pressure lost to flow: this figure times the square of the flow in t/h"
BUS = "the bus that powers it; without one, nothing cuts its power"

AIRCRAFT_TOP: Keys = {
    "format": f'`"{AIRCRAFT_FORMAT}"`',
    "name": "the aircraft's name in scripts and links",
    "title": "its name for people",
    "operator": "who flies it",
    "revision": "the revision of this file's content",
    "based_on": "another aircraft of the fleet, where this file gives only what differs, laid over it key by "
    "key",
    "remove": 'what the file takes away from that aircraft, `["rules.slat-hold"]`',
}

AIRCRAFT_SECTIONS: dict[str, Keys] = {
    "limits": {
        "zero_fuel_kg": "highest mass without fuel",
        "take_off_kg": "highest mass at take-off",
        "landing_kg": "highest mass at landing",
        "ceiling_ft": "highest altitude of a script's path",
        "fuel_density_kg_m3": "lowest and highest density at 15 °C that a script may give; within 700 to 900",
    },
    "airframe": {
        "wing_area_m2": "wing area",
        "drag_zero_lift": "drag coefficient without lift",
        "drag_induced": "drag coefficient for the square of the lift coefficient",
        "extra_drag": "`{ when = condition, adds = coefficient }`, one or more: what adds to the first",
        "engine_thrust_n": "rated thrust of one engine",
        "static_flow_kg_h": "fuel flow of one engine at rest at rated thrust",
        "bleed": "`{ when = condition, factor = number }`, one or more: what multiplies the flow; 1 to 1.5",
        "rolling_friction": "share of the weight that resists rolling",
        "ground_pitch_deg": "attitude at the stand, nose up; 0 where missing",
    },
    "balance": {
        "mac_m": "mean aerodynamic chord",
        "lemac_m": "its leading edge, aft of the nose",
        "zero_fuel_cg_percent": "usual centre of gravity without fuel, in per cent of the chord",
        "lift_arm_m": "arm of half a wing's lift from the centre line",
        "cg_limits_percent": "forward and aft limit of the centre of gravity",
    },
    "tanks": {
        "label": LABEL,
        "side": "`left`, `centre` or `right`",
        "capacity_l": "volume when full",
        "unusable_kg": "what cannot be used; the gauge reads zero here",
        "bottom_m": "height of its lowest point",
        "depth_m": "depth at its inboard end",
        "depth_outboard_m": "depth at its outboard end; `depth_m` where missing",
        "dihedral_deg": "how its floor rises outboard; 0 where missing",
        "heat_w_m2_k": "heat that a square metre of skin lets through for each kelvin",
        "structure_kj_k": "heat that its structure takes up for each kelvin",
        "neighbours": "`{ other tank = W/K }`: heat through a shared wall; each pair of tanks once",
        "overflows": "`{ to = tank or vent, at_l = volume }`: where fuel goes that it cannot hold",
        "outline_m": "its outline on the plan, three points or more",
    },
    "vents": {
        "label": LABEL,
        "surge_l": "what its surge space holds before fuel leaves the aircraft; 0 where missing",
        "drains_to": "the tank that the surge space drains to",
        "drain_kg_h": "how fast it drains; 0 where missing",
        "relief_bar": "pressure across the tank wall at which a blocked vent is relieved; 0.05 where missing",
        "at_m": AT_M,
    },
    "nodes": {"label": LABEL, "at_m": AT_M},
    "pumps": {
        "label": LABEL,
        "from": "the tank that it draws from",
        "to": "the node that it delivers to",
        "shut_off_bar": "delivery pressure at no flow",
        "linear_bar_h_t": CURVE,
        "square_bar_h2_t2": SQUARE,
        "uncovers_l": "it draws air when its tank holds less",
        "recovers_l": "it primes again when its tank holds more",
        "crew": "`false` where no switch runs it (otherwise a switch, off or on)",
        "runs_when": "condition under which the automatics let it run",
        "bus": BUS,
        "at_m": AT_M,
    },
    "bypasses": {
        "label": LABEL,
        "from": "the tank that it draws from",
        "to": "the node that it feeds",
        "head_bar": "pressure that the tank's own height gives",
        "linear_bar_h_t": CURVE,
        "square_bar_h2_t2": SQUARE,
        "uncovers_l": "it draws air when its tank holds less",
        "recovers_l": "it draws fuel again when its tank holds more",
        "at_m": AT_M,
    },
    "check-valves": {
        "label": LABEL,
        "from": "the node on its inlet",
        "to": "the node on its outlet",
        "linear_bar_h_t": CURVE,
        "square_bar_h2_t2": SQUARE,
        "at_m": AT_M,
    },
    "valves": {
        "label": LABEL,
        "between": "two nodes, or a node and a tank or an outlet; missing where another part has it in its "
        "line",
        "linear_bar_h_t": CURVE,
        "square_bar_h2_t2": SQUARE,
        "stroke_s": "time from shut to open",
        "crew": "`true` where people set it",
        "opens_when": "condition under which it is open, where people do not set it",
        "bus": BUS,
        "at_m": AT_M,
    },
    "outlets": {"label": LABEL, "purpose": "`jettison` or `defuel`", "at_m": AT_M},
    "transfers": {
        "label": LABEL,
        "from": "the higher tank",
        "to": "the lower tank",
        "valve": "the valve in its pipe, where it has one",
        "area_cm2": "area of the pipe",
        "discharge": "discharge coefficient",
    },
    "returns": {
        "label": LABEL,
        "engine": "the engine whose oil the fuel has cooled",
        "to": "the tank that it comes back to",
        "valve": "the valve in its line",
        "flow_kg_h": "flow while the valve is open",
        "heat_kw": "heat that goes into the oil while the engine runs",
        "oil_kj_k": "heat that the oil takes up for each kelvin",
        "oil_loss_w_k": "heat that the oil loses without return flow, to the engine's own fuel and the air",
    },
    "jet-pumps": {
        "label": LABEL,
        "from": "the tank that it empties",
        "to": "the tank that it fills",
        "motive": "the pump that drives it",
        "motive_kg_h_at_1_bar": "driving flow at one bar",
        "entrainment": "how much it moves for each kilogram that drives it",
        "stops_l": "it draws air when its tank holds less",
        "recovers_l": "it draws fuel again when its tank holds more",
        "runs_when": "condition under which it may run",
        "at_m": AT_M,
    },
    "supplies": {
        "label": LABEL,
        "to": "the node that it delivers to",
        "shut_off_bar": "delivery pressure at no flow",
        "linear_bar_h_t": CURVE,
        "square_bar_h2_t2": SQUARE,
        "runs_when": "condition under which it delivers",
        "bus": BUS,
        "at_m": AT_M,
    },
    "engines": {
        "label": LABEL,
        "side": "`left`, `centre` or `right`",
        "node": "the node that it draws from",
        "valve": "the valve in its line",
        "runs_when": "condition under which it runs",
        "start_s": "time from start to running",
        "start_flow_kg_h": "flow while it starts",
        "idle_flow_kg_h": "lowest flow while it runs",
        "inlet_gas_share": "volume of gas that its pump takes with a volume of liquid; 0.35 where missing",
        "line_linear_bar_h_t": f"{CURVE}; 0.005 where missing",
        "line_square_bar_h2_t2": f"{SQUARE}; 0.002 where missing",
        "at_m": AT_M,
    },
    "apus": {
        "label": LABEL,
        "node": "the node that it draws from",
        "valve": "the valve in its line",
        "runs_when": "condition under which it runs",
        "start_s": "time from start to running",
        "start_flow_kg_h": "flow while it starts",
        "run_flow_kg_h": "flow while it runs",
        "inlet_gas_share": "volume of gas that its pump takes with a volume of liquid; 0.35 where missing",
        "line_linear_bar_h_t": f"{CURVE}; 0.005 where missing",
        "line_square_bar_h2_t2": f"{SQUARE}; 0.002 where missing",
        "at_m": AT_M,
    },
    "filters": {
        "label": LABEL,
        "user": "the engine or APU in whose line it stands; one each at most",
        "linear_bar_h_t": CURVE,
        "square_bar_h2_t2": SQUARE,
        "bypass_bar": "pressure across it at which fuel passes round it",
        "at_m": AT_M,
    },
    "controls": {
        "label": LABEL,
        "settings": "the words that it can be set to; the first is how it starts",
        "quantity": "`{ unit, least, most }` instead, where it is set to a number",
    },
    "buses": {"label": LABEL, "powered_when": "condition under which it has power"},
    "sensors": {
        "label": LABEL,
        "tank": "the tank that it stands in",
        "wet_at_l": "wet at this volume or more",
        "dry_at_l": "dry again at this volume or less",
        "bus": BUS,
        "at_m": f"{AT_M}; the middle of its tank where missing",
    },
    "gauging": {
        "corrects_attitude": "`true` where the gauging computer knows pitch and roll, and reads probes by "
        "how the tank then lies; `false` where missing: they are read as if it lay level",
    },
    "probes": {"label": LABEL, "tank": "the tank whose height of fuel it measures", "bus": BUS, "at_m": AT_M},
    "compensators": {
        "label": LABEL,
        "tank": "the tank whose fuel it measures; one each at most",
        "bus": BUS,
    },
    "meters": {"label": LABEL, "engine": "the engine whose flow it measures; one each at most", "bus": BUS},
    "totalisers": {"label": LABEL, "bus": BUS},
    "displays": {
        "label": LABEL,
        "shows": "the figure: `gross_kg`, or `computed_kg` (departure fuel less what was used and "
        "jettisoned)",
        "shown_when": "condition under which it is available",
    },
    "rules": {
        "label": LABEL,
        "bus": "the bus that powers it; without power it does not act",
        "sentence": "what *because* says; quantities in braces, `{430 kg}`, follow the reader's units",
        "starts": "condition that makes it active",
        "after_s": "how long that must have been true",
        "ends": "condition that makes it inactive again",
        "lasts_s": "a fixed time instead of `ends`; with neither it lasts while `starts` is true",
    },
    "alerts": {
        "level": "`warning`, `caution` or `advisory`, by 14 CFR 25.1322",
        "text": "what it says",
        "when": "condition under which it is shown",
        "after_s": "how long that must have been true",
        "note": "why it is made so, for the page of alerts",
    },
    "plan": {
        "fuselage_m": "right half of the fuselage's outline",
        "wing_m": "outline of the right wing",
        "nacelle_m": "outline of the right engine",
    },
}

SCRIPT_TOP: Keys = {
    "format": f'`"{SCRIPT_FORMAT}"`',
    "name": "the script's name in links and commands",
    "title": "its name for people",
    "aircraft": "the aircraft that it is written for",
    "ends_at": "end of the flight, h:mm:ss",
}

SCRIPT_SECTIONS: dict[str, Keys] = {
    "load": {
        "zero_fuel_kg": "mass of the loaded aircraft without fuel",
        "zero_fuel_cg_percent": "its centre of gravity; the aircraft's usual one where missing",
        "wear_factor": "what wear multiplies the fuel flow by; 1 where missing",
    },
    "fuel": {
        "density_15c_kg_m3": "density at 15 °C",
        "declared_density_15c_kg_m3": "what the truck's ticket says; the true one where missing",
        "uplift_temperature_c": "temperature of what is taken on",
        "freezing_c": "freezing point; -47 where missing",
        "light_ends": "what light fractions multiply the vapour pressure by, 1 to 3; 1.5 where missing",
    },
    "air": {"deviation_k": "how much warmer than the standard atmosphere"},
    "initial.tanks": {
        "actual_kg": "what the tank holds, one line a tank",
        "temperature_c": "how warm it is",
    },
    "initial.used_kg": {"engine": "fuel-used figure of the last flight, one line an engine"},
    "initial.parts": {
        "part": "state in which a rule, valve or control is found, where it is not its usual one"
    },
    "plan": {
        "taxi_kg": "planned for taxi",
        "trip_kg": "planned for the trip",
        "contingency_kg": "planned against the unforeseen",
        "alternate_kg": "planned to reach the alternate",
        "final_reserve_kg": "30 minutes' holding",
    },
    "phases": {
        "name": "one table a phase, in order; the first at 0:00:00",
        "label": "what people call it; made from the name where missing",
        "at": "its beginning, h:mm:ss",
    },
    "path": {
        "at": "one table a point, in order; straight lines in between",
        "altitude_ft": "altitude",
        "mach": "Mach number",
        "ground": "`true` on the ground",
        "pitch_deg": "attitude on the way to this point, nose up, against level cruise",
        "roll_deg": "the same, right wing down",
    },
    "actions": {
        "at": "when people do this, h:mm:ss; or",
        "when": "a condition: they do it the first time that it is true",
        "after_s": "how long the condition must have been true",
        "set": "`{ part = state }`, one or more",
        "note": "what is done, in a sentence",
    },
    "troubles": {
        "name": "what links and pages call it; `trouble-1` and so on by position where missing",
        "part": "the part that has it",
        "kind": "what is wrong, from the catalogue below",
        "figure": "how bad it is, under the key that the catalogue names; the usual figure where missing",
        "at": "when it begins, h:mm:ss; or",
        "when": "a condition: it begins the first time that it is true",
        "after_s": "how long the condition must have been true",
        "until": "when it ends, h:mm:ss; or",
        "lasts_s": "how long it lasts; with neither, until it is mended",
        "note": "what has happened, in a sentence",
    },
    "mendings": {
        "at": "when every trouble of a part ends, h:mm:ss",
        "part": "the part that is mended",
    },
}

_CONDITIONS = """## Conditions

A condition is read into a small tree and checked against known names when the file is read; it is never run
as code.

```text
centre-feed is automatic and (main-left.gauged_kg <= 900 kg or main-right.gauged_kg <= 900 kg)
main-left-aft is not "running, held back"
fallen(main-right.gauged_kg) >= 430 kg
total.gauged_kg < preselect.value_kg
total.gauged_kg < preselect.value_kg by 200 kg
```

A state of several words stands in quotes. A number carries its unit: kg, kg/h, L, bar, °C, ft, s, %, °,
kN·m. `fallen` and `risen` count from the moment when the rule last became active. `by` asks for a margin
between two quantities: the first is more than so much below, or above, the second. Quantities are named
`part.figure_unit`; the [document of a flight](flight-document.md) lists them.
"""

_SOUND = """## What does not hold together

A file that can be read is then looked at as a whole. Refused are rules and buses that wait on themselves, a
rule whose end holds whenever it starts, a condition that can never hold, tanks that overflow in a circle, a
level above its tank, a valve in no line or in two, and an outlet that no valve leads to.
"""

_VARIANTS = """## A variant

A file that gives only what differs from a whole script. `[changes]` holds any figure of a bench page's form,
by its key; a key with a dot stands in quotes. `[plan]` may stand beside it, whole. The scripts that ship have
variants of their own: a hot day, a cold day, a short sector, tankering.

```toml
format = "wetwing-script/1"
name = "day-sector-hot"
title = "Day sector, on a hot day"
based_on = "day-sector"

[changes]
"air.deviation_k" = 25
"fuel.uplift_temperature_c" = 36
"duration.cruise" = 200
```
"""

_TROUBLES = """## What can go wrong

[Troubles](troubles.md) lists every kind of trouble by the kind of part, with its figure, range and key. A
share is of the whole, 0.6 for 60 %. A tank's leak is what a full tank loses in an hour, a node's what it
loses at 1 bar. A gauge's bias is in per cent of what it measures.
"""

_EDITS = """## Edits

An edit is one part, one time and one word: a setting (`open`), a trouble (`stuck open`, `leak 1200`; the
kind alone has its usual figure), or `mended`, which ends every trouble of that part.
"""


def _keys(keys: Keys) -> str:
    return "\n".join(
        ["| Key | Meaning |", "| --- | --- |", *(f"| `{key}` | {text} |" for key, text in keys.items()), ""]
    )


def _schema(name: str) -> str:
    return (
        f"A [JSON Schema](../assets/schemas/{name}-1.json) of this format serves editors and checks of your "
        "own. It knows keys, kinds, ranges and words; what only the whole file shows, the reader refuses.\n"
    )


def aircraft_file() -> str:
    """The page on the aircraft's file."""
    parts = [
        "# The aircraft's file\n",
        "An aircraft is one TOML file. Units stand in the keys. Every part has a name of its own in its "
        "section's heading, `[tanks.main-left]`, and that name is what conditions, scripts and links use."
        " An unknown key, a missing one, a value out of its range or a name that nothing has is refused "
        "with file, key, what was found, what is allowed, and the nearest valid name.\n",
        _schema("aircraft"),
        _keys(AIRCRAFT_TOP),
    ]
    parts += [f"## `[{name}]`\n\n{_keys(keys)}" for name, keys in AIRCRAFT_SECTIONS.items()]
    return "\n".join([*parts, _CONDITIONS, _SOUND])


def script_file() -> str:
    """The page on the flight's script."""
    parts = [
        "# The script of a flight\n",
        "A script is one TOML file: the loading, the air, the way, the phases, and what people do. "
        "Nothing in it says what the fuel system does: that is what the simulation works out. The same "
        "aircraft and script give the same flight, to the last bit.\n",
        _schema("script"),
        _keys(SCRIPT_TOP),
    ]
    parts += [f"## `{name}`\n\n{_keys(keys)}" for name, keys in SCRIPT_SECTIONS.items()]
    return "\n".join([*parts, _VARIANTS, _TROUBLES, _EDITS, _CONDITIONS])

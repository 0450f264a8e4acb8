"""Two reference pages from an aircraft's file: what it is made of, and what its automatics do."""

from collections.abc import Iterable, Sequence

from wetwing.aircraft.condition import Condition
from wetwing.aircraft.model import Aircraft, Engine, Part, Pump, Rule, Valve
from wetwing.teach.words import in_sentence, number, span
from wetwing_tools.site.html import marked
from wetwing_tools.site.naming import title

Row = Sequence[str]

POWERED_WHOLE = {
    "valve": "valves",
    "sensor": "level sensors",
    "probe": "gauging probes",
    "compensator": "compensators",
}
"""Kinds of part that are told by their number where one bus powers all of them."""
MANY = 4


def table(heads: Row, rows: Iterable[Row]) -> str:
    """A Markdown table; none of it where there are no rows."""
    lines = [" | ".join(row) for row in rows]
    if not lines:
        return ""
    return (
        "\n".join(f"| {line} |" for line in (" | ".join(heads), " | ".join("---" for _ in heads), *lines))
        + "\n"
    )


def sheet(aircraft: Aircraft) -> str:
    """The aircraft's page: tanks, pumps, valves, users, sensors, what people set."""
    limits = aircraft.limits
    least, most = limits.fuel_density_kg_m3
    parts = [
        f"# {title(aircraft)}: the fuel system\n",
        f"{aircraft.title}, revision {aircraft.revision}, of {aircraft.operator}: a fictional aircraft. "
        f"This page is made from its file, `{aircraft.name}.toml`, when the site is built. "
        "The name in code is the one that scripts, links and the command line use.\n",
        "## Limits\n",
        table(
            ("Limit", "Value"),
            [
                ("Zero-fuel mass", _figure(limits.zero_fuel_kg, "kg")),
                ("Take-off mass", _figure(limits.take_off_kg, "kg")),
                ("Landing mass", _figure(limits.landing_kg, "kg")),
                ("Ceiling", _figure(limits.ceiling_ft, "ft")),
                (
                    "Centre of gravity",
                    "{:g} to {:g} % of the mean aerodynamic chord".format(
                        *aircraft.balance.cg_limits_percent
                    ),
                ),
                ("Fuel density", f"{least:g} to {most:g} kg/m³"),
            ],
        ),
        "## Tanks\n",
        "A gauge reads zero at the unusable quantity (14 CFR 25.1337(b)). "
        "What a full tank cannot hold goes on to the place that the last column names.\n",
        table(
            ("Tank", "Name", "Capacity", "Unusable", "Overflows at", "To"),
            [
                (
                    tank.label,
                    f"`{tank.name}`",
                    _figure(tank.capacity_l, "L"),
                    _figure(tank.unusable_kg, "kg"),
                    _figure(tank.overflow.at_l, "L"),
                    _label(aircraft, tank.overflow.to),
                )
                for tank in aircraft.tanks
            ],
        ),
        "## Pumps\n",
        "Delivery pressure falls with flow, from the pressure at no flow. Every pump has a check valve at"
        " its outlet, so the pump that pushes harder shuts the other's. No two are equal.\n",
        table(
            ("Pump", "Name", "From", "To", "At no flow", "At 3 t/h", "Draws air below"),
            [_pump(aircraft, pump) for pump in aircraft.pumps],
        ),
        "### When the automatics let a pump run\n",
        table(
            ("Pump", "Condition"),
            [(pump.label, _code(pump.runs_when)) for pump in aircraft.pumps if pump.runs_when],
        ),
        "### Suction bypasses\n",
        "With no pump running, fuel reaches a manifold from its own main tank through a bypass and a "
        "check valve.\n",
        table(
            ("Bypass", "Name", "From", "To"),
            [
                (b.label, f"`{b.name}`", _label(aircraft, b.tank), _label(aircraft, b.node))
                for b in aircraft.bypasses
            ],
        ),
        "## Valves\n",
        table(
            ("Valve", "Name", "Between", "Stroke", "Opens when"),
            [_valve(aircraft, valve) for valve in aircraft.valves],
        ),
        "## Fuel that moves between tanks\n",
        table(
            ("Way", "Name", "From", "To", "By"),
            [
                *(
                    (
                        t.label,
                        f"`{t.name}`",
                        _label(aircraft, t.from_tank),
                        _label(aircraft, t.to_tank),
                        f"gravity, through {in_sentence(_label(aircraft, t.valve))}"
                        if t.valve
                        else "gravity",
                    )
                    for t in aircraft.transfers
                ),
                *(
                    (
                        j.label,
                        f"`{j.name}`",
                        _label(aircraft, j.from_tank),
                        _label(aircraft, j.to_tank),
                        f"jet pump, driven by {in_sentence(_label(aircraft, j.motive))}",
                    )
                    for j in aircraft.jet_pumps
                ),
                *(
                    (
                        r.label,
                        f"`{r.name}`",
                        _label(aircraft, r.engine),
                        _label(aircraft, r.to_tank),
                        f"return flow of {_figure(r.flow_kg_h, 'kg/h')}",
                    )
                    for r in aircraft.returns
                ),
            ],
        ),
        "## Engines and APU\n",
        table(
            ("User", "Name", "Fed from", "Through", "Start", "Runs when"),
            [_user(aircraft, user) for user in (*aircraft.engines, *aircraft.apus)],
        ),
        "## Filters\n" if aircraft.filters else "",
        table(
            ("Filter", "Name", "In the line of", "Bypassed at"),
            [
                (f.label, f"`{f.name}`", _label(aircraft, f.user), f"{f.bypass_bar:g} bar")
                for f in aircraft.filters
            ],
        ),
        "## Outlets\n" if aircraft.outlets else "",
        table(
            ("Outlet", "Name", "For"),
            [(outlet.label, f"`{outlet.name}`", outlet.purpose) for outlet in aircraft.outlets],
        ),
        "## Electrical power\n" if aircraft.buses else "",
        table(
            ("Bus", "Name", "Has power when", "Powers"),
            [
                (bus.label, f"`{bus.name}`", _code(bus.powered_when), _powered(aircraft, bus.name))
                for bus in aircraft.buses
            ],
        ),
        "## Gauging\n" if aircraft.probes else "",
        "A probe measures the height of the fuel at its place. A compensator measures the fuel itself, so "
        "that height becomes mass. A meter measures what its engine burns.\n"
        if aircraft.probes
        else "",
        table(
            ("Instrument", "Name", "Of"),
            [
                *((p.label, f"`{p.name}`", _label(aircraft, p.tank)) for p in aircraft.probes),
                *((c.label, f"`{c.name}`", _label(aircraft, c.tank)) for c in aircraft.compensators),
                *((m.label, f"`{m.name}`", _label(aircraft, m.engine)) for m in aircraft.meters),
                *((t.label, f"`{t.name}`", "all tanks") for t in aircraft.totalisers),
            ],
        ),
        "## Level sensors\n",
        "A level sensor is a point in the tank, independent of the gauges.\n",
        table(
            ("Sensor", "Name", "Wet at", "Dry again at"),
            [
                (s.label, f"`{s.name}`", _figure(s.wet_at_l, "L"), _figure(s.dry_at_l, "L"))
                for s in aircraft.sensors
            ],
        ),
        "## What people set\n",
        table(
            ("Control", "Name", "Settings"),
            [_settable(part) for part in aircraft.parts.values() if _is_set(part)],
        ),
        "## States\n",
        "Every state is a word. A condition names a state of several words in quotes.\n",
        table(("Kind of part", "States"), _states(aircraft)),
    ]
    return "\n".join(part for part in parts if part)


def rules(aircraft: Aircraft, level: int = 1) -> str:
    """The automatics' page: each rule in a sentence, with the condition that the simulation obeys. `level` is
    that of its heading.
    """
    head = "#" * level
    parts = [
        f"{head} {title(aircraft)}: what the automatics do\n",
        "Each rule has a name, a sentence, and conditions. The sentence is what *because* says in the "
        "panel; the conditions are what the simulation obeys. A rule is inactive until its first "
        "condition has been true for the time given; it stays active until its last condition, for a "
        "fixed time, or as long as the first condition holds.\n",
    ]
    parts += [_rule(rule, f"{head}#") for rule in aircraft.rules]
    return "\n".join(parts)


def _rule(rule: Rule, head: str) -> str:
    lines = [
        f"{head} {rule.label}\n",
        f"{marked(rule.sentence)}\n",
        f"- Name: `{rule.name}`",
        f"- Starts: {_code(rule.starts)}",
    ]
    if rule.after_s:
        lines.append(f"- Once that has been true for {span(rule.after_s)}")
    if rule.bus:
        lines.append(f"- Needs power from: `{rule.bus}`")
    if rule.lasts_s is not None:
        lines.append(f"- Lasts: {span(rule.lasts_s)}")
    elif rule.ends is not None:
        lines.append(f"- Ends: {_code(rule.ends)}")
    else:
        lines.append("- Ends: when that is no longer true")
    return "\n".join([*lines, ""])


def _figure(amount: float, unit: str) -> str:
    return f"{number(amount)} {unit}" if amount == int(amount) else f"{amount:g} {unit}"


def _code(condition: Condition | None) -> str:
    # A condition that the file sets over several lines has blanks inside its brackets.
    return f"`{condition.text.replace('( ', '(').replace(' )', ')')}`" if condition else "–"


def _label(aircraft: Aircraft, name: str | None) -> str:
    return aircraft.parts[name].label if name in aircraft.parts else "–"


def _powered(aircraft: Aircraft, bus: str) -> str:
    """What a bus powers; where that is every part of a kind, and they are many, their number."""
    parts = list(aircraft.parts.values())
    powered = [part for part in parts if getattr(part, "bus", None) == bus]
    whole = {
        kind: len(own)
        for kind, own in ((kind, [part for part in parts if part.kind == kind]) for kind in POWERED_WHOLE)
        if len(own) >= MANY and all(part in powered for part in own)
    }
    found = [part.label for part in powered if part.kind not in whole]
    found += [f"all {count} {POWERED_WHOLE[kind]}" for kind, count in whole.items()]
    return "; ".join(found) or "–"


def _pump(aircraft: Aircraft, pump: Pump) -> Row:
    at_3_t_h = pump.shut_off_bar - pump.linear_bar_h_t * 3.0 - pump.square_bar_h2_t2 * 9.0
    at_flow = f"{at_3_t_h:.2f} bar" if at_3_t_h > 0.0 else "not reached"
    ends = (_label(aircraft, pump.tank), _label(aircraft, pump.node))
    shut_off = f"{pump.shut_off_bar:.2f} bar"
    return (pump.label, f"`{pump.name}`", *ends, shut_off, at_flow, _figure(pump.uncovers_l, "L"))


def _valve(aircraft: Aircraft, valve: Valve) -> Row:
    ends = [_label(aircraft, end) for end in valve.ends or ()]
    between = " and ".join([*ends[:1], *map(in_sentence, ends[1:])]) or "in its own line"
    moved = "the crew opens it" if valve.crew else _code(valve.opens_when)
    return (valve.label, f"`{valve.name}`", between, span(valve.stroke_s), moved)


def _user(aircraft: Aircraft, user: Engine) -> Row:
    start = f"{span(user.start_s)} at {_figure(user.start_flow_kg_h, 'kg/h')}"
    ends = (_label(aircraft, user.node), _label(aircraft, user.valve))
    return (user.label, f"`{user.name}`", *ends, start, _code(user.runs_when))


def _states(aircraft: Aircraft) -> list[Row]:
    kinds = {
        part.kind: part.states for part in aircraft.parts.values() if part.states and part.kind != "control"
    }
    return [
        (kind.replace("-", " "), ", ".join(f"`{state}`" for state in states))
        for kind, states in kinds.items()
    ]


def _is_set(part: Part) -> bool:
    return bool(part.settings) or part.kind == "control"


def _settable(part: Part) -> Row:
    quantity = getattr(part, "quantity", None)
    if quantity:
        settings = f"a number, {number(quantity.least)} to {number(quantity.most)} {quantity.unit}"
    else:
        settings = ", ".join(part.settings)
    return (part.label, f"`{part.name}`", settings)

"""The feed network read from an aircraft's file: nodes, pumps, lines, valves, outlets, users and filters."""

from typing import Literal, cast

from wetwing.aircraft import model
from wetwing.aircraft.condition import Condition
from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.section import Sections, only_one, resistance
from wetwing.aircraft.table import Table

PUMP_STATES = (
    "off",
    "delivering",
    "running, held back",
    "running, nothing drawn",
    "stopped by automatics",
    "dry",
    "failed",
    "no power",
    "flowing back",
)
VALVE_STATES = ("shut", "moving", "open")
USER_STATES = ("off", "starting", "running", "stopped for want of fuel", "failed")


def nodes(sections: Sections) -> tuple[model.Node, ...]:
    """`[nodes.X]`."""
    found = []
    for name, table in sections.section("nodes"):
        states = ("fed", "unfed")
        found.append(model.Node(name, table.text("label"), "node", states, (), "unfed", table.point("at_m")))
        table.finish()
    return tuple(found)


def pumps(sections: Sections) -> tuple[model.Pump, ...]:
    """`[pumps.X]`."""
    found = []
    for name, table in sections.section("pumps"):
        crew = table.flag("crew", True)
        runs_when = table.optional_condition("runs_when")
        if not crew and runs_when is None:
            raise Mistake(table.at("runs_when"), "missing", "a condition, since no switch runs this pump")
        found.append(_pump(sections, name, table, "pump", PUMP_STATES, crew=crew, runs_when=runs_when))
    return tuple(found)


def bypasses(sections: Sections) -> tuple[model.Pump, ...]:
    """`[bypasses.X]`."""
    states = ("resting", "feeding", "dry", "flowing back")
    return tuple(
        _pump(sections, name, table, "bypass", states) for name, table in sections.section("bypasses")
    )


def supplies(sections: Sections) -> tuple[model.Pump, ...]:
    """`[supplies.X]`."""
    states = ("off", "delivering", "nothing drawn")
    return tuple(
        _pump(sections, name, table, "supply", states, runs_when=table.condition("runs_when"))
        for name, table in sections.section("supplies")
    )


def _pump(
    sections: Sections,
    name: str,
    table: Table,
    kind: str,
    states: tuple[str, ...],
    *,
    crew: bool = False,
    runs_when: Condition | None = None,
) -> model.Pump:
    tank = sections.tank(table, "from") if kind != "supply" else None
    linear, square = resistance(table)
    uncovers_l = table.number("uncovers_l", 0, 1e6, "L") if tank else 0.0
    pump = model.Pump(
        name=name,
        label=table.text("label"),
        kind=kind,
        states=states,
        settings=("off", "on") if crew else (),
        initial=states[0],
        tank=tank,
        node=table.reference("to", "node", sections.named("nodes")),
        shut_off_bar=table.number("head_bar" if kind == "bypass" else "shut_off_bar", 0, 20, "bar"),
        linear_bar_h_t=linear,
        square_bar_h2_t2=square,
        uncovers_l=uncovers_l,
        recovers_l=table.number("recovers_l", uncovers_l + 1, 1e6 + 1, "L") if tank else 0.0,
        crew=crew,
        runs_when=runs_when,
        bus=sections.bus(table) if kind != "bypass" else None,
        at_m=table.point("at_m"),
    )
    table.finish()
    return pump


def check_valves(sections: Sections) -> tuple[model.CheckValve, ...]:
    """`[check-valves.X]`."""
    found = []
    for name, table in sections.section("check-valves"):
        tail = table.reference("from", "node", sections.named("nodes"))
        tip = table.reference("to", "node", sections.named("nodes"))
        if tail == tip:
            raise Mistake(table.at("to"), f"'{tip}' at both ends", "two different nodes")
        linear, square = resistance(table)
        found.append(
            model.CheckValve(
                name=name,
                label=table.text("label"),
                kind="check-valve",
                states=("shut", "passing"),
                settings=(),
                initial="shut",
                from_node=tail,
                to_node=tip,
                linear_bar_h_t=linear,
                square_bar_h2_t2=square,
                at_m=table.point("at_m"),
            )
        )
        table.finish()
    return tuple(found)


def valves(sections: Sections) -> tuple[model.Valve, ...]:
    """`[valves.X]`."""
    return tuple(_valve(sections, name, table) for name, table in sections.section("valves"))


def _valve(sections: Sections, name: str, table: Table) -> model.Valve:
    ends: tuple[str, str] | None = None
    linear, square = 1e-4, 0.0
    if table.has("between"):
        ends = _ends(sections, table)
        linear, square = resistance(table)
    crew = table.flag("crew", False)
    opens_when = table.optional_condition("opens_when")
    if crew == (opens_when is not None):
        raise Mistake(
            table.at("opens_when"),
            "a valve is moved by the crew or by a condition",
            "either crew = true or opens_when",
        )
    valve = model.Valve(
        name=name,
        label=table.text("label"),
        kind="valve",
        states=VALVE_STATES,
        settings=("shut", "open") if crew else (),
        initial="shut",
        ends=ends,
        linear_bar_h_t=linear,
        square_bar_h2_t2=square,
        stroke_s=table.number("stroke_s", 0.1, 120, "s"),
        crew=crew,
        opens_when=opens_when,
        bus=sections.bus(table),
        at_m=table.point("at_m"),
    )
    table.finish()
    return valve


def _ends(sections: Sections, table: Table) -> tuple[str, str]:
    found = table.texts("between")
    allowed = sections.named("nodes", "tanks", "outlets")
    for end in found:
        if end not in allowed:
            raise unknown(table.at("between"), "node, tank or outlet", end, allowed)
    if len(found) != 2 or found[0] == found[1] or found[0] not in sections.named("nodes"):
        raise Mistake(
            table.at("between"),
            f"found {list(found)}",
            "two different ends, a node first, then a node, a tank or an outlet",
        )
    return found[0], found[1]


def outlets(sections: Sections) -> tuple[model.Outlet, ...]:
    """`[outlets.X]`."""
    found = []
    for name, table in sections.section("outlets"):
        purpose = table.choice("purpose", ("jettison", "defuel"))
        found.append(
            model.Outlet(
                name=name,
                label=table.text("label"),
                kind="outlet",
                states=("dry", "flowing"),
                settings=(),
                initial="dry",
                purpose=cast("Literal['jettison', 'defuel']", purpose),
                at_m=table.point("at_m"),
            )
        )
        table.finish()
    return tuple(found)


def engines(sections: Sections) -> tuple[model.Engine, ...]:
    """`[engines.X]`."""
    found = tuple(_user(sections, name, table, propels=True) for name, table in sections.section("engines"))
    if not found:
        raise Mistake(sections.top.at("engines"), "no engine", "one engine or more")
    return found


def apus(sections: Sections) -> tuple[model.Engine, ...]:
    """`[apus.X]`."""
    return tuple(_user(sections, name, table, propels=False) for name, table in sections.section("apus"))


def _user(sections: Sections, name: str, table: Table, *, propels: bool) -> model.Engine:
    side = table.choice("side", ("left", "centre", "right")) if propels else "centre"
    user = model.Engine(
        name=name,
        label=table.text("label"),
        kind="engine" if propels else "apu",
        states=USER_STATES,
        settings=(),
        initial="off",
        side=cast("model.Side", side),
        node=table.reference("node", "node", sections.named("nodes")),
        valve=table.reference("valve", "valve", sections.named("valves")),
        runs_when=table.condition("runs_when"),
        start_s=table.number("start_s", 1, 600, "s"),
        start_flow_kg_h=table.number("start_flow_kg_h", 1, 20000, "kg/h"),
        idle_flow_kg_h=table.number("idle_flow_kg_h" if propels else "run_flow_kg_h", 1, 20000, "kg/h"),
        inlet_gas_share=table.number("inlet_gas_share", 0.05, 1, "", 0.35),
        line_linear_bar_h_t=table.number("line_linear_bar_h_t", 1e-4, 100, "bar h/t", 0.005),
        line_square_bar_h2_t2=table.number("line_square_bar_h2_t2", 0, 1000, "bar h²/t²", 0.002),
        propels=propels,
        at_m=table.point("at_m"),
    )
    table.finish()
    return user


def filters(sections: Sections) -> tuple[model.Filter, ...]:
    """`[filters.X]`."""
    found = []
    taken: dict[str, str] = {}
    for name, table in sections.section("filters"):
        user = table.reference("user", "engine or APU", sections.named("engines", "apus"))
        only_one(name, user, taken, table, "user")
        linear, square = resistance(table)
        found.append(
            model.Filter(
                name=name,
                label=table.text("label"),
                kind="filter",
                states=("clear", "bypassed"),
                settings=(),
                initial="clear",
                user=user,
                linear_bar_h_t=linear,
                square_bar_h2_t2=square,
                bypass_bar=table.number("bypass_bar", 0.01, 20, "bar"),
                at_m=table.point("at_m"),
            )
        )
        table.finish()
    return tuple(found)

"""Each section of an aircraft's file read into its records. References are checked here; conditions in
`soundness`.
"""

from typing import cast

from wetwing.aircraft import model
from wetwing.aircraft.condition import Condition
from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.table import HUGE, Table

PUMP_STATES = (
    "off",
    "delivering",
    "running, held back",
    "running, nothing drawn",
    "stopped by automatics",
    "dry",
    "failed",
)
VALVE_STATES = ("shut", "moving", "open")
USER_STATES = ("off", "starting", "running", "stopped for want of fuel")


class Reader:
    """Reads the sections of one file in an order in which every reference is to something already read."""

    def __init__(self, top: Table) -> None:
        self.top = top
        self.names: dict[str, tuple[str, ...]] = {}

    def section(self, key: str) -> list[tuple[str, Table]]:
        found = self.top.tables(key)
        self.names[key] = tuple(name for name, _ in found)
        return found

    def named(self, *keys: str) -> tuple[str, ...]:
        names: list[str] = []
        for key in keys:
            found = self.top.values.get(key, {})
            names += list(found) if isinstance(found, dict) else []
        return tuple(names)

    def tanks(self) -> tuple[model.Tank, ...]:
        tanks = [self._tank(name, table) for name, table in self.section("tanks")]
        if not tanks:
            raise Mistake(self.top.at("tanks"), "no tank", "one tank or more")
        return tuple(tanks)

    def _tank(self, name: str, table: Table) -> model.Tank:
        capacity_l = table.number("capacity_l", 1, 1e6, "L")
        overflow = table.table("overflows")
        tank = model.Tank(
            name=name,
            label=table.text("label"),
            kind="tank",
            states=("holding", "spilling"),
            settings=(),
            initial="holding",
            side=cast("model.Side", table.choice("side", ("left", "centre", "right"))),
            capacity_l=capacity_l,
            unusable_kg=table.number("unusable_kg", 0, capacity_l * 0.2, "kg"),
            shape="wedge" if table.choice("shape", ("wedge", "box")) == "wedge" else "box",
            bottom_m=table.number("bottom_m", -20, 20, "m"),
            depth_m=table.number("depth_m", 0.01, 10, "m"),
            heat_full_h=table.number("heat_full_h", 0.05, 100, "h"),
            heat_low_h=table.number("heat_low_h", 0.05, 100, "h"),
            overflow=model.Overflow(
                overflow.reference("to", "tank or vent", self.named("tanks", "vents")),
                overflow.number("at_l", capacity_l * 0.5, capacity_l, "L"),
            ),
            outline_m=table.points("outline_m"),
        )
        overflow.finish()
        table.finish()
        return tank

    def vents(self) -> tuple[model.Vent, ...]:
        vents = []
        for name, table in self.section("vents"):
            vents.append(
                model.Vent(
                    name, table.text("label"), "vent", ("dry", "spilling"), (), "dry", table.point("at_m")
                )
            )
            table.finish()
        return tuple(vents)

    def nodes(self) -> tuple[model.Node, ...]:
        nodes = []
        for name, table in self.section("nodes"):
            nodes.append(
                model.Node(
                    name, table.text("label"), "node", ("fed", "unfed"), (), "unfed", table.point("at_m")
                )
            )
            table.finish()
        return tuple(nodes)

    def _resistance(self, table: Table) -> tuple[float, float]:
        # A linear term of nothing would make a branch at rest infinitely stiff, which no line is and no
        # solver likes.
        return (
            table.number("linear_bar_h_t", 1e-4, 100, "bar h/t"),
            table.number("square_bar_h2_t2", 0, 1000, "bar h²/t²"),
        )

    def pumps(self) -> tuple[model.Pump, ...]:
        pumps = []
        for name, table in self.section("pumps"):
            crew = table.flag("crew", True)
            runs_when = table.optional_condition("runs_when")
            if not crew and runs_when is None:
                raise Mistake(table.at("runs_when"), "missing", "a condition, since no switch runs this pump")
            pumps.append(
                self._pump(
                    name, table, "pump", PUMP_STATES, crew=crew, runs_when=runs_when, head="shut_off_bar"
                )
            )
            table.finish()
        return tuple(pumps)

    def _pump(
        self,
        name: str,
        table: Table,
        kind: str,
        states: tuple[str, ...],
        *,
        crew: bool,
        runs_when: Condition | None,
        head: str,
    ) -> model.Pump:
        tank = table.reference("from", "tank", self.names["tanks"]) if kind != "supply" else None
        linear, square = self._resistance(table)
        uncovers_kg = table.number("uncovers_kg", 0, HUGE, "kg") if tank else 0.0
        return model.Pump(
            name=name,
            label=table.text("label"),
            kind=kind,
            states=states,
            settings=("off", "on") if crew else (),
            initial=states[0],
            tank=tank,
            node=table.reference("to", "node", self.names["nodes"]),
            shut_off_bar=table.number(head, 0, 20, "bar"),
            linear_bar_h_t=linear,
            square_bar_h2_t2=square,
            uncovers_kg=uncovers_kg,
            recovers_kg=table.number("recovers_kg", uncovers_kg + 1, HUGE, "kg") if tank else 0.0,
            crew=crew,
            runs_when=runs_when,
            at_m=table.point("at_m"),
        )

    def bypasses(self) -> tuple[model.Pump, ...]:
        states = ("resting", "feeding", "dry")
        bypasses = []
        for name, table in self.section("bypasses"):
            bypasses.append(
                self._pump(name, table, "bypass", states, crew=False, runs_when=None, head="head_bar")
            )
            table.finish()
        return tuple(bypasses)

    def supplies(self) -> tuple[model.Pump, ...]:
        supplies = []
        for name, table in self.section("supplies"):
            runs_when = table.condition("runs_when")
            states = ("off", "delivering", "nothing drawn")
            supplies.append(
                self._pump(
                    name, table, "supply", states, crew=False, runs_when=runs_when, head="shut_off_bar"
                )
            )
            table.finish()
        return tuple(supplies)

    def check_valves(self) -> tuple[model.CheckValve, ...]:
        lines = []
        for name, table in self.section("check-valves"):
            tail = table.reference("from", "node", self.names["nodes"])
            tip = table.reference("to", "node", self.names["nodes"])
            if tail == tip:
                raise Mistake(table.at("to"), f"'{tip}' at both ends", "two different nodes")
            linear, square = self._resistance(table)
            lines.append(
                model.CheckValve(
                    name,
                    table.text("label"),
                    "check-valve",
                    ("shut", "passing"),
                    (),
                    "shut",
                    tail,
                    tip,
                    linear,
                    square,
                    table.point("at_m"),
                )
            )
            table.finish()
        return tuple(lines)

    def valves(self) -> tuple[model.Valve, ...]:
        valves = [self._valve(name, table) for name, table in self.section("valves")]
        return tuple(valves)

    def _valve(self, name: str, table: Table) -> model.Valve:
        ends: tuple[str, str] | None = None
        linear, square = 1e-4, 0.0
        if table.has("between"):
            found = table.texts("between")
            allowed = (*self.names["nodes"], *self.names["tanks"])
            for end in found:
                if end not in allowed:
                    raise unknown(table.at("between"), "node or tank", end, allowed)
            if len(found) != 2 or found[0] == found[1] or found[0] not in self.names["nodes"]:
                raise Mistake(
                    table.at("between"),
                    f"found {list(found)}",
                    "two different ends, a node first, then a node or a tank",
                )
            ends = (found[0], found[1])
            linear, square = self._resistance(table)
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
            at_m=table.point("at_m"),
        )
        table.finish()
        return valve

    def transfers(self) -> tuple[model.Transfer, ...]:
        transfers = []
        for name, table in self.section("transfers"):
            tail, tip = self._tank_pair(table)
            transfers.append(
                model.Transfer(
                    name=name,
                    label=table.text("label"),
                    kind="transfer",
                    states=("resting", "flowing"),
                    settings=(),
                    initial="resting",
                    from_tank=tail,
                    to_tank=tip,
                    valve=table.reference("valve", "valve", self.names["valves"]),
                    area_m2=table.number("area_cm2", 0.01, 1000, "cm²") / 1e4,
                    discharge=table.number("discharge", 0.05, 1, ""),
                )
            )
            table.finish()
        return tuple(transfers)

    def _tank_pair(self, table: Table) -> tuple[str, str]:
        tail = table.reference("from", "tank", self.names["tanks"])
        tip = table.reference("to", "tank", self.names["tanks"])
        if tail == tip:
            raise Mistake(table.at("to"), f"'{tip}' at both ends", "two different tanks")
        return tail, tip

    def returns(self) -> tuple[model.Return, ...]:
        returns = []
        for name, table in self.section("returns"):
            returns.append(
                model.Return(
                    name=name,
                    label=table.text("label"),
                    kind="return",
                    states=("resting", "flowing"),
                    settings=(),
                    initial="resting",
                    engine=table.reference("engine", "engine", self.named("engines")),
                    to_tank=table.reference("to", "tank", self.names["tanks"]),
                    valve=table.reference("valve", "valve", self.names["valves"]),
                    flow_kg_h=table.number("flow_kg_h", 1, 20000, "kg/h"),
                    temperature_c=table.number("temperature_c", -40, 130, "°C"),
                )
            )
            table.finish()
        return tuple(returns)

    def jet_pumps(self) -> tuple[model.JetPump, ...]:
        jets = []
        for name, table in self.section("jet-pumps"):
            tail, tip = self._tank_pair(table)
            stops_kg = table.number("stops_kg", 0, HUGE, "kg")
            jets.append(
                model.JetPump(
                    name=name,
                    label=table.text("label"),
                    kind="jet-pump",
                    states=("resting", "flowing", "dry"),
                    settings=(),
                    initial="resting",
                    from_tank=tail,
                    to_tank=tip,
                    motive=table.reference("motive", "pump", self.names["pumps"]),
                    motive_kg_h_at_1_bar=table.number("motive_kg_h_at_1_bar", 1, 20000, "kg/h"),
                    entrainment=table.number("entrainment", 0.01, 5, ""),
                    stops_kg=stops_kg,
                    recovers_kg=table.number("recovers_kg", stops_kg + 1, HUGE, "kg"),
                    runs_when=table.optional_condition("runs_when"),
                    at_m=table.point("at_m"),
                )
            )
            table.finish()
        return tuple(jets)

    def engines(self) -> tuple[model.Engine, ...]:
        engines = tuple(self._user(name, table, propels=True) for name, table in self.section("engines"))
        if not engines:
            raise Mistake(self.top.at("engines"), "no engine", "one engine or more")
        return engines

    def apus(self) -> tuple[model.Engine, ...]:
        return tuple(self._user(name, table, propels=False) for name, table in self.section("apus"))

    def _user(self, name: str, table: Table, *, propels: bool) -> model.Engine:
        user = model.Engine(
            name=name,
            label=table.text("label"),
            kind="engine" if propels else "apu",
            states=USER_STATES,
            settings=(),
            initial="off",
            side=cast("model.Side", table.choice("side", ("left", "centre", "right")))
            if propels
            else "centre",
            node=table.reference("node", "node", self.names["nodes"]),
            valve=table.reference("valve", "valve", self.names["valves"]),
            runs_when=table.condition("runs_when"),
            start_s=table.number("start_s", 1, 600, "s"),
            start_flow_kg_h=table.number("start_flow_kg_h", 1, 20000, "kg/h"),
            idle_flow_kg_h=table.number("idle_flow_kg_h" if propels else "run_flow_kg_h", 1, 20000, "kg/h"),
            inlet_least_bar=table.number("inlet_least_bar", -1, 5, "bar"),
            propels=propels,
            at_m=table.point("at_m"),
        )
        table.finish()
        return user

    def controls(self) -> tuple[model.Control, ...]:
        controls = []
        for name, table in self.section("controls"):
            label = table.text("label")
            if table.has("quantity"):
                inner = table.table("quantity")
                unit = inner.choice("unit", ("kg", "l", "percent", "c"))
                least = inner.number("least", 0, HUGE, unit)
                quantity = model.Quantity(unit, least, inner.number("most", least, HUGE, unit))
                inner.finish()
                controls.append(model.Control(name, label, "control", (), (), f"{least:g} {unit}", quantity))
            else:
                settings = table.texts("settings")
                if len(settings) < 2 or len(set(settings)) != len(settings):
                    raise Mistake(
                        table.at("settings"), f"found {list(settings)}", "two different words or more"
                    )
                controls.append(model.Control(name, label, "control", settings, settings, settings[0], None))
            table.finish()
        return tuple(controls)

    def sensors(self) -> tuple[model.Sensor, ...]:
        sensors = []
        for name, table in self.section("sensors"):
            wet_at_l = table.number("wet_at_l", 0.1, 1e6, "L")
            sensors.append(
                model.Sensor(
                    name=name,
                    label=table.text("label"),
                    kind="sensor",
                    states=("dry", "wet"),
                    settings=(),
                    initial="dry",
                    tank=table.reference("tank", "tank", self.names["tanks"]),
                    wet_at_l=wet_at_l,
                    dry_at_l=table.number("dry_at_l", 0, wet_at_l * 0.9999, "L"),
                )
            )
            table.finish()
        return tuple(sensors)

    def displays(self) -> tuple[model.Display, ...]:
        displays = []
        for name, table in self.section("displays"):
            states = ("not available", "shown")
            shows = table.choice("shows", ("gross_kg",))
            displays.append(
                model.Display(
                    name,
                    table.text("label"),
                    "display",
                    states,
                    (),
                    states[0],
                    shows,
                    table.condition("shown_when"),
                )
            )
            table.finish()
        return tuple(displays)

    def rules(self) -> tuple[model.Rule, ...]:
        rules = []
        for name, table in self.section("rules"):
            ends = table.optional_condition("ends")
            lasts_s = table.number("lasts_s", 0.1, 1e6, "s") if table.has("lasts_s") else None
            if ends is not None and lasts_s is not None:
                raise Mistake(table.at("lasts_s"), "found with ends", "either ends or lasts_s")
            rules.append(
                model.Rule(
                    name=name,
                    label=table.text("label"),
                    kind="rule",
                    states=("inactive", "active"),
                    settings=(),
                    initial="inactive",
                    sentence=table.text("sentence"),
                    starts=table.condition("starts"),
                    ends=ends,
                    after_s=table.number("after_s", 0, 1e5, "s", 0.0),
                    lasts_s=lasts_s,
                )
            )
            table.finish()
        return tuple(rules)

    def alerts(self) -> tuple[model.Alert, ...]:
        alerts = []
        for name, table in self.section("alerts"):
            level = table.choice("level", ("warning", "caution", "advisory"))
            text = table.text("text")
            alerts.append(
                model.Alert(
                    name=name,
                    label=text,
                    kind="alert",
                    states=("off", "on"),
                    settings=(),
                    initial="off",
                    level="warning"
                    if level == "warning"
                    else "caution"
                    if level == "caution"
                    else "advisory",
                    text=text,
                    when=table.condition("when"),
                    after_s=table.number("after_s", 0, 1e5, "s", 0.0),
                )
            )
            table.finish()
        return tuple(alerts)

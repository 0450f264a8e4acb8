"""Lines and what flows in them: a thin rest line, and over it a ribbon as wide as the flow."""

from dataclasses import dataclass
from itertools import pairwise
from math import sqrt

from wetwing.aircraft.model import CheckValve, Engine, Filter, Node, Point, Pump, Transfer, Valve
from wetwing.draw.frame import Frame, bend, centroid, pushed_apart, rounded, smooth, towards
from wetwing.draw.svg import Element, make, way

# A refuelling hose carries some fifty times the flow of a pump in cruise: its ribbons are drawn at a tenth of
# the scale.
REFUEL_SHARE = 0.1
WAY_FROM_KG_H = 900.0
BACK_FROM_KG_H = 1.0


@dataclass(frozen=True, slots=True)
class Run:
    """A line of the drawing: its path, what flows in it (quantities joined by ` + `), where an arrow of
    direction stands, and whether a check valve ought to keep fuel from passing backwards: then `back` is
    where the arrow stands that says it does."""

    path: str
    flow: str
    kind: str
    arrow: tuple[Point, Point] | None = None
    back: tuple[Point, Point] | None = None


class Lines:
    """Every line of one drawing."""

    def __init__(self, frame: Frame) -> None:
        self.frame = frame
        aircraft = frame.aircraft
        self.nodes = {node.name: frame.at(node.at_m) for node in aircraft.nodes}
        self.tanks = {tank.name: frame.at(centroid(tank.outline_m)) for tank in aircraft.tanks}
        self.valves = {valve.name: frame.at(valve.at_m) for valve in aircraft.valves}
        self.outlets = {outlet.name: frame.at(outlet.at_m) for outlet in aircraft.outlets}
        self.galleries = {node.name for node in aircraft.nodes if len(self.fillers(node)) > 2}

    def pump_place(self, pump: Pump) -> Point:
        """Return where a pump's symbol stands: its own place, set back from its node where the two would
        touch."""
        own = self.frame.at(pump.at_m)
        return pushed_apart(self.nodes[pump.node], own, 3.9 * self.frame.layout.symbol)

    def fillers(self, node: Node) -> list[Valve]:
        """Return the valves between a node and a tank, from left to right."""
        tanks = {tank.name for tank in self.frame.aircraft.tanks}
        found = [
            valve for valve in self.frame.aircraft.valves
            if valve.ends and node.name in valve.ends and tanks & set(valve.ends)
        ]  # fmt: skip
        return sorted(found, key=lambda valve: valve.at_m[1])

    def runs(self) -> list[Run]:
        """Return every line, rest lines first drawn."""
        aircraft = self.frame.aircraft
        runs = [self._delivery(pump) for pump in (*aircraft.pumps, *aircraft.bypasses)]
        runs += [self._check(valve) for valve in aircraft.check_valves]
        runs += [run for valve in aircraft.valves if (run := self._between_nodes(valve))]
        runs += [run for valve in aircraft.valves if (run := self._to_an_end(valve))]
        runs += [self._supply_of(engine) for engine in (*aircraft.engines, *aircraft.apus)]
        runs += self._returns() + self._transfers() + self._jet_pumps()
        for node in aircraft.nodes:
            if node.name in self.galleries:
                runs += self._gallery(node)
        runs += [self._delivery(supply) for supply in aircraft.supplies if supply.node not in self.galleries]
        return runs

    def _delivery(self, pump: Pump) -> Run:
        node, place = self.nodes[pump.node], self.pump_place(pump)
        start = towards(place, node, self.frame.layout.symbol)
        far = abs(node[0] - place[0]) > 60
        path = bend(start, node) if far else smooth(start, node)
        arrow = (towards(node, place, 26), node) if far else None
        return Run(path, f"{pump.name}.flow_kg_h", "feed", arrow, (node, place))

    def _check(self, valve: CheckValve) -> Run:
        start, end = self.nodes[valve.from_node], self.nodes[valve.to_node]
        via = self.frame.at(valve.at_m)
        return Run(smooth(start, via, end), f"{valve.name}.flow_kg_h", "feed", None, (via, start))

    def _to_an_end(self, valve: Valve) -> Run | None:
        """A valve between a node and a tank or an outlet, where no gallery draws it."""
        if not valve.ends or set(valve.ends) & self.galleries or set(valve.ends) <= set(self.nodes):
            return None
        via = self.valves[valve.name]
        places = []
        for end in valve.ends:
            if end in self.tanks:
                places.append(towards(via, self.tanks[end], 3.2 * self.frame.layout.symbol))
            else:
                places.append(self.nodes.get(end) or self.outlets[end])
        return Run(smooth(places[0], via, places[1]), f"{valve.name}.flow_kg_h", "feed", (via, places[1]))

    def user_goal(self, engine: Engine) -> Point:
        """Return where an engine's line ends: short of the engine, in its nacelle."""
        valve, end = self.valves[engine.valve], self.frame.at(engine.at_m)
        return (end[0], end[1] + (valve[1] - end[1]) * (0.45 if engine.propels else 0.1))

    def filter_place(self, part: Filter) -> tuple[Point, Point]:
        """Return where a filter stands, half-way between its user's valve and the user, and what is beyond
        it."""
        aircraft = self.frame.aircraft
        user = next(user for user in (*aircraft.engines, *aircraft.apus) if user.name == part.user)
        start, goal = self.valves[user.valve], self.user_goal(user)
        return ((start[0] + goal[0]) / 2, (start[1] + goal[1]) / 2), goal

    def transfer_place(self, transfer: Transfer) -> Point:
        """Return where a transfer is named: at its valve, or half-way between its tanks where it has none."""
        if transfer.valve:
            return self.valves[transfer.valve]
        start, end = self.tanks[transfer.from_tank], self.tanks[transfer.to_tank]
        return (start[0] + end[0]) / 2, (start[1] + end[1]) / 2

    def _between_nodes(self, valve: Valve) -> Run | None:
        if not valve.ends or not all(end in self.nodes for end in valve.ends):
            return None
        first, second = (self.nodes[end] for end in valve.ends)
        via = self.valves[valve.name]
        corners = [(end[0] + (via[0] - end[0]) * 0.16, via[1]) for end in (first, second)]
        path = rounded(14, first, corners[0], via, corners[1], second)
        arrow = (via, (via[0] + (second[0] - first[0]) * 0.2, via[1]))
        return Run(path, f"{valve.name}.flow_kg_h", "feed", arrow)

    def _supply_of(self, engine: Engine) -> Run:
        node, valve = self.nodes[engine.node], self.valves[engine.valve]
        flows = [f"{engine.name}.flow_kg_h"]
        flows += [
            f"{back.name}.flow_kg_h" for back in self.frame.aircraft.returns if back.engine == engine.name
        ]
        goal = self.user_goal(engine)
        arrow = (valve, goal) if engine.propels else None
        return Run(smooth(node, valve, goal), " + ".join(flows), "feed", arrow)

    def metered(self) -> list[Run]:
        """Return the lines whose flow a meter shows: from each engine's valve to the engine."""
        aircraft = self.frame.aircraft
        metered = {meter.engine for meter in aircraft.meters}
        runs = []
        for engine in aircraft.engines:
            if engine.name in metered:
                valve, goal = self.valves[engine.valve], self.user_goal(engine)
                runs.append(Run(smooth(valve, goal), f"{engine.name}.metered_kg_h", "feed", (valve, goal)))
        return runs

    def _returns(self) -> list[Run]:
        runs = []
        for back in self.frame.aircraft.returns:
            engine = next(part for part in self.frame.aircraft.engines if part.name == back.engine)
            start = self.frame.at(engine.at_m)
            via, tank = self.valves[back.valve], self.tanks[back.to_tank]
            goal = (tank[0] + (via[0] - tank[0]) * 0.12, tank[1] + (via[1] - tank[1]) * 0.12)
            side = 1 if via[0] > start[0] else -1
            first = (start[0] + side * 0.45 * self.frame.scale, start[1] + (via[1] - start[1]) * 0.3)
            runs.append(Run(smooth(first, via, goal), f"{back.name}.flow_kg_h", "return"))
        return runs

    def _transfers(self) -> list[Run]:
        runs = []
        for transfer in self.frame.aircraft.transfers:
            via = self.transfer_place(transfer)
            start = towards(via, self.tanks[transfer.from_tank], 4.2 * self.frame.layout.symbol)
            end = towards(via, self.tanks[transfer.to_tank], 4.2 * self.frame.layout.symbol)
            runs.append(Run(smooth(start, via, end), f"{transfer.name}.flow_kg_h", "feed", (via, end)))
        return runs

    def _jet_pumps(self) -> list[Run]:
        runs = []
        for jet in self.frame.aircraft.jet_pumps:
            start = self.frame.at(jet.at_m)
            target = next(tank for tank in self.frame.aircraft.tanks if tank.name == jet.to_tank)
            edge = min((self.frame.at(place) for place in target.outline_m), key=lambda p: _apart(p, start))
            goal = towards(edge, self.tanks[jet.to_tank], 2.6 * self.frame.layout.symbol)
            runs.append(Run(smooth(start, goal), f"{jet.name}.flow_kg_h", "feed"))
        return runs

    def spine(self, node: Node) -> list[tuple[float, Point]]:
        """Return the gallery's line as (metres across, px) from left to right, just aft of its valves."""
        return [
            (valve.at_m[1], self.frame.at((valve.at_m[0] + 0.5, valve.at_m[1])))
            for valve in self.fillers(node)
        ]

    def _gallery(self, node: Node) -> list[Run]:
        valves, spine = self.fillers(node), self.spine(node)
        supplies = [supply for supply in self.frame.aircraft.supplies if supply.node == node.name]
        entry = supplies[0].at_m[1] if supplies else 0.0
        runs = []
        for index, ((_, start), (_, end)) in enumerate(pairwise(spine)):
            # A piece carries what the valves beyond it take, seen from where the hose comes in.
            gap_m = (spine[index][0] + spine[index + 1][0]) / 2
            beyond = [v for v, (y, _) in zip(valves, spine, strict=True) if (y > gap_m) == (gap_m > entry)]
            flow = " + ".join(f"{valve.name}.flow_kg_h" for valve in beyond)
            runs.append(Run(smooth(start, end), flow, "refuel"))
        for valve, (_, place) in zip(valves, spine, strict=True):
            runs.append(Run(smooth(place, self.valves[valve.name]), f"{valve.name}.flow_kg_h", "refuel"))
        for supply in supplies:
            nearest = min((place for _, place in spine), key=lambda p: _apart(p, self.frame.at(supply.at_m)))
            path = smooth(self.frame.at(supply.at_m), nearest)
            runs.append(Run(path, f"{supply.name}.flow_kg_h", "refuel"))
        return runs


def _apart(a: Point, b: Point) -> float:
    return (a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1])


def rest_line(run: Run) -> Element:
    """Draw a line at rest."""
    return make("path", class_=f"rest {run.kind}", d=run.path)


def ribbon(run: Run, px_per_kg_h: float, most_px: float) -> Element:
    """Draw what flows: gone at rest, else as wide as the flow (up to `most_px`), with an arrow where there is
    room for one."""
    scale = px_per_kg_h * (REFUEL_SHARE if run.kind == "refuel" else 1.0)
    # A small flow has still to be seen; returned fuel is drawn as dots, which need some size.
    least = 3.2 if run.kind == "return" else 2.0
    look = f"flow {run.kind}{' one-way' if run.back else ''}"
    group = make("g", class_=look).add(
        make(
            "path",
            d=run.path,
            data_flow=run.flow,
            data_px_per_kg_h=number_exact(scale),
            data_least_px=least,
            data_most_px=most_px,
        )
    )
    if run.arrow:
        start, end = run.arrow
        middle = towards(start, end, 0.5 * _length(start, end))
        group.add(_arrow(middle, end, f"{run.flow}>{WAY_FROM_KG_H:g}"))
        if " + " not in run.flow and not run.back:
            group.add(_arrow(middle, start, f"{run.flow}<-{WAY_FROM_KG_H:g}"))
    if run.back:
        start, end = run.back
        middle = towards(start, end, 0.5 * _length(start, end))
        group.add(_arrow(middle, end, f"{run.flow}<-{BACK_FROM_KG_H:g}", 1.6))
    return group


def _arrow(place: Point, goal: Point, test: str, size: float = 1.0) -> Element:
    """Draw a small head of an arrow at `place`, pointing to `goal`, seen while the test holds."""
    tip, foot = towards(place, goal, 3.0 * size), towards(place, goal, -2.0 * size)
    dx, dy = (tip[0] - foot[0]) / 5.0 * 2.6, (tip[1] - foot[1]) / 5.0 * 2.6
    d = way("M", foot[0] - dy, foot[1] + dx, "L", *tip, "L", foot[0] + dy, foot[1] - dx)
    return make("path", class_="way", d=d, data_when=test)


def _length(a: Point, b: Point) -> float:
    return sqrt(_apart(a, b))


def number_exact(value: float) -> str:
    """Write a scale with as many digits as it has."""
    return f"{value:.6g}"

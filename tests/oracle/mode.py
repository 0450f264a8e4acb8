"""What is on, open or broken between two events."""

from dataclasses import dataclass

from tests.oracle.net import Line, Mouth, Pool, Source
from wetwing.aircraft.model import Aircraft

NEARLY_NOTHING = 1e-4
"""Linear resistance of a hole or a nozzle, which has none of its own; bar h/t."""


@dataclass(frozen=True)
class Mode:
    """Everything discrete that the equations depend on. Tuples run as the aircraft lists its parts."""

    passing: tuple[str, ...]
    driven: tuple[bool, ...]
    strength: tuple[float, ...]
    valves: tuple[str, ...]
    checks: tuple[str, ...]
    users: tuple[str, ...]
    returning: tuple[bool, ...]
    transferring: tuple[str, ...]
    jets: tuple[float, ...]
    spilling: tuple[bool, ...]
    vents: tuple[str, ...]
    blocked: tuple[bool, ...]
    tank_leaks: tuple[float, ...]
    node_leaks: tuple[float, ...]
    early: tuple[float, ...]
    late: tuple[float, ...]
    drag: float
    bleed: float


class Names:
    """Places of the aircraft's parts in its lists."""

    def __init__(self, aircraft: Aircraft) -> None:
        self.sources = (*aircraft.pumps, *aircraft.bypasses, *aircraft.supplies)
        self.users = (*aircraft.engines, *aircraft.apus)
        self.lines = (*aircraft.valves, *aircraft.check_valves)
        self.tank = {part.name: i for i, part in enumerate(aircraft.tanks)}
        self.node = {part.name: i for i, part in enumerate(aircraft.nodes)}
        self.vent = {part.name: i for i, part in enumerate(aircraft.vents)}
        self.source = {part.name: i for i, part in enumerate(self.sources)}
        self.user = {part.name: i for i, part in enumerate(self.users)}
        self.valve = {part.name: i for i, part in enumerate(aircraft.valves)}
        self.outlet = {part.name: i for i, part in enumerate(aircraft.outlets)}


def pools(aircraft: Aircraft, names: Names, mode: Mode) -> list[Pool]:
    """Points that hang together, with what pushes into them and what leads out."""
    lines: list[Line] = []
    mouths: list[Mouth] = []
    for i, valve in enumerate(aircraft.valves):
        if valve.ends is None or mode.valves[i] == "shut":
            continue
        # Half the area: four times the loss.
        worse = 4.0 if mode.valves[i] == "moving" else 1.0
        a, k = worse * valve.linear_bar_h_t, worse * valve.square_bar_h2_t2
        tail, end = names.node[valve.ends[0]], valve.ends[1]
        if end in names.node:
            lines.append(Line(i, tail, names.node[end], a, k, one_way=False))
        elif end in names.tank:
            mouths.append(Mouth("tank", names.tank[end], i, tail, a, k))
        else:
            mouths.append(Mouth("outlet", names.outlet[end], i, tail, a, k))
    for i, check in enumerate(aircraft.check_valves):
        if mode.checks[i] != "shut":
            at = len(aircraft.valves) + i
            ends = names.node[check.from_node], names.node[check.to_node]
            one_way = mode.checks[i] != "open"
            lines.append(Line(at, *ends, check.linear_bar_h_t, check.square_bar_h2_t2, one_way))
    for i, jet in enumerate(aircraft.jet_pumps):
        if mode.jets[i] > 0.0:
            node = names.node[names.sources[names.source[jet.motive]].node]
            mouths.append(_hole("jet", i, node, jet.motive_kg_h_at_1_bar))
    for i, kg_h in enumerate(mode.node_leaks):
        if kg_h > 0.0:
            mouths.append(_hole("leak", i, i, kg_h))
    for i, user in enumerate(names.users):
        for kind, kg_h in (("early", mode.early[i]), ("late", mode.late[i])):
            if kg_h > 0.0 and mode.valves[names.valve[user.valve]] != "shut":
                mouths.append(_hole(kind, i, names.node[user.node], kg_h))
    group = list(range(len(aircraft.nodes)))
    for line in lines:
        one, other = group[line.tail], group[line.tip]
        group = [one if g == other else g for g in group]
    found = []
    for mark in sorted(set(group)):
        nodes = [n for n, g in enumerate(group) if g == mark]
        found.append(
            Pool(
                nodes,
                [
                    Source(
                        i,
                        names.node[s.node],
                        s.linear_bar_h_t,
                        s.square_bar_h2_t2,
                        mode.passing[i] in ("both", "back"),
                        mode.passing[i] == "back",
                    )
                    for i, s in enumerate(names.sources)
                    if mode.passing[i] and names.node[s.node] in nodes
                ],
                [line for line in lines if line.tail in nodes],
                [mouth for mouth in mouths if mouth.node in nodes],
            )
        )
    return found


def _hole(kind: str, index: int, node: int, at_1_bar_kg_h: float) -> Mouth:
    return Mouth(kind, index, -1, node, NEARLY_NOTHING, (1000.0 / at_1_bar_kg_h) ** 2)

"""From what is open and running to the networks that carry fuel.

A `Configuration` is one arrangement of open valves and driven pumps: the separate networks, and who is on. It
is made once for each arrangement that a flight meets.
"""

from dataclasses import dataclass, replace

from wetwing.aircraft.model import Aircraft, Engine, Pump
from wetwing.physics.network import OUTSIDE, Branch, Network

Line = tuple[int, int, Branch]
"""Index of the first node, of the second node or the tank, and the branch."""

BURNING = ("starting", "running")


@dataclass(frozen=True, slots=True)
class Component:
    """Nodes that hang together, and their network. Branch i is `sources[i]` or, after those, `lines[i]`.

    Up to a demand of `lead_until_t_h` one tank, `lead_tank`, feeds a single node alone: then its outflow is
    the demand, whatever its pumps share. Beyond it, and at several nodes, the network has to be solved.
    """

    nodes: tuple[int, ...]
    network: Network
    lead_tank: int
    lead_until_t_h: float
    sources: tuple[int, ...]
    lines: tuple[int, ...]
    line_tanks: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Twig:
    """A node without a source that hangs on one line: what is drawn there comes through that line.

    `before` is the node at the line's other end, or -1 where the line lets nothing pass this way. `sign` is
    the line's own direction: +1 where it runs towards the twig.
    """

    node: int
    before: int
    line: int
    sign: float
    branch: Branch


@dataclass(frozen=True, slots=True)
class Configuration:
    """One arrangement of the network and of everything else that is on or off between two events."""

    components: tuple[Component, ...]
    twigs: tuple[Twig, ...]
    running: tuple[int, ...]
    starting: tuple[int, ...]
    returning: tuple[int, ...]
    transferring: tuple[int, ...]
    jetting: tuple[int, ...]
    spilling: tuple[bool, ...]
    drag_zero_lift: float


@dataclass(frozen=True, slots=True)
class Active:
    """What the discrete side says is on: the input from which a configuration is made (and its key)."""

    sources: tuple[bool, ...]
    valves: tuple[str, ...]
    users: tuple[str, ...]
    returns: tuple[bool, ...]
    transfers: tuple[bool, ...]
    jets: tuple[bool, ...]
    spilling: tuple[bool, ...]
    extra_drag: tuple[bool, ...]


class Wiring:
    """The aircraft's lines, as indices of nodes, tanks and sources."""

    def __init__(
        self,
        aircraft: Aircraft,
        sources: tuple[Pump, ...],
        users: tuple[Engine, ...],
        node_index: dict[str, int],
        tank_index: dict[str, int],
    ) -> None:
        self.aircraft = aircraft
        self.sources = sources
        self.users = users
        self.node_index = node_index
        self.tank_index = tank_index
        self.source_tanks = [tank_index[source.tank] if source.tank else -1 for source in sources]
        self.user_nodes = [node_index[user.node] for user in users]

    def configure(self, active: Active) -> Configuration:
        """The networks, and everything else, that these switches, valves and states make."""
        lines, outlets = self._lines(active)
        twigs = self._prune(lines, outlets, active)
        components = [self._component(nodes, lines, outlets, active) for nodes in self._pieces(lines)]
        drag = self.aircraft.airframe.drag_zero_lift
        for on, (_, adds) in zip(active.extra_drag, self.aircraft.airframe.extra_drag, strict=True):
            drag += adds if on else 0.0
        return Configuration(
            components=tuple(component for component in components if component),
            twigs=twigs,
            running=tuple(i for i, state in enumerate(active.users) if state == "running"),
            starting=tuple(i for i, state in enumerate(active.users) if state == "starting"),
            returning=tuple(i for i, on in enumerate(active.returns) if on),
            transferring=tuple(i for i, on in enumerate(active.transfers) if on),
            jetting=tuple(i for i, on in enumerate(active.jets) if on),
            spilling=active.spilling,
            drag_zero_lift=drag,
        )

    def _lines(self, active: Active) -> tuple[dict[int, Line], dict[int, Line]]:
        """Lines between nodes, and outlets into tanks, by line index (valves, then check valves)."""
        lines: dict[int, Line] = {}
        outlets: dict[int, Line] = {}
        for i, valve in enumerate(self.aircraft.valves):
            if not valve.ends or active.valves[i] == "shut":
                continue
            # A valve on its way passes through half its area: four times the pressure for the same flow.
            part = 4.0 if active.valves[i] == "moving" else 1.0
            a, k = valve.linear_bar_h_t * part, valve.square_bar_h2_t2 * part
            tail, end = self.node_index[valve.ends[0]], valve.ends[1]
            if end in self.tank_index:
                # A refuelling valve has a check valve of its own: no tank feeds the gallery.
                outlets[i] = (tail, self.tank_index[end], Branch(tail, OUTSIDE, 0.0, a, k, one_way=True))
            else:
                tip = self.node_index[end]
                lines[i] = (tail, tip, Branch(tail, tip, 0.0, a, k, one_way=False))
        for i, check in enumerate(self.aircraft.check_valves, len(self.aircraft.valves)):
            tail, tip = self.node_index[check.from_node], self.node_index[check.to_node]
            a, k = check.linear_bar_h_t, check.square_bar_h2_t2
            lines[i] = (tail, tip, Branch(tail, tip, 0.0, a, k, one_way=True))
        return lines, outlets

    def _prune(self, lines: dict[int, Line], outlets: dict[int, Line], active: Active) -> tuple[Twig, ...]:
        """Take twigs out of `lines`, outermost first: their demand is their flow, so none is solved for."""
        rooted = {self.node_index[s.node] for i, s in enumerate(self.sources) if active.sources[i]}
        rooted |= {tail for tail, _, _ in outlets.values()}
        twigs: list[Twig] = []
        pruned = True
        while pruned:
            pruned = False
            for node in range(len(self.aircraft.nodes)):
                touching = [i for i, (tail, tip, _) in lines.items() if node in (tail, tip)]
                if node in rooted or len(touching) != 1:
                    continue
                tail, tip, branch = lines.pop(touching[0])
                inward = tip == node
                before = tail if inward else (tip if not branch.one_way else -1)
                twigs.append(Twig(node, before, touching[0], 1.0 if inward else -1.0, branch))
                pruned = True
        return tuple(twigs)

    def _pieces(self, lines: dict[int, Line]) -> list[tuple[int, ...]]:
        group = list(range(len(self.aircraft.nodes)))
        for tail, tip, _ in lines.values():
            low, high = sorted((group[tail], group[tip]))
            group = [low if g == high else g for g in group]
        return [tuple(n for n, g in enumerate(group) if g == piece) for piece in sorted(set(group))]

    def _component(
        self,
        nodes: tuple[int, ...],
        lines: dict[int, Line],
        outlets: dict[int, Line],
        active: Active,
    ) -> Component | None:
        at = {node: k for k, node in enumerate(nodes)}
        sources, branches = [], []
        for i, source in enumerate(self.sources):
            node = self.node_index[source.node]
            if active.sources[i] and node in at:
                sources.append(i)
                head, a, k = source.shut_off_bar, source.linear_bar_h_t, source.square_bar_h2_t2
                branches.append(Branch(OUTSIDE, at[node], head, a, k, one_way=True))
        used, tanks = [], []
        for i, (tail, tip, branch) in {**lines, **outlets}.items():
            if tail in at:
                used.append(i)
                inside = branch.tip != OUTSIDE
                tanks.append(-1 if inside else tip)
                branches.append(replace(branch, tail=at[tail], tip=at[tip] if inside else OUTSIDE))
        drawn = any(n in at and active.users[i] in BURNING for i, n in enumerate(self.user_nodes))
        if not branches and not drawn:
            return None
        network = Network(len(nodes), tuple(branches))
        lead_tank, lead_until_t_h = -1, -1.0
        if network.one_point and sources:
            feeding = {self.source_tanks[i] for i in sources}
            lead_tank = self.source_tanks[sources[network.strongest]]
            lead_until_t_h = float("inf") if len(feeding) == 1 else network.alone_until_t_h
        return Component(
            nodes,
            network,
            lead_tank,
            lead_until_t_h,
            tuple(sources),
            tuple(used),
            tuple(tanks),
        )

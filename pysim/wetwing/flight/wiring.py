"""From what is open, driven and broken to the networks that carry fuel.

A `Configuration` is one arrangement of open valves and driven pumps: the separate networks, and who is on. It
is made once for each arrangement that a flight meets.
"""

from dataclasses import dataclass, replace

from wetwing.aircraft.model import Aircraft, Engine, Pump
from wetwing.physics.network import OUTSIDE, Branch, Network

Line = tuple[int, int, Branch]
"""Index of the first node, of the second node or of what the line ends in, and the branch."""

BURNING = ("starting", "running")
PART_FULL = "part full"
"""How a gravity transfer's pipe runs that has air in it."""

FREE_BAR_H_T = 1e-4
"""Linear resistance of what has none of its own, such as a leak: a branch at rest must not be infinitely
stiff.
"""


@dataclass(frozen=True, slots=True)
class Mouth:
    """Where a line that leaves the network ends.

    `kind` is "tank" (a refuelling or transfer valve), "jet" (a jet pump's nozzle), "outlet", "leak" (of a
    node), "early" or "late" (an engine's leak before or after its meter); `index` counts within the kind.
    """

    kind: str
    index: int


@dataclass(frozen=True, slots=True)
class Component:
    """Nodes that hang together, and their network. Branch i is `sources[i]`, then `lines`, then `mouths`.

    `own_bar` is each source's pressure at no flow by itself, before density and level. `single_tank` is the
    tank that feeds a single node alone: then its outflow is the demand, whatever its pumps share. `simple`
    says that one node is fed by sources alone, so that a strong one may do all. `back_only` are positions in
    `sources` of those that give nothing and may yet take fuel: their branches run from the node outside.
    `mouth_nodes` are positions in `nodes` of those that a mouth leads from.
    """

    nodes: tuple[int, ...]
    network: Network
    sources: tuple[int, ...]
    own_bar: tuple[float, ...]
    lines: tuple[int, ...]
    mouths: tuple[Mouth, ...]
    mouth_lines: tuple[int, ...]
    single_tank: int
    simple: bool
    back_only: tuple[int, ...]
    mouth_nodes: tuple[int, ...]


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

    active: "Active"
    components: tuple[Component, ...]
    twigs: tuple[Twig, ...]
    running: tuple[int, ...]
    starting: tuple[int, ...]
    propelling: tuple[int, ...]
    returning: tuple[int, ...]
    transferring: tuple[int, ...]
    jetting: tuple[int, ...]
    leaking: tuple[int, ...]
    spilling: tuple[bool, ...]
    drag_zero_lift: float
    bleed: float


@dataclass(frozen=True, slots=True)
class Active:
    """What the discrete side says is on: the input from which a configuration is made (and its key).

    `checks` and `line_checks` are "" for a check valve that works, else "open" or "shut"; "back" is open at
    a source that gives nothing, for want of drive or of fuel, through which fuel can yet come back. Leaks
    are kg/h: of a full tank, at 1 bar of a node, and of an engine before and after its meter. `transfers`
    are "" where nothing passes, else how full the pipe is.
    """

    sources: tuple[bool, ...]
    valves: tuple[str, ...]
    users: tuple[str, ...]
    returns: tuple[bool, ...]
    transfers: tuple[str, ...]
    jets: tuple[bool, ...]
    spilling: tuple[bool, ...]
    surging: tuple[str, ...]
    extra_drag: tuple[bool, ...]
    bleed: tuple[bool, ...]
    drag_share: float = 0.0
    checks: tuple[str, ...] = ()
    line_checks: tuple[str, ...] = ()
    shares: tuple[float, ...] = ()
    tank_leaks: tuple[float, ...] = ()
    node_leaks: tuple[float, ...] = ()
    early_leaks: tuple[float, ...] = ()
    late_leaks: tuple[float, ...] = ()
    jet_shares: tuple[float, ...] = ()
    vents_blocked: tuple[bool, ...] = ()


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
        self.outlet_index = {outlet.name: i for i, outlet in enumerate(aircraft.outlets)}
        self.source_tanks = [tank_index[source.tank] if source.tank else -1 for source in sources]
        self.source_nodes = [node_index[source.node] for source in sources]
        self.user_nodes = [node_index[user.node] for user in users]
        valves = {valve.name: i for i, valve in enumerate(aircraft.valves)}
        self.user_valves = [valves[user.valve] for user in users]
        by_source = {source.name: i for i, source in enumerate(sources)}
        self.jet_nodes = [self.source_nodes[by_source[jet.motive]] for jet in aircraft.jet_pumps]

    def configure(self, active: Active) -> Configuration:
        """The networks, and everything else, that these switches, valves and states make."""
        lines = self._lines(active)
        mouths = self._mouths(active)
        twigs = self._prune(lines, mouths, active)
        components = [self._component(nodes, lines, mouths, active) for nodes in self._pieces(lines)]
        airframe = self.aircraft.airframe
        drag = airframe.drag_zero_lift * (1.0 + active.drag_share)
        for on, (_, adds) in zip(active.extra_drag, airframe.extra_drag, strict=True):
            drag += adds if on else 0.0
        bleed = 1.0
        for on, (_, factor) in zip(active.bleed, airframe.bleed, strict=True):
            bleed *= factor if on else 1.0
        running = tuple(i for i, state in enumerate(active.users) if state == "running")
        return Configuration(
            active=active,
            components=tuple(component for component in components if component),
            twigs=twigs,
            running=running,
            starting=tuple(i for i, state in enumerate(active.users) if state == "starting"),
            propelling=tuple(i for i in running if self.users[i].propels),
            returning=tuple(i for i, on in enumerate(active.returns) if on),
            transferring=tuple(i for i, on in enumerate(active.transfers) if on),
            jetting=tuple(i for i, on in enumerate(active.jets) if on),
            leaking=tuple(i for i, kg_h in enumerate(active.tank_leaks) if kg_h > 0.0),
            spilling=active.spilling,
            drag_zero_lift=drag,
            bleed=bleed,
        )

    def _lines(self, active: Active) -> dict[int, Line]:
        """Lines between nodes, by line index: valves, then check valves."""
        lines: dict[int, Line] = {}
        for i, valve in enumerate(self.aircraft.valves):
            if not valve.ends or active.valves[i] == "shut" or valve.ends[1] not in self.node_index:
                continue
            a, k = _resistance(valve.linear_bar_h_t, valve.square_bar_h2_t2, active.valves[i])
            tail, tip = self.node_index[valve.ends[0]], self.node_index[valve.ends[1]]
            lines[i] = (tail, tip, Branch(tail, tip, 0.0, a, k, one_way=False))
        for i, check in enumerate(self.aircraft.check_valves):
            stuck = active.line_checks[i] if active.line_checks else ""
            if stuck == "shut":
                continue
            tail, tip = self.node_index[check.from_node], self.node_index[check.to_node]
            a, k = check.linear_bar_h_t, check.square_bar_h2_t2
            one_way = stuck != "open"
            lines[len(self.aircraft.valves) + i] = (tail, tip, Branch(tail, tip, 0.0, a, k, one_way=one_way))
        return lines

    def _mouths(self, active: Active) -> list[tuple[int, int, Mouth, Branch]]:
        """Lines out of the network: node, line index or -1, where it ends, and the branch."""
        found: list[tuple[int, int, Mouth, Branch]] = []
        for i, valve in enumerate(self.aircraft.valves):
            if not valve.ends or active.valves[i] == "shut" or valve.ends[1] in self.node_index:
                continue
            a, k = _resistance(valve.linear_bar_h_t, valve.square_bar_h2_t2, active.valves[i])
            tail, end = self.node_index[valve.ends[0]], valve.ends[1]
            # A valve into a tank has a check valve of its own: no tank feeds the line that fills it.
            inward = end in self.tank_index
            mouth = Mouth("tank", self.tank_index[end]) if inward else Mouth("outlet", self.outlet_index[end])
            found.append((tail, i, mouth, Branch(tail, OUTSIDE, 0.0, a, k, one_way=True)))
        for i, on in enumerate(active.jets):
            if on:
                # Motive flow through the nozzle: Q = Q1 sqrt(p), so p = (1/Q1²) Q².
                node, motive_t_h = self.jet_nodes[i], self.aircraft.jet_pumps[i].motive_kg_h_at_1_bar / 1000.0
                found.append((node, -1, Mouth("jet", i), _orifice(node, motive_t_h)))
        for node, kg_h in enumerate(active.node_leaks):
            if kg_h > 0.0:
                found.append((node, -1, Mouth("leak", node), _orifice(node, kg_h / 1000.0)))
        for kind, leaks in (("early", active.early_leaks), ("late", active.late_leaks)):
            for user, kg_h in enumerate(leaks):
                if kg_h > 0.0 and active.valves[self.user_valves[user]] != "shut":
                    node = self.user_nodes[user]
                    found.append((node, -1, Mouth(kind, user), _orifice(node, kg_h / 1000.0)))
        return found

    def _prune(
        self, lines: dict[int, Line], mouths: list[tuple[int, int, Mouth, Branch]], active: Active
    ) -> tuple[Twig, ...]:
        """Take twigs out of `lines`, outermost first: their demand is their flow, so none is solved for."""
        rooted = {node for i, node in enumerate(self.source_nodes) if active.sources[i]}
        rooted |= {node for node, _, _, _ in mouths}
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
        mouths: list[tuple[int, int, Mouth, Branch]],
        active: Active,
    ) -> Component | None:
        at = {node: k for k, node in enumerate(nodes)}
        sources: list[int] = []
        branches: list[Branch] = []
        back_only: list[int] = []
        for i, source in enumerate(self.sources):
            node = self.source_nodes[i]
            if active.sources[i] and node in at:
                sources.append(i)
                a, k = source.linear_bar_h_t, source.square_bar_h2_t2
                check = active.checks[i] if active.checks else ""
                if check == "back":
                    back_only.append(len(branches))
                    branches.append(Branch(at[node], OUTSIDE, 0.0, a, k, one_way=True))
                else:
                    one_way = check != "open"
                    branches.append(Branch(OUTSIDE, at[node], source.shut_off_bar, a, k, one_way))
        used = [i for i, (tail, _, _) in lines.items() if tail in at]
        for i in used:
            tail, tip, branch = lines[i]
            branches.append(replace(branch, tail=at[tail], tip=at[tip]))
        out = [entry for entry in mouths if entry[0] in at]
        branches += [replace(branch, tail=at[node]) for node, _, _, branch in out]
        drawn = any(n in at and active.users[i] in BURNING for i, n in enumerate(self.user_nodes))
        if not branches and not drawn:
            return None
        network = Network(len(nodes), tuple(branches))
        feeding = {self.source_tanks[i] for i in sources}
        simple = network.one_point and bool(sources)
        return Component(
            nodes,
            network,
            tuple(sources),
            tuple(self._own_bar(i, active) for i in sources),
            tuple(used),
            tuple(mouth for _, _, mouth, _ in out),
            tuple(line for _, line, _, _ in out),
            feeding.pop() if simple and len(feeding) == 1 else -1,
            simple,
            tuple(back_only),
            tuple(sorted({at[node] for node, _, _, _ in out})),
        )

    def _own_bar(self, source: int, active: Active) -> float:
        if active.checks and active.checks[source] == "back":
            return 0.0
        share = active.shares[source] if active.shares else 1.0
        return self.sources[source].shut_off_bar * share


def _resistance(linear: float, square: float, state: str) -> tuple[float, float]:
    # A valve on its way passes through half its area: four times the pressure for the same flow.
    part = 4.0 if state == "moving" else 1.0
    return linear * part, square * part


def _orifice(node: int, at_1_bar_t_h: float) -> Branch:
    return Branch(node, OUTSIDE, 0.0, FREE_BAR_H_T, 1.0 / (at_1_bar_t_h * at_1_bar_t_h), one_way=True)

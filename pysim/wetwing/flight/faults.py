"""What is broken now: the troubles that are present, as the tables that physics and logic look into.

Tables are made anew from the list of what is present each time it changes, so no trouble leaves a trace.
"""

from dataclasses import dataclass

from wetwing.aircraft.model import Aircraft, Engine, Pump
from wetwing.flight.troubles import Trouble


@dataclass(slots=True)
class Present:
    """A trouble that is there, since when, and what the part showed then."""

    trouble: Trouble
    since_s: float
    shown: float = 0.0


@dataclass(frozen=True, slots=True)
class Slip:
    """How a reading is wrong: times `factor`, plus `offset`, plus `drift_h` times the hours since `since_s`;
    or frozen at `shown`; or no signal at all.
    """

    kind: str
    severity: float
    since_s: float
    shown: float


class Faults:
    """Tables of what is broken, by index of the part."""

    def __init__(self, aircraft: Aircraft, sources: tuple[Pump, ...], users: tuple[Engine, ...]) -> None:
        self.aircraft = aircraft
        self.source_index = {part.name: i for i, part in enumerate(sources)}
        self.user_index = {part.name: i for i, part in enumerate(users)}
        self.present: list[Present] = []
        self.version = 0
        self.sources, self.users = len(sources), len(users)
        self._clear()

    def _clear(self) -> None:
        aircraft = self.aircraft
        self.shares = [1.0] * self.sources
        self.checks = [""] * self.sources
        self.stopped = [""] * self.sources
        self.line_checks = [""] * len(aircraft.check_valves)
        self.tank_leaks = [0.0] * len(aircraft.tanks)
        self.water_l = [0.0] * len(aircraft.tanks)
        self.node_leaks = [0.0] * len(aircraft.nodes)
        self.early_leaks = [0.0] * self.users
        self.late_leaks = [0.0] * self.users
        self.failed = [False] * self.users
        self.vents = [False] * len(aircraft.vents)
        self.jet_shares = [1.0] * len(aircraft.jet_pumps)
        self.drag_share = 0.0
        self.stuck: dict[str, str] = {}
        self.slow: dict[str, float] = {}
        self.unseen: dict[str, Present] = {}
        self.lost: set[str] = set()
        self.slips: dict[str, list[Slip]] = {}
        self.inhibited: set[str] = set()
        self.forced: set[str] = set()
        self.factors: dict[str, float] = {}
        self.clogs: dict[str, list[tuple[float, float]]] = {}
        self.blocked: set[str] = set()
        self.any = bool(self.present)

    def begin(self, trouble: Trouble, time_s: float, shown: float) -> None:
        """A trouble comes; `shown` is what its part shows now, where it shows a figure."""
        self.present.append(Present(trouble, time_s, shown))
        self._build()

    def take_up(self, present: list[Present]) -> None:
        """Have these troubles present, as another flight had them."""
        self.present = list(present)
        self._build()

    def end(self, name: str) -> None:
        """A trouble goes."""
        self.present = [one for one in self.present if one.trouble.name != name]
        self._build()

    def _build(self) -> None:
        self._clear()
        for one in self.present:
            self._apply(one)

    def _apply(self, one: Present) -> None:
        trouble = one.trouble
        part = self.aircraft.parts[trouble.part]
        name, kind, severity = part.name, trouble.kind, trouble.severity
        match part.kind:
            case "pump" | "bypass" | "supply":
                self._source(self.source_index[name], kind, severity)
            case "check-valve":
                at = [check.name for check in self.aircraft.check_valves].index(name)
                self.line_checks[at] = kind.removeprefix("stuck ")
            case "valve":
                if kind == "slow":
                    self.slow[name] = severity
                elif kind == "indication frozen":
                    self.unseen[name] = one
                else:
                    self.stuck[name] = kind.removeprefix("stuck").strip() or "here"
            case "tank":
                at = [tank.name for tank in self.aircraft.tanks].index(name)
                table = self.tank_leaks if kind == "leak" else self.water_l
                table[at] += severity
            case "node":
                self.node_leaks[[node.name for node in self.aircraft.nodes].index(name)] += severity
            case "engine" | "apu":
                at = self.user_index[name]
                if kind == "failed":
                    self.failed[at] = True
                else:
                    table = self.early_leaks if kind == "leak before the meter" else self.late_leaks
                    table[at] += severity
            case "vent":
                self.vents[[vent.name for vent in self.aircraft.vents].index(name)] = True
            case "bus":
                self.lost.add(name)
            case "jet-pump":
                at = [jet.name for jet in self.aircraft.jet_pumps].index(name)
                self.jet_shares[at] *= 0.0 if kind == "blocked" else severity
            case "sensor" | "probe" | "compensator" | "meter" | "totaliser":
                self.slips.setdefault(name, []).append(Slip(kind, severity, one.since_s, one.shown))
            case "rule":
                (self.inhibited if kind == "inhibited" else self.forced).add(name)
            case "control":
                if kind == "stuck":
                    self.stuck[name] = "here"
                else:
                    self.factors[name] = self.factors.get(name, 1.0) * severity
            case "filter":
                if kind == "blocked":
                    self.blocked.add(name)
                else:
                    self.clogs.setdefault(name, []).append((severity, one.since_s))
            case _:
                self.drag_share += severity

    def _source(self, i: int, kind: str, severity: float) -> None:
        if kind in ("failed", "breaker open"):
            # A pump that has failed stays failed, whatever its breaker does.
            self.stopped[i] = "failed" if "failed" in (kind, self.stopped[i]) else "no power"
        elif kind.startswith("check valve stuck"):
            self.checks[i] = kind.removeprefix("check valve stuck ")
        else:
            self.shares[i] *= severity

    def has(self, part: str, *kinds: str) -> bool:
        """Whether a part has one of these troubles now."""
        return any(slip.kind in kinds for slip in self.slips.get(part, ()))

    def reading(self, part: str, true: float, time_s: float, full: float) -> float:
        """What a part reads in place of a true figure; `full` is the size of one unit of a slip: a hundredth
        of the figure for a per cent.
        """
        value = true
        for slip in self.slips.get(part, ()):
            if slip.kind == "frozen":
                return slip.shown
            hours = (time_s - slip.since_s) / 3600.0
            amount = slip.severity * (hours if slip.kind == "drifting" else 1.0)
            if slip.kind in ("biased", "drifting"):
                value += amount * full
        return value

    def added_bar_h_t(self, part: str, time_s: float) -> float:
        """What a clogged filter adds to its resistance by now."""
        return sum(bar_h * (time_s - since_s) / 3600.0 for bar_h, since_s in self.clogs.get(part, ()))

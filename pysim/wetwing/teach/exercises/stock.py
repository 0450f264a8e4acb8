"""The flights that a paper's questions are made from: a shipped script, and a handful of seeded edits of it.

Each flight is flown once, from where it parts from one that is known, and serves many questions. A trouble
that is asked about for half an hour is flown for no longer.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft, Control, Engine
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.edits import plain_edit
from wetwing.flight.fly import Flying
from wetwing.flight.record import Flight, Moment
from wetwing.flight.script import Edit, read_script, with_edits
from wetwing.teach.claims import Claims, Verdict
from wetwing.teach.exercises.dice import LARGEST_SEED, Dice
from wetwing.teach.exercises.records import Evidence
from wetwing.teach.flights import Edits, Flights
from wetwing.teach.timeline import Timeline
from wetwing.teach.words import clock

SCRIPTS = {
    "alder-165": "day-sector",
    "alder-165-b": "day-sector",
    "juniper-285": "juniper-long",
    "rowan-54": "rowan-hop",
}
"""The shipped script that an aircraft is asked about: the one that its bench page flies."""

LEAST_SAME_KG, MOST_SAME_KG, SAME_KG_L = 20.0, 60.0, 0.003
WHAT_IFS = 2
MARGIN_S = 300.0
GROUP_S = 1800.0
"""How long the flights of a group go on after their trouble."""


def check_source(seed: int, aircraft: str) -> None:
    """Raise Mistake where no paper can be made of these."""
    if not 0 <= seed <= LARGEST_SEED:
        raise Mistake("seed", f"{seed}", f"0 to {LARGEST_SEED}")
    if aircraft not in SCRIPTS:
        raise unknown("aircraft", "aircraft", aircraft, SCRIPTS)


@dataclass(frozen=True)
class Case:
    """One flight of the stock: the script with these edits."""

    flights: Flights
    edits: Edits = ()

    @property
    def flight(self) -> Flight:
        """The flight itself."""
        return self.flights.edited(self.edits).flight

    @property
    def aircraft(self) -> Aircraft:
        """Its aircraft."""
        return self.flights.aircraft

    def moment(self, time_s: float) -> Moment:
        """The flight at a time."""
        return self.flight.moment(time_s)

    def evidence(self, time_s: float) -> Evidence:
        """The state at a time, as a link opens it."""
        return Evidence(self.aircraft.name, self.flights.script.name, self.edits, time_s)

    def judge(self, claim: str) -> Verdict:
        """Judge a claim in this flight. Raises Mistake."""
        return Claims(self.flights, edits=self.edits).check(claim, "exercise")

    def phase(self, time_s: float) -> str:
        """Name of the phase at a time."""
        return self.flight.phase(time_s).name

    def said(self, time_s: float) -> str:
        """A time with its phase, as a question names it."""
        return f"{clock(time_s)} ({self.flight.phase(time_s).label.lower()})"

    @property
    def edited_s(self) -> float:
        """When it has parted from the script's own flight: a minute after its last edit; else 0."""
        return max((edit.time_s + 60.0 for edit in self.edits), default=0.0)

    @property
    def matters(self) -> tuple[str, ...]:
        """What was done to it, in a word each: what an objective may be about."""
        return tuple("joined" if edit.state == "open" else edit.state for edit in self.edits)

    def told_edits(self) -> str:
        """What was done to the flight, as a sentence; nothing where it is the script's own."""
        parts = self.aircraft.parts
        told = [f"{parts[edit.part].label}: {edit.state}, from {clock(edit.time_s)}" for edit in self.edits]
        return f"In this flight: {'; '.join(told)}. " if told else ""


@dataclass
class Stock:
    """The flights of one seed and one aircraft."""

    seed: int
    aircraft: str
    _groups: dict[str, "Group"] = field(default_factory=dict)

    def __post_init__(self) -> None:
        check_source(self.seed, self.aircraft)

    @cached_property
    def flights(self) -> Flights:
        """The script with its aircraft."""
        aircraft = read_aircraft(self.aircraft)
        return Flights(aircraft, read_script(SCRIPTS[self.aircraft], aircraft))

    @cached_property
    def plain(self) -> Case:
        """The flight as its script has it."""
        return Case(self.flights)

    @cached_property
    def engines(self) -> tuple[Engine, ...]:
        """The engines that drive the aircraft."""
        return tuple(engine for engine in self.flights.aircraft.engines if engine.propels)

    @cached_property
    def same_kg(self) -> float:
        """Masses nearer than this look the same to a reader: a matter of the aircraft's size."""
        capacity_l = sum(tank.capacity_l for tank in self.flights.aircraft.tanks)
        return max(LEAST_SAME_KG, min(MOST_SAME_KG, SAME_KG_L * capacity_l))

    @cached_property
    def running_s(self) -> tuple[float, float]:
        """From when to when all engines run in the plain flight."""
        changes = self.plain.flight.changes
        names = {engine.name for engine in self.engines}
        starts = [change.time_s for change in changes if change.part in names and change.after == "running"]
        ends = [change.time_s for change in changes if change.part in names and change.before == "running"]
        return max(starts), min(ends, default=self.plain.flight.duration_s)

    @cached_property
    def everyday(self) -> tuple[Case, ...]:
        """The plain flight, and some in which one thing was set or broken."""
        dice = Dice(self.seed, self.aircraft, "what if")
        found = [self.plain]
        wishes = dice.mixed(self._what_ifs())
        for part, state in wishes:
            if len(found) > WHAT_IFS:
                break
            case = self.edited(Edit(self.minute(dice, 0.15, 0.6), part, state))
            if case.flight.ended is None:
                found.append(case)
        return tuple(found)

    def _what_ifs(self) -> list[tuple[str, str]]:
        """Things that can be set or break while the engines run, and leave them running."""
        aircraft = self.flights.aircraft
        nodes = {engine.node for engine in self.engines}
        pumps = [pump for pump in aircraft.pumps if pump.node in nodes]
        found = [
            (pump.name, word) for pump in pumps for word in (("off", "failed") if pump.crew else ("failed",))
        ]
        found += [
            (valve.name, "open") for valve in aircraft.valves if valve.ends and set(valve.ends) == nodes
        ]
        for control in aircraft.controls:
            if isinstance(control, Control) and "manual" in control.settings:
                found.append((control.name, "manual"))
        found += [(sensor.name, "stuck wet") for sensor in aircraft.sensors if "high" in sensor.name]
        return found

    def edited(self, *edits: Edit) -> Case:
        """The flight with these edits, each in its normal form. Raises Mistake."""
        normal = tuple(plain_edit(edit, self.flights.aircraft, "exercise") for edit in edits)
        return Case(self.flights, normal)

    def minute(self, dice: Dice, least: float = 0.0, most: float = 1.0, case: Case | None = None) -> float:
        """A whole minute while the engines run, from one share of that time to another; of a case, after its
        edits.
        """
        start_s, end_s = self.running_s
        start_s = max(start_s, case.edited_s - MARGIN_S) if case else start_s
        length_s = end_s - start_s - 2.0 * MARGIN_S
        first = int((start_s + MARGIN_S + least * length_s) // 60.0)
        last = int((start_s + MARGIN_S + most * length_s) // 60.0)
        return 60.0 * dice.between(first, max(first, last))

    def draw(self, dice: Dice) -> tuple[Case, float]:
        """A flight and a whole minute of it while an engine runs.

        Half of them are any minute of an everyday flight. Half are of any phase of the script's own flight:
        the short phases are asked about too.
        """
        if dice.below(2):
            case = dice.pick(self.everyday)
            return case, self.minute(dice, case=case)
        least_s, most_s = self.first_running_s + 60.0, self.running_s[1] - MARGIN_S
        phases = self.plain.flight.phases
        ends = [*(phase.start_s for phase in phases[1:]), self.plain.flight.duration_s]
        spans = []
        for phase, end_s in zip(phases, ends, strict=True):
            first, last = -int(-max(least_s, phase.start_s) // 60.0), int((min(most_s, end_s) - 1.0) // 60.0)
            if first <= last:
                spans.append((first, last))
        return self.plain, 60.0 * dice.between(*dice.pick(spans)) if spans else self.minute(dice)

    @cached_property
    def first_running_s(self) -> float:
        """When the first engine runs in the plain flight."""
        names = {engine.name for engine in self.engines}
        changes = self.plain.flight.changes
        return min(change.time_s for change in changes if change.part in names and change.after == "running")

    def group(self, name: str, wishes: Sequence[tuple[str, str]], at_s: float) -> "Group":
        """The flights with one of several troubles from the same time on, kept by name."""
        if name not in self._groups:
            cases = [self._shortly(Edit(at_s, part, state)) for part, state in wishes]
            self._groups[name] = Group(name, at_s, tuple(cases))
        return self._groups[name]

    def _shortly(self, edit: Edit) -> Case:
        """The flight with an edit, taken up where it parts from the plain one and ended soon after."""
        edits = (plain_edit(edit, self.flights.aircraft, "exercise"),)
        whole = self.flights.script
        script = replace(whole, ends_s=min(whole.ends_s, edit.time_s + GROUP_S))
        flying = Flying(self.flights.aircraft, with_edits(script, edits, self.flights.aircraft))
        kept = self.plain.flight.kept
        rest = kept.rest_before(edit.time_s) if kept else None
        flight = flying.flight() if kept is None or rest is None else flying.go_on(kept, rest)
        return Case(Flights(self.flights.aircraft, script, {edits: Timeline(flight)}), edits)


@dataclass(frozen=True)
class Group:
    """Flights that differ by one trouble alone, all from the same time on."""

    name: str
    at_s: float
    cases: tuple[Case, ...]

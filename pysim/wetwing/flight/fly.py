"""`fly(aircraft, script)`: the whole flight as a pure function.

Between two events the state is integrated with controlled error; the end of each step is searched for events,
and an event is gone to, not stepped past. At each instant at which something happens, everything acts in a
fixed order until all is at rest.
"""

from math import sqrt

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.flight.automation import Automation
from wetwing.flight.clock import clock
from wetwing.flight.facts import Watch
from wetwing.flight.happenings import Happenings
from wetwing.flight.keyframes import Keyframes
from wetwing.flight.path import Segment
from wetwing.flight.plant import Flows, Plant
from wetwing.flight.record import Ended, Flight
from wetwing.flight.script import Script
from wetwing.flight.wiring import Active, Configuration
from wetwing.flight.world import MOST_CHANGES_AT_ONCE, World, new_world
from wetwing.physics.steps import between, step

LONGEST_STEP_S = 900.0
SHORTEST_STEP_S = 1e-3
FIRST_STEP_S = 20.0
LOCATED_S = 1e-7
MOST_STEPS = 12_000

# A step may err by this much, and a straight line between its ends by that much: both less than a display
# shows.
STEP_ERROR_KG = 1e-3
STEP_ERROR_K = 3e-3
LINE_ERROR_KG = 0.7
LINE_ERROR_K = 0.1
LINE_ERROR_KG_H = 4.0
LINE_ERROR_OF_FLOW = 0.004
SMALL_KG = 100.0
"""Temperature is held to what matters: twice the error at this mass, more in the last few kilograms of a
tank.
"""


def fly(aircraft: Aircraft, script: Script) -> Flight:
    """Fly a script with an aircraft.

    The same input gives the same flight to the last bit on every machine. Raises Mistake where the aircraft's
    rules chase each other without rest or the flight has more events than a flight can have.
    """
    return _Flying(aircraft, script).flight()


class _Flying:
    def __init__(self, aircraft: Aircraft, script: Script) -> None:
        self.aircraft = aircraft
        self.script = script
        self.plant = Plant(aircraft, script)
        self.world: World = new_world(aircraft, script, self.plant)
        self.start_settings = dict(self.world.settings)
        self.segment_at = 0
        self.phase_at = 0
        self.step_s = FIRST_STEP_S
        self.solved_s = -1.0
        self.solved_segment = -1
        self.ended: Ended | None = None
        self.end_flows: Flows
        self._watched: list[tuple[Watch, bool]] | None = None
        # Flows as they are before anything is on: only so that the first conditions have something to read.
        self.configuration: Configuration = self._idle_configuration()
        self.world.flows = self.plant.flows(self.configuration, self.segment, 0.0, self.world.state)
        self.automation = Automation(self.world)
        self.happenings = Happenings(self.world, self.automation, lambda: self.configuration)
        self.keyframes = Keyframes(self.world)

    @property
    def segment(self) -> Segment:
        return self.plant.segments[self.segment_at]

    def _idle_configuration(self) -> Configuration:
        aircraft, plant = self.aircraft, self.plant
        return plant.configure(
            Active(
                sources=(False,) * len(plant.sources),
                valves=("shut",) * len(aircraft.valves),
                users=("off",) * len(plant.users),
                returns=(False,) * len(plant.returns),
                transfers=(False,) * len(plant.transfers),
                jets=(False,) * len(plant.jets),
                spilling=(False,) * len(aircraft.tanks),
                extra_drag=(False,) * len(aircraft.airframe.extra_drag),
            )
        )

    def flight(self) -> Flight:
        world = self.world
        ends_s = self.script.ends_s
        self._settle()
        world.forget()
        start_states = dict(zip(world.index, world.states, strict=True))
        self.automation.begun = True
        self._settle()
        self.keyframes.add(world.time_s, world.state, world.flows)
        steps = 0
        while world.time_s < ends_s and self.ended is None:
            steps += 1
            if steps > MOST_STEPS:
                busiest = max(world.index, key=self._turns_of)
                turned = f"{busiest} alone has turned {self._turns_of(busiest)} times"
                raise Mistake(
                    f"{self.script.name} at {clock(world.time_s)}",
                    f"more than {MOST_STEPS} steps; {turned}",
                    "conditions that let it rest, such as an end some way from its start",
                )
            to_s = min(ends_s, self._next_known_s())
            event = self._advance(to_s)
            self.keyframes.add(world.time_s, world.state, world.flows)
            if not event and world.time_s < to_s:
                continue
            changes, commands = len(world.changes), len(world.commands)
            before = world.flows
            self._settle()
            if len(world.changes) != changes or len(world.commands) != commands or world.flows is not before:
                self.keyframes.add(world.time_s, world.state, world.flows)
        return Flight(
            aircraft=self.aircraft,
            script=self.script,
            duration_s=world.time_s,
            time_s=self.keyframes.times(),
            quantities=self.keyframes.columns(),
            start_states=start_states,
            start_settings=self.start_settings,
            changes=tuple(world.changes),
            commands=tuple(world.commands),
            ended=self.ended,
        )

    def _turns_of(self, part: str) -> int:
        return sum(change.part == part for change in self.world.changes)

    def _next_known_s(self) -> float:
        phases = self.script.phases
        phase_s = phases[self.phase_at + 1].start_s if self.phase_at + 1 < len(phases) else self.script.ends_s
        return min(self.segment.end_s, phase_s, self.automation.due())

    # -- at an instant

    def _settle(self) -> None:
        """Let everything act at this instant until all is at rest."""
        world = self.world
        world.begin_instant()
        while world.time_s >= self.segment.end_s and self.segment_at + 1 < len(self.plant.segments):
            self.segment_at += 1
        phases = self.script.phases
        while self.phase_at + 1 < len(phases) and world.time_s >= phases[self.phase_at + 1].start_s:
            self.phase_at += 1
            self.automation.phase(phases[self.phase_at].name)
        self.automation.refresh()
        first = len(world.changes)
        self._solve()
        while True:
            seen = len(world.changes)
            self.happenings.act()
            self.automation.act()
            if len(world.changes) == seen and not self.automation.stale and not self.automation.acted_by:
                break
            self._solve()
            if len(world.changes) - first > MOST_CHANGES_AT_ONCE:
                place = f"{self.aircraft.name} at {clock(world.time_s, 1)}"
                raise Mistake(place, "changes that never come to rest", "rules that let each other rest")
        self._watched = None
        self._end_early()

    def _solve(self) -> None:
        """Make the network of what is on now, and its flows."""
        world = self.world
        self.happenings.cover()
        configuration = self.plant.configure(self.happenings.active())
        if (
            configuration is not self.configuration
            or world.time_s != self.solved_s
            or self.segment_at != self.solved_segment
        ):
            self.configuration, self.solved_s, self.solved_segment = (
                configuration,
                world.time_s,
                self.segment_at,
            )
            world.flows = self.plant.flows(configuration, self.segment, world.time_s, world.state)
            self.automation.refresh()

    def _end_early(self) -> None:
        world = self.world
        airborne = not self.segment.ground and world.time_s > self.segment.start_s
        if airborne and not any(
            world.is_in(engine.name, "running", "starting") for engine in self.aircraft.engines
        ):
            dry = any(
                world.is_in(engine.name, "stopped for want of fuel") for engine in self.aircraft.engines
            )
            name = "fuel-exhausted" if dry else "no-engine"
            sentence = (
                "No engine gets fuel any more, in the air." if dry else "No engine runs any more, in the air."
            )
            self.ended = Ended(world.time_s, name, sentence)

    # -- between instants

    def _slopes(self, time_s: float, state: list[float]) -> list[float]:
        return self.plant.slopes(self.configuration, self.segment, time_s, state)

    def _slopes_after(self, time_s: float, state: list[float]) -> list[float]:
        self.end_flows = self.plant.flows(self.configuration, self.segment, time_s, state)
        return self.end_flows.slopes

    def _advance(self, to_s: float) -> bool:
        """One step towards `to_s`, cut at the first event within it; whether there was one."""
        world = self.world
        start_s, before, flows = world.time_s, world.state, world.flows
        first = flows.slopes
        left_s = to_s - start_s
        if left_s <= 0.0:
            return True
        while True:
            length_s = min(self.step_s, left_s, LONGEST_STEP_S)
            # Two nearly equal steps rather than a long one and a crumb.
            if length_s < left_s < 2.0 * length_s:
                length_s = 0.5 * left_s
            after, last, middle, error = step(
                self._slopes, self._slopes_after, start_s, before, first, length_s
            )
            worst = self._worst(error, first, middle, last, length_s)
            if worst <= 1.0 or length_s <= SHORTEST_STEP_S:
                break
            self.step_s = length_s * max(0.2, 0.9 / sqrt(worst)) if worst < 1e12 else length_s * 0.2
        end_flows = self.end_flows
        if worst < 0.6 and length_s >= self.step_s * 0.5:
            self.step_s = min(LONGEST_STEP_S, length_s * (2.5 if worst < 0.1 else 1.4))
        share = self._first_event(start_s, length_s, before, first, after, last, flows, end_flows)
        if share is None:
            world.time_s = to_s if length_s == left_s else start_s + length_s
            world.state, world.flows = after, end_flows
            self.solved_s, self.solved_segment = world.time_s, self.segment_at
            return False
        world.time_s = start_s + share * length_s
        world.state = between(share, length_s, before, first, after, last)
        world.flows = self.plant.flows(self.configuration, self.segment, world.time_s, world.state)
        self.solved_s, self.solved_segment = world.time_s, self.segment_at
        return True

    def _worst(
        self, error: list[float], first: list[float], middle: list[float], last: list[float], length_s: float
    ) -> float:
        """The largest of the step's errors over what is allowed: its own, and that of a straight line in its
        place.
        """
        n = self.plant.tanks
        worst = 0.0
        sag = length_s / 8.0
        state = self.world.state
        for i in range(len(error)):
            own = abs(error[i])
            line = abs(last[i] - first[i]) * sag
            if n <= i < 2 * n:
                share = state[i - n] / (state[i - n] + SMALL_KG)
                own *= share / STEP_ERROR_K
                line *= share / LINE_ERROR_K
            else:
                own /= STEP_ERROR_KG
                line /= LINE_ERROR_KG
            if own > worst:
                worst = own
            if line > worst:
                worst = line
        used = self.plant.used_at
        for i in range(used, used + len(self.aircraft.engines)):
            mean = 0.5 * (first[i] + last[i]) * 3600.0
            bend = abs(middle[i] * 3600.0 - mean) / (LINE_ERROR_KG_H + LINE_ERROR_OF_FLOW * mean)
            if bend > worst:
                worst = bend
        return worst

    def _first_event(
        self,
        start_s: float,
        length_s: float,
        before: list[float],
        first: list[float],
        after: list[float],
        last: list[float],
        flows: Flows,
        end_flows: Flows,
    ) -> float | None:
        """Share of the step at which the first comparison turns, or None. Each is true at its share as it
        will be at the end.
        """
        end_s = start_s + length_s
        earliest: float | None = None
        for watch, now in self._watches(start_s, before, flows):
            if watch.true(end_s, after, end_flows) is now:
                continue
            share = self._locate(watch, now, start_s, length_s, before, first, after, last, flows, end_flows)
            if earliest is None or share < earliest:
                earliest = share
        return earliest

    def _watches(self, start_s: float, before: list[float], flows: Flows) -> list[tuple[Watch, bool]]:
        """Every comparison that may turn, with what it is now. It stays so until something happens: that is
        what an event is.
        """
        if self._watched is None:
            watches = (
                *self.automation.watches(),
                *self.happenings.watches(),
            )
            self._watched = [(watch, watch.true(start_s, before, flows)) for watch in watches]
        return self._watched

    def _locate(
        self,
        watch: Watch,
        now: bool,
        start_s: float,
        length_s: float,
        before: list[float],
        first: list[float],
        after: list[float],
        last: list[float],
        flows: Flows,
        end_flows: Flows,
    ) -> float:
        # Regula falsi with halving (Illinois): the bracket's upper end always has the turned truth, so acting
        # on it succeeds.
        low, high = 0.0, 1.0
        low_margin = watch.margin(start_s, before, flows)
        high_margin = watch.margin(start_s + length_s, after, end_flows)
        side = 0
        for _ in range(120):
            if (high - low) * length_s <= LOCATED_S:
                break
            spread = low_margin - high_margin
            share = low + (high - low) * low_margin / spread if spread != 0.0 else 0.5 * (low + high)
            # Aim a little beyond the crossing: the bracket closes from both sides.
            share += 0.25 * LOCATED_S / length_s
            if not low < share < high:
                share = 0.5 * (low + high)
            state = between(share, length_s, before, first, after, last)
            time_s = start_s + share * length_s
            there = (
                self.plant.flows(self.configuration, self.segment, time_s, state)
                if watch.needs_flows
                else flows
            )
            margin = watch.margin(time_s, state, there)
            if watch.true(time_s, state, there) is now:
                low, low_margin = share, margin
                if side == -1:
                    high_margin *= 0.5
                side = -1
            else:
                high, high_margin = share, margin
                if side == 1:
                    low_margin *= 0.5
                side = 1
        return high

"""`fly(aircraft, script)`: the whole flight as a pure function.

Between two events the state is integrated with controlled error; the end of each step is searched for events,
and an event is gone to, not stepped past. At each instant at which something happens, everything acts in a
fixed order until all is at rest.
"""

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.names import PHASE
from wetwing.flight.automation import Automation
from wetwing.flight.bends import bend_s
from wetwing.flight.clock import clock
from wetwing.flight.ending import ended
from wetwing.flight.facts import Watch
from wetwing.flight.happenings import Happenings
from wetwing.flight.keeping import Kept, Rest, parts_at_s, rest, take_up
from wetwing.flight.keyframes import Keyframes
from wetwing.flight.lines import SMALL_KG, pieces
from wetwing.flight.path import Segment
from wetwing.flight.plant import Flows, Plant
from wetwing.flight.record import Ended, Flight
from wetwing.flight.script import Script
from wetwing.flight.troubled import troubled
from wetwing.flight.wiring import Active, Configuration
from wetwing.flight.world import MOST_CHANGES_AT_ONCE, World, new_world
from wetwing.physics.arithmetic import power
from wetwing.physics.steps import Step, step

LONGEST_STEP_S = 900.0
SHORTEST_STEP_S = 1e-3
FIRST_STEP_S = 20.0
LOCATED_S = 1e-7
MOST_STEPS = 12_000
BETWEEN_RESTS_S = 120.0
"""A flight can be taken up at its rests. More of them would cost more memory than they save in time."""

# A step may err by this much: so little that an event a flight later is found within hundredths of a second.
STEP_ERROR_KG = 3e-5
STEP_ERROR_K = 5e-6
STEP_ERROR_OIL_K = 5e-4
FALL_KG = 1e-9
"""What rounding may take from a sum that only grows."""


def fly(aircraft: Aircraft, script: Script, known: Flight | None = None) -> Flight:
    """Fly a script with an aircraft.

    The same input gives the same flight to the last bit on every machine. `known`, a flight of the same
    aircraft with another edit of the script, saves the way up to where they part, and changes nothing else.
    Raises Mistake where the aircraft's rules chase each other without rest, the flight has more events than a
    flight can have, or a figure leaves the range of the physics.
    """
    flying = Flying(aircraft, script)
    kept = known.kept if known is not None else None
    at = None
    if kept is not None and kept.aircraft is aircraft:
        at = kept.rest_before(parts_at_s(kept.script, script))
    try:
        return flying.flight() if kept is None or at is None else flying.go_on(kept, at)
    except Mistake:
        raise
    except ValueError as error:
        place = f"{script.name} at {clock(flying.world.time_s)}"
        raise Mistake(place, str(error), "what the model of the physics covers") from error


class Flying:
    """A flight in the making."""

    def __init__(self, aircraft: Aircraft, script: Script) -> None:
        self.base = aircraft
        self.plant = Plant(aircraft, script)
        self.aircraft = aircraft = troubled(aircraft, script)
        self.script = script
        self.world: World = new_world(aircraft, script, self.plant)
        self.start_states: dict[str, str] = {}
        self.start_settings = dict(self.world.settings)
        self.segment_at = 0
        self.phase_at = 0
        self.step_s = FIRST_STEP_S
        self.solved_s = -1.0
        self.solved_segment = -1
        self.solved_faults = -1
        self.ended: Ended | None = None
        self.until = ("", 0)
        self.rests: list[Rest] = []
        plant = self.plant
        self.allowed = [STEP_ERROR_KG] * plant.length
        self.allowed[plant.tanks : plant.air_at] = [STEP_ERROR_K] * plant.tanks
        self.allowed[plant.oil_at : plant.surge_at] = [STEP_ERROR_OIL_K] * len(plant.returns)
        self.end_flows: Flows
        self.event = False
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
                transfers=("",) * len(plant.transfers),
                jets=(False,) * len(plant.jets),
                spilling=(False,) * len(aircraft.tanks),
                surging=("",) * len(aircraft.vents),
                extra_drag=(False,) * len(aircraft.airframe.extra_drag),
                bleed=(False,) * len(aircraft.airframe.bleed),
            )
        )

    def flight(self) -> Flight:
        """The whole flight, from its start."""
        world = self.world
        self._settle()
        world.forget()
        self.start_states = dict(zip(world.index, world.states, strict=True))
        self.automation.begun = True
        self._settle()
        self.keyframes.add(world.time_s, world.state, world.flows)
        return self._rest_of_it()

    def go_on(self, kept: Kept, at: Rest) -> Flight:
        """The whole flight, from where another of the same beginning stood."""
        take_up(self, kept, at)
        self.start_states = {
            name: kept.start_states.get(name, part.initial) for name, part in self.aircraft.parts.items()
        } | {PHASE: kept.start_states[PHASE]}
        self.start_settings = dict(kept.start_settings)
        self.rests = [rest for rest in kept.rests if rest.time_s < at.time_s]
        world = self.world
        self.configuration = self.plant.configure(self.happenings.active())
        self.solved_s, self.solved_segment = world.time_s, self.segment_at
        self.solved_faults = self.plant.faults.version
        return self._rest_of_it()

    def _rest_of_it(self) -> Flight:
        world = self.world
        ends_s = self.script.ends_s
        steps = 0
        while world.time_s < ends_s and self.ended is None and not self._is_over():
            if self._watched is None and (
                not self.rests or world.time_s >= self.rests[-1].time_s + BETWEEN_RESTS_S
            ):
                self.rests.append(rest(self))
            steps += 1
            if steps > MOST_STEPS:
                busiest = max(world.index, key=self._turns_of)
                turned = f"{busiest} alone has turned {self._turns_of(busiest)} times"
                raise Mistake(
                    f"{self.script.name} at {clock(world.time_s)}",
                    f"more than {MOST_STEPS} steps; {turned}",
                    "conditions that let it rest, such as an end some way from its start",
                )
            limit_s = min(ends_s, self._next_known_s())
            action_s = self.automation.next_action_s()
            self._advance(limit_s, min(limit_s, action_s))
            self.keyframes.add(world.time_s, world.state, world.flows)
            if not self.event and world.time_s < limit_s and world.time_s < action_s:
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
            start_states=self.start_states,
            start_settings=self.start_settings,
            changes=tuple(world.changes),
            commands=tuple(world.commands),
            ended=self.ended,
            kept=Kept(
                self.base,
                self.script,
                self.rests,
                self.keyframes.time_s,
                self.keyframes.rows,
                world.changes,
                world.commands,
                self.start_states,
                self.start_settings,
            ),
        )

    def _is_over(self) -> bool:
        """Whether what somebody flew on for has come: so many engines in a state."""
        state, engines = self.until
        return engines > 0 and engines <= sum(
            self.world.is_in(engine.name, state) for engine in self.aircraft.engines
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
            self.plant.posture = self.plant.postures[self.segment_at]
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
        self.ended = ended(world, self.happenings.frozen(), self.segment)

    def _solve(self) -> None:
        """Make the network of what is on now, and its flows."""
        world = self.world
        self.happenings.cover()
        configuration = self.plant.configure(self.happenings.active())
        if (
            configuration is not self.configuration
            or world.time_s != self.solved_s
            or self.segment_at != self.solved_segment
            or self.plant.faults.version != self.solved_faults
        ):
            self.configuration = configuration
            self.solved_s, self.solved_segment = world.time_s, self.segment_at
            self.solved_faults = self.plant.faults.version
            world.flows = self.plant.flows(configuration, self.segment, world.time_s, world.state)
            self.automation.refresh()

    # -- between instants

    def _slopes(self, time_s: float, state: list[float]) -> list[float]:
        return self.plant.slopes(self.configuration, self.segment, time_s, state)

    def _slopes_after(self, time_s: float, state: list[float]) -> list[float]:
        self.end_flows = self._flows(time_s, state)
        return self.end_flows.slopes

    def _advance(self, limit_s: float, cut_s: float) -> None:
        """One step towards `limit_s`, cut at `cut_s` or at the first event within it; keyframes on the way.

        A step's length depends on what has happened, never on what somebody will do: a person's action cuts
        a step that was made without knowing of it. So an edit changes nothing that lies before it.
        """
        world = self.world
        self.event = False
        if limit_s <= world.time_s:
            return
        ends_s = limit_s
        while (shorter_s := self._along(self._step(ends_s), ends_s, cut_s)) is not None:
            ends_s = shorter_s

    def _along(self, taken: Step, limit_s: float, cut_s: float) -> float | None:
        """Go along a step as far as it is good. Where a sum falls on its way, the time at which to end it."""
        world = self.world
        start_s, length_s = taken.start_s, taken.length_s
        end_s = limit_s if start_s + length_s >= limit_s else start_s + length_s
        count = pieces(self.plant, self.segment, taken)
        low, low_flows = 0.0, world.flows
        for piece in range(1, count + 1):
            share = piece / count
            time_s = end_s if piece == count else start_s + share * length_s
            state = taken.at(share)
            flows = self.end_flows if piece == count else self._flows(time_s, state)
            event = self._first_event(taken, low, low_flows, share, state, flows)
            if event is not None:
                state = taken.at(event)
            # Before it is known whether an action cuts the step: an edit is to change nothing before it.
            if self._falls(state, taken):
                return 0.5 * (world.time_s + end_s)
            if event is not None and start_s + event * length_s <= cut_s:
                self.event = True
                time_s = start_s + event * length_s
                flows = self._flows(time_s, state)
            elif time_s > cut_s:
                time_s = cut_s
                state = taken.at((cut_s - start_s) / length_s)
                if self._falls(state, taken):
                    return cut_s
                flows = self._flows(time_s, state)
            world.time_s, world.state, world.flows = time_s, state, flows
            self.solved_s, self.solved_segment = time_s, self.segment_at
            if self.event or time_s >= cut_s:
                break
            if piece != count:
                self.keyframes.add(time_s, state, flows)
            low, low_flows = share, flows
        return None

    def _falls(self, state: list[float], taken: Step) -> bool:
        """Whether a sum of what came and went has fallen.

        The polynomial of a step is less exact than its end: where a flow dies away within seconds, it may run
        below what has flown already.
        """
        if taken.length_s <= SHORTEST_STEP_S:
            return False
        first, last = self.plant.burned_at, self.plant.metered_at
        before = self.world.state
        return any(state[i] < before[i] - FALL_KG for i in range(first, last))

    def _flows(self, time_s: float, state: list[float]) -> Flows:
        return self.plant.flows(self.configuration, self.segment, time_s, state)

    def _step(self, limit_s: float) -> Step:
        """A step of the length that its error allows, `limit_s` at most."""
        world = self.world
        left_s = limit_s - world.time_s
        first = world.flows.slopes
        while True:
            length_s = min(self.step_s, left_s, LONGEST_STEP_S)
            # Two nearly equal steps rather than a long one and a crumb.
            if length_s < left_s < 2.0 * length_s:
                length_s = 0.5 * left_s
            taken = step(self._slopes, self._slopes_after, world.time_s, world.state, first, length_s)
            worst = self._worst(taken)
            if worst <= 1.0 or length_s <= SHORTEST_STEP_S:
                break
            bend = self._bend_s(world.time_s + length_s)
            if bend is not None:
                left_s = bend - world.time_s
                continue
            self.step_s = length_s * (max(0.2, 0.9 / power(worst, 0.2)) if worst < 1e12 else 0.2)
        if worst < 0.6 and length_s >= self.step_s * 0.5:
            growth = min(4.0, 0.9 / power(worst, 0.2)) if worst > 1e-9 else 4.0
            self.step_s = min(LONGEST_STEP_S, length_s * max(1.0, growth))
        return taken

    def _bend_s(self, end_s: float) -> float | None:
        """Where the engines' flow bends before a time, if that is far enough from here and from there."""
        world = self.world
        found = bend_s(self.plant, self.configuration, self.segment, world.flows, world.time_s, end_s)
        if found is None or not world.time_s + SHORTEST_STEP_S < found < end_s - SHORTEST_STEP_S:
            return None
        return found

    def _worst(self, taken: Step) -> float:
        """The largest of the step's errors over what is allowed."""
        n = self.plant.tanks
        worst = 0.0
        before, error = taken.before, taken.error
        for i, allowed in enumerate(self.allowed):
            own = abs(error[i]) / allowed
            if n <= i < 2 * n:
                held = before[i - n]
                own *= held / (held + SMALL_KG)
            if own > worst:
                worst = own
        return worst

    def _first_event(
        self, taken: Step, low: float, low_flows: Flows, high: float, after: list[float], flows: Flows
    ) -> float | None:
        """Share of the step, between `low` and `high`, at which the first comparison turns, or None.

        Each is true at its share as it will be at the end.
        """
        end_s = taken.start_s + high * taken.length_s
        earliest: float | None = None
        for watch, now in self._watches():
            margin = watch.margin(end_s, after, flows)
            if (margin > 0.0 or (margin == 0.0 and not watch.strict)) is now:
                continue
            share = self._locate(watch, now, taken, low, low_flows, high, flows)
            if earliest is None or share < earliest:
                earliest = share
        return earliest

    def _watches(self) -> list[tuple[Watch, bool]]:
        """Every comparison that may turn, with what it is now. It stays so until something happens: that is
        what an event is.
        """
        if self._watched is None:
            world = self.world
            time_s, state, flows = world.time_s, world.state, world.flows
            self._watched = watched = []
            for watch in (*self.automation.watches(), *self.happenings.watches()):
                # `Watch.true`: a call for each of a hundred watches at every event is felt.
                margin = watch.margin(time_s, state, flows)
                watched.append((watch, margin > 0.0 or (margin == 0.0 and not watch.strict)))
        return self._watched

    def _locate(
        self, watch: Watch, now: bool, taken: Step, low: float, low_flows: Flows, high: float, flows: Flows
    ) -> float:
        # Regula falsi with halving (Illinois): the bracket's upper end always has the turned truth, so acting
        # on it succeeds.
        start_s, length_s = taken.start_s, taken.length_s
        low_margin = watch.margin(start_s + low * length_s, taken.at(low), low_flows)
        high_margin = watch.margin(start_s + high * length_s, taken.at(high), flows)
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
            state = taken.at(share)
            time_s = start_s + share * length_s
            there = self._flows(time_s, state) if watch.needs_flows else flows
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

"""Taking a flight up again where it stood: everything that `fly` remembers, kept at its rests.

A rest is an instant at which everything has come to its end. What follows a rest depends on nothing before it
but what is kept here, so a flight with a later edit is taken up at the last rest before that edit, and is the
same, to the last bit, as if it had been flown from the start.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from wetwing.aircraft.model import Aircraft
from wetwing.flight.faults import Present
from wetwing.flight.plant import Flows
from wetwing.flight.record import Change, Command, Reason
from wetwing.flight.script import Action, Mended, Script, Trouble
from wetwing.flight.troubled import indications

if TYPE_CHECKING:
    from wetwing.flight.fly import Flying


@dataclass(frozen=True, slots=True)
class Rest:
    """What a flight in the making remembers at one instant. Lists that only grow are kept by length."""

    time_s: float
    state: list[float]
    flows: Flows
    names: tuple[str, ...]
    states: list[str]
    last: list[int]
    settings: dict[str, str]
    changes: int
    commands: int
    keyframes: int
    facts: tuple[dict[str, float], float, float, float, bool]
    timers: dict[tuple[str, str], float]
    permits: dict[str, bool]
    acted_by: dict[str, Reason]
    queued: int
    baselines: dict[str, dict[str, float]]
    armed: dict[str, bool]
    barred: set[str]
    people: tuple[set[int], dict[str, float]]
    troubled: set[str]
    told: dict[str, str]
    targets: dict[str, str]
    no_signal: set[str]
    present: list[Present]
    covered: list[bool]
    mouths: list[str]
    leak_covered: list[bool]
    jet_covered: list[bool]
    draining: list[bool]
    step_s: float
    segment_at: int
    phase_at: int


@dataclass(slots=True)
class Kept:
    """A flight's rests, with the lists that they count in."""

    aircraft: Aircraft
    script: Script
    rests: list[Rest]
    times: list[float]
    rows: list[list[float]]
    changes: list[Change]
    commands: list[Command]
    start_states: dict[str, str]
    start_settings: dict[str, str]

    def rest_before(self, time_s: float) -> Rest | None:
        """The last rest before a time, or None."""
        found = [rest for rest in self.rests if rest.time_s < time_s]
        return found[-1] if found else None


def rest(flying: "Flying") -> Rest:
    """What a flight remembers now; only at a rest."""
    world, automation, happenings = flying.world, flying.automation, flying.happenings
    facts, plant = world.facts, flying.plant
    return Rest(
        time_s=world.time_s,
        state=list(world.state),
        flows=world.flows,
        names=world.names,
        states=list(world.states),
        last=list(world.last),
        settings=dict(world.settings),
        changes=len(world.changes),
        commands=len(world.commands),
        keyframes=len(flying.keyframes.time_s),
        facts=(
            dict(facts.values),
            facts.departure_kg,
            facts.departure_metered_kg,
            facts.departure_discharged_kg,
            facts.departed,
        ),
        timers=dict(automation.timers),
        permits=dict(automation.permits),
        acted_by=dict(automation.acted_by),
        queued=automation.queued,
        baselines={name: dict(held) for name, held in automation.ruling.baselines.items() if held},
        armed=dict(automation.ruling.armed),
        barred=set(automation.ruling.barred),
        people=(set(automation.people.done), dict(automation.people.entered)),
        troubled=set(automation.troubling.done),
        told=dict(automation.valves.told),
        targets=dict(automation.valves.targets),
        no_signal=plant.gauging.no_signal,
        present=list(plant.faults.present),
        covered=list(happenings.feeding.covered),
        mouths=list(happenings.mouths),
        leak_covered=list(happenings.leak_covered),
        jet_covered=list(happenings.jet_covered),
        draining=list(happenings.vents.draining),
        step_s=flying.step_s,
        segment_at=flying.segment_at,
        phase_at=flying.phase_at,
    )


def take_up(flying: "Flying", kept: Kept, at: Rest) -> None:
    """Put a flight that has not begun where another stood at a rest."""
    world, automation, happenings = flying.world, flying.automation, flying.happenings
    facts, plant = world.facts, flying.plant
    world.time_s = at.time_s
    world.state = list(at.state)
    world.flows = at.flows
    for name, state, last in zip(at.names, at.states, at.last, strict=True):
        i = world.index.get(name)
        # A trouble of the other flight that is none of this one's had not come yet.
        if i is not None:
            world.states[i], world.last[i] = state, last
    world.settings.update(at.settings)
    world.changes[:] = kept.changes[: at.changes]
    world.commands[:] = kept.commands[: at.commands]
    world.touched.clear()
    (
        values,
        facts.departure_kg,
        facts.departure_metered_kg,
        facts.departure_discharged_kg,
        facts.departed,
    ) = at.facts
    facts.values.update(values)
    automation.timers.update(at.timers)
    automation.permits.update(at.permits)
    automation.acted_by.update(at.acted_by)
    automation.queued = at.queued
    automation.begun = True
    automation.stale.clear()
    for name, held in at.baselines.items():
        automation.ruling.baselines[name].update(held)
    automation.ruling.armed.update(at.armed)
    automation.ruling.barred = set(at.barred)
    automation.people.done, automation.people.entered = set(at.people[0]), dict(at.people[1])
    automation.troubling.done = set(at.troubled)
    automation.valves.told.update(at.told)
    automation.valves.targets.update(at.targets)
    plant.faults.take_up(at.present)
    plant.gauging.no_signal = at.no_signal
    happenings.feeding.covered[:] = at.covered
    happenings.mouths[:] = at.mouths
    happenings.leak_covered[:] = at.leak_covered
    happenings.jet_covered[:] = at.jet_covered
    happenings.vents.draining[:] = at.draining
    flying.keyframes.time_s[:] = kept.times[: at.keyframes]
    flying.keyframes.rows[:] = kept.rows[: at.keyframes]
    flying.step_s = at.step_s
    flying.segment_at, flying.phase_at = at.segment_at, at.phase_at
    plant.posture = plant.postures[at.segment_at]


def parts_at_s(first: Script, second: Script) -> float:
    """The time up to which two scripts give one flight; infinite if they are equal, -1 if none is."""
    # An indication that will freeze is a part from the start, and follows its valve until then.
    if _bare(first) != _bare(second) or indications(first) != indications(second):
        return -1.0
    found = [float("inf")]
    for one, other in (
        (first.actions, second.actions),
        (first.troubles, second.troubles),
        (first.mended, second.mended),
    ):
        found += _differences(one, other)
    return min(found)


def _bare(script: Script) -> Script:
    return replace(script, actions=(), troubles=(), mended=(), edits=())


def _differences(one: Sequence[Any], other: Sequence[Any]) -> list[float]:
    alike = 0
    while alike < min(len(one), len(other)) and one[alike] == other[alike]:
        alike += 1
    return [_begins_s(entry) for entry in (*one[alike:], *other[alike:])]


def _begins_s(entry: Action | Trouble | Mended) -> float:
    if isinstance(entry, Mended):
        return entry.time_s
    # What waits on a condition may act at any time.
    return -1.0 if entry.at_s is None else entry.at_s

"""Looking ahead from one moment of a flight: levels to come, endurance, landing fuel, balance, stranded fuel.

Nothing here is estimated from a trend alone. What the flight will do is read from the flight. How long its
fuel lasts is found by flying on from the moment, at its height and speed, with nobody touching anything,
until an engine gets no fuel any more. What then is left on board was not usable.
"""

from dataclasses import dataclass, replace

from wetwing.aircraft.model import Aircraft
from wetwing.flight.fly import Flying
from wetwing.flight.keeping import Kept
from wetwing.flight.phrases import inner, mark
from wetwing.flight.record import Change, Flight
from wetwing.flight.script import PathPoint, Script, Trouble
from wetwing.flight.troubled import UNSEEN
from wetwing.physics.planning import Standing, standing_of

LONGEST_S = 86400.0
STARVED = "stopped for want of fuel"
WORTH_TELLING_KG = 20.0
LEVELS = {"tank", "sensor", "pump", "bypass", "jet-pump"}


@dataclass(frozen=True, slots=True)
class NextLevel:
    """A tank's next level: which part feels it, what it becomes, in how long, and why."""

    tank: str
    part: str
    after: str
    in_s: float
    sentence: str


@dataclass(frozen=True, slots=True)
class Stranded:
    """Fuel that the engines don't get as things stand: in which tank, how much beyond unusable, and why."""

    tank: str
    stranded_kg: float
    sentence: str


@dataclass(frozen=True, slots=True)
class Endurance:
    """How long every engine runs on at the present height and speed, if nobody touches anything."""

    lasts_s: float
    usable_kg: float
    on_board_kg: float
    sentence: str
    stranded: tuple[Stranded, ...]


@dataclass(frozen=True, slots=True)
class Landing:
    """Fuel at the destination, against the final reserve of the plan. Masses are true, not gauged."""

    time_s: float
    on_board_kg: float
    usable_kg: float
    final_reserve_kg: float
    standing: Standing
    sentence: str


@dataclass(frozen=True, slots=True)
class Imbalance:
    """Right wing less left wing, how it changes, and why."""

    now_kg: float
    rate_kg_h: float
    sentence: str


@dataclass(frozen=True, slots=True)
class Ahead:
    """What lies ahead of a moment. `endurance` and `landing` are None where no engine runs, and where the
    flight does not land.
    """

    time_s: float
    levels: tuple[NextLevel, ...]
    endurance: Endurance | None
    landing: Landing | None
    imbalance: Imbalance


def ahead(flight: Flight, time_s: float) -> Ahead:
    """Look ahead from a time of a flight. Raises ValueError for a flight that cannot be flown on."""
    if flight.kept is None:
        raise ValueError("looking ahead: the flight was read, not flown; only a flown one can be flown on")
    time_s = min(max(time_s, 0.0), flight.duration_s)
    endurance = _endurance(flight, flight.kept, time_s)
    return Ahead(
        time_s,
        _levels(flight, time_s),
        endurance,
        _landing(flight, flight.kept, time_s, endurance),
        _imbalance(flight, time_s),
    )


def _tank_of(aircraft: Aircraft, part: str) -> str | None:
    found = aircraft.parts[part]
    for attribute in ("tank", "from_tank"):
        if getattr(found, attribute, None):
            return str(getattr(found, attribute))
    return part if found.kind == "tank" else None


def _levels(flight: Flight, time_s: float) -> tuple[NextLevel, ...]:
    """The first change after `time_s` of each tank that its level makes."""
    found: dict[str, Change] = {}
    aircraft = flight.aircraft
    for change in flight.changes:
        if change.time_s <= time_s or aircraft.parts[change.part].kind not in LEVELS:
            continue
        by_level = change.reason.name in ("level", "pick-up-uncovered", "overflow", "overflow-ends")
        tank = _tank_of(aircraft, change.part)
        if by_level and tank is not None and tank not in found:
            found[tank] = change
    return tuple(
        NextLevel(
            tank.name,
            found[tank.name].part,
            found[tank.name].after,
            found[tank.name].time_s - time_s,
            found[tank.name].reason.sentence,
        )
        for tank in aircraft.tanks
        if tank.name in found
    )


def left_alone(flight: Flight, time_s: float) -> Script:
    """The flight's script up to a time, and from then on the same height and speed, with nobody acting."""
    script = flight.script
    moment = flight.moment(time_s)
    point = PathPoint(
        time_s,
        moment.quantity("flight.altitude_ft"),
        moment.quantity("flight.mach"),
        _on_ground(script, time_s),
        moment.quantity("flight.pitch_deg"),
        moment.quantity("flight.roll_deg"),
    )
    ends_s = time_s + LONGEST_S

    def known(trouble: Trouble) -> Trouble | None:
        """A trouble that has come, and maybe gone. Of what has not come nobody knows."""
        if flight.last_change(trouble.name, time_s) is not None:
            return trouble
        if trouble.kind != UNSEEN:
            return None
        # Its valve has an indication from the start: what is flown on from here must have one too.
        return replace(trouble, at_s=ends_s + 1.0, when=None, until_s=None, lasts_s=None)

    before = tuple(each for each in script.path if each.time_s < time_s)
    start = (point,) if before else (replace(point, time_s=0.0),)
    return replace(
        script,
        ends_s=ends_s,
        path=(*before, *start, replace(point, time_s=ends_s, pitch_deg=0.0, roll_deg=0.0)),
        actions=tuple(a for a in script.actions if a.at_s is not None and a.at_s <= time_s),
        troubles=tuple(each for each in map(known, script.troubles) if each),
        mended=tuple(m for m in script.mended if m.time_s <= time_s),
    )


def _on_ground(script: Script, time_s: float) -> bool:
    following = next((each for each in script.path if each.time_s > time_s), script.path[-1])
    return following.ground


def _endurance(flight: Flight, kept: Kept, time_s: float) -> Endurance | None:
    engines = flight.aircraft.engines
    if not any(flight.state(engine.name, time_s) in ("running", "starting") for engine in engines):
        return None
    alone = left_alone(flight, time_s)
    at = kept.rest_before(time_s)
    flying = Flying(kept.aircraft, alone)
    flying.until = (STARVED, 1 + sum(flight.state(e.name, time_s) == STARVED for e in engines))
    found = flying.flight() if at is None else flying.go_on(kept, at)
    starved = next(
        (c for c in found.changes if c.time_s > time_s and c.after == STARVED and _is_engine(flight, c)),
        None,
    )
    # One more engine that starves ends what is flown here, as `until` asks.
    end_s = found.duration_s
    burned = "total.burned_kg"
    usable_kg = found.quantity(burned, end_s) - flight.quantity(burned, time_s)
    on_board_kg = flight.quantity("total.on_board_kg", time_s)
    if starved:
        label = found.aircraft.parts[starved.part].label
        sentence = f"{label} then gets no fuel any more: {inner(starved.reason.sentence)}"
    elif found.ended:
        sentence = found.ended.sentence
    else:
        sentence = "No engine wants for fuel within a day."
    return Endurance(
        end_s - time_s, usable_kg, on_board_kg, sentence, _stranded(found, end_s) if starved else ()
    )


def _is_engine(flight: Flight, change: Change) -> bool:
    return flight.aircraft.parts[change.part].kind == "engine"


def _stranded(flight: Flight, time_s: float) -> tuple[Stranded, ...]:
    """What each tank keeps as the first engine starves, and what keeps it there."""
    aircraft = flight.aircraft
    found = []
    for tank in aircraft.tanks:
        kept_kg = flight.quantity(f"{tank.name}.actual_kg", time_s) - tank.unusable_kg
        if kept_kg < WORTH_TELLING_KG:
            continue
        movers = [part for part in (*aircraft.pumps, *aircraft.bypasses) if part.tank == tank.name]
        ways = [f"{inner(part.label)} is {flight.state(part.name, time_s)}" for part in movers]
        for transfer in aircraft.transfers:
            if transfer.from_tank == tank.name:
                gate = transfer.valve or transfer.name
                label = inner(aircraft.parts[gate].label)
                ways.append(f"{label} is {flight.state(gate, time_s)}")
        told = ", ".join(ways) if ways else "nothing leads out of it"
        if any(flight.state(part.name, time_s) == "delivering" for part in movers):
            told = "it still feeds an engine that runs"
        found.append(Stranded(tank.name, kept_kg, f"{tank.label} keeps {mark(kept_kg, 'kg')}: {told}."))
    return tuple(found)


def _landing(flight: Flight, kept: Kept, time_s: float, endurance: Endurance | None) -> Landing | None:
    script = flight.script
    down_s = next(
        (
            first.time_s
            for first, second in zip(script.path, script.path[1:], strict=False)
            if not first.ground and second.ground and first.time_s > time_s
        ),
        None,
    )
    reserve_kg = script.plan_kg.get("final_reserve_kg")
    if down_s is None or reserve_kg is None or down_s > flight.duration_s:
        return None
    on_board_kg = flight.quantity("total.on_board_kg", down_s)
    last = _endurance(flight, kept, down_s - 1.0)
    usable_kg = last.usable_kg if last is not None else 0.0
    standing = standing_of(usable_kg, reserve_kg, committed=True)
    more, less = mark(usable_kg - reserve_kg, "kg"), mark(reserve_kg - usable_kg, "kg")
    apart = f"{more} above" if usable_kg >= reserve_kg else f"{less} below"
    reserve = mark(reserve_kg, "kg")
    sentence = f"It lands with {mark(usable_kg, 'kg')} usable, {apart} the final reserve of {reserve}."
    if endurance is not None and endurance.lasts_s < down_s - time_s and standing != "mayday fuel":
        sentence += " As things stand now, without what is still to be done, it would not get there."
    return Landing(down_s, on_board_kg, usable_kg, reserve_kg, standing, sentence)


def _imbalance(flight: Flight, time_s: float) -> Imbalance:
    sides = {"left": -1.0, "right": 1.0}
    tanks = [(tank, sides[tank.side]) for tank in flight.aircraft.tanks if tank.side in sides]
    now_kg = sum(sign * flight.quantity(f"{tank.name}.actual_kg", time_s) for tank, sign in tanks)
    rate_kg_h = sum(sign * flight.quantity(f"{tank.name}.rate_kg_h", time_s) for tank, sign in tanks)
    if abs(rate_kg_h) < 5.0:
        return Imbalance(now_kg, rate_kg_h, "Both wings change alike.")
    # The tank that does most for the change tells why.
    way = 1.0 if rate_kg_h > 0.0 else -1.0
    pushes = [
        (way * sign * flight.quantity(f"{tank.name}.rate_kg_h", time_s), -i)
        for i, (tank, sign) in enumerate(tanks)
    ]
    losing = tanks[-max(pushes)[1]][0]
    rate = flight.quantity(f"{losing.name}.rate_kg_h", time_s)
    heavier = "right" if rate_kg_h > 0.0 else "left"
    verb = "loses" if rate < 0.0 else "gains"
    sentence = (
        f"The {heavier} wing grows heavier by {mark(abs(rate_kg_h), 'kg/h')}: {inner(losing.label)} {verb} "
        f"{mark(abs(rate), 'kg/h')}."
    )
    return Imbalance(now_kg, rate_kg_h, sentence)

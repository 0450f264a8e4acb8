"""Flights by chance: any loading, settings at any time, any troubles. One number makes one flight.

The generator reads the fleet, its scripts and the catalogue of troubles, so what is new there is flown too.
"""

from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from random import Random

from wetwing.aircraft.condition import Condition, parse
from wetwing.aircraft.model import Aircraft, Control, Part
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.read_troubles import troubled
from wetwing.flight.script import (
    Edit,
    InitialTank,
    Script,
    read_script,
    script_aircraft,
    scripts,
    settable,
    with_edits,
)
from wetwing.flight.troubles import Breakdown, Trouble, breakdowns
from wetwing.physics.fuel import mass_kg

MOST_EDITS, MOST_TROUBLES = 6, 4
WHOLE, LEAST_S = 0.1, 60.0
"""One in ten of the flights that `cut_short` is given stays whole; the others end early, not within a
minute.
"""


@dataclass(frozen=True)
class Drawn:
    """A flight drawn by chance, and how to make it again."""

    seed: int
    aircraft: Aircraft
    script: Script

    def told(self) -> str:
        """What is unusual about it."""
        said = [f"seed {self.seed}: {self.aircraft.name}, {self.script.name}, to {self.script.ends_s:.3f} s"]
        said += [f"{edit.time_s:.1f} s {edit.part} = {edit.state}" for edit in self.script.edits]
        for trouble in self.script.troubles:
            begins = (
                f"{trouble.at_s:.1f} s"
                if trouble.at_s is not None
                else f"when {trouble.when and trouble.when.text}"
            )
            said.append(
                f"{begins} {trouble.part}: {trouble.kind} {trouble.severity:g},"
                f" lasts {trouble.lasts_s}, until {trouble.until_s}"
            )
        return "; ".join(said)


@cache
def fleet() -> tuple[str, ...]:
    """Every aircraft that ships."""
    folder = files("wetwing.aircraft") / "fleet"
    return tuple(
        sorted(entry.name.removesuffix(".toml") for entry in folder.iterdir() if entry.name.endswith(".toml"))
    )


@cache
def flights_of(aircraft: str) -> tuple[str, ...]:
    """Scripts that were written for an aircraft, or for the one that it is a revision of."""
    found = [name for name in scripts() if aircraft.startswith(script_aircraft(name))]
    return tuple(found)


@cache
def aircraft_of(name: str) -> Aircraft:
    """An aircraft, read once."""
    return read_aircraft(name)


@cache
def script_of(name: str, aircraft: str) -> Script:
    """A script, read once."""
    return read_script(name, aircraft_of(aircraft))


def drawn(seed: int, aircraft: str | None = None) -> Drawn:
    """The flight of a number."""
    dice = Random(seed)
    known = [name for name in fleet() if flights_of(name)]
    craft = aircraft_of(aircraft or dice.choice(known))
    script = _loaded(dice, script_of(dice.choice(flights_of(craft.name)), craft.name), craft)
    edits = tuple(_edit(dice, craft, script) for _ in range(dice.randint(0, MOST_EDITS)))
    script = with_edits(script, edits, craft)
    troubles = tuple(_trouble(dice, i, craft, script) for i in range(dice.randint(0, MOST_TROUBLES)))
    return Drawn(seed, craft, replace(script, troubles=(*script.troubles, *troubles)))


def one_more(found: Drawn) -> Drawn:
    """The flight with one edit more: a setting, or a trouble as a reader adds it."""
    dice = Random(1_000_000 + found.seed)
    script, craft = found.script, found.aircraft
    edit = _edit(dice, craft, script)
    if dice.random() < 0.5:
        part, kind = _breakdown(dice, craft)
        severity = f" {_severity(dice, kind):.6g}" if kind.key else ""
        edit = Edit(_time_s(dice, script), part.name, f"{kind.kind}{severity}")
    return replace(found, script=with_edits(script, (*script.edits, edit), craft))


def cut_short(found: Drawn) -> Drawn:
    """The flight as it is, or ended at some time of it, rather early: as much that can go wrong in less time.

    An end between two events is a state that a whole flight never ends in.
    """
    dice = Random(-1 - found.seed)
    if dice.random() < WHOLE:
        return found
    script = found.script
    ends_s = LEAST_S + (script.ends_s - LEAST_S) * dice.random() ** 3
    phases = tuple(phase for phase in script.phases if phase.start_s < ends_s)
    return replace(found, script=replace(script, ends_s=ends_s, phases=phases))


def _loaded(dice: Random, script: Script, craft: Aircraft) -> Script:
    if dice.random() < 0.4:
        return script
    density = dice.uniform(775.0, 840.0)
    tanks = {}
    for tank in craft.tanks:
        celsius = dice.uniform(-25.0, 35.0)
        most_kg = mass_kg(tank.overflow.at_l, density, celsius)
        fill = dice.choice([dice.random(), dice.random(), 0.0, 1.0, 0.002, 0.02, 0.1])
        tanks[tank.name] = InitialTank(fill * most_kg * (1.0 - 1e-12), celsius)
    return replace(
        script,
        density_15c_kg_m3=density,
        zero_fuel_kg=dice.uniform(0.6, 1.0) * craft.limits.zero_fuel_kg,
        deviation_k=dice.uniform(-20.0, 25.0),
        uplift_temperature_c=dice.uniform(-15.0, 40.0),
        light_ends=dice.uniform(1.0, 3.0),
        wear_factor=dice.uniform(1.0, 1.1),
        tanks=tanks if dice.random() < 0.7 else script.tanks,
    )


def _time_s(dice: Random, script: Script) -> float:
    # Moments at which much happens anyway are tried more often than chance would.
    at = [action.at_s for action in script.actions if action.at_s is not None]
    at += [point.time_s for point in script.path if point.time_s < script.ends_s]
    choice = dice.random()
    if choice < 0.3 and at:
        return dice.choice(at)
    return float(dice.randrange(int(script.ends_s))) if choice < 0.7 else dice.uniform(0.0, script.ends_s)


def _edit(dice: Random, craft: Aircraft, script: Script) -> Edit:
    name = dice.choice(sorted(settable(craft)))
    part = craft.parts[name]
    if isinstance(part, Control) and part.quantity:
        return Edit(
            _time_s(dice, script), name, f"{dice.uniform(part.quantity.least, part.quantity.most):.1f}"
        )
    return Edit(_time_s(dice, script), name, dice.choice(part.settings))


def _breakdown(dice: Random, craft: Aircraft) -> tuple[Part, Breakdown]:
    """A part, and one of the ways in which it can fail."""
    part = craft.parts[dice.choice(sorted(troubled(craft)))]
    if dice.random() < 0.5:
        # There are many sensors and few tanks: a kind of part first, then one of them.
        kinds = sorted({each.kind for each in troubled(craft).values()})
        kind = dice.choice(kinds)
        part = dice.choice([each for each in troubled(craft).values() if each.kind == kind])
    return part, dice.choice(breakdowns(part))


def _trouble(dice: Random, i: int, craft: Aircraft, script: Script) -> Trouble:
    part, found = _breakdown(dice, craft)
    at_s, when = (_time_s(dice, script), None) if dice.random() < 0.75 else (None, _condition(dice, craft))
    ends = dice.random()
    return Trouble(
        name=f"chance-{i + 1}",
        part=part.name,
        kind=found.kind,
        severity=_severity(dice, found),
        at_s=at_s,
        when=when,
        after_s=0.0 if at_s is not None else dice.choice([0.0, 30.0]),
        until_s=dice.uniform(at_s, script.ends_s) + 0.1 if at_s is not None and ends < 0.15 else None,
        lasts_s=dice.uniform(1.0, 4000.0) if ends > 0.75 else None,
        note="",
    )


def _severity(dice: Random, found: Breakdown) -> float:
    if found.key is None:
        return found.default
    if dice.random() < 0.3:
        return float(dice.choice([found.least, found.default, found.most]))
    if found.least > 0.0:
        # As often between 1 and 10 as between 100 and 1,000.
        return float(found.least * (found.most / found.least) ** dice.random())
    return dice.uniform(found.least, found.most)


def _condition(dice: Random, craft: Aircraft) -> Condition:
    tank = dice.choice(craft.tanks)
    kg = dice.uniform(0.0, 0.8 * tank.capacity_l)
    choices = [
        f"{tank.name}.gauged_kg < {kg:.0f} kg",
        f"flight.altitude_ft > {dice.uniform(0.0, 0.9 * craft.limits.ceiling_ft):.0f} ft",
        f"{tank.name}.temperature_c < {dice.uniform(-30.0, 15.0):.0f} °C",
    ]
    for part in dice.sample(sorted(craft.parts), 3):
        states = craft.parts[part].states
        if states:
            choices.append(f'{part} is "{dice.choice(states)}"')
    return parse(dice.choice(choices), "chance")

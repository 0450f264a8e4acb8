"""Whether two aircraft can fly one script, and with which troubles it is worth to fly them both."""

from collections.abc import Iterable

from wetwing.aircraft.condition import Compare
from wetwing.aircraft.model import Aircraft, Rule
from wetwing.flight.script import Edit, Script
from wetwing.flight.troubles import breakdowns

TROUBLES = {"tank": "leak", "pump": "failed", "sensor": "stuck wet", "valve": "stuck shut"}
"""The trouble that a part of each kind is tried with."""


def alike(first: Aircraft, second: Aircraft) -> bool:
    """Two aircraft are alike where people set the same things and the fuel lies in the same tanks: what one
    script says to the first then has a meaning for the second. Two revisions are; two types are not.
    """
    return _outside(first) == _outside(second)


def _outside(aircraft: Aircraft) -> tuple[set[str], set[str], set[str]]:
    settable = {name for name, part in aircraft.parts.items() if part.settings}
    tanks = {tank.name for tank in aircraft.tanks}
    return tanks, {engine.name for engine in aircraft.engines}, settable


def trials(first: Aircraft, second: Aircraft, script: Script) -> list[Edit]:
    """Troubles that may show what the undisturbed flight does not: one of each kind of part that a rule looks
    at which is not the same in both, in the order of the file, from the beginning of the cruise on.
    """
    at_s = next((phase.start_s for phase in script.phases if phase.name == "cruise"), script.ends_s / 2.0)
    found: dict[str, Edit] = {}
    for name in _looked_at(first, second):
        part = first.parts.get(name)
        if part is None or name not in second.parts or part.kind in found:
            continue
        trouble = TROUBLES.get(part.kind)
        if trouble and any(one.kind == trouble for one in breakdowns(part)):
            found[part.kind] = Edit(at_s, name, trouble)
    return list(found.values())


def _looked_at(first: Aircraft, second: Aircraft) -> Iterable[str]:
    """The parts that the rules look at in which the two aircraft differ."""
    theirs = {rule.name: rule for rule in second.rules}
    for rule in first.rules:
        other = theirs.get(rule.name)
        if other is None or changed(rule, other):
            for one in (rule, *((other,) if other else ())):
                for condition in (one.starts, one.ends):
                    for leaf in condition.leaves() if condition else ():
                        yield leaf.left.partition(".")[0] if isinstance(leaf, Compare) else leaf.part


def changed(one: Rule, other: Rule) -> bool:
    """Whether two rules of one name do not do the same."""
    return _does(one) != _does(other)


def _does(rule: Rule) -> tuple[object, ...]:
    ends = rule.ends.node if rule.ends else None
    return rule.starts.node, ends, rule.after_s, rule.lasts_s, rule.bus, rule.sentence

"""Rules and alerts of two aircraft side by side."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from wetwing.aircraft.condition import Condition, Is
from wetwing.aircraft.model import Aircraft, Alert, JetPump, Pump, Valve
from wetwing.teach.differences.alike import changed

REFUELLING, PUMPS, VALVES, OTHER = (
    "Refuelling",
    "Pumps and feed",
    "Valves, transfer and return",
    "Other rules",
)


@dataclass(frozen=True, slots=True)
class Told:
    """A rule or an alert as each aircraft has it, `None` where it has none: a sentence with marks, and the
    conditions as the file has them, by what they are for.
    """

    name: str
    label: str
    first: str | None
    second: str | None
    first_when: tuple[tuple[str, str], ...] = ()
    second_when: tuple[tuple[str, str], ...] = ()

    @property
    def what(self) -> str:
        """`changed`, `added` or `gone`."""
        if self.first is None:
            return "added"
        return "gone" if self.second is None else "changed"


def rules(first: Aircraft, second: Aircraft) -> list[Told]:
    """The rules that are not the same in two aircraft of one kind: changed, gone, added."""
    ours = {rule.name: rule for rule in first.rules}
    theirs = {rule.name: rule for rule in second.rules}
    found = []
    for name in _names(ours, theirs):
        one, other = ours.get(name), theirs.get(name)
        if one and other and not changed(one, other):
            continue
        label = (one or theirs[name]).label
        found.append(
            Told(
                name,
                label,
                one.sentence if one else None,
                other.sentence if other else None,
                _when(("begins when", one.starts), ("ends when", one.ends)) if one else (),
                _when(("begins when", other.starts), ("ends when", other.ends)) if other else (),
            )
        )
    return found


def alerts(first: Aircraft, second: Aircraft, by_text: bool = False) -> list[Told]:
    """The alerts that are not the same: level, text, condition or delay.

    Two types may call the same thing by two names: `by_text` pairs alerts by what they say to a crew, and
    leaves their conditions, which speak of other parts, out of it.
    """
    ours = {alert.text if by_text else alert.name: alert for alert in first.alerts}
    theirs = {alert.text if by_text else alert.name: alert for alert in second.alerts}
    found = []
    for name in _names(ours, theirs):
        one, other = ours.get(name), theirs.get(name)
        if one and other and (one.level == other.level if by_text else _alert(one) == _alert(other)):
            continue
        found.append(
            Told(
                name,
                (one or theirs[name]).text,
                _alert_words(one) if one else None,
                _alert_words(other) if other else None,
                _when(("on when", one.when)) if one else (),
                _when(("on when", other.when)) if other else (),
            )
        )
    return found


def _names(ours: Mapping[str, object], theirs: Mapping[str, object]) -> list[str]:
    return [*ours, *(name for name in theirs if name not in ours)]


def _when(*conditions: tuple[str, Condition | None]) -> tuple[tuple[str, str], ...]:
    return tuple((what, " ".join(found.text.split())) for what, found in conditions if found)


def _alert(alert: Alert) -> tuple[object, ...]:
    return alert.level, alert.text, alert.when.node, alert.after_s


def _alert_words(alert: Alert) -> str:
    after = f", after {{{alert.after_s:g} s}}" if alert.after_s else ""
    return f"{alert.level.capitalize()}: {alert.text}{after}"


def rules_by_system(aircraft: Aircraft) -> dict[str, list[tuple[str, str]]]:
    """Each rule's label and sentence, by what it acts on: for aircraft that share no rules.

    A rule belongs to the first system one of whose parts waits for it; one that only other rules look at
    belongs where they do.
    """
    system = _waiting(aircraft)
    for _ in aircraft.rules:  # a chain of rules is no longer than the list of them
        for rule in aircraft.rules:
            seen = (rule.starts, *((rule.ends,) if rule.ends else ()))
            for name in _rules_in(seen):
                if rule.name in system:
                    system.setdefault(name, system[rule.name])
    found: dict[str, list[tuple[str, str]]] = {}
    for title in (PUMPS, VALVES, REFUELLING, OTHER):
        own = [(one.label, one.sentence) for one in aircraft.rules if system.get(one.name, OTHER) == title]
        if own:
            found[title] = own
    return found


def _waiting(aircraft: Aircraft) -> dict[str, str]:
    """The system of each rule that a part waits for."""
    supplied = {supply.node for supply in aircraft.supplies}
    found: dict[str, str] = {}
    parts: list[Pump | JetPump | Valve] = [*aircraft.valves, *aircraft.pumps, *aircraft.jet_pumps]
    for part in parts:
        if isinstance(part, Valve):
            condition = part.opens_when
            title = REFUELLING if set(part.ends or ()) & supplied else VALVES
        else:
            condition, title = part.runs_when, PUMPS
        if condition:
            for name in _rules_in([condition]):
                found.setdefault(name, title)
    return found


def _rules_in(conditions: Iterable[Condition]) -> list[str]:
    """What conditions look at whose state is active or inactive: rules."""
    leaves = [leaf for condition in conditions for leaf in condition.leaves()]
    return [leaf.part for leaf in leaves if isinstance(leaf, Is) and leaf.state in ("active", "inactive")]

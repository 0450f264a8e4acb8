"""The figure with which a rule or an alert compares a quantity, for a page that names a threshold.

`limit of main-left.gauged_kg in outboard-release` is 900 kg, and can never go stale. Where a rule starts and
ends at different figures, it says which: `limit of return-left.oil_c in start of oil-warm-1`; where there are
several, `least limit of` or `greatest limit of`.
"""

from wetwing.aircraft.condition import Compare, Condition
from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft, Alert, Rule
from wetwing.teach.text import split_at

FORM = "limit of QUANTITY in RULE"


PICK = {"least": min, "greatest": max}


def limit_of(aircraft: Aircraft, text: str, place: str, which: str = "") -> tuple[float, str]:
    """The figure and its unit; `text` is what follows `limit of`, `which` what goes before it: a key of PICK.

    Without sign: an alert that compares with 1,500 and with −1,500 has one limit. Raises Mistake where the
    rule has no such figure, or more than one.
    """
    cut = split_at(text, "in")
    if not cut:
        raise Mistake(place, f"'limit of {text[:60]}' names no rule", FORM)
    quantity, name = cut
    side, _, rest = name.partition(" of ")
    side, name = (side, rest) if rest else ("", name)
    every: tuple[Rule | Alert, ...] = (*aircraft.rules, *aircraft.alerts)
    owners = {one.name: one for one in every}
    if name not in owners:
        raise unknown(place, "rule or alert", name, owners)
    conditions = _conditions(owners[name])
    if side and side not in conditions:
        raise unknown(place, f"part of {name}", side, conditions)
    wanted = [conditions[side]] if side else list(conditions.values())
    compared = [leaf for condition in wanted for leaf in condition.leaves() if isinstance(leaf, Compare)]
    figures = {
        (abs(leaf.right), leaf.unit)
        for leaf in compared
        if leaf.left == quantity and not isinstance(leaf.right, str)
    }
    if not figures:
        known = {leaf.left for leaf in compared if not isinstance(leaf.right, str)}
        raise unknown(place, f"quantity that {name} compares with a figure", quantity, known)
    if which:
        return PICK[which](figures)
    if len(figures) > 1:
        told = ", ".join(f"{amount:g} {unit}".strip() for amount, unit in sorted(figures))
        sides = (f"in {each} of {name}" for each in conditions) if len(conditions) > 1 and not side else ()
        allowed = (*sides, *(f"{each} limit of" for each in PICK))
        raise Mistake(place, f"{name} compares {quantity} with {told}", allowed)
    return figures.pop()


def _conditions(owner: Rule | Alert) -> dict[str, Condition]:
    if isinstance(owner, Alert):
        return {"start": owner.when}
    return {"start": owner.starts} | ({"end": owner.ends} if owner.ends else {})

"""The figures of a script's plan by name, `plan.final_reserve_kg`, for figures and claims of a page.

The plan's own, and the sums that people ask for. A plan is made before the flight, so in a claim such a name
stands for its number. All are in kg.
"""

from collections.abc import Mapping
from dataclasses import replace

from wetwing.aircraft.condition import All, Any, Compare, Condition, Node, Not
from wetwing.aircraft.mistakes import unknown
from wetwing.flight.script import Script
from wetwing.physics.planning import clearance_change_kg

PLAN = "plan."
UNIT = "kg"
SUMS = {
    "diversion_kg": ("alternate_kg", "final_reserve_kg"),
    "landing_kg": ("contingency_kg", "alternate_kg", "final_reserve_kg"),
    "take_off_kg": ("trip_kg", "contingency_kg", "alternate_kg", "final_reserve_kg"),
    "block_kg": ("taxi_kg", "trip_kg", "contingency_kg", "alternate_kg", "final_reserve_kg"),
}
"""What the parts come to: to divert and land, at the landing, at the take-off, before the start."""


def planned(script: Script) -> dict[str, float]:
    """Every figure of the plan in kg by its name, a sum only where all its parts are planned.

    `change_kg` is what a change of clearance may cost, `minimum_fuel_kg` the final reserve with it.
    """
    own = script.plan_kg
    sums = {
        name: sum(own[part] for part in parts)
        for name, parts in SUMS.items()
        if all(part in own for part in parts)
    }
    if "final_reserve_kg" in own:
        sums["change_kg"] = clearance_change_kg(own["final_reserve_kg"])
        sums["minimum_fuel_kg"] = own["final_reserve_kg"] + sums["change_kg"]
    return {f"{PLAN}{name}": amount for name, amount in {**own, **sums}.items()}


def with_plan(condition: Condition, script: Script, place: str) -> Condition:
    """The condition with the plan's numbers in place of their names. Raises Mistake for an unknown one."""
    return replace(condition, node=_with(condition.node, planned(script), place))


def _with(node: Node, figures: Mapping[str, float], place: str) -> Node:
    match node:
        case Compare(right=str() as name) if name.startswith(PLAN):
            if name not in figures:
                raise unknown(place, "figure of the plan", name, figures)
            return replace(node, right=figures[name], unit=UNIT)
        case Not(inner):
            return Not(_with(inner, figures, place))
        case All(inner):
            return All(tuple(_with(child, figures, place) for child in inner))
        case Any(inner):
            return Any(tuple(_with(child, figures, place) for child in inner))
        case _:
            return node

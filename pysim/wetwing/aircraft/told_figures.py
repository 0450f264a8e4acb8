"""A rule's sentence and an alert's text tell its own figures: one that nothing of it has is refused.

They are shown to readers as they stand in the file. So whoever changes a threshold learns here that the words
beside it still tell the old one.
"""

import re
from collections.abc import Iterable

from wetwing.aircraft.condition import Compare, Condition
from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft

_FIGURE = re.compile(r"(?<![\w.,])([-−]?\d[\d,]*(?:\.\d+)?)\s(kg/h|kg|L|bar|°C|ft|min|s|%)(?![\w/])")
_SECONDS = {"s": 1.0, "min": 60.0}


def check_told_figures(aircraft: Aircraft, file: str) -> None:
    """Raise Mistake for the first rule or alert whose words tell a figure that is none of its own."""
    for rule in aircraft.rules:
        _check(
            rule.sentence,
            (rule.starts, rule.ends),
            (rule.after_s, rule.lasts_s),
            f"{file}: rules.{rule.name}.sentence",
        )
    for alert in aircraft.alerts:
        for key, words in (("text", alert.text), ("note", alert.note)):
            _check(words, (alert.when,), (alert.after_s,), f"{file}: alerts.{alert.name}.{key}")


def _check(
    words: str, conditions: Iterable[Condition | None], times_s: Iterable[float | None], place: str
) -> None:
    # Signs don't count: "differ by more than 1,500 kg" tells both sides of a span.
    own = {
        (leaf.by if isinstance(leaf.right, str) else abs(leaf.right), leaf.unit)
        for condition in conditions
        if condition
        for leaf in condition.leaves()
        if isinstance(leaf, Compare)
    }
    own.discard((0.0, ""))
    own |= {(time_s, "s") for time_s in times_s if time_s}
    for amount, unit in _FIGURE.findall(words):
        told = (abs(float(amount.replace(",", "").replace("−", "-"))), unit)
        if unit in _SECONDS:
            told = (told[0] * _SECONDS[unit], "s")
        if told not in own:
            allowed = sorted(f"{figure:g} {its_unit}".strip() for figure, its_unit in own)
            raise Mistake(
                place, f"'{amount} {unit}' stands in these words, and in no condition", allowed or "no figure"
            )

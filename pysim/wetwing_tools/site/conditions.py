"""Conditions in words: what a condition of an aircraft's file asks for, for people who read no code."""

from collections.abc import Iterable

from wetwing.aircraft.condition import All, Any, Compare, Condition, Is, Node, Not
from wetwing.aircraft.model import Aircraft
from wetwing.flight.phrases import inner, leaf_words, mark, narrowed, quantity_words
from wetwing.teach.words import listed


def said(condition: Condition, aircraft: Aircraft) -> str:
    """A condition as a clause, with quantities as marks: `engine 1 is running and ...`."""
    return _said(condition.node, aircraft, True)


def said_items(condition: Condition, aircraft: Aircraft) -> list[str]:
    """A condition as a list of sentences without their stops: all of these; one may hold several in turn."""
    node = condition.node
    items = node.inner if isinstance(node, All) else (node,)
    return [_capital(_said(one, aircraft, True)) for one in items]


def _capital(clause: str) -> str:
    """A clause with a capital at its beginning, behind a bracket too."""
    at = 1 if clause.startswith("(") else 0
    return f"{clause[:at]}{clause[at : at + 1].upper()}{clause[at + 1 :]}"


def _said(node: Node, aircraft: Aircraft, truth: bool) -> str:
    match node:
        case Is(part, "reads", negated):
            return f"{_label(part, aircraft)} {'reads' if truth != negated else 'does not read'}"
        case Is(part, state, negated):
            return f"{_label(part, aircraft)} is {'' if truth != negated else 'not '}{state}"
        case Compare():
            return _compared(node, aircraft, truth)
        case Not(one):
            return _said(one, aircraft, not truth)
        case All(many):
            return _joined(many, aircraft, truth, "and" if truth else "or")
        case Any(many):
            return _joined(many, aircraft, truth, "or" if truth else "and")


def _joined(nodes: Iterable[Node], aircraft: Aircraft, truth: bool, word: str) -> str:
    clauses = []
    for node in nodes:
        clause = _said(node, aircraft, truth)
        mixed = isinstance(node, All | Any) or (isinstance(node, Not) and isinstance(node.inner, All | Any))
        clauses.append(f"({clause})" if mixed else clause)
    return listed(narrowed(clauses) if word == "and" else clauses, word)


def _compared(leaf: Compare, aircraft: Aircraft, truth: bool) -> str:
    if isinstance(leaf.right, str):
        opposite = {">=": "<", ">": "<=", "<=": ">", "<": ">="}
        words = {">=": "no less than", ">": "more than", "<=": "no more than", "<": "less than"}
        right = inner(quantity_words(leaf.right, aircraft).rpartition(" ")[0])
        subject = inner(quantity_words(leaf.left, aircraft))
        if leaf.by:
            # A margin is told with the comparison as it is written, and denied as a whole.
            ends = {"<": "less than", "<=": "less than", ">": "more than", ">=": "more than"}
            margin = mark(leaf.by, leaf.unit)
            by = f"by more than {margin}" if leaf.op in ("<", ">") else f"by {margin} or more"
            return f"{subject} {'' if truth else 'not '}{ends[leaf.op]} {right} {by}"
        return f"{subject} {words[leaf.op if truth else opposite[leaf.op]]} {right}"
    return _inner(leaf_words(leaf, truth, aircraft, "", leaf.right), aircraft)


def _label(part: str, aircraft: Aircraft) -> str:
    if part in aircraft.parts and aircraft.parts[part].kind == "alert":
        # Its label is a clause of its own.
        return f"the alert “{aircraft.parts[part].label}”"
    return _inner(aircraft.parts[part].label if part in aircraft.parts else part, aircraft)


def _inner(words: str, aircraft: Aircraft) -> str:
    # An engine's name keeps its capital, as an abbreviation does.
    engines = (engine.label for engine in aircraft.engines)
    return words if words.startswith(tuple(engines)) else inner(words)

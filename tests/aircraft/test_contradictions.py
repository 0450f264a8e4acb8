"""Conditions that contradict themselves, held to a count of every case."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.aircraft.test_condition import TREES, written
from wetwing.aircraft.condition import All, Any, Compare, Condition, Is, Node, Not, parse
from wetwing.aircraft.contradictions import check_can_hold, check_ends
from wetwing.aircraft.mistakes import Mistake

THRESHOLDS = st.builds(
    Compare, st.sampled_from(["a.x_kg", "b.x_kg"]), st.sampled_from(["<", "<=", ">", ">="]),
    st.integers(0, 3).map(float), st.just("kg"),
)  # fmt: skip
STATES = st.builds(Is, st.just("p"), st.sampled_from(["in", "out", "between"]), st.booleans())
LEAVES = st.one_of(THRESHOLDS, STATES)
FLAT = st.lists(LEAVES, min_size=2, max_size=4)
VALUES = [half / 2.0 for half in range(-1, 8)]
CASES = [{"a.x_kg": a, "b.x_kg": b, "p": p} for a, b, p in product(VALUES, VALUES, ("in", "out", "between"))]


def holds(node: Node, case: dict[str, object]) -> bool:
    match node:
        case Is(part, state, negated):
            return (case[part] == state) != negated
        case Compare(left, op, right, _):
            value, bound = case[left], right
            assert isinstance(value, float)
            assert isinstance(bound, float)
            return {"<": value < bound, "<=": value <= bound, ">": value > bound, ">=": value >= bound}[op]
        case All(inner):
            return all(holds(one, case) for one in inner)
        case Any(inner):
            return any(holds(one, case) for one in inner)
        case Not(inner):
            return not holds(inner, case)


def refused(check: object, *parts: object) -> bool:
    try:
        check(*parts, "here")  # type: ignore[operator]
    except Mistake:
        return True
    return False


@given(FLAT)
def test_what_is_refused_can_never_hold(terms: list[Node]) -> None:
    node = All(tuple(terms))
    if refused(check_can_hold, Condition("x", node)):
        assert not any(holds(node, case) for case in CASES)


@given(st.lists(THRESHOLDS, min_size=2, max_size=4))
def test_thresholds_that_exclude_each_other_are_all_found(terms: list[Node]) -> None:
    node = All(tuple(terms))
    never = not any(holds(node, case) for case in CASES)
    assert refused(check_can_hold, Condition("x", node)) == never


@given(FLAT, FLAT, st.booleans(), st.booleans())
def test_an_end_that_is_refused_holds_at_every_start(
    starts: list[Node], ends: list[Node], either: bool, or_else: bool
) -> None:
    one = Any(tuple(starts)) if either else All(tuple(starts))
    other = Any(tuple(ends)) if or_else else All(tuple(ends))
    if refused(check_ends, Condition("x", one), Condition("y", other)):
        assert all(holds(other, case) for case in CASES if holds(one, case))


@given(TREES)
def test_a_rule_that_ends_by_its_own_start_is_refused(tree: Node) -> None:
    text = written(tree)
    assert refused(check_ends, parse(text, "here"), parse(text, "here"))


@pytest.mark.parametrize(
    ("starts", "ends", "wrong"),
    [
        ("a.x_kg <= 900 kg", "a.x_kg <= 1000 kg", True),
        ("a.x_kg <= 900 kg", "a.x_kg >= 900 kg", True),
        ("a.x_kg <= 900 kg", "a.x_kg > 900 kg", False),
        ("a.x_kg <= 900 kg", "a.x_kg >= 1000 kg", False),
        ("a.x_kg <= 900 kg", "b.x_kg <= 1000 kg", False),
        ("a.x_kg <= 900 kg", "fallen(a.x_kg) <= 1000 kg", False),
        ("a.x_kg < b.x_kg", "a.x_kg >= b.x_kg", False),
        ("a.x_kg < b.x_kg", "a.x_kg <= b.x_kg", True),
        ("a.x_kg <= 900 kg and p is in", "a.x_kg <= 1000 kg or p is out", True),
        ("a.x_kg <= 900 kg or p is in", "a.x_kg <= 1000 kg", False),
        ("p is in", "p is not out", True),
        ("p is in", "p is out", False),
    ],
)
def test_ends_beside_starts(starts: str, ends: str, wrong: bool) -> None:
    assert refused(check_ends, parse(starts, "here"), parse(ends, "here")) == wrong


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("a.x_kg > 5 kg and a.x_kg < 3 kg", True),
        ("a.x_kg >= 5 kg and a.x_kg <= 5 kg", False),
        ("a.x_kg >= 5 kg and a.x_kg < 5 kg", True),
        ("p is in or (a.x_kg > 5 kg and (p is in and a.x_kg < 3 kg))", True),
        ("a.x_kg > 5 kg or a.x_kg < 3 kg", False),
        ("a.x_kg > b.x_kg and a.x_kg < b.x_kg", True),
        ("p is not in and p is not out", False),
        ("p is not in and p is out and p is in", True),
        ("not (p is in and p is out)", True),
    ],
)
def test_conditions_that_can_never_hold(text: str, wrong: bool) -> None:
    assert refused(check_can_hold, parse(text, "here")) == wrong

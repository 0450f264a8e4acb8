"""The condition language: what it means, and what it says to each slip."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.aircraft.files import mistake_of, says
from wetwing.aircraft.condition import All, Any, Compare, Condition, Is, Not, check, parse, unit_of
from wetwing.aircraft.mistakes import Mistake


def node(text: str) -> object:
    return parse(text, "here").node


def test_states() -> None:
    assert node("slats is out") == Is("slats", "out")
    assert node("slats is not out") == Is("slats", "out", negated=True)
    assert node('main-left-aft is "running, held back"') == Is("main-left-aft", "running, held back")


def test_comparisons_with_a_unit() -> None:
    assert node("main-left.gauged_kg <= 900 kg") == Compare("main-left.gauged_kg", "<=", 900.0, "kg")
    assert node("engine-1.flow_kg_h > 3,900 kg/h") == Compare("engine-1.flow_kg_h", ">", 3900.0, "kg/h")
    assert node("outboard-left.temperature_c >= -12.5 °C") == Compare(
        "outboard-left.temperature_c", ">=", -12.5, "°C"
    )
    assert node("centre.fill < 0.5") == Compare("centre.fill", "<", 0.5, "")
    assert node("trim.value_percent < 5 %") == Compare("trim.value_percent", "<", 5.0, "%")
    assert node("flight.roll_deg > -2 °") == Compare("flight.roll_deg", ">", -2.0, "°")
    assert node("flight.root_bending_kn_m < 900 kN·m and a is x") == All(
        (Compare("flight.root_bending_kn_m", "<", 900.0, "kN·m"), Is("a", "x"))
    )


def test_comparisons_of_two_quantities() -> None:
    assert node("total.gauged_kg < preselect.value_kg") == Compare(
        "total.gauged_kg", "<", "preselect.value_kg", ""
    )


def test_a_margin_between_two_quantities() -> None:
    wanted = Compare("total.gauged_kg", "<", "preselect.value_kg", "kg", None, 200.0)
    assert node("total.gauged_kg < preselect.value_kg by 200 kg") == wanted
    assert wanted.beyond == -200.0
    assert node("a.x_kg >= b.x_kg by 1,200.5 kg and c is x") == All(
        (Compare("a.x_kg", ">=", "b.x_kg", "kg", None, 1200.5), Is("c", "x"))
    )


@pytest.mark.parametrize(
    "text", ["a.x_kg < b.x_kg by", "a.x_kg < b.x_kg by c.x_kg", "a.x_kg < b.x_kg by 0 kg"]
)
def test_a_margin_is_a_number_above_zero(text: str) -> None:
    with pytest.raises(Mistake, match="a margin above zero with its unit"):
        node(text)


@pytest.mark.parametrize(("margin", "told"), [("20 L", "unit 'L'"), ("20", "20 with no unit")])
def test_a_margin_has_the_unit_of_what_it_parts(margin: str, told: str) -> None:
    text = f"total.gauged_kg < preselect.value_kg by {margin}"
    with pytest.raises(Mistake, match=told):
        check(parse(text, "here"), "here", {}, {"total.gauged_kg": "kg", "preselect.value_kg": "kg"})


def test_what_has_fallen_or_risen() -> None:
    wanted = Compare("centre.gauged_kg", ">=", 430.0, "kg", "fallen")
    assert node("fallen(centre.gauged_kg) >= 430 kg") == wanted
    assert node("fallen ( centre.gauged_kg ) >= 430 kg") == wanted
    assert node("risen(centre.gauged_kg) > 5 kg") == Compare("centre.gauged_kg", ">", 5.0, "kg", "risen")


def test_and_binds_closer_than_or_and_brackets_closest() -> None:
    a, b, c = Is("a", "x"), Is("b", "x"), Is("c", "x")
    assert node("a is x or b is x and c is x") == Any((a, All((b, c))))
    assert node("(a is x or b is x) and c is x") == All((Any((a, b)), c))
    assert node("not a is x and b is x") == All((Not(a), b))
    assert node("not (a is x or b is x)") == Not(Any((a, b)))
    assert node("not not a is x") == Not(Not(a))


def test_lines_and_spaces_mean_nothing() -> None:
    assert parse("\n  a is x\n  and (b is x)\n", "here") == parse("a is x and (b is x)", "here")


def test_leaves_come_in_the_order_of_the_text() -> None:
    condition = parse("a is x and (b is x or not c.gauged_kg < 5 kg)", "here")
    assert [getattr(leaf, "part", None) or getattr(leaf, "left", None) for leaf in condition.leaves()] == [
        "a",
        "b",
        "c.gauged_kg",
    ]


@pytest.mark.parametrize(
    ("quantity", "unit"),
    [
        ("centre.actual_kg", "kg"),
        ("engine-1.flow_kg_h", "kg/h"),
        ("centre.volume_l", "L"),
        ("gallery.pressure_bar", "bar"),
        ("centre.temperature_c", "°C"),
        ("flight.altitude_ft", "ft"),
        ("flight.time_s", "s"),
        ("flight.mach", ""),
        ("centre.fill", ""),
        ("centre.air_share", ""),
        ("flight.pitch_deg", "°"),
        ("flight.cg_percent", "%"),
        ("flight.root_bending_kn_m", "kN·m"),
        ("return-left.oil_c", "°C"),
        ("centre.colour", None),
    ],
)
def test_a_quantity_s_unit_is_the_ending_of_its_name(quantity: str, unit: str | None) -> None:
    assert unit_of(quantity) == unit


SLIPS = [
    ("", '"" ends too soon; allowed: a part or a quantity'),
    ("slats", "\"slats\" ends too soon; allowed: 'is', '<', '<=', '>' or '>='"),
    ("slats is", '"slats is" ends too soon; allowed: a state'),
    ("slats is not", '"slats is not" ends too soon; allowed: a state'),
    ("slats is (", "found '(' at character 10 of \"slats is (\"; allowed: a state"),
    ("slats is out and", '"slats is out and" ends too soon; allowed: a part or a quantity'),
    ("not", '"not" ends too soon; allowed: a part or a quantity'),
    ("900 kg", "found '900' at character 1 of \"900 kg\"; allowed: a part or a quantity"),
    ("(slats is out", "\"(slats is out\" ends too soon; allowed: ')'"),
    ("slats is out)", "found ')' at character 13 of \"slats is out)\"; allowed: 'and', 'or' or the end"),
    (
        "slats is out flaps is out",
        "found 'flaps' at character 14 of \"slats is out flaps is out\"; allowed: 'and', 'or' or the end",
    ),
    ("slats = out", "cannot read '=' in \"slats = out\" at character 7"),
    ("slats is 'out'", "cannot read ''' in \"slats is 'out'\" at character 10"),
    ('slats is "out', 'cannot read \'"\' in "slats is "out" at character 10'),
    ("a.x_kg ≥ 9 kg", "cannot read '≥' in \"a.x_kg ≥ 9 kg\" at character 8"),
    ("slats is out; x", "cannot read ';' in \"slats is out; x\" at character 13"),
    ("__import__('os')", "cannot read '_' in \"__import__('os')\" at character 1"),
    ("a.x_kg >=", '"a.x_kg >=" ends too soon; allowed: a number with its unit, or a quantity'),
    (
        "a.x_kg >= )",
        "found ')' at character 11 of \"a.x_kg >= )\"; allowed: a number with its unit, or a quantity",
    ),
    (
        "a.x_kg >= 9 kg kg",
        "found 'kg' at character 16 of \"a.x_kg >= 9 kg kg\"; allowed: 'and', 'or' or the end",
    ),
    ("fallen(430 kg)", "found '430' at character 8 of \"fallen(430 kg)\"; allowed: a quantity"),
    ("fallen(a.x_kg > 4 kg", "found '>' at character 15 of \"fallen(a.x_kg > 4 kg\"; allowed: ')'"),
    ("fallen(a.x_kg)", "\"fallen(a.x_kg)\" ends too soon; allowed: 'is', '<', '<=', '>' or '>='"),
    ("(" * 41 + "a is x", "brackets nested too deeply; allowed: at most 40 levels"),
    ("not " * 41 + "a is x", "'not' repeated too often; allowed: at most 40 levels"),
    ("(" * 100_000, "brackets nested too deeply; allowed: at most 40 levels"),
]


@pytest.mark.parametrize(("text", "message"), SLIPS, ids=[text[:24] or "nothing" for text, _ in SLIPS])
def test_a_slip_in_a_condition_is_named(text: str, message: str) -> None:
    assert says(mistake_of(lambda: parse(text, "here")), f"here: {message}")


def test_depth_counts_what_is_open_not_what_has_been() -> None:
    assert isinstance(node(" and ".join(["(a is x)"] * 300)), All)
    assert isinstance(node(" or ".join(["not a is x"] * 300)), Any)


NAMES = st.sampled_from(["slats", "main-left", "engine-1"])
LEAVES = st.one_of(
    st.builds(Is, NAMES, st.sampled_from(["out", "running, held back"]), st.booleans()),
    st.builds(
        Compare,
        NAMES.map(lambda name: f"{name}.gauged_kg"),
        st.sampled_from(["<", "<=", ">", ">="]),
        st.integers(-900, 9000).map(float),
        st.just("kg"),
        st.sampled_from([None, "fallen", "risen"]),
    ),
)
TREES = st.recursive(
    LEAVES,
    lambda inner: st.one_of(
        st.builds(Not, inner),
        st.lists(inner, min_size=2, max_size=3).map(lambda nodes: All(tuple(nodes))),
        st.lists(inner, min_size=2, max_size=3).map(lambda nodes: Any(tuple(nodes))),
    ),
    max_leaves=12,
)


def written(tree: object) -> str:
    match tree:
        case Is(part, state, negated):
            return f'{part} is {"not " if negated else ""}"{state}"'
        case Compare(left, op, right, unit, change):
            return f"{f'{change}({left})' if change else left} {op} {right:g} {unit}"
        case Not(inner):
            return f"not ({written(inner)})"
        case All(inner):
            return " and ".join(f"({written(one)})" for one in inner)
        case Any(inner):
            return " or ".join(f"({written(one)})" for one in inner)
    raise AssertionError(tree)


@given(TREES)
def test_what_is_written_is_what_is_read(tree: object) -> None:
    assert node(written(tree)) == tree


@given(st.text(alphabet=" ()abis<>=not-.9kgorandfallen\"',°%/\n", max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        assert isinstance(parse(text, "here"), Condition)
    except Mistake as mistake:
        assert str(mistake).startswith("here: ")

"""The fleet: every aircraft reads, hangs together on the plan, and its sentences say its own figures."""

import re
from functools import cache
from itertools import pairwise

import pytest

from wetwing.aircraft.condition import Condition, Is
from wetwing.aircraft.model import Aircraft, Point, Rule, Tank
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.physics.outline import centroid_m, holds
from wetwing.physics.tank_shape import TankShape

FLEET = fleet()
NEW = ("juniper-285", "rowan-54")
MARK = re.compile(r"\{(-?[\d,]+(?:\.\d+)?) ([^}]+)\}")

read = cache(read_aircraft)


def test_four_aircraft_ship() -> None:
    assert FLEET == ("alder-165", "alder-165-b", "juniper-285", "rowan-54")


@pytest.mark.parametrize("name", FLEET)
def test_an_aircraft_is_called_as_its_file_is(name: str) -> None:
    assert read(name).name == name


# ------------------------------------------------------------------ sentences


def figures(condition: Condition | None) -> set[tuple[float, str]]:
    if condition is None:
        return set()
    leaves = [leaf for leaf in condition.leaves() if not isinstance(leaf, Is)]
    found = {(leaf.by if isinstance(leaf.right, str) else leaf.right, leaf.unit) for leaf in leaves}
    return found - {(0.0, "")}  # two quantities without a margin


def marks(rule: Rule) -> set[tuple[float, str]]:
    return {(float(value.replace(",", "")), unit) for value, unit in MARK.findall(rule.sentence)}


@pytest.mark.parametrize("name", FLEET)
def test_a_rule_s_sentence_says_no_figure_but_its_own(name: str) -> None:
    told = 0
    for rule in read(name).rules:
        own = figures(rule.starts) | figures(rule.ends) | {(rule.after_s, "s"), (rule.lasts_s or 0.0, "s")}
        assert marks(rule) <= own, rule.name
        told += len(marks(rule))
    assert told >= 3


@pytest.mark.parametrize("name", FLEET)
def test_what_a_rule_starts_at_is_said(name: str) -> None:
    """A rule that starts at a threshold tells a figure; return flow has so many that its words do instead."""
    for rule in read(name).rules:
        thresholds = {(value, unit) for value, unit in figures(rule.starts) if unit and value > 0.0}
        if thresholds and not rule.name.startswith("cooling-return"):
            assert marks(rule), rule.name


@pytest.mark.parametrize("name", FLEET)
def test_the_four_required_alerts_are_there(name: str) -> None:
    """AMC 25.1305(a)(2): abnormal transfer, trapped fuel, leak, low level."""
    names = [alert.name for alert in read(name).alerts if alert.level != "advisory"]
    for needed in ("abnormal-transfer", "trapped", "leak", "low-level"):
        assert any(each.startswith(needed) for each in names), needed


# ------------------------------------------------------------------ the plan


def half_width_m(outline: tuple[Point, ...], x_m: float) -> float:
    """Half the fuselage's width at a place along it."""
    for (x1, y1), (x2, y2) in pairwise(outline):
        if x1 <= x_m <= x2:
            return y1 + (y2 - y1) * (x_m - x1) / (x2 - x1)
    return 0.0


@pytest.mark.parametrize("name", NEW)
def test_every_tank_lies_in_the_wing_or_in_the_fuselage(name: str) -> None:
    plan = read(name).plan
    for tank in read(name).tanks:
        for x_m, y_m in tank.outline_m:
            in_wing = holds(plan.wing_m, (x_m, abs(y_m)))
            assert in_wing or abs(y_m) <= half_width_m(plan.fuselage_m, x_m), (tank.name, x_m, y_m)


@pytest.mark.parametrize("name", NEW)
def test_no_two_tanks_share_a_place(name: str) -> None:
    tanks = read(name).tanks
    for tank in tanks:
        for other in tanks:
            if other is not tank:
                assert not any(holds(other.outline_m, place) for place in tank.outline_m), (
                    tank.name,
                    other.name,
                )
                assert not holds(other.outline_m, centroid_m(tank.outline_m))


@pytest.mark.parametrize("name", NEW)
def test_pumps_probes_and_sensors_stand_in_their_tanks(name: str) -> None:
    aircraft = read(name)
    outlines = {tank.name: tank.outline_m for tank in aircraft.tanks}
    for pump in (*aircraft.pumps, *aircraft.bypasses):
        assert holds(outlines[pump.tank or ""], pump.at_m), pump.name
    for probe in aircraft.probes:
        assert holds(outlines[probe.tank], probe.at_m), probe.name
    for sensor in aircraft.sensors:
        assert holds(outlines[sensor.tank], sensor.at_m), sensor.name
    for jet in aircraft.jet_pumps:
        assert holds(outlines[jet.from_tank], jet.at_m), jet.name


def shape(tank: Tank) -> TankShape:
    return TankShape(
        tank.outline_m,
        tank.bottom_m,
        tank.dihedral_deg,
        tank.depth_m,
        tank.depth_outboard_m,
        tank.capacity_l,
    )


@pytest.mark.parametrize("name", NEW)
def test_every_tank_has_a_gauge_and_nearly_all_of_it_can_be_drawn(name: str) -> None:
    aircraft = read(name)
    for tank in aircraft.tanks:
        assert sum(probe.tank == tank.name for probe in aircraft.probes) >= 2, tank.name
        assert sum(each.tank == tank.name for each in aircraft.compensators) == 1, tank.name
        assert 0.4 <= shape(tank).share <= 1.0, tank.name
    for pump in aircraft.pumps:
        tank = next(tank for tank in aircraft.tanks if tank.name == pump.tank)
        if "jettison" not in pump.name:
            assert pump.uncovers_l <= 0.04 * tank.capacity_l, pump.name
    for engine in aircraft.engines:
        assert sum(meter.engine == engine.name for meter in aircraft.meters) == 1
        assert sum(each.user == engine.name for each in aircraft.filters) == 1


@pytest.mark.parametrize("name", NEW)
def test_high_level_sensors_leave_two_hundredths(name: str) -> None:
    """14 CFR 25.969: normal refuelling can't fill the last 2 %; its flights are looked at too."""
    aircraft = read(name)
    for sensor in aircraft.sensors:
        tank = next(tank for tank in aircraft.tanks if tank.name == sensor.tank)
        if sensor.name.startswith("high-level"):
            assert 0.96 * tank.capacity_l <= sensor.wet_at_l <= 0.98 * tank.capacity_l, sensor.name


def mirrored(aircraft: Aircraft, tank: Tank) -> Tank:
    name = tank.name.replace("left", "right")
    return next(other for other in aircraft.tanks if other.name == name)


@pytest.mark.parametrize("name", NEW)
def test_the_right_side_mirrors_the_left(name: str) -> None:
    aircraft = read(name)
    lefts = [tank for tank in aircraft.tanks if tank.side == "left"]
    assert len(lefts) == 2
    for tank in lefts:
        other = mirrored(aircraft, tank)
        assert other.side == "right"
        assert other.outline_m == tuple((x, -y) for x, y in tank.outline_m)
        assert (other.capacity_l, other.unusable_kg, other.bottom_m, other.depth_m) == (
            *(tank.capacity_l, tank.unusable_kg, tank.bottom_m, tank.depth_m),
        )
    # The two sides' pumps are alike, not the same: no two pumps are equal.
    curves = [(pump.tank, pump.shut_off_bar, pump.square_bar_h2_t2) for pump in aircraft.pumps]
    assert len(curves) == len(set(curves))
    assert len({(bar, square) for _, bar, square in curves}) >= len(curves) - 1


# ------------------------------------------------------------------ revision B


def rule(aircraft: str, name: str) -> Rule:
    found = read(aircraft).parts[name]
    assert isinstance(found, Rule)
    return found


CHANGED = {
    "proving-run-1",
    "proving-run-2",
    "return-flow-hold-left",
    "return-flow-hold-right",
    "centre-left-dry",
    "centre-right-dry",
    "outboard-release",
}


def test_revision_b_differs_in_these_rules_and_in_nothing_else() -> None:
    a, b = read("alder-165"), read("alder-165-b")
    assert (a.revision, b.revision, b.title, b.operator) == ("A", "B", a.title, a.operator)
    assert list(a.parts) == list(b.parts)
    assert {name for name in a.parts if a.parts[name] != b.parts[name]} == CHANGED
    assert (a.limits, a.airframe, a.balance, a.plan) == (b.limits, b.airframe, b.balance, b.plan)


def test_the_figures_of_revision_b() -> None:
    assert [rule(name, "proving-run-1").lasts_s for name in ("alder-165", "alder-165-b")] == [150.0, 100.0]
    assert [rule(name, "proving-run-2").lasts_s for name in ("alder-165", "alder-165-b")] == [150.0, 100.0]
    assert [rule(name, "centre-left-dry").after_s for name in ("alder-165", "alder-165-b")] == [10.0, 5.0]
    for side in ("left", "right"):
        assert figures(rule("alder-165", f"return-flow-hold-{side}").ends) == {(430.0, "kg")}
        assert figures(rule("alder-165-b", f"return-flow-hold-{side}").ends) == {(350.0, "kg")}
        assert figures(rule("alder-165-b", f"centre-{side}-dry").ends) == {(250.0, "kg")}
    assert figures(rule("alder-165", "outboard-release").starts) == {(900.0, "kg")}
    assert figures(rule("alder-165-b", "outboard-release").starts) == {(1100.0, "kg")}
    for name in CHANGED:
        assert rule("alder-165", name).sentence != rule("alder-165-b", name).sentence


# ------------------------------------------------------------------ the figures of the others' rules

Figures = tuple[set[tuple[float, str]], float, float | None]
RULES: dict[str, dict[str, Figures]] = {
    "juniper-285": {
        "centre-to": ({(20_800.0, "kg")}, 0.0, None),
        "centre-dry": ({(600.0, "kg")}, 8.0, None),
        "outer-release": ({(4600.0, "kg")}, 0.0, None),
        "trim-armed": ({(21_500.0, "ft")}, 0.0, None),
        "trim-aft": (
            {(21_500.0, "ft"), (20_500.0, "ft"), (29.0, "%"), (32.0, "%"), (5000.0, "kg"), (3000.0, "kg")},
            0.0,
            None,
        ),
        "trim-forward": ({(34.0, "%"), (33.0, "%"), (30.0, "kg")}, 0.0, None),
        "tail-emptied": ({(18_000.0, "ft"), (3500.0, "kg"), (30.0, "kg")}, 60.0, None),
        "jettison": ({(0.2, "")}, 0.0, None),
        "refuelling": ({(500.0, "kg")}, 0.0, None),
        "wings-full": (set(), 0.0, None),
        "tail-refuelling": ({(84_500.0, "kg")}, 0.0, None),
    },
    "rowan-54": {
        "start-boost": (set(), 0.0, 75.0),
        "low-feed": ({(0.6, "bar")}, 0.0, None),
        "refuelling": ({(40.0, "kg")}, 0.0, None),
    },
}


@pytest.mark.parametrize("name", NEW)
def test_no_rule_s_figure_moves_unseen(name: str) -> None:
    seen = set()
    for each in read(name).rules:
        kind = re.sub("-(left|right|1|2)$", "", each.name)
        seen.add(kind)
        assert (figures(each.starts) | figures(each.ends), each.after_s, each.lasts_s) == (
            RULES[name][kind]
        ), each.name
    assert seen == set(RULES[name])


ALERTS: dict[str, dict[str, tuple[set[tuple[float, str]], float]]] = {
    "juniper-285": {
        "feed-pressure": ({(0.5, "bar")}, 0.0),
        "balance-aft": ({(35.5, "%")}, 10.0),
        "trapped-centre": ({(800.0, "kg"), (20_000.0, "kg")}, 90.0),
        "trapped-tail": ({(60.0, "kg"), (-2000.0, "kg/h"), (3500.0, "kg"), (18_000.0, "ft")}, 120.0),
        "trapped-outer": ({(120.0, "kg"), (4600.0, "kg")}, 30.0),
        "abnormal-transfer": ({(800.0, "kg/h")}, 60.0),
        "abnormal-transfer-centre": ({(800.0, "kg/h")}, 60.0),
        "abnormal-transfer-tail": ({(300.0, "kg/h")}, 60.0),
        "leak": ({(600.0, "kg")}, 60.0),
        "imbalance": ({(2500.0, "kg"), (-2500.0, "kg")}, 30.0),
        "cold-fuel": ({(3.0, "°C")}, 30.0),
    },
    "rowan-54": {
        "feed-pressure": ({(0.35, "bar")}, 2.0),
        "trapped": ({(110.0, "kg"), (150.0, "kg")}, 60.0),
        "abnormal-transfer": ({(200.0, "kg/h")}, 60.0),
        "leak": ({(90.0, "kg")}, 60.0),
        "imbalance": ({(250.0, "kg"), (-250.0, "kg")}, 30.0),
        "cold-fuel": ({(3.0, "°C")}, 30.0),
    },
}


@pytest.mark.parametrize("name", NEW)
def test_no_alert_s_figure_moves_unseen(name: str) -> None:
    with_figures = [alert for alert in read(name).alerts if figures(alert.when)]
    for alert in with_figures:
        kind = re.sub("-(left|right|1|2)$", "", alert.name)
        assert (figures(alert.when), alert.after_s) == ALERTS[name][kind], alert.name
    assert len({re.sub("-(left|right|1|2)$", "", alert.name) for alert in with_figures}) == len(ALERTS[name])

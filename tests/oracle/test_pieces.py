"""The oracle's own pieces against closed forms and public figures: a wrong oracle proves nothing."""

from dataclasses import replace
from math import radians, sqrt, tan

import numpy as np
import pytest

from tests.flight.random_scripts import aircraft_of
from tests.oracle.nature import kg_per_l, permittivity, standard_pa, thickness, vapour_bar
from tests.oracle.net import Balance, Line, Mouth, Pool, Source
from tests.oracle.shapes import Lie, Space, lie_of, reached_l
from wetwing.aircraft.model import Tank

BOX = ((0.0, 1.0), (4.0, 1.0), (4.0, 3.0), (0.0, 3.0))


def tank(**changes: object) -> Tank:
    part = aircraft_of("alder-165").tanks[1]
    usual: dict[str, object] = {
        "outline_m": BOX,
        "bottom_m": 0.5,
        "depth_m": 0.5,
        "depth_outboard_m": 0.5,
        "dihedral_deg": 0.0,
    }
    usual["capacity_l"] = 3600.0
    return replace(part, **{**usual, **changes})  # type: ignore[arg-type]


def test_a_box_fills_in_proportion_and_structure_takes_its_share() -> None:
    lie = Lie(Space(tank()), 0.0, 0.0)
    assert lie.level(1800.0) == pytest.approx(0.75, abs=1e-12)
    assert lie.volume(0.75) == pytest.approx(1800.0, abs=1e-9)


def test_a_tilted_box_fills_as_a_wedge() -> None:
    # The surface rises aft by 0.1; a wedge over the aft end of the floor: V = b h² / (2 slope).
    slope = 0.1
    lie = Lie(Space(tank(capacity_l=4000.0)), float(np.degrees(np.arctan(slope))), 0.0)
    deep = 0.2
    level = 0.5 + deep - slope * 2.0
    assert lie.volume(level) == pytest.approx(1000.0 * 2.0 * deep * deep / (2.0 * slope), rel=1e-9)
    assert lie.level(lie.volume(level)) == pytest.approx(level, abs=1e-8)


def test_a_tank_with_dihedral_fills_as_a_wedge_outboard() -> None:
    lie = Lie(Space(tank(dihedral_deg=5.0, capacity_l=4000.0)), 0.0, 0.0)
    deep = 0.1
    rise = tan(radians(5.0))
    assert lie.volume(0.5 + deep) == pytest.approx(1000.0 * 4.0 * deep * deep / (2.0 * rise), rel=1e-9)


@pytest.mark.parametrize("attitude", [(0.0, 0.0), (4.0, 0.0), (-3.0, 0.0), (5.0, 8.0)])
def test_level_and_volume_are_each_others_inverse(attitude: tuple[float, float]) -> None:
    for part in aircraft_of("alder-165").tanks[:3]:
        lie = lie_of(part, *attitude)
        for litres in np.linspace(0.002, 0.998, 40) * part.capacity_l:
            assert lie.volume(lie.level(float(litres))) == pytest.approx(litres, abs=2e-4)


def test_a_point_amidships_of_a_box_is_reached_at_the_same_volume_at_any_pitch() -> None:
    assert reached_l(tank(), 1800.0, (2.0, 2.0), 4.0, 0.0) == pytest.approx(1800.0, abs=1e-6)
    assert reached_l(tank(), 1800.0, (0.0, 2.0), 4.0, 0.0) > 1800.0 + 400.0


def test_two_pumps_on_a_point_share_a_demand_by_the_quadratic() -> None:
    sources = [Source(0, 0, 0.1, 0.0, two_way=False), Source(1, 0, 0.1, 0.0, two_way=False)]
    pool = Pool([0], sources, [], [])
    bars = Balance(pool, {0: 2.0, 1: 1.9}, [5.0], 1.0).solve()
    # Linear pumps: (2.0 - p)/0.1 + (1.9 - p)/0.1 = 5.
    assert bars[0] == pytest.approx(1.7, abs=1e-12)


def test_the_stronger_pump_alone_feeds_until_its_pressure_falls_to_the_other() -> None:
    pool = Pool([0], [Source(0, 0, 0.1, 0.0, two_way=False), Source(1, 0, 0.1, 0.0, two_way=False)], [], [])
    balance = Balance(pool, {0: 2.0, 1: 1.9}, [0.5], 1.0)
    bars = balance.solve()
    assert bars[0] == pytest.approx(1.95, abs=1e-12)
    assert balance.through_source(pool.sources[1], 1.9 - bars[0]) == 0.0


@pytest.mark.parametrize("ring", [False, True])
def test_a_line_carries_what_the_far_point_draws(ring: bool) -> None:
    lines = [Line(0, 0, 1, 0.05, 0.02, one_way=False)]
    if ring:
        lines += [Line(1, 1, 2, 0.05, 0.02, one_way=False), Line(2, 2, 0, 0.05, 0.02, one_way=False)]
    mouths = [Mouth("leak", 0, -1, 1, 1e-4, 25.0)]
    pool = Pool([0, 1, 2] if ring else [0, 1], [Source(0, 0, 0.03, 0.01, two_way=False)], lines, mouths)
    assert pool.looped is ring
    balance = Balance(pool, {0: 2.5}, [1.0, 1.5, 0.4], 1.3)
    bars = balance.solve()
    leak = balance.out_of(mouths[0], bars[1])
    into_1 = sum(
        balance.through(line, bars[line.tail], bars[line.tip]) * (1 if line.tip == 1 else -1)
        for line in lines
        if 1 in (line.tail, line.tip)
    )
    assert into_1 == pytest.approx(1.5 + leak, abs=1e-9)
    given = balance.through_source(pool.sources[0], 2.5 - bars[0])
    assert given == pytest.approx(1.0 + 1.5 + (0.4 if ring else 0.0) + leak, abs=1e-9)
    assert leak == pytest.approx(sqrt(bars[1] / 25.0), rel=1e-3)


def test_air_and_fuel_are_the_public_ones() -> None:
    assert standard_pa(35_000 * 0.3048) == pytest.approx(23_842, abs=1)
    assert standard_pa(39_000 * 0.3048) == pytest.approx(19_677, abs=2)
    assert kg_per_l(804.0, -40.0) == pytest.approx(0.8447, abs=1e-6)
    assert thickness(-40.0) == pytest.approx(12.1 / 2.05, rel=0.005)
    assert vapour_bar(40.0, 1.0) == pytest.approx(0.00851, abs=1e-5)
    assert permittivity(800.0) == pytest.approx(2.098, abs=5e-4)

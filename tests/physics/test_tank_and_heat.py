"""Gravity transfer, a tank's heat balance and the generator oil's, against closed forms."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wetwing.physics import fuel, heat, tank
from wetwing.physics.steps import Slopes, step

G = 9.80665


def after(slopes: Slopes, state: list[float], elapsed_s: float, steps: int = 200) -> list[float]:
    """State after a time, by equal steps."""
    length_s = elapsed_s / steps
    for k in range(steps):
        state = step(slopes, slopes, k * length_s, state, slopes(k * length_s, state), length_s).after
    return state


def test_gravity_flow_worked_figure() -> None:
    assert tank.gravity_flow_kg_s(0.5, 2.4e-4, 0.6, 800.0) == pytest.approx(0.361, abs=5e-4)


def test_no_gravity_flow_up_the_pipe() -> None:
    assert tank.gravity_flow_kg_s(0.0, 2.4e-4, 0.6, 800.0) == 0.0
    assert tank.gravity_flow_kg_s(-0.3, 2.4e-4, 0.6, 800.0) == 0.0


def emptying(level_m: Callable[[float], float], full_kg: float, to_fill: float, length_s: float) -> float:
    """Time to drain from full to a fill, by steps of `length_s`, s; `level_m` is the level at a fill."""

    def slopes(time_s: float, state: list[float]) -> list[float]:
        return [-tank.gravity_flow_kg_s(level_m(state[0] / full_kg), 5.2e-4, 0.6, 800.0)]

    time_s, state, first = 0.0, [full_kg], slopes(0.0, [full_kg])
    while True:
        taken = step(slopes, slopes, time_s, state, first, length_s)
        if taken.after[0] <= to_fill * full_kg:
            share = (state[0] - to_fill * full_kg) / (state[0] - taken.after[0])
            return time_s + share * length_s
        time_s, state, first = time_s + length_s, taken.after, taken.last


def test_emptying_time_of_a_box() -> None:
    # m' = -c sqrt(h), h = depth m / full: sqrt(m) falls in proportion to time.
    depth_m, full_kg = 0.7, 1000.0
    flow_kg_s = 0.6 * 5.2e-4 * 800.0 * math.sqrt(2.0 * G * depth_m)
    wanted_s = 2.0 * full_kg / flow_kg_s * (1.0 - math.sqrt(0.1))
    found_s = emptying(lambda fill: depth_m * fill, full_kg, 0.1, 2.0)
    assert found_s == pytest.approx(wanted_s, rel=1e-6)


def test_emptying_time_of_a_wedge() -> None:
    # Its level is depth sqrt(m / full), so m' = -c (m / full)^(1/4): 4/3 full/c (1 - f^(3/4)) to a fill f.
    depth_m, full_kg = 0.6, 1150.0
    flow_kg_s = 0.6 * 5.2e-4 * 800.0 * math.sqrt(2.0 * G * depth_m)
    wanted_s = 4.0 / 3.0 * full_kg / flow_kg_s * (1.0 - 0.1**0.75)
    found_s = emptying(lambda fill: depth_m * math.sqrt(fill), full_kg, 0.1, 2.0)
    assert found_s == pytest.approx(wanted_s, rel=1e-6)


def test_skin_worked_figure() -> None:
    full_w_k = heat.skin_w_k(19.0 * 21.9, 1.0)
    assert full_w_k == pytest.approx(832.0, abs=0.5)
    assert 6600.0 * 1895.0 / full_w_k / 3600.0 == pytest.approx(4.2, abs=0.05)


def test_the_roof_counts_by_the_fill_and_the_floor_always() -> None:
    assert heat.skin_w_k(400.0, 0.0) == 400.0
    assert heat.skin_w_k(400.0, 0.25) == 500.0
    assert heat.skin_w_k(400.0, 1.0) == heat.skin_w_k(400.0, 1.02) == 800.0


def test_warming_worked_figure() -> None:
    assert heat.warming_k_s(15.0, -100_000.0, 5000.0, 100.0, 0.0, 0.0) == pytest.approx(-0.0104, abs=5e-5)


@given(st.floats(-60.0, 120.0))
def test_enthalpy_is_the_integral_of_specific_heat(temperature_c: float) -> None:
    rise = fuel.enthalpy_j_kg(temperature_c + 0.5) - fuel.enthalpy_j_kg(temperature_c - 0.5)
    assert rise == pytest.approx(fuel.specific_heat_j_kg_k(temperature_c), rel=1e-9)


def cooling(held_kg: float, structure_kj_k: float, skin_w_k: float, skin_c: float) -> Slopes:
    """A tank that nothing enters, under a skin of one temperature."""

    def slopes(time_s: float, state: list[float]) -> list[float]:
        watts = skin_w_k * (skin_c - state[0])
        return [heat.warming_k_s(state[0], watts, held_kg, structure_kj_k, 0.0, 0.0)]

    return slopes


def test_cooling_against_the_exponential() -> None:
    # 14 CFR 25 Appendix N: T = T_skin + (T0 - T_skin) exp(-t / tau), with a constant heat capacity.
    tau_s, skin_c, start_c, capacity_kj_k = 3.7 * 3600.0, -38.0, -2.0, 9000.0
    slopes = cooling(0.0, capacity_kj_k, 1000.0 * capacity_kj_k / tau_s, skin_c)
    for hours, told_c in ((3.0, -22), (5.0, -29), (8.0, -34)):
        found_c = after(slopes, [start_c], hours * 3600.0)[0]
        assert found_c == pytest.approx(skin_c + (start_c - skin_c) * math.exp(-hours / 3.7), abs=1e-9)
        # The one-node check of a public investigation of a long polar flight.
        assert round(found_c) == told_c


def test_cooling_of_fuel_against_its_closed_form() -> None:
    # With c = c0 + b T the balance (m c + C) dT = -k (T - Ts) dt integrates to
    # (m c(Ts) + C) ln((T - Ts) / (T0 - Ts)) + m b (T - T0) = -k t.
    held_kg, structure_kj_k, skin_w_k, skin_c, start_c = 5000.0, 120.0, 700.0, -42.0, 12.0
    slopes = cooling(held_kg, structure_kj_k, skin_w_k, skin_c)
    capacity_j_k = held_kg * fuel.specific_heat_j_kg_k(skin_c) + 1000.0 * structure_kj_k
    for hours in (0.5, 2.0, 6.0):
        found_c = after(slopes, [start_c], hours * 3600.0)[0]
        left = capacity_j_k * math.log((found_c - skin_c) / (start_c - skin_c))
        left += held_kg * fuel.SPECIFIC_HEAT_SLOPE_J_KG_K2 * (found_c - start_c)
        assert left == pytest.approx(-skin_w_k * hours * 3600.0, rel=1e-9)


def test_filling_keeps_every_joule() -> None:
    # m h(T) + C T grows by what comes in: a quadratic for the temperature at the end.
    inflow_kg_s, inflow_c, structure_kj_k, held_kg, start_c = 0.5, 72.0, 40.0, 300.0, -10.0
    entering_j_kg = fuel.enthalpy_j_kg(inflow_c)

    def slopes(time_s: float, state: list[float]) -> list[float]:
        rate = heat.warming_k_s(
            state[1], 0.0, state[0], structure_kj_k, inflow_kg_s * entering_j_kg, inflow_kg_s
        )
        return [inflow_kg_s, rate]

    end_kg, end_c = after(slopes, [held_kg, start_c], 2400.0)
    assert end_kg == pytest.approx(held_kg + 1200.0)

    def held_j(kg: float, celsius: float) -> float:
        return kg * fuel.enthalpy_j_kg(celsius) + 1000.0 * structure_kj_k * celsius

    assert held_j(end_kg, end_c) == pytest.approx(held_j(held_kg, start_c) + 1200.0 * entering_j_kg, rel=1e-9)


def test_what_comes_in_at_the_tank_s_own_temperature_changes_nothing() -> None:
    own_j_kg = fuel.enthalpy_j_kg(31.0)
    assert heat.warming_k_s(31.0, 0.0, 985.0, 40.0, 0.2 * own_j_kg, 0.2) == pytest.approx(0.0, abs=1e-15)


def test_an_empty_tank_has_a_temperature() -> None:
    assert heat.warming_k_s(10.0, -400.0, 0.0, 40.0, 0.0, 0.0) == pytest.approx(-0.01)


def test_cooler_worked_figure() -> None:
    assert heat.cooler_c(50.0, -10.0) == pytest.approx(44.0)
    assert heat.cooler_c(-10.0, -10.0) == -10.0


def test_oil_worked_figure() -> None:
    rate_k_s = heat.oil_warming_k_s(50.0, -10.0, 20_000.0, 160.0, 600.0 / 3600.0, 130.0)
    assert rate_k_s == pytest.approx(-0.0518, abs=5e-5)


def test_oil_without_return_flow_comes_to_rest_by_an_exponential() -> None:
    feed_c, heat_w, loss_w_k, oil_kj_k, start_c = -5.0, 20_000.0, 160.0, 130.0, 62.0
    rest_c = feed_c + heat_w / loss_w_k

    def slopes(time_s: float, state: list[float]) -> list[float]:
        return [heat.oil_warming_k_s(state[0], feed_c, heat_w, loss_w_k, 0.0, oil_kj_k)]

    for minutes in (5.0, 20.0, 60.0):
        wanted_c = rest_c + (start_c - rest_c) * math.exp(-minutes * 60.0 * loss_w_k / (1000.0 * oil_kj_k))
        assert after(slopes, [start_c], minutes * 60.0)[0] == pytest.approx(wanted_c, abs=1e-8)


def test_oil_comes_to_rest_where_loss_and_return_flow_take_the_generator_s_heat() -> None:
    # Q = loss d + m 0.9 d (1895 + 4.10 (T_feed - 15 + 0.45 d)) for the oil's excess d: a quadratic.
    feed_c, heat_w, loss_w_k, return_kg_s = -5.0, 20_000.0, 160.0, 600.0 / 3600.0
    a = return_kg_s * 0.9 * 4.10 * 0.45
    b = loss_w_k + return_kg_s * 0.9 * (1895.0 + 4.10 * (feed_c - 15.0))
    excess_k = (-b + math.sqrt(b * b + 4.0 * a * heat_w)) / (2.0 * a)

    def slopes(time_s: float, state: list[float]) -> list[float]:
        return [heat.oil_warming_k_s(state[0], feed_c, heat_w, loss_w_k, return_kg_s, 130.0)]

    assert after(slopes, [62.0], 4.0 * 3600.0)[0] == pytest.approx(feed_c + excess_k, abs=1e-6)


def test_a_part_full_pipe_gives_by_what_covers_its_mouth() -> None:
    assert tank.part_full_share(15.0) == pytest.approx(0.25)
    assert tank.part_full_share(60.0) == tank.part_full_share(90.0) == 1.0
    assert tank.part_full_share(0.0) == tank.part_full_share(-1.0) == 0.0

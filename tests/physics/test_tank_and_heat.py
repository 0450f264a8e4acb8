"""Levels, gravity transfer and cooling against closed forms."""

import math

import pytest

from wetwing.physics import heat, tank
from wetwing.physics.steps import step

G = 9.80665


def test_level_of_a_wedge_and_of_a_box() -> None:
    assert tank.level_m("wedge", 0.2, 1.15, 0.25) == pytest.approx(0.775)
    assert tank.level_m("box", -0.3, 0.7, 0.25) == pytest.approx(-0.125)
    for shape in ("wedge", "box"):
        assert tank.level_m(shape, 0.2, 1.15, 0.0) == 0.2
        assert tank.level_m(shape, 0.2, 1.15, 1.0) == pytest.approx(1.35)


def test_gravity_flow_worked_figure() -> None:
    assert tank.gravity_flow_kg_s(0.5, 2.4e-4, 0.6, 800.0) == pytest.approx(0.361, abs=5e-4)


def test_no_gravity_flow_up_the_pipe() -> None:
    assert tank.gravity_flow_kg_s(0.0, 2.4e-4, 0.6, 800.0) == 0.0
    assert tank.gravity_flow_kg_s(-0.3, 2.4e-4, 0.6, 800.0) == 0.0


def emptying(shape: str, depth_m: float, full_kg: float, to_fill: float, length_s: float) -> float:
    """Time to drain from full to a fill, by steps of `length_s`, s."""

    def slopes(time_s: float, state: list[float]) -> list[float]:
        head_m = tank.level_m(shape, 0.0, depth_m, state[0] / full_kg)
        return [-tank.gravity_flow_kg_s(head_m, 5.2e-4, 0.6, 800.0)]

    time_s, state, first = 0.0, [full_kg], slopes(0.0, [full_kg])
    while True:
        taken = step(slopes, slopes, time_s, state, first, length_s)
        after, last = taken.after, taken.last
        if after[0] <= to_fill * full_kg:
            share = (state[0] - to_fill * full_kg) / (state[0] - after[0])
            return time_s + share * length_s
        time_s, state, first = time_s + length_s, after, last


def test_emptying_time_of_a_box() -> None:
    # m' = -c sqrt(h), h = depth m / full: sqrt(m) falls in proportion to time.
    depth_m, full_kg = 0.7, 1000.0
    flow_kg_s = 0.6 * 5.2e-4 * 800.0 * math.sqrt(2.0 * G * depth_m)
    wanted_s = 2.0 * full_kg / flow_kg_s * (1.0 - math.sqrt(0.1))
    assert emptying("box", depth_m, full_kg, 0.1, 2.0) == pytest.approx(wanted_s, rel=1e-6)


def test_emptying_time_of_a_wedge() -> None:
    # m' = -c (m / full)^(1/4): the time to a fill f is 4/3 full/c (1 - f^(3/4)).
    depth_m, full_kg = 0.6, 1150.0
    flow_kg_s = 0.6 * 5.2e-4 * 800.0 * math.sqrt(2.0 * G * depth_m)
    wanted_s = 4.0 / 3.0 * full_kg / flow_kg_s * (1.0 - 0.1**0.75)
    assert emptying("wedge", depth_m, full_kg, 0.1, 2.0) == pytest.approx(wanted_s, rel=1e-6)


def test_time_constant_runs_from_low_to_full() -> None:
    assert heat.time_constant_s(4.4, 1.7, 0.0) == pytest.approx(1.7 * 3600.0)
    assert heat.time_constant_s(4.4, 1.7, 1.0) == pytest.approx(4.4 * 3600.0)
    assert heat.time_constant_s(4.4, 1.7, 0.5) == pytest.approx(3.05 * 3600.0)


def test_cooling_worked_figure() -> None:
    rate_k_s = heat.warming_k_s(12.0, -33.0, 4.4 * 3600.0, 6500.0, 0.0, 0.0)
    assert rate_k_s * 3600.0 == pytest.approx(-10.2, abs=0.05)


def test_cooling_against_the_exponential() -> None:
    # 14 CFR 25 Appendix N: T = T_skin + (T0 - T_skin) exp(-t / tau) at constant mass.
    tau_s, skin_c, start_c = 3.7 * 3600.0, -38.0, -2.0

    def slopes(time_s: float, state: list[float]) -> list[float]:
        return [heat.warming_k_s(state[0], skin_c, tau_s, 5000.0, 0.0, 0.0)]

    state, time_s, first, length_s = [start_c], 0.0, slopes(0.0, [start_c]), 60.0
    reached = {}
    while time_s < 8 * 3600.0:
        taken = step(slopes, slopes, time_s, state, first, length_s)
        state, first = taken.after, taken.last
        time_s += length_s
        wanted_c = skin_c + (start_c - skin_c) * math.exp(-time_s / tau_s)
        assert state[0] == pytest.approx(wanted_c, abs=1e-6)
        reached[time_s / 3600.0] = state[0]
    # The investigation that the domain brief tells of: -22, -29 and -34 °C after 3, 5 and 8 hours.
    assert [round(reached[hours]) for hours in (3.0, 5.0, 8.0)] == [-22, -29, -34]


def test_mixing_comes_to_the_inflow_s_temperature_where_the_skin_does_nothing() -> None:
    # dT/dt = m_in (T_in - T) / (m + structure).
    rate_k_s = heat.warming_k_s(10.0, 10.0, 3600.0, 985.0, 0.2 * 72.0, 0.2)
    assert rate_k_s == pytest.approx(0.2 * 62.0 / 1000.0)
    assert heat.warming_k_s(72.0, 72.0, 3600.0, 985.0, 0.2 * 72.0, 0.2) == pytest.approx(0.0, abs=1e-15)


def test_an_empty_tank_has_a_temperature() -> None:
    assert math.isfinite(heat.warming_k_s(10.0, -30.0, 3600.0, 0.0, 0.0, 0.0))

"""Surge against the method of characteristics; jettison by hand."""

from math import pi

import pytest

from wetwing.physics import jettison, surge, units

RHO, WAVE, SPEED, LENGTH = 800.0, 1200.0, 3.0, 15.0


def highest_rise_pa(closing_s: float, reaches: int = 100) -> float:
    """Highest rise at a valve that stops the flow evenly, by characteristics in a frictionless pipe.

    One step of time is one reach of the pipe at the speed of sound, for which the method is exact. The far
    end keeps its pressure.
    """
    step_s = LENGTH / WAVE / reaches
    impedance = RHO * WAVE
    rise = [0.0] * (reaches + 1)
    speed = [SPEED] * (reaches + 1)
    highest = 0.0
    for n in range(1, int((closing_s + 4.0 * LENGTH / WAVE) / step_s) + 2):
        forward = [p + impedance * v for p, v in zip(rise, speed, strict=True)]
        backward = [p - impedance * v for p, v in zip(rise, speed, strict=True)]
        new_rise = [0.0] * (reaches + 1)
        new_speed = [0.0] * (reaches + 1)
        for i in range(1, reaches):
            new_rise[i] = 0.5 * (forward[i - 1] + backward[i + 1])
            new_speed[i] = 0.5 * (forward[i - 1] - backward[i + 1]) / impedance
        new_speed[0] = -backward[1] / impedance
        at_valve = SPEED * max(1.0 - n * step_s / closing_s, 0.0) if closing_s > 0.0 else 0.0
        new_speed[reaches] = at_valve
        new_rise[reaches] = forward[reaches - 1] - impedance * at_valve
        rise, speed = new_rise, new_speed
        highest = max(highest, rise[reaches])
    return highest


def test_instant_closure_of_the_refuelling_line() -> None:
    assert surge.instant_rise_pa(RHO, WAVE, SPEED) == pytest.approx(2.9e6, abs=0.05e6)


def test_speed_of_600_us_gallons_a_minute_in_a_127_mm_pipe() -> None:
    assert surge.pipe_speed_m_s(units.l_of_us_gal(600.0), 0.127) == pytest.approx(2.99, abs=0.005)
    assert surge.pipe_speed_m_s(60_000.0, 1.0) == pytest.approx(4.0 / pi, rel=1e-14)  # 1 m³/s


@pytest.mark.parametrize("closing_s", [0.0, 0.01, 0.024])
def test_a_quick_closure_is_instant(closing_s: float) -> None:
    assert surge.closing_rise_pa(RHO, WAVE, SPEED, LENGTH, closing_s) == 2.88e6
    assert highest_rise_pa(closing_s) == pytest.approx(2.88e6, rel=1e-9)


@pytest.mark.parametrize("closing_s", [0.05, 0.075, 0.125, 0.2])
def test_a_slow_closure_against_the_method_of_characteristics(closing_s: float) -> None:
    found = surge.closing_rise_pa(RHO, WAVE, SPEED, LENGTH, closing_s)
    assert found == pytest.approx(highest_rise_pa(closing_s), rel=1e-6)


def test_two_to_five_seconds_leave_little_of_it() -> None:
    assert surge.closing_rise_pa(RHO, WAVE, SPEED, LENGTH, 3.0) == pytest.approx(24e3)
    for closing_s in (2.0, 5.0):
        assert surge.closing_rise_pa(RHO, WAVE, SPEED, LENGTH, closing_s) < 0.02 * 2.9e6


def test_the_rise_has_no_step_where_the_closure_becomes_slow() -> None:
    there_and_back_s = 2.0 * LENGTH / WAVE
    assert surge.closing_rise_pa(RHO, WAVE, SPEED, LENGTH, there_and_back_s * (1.0 + 1e-9)) == pytest.approx(
        surge.instant_rise_pa(RHO, WAVE, SPEED), rel=1e-8
    )


def test_a_pipe_that_gives_slows_the_wave() -> None:
    stiff = surge.wave_speed_m_s(800.0, 1.35e9, 0.1, 0.0012, 1e12)
    thin = surge.wave_speed_m_s(800.0, 1.35e9, 0.1, 0.0012, 70e9)
    assert thin == pytest.approx(805, abs=0.5)
    assert thin < stiff < 1299.04


def test_time_to_the_floor() -> None:
    assert jettison.time_to_floor_min(30_000.0, 12_000.0, 90_000.0) == pytest.approx(12.0)
    assert jettison.time_to_floor_min(30_000.0, 12_000.0, 90_000.0, 6000.0) == pytest.approx(11.25)
    assert jettison.time_to_floor_min(12_000.0, 12_000.0, 0.0) == 0.0
    assert jettison.time_to_floor_min(9000.0, 12_000.0, 90_000.0) == 0.0


def test_fifteen_minutes() -> None:
    assert jettison.least_flow_kg_h(18_000.0) == 72_000.0
    assert jettison.is_quick_enough(18_000.0, 72_000.0)
    assert not jettison.is_quick_enough(18_000.0, 71_999.0)


def test_bad_input_is_refused() -> None:
    with pytest.raises(ValueError, match=r"surge: density_kg_m3 is 0.8; allowed is 500 to 1500"):
        surge.instant_rise_pa(0.8, WAVE, SPEED)
    with pytest.raises(ValueError, match=r"surge: closing_s is -1"):
        surge.closing_rise_pa(RHO, WAVE, SPEED, LENGTH, -1.0)
    with pytest.raises(ValueError, match=r"wave speed: wall_m is 0.05; allowed is 1e-05 to 0.01"):
        surge.wave_speed_m_s(800.0, 1.35e9, 0.1, 0.05, 70e9)
    with pytest.raises(ValueError, match=r"pipe: bore_m is 0;"):
        surge.pipe_speed_m_s(2271.0, 0.0)
    with pytest.raises(ValueError, match=r"flow_kg_h and burn_kg_h are 0"):
        jettison.time_to_floor_min(30_000.0, 12_000.0, 0.0)
    with pytest.raises(ValueError, match=r"jettison: from_kg is nan"):
        jettison.time_to_floor_min(float("nan"), 12_000.0, 90_000.0)

"""What goes wrong with gauging: the true and the shown quantity differ by what is stated, and no more."""

import pytest

from tests.flight.flights import turn
from tests.flight.trouble_flights import (
    POLARISATION_M3_KG,
    alerts,
    assert_balanced,
    at_s,
    density_kg_m3,
    flown_as,
    gained,
    led_by,
    looks,
    value,
)
from wetwing.flight.record import Flight

BEGUN, LATER = "3:30:00", "4:00:00"
TIMES = looks(BEGUN, LATER, "4:30:00", "5:30:00", "6:00:00")
UNUSABLE_KG = 18.0
PROBES = 7


def gauging(*edits: str) -> Flight:
    """The demonstration flight with these edits, looked at closely at the times of these tests."""
    return flown_as(*edits, *TIMES)


def dielectric(density: float) -> float:
    """K from (K - 1)/(K + 2) = C rho."""
    return (1.0 + 2.0 * POLARISATION_M3_KG * density) / (1.0 - POLARISATION_M3_KG * density)


def density_of(constant: float) -> float:
    return (constant - 1.0) / ((constant + 2.0) * POLARISATION_M3_KG)


def main_left(flight: Flight, time: str) -> tuple[float, float, float]:
    """What the main left holds, what its gauge shows with the unusable put back, and its density."""
    held = value(flight, "main-left.actual_kg", time)
    shown = value(flight, "main-left.gauged_kg", time) + UNUSABLE_KG
    return held, shown, density_kg_m3(value(flight, "main-left.temperature_c", time))


# ------------------------------------------------------------------ probes


@pytest.mark.parametrize("percent", [-60.0, -10.0, 10.0, 100.0])
def test_a_probe_that_is_wrong_by_a_share_moves_the_gauge_by_its_part_of_it(percent: float) -> None:
    flight = gauging(f"{BEGUN} probe-main-left-3=biased {percent}")
    held, shown, _ = main_left(flight, LATER)
    assert shown == pytest.approx(held * (1.0 + 0.01 * percent / PROBES), rel=1e-6)
    # What a gauge shows is no fuel: tanks, burn and balance are as they were.
    assert held == pytest.approx(value(gauging(), "main-left.actual_kg", LATER), abs=0.1)
    assert_balanced(flight)


def test_a_probe_drifts_by_the_hour() -> None:
    flight = gauging(f"{BEGUN} probe-main-left-3=drifting 4")
    for hours, time in ((0.0, BEGUN), (0.5, "4:00:00"), (2.0, "5:30:00")):
        held, shown, _ = main_left(flight, time)
        assert shown == pytest.approx(held * (1.0 + 0.04 * hours / PROBES), rel=1e-6)


def test_a_frozen_probe_keeps_its_part_of_what_it_showed() -> None:
    flight = gauging(f"{BEGUN} probe-main-left-3=frozen")
    then = value(flight, "main-left.volume_l", BEGUN)
    held, shown, density = main_left(flight, "5:30:00")
    now = value(flight, "main-left.volume_l", "5:30:00")
    assert now < then - 1000.0
    assert shown == pytest.approx((6.0 * now + then) / PROBES * density / 1000.0, rel=1e-5)
    assert shown > held + 100.0


def test_a_gauge_does_without_one_probe_and_is_blank_without_all() -> None:
    one = gauging(f"{BEGUN} probe-main-left-3=no signal")
    held, shown, _ = main_left(one, LATER)
    assert shown == pytest.approx(held, rel=1e-6)
    silent = turn(one, "probe-main-left-3", "no signal")
    assert led_by(one, silent) == {"probe-main-left-3", "edit-1"}
    every = gauging(*(f"{BEGUN} probe-main-left-{n}=no signal" for n in range(1, PROBES + 1)))
    assert value(every, "main-left.gauged_kg", LATER) == 0.0
    # A total of which a part is blank is blank, and no alert is built on it.
    assert value(every, "total.gauged_kg", LATER) == 0.0
    assert "leak" not in alerts(every)


# ------------------------------------------------------------------ compensators and water


@pytest.mark.parametrize("percent", [-20.0, 10.0, 50.0])
def test_a_wrong_compensator_has_the_gauge_take_another_fuel(percent: float) -> None:
    flight = gauging(f"{BEGUN} compensator-main-left=biased {percent}")
    held, shown, density = main_left(flight, LATER)
    true = dielectric(density)
    taken = true * (1.0 + 0.01 * percent)
    # The probes' signal is V (K - 1); the gauge divides by its own K - 1 and multiplies by its own density.
    wanted = held / density * (true - 1.0) / (taken - 1.0) * density_of(taken)
    assert shown == pytest.approx(wanted, rel=1e-6)


def test_a_drifting_compensator_is_off_by_the_hour() -> None:
    flight = gauging(f"{BEGUN} compensator-main-left=drifting 5")
    held, shown, density = main_left(flight, "5:30:00")
    true = dielectric(density)
    taken = 1.1 * true
    wanted = held / density * (true - 1.0) / (taken - 1.0) * density_of(taken)
    assert shown == pytest.approx(wanted, rel=1e-6)


def test_a_dead_compensator_leaves_a_gauge_with_the_usual_fuel() -> None:
    flight = gauging(f"{BEGUN} compensator-main-left=no signal")
    held, shown, density = main_left(flight, LATER)
    wanted = held / density * (dielectric(density) - 1.0) / (2.1 - 1.0) * density_of(2.1)
    assert shown == pytest.approx(wanted, rel=1e-6)
    assert abs(shown / held - 1.0) < 0.02


def test_a_frozen_compensator_misses_that_the_fuel_cools() -> None:
    flight = gauging("2:00:00 compensator-main-left=frozen")
    then = dielectric(density_kg_m3(value(flight, "main-left.temperature_c", "2:00:00")))
    held, shown, density = main_left(flight, "6:00:00")
    wanted = held / density * (dielectric(density) - 1.0) / (then - 1.0) * density_of(then)
    assert shown == pytest.approx(wanted, rel=1e-6)
    assert shown > held


def test_water_at_the_foot_of_a_probe_counts_many_times() -> None:
    litres = 40.0
    flight = gauging(f"{BEGUN} main-left=water {litres:g}")
    held, shown, density = main_left(flight, LATER)
    true = dielectric(density)
    counted = litres * (80.0 - true) / (true - 1.0) / PROBES
    assert shown - held == pytest.approx(counted * density / 1000.0, rel=1e-5)


# ------------------------------------------------------------------ meters


def metered(flight: Flight, start: str, end: str) -> tuple[float, float]:
    """What engine 1 is said to have used between two times, and what it has burned by its own flow."""
    return gained(flight, "engine-1.used_kg", start, end), gained(gauging(), "engine-1.used_kg", start, end)


def test_a_meter_that_is_wrong_by_a_share_counts_so_much_more_or_less() -> None:
    for percent in (-20.0, 10.0):
        flight = gauging(f"{BEGUN} meter-1=biased {percent}")
        counted, burned = metered(flight, BEGUN, "5:30:00")
        assert counted == pytest.approx(burned * (1.0 + 0.01 * percent), rel=1e-6)
        missing = gained(flight, "total.discrepancy_kg", BEGUN, "5:30:00")
        assert missing == pytest.approx(-0.01 * percent * burned, abs=1.0)


def test_a_meter_that_drifts_frozen_or_silent() -> None:
    flow = value(gauging(), "engine-1.flow_kg_h", BEGUN)
    frozen = gauging(f"{BEGUN} meter-1=frozen")
    assert metered(frozen, BEGUN, "5:30:00")[0] == pytest.approx(2.0 * flow, rel=1e-6)
    silent = gauging(f"{BEGUN} meter-1=no signal", "4:30:00 meter-1=mended")
    assert metered(silent, BEGUN, "4:30:00")[0] == 0.0
    assert metered(silent, "4:30:00", "5:30:00")[0] == pytest.approx(metered(silent, "4:30:00", "5:30:00")[1])
    drifting = gauging(f"{BEGUN} meter-1=drifting 10")
    assert value(drifting, "engine-1.metered_kg_h", "5:30:00") == pytest.approx(
        1.2 * value(drifting, "engine-1.flow_kg_h", "5:30:00"), rel=1e-6
    )


def test_a_meter_that_reads_low_looks_like_a_leak_and_the_gauges_deny_it() -> None:
    flight = gauging("2:00:00 meter-1=biased -30")
    alert = turn(flight, "leak", "on")
    assert "edit-1" in led_by(flight, alert)
    assert value(flight, "total.leaked_kg", alert.time_s) == 0.0
    # No tank falls faster than before: the wings stay in balance.
    assert abs(value(flight, "total.imbalance_kg", alert.time_s)) < 100.0


def test_a_silent_meter_sounds_no_leak() -> None:
    assert alerts(gauging("2:00:00 meter-1=no signal")) == []


# ------------------------------------------------------------------ totaliser


@pytest.mark.parametrize("kg", [-500.0, 500.0])
def test_a_wrong_totaliser_is_off_by_so_much(kg: float) -> None:
    flight = gauging(f"{BEGUN} totaliser=biased {kg:g}")
    assert value(flight, "total.gauged_kg", LATER) - value(
        gauging(), "total.gauged_kg", LATER
    ) == pytest.approx(kg)
    step = value(flight, "total.discrepancy_kg", BEGUN) - value(gauging(), "total.discrepancy_kg", BEGUN)
    assert step == pytest.approx(-kg, abs=0.1)


def test_a_totaliser_that_drifts_is_frozen_or_silent() -> None:
    drifting = gauging(f"{BEGUN} totaliser=drifting -300")
    sound = value(gauging(), "total.gauged_kg", "5:30:00")
    assert value(drifting, "total.gauged_kg", "5:30:00") == pytest.approx(sound - 600.0, abs=0.1)
    assert "edit-1" in led_by(drifting, turn(drifting, "leak", "on"))
    frozen = gauging(f"{BEGUN} totaliser=frozen")
    assert value(frozen, "total.gauged_kg", "5:30:00") == pytest.approx(
        value(gauging(), "total.gauged_kg", BEGUN), abs=0.1
    )
    silent = gauging(f"{BEGUN} totaliser=no signal")
    assert value(silent, "total.gauged_kg", LATER) == 0.0
    assert silent.state("totaliser", at_s(LATER)) == "no signal"
    # The tanks' own gauges go on.
    assert value(silent, "main-left.gauged_kg", LATER) > 1000.0

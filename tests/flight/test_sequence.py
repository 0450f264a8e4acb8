"""The demonstration flight from taxi to blocks: the centre's sequence, the holds, the release, the end."""

from itertools import pairwise
from math import sqrt

import pytest

from tests.flight.by_hand import loss_bar
from tests.flight.flights import alder, chain, flown, hold, phase_s, turn, turns


def holds(number_at_least: int) -> int:
    flight = flown()
    begun = [c for c in flight.changes if c.part.startswith("return-flow-hold") and c.after == "active"]
    assert len(begun) >= number_at_least
    return len(begun)


# ------------------------------------------------------------------ taxi and take-off


def test_slats_out_hold_the_centre_once_it_is_proved() -> None:
    flight = flown()
    out = turn(flight, "slats", "out")
    assert turn(flight, "slat-hold", "active").time_s == out.time_s
    stopped = turn(flight, "centre-left", "stopped by automatics", out.time_s)
    assert stopped.time_s == turn(flight, "proving-run-1", "inactive").time_s > out.time_s
    assert {"slat-hold", "proving-run-1"} <= {fact.name for fact in stopped.reason.facts}
    assert flight.state("centre-right", stopped.time_s) == "stopped by automatics"


def test_each_engine_takes_off_on_its_own_wing() -> None:
    flight = flown()
    at_s = phase_s(flight, "climb") + 20.0
    assert flight.quantity("engine-1.flow_kg_h", at_s) > 3000.0
    for engine, side in (("engine-1", "left"), ("engine-2", "right")):
        from_own_wing = sum(
            flight.quantity(f"main-{side}-{pump}.flow_kg_h", at_s) for pump in ("forward", "aft")
        )
        assert from_own_wing == pytest.approx(flight.quantity(f"{engine}.flow_kg_h", at_s))
        assert flight.quantity(f"centre-{side}.flow_kg_h", at_s) == 0.0
        assert flight.state(f"main-{side}-aft", at_s) == "delivering"
    assert flight.state("cross-feed", at_s) == "shut"
    assert flight.quantity("cross-feed.flow_kg_h", at_s) == 0.0


def test_the_second_pump_of_a_wing_only_helps_at_high_demand() -> None:
    flight = flown()
    taxi_s = turn(flight, "proving-run-1", "inactive").time_s + 60.0
    for side in ("left", "right"):
        assert flight.state(f"main-{side}-forward", taxi_s) == "delivering"
        assert flight.state(f"main-{side}-aft", taxi_s) == "running, held back"


# ------------------------------------------------------------------ climb and cruise


def test_slats_in_let_the_centre_feed() -> None:
    flight = flown()
    slats_in = turn(flight, "slats", "in", phase_s(flight, "climb"))
    for side in ("left", "right"):
        feeds = turn(flight, f"centre-{side}", "delivering", slats_in.time_s)
        assert feeds.time_s == slats_in.time_s
        assert feeds.reason.name == "slat-hold"
        for pump in ("forward", "aft"):
            held = turn(flight, f"main-{side}-{pump}", "running, held back", slats_in.time_s)
            assert held.time_s == slats_in.time_s
            assert held.reason.kind == "physics"
            assert f"Centre {side} pump keeps" in held.reason.sentence


def test_the_centre_wins_by_pressure() -> None:
    flight = flown()
    at_s = phase_s(flight, "cruise") + 60.0
    for side in ("left", "right"):
        manifold_bar = flight.quantity(f"manifold-{side}.pressure_bar", at_s)
        assert flight.quantity(f"centre-{side}.pressure_bar", at_s) == pytest.approx(manifold_bar, abs=1e-6)
        for pump in ("forward", "aft"):
            assert flight.quantity(f"main-{side}-{pump}.pressure_bar", at_s) < manifold_bar - 0.5


def test_a_pump_s_pressure_follows_the_fuel_s_density_level_and_viscosity() -> None:
    # P = P0 rho/800 + rho g z - (a nu/nu15 Q + k Q²); the centre is a box of 3.6 m by 3.7 m, 0.8 m deep.
    flight = flown()
    at_s = phase_s(flight, "cruise") + 60.0
    celsius = flight.quantity("centre.temperature_c", at_s)
    density = 804.0 - 0.74 * (celsius - 15.0)
    assert flight.quantity("flight.pitch_deg", at_s) == 0.0
    level_m = 0.8 * flight.quantity("centre.fill", at_s)
    for side in ("left", "right"):
        pump = next(pump for pump in alder().pumps if pump.name == f"centre-{side}")
        given = pump.shut_off_bar * density / 800.0 + 1e-5 * density * 9.80665 * level_m
        given -= loss_bar(
            pump.linear_bar_h_t,
            pump.square_bar_h2_t2,
            flight.quantity(f"centre-{side}.flow_kg_h", at_s),
            celsius,
        )
        assert flight.quantity(f"manifold-{side}.pressure_bar", at_s) == pytest.approx(given, abs=2e-4)


def test_return_flow_comes_out_of_what_the_engine_s_pump_gives_and_fills_the_wing() -> None:
    flight = flown()
    at_s = phase_s(flight, "cruise") + 60.0
    assert flight.state("outboard-left", at_s) == "spilling"
    returned = flight.quantity("return-left.flow_kg_h", at_s)
    assert returned == 600.0
    assert flight.quantity("centre-left.flow_kg_h", at_s) == pytest.approx(
        flight.quantity("engine-1.flow_kg_h", at_s) + returned
    )
    gain = flight.quantity("main-left.rate_kg_h", at_s) + flight.quantity("outboard-left.rate_kg_h", at_s)
    assert gain == pytest.approx(returned, rel=1e-6)


def test_return_flow_warms_the_outboard() -> None:
    flight = flown()
    begins = turn(flight, "return-left", "flowing")
    before, after = (flight.quantity("outboard-left.temperature_c", begins.time_s + s) for s in (0.0, 1200.0))
    assert after > before + 1.5


def test_return_flow_begins_with_the_slats_where_the_oil_is_warm_the_demand_moderate_and_room_there() -> None:
    flight = flown()
    slats_in = turn(flight, "slats", "in", phase_s(flight, "climb"))
    for side, number in (("left", 1), ("right", 2)):
        begins = turn(flight, f"cooling-return-{side}", "active")
        assert begins.time_s == slats_in.time_s
        assert slats_in in chain(flight, begins)
        assert flight.quantity(f"engine-{number}.flow_kg_h", begins.time_s) <= 3700.0
        assert flight.state(f"high-level-main-{side}", begins.time_s) == "dry"
        assert flight.state(f"oil-warm-{number}", begins.time_s) == "active"
        assert flight.quantity(f"return-{side}.oil_c", begins.time_s) > 35.0


@pytest.mark.parametrize(("side", "number"), [("left", 1), ("right", 2)])
def test_return_flow_waits_for_room(side: str, number: int) -> None:
    # With the slats in, the centre feeds and the mains stay full: they make room as they cool.
    flight = flown("0:36:20 slats=in")
    room = turn(flight, f"high-level-main-{side}", "dry", 1900.0)
    begins = turn(flight, f"cooling-return-{side}", "active")
    assert begins.time_s == room.time_s > turn(flight, f"oil-warm-{number}", "active").time_s
    assert room in chain(flight, begins)
    volume_l = flight.quantity(f"main-{side}.volume_l", begins.time_s)
    assert volume_l == pytest.approx(8061.0, abs=0.01)


@pytest.mark.parametrize(("side", "number"), [("left", 1), ("right", 2)])
def test_return_flow_waits_for_warm_oil(side: str, number: int) -> None:
    flight = flown("0:03:30 preselect=12000", "0:36:20 slats=in")
    warm = turn(flight, f"oil-warm-{number}", "active")
    assert flight.quantity(f"return-{side}.oil_c", warm.time_s) == pytest.approx(62.0, abs=1e-3)
    begins = turn(flight, f"cooling-return-{side}", "active")
    assert turn(flight, "slats", "in", 2180.0).time_s < begins.time_s == warm.time_s
    assert begins.time_s < phase_s(flight, "climb")
    assert warm in chain(flight, begins)


@pytest.mark.parametrize(("side", "number"), [("left", 1), ("right", 2)])
def test_return_flow_waits_for_a_moderate_demand(side: str, number: int) -> None:
    flight = flown("0:47:10 slats=in")
    flow = f"engine-{number}.flow_kg_h"
    assert flight.quantity(flow, 2830.0) > 3700.0
    begins = turn(flight, f"cooling-return-{side}", "active")
    assert begins.time_s > 2830.0
    assert flight.quantity(flow, begins.time_s - 1.0) > 3700.0
    assert flight.quantity(flow, begins.time_s) <= 3700.0 + 1e-6
    assert flow in {fact.name for fact in begins.reason.facts}


def test_the_centre_is_held_with_fuel_in_it_at_least_twice() -> None:
    flight = flown()
    for number in range(1, holds(2) + 1):
        begun, ended = hold(flight, number)
        assert flight.quantity("centre.actual_kg", begun.time_s) > 400.0
        side = begun.part.rpartition("-")[2]
        wet = turns(flight, f"high-level-main-{side}", "wet", begun.time_s)[0]
        assert wet.time_s == begun.time_s
        sensor = next(s for s in alder().sensors if s.name == f"high-level-main-{side}")
        volume_l = flight.quantity(f"main-{side}.volume_l", begun.time_s)
        assert volume_l == pytest.approx(sensor.wet_at_l, abs=0.01)
        for pump in ("centre-left", "centre-right"):
            assert flight.state(pump, begun.time_s - 1.0) == "delivering"
            assert flight.state(pump, begun.time_s) == "stopped by automatics"
            assert flight.state(pump, ended.time_s) == "delivering"


def test_a_hold_ends_when_its_tank_has_given_430_kg() -> None:
    flight = flown()
    for number in range(1, holds(2) + 1):
        begun, ended = hold(flight, number)
        gauge = f"main-{begun.part.rpartition('-')[2]}.gauged_kg"
        given = flight.quantity(gauge, begun.time_s) - flight.quantity(gauge, ended.time_s)
        assert given == pytest.approx(430.0, abs=0.01)
        assert [fact.name for fact in ended.reason.facts] == [gauge]


def test_holds_follow_each_other_and_the_centre_falls_from_one_to_the_next() -> None:
    flight = flown()
    found = [hold(flight, number) for number in range(1, holds(2) + 1)]
    for (_, ended), (begun, _) in pairwise(found):
        assert begun.time_s > ended.time_s + 600.0
        fell = flight.quantity("centre.actual_kg", ended.time_s) - flight.quantity(
            "centre.actual_kg", begun.time_s
        )
        assert fell > 1000.0


def test_a_held_centre_neither_falls_nor_rises() -> None:
    flight = flown()
    begun, ended = hold(flight)
    assert flight.quantity("centre.actual_kg", ended.time_s) == pytest.approx(
        flight.quantity("centre.actual_kg", begun.time_s), abs=1e-6
    )


# ------------------------------------------------------------------ the centre runs dry


@pytest.mark.parametrize(("side", "uncovers_l"), [("left", 119.0), ("right", 112.0)])
def test_a_dry_centre_pump_loses_its_pressure_and_is_stopped(side: str, uncovers_l: float) -> None:
    flight = flown()
    pump = f"centre-{side}"
    dry = turn(flight, pump, "dry")
    assert dry.reason.name == "pick-up-uncovered"
    assert flight.quantity("centre.volume_l", dry.time_s) == pytest.approx(uncovers_l, abs=1e-3)
    density = 804.0 - 0.74 * (flight.quantity("centre.temperature_c", dry.time_s) - 15.0)
    assert flight.quantity("centre.actual_kg", dry.time_s) == pytest.approx(
        1e-3 * density * uncovers_l, abs=1e-3
    )
    assert flight.quantity(f"{pump}.pressure_bar", dry.time_s) < 0.3
    # Its manifold is fed by the wing at that very moment: nothing is interrupted.
    assert turn(flight, f"main-{side}-forward", "delivering", dry.time_s).time_s == dry.time_s
    stopped = turn(flight, pump, "stopped by automatics", dry.time_s)
    assert stopped.time_s == pytest.approx(dry.time_s + 10.0)
    assert stopped.reason.name == f"centre-{side}-dry"
    assert not turns(flight, pump, "delivering", dry.time_s)


def test_the_engines_never_miss_the_centre() -> None:
    flight = flown()
    dry_s = turn(flight, "centre-left", "dry").time_s
    for after_s in (-1.0, 0.0, 0.5, 30.0):
        assert flight.state("engine-1", dry_s + after_s) == "running"
        assert flight.quantity("manifold-left.pressure_bar", dry_s + after_s) > 2.0
    assert not turns(flight, "feed-pressure-1", "on")


def test_the_jet_pump_takes_the_rest_to_the_left_main() -> None:
    flight = flown()
    begins = turn(flight, "scavenge", "flowing")
    ends = turn(flight, "scavenge", "dry", begins.time_s)
    assert begins.time_s == turn(flight, "centre-right-dry", "active").time_s
    moved = flight.quantity("centre.actual_kg", begins.time_s) - flight.quantity(
        "centre.actual_kg", ends.time_s
    )
    assert moved == pytest.approx(82.0, abs=10.0)
    # It draws down to 10 L, a little more than the unusable 8 kg at which the gauge reads zero.
    density = 804.0 - 0.74 * (flight.quantity("centre.temperature_c", ends.time_s) - 15.0)
    assert flight.quantity("centre.volume_l", ends.time_s) == pytest.approx(10.0, abs=1e-3)
    assert flight.quantity("centre.gauged_kg", ends.time_s) == pytest.approx(1e-2 * density - 8.0, abs=1e-3)
    # All of it stays on board: left minus right grows by what was moved.
    lean = [
        flight.quantity("main-left.actual_kg", t) - flight.quantity("main-right.actual_kg", t)
        for t in (begins.time_s, ends.time_s)
    ]
    assert lean[1] - lean[0] == pytest.approx(moved, abs=5.0)


def test_the_jet_pump_flows_as_its_motive_pump_pushes() -> None:
    # A nozzle: its flow goes with the root of the pressure, 260 kg/h at 1 bar, and entrains 0.42 of itself.
    flight = flown()
    at_s = turn(flight, "scavenge", "flowing").time_s + 60.0
    manifold_bar = flight.quantity("manifold-left.pressure_bar", at_s)
    motive_kg_h = 260.0 * sqrt(manifold_bar)
    assert flight.quantity("scavenge.flow_kg_h", at_s) == pytest.approx(0.42 * motive_kg_h, rel=2e-5)
    # The motive flow is drawn from the manifold besides what the engine takes, and comes back to the main.
    pumped = sum(flight.quantity(f"main-left-{pump}.flow_kg_h", at_s) for pump in ("forward", "aft"))
    needed = flight.quantity("engine-1.flow_kg_h", at_s) + flight.quantity("return-left.flow_kg_h", at_s)
    assert pumped - needed == pytest.approx(motive_kg_h, rel=2e-5)


def test_the_wings_feed_the_rest_of_the_cruise() -> None:
    flight = flown()
    at_s = phase_s(flight, "descent") - 600.0
    assert turn(flight, "centre-right-dry", "active").time_s < at_s
    assert flight.quantity("centre.volume_l", at_s) == pytest.approx(10.0, abs=0.2)
    assert flight.quantity("centre.actual_kg", at_s) == pytest.approx(
        flight.quantity("centre.actual_kg", turn(flight, "scavenge", "dry").time_s), abs=1e-9
    )
    for engine, side in (("engine-1", "left"), ("engine-2", "right")):
        gives = sum(flight.quantity(f"main-{side}-{pump}.flow_kg_h", at_s) for pump in ("forward", "aft"))
        assert gives == pytest.approx(
            flight.quantity(f"{engine}.flow_kg_h", at_s) + flight.quantity(f"return-{side}.flow_kg_h", at_s)
        )


def test_low_level_stops_the_return_flow() -> None:
    flight = flown()
    for side in ("left", "right"):
        ends = turn(flight, f"cooling-return-{side}", "inactive")
        assert flight.quantity(f"main-{side}.gauged_kg", ends.time_s) == pytest.approx(1600.0, abs=0.01)
        assert turn(flight, f"return-{side}", "resting", ends.time_s).time_s == pytest.approx(
            ends.time_s + 3.0
        )


# ------------------------------------------------------------------ descent, landing, the end


def test_a_main_at_900_kg_in_the_descent_opens_both_outboard_valves() -> None:
    flight = flown()
    release = turn(flight, "outboard-release", "active", phase_s(flight, "cruise"))
    assert release.time_s > phase_s(flight, "descent")
    lower = min(flight.quantity(f"main-{side}.gauged_kg", release.time_s) for side in ("left", "right"))
    assert lower == pytest.approx(900.0, abs=0.01)
    for side in ("left", "right"):
        moving = turn(flight, f"outboard-valve-{side}", "moving", release.time_s)
        assert moving.time_s == release.time_s
        assert moving.reason.name == "outboard-release"
        assert turn(flight, f"outboard-valve-{side}", "open", release.time_s).time_s == pytest.approx(
            release.time_s + 4.0
        )


def test_the_outboard_valves_stay_open_though_the_mains_rise_again() -> None:
    flight = flown()
    release = turn(flight, "outboard-release", "active", phase_s(flight, "cruise"))
    door = turn(flight, "refuel-door", "open", release.time_s)
    empty = max(
        turn(flight, f"transfer-{side}", "resting", release.time_s).time_s for side in ("left", "right")
    )
    assert all(flight.quantity(f"main-{s}.gauged_kg", empty) > 1500.0 for s in ("left", "right"))
    for side in ("left", "right"):
        valve = turns(flight, f"outboard-valve-{side}", None, release.time_s + 5.0)
        assert [change.after for change in valve] == ["moving", "shut"]
        assert valve[0].time_s == door.time_s


def test_the_outboards_empty_by_gravity_into_their_mains() -> None:
    flight = flown()
    release = turn(flight, "outboard-release", "active", phase_s(flight, "cruise"))
    for side in ("left", "right"):
        ends = turn(flight, f"transfer-{side}", "resting", release.time_s)
        assert flight.quantity(f"outboard-{side}.gauged_kg", ends.time_s) == pytest.approx(0.0, abs=1e-3)
        assert (
            ends.time_s
            < turn(flight, f"engine-{'1' if side == 'left' else '2'}", "off", release.time_s).time_s
        )
        at_s = release.time_s + 120.0
        assert flight.quantity(f"transfer-{side}.flow_kg_h", at_s) > flight.quantity(
            "engine-1.flow_kg_h", at_s
        )
        assert flight.quantity(f"main-{side}.rate_kg_h", at_s) > 0.0


def test_the_landing_is_on_the_wings_with_the_centre_held() -> None:
    flight = flown()
    out = turn(flight, "slats", "out", phase_s(flight, "descent"))
    assert turn(flight, "slat-hold", "active", out.time_s).time_s == out.time_s


def test_the_plan_s_reserves_are_intact_on_blocks() -> None:
    flight = flown()
    plan = flight.script.plan_kg
    # As read before the battery, and with it every gauge, goes off.
    off_s = turn(flight, "battery-switch", "off").time_s
    assert flight.quantity("total.gauged_kg", off_s - 1.0) > plan["alternate_kg"] + plan["final_reserve_kg"]
    assert flight.state("totaliser", off_s) == "no signal"


def test_the_limits_are_kept() -> None:
    flight = flown()
    limits = alder().limits
    assert flight.quantity("flight.gross_kg", phase_s(flight, "climb")) <= limits.take_off_kg
    assert flight.quantity(
        "flight.gross_kg", turn(flight, "slats", "in", phase_s(flight, "descent")).time_s
    ) <= (limits.landing_kg)


def test_shutdown_takes_fuel_flow_and_gross_weight_away_and_keeps_fuel_used() -> None:
    flight = flown()
    off = turn(flight, "engine-2", "off")
    assert turn(flight, "gross-weight", "not available").time_s == off.time_s
    end = flight.moment(flight.duration_s)
    for engine in ("engine-1", "engine-2"):
        assert end.quantity(f"{engine}.flow_kg_h") == 0.0
        assert end.quantity(f"{engine}.used_kg") > 8000.0
    assert all(end.state(pump.name) == "off" for pump in alder().pumps)
    assert all(end.state(valve) == "shut" for valve in ("shut-off-1", "shut-off-2", "apu-valve"))


def test_the_next_refuelling_shuts_the_outboard_valves() -> None:
    flight = flown()
    door = turn(flight, "refuel-door", "open", phase_s(flight, "descent"))
    for side in ("left", "right"):
        shut = turn(flight, f"outboard-valve-{side}", "shut", door.time_s)
        assert shut.time_s == pytest.approx(door.time_s + 4.0)
        assert door in chain(flight, shut)


def test_used_and_on_board_add_up_to_what_was_there_at_the_first_start() -> None:
    # The ledger: no leak and no gauge error in the demonstration flight. The APU's burn is not in fuel used.
    flight = flown()
    start_s = turn(flight, "engine-1", "starting").time_s
    apu_off_s = turn(flight, "apu", "off").time_s

    def ledger(time_s: float) -> float:
        used = sum(flight.quantity(f"engine-{n}.used_kg", time_s) for n in (1, 2))
        return flight.quantity("total.on_board_kg", time_s) + used

    assert ledger(start_s) - ledger(apu_off_s) == pytest.approx(
        130.0 * (apu_off_s - start_s) / 3600.0, abs=1e-6
    )
    assert ledger(flight.duration_s) == pytest.approx(ledger(apu_off_s), abs=1e-6)

"""The Rowan 54's hop: electric pumps, jet pumps, feeders and flaps."""

from math import sqrt

import pytest

from tests.flight.fleet_flights import flown, raised
from tests.flight.flights import turn, turns


def test_an_engine_starts_on_its_electric_pump_and_goes_over_to_the_jet_pump() -> None:
    flight = flown("rowan-54")
    for number, side in ((1, "left"), (2, "right")):
        switched = turn(flight, f"engine-{number}-run", "on")
        assert turn(flight, f"electric-{side}", "delivering").time_s == pytest.approx(switched.time_s + 2.0)
        running = turn(flight, f"engine-{number}", "running")
        held = turn(flight, f"engine-jet-{side}", "running, held back")
        assert held.time_s == running.time_s
        over = turn(flight, f"engine-jet-{side}", "delivering")
        assert over.time_s == pytest.approx(switched.time_s + 75.0)
        assert turn(flight, f"electric-{side}", "off").time_s == over.time_s
        assert over.reason.kind == "physics"


def test_in_cruise_the_jet_pumps_feed_alone_and_keep_the_feeders_full() -> None:
    flight = flown("rowan-54")
    at_s = 4200.0
    assert flight.phase(at_s).name == "cruise"
    for number, side in ((1, "left"), (2, "right")):
        assert flight.state(f"electric-{side}", at_s) == "off"
        bar = flight.quantity(f"manifold-{side}.pressure_bar", at_s)
        # Motive flow of the nozzle, 110 kg/h at 1 bar, and 4.2 times as much out of the main.
        motive = 110.0 * sqrt(bar)
        assert flight.quantity(f"transfer-jet-{side}.flow_kg_h", at_s) == pytest.approx(
            4.2 * motive, rel=2e-3
        )
        burned = flight.quantity(f"engine-{number}.flow_kg_h", at_s)
        drawn = flight.quantity(f"engine-jet-{side}.flow_kg_h", at_s)
        assert drawn == pytest.approx(burned + motive, rel=1e-3)
        # The pump's own curve at that flow, and the head of the fuel over it.
        shut_off_bar, square = {"left": (1.08, 0.90), "right": (1.05, 0.92)}[side]
        own = shut_off_bar - 0.10 * drawn / 1000.0 - square * (drawn / 1000.0) ** 2
        assert own < bar < own + 0.08
        assert flight.state(f"feeder-{side}", at_s) == "spilling"
        assert flight.quantity(f"feeder-{side}.volume_l", at_s) == pytest.approx(280.0, abs=0.01)
        # The main gives what its engine burns: what the feeder spills comes back.
        assert flight.quantity(f"main-{side}.rate_kg_h", at_s) == pytest.approx(-burned, rel=0.02)
    assert flight.quantity("cross-feed.flow_kg_h", at_s) == 0.0


def test_take_off_draws_more_than_a_jet_pump_gives_and_the_electric_pump_stays_on() -> None:
    flight = flown("rowan-54")
    off = next(phase.start_s for phase in flight.phases if phase.name == "climb")
    for number, side in ((1, "left"), (2, "right")):
        low = turn(flight, f"low-feed-{number}", "active")
        assert low.time_s == off
        assert turn(flight, f"electric-{side}", "delivering", off).time_s == off
        assert turn(flight, f"pump-by-itself-{number}", "on").time_s == off
        # It is latched: late in the climb the demand is such that the jet pump alone would do.
        late_s = 48.0 * 60.0
        assert flight.state(f"low-feed-{number}", late_s) == "active"
        drawn = (
            flight.quantity(f"engine-{number}.flow_kg_h", late_s) + 110.0 * 0.85
        ) / 1000.0  # as if at 0.72 bar
        assert 1.05 - 0.10 * drawn - 0.92 * drawn * drawn > 0.60
        off_again = turn(flight, f"fuel-pump-{number}", "off")
        ended = turn(flight, f"low-feed-{number}", "inactive")
        assert ended.time_s == off_again.time_s
        # Back at automatic it rests: neither the start boost nor the rule comes again in the cruise.
        assert not turns(flight, f"electric-{side}", "delivering", off_again.time_s)


def test_the_electric_pump_comes_on_where_the_pressure_reaches_six_tenths_of_a_bar() -> None:
    """With its transfer jet pump blocked the left manifold sags slowly enough to be seen."""
    flight = flown("rowan-54", "0:29:00 transfer-jet-left=blocked")
    low = turn(flight, "low-feed-1", "active")
    assert low.time_s > turn(flight, "low-feed-2", "active").time_s
    seen = next(fact for fact in low.reason.facts if fact.name == "manifold-left.pressure_bar")
    assert seen.value == pytest.approx(0.60, abs=1e-6)
    assert flight.quantity("manifold-left.pressure_bar", low.time_s + 1.0) > 1.5


def test_a_jet_pump_that_fails_is_followed_at_once_and_gravity_feeds_the_feeder_later() -> None:
    flight = flown("rowan-54", "1:00:00 engine-jet-left=failed")
    electric = turn(flight, "electric-left", "delivering", 3600.0)
    assert electric.time_s == 3600.0
    assert turn(flight, "transfer-jet-left", "resting", 3600.0).time_s == 3600.0
    assert "feed-pressure-1" not in {change.part for change in raised(flight)}
    # Without the transfer jet pump the feeder falls, and says so.
    low = turn(flight, "low-level-left", "on")
    dried = turn(flight, "low-level-feeder-left", "dry")
    assert low.time_s == pytest.approx(dried.time_s + 30.0)
    assert flight.quantity("feeder-left.volume_l", dried.time_s) == pytest.approx(230.0, abs=0.1)
    assert turn(flight, "trapped-left", "on").time_s > low.time_s
    assert flight.state("engine-1", 6600.0) == "running"
    assert not turns(flight, "low-level-right")


def test_gravity_holds_the_feeder_at_the_main_s_level() -> None:
    flight = flown("rowan-54", "0:29:00 transfer-jet-left=blocked")
    opens = turn(flight, "feeder-flap-left", "flowing")
    assert flight.quantity("feeder-flap-left.flow_kg_h", opens.time_s - 120.0) == 0.0
    at_s = 4200.0
    burned = flight.quantity("engine-1.flow_kg_h", at_s)
    assert flight.quantity("feeder-flap-left.flow_kg_h", at_s) == pytest.approx(burned, rel=0.15)
    assert abs(flight.quantity("feeder-left.rate_kg_h", at_s)) < 0.1 * burned
    # Orifice: Q = Cd A rho sqrt(2 g h) gives the head that stands between the two surfaces.
    flow_kg_s = flight.quantity("feeder-flap-left.flow_kg_h", at_s) / 3600.0
    head_m = (flow_kg_s / (0.6 * 2.6e-4 * 815.0)) ** 2 / (2 * 9.80665)
    assert 0.01 < head_m < 0.03
    assert flight.ended is None


def test_without_any_pump_the_engine_lives_on_suction_at_this_level() -> None:
    flight = flown("rowan-54", "1:00:00 engine-jet-left=failed", "1:00:00 electric-left=failed")
    assert turn(flight, "bypass-left", "feeding", 3600.0).time_s == 3600.0
    assert turn(flight, "feed-pressure-1", "on").time_s == pytest.approx(3602.0)
    assert flight.state("engine-1", 5000.0) == "running"
    assert 0.0 < flight.quantity("engine-1.inlet_margin_bar", 5000.0) < 0.4


def test_an_open_cross_feed_feeds_both_engines_and_moves_no_fuel_to_the_other_main() -> None:
    flight = flown("rowan-54", "1:00:00 cross-feed=open", "1:00:10 fuel-pump-1=on")
    at_s = 4500.0
    both = sum(flight.quantity(f"engine-{n}.flow_kg_h", at_s) for n in (1, 2))
    assert flight.state("engine-jet-right", at_s) == "running, held back"
    assert flight.quantity("electric-left.flow_kg_h", at_s) > both
    assert flight.quantity("cross-feed.flow_kg_h", at_s) > 200.0
    # The imbalance grows by what the right engine no longer takes, and by the right jet pump's motive flow.
    grown = [flight.quantity("total.imbalance_kg", s) for s in (at_s, at_s + 600.0)]
    assert grown[1] - grown[0] > both / 2.0 * 600.0 / 3600.0


def test_without_a_pressure_point_each_main_is_filled_through_its_filler() -> None:
    flight = flown(
        "rowan-54",
        "0:09:00 overwing-nozzle=left",
        "0:09:00 filler-cap-left=open",
        "0:10:00 overwing-nozzle=stowed",
        "0:10:00 filler-cap-left=shut",
    )
    before, after = (
        [flight.quantity(f"{tank}.actual_kg", at_s) for tank in ("main-left", "main-right")]
        for at_s in (535.0, 610.0)
    )
    # 0.20 bar of head: 0.008 Q + 0.0024 Q² = 0.20 gives 7.6 t/h, so 127 kg in a minute.
    assert after[0] - before[0] == pytest.approx(127.0, abs=8.0)
    assert after[1] == before[1]
    assert [change.part for change in raised(flight)][:1] == ["filler-left-open"]

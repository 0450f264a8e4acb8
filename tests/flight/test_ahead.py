"""Looking ahead: what the flight then does is what was foretold, and usable is what can be used."""

from dataclasses import replace

import pytest

from tests.flight.flights import flown, turn
from tests.flight.random_scripts import drawn
from wetwing.flight.ahead import ahead, left_alone
from wetwing.flight.clock import seconds
from wetwing.flight.fly import fly
from wetwing.flight.phrases import mark

NO_CENTRE = ("1:40:00 centre-left-dry=false start", "1:40:00 centre-right-dry=false start")


def at(text: str) -> float:
    return seconds(text, "a test's time")


# Among them troubles that wait on a condition and have gone, and indications that have not frozen yet.
@pytest.mark.parametrize("seed", [1, 8, 15, 23, *range(30, 36)])
def test_one_can_look_ahead_from_any_time_of_any_flight(seed: int) -> None:
    found = drawn(seed)
    flight = fly(found.aircraft, found.script)
    for share in (0.0, 0.2, 0.5, 0.9):
        seen = ahead(flight, share * flight.duration_s)
        assert seen.endurance is None or seen.endurance.lasts_s >= 0.0
        assert all(level.in_s > 0.0 and level.sentence for level in seen.levels)


def test_an_indication_that_will_freeze_is_nothing_that_is_known_yet() -> None:
    plain = flown()
    frozen = flown("5:00:00 shut-off-1=indication frozen", "5:00:00 main-left=leak 3000")
    assert ahead(frozen, at("3:00:00")).endurance == ahead(plain, at("3:00:00")).endurance


def test_next_levels_are_those_that_come() -> None:
    flight = flown()
    found = {level.tank: level for level in ahead(flight, at("1:10:00")).levels}
    wet = turn(flight, "high-level-main-right", "wet", at("1:10:00"))
    assert found["main-right"].part == "high-level-main-right"
    assert found["main-right"].in_s == pytest.approx(wet.time_s - at("1:10:00"))
    assert found["main-right"].sentence == wet.reason.sentence
    assert all(level.in_s > 0.0 and level.sentence for level in found.values())


def test_with_all_working_nearly_everything_on_board_is_usable() -> None:
    flight = flown()
    found = ahead(flight, at("2:30:00")).endurance
    assert found is not None
    # All but what is unusable, and what the other engine still has when the first one starves.
    unusable_kg = sum(tank.unusable_kg for tank in flight.aircraft.tanks)
    assert found.on_board_kg - found.usable_kg == pytest.approx(unusable_kg, abs=120.0)
    # 16 t at the flow of the cruise, which falls as the aircraft grows lighter.
    flow_kg_h = 2 * flight.quantity("engine-1.flow_kg_h", at("2:30:00"))
    assert found.usable_kg / flow_kg_h < found.lasts_s / 3600.0 < 1.15 * found.usable_kg / flow_kg_h


def test_a_false_dry_signal_strands_the_centre_and_it_is_told() -> None:
    flight = flown(*NO_CENTRE)
    found = ahead(flight, at("2:30:00"))
    assert found.endurance is not None
    assert found.endurance.lasts_s < ahead(flown(), at("2:30:00")).endurance.lasts_s - 3600.0  # type: ignore[union-attr]
    stranded = {each.tank: each for each in found.endurance.stranded}
    centre_kg = flight.quantity("centre.actual_kg", at("2:30:00"))
    # All of it but what the jet pump takes out meanwhile: the false signal starts that as well.
    jet_kg = flight.quantity("scavenge.flow_kg_h", at("2:30:00")) * found.endurance.lasts_s / 3600.0
    assert 500.0 < jet_kg < 1000.0
    assert stranded["centre"].stranded_kg == pytest.approx(centre_kg - jet_kg, abs=40.0)
    assert "stopped by automatics" in stranded["centre"].sentence
    assert found.landing is not None
    assert found.landing.standing == "mayday fuel"
    assert found.landing.usable_kg < found.landing.final_reserve_kg < found.landing.on_board_kg
    short = mark(found.landing.final_reserve_kg - found.landing.usable_kg, "kg")
    assert f"{short} below the final reserve" in found.landing.sentence
    assert "would not get there" not in found.landing.sentence
    # Selected to manual, the same fuel can be used again.
    mended = ahead(flown(*NO_CENTRE, "2:20:00 centre-feed=manual"), at("2:30:00"))
    assert mended.endurance is not None
    assert mended.endurance.lasts_s > found.endurance.lasts_s + 3600.0
    assert mended.landing is not None
    assert mended.landing.standing == "normal"
    over = mark(mended.landing.usable_kg - mended.landing.final_reserve_kg, "kg")
    assert f"{over} above the final reserve" in mended.landing.sentence


def test_endurance_comes_true_where_nobody_touches_anything() -> None:
    # From 4:14 to 6:39 this flight keeps its height and speed, and nobody acts.
    flight = flown("4:15:00 main-left=leak 4000")
    time_s = at("4:20:00")
    found = ahead(flight, time_s).endurance
    assert found is not None
    starved = turn(flight, "engine-1", "stopped for want of fuel", time_s)
    assert starved.time_s < at("6:39:00")
    assert starved.time_s - time_s == pytest.approx(found.lasts_s, abs=0.01)
    burned = "total.burned_kg"
    used_kg = flight.quantity(burned, starved.time_s) - flight.quantity(burned, time_s)
    assert found.usable_kg == pytest.approx(used_kg, abs=0.1)


def test_imbalance_is_the_wings_difference_and_its_trend_is_the_rates() -> None:
    flight = flown("3:10:00 cross-feed=open", "3:10:00 main-right-forward=off", "3:10:00 main-right-aft=off")
    time_s = at("3:30:00")
    found = ahead(flight, time_s).imbalance
    later = ahead(flight, time_s + 600.0).imbalance
    assert later.now_kg - found.now_kg == pytest.approx(found.rate_kg_h / 6.0, rel=0.02)
    assert found.rate_kg_h > 1000.0
    assert found.sentence.startswith("The right wing grows heavier")
    assert "main left loses" in found.sentence


def test_endurance_ends_where_the_fuel_freezes_before_it_is_used() -> None:
    cold = fly(flown().aircraft, replace(flown().script, deviation_k=-30.0))
    found = ahead(cold, at("2:30:00")).endurance
    warm = ahead(flown(), at("2:30:00")).endurance
    assert found is not None
    assert warm is not None
    assert found.lasts_s < warm.lasts_s - 3600.0
    assert found.usable_kg < warm.usable_kg - 1000.0
    assert found.stranded == ()
    alone = fly(cold.aircraft, left_alone(cold, at("2:30:00")))
    assert alone.ended is not None
    assert alone.ended.name == "fuel-freezing"
    assert found.sentence == alone.ended.sentence
    assert found.lasts_s == pytest.approx(alone.duration_s - at("2:30:00"))


def test_no_engine_no_endurance_and_after_landing_no_landing() -> None:
    assert ahead(flown(), at("0:20:00")).endurance is None
    assert ahead(flown(), at("7:10:00")).landing is None

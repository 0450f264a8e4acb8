"""Planned fuel, minimum and mayday fuel, and the cost of carrying fuel."""

import pytest
from scipy.integrate import solve_ivp

from wetwing.physics import planning

EXAMPLE = planning.Plan(
    taxi_kg=270.0, trip_kg=8900.0, contingency_kg=445.0, alternate_kg=1500.0, final_reserve_kg=1170.0
)


def test_the_planning_example() -> None:
    assert EXAMPLE.block_kg == 12_285.0
    assert EXAMPLE.take_off_kg == 12_015.0
    assert EXAMPLE.landing_kg == 3115.0
    assert planning.contingency_kg(8900.0, 2340.0) == pytest.approx(445.0)
    assert planning.final_reserve_kg(2340.0) == 1170.0


def test_additional_extra_and_discretionary_count_at_landing_and_at_the_gate() -> None:
    plan = planning.Plan(270.0, 8900.0, 445.0, 1500.0, 1170.0, 200.0, 300.0, 500.0)
    assert plan.landing_kg == EXAMPLE.landing_kg + 1000.0
    assert plan.block_kg == EXAMPLE.block_kg + 1000.0


@pytest.mark.parametrize(
    ("trip_kg", "share", "wanted_kg"),
    [
        (8900.0, 0.05, 445.0),
        (8900.0, 0.03, 267.0),
        (3000.0, 0.05, 195.0),
        (3900.0, 0.05, 195.0),
        (0.0, 0.05, 195.0),
    ],
)
def test_contingency_is_never_under_five_minutes_of_holding(
    trip_kg: float, share: float, wanted_kg: float
) -> None:
    assert planning.contingency_kg(trip_kg, 2340.0, share) == pytest.approx(wanted_kg)


@pytest.mark.parametrize(
    ("predicted_kg", "committed", "standing"),
    [
        (1500.0, True, "normal"),
        (1365.0, True, "normal"),
        (1364.0, True, "minimum fuel"),
        (1170.0, True, "minimum fuel"),
        (1170.0, False, "normal"),
        (1169.0, True, "mayday fuel"),
        (1169.0, False, "mayday fuel"),
        (-50.0, False, "mayday fuel"),
    ],
)
def test_standing(predicted_kg: float, committed: bool, standing: str) -> None:
    assert planning.standing_of(predicted_kg, 1170.0, committed) == standing


def test_standing_with_a_cost_of_change_of_its_own() -> None:
    assert planning.standing_of(1500.0, 1170.0, True, change_kg=400.0) == "minimum fuel"
    assert planning.standing_of(1170.0, 1170.0, True, change_kg=0.0) == "normal"


def test_carriage_against_an_independent_solver() -> None:
    solved = solve_ivp(lambda _, left: -0.03 * left, (0.0, 5.0), [2000.0], rtol=1e-11, atol=1e-9)
    assert planning.carriage_cost_kg(2000.0, 5.0, 0.03) == pytest.approx(2000.0 - solved.y[0][-1], rel=1e-8)
    assert planning.carriage_cost_kg(2000.0, 5.0, 0.03) == pytest.approx(279, abs=0.5)
    assert planning.loaded_for_kg(2000.0, 5.0, 0.03) == pytest.approx(2324, abs=0.5)


def test_what_is_loaded_for_an_extra_lands_with_it() -> None:
    loaded_kg = planning.loaded_for_kg(1500.0, 7.5, 0.037)
    assert loaded_kg - planning.carriage_cost_kg(loaded_kg, 7.5, 0.037) == pytest.approx(1500.0, rel=1e-14)
    assert planning.carriage_cost_kg(1500.0, 0.0, 0.037) == 0.0


def test_bad_input_is_refused() -> None:
    with pytest.raises(ValueError, match=r"plan: alternate_kg is -1; allowed is 0 to"):
        planning.Plan(270.0, 8900.0, 445.0, -1.0, 1170.0)
    with pytest.raises(ValueError, match=r"contingency: share is 0.02; allowed is 0.03 to 0.05"):
        planning.contingency_kg(8900.0, 2340.0, 0.02)
    with pytest.raises(ValueError, match=r"final reserve: minutes is 20; allowed is 30 to 120"):
        planning.final_reserve_kg(2340.0, 20.0)
    with pytest.raises(ValueError, match=r"standing: final_reserve_kg is -1"):
        planning.standing_of(1000.0, -1.0, False)
    with pytest.raises(ValueError, match=r"carriage: share_h is 3; allowed is 0 to 0.2"):
        planning.carriage_cost_kg(2000.0, 5.0, 3.0)

"""The pressure network: precedence by strength, balance everywhere, and an independent solver's answer."""

from math import sqrt

import numpy as np
import pytest
from scipy.optimize import minimize, root  # type: ignore[import-untyped]

from tests.physics.random_networks import imbalance_t_h, network
from wetwing.physics.network import OUTSIDE, Branch, Network

STRONG = Branch(OUTSIDE, 0, 3.78, 0.034, 0.0091, one_way=True)
MIDDLE = Branch(OUTSIDE, 0, 2.62, 0.030, 0.0080, one_way=True)
WEAK = Branch(OUTSIDE, 0, 2.59, 0.032, 0.0084, one_way=True)
SEEDS = range(200)


def law_bar(branch: Branch, flow_t_h: float) -> float:
    return branch.linear_bar_h_t * flow_t_h + branch.square_bar_h2_t2 * flow_t_h * abs(flow_t_h)


def driving_bar(branch: Branch, pressures: list[float]) -> float:
    tail = pressures[branch.tail] if branch.tail != OUTSIDE else 0.0
    tip = pressures[branch.tip] if branch.tip != OUTSIDE else 0.0
    return branch.head_bar + tail - tip


def flowing_points(branches: tuple[Branch, ...], flows: list[float]) -> set[int]:
    moving = [b for b, flow in zip(branches, flows, strict=True) if abs(flow) > 1e-9]
    return {end for branch in moving for end in (branch.tail, branch.tip) if end != OUTSIDE}


def test_one_pump_against_its_own_curve() -> None:
    solution = Network(1, (MIDDLE,)).solve([2.4])
    assert solution.flows_t_h == [2.4]
    assert solution.pressures_bar[0] == pytest.approx(2.62 - 0.030 * 2.4 - 0.0080 * 2.4 * 2.4, rel=1e-14)


def test_a_quadratic_of_one_pump_and_one_line_by_hand() -> None:
    # head = (a1 + a2) q + (k1 + k2) q²: the flow through pump, line and outlet in a row.
    pump = Branch(OUTSIDE, 0, 3.45, 0.008, 0.00014, one_way=True)
    line = Branch(0, OUTSIDE, 0.0, 0.05, 0.0135, one_way=True)
    a, k = 0.058, 0.01364
    wanted = (-a + sqrt(a * a + 4.0 * k * 3.45)) / (2.0 * k)
    solution = Network(1, (pump, line)).solve([0.0])
    assert solution.flows_t_h == pytest.approx([wanted, wanted], rel=1e-10)


def test_the_stronger_pump_shuts_the_weaker_one_s_check_valve() -> None:
    solution = Network(1, (MIDDLE, STRONG, WEAK)).solve([1.5])
    assert solution.flows_t_h == [0.0, 1.5, 0.0]
    assert solution.pressures_bar[0] > MIDDLE.head_bar


def test_a_pump_that_draws_air_loses_to_the_one_that_it_held_back() -> None:
    air = Branch(OUTSIDE, 0, 0.06 * STRONG.head_bar, 0.034, 0.0091, one_way=True)
    solution = Network(1, (MIDDLE, air)).solve([1.5])
    assert solution.flows_t_h == [1.5, 0.0]


def test_unequal_pumps_share_by_their_curves() -> None:
    solution = Network(1, (MIDDLE, WEAK)).solve([3.3])
    first, second = solution.flows_t_h
    assert first > second > 0.0
    assert first + second == pytest.approx(3.3, abs=1e-10)
    pressure = solution.pressures_bar[0]
    assert MIDDLE.head_bar - law_bar(MIDDLE, first) == pytest.approx(pressure, abs=1e-9)
    assert WEAK.head_bar - law_bar(WEAK, second) == pytest.approx(pressure, abs=1e-9)


def test_unequal_pumps_share_nothing_below_the_weaker_one_s_strength() -> None:
    # The demand at which the stronger alone comes down to 2.59 bar, by hand.
    least = (-0.030 + sqrt(0.030**2 + 4.0 * 0.0080 * 0.03)) / (2.0 * 0.0080)
    network_of_two = Network(1, (MIDDLE, WEAK))
    assert network_of_two.solve([least * 0.999]).flows_t_h[1] == 0.0
    assert network_of_two.solve([least * 1.001]).flows_t_h[1] > 0.0


def test_equal_pumps_share_equally() -> None:
    assert Network(1, (MIDDLE, MIDDLE)).solve([3.0]).flows_t_h == pytest.approx([1.5, 1.5], abs=1e-10)


def test_a_cross_feed_lets_one_side_feed_both() -> None:
    cross = Branch(0, 1, 0.0, 0.010, 0.0040, one_way=False)
    other = Branch(OUTSIDE, 1, 2.60, 0.031, 0.0083, one_way=True)
    solution = Network(2, (STRONG, other, cross)).solve([1.5, 1.5])
    assert solution.flows_t_h == pytest.approx([3.0, 0.0, 1.5], abs=1e-10)
    backwards = Network(2, (STRONG, other, Branch(1, 0, 0.0, 0.010, 0.0040, one_way=False)))
    assert backwards.solve([1.5, 1.5]).flows_t_h[2] == pytest.approx(-1.5, abs=1e-10)


def test_a_check_valve_in_a_line_lets_nothing_back() -> None:
    check = Branch(0, 1, 0.0, 0.05, 0.10, one_way=True)
    strong_beyond = Branch(OUTSIDE, 1, 3.5, 0.03, 0.008, one_way=True)
    solution = Network(2, (MIDDLE, strong_beyond, check)).solve([1.0, 0.2])
    assert solution.flows_t_h == pytest.approx([1.0, 0.2, 0.0], abs=1e-10)
    assert solution.pressures_bar[1] > solution.pressures_bar[0]


def test_no_demand_no_flow() -> None:
    solution = Network(1, (MIDDLE, WEAK)).solve([0.0])
    assert solution.flows_t_h == [0.0, 0.0]
    assert solution.pressures_bar == [MIDDLE.head_bar]


def test_what_no_source_reaches_is_not_fed() -> None:
    check = Branch(1, 0, 0.0, 0.05, 0.10, one_way=True)
    solution = Network(2, (MIDDLE, check)).solve([1.0, 1.0])
    assert solution.fed == [True, False]
    assert solution.flows_t_h == pytest.approx([1.0, 0.0], abs=1e-10)
    nothing = Network(2, (check,)).solve([1.0, 1.0])
    assert nothing.fed == [False, False]
    assert nothing.flows_t_h == [0.0]


def test_where_nothing_pushes_the_pressure_is_ambient() -> None:
    check = Branch(1, 0, 0.0, 0.05, 0.10, one_way=True)
    assert Network(2, (check,)).solve([1.0, 1.0]).pressures_bar == [0.0, 0.0]


def test_a_line_that_lets_fuel_both_ways_feeds_its_tail() -> None:
    backwards = Branch(1, 0, 0.0, 0.05, 0.10, one_way=False)
    solution = Network(2, (MIDDLE, backwards)).solve([0.0, 1.0])
    assert solution.fed == [True, True]
    assert solution.flows_t_h == pytest.approx([1.0, -1.0], abs=1e-10)


def test_two_pumps_share_while_a_third_is_held_shut() -> None:
    air = Branch(OUTSIDE, 0, 0.2, 0.034, 0.0091, one_way=True)
    flows = Network(1, (MIDDLE, air, WEAK)).solve([3.3]).flows_t_h
    assert flows[1] == 0.0
    assert flows[0] + flows[2] == pytest.approx(3.3, abs=1e-10)


@pytest.mark.parametrize(("ends", "beyond_bar"), [((0, 1), 2.62), ((1, 0), 2.59)])
def test_points_where_nothing_flows_stand_at_what_pushes_the_most(
    ends: tuple[int, int], beyond_bar: float
) -> None:
    # A check valve between two pumps: it passes the stronger one's pressure on, or holds it back.
    check = Branch(*ends, 0.0, 0.05, 0.10, one_way=True)
    weaker = Branch(OUTSIDE, 1, 2.59, 0.032, 0.0084, one_way=True)
    solution = Network(2, (MIDDLE, weaker, check)).solve([0.0, 0.0])
    assert solution.pressures_bar == [2.62, beyond_bar]
    assert solution.flows_t_h == [0.0, 0.0, 0.0]


@pytest.mark.parametrize("one_way", [True, False])
@pytest.mark.parametrize("difference_bar", [-1.7, -0.2, 0.3, 2.5])
def test_a_branch_s_slope_is_that_of_its_flow(one_way: bool, difference_bar: float) -> None:
    branch = Branch(0, 1, 0.0, 0.04, 0.011, one_way)
    _, slope = branch.flow_t_h(difference_bar)
    near = 1e-5
    rise = branch.flow_t_h(difference_bar + near)[0] - branch.flow_t_h(difference_bar - near)[0]
    assert slope == pytest.approx(rise / (2.0 * near), rel=1e-8)


def test_a_branch_s_slope_at_rest_is_the_open_one_s() -> None:
    assert Branch(0, 1, 0.0, 0.04, 0.011, one_way=True).flow_t_h(0.0) == (0.0, pytest.approx(25.0))


@pytest.mark.parametrize("seed", SEEDS)
def test_balance_and_law_and_one_way_hold(seed: int) -> None:
    points, branches, demand = network(seed)
    solution = Network(points, branches).solve(demand)
    met = [drawn if fed else 0.0 for drawn, fed in zip(demand, solution.fed, strict=True)]
    assert imbalance_t_h(points, branches, met, solution.flows_t_h) < 1e-9
    for branch, flow in zip(branches, solution.flows_t_h, strict=True):
        driving = driving_bar(branch, solution.pressures_bar)
        if branch.one_way and flow == 0.0:
            assert driving <= 1e-12
        else:
            assert not branch.one_way or flow > 0.0
            assert law_bar(branch, flow) == pytest.approx(driving, abs=1e-9)


def test_more_demand_never_raises_a_pressure() -> None:
    compared = 0
    for seed in SEEDS:
        points, branches, demand = network(seed)
        solver = Network(points, branches)
        before = solver.solve(demand)
        for point in range(points):
            more = [drawn + (0.3 if p == point else 0.0) for p, drawn in enumerate(demand)]
            after = solver.solve(more)
            # A point that every valve has shut off is another test's.
            for p in flowing_points(branches, before.flows_t_h) & flowing_points(branches, after.flows_t_h):
                assert after.pressures_bar[p] <= before.pressures_bar[p] + 1e-9, (seed, point, p)
                compared += 1
    assert compared > 1000


def flows_by_scipy(points: int, branches: tuple[Branch, ...], demand: list[float]) -> list[float]:
    """The same equations written anew, and solved by SciPy: pressures at which every point is in balance.

    A branch's flow is the integral's slope of a convex function, so the minimum found first is near the root
    that is polished after it.
    """
    heads = np.array([branch.head_bar for branch in branches])
    linear = np.array([branch.linear_bar_h_t for branch in branches])
    square = np.array([branch.square_bar_h2_t2 for branch in branches])
    one_way = np.array([branch.one_way for branch in branches])
    incidence = np.zeros((points, len(branches)))
    for i, branch in enumerate(branches):
        if branch.tail != OUTSIDE:
            incidence[branch.tail, i] -= 1.0
        if branch.tip != OUTSIDE:
            incidence[branch.tip, i] += 1.0

    def flows(pressures: np.ndarray) -> np.ndarray:
        driving = heads - incidence.T @ pressures
        size = np.abs(driving)
        flow = np.where(
            square > 0.0,
            (np.sqrt(linear**2 + 4.0 * square * size) - linear) / np.where(square > 0.0, 2.0 * square, 1.0),
            size / linear,
        )
        return np.where(driving > 0.0, flow, np.where(one_way, 0.0, -flow))

    def valley(pressures: np.ndarray) -> float:
        # By parts: the integral of q d(driving) is driving q - (a q²/2 + k |q|³/3).
        q = flows(pressures)
        driving = heads - incidence.T @ pressures
        work = driving * q - linear * q * q / 2.0 - square * np.abs(q) ** 3 / 3.0
        return float(np.sum(work) + np.dot(demand, pressures))

    def lack(pressures: np.ndarray) -> np.ndarray:
        return np.asarray(demand - incidence @ flows(pressures))

    start = minimize(valley, np.full(points, heads.max()), jac=lack, method="BFGS", options={"gtol": 1e-9}).x
    polished = root(lack, start, method="lm", options={"xtol": 1e-14, "ftol": 1e-14}).x
    return [float(flow) for flow in flows(polished)]


@pytest.mark.parametrize("seed", SEEDS)
def test_flows_are_those_of_an_independent_solver(seed: int) -> None:
    points, branches, demand = network(seed)
    solution = Network(points, branches).solve(demand)
    met = [drawn if fed else 0.0 for drawn, fed in zip(demand, solution.fed, strict=True)]
    wanted = flows_by_scipy(points, branches, met)
    assert imbalance_t_h(points, branches, met, wanted) < 1e-7
    assert solution.flows_t_h == pytest.approx(wanted, abs=1e-5)


def test_the_same_network_gives_the_same_bits() -> None:
    for seed in range(40):
        points, branches, demand = network(seed)
        solver = Network(points, branches)
        first = solver.solve(demand)
        solver.solve([2.0 * drawn + 0.1 for drawn in demand])
        again, anew = solver.solve(demand), Network(points, branches).solve(demand)
        assert first == again == anew

"""Random pressure networks of the kind that an aircraft has, the same in every run."""

import random

from wetwing.physics.network import OUTSIDE, Branch

Net = tuple[int, tuple[Branch, ...], list[float]]


def network(seed: int) -> Net:
    """One to five points that hang together, with pumps, lines, check valves, outlets, and demands."""
    chance = random.Random(seed)
    points = chance.randint(1, 5)

    def resistance() -> tuple[float, float]:
        return 10.0 ** chance.uniform(-2.5, -0.3), chance.choice([0.0, 10.0 ** chance.uniform(-4.0, 0.2)])

    branches = []
    for _ in range(chance.randint(1, 6)):
        point, head_bar = chance.randrange(points), chance.uniform(0.02, 4.0)
        branches.append(Branch(OUTSIDE, point, head_bar, *resistance(), one_way=True))
    for point in range(1, points):
        ends = [point, chance.randrange(point)]
        chance.shuffle(ends)
        branches.append(Branch(ends[0], ends[1], 0.0, *resistance(), one_way=chance.random() < 0.3))
    for _ in range(chance.randint(0, 3) if points > 1 else 0):
        tail, tip = chance.sample(range(points), 2)
        branches.append(Branch(tail, tip, 0.0, *resistance(), one_way=chance.random() < 0.3))
    for _ in range(chance.randint(0, 2)):
        branches.append(Branch(chance.randrange(points), OUTSIDE, 0.0, *resistance(), one_way=True))
    return points, tuple(branches), [chance.choice([0.0, chance.uniform(0.1, 4.0)]) for _ in range(points)]


def imbalance_t_h(
    points: int, branches: tuple[Branch, ...], demand: list[float], flows: list[float]
) -> float:
    """What comes in less what leaves, at the point where it is worst, t/h."""
    left = [-drawn for drawn in demand]
    for branch, flow in zip(branches, flows, strict=True):
        if branch.tail != OUTSIDE:
            left[branch.tail] -= flow
        if branch.tip != OUTSIDE:
            left[branch.tip] += flow
    return max(abs(value) for value in left)

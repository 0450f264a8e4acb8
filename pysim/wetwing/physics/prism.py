"""An upright prism on a triangle, cut by a level: how much of it is below.

A prism's floor, or its roof, is a plane, given by the heights of its three corners, lowest first. What lies
between floor and roof is the floor's value less the roof's.
"""


def mean_under_m(level_m: float, corners_m: tuple[float, ...]) -> float:
    """Mean over a triangle of max(0, level - g), g a plane with these heights, lowest first, at its corners.

    Below the middle corner it is (h - g0)³ / (3 (g1 - g0)(g2 - g0)); above it, h less the mean of g and, by
    the same law, what the highest corner still lacks. Worked figure: corners at 0, 0 and 1 m, level 0.5 m:
    0.2083 m. Each factor is divided by itself, so that corners a hair apart don't underflow.
    """
    low, middle, high = corners_m
    if level_m <= low:
        return 0.0
    if level_m <= middle:
        over = level_m - low
        return over / 3.0 * (over / (middle - low)) * (over / (high - low))
    mean = level_m - (low + middle + high) / 3.0
    if level_m >= high:
        return mean
    lack = high - level_m
    return mean + lack / 3.0 * (lack / (high - middle)) * (lack / (high - low))


def share_under(level_m: float, corners_m: tuple[float, ...]) -> float:
    """Share of a triangle where a plane is under the level: the derivative of `mean_under_m` by the level.

    Worked figure: corners at 0, 0 and 1 m, level 0.5 m: 0.75.
    """
    low, middle, high = corners_m
    if level_m <= low:
        return 0.0
    if level_m >= high:
        return 1.0
    if level_m <= middle:
        over = level_m - low
        return (over / (middle - low)) * (over / (high - low))
    lack = high - level_m
    return 1.0 - (lack / (high - middle)) * (lack / (high - low))

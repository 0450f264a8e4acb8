"""A tank's outline on the plan: a simple polygon, checked, measured and cut.

Places are (x, y) in metres: x aft of the nose, y to the right of the centre line.
"""

from math import isfinite

Place = tuple[float, float]

LEAST_AREA_M2 = 1e-4
"""A square centimetre: an outline with less is a slip, not a tank."""

_ON_EDGE_M = 1e-9
"""A place this near to the edge is inside."""


def checked(outline_m: tuple[Place, ...]) -> tuple[Place, ...]:
    """Give the outline back, or raise ValueError where it bounds no one area: under three places, a place
    that is not finite, an edge that meets another, or no area.
    """
    count = len(outline_m)
    if count < 3:
        raise ValueError(f"outline: {count} places; at least 3 are needed")
    for x, y in outline_m:
        if not (isfinite(x) and isfinite(y)):
            raise ValueError(f"outline: place ({x}, {y}) is not finite")
    edges = [(outline_m[i], outline_m[(i + 1) % count]) for i in range(count)]
    for i in range(count):
        for j in range(i + 1, count):
            if _clash(edges[i], edges[j], neighbours=j == i + 1 or (i == 0 and j == count - 1)):
                raise ValueError(f"outline: edges {i + 1} and {j + 1} meet; an outline must not cross itself")
    area = abs(area_m2(outline_m))
    if area < LEAST_AREA_M2:
        raise ValueError(f"outline: area {area} m²; at least {LEAST_AREA_M2} is needed")
    return outline_m


def area_m2(outline_m: tuple[Place, ...]) -> float:
    """Area, negative where the outline runs the other way: A = sum of cross products / 2.

    Source: Gauss's area formula. Worked figure: a rectangle of 2 m by 3 m gives 6 m².
    """
    x0, y0 = outline_m[0]
    total = 0.0
    for i in range(1, len(outline_m) - 1):
        total += _cross(outline_m[i], outline_m[i + 1], x0, y0)
    return 0.5 * total


def centroid_m(outline_m: tuple[Place, ...]) -> Place:
    """Centre of the area: each triangle of a fan weighs its centre by its signed area.

    Worked figure: the triangle (0, 0), (3, 0), (0, 3) gives (1, 1).
    """
    x0, y0 = outline_m[0]
    total = along = across = 0.0
    for i in range(1, len(outline_m) - 1):
        (x1, y1), (x2, y2) = outline_m[i], outline_m[i + 1]
        cross = _cross(outline_m[i], outline_m[i + 1], x0, y0)
        total += cross
        along += cross * ((x1 - x0) + (x2 - x0))
        across += cross * ((y1 - y0) + (y2 - y0))
    return x0 + along / (3.0 * total), y0 + across / (3.0 * total)


def beside(outline_m: tuple[Place, ...], through: Place, towards: Place) -> tuple[Place, ...]:
    """The part of an outline on the side of the line through `through` to which `towards` points.

    Where an outline is cut in two, the pieces hang together by edges along the cut, which bound no area.
    Source: Sutherland and Hodgman, "Reentrant polygon clipping", Communications of the ACM 17 (1974).
    """
    ahead = [(x - through[0]) * towards[0] + (y - through[1]) * towards[1] for x, y in outline_m]
    kept: list[Place] = []
    for i, (x, y) in enumerate(outline_m):
        j = (i + 1) % len(outline_m)
        if ahead[i] >= 0.0:
            kept.append((x, y))
        if ahead[i] * ahead[j] < 0.0:
            share = ahead[i] / (ahead[i] - ahead[j])
            kept.append((x + share * (outline_m[j][0] - x), y + share * (outline_m[j][1] - y)))
    return tuple(kept)


def holds(outline_m: tuple[Place, ...], place: Place) -> bool:
    """True inside the outline and on its edge."""
    x, y = place
    inside = False
    for i, (x0, y0) in enumerate(outline_m):
        x1, y1 = outline_m[(i + 1) % len(outline_m)]
        along, across = x1 - x0, y1 - y0
        length = along * along + across * across
        share = min(1.0, max(0.0, ((x - x0) * along + (y - y0) * across) / length))
        off_x, off_y = x - x0 - share * along, y - y0 - share * across
        if off_x * off_x + off_y * off_y <= _ON_EDGE_M * _ON_EDGE_M:
            return True
        if (y0 > y) != (y1 > y) and x < x0 + along * (y - y0) / across:
            inside = not inside
    return inside


def _cross(a: Place, b: Place, x0: float, y0: float) -> float:
    return (a[0] - x0) * (b[1] - y0) - (b[0] - x0) * (a[1] - y0)


def _clash(one: tuple[Place, Place], two: tuple[Place, Place], neighbours: bool) -> bool:
    """True where two edges share a place that they should not; neighbours share their corner."""
    (a, b), (c, d) = one, two
    if a == b or c == d:
        return True
    if neighbours:
        # The corner is shared. They clash only where one runs back along the other.
        corner, first, second = (b, a, d) if b == c else (a, b, c)
        back = (first[0] - corner[0]) * (second[0] - corner[0]) + (first[1] - corner[1]) * (
            second[1] - corner[1]
        )
        return _cross(first, second, corner[0], corner[1]) == 0.0 and back > 0.0
    c_side, d_side = _cross(b, c, a[0], a[1]), _cross(b, d, a[0], a[1])
    a_side, b_side = _cross(d, a, c[0], c[1]), _cross(d, b, c[0], c[1])
    if c_side == d_side == 0.0:
        return _overlap(a, b, c, d)
    return c_side * d_side <= 0.0 and a_side * b_side <= 0.0


def _overlap(a: Place, b: Place, c: Place, d: Place) -> bool:
    """True where two edges on one line share a place."""
    return all(max(a[k], b[k]) >= min(c[k], d[k]) and max(c[k], d[k]) >= min(a[k], b[k]) for k in range(2))

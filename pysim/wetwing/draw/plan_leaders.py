"""The ways of the leader lines of the wing plan: from a label to its part, clear of the words of the others.

A line goes its plain way where no words stand in it. Else it goes round their corners, where that is not far;
and where there is no such way the plain one stays, under the words.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import sqrt

from wetwing.aircraft.model import Point
from wetwing.draw.frame import Box

type Way = tuple[Point, ...]

CLEAR = 3.0
"""How near a line may come to words that it does not belong to, px."""
LANE = 5.0
"""How far lines that run beside one another stay apart, px."""
BEND, CROSSING = 10.0, 25.0
"""What a bend costs, and another leader that is crossed or kept too close to, in px of length."""
MOST_BENDS = 3
MOST_DETOUR, MOST_MORE = 1.25, 60.0
"""How much longer than the plain way a way may be: this times as long, and so many px."""


@dataclass(frozen=True, slots=True)
class Wish:
    """A leader line that is to be drawn: its plain way, and other places at which it may leave its label."""

    plain: Way
    own: int  # which of all labels it belongs to
    starts: tuple[Point, ...] = ()


def meets(start: Point, end: Point, box: Box, gap: float) -> bool:
    """Say whether a straight line comes nearer to a box than `gap`."""
    enter, leave = 0.0, 1.0
    for at, to, low, high in (
        (start[0], end[0], box.left - gap, box.right + gap),
        (start[1], end[1], box.top - gap, box.bottom + gap),
    ):
        way = to - at
        if way == 0.0:
            if not low < at < high:
                return False
            continue
        first, last = sorted(((low - at) / way, (high - at) / way))
        enter, leave = max(enter, first), min(leave, last)
        if enter >= leave:
            return False
    return True


def stretches(way: Way) -> list[tuple[Point, Point]]:
    """Return the straight lines of a way."""
    return list(pairwise(way))


def length(way: Way) -> float:
    """Return how long a way is, px."""
    return sum(sqrt((x2 - x1) * (x2 - x1) + (y2 - y1) * (y2 - y1)) for (x1, y1), (x2, y2) in stretches(way))


def lane(
    x: float, top: float, bottom: float, side: int, boxes: tuple[Box, ...], least: float | None
) -> float:
    """Return the px x nearest to `x` and outboard of it at which a line comes down clear of words, and a lane
    outboard of `least`, where the line inboard of it comes down."""
    if least is not None and side * (x - least) < LANE:
        x = least + side * LANE
    while under := next((box for box in boxes if meets((x, top), (x, bottom), box, CLEAR)), None):
        x = (under.right if side > 0 else under.left) + side * (CLEAR + 1.0)
    return x


def ways(wishes: tuple[Wish, ...], boxes: tuple[Box, ...]) -> list[Way]:
    """Return the way of each leader, in the order of the wishes; `boxes` are those of all labels' words."""
    taken: list[Way] = []
    for wish in wishes:
        taken.append(_way(wish, boxes, tuple(taken)))
    return taken


@lru_cache(maxsize=2048)
def _way(wish: Wish, boxes: tuple[Box, ...], taken: tuple[Way, ...]) -> Way:
    """Return the way of one leader, where others are taken. (One drawing asks for what another has asked.)"""
    end = wish.plain[-1]
    others = tuple(box for index, box in enumerate(boxes) if index != wish.own)
    if not wish.starts or not any(
        meets(*line, box, CLEAR) for line in stretches(wish.plain) for box in others
    ):
        return wish.plain
    # What stands at the part itself can't be cleared.
    ahead = tuple(box for box in others if not meets(end, end, box, CLEAR))
    # A line begins at its own words, and must not run through them.
    words, within = boxes[wish.own], 2 * CLEAR
    own = Box(words.left + within, words.top + within, words.right - within, words.bottom - within)
    most = MOST_DETOUR * length(wish.plain) + MOST_MORE
    found = [
        way
        for start in (wish.plain[0], *wish.starts)
        for way in _round(start, end, (*ahead, own), MOST_BENDS)
        if length(way) < most
    ]
    return min(found, key=lambda way: _cost(way, taken), default=wish.plain)


def _round(start: Point, end: Point, boxes: tuple[Box, ...], bends: int) -> Iterator[Way]:
    """Ways clear of all boxes, round the corners of the first that is met."""
    met = next((box for box in boxes if meets(start, end, box, CLEAR)), None)
    if met is None:
        yield (start, end)
        return
    if not bends:
        return
    near = CLEAR + 1.0
    for x in (met.left - near, met.right + near, met.left - near - LANE, met.right + near + LANE):
        for y in (met.top - near, met.bottom + near):
            for first in _round(start, (x, y), boxes, bends - 1):
                for rest in _round((x, y), end, boxes, bends - len(first) + 1):
                    yield (*first, *rest[1:])


def _cost(way: Way, taken: tuple[Way, ...]) -> float:
    met = sum(
        _crosses(line, own) + _beside(line, own)
        for line in stretches(way)
        for other in taken
        for own in stretches(other)
    )
    return length(way) + BEND * len(way) + CROSSING * met


def _crosses(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Say whether two straight lines cross."""

    def side(line: tuple[Point, Point], place: Point) -> float:
        (x1, y1), (x2, y2) = line
        return (x2 - x1) * (place[1] - y1) - (y2 - y1) * (place[0] - x1)

    return side(one, other[0]) * side(one, other[1]) < 0.0 and side(other, one[0]) * side(other, one[1]) < 0.0


def _beside(one: tuple[Point, Point], other: tuple[Point, Point]) -> int:
    """Return at how many of four places along a line another one is nearer than a lane."""
    (x1, y1), (x2, y2) = one
    places = [(x1 + (x2 - x1) * share / 5, y1 + (y2 - y1) * share / 5) for share in range(1, 5)]
    return sum(_away(place, other) < LANE - 1.0 for place in places)


def _away(place: Point, line: tuple[Point, Point]) -> float:
    """Return how far a place is from a straight line between two points, px."""
    (x1, y1), (x2, y2) = line
    dx, dy = x2 - x1, y2 - y1
    square = dx * dx + dy * dy
    share = ((place[0] - x1) * dx + (place[1] - y1) * dy) / square if square else 0.0
    share = min(max(share, 0.0), 1.0)
    return length(((x1 + share * dx, y1 + share * dy), place))

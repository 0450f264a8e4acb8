"""From metres of the aircraft to pixels of a picture: layouts, the frame of one drawing, and the ways lines
take."""

from dataclasses import dataclass
from math import sqrt

from wetwing.aircraft.model import Aircraft, Point
from wetwing.draw.svg import number


@dataclass(frozen=True, slots=True)
class Layout:
    """Sizes of one layout, px; `ribbon` is the width of an engine's flow at take-off.

    Each is drawn for a width at which its letters are read at about their nominal size.
    """

    name: str
    width: float
    head: float
    foot: float
    symbol: float
    ribbon: float
    name_size: float
    mass_size: float
    small_size: float
    line: float
    # Tanks and engines alone are named: what a class reads from the last row without a step closer.
    brief: bool = False


WIDE = Layout("wide", 1080, 24, 14, 9.0, 19.0, 13.5, 21, 12, 16)
# Snug serves middle widths whole, and a telephone by its halves: see the panel's style.
SNUG = Layout("snug", 720, 16, 12, 7.5, 14.0, 12.5, 16.5, 11.5, 14.5)
LAYOUTS = {layout.name: layout for layout in (WIDE, SNUG)}
# For a class, whole on the screen: in half of a projector's width names and masses are read at 24 px.
HALL = Layout("hall", 620, 6, 2, 9.0, 17.0, 24.4, 27, 16.5, 20, brief=True)
# For a class that is to read every label: its least letters are read at 24 px on a projector of 1280 px.
LECTURE = Layout("lecture", 720, 18, 14, 8.5, 15.5, 15, 18.5, 14.3, 17.2)
MOST_FOR_A_LECTURE = 24


def panel_layouts(aircraft: Aircraft) -> tuple[Layout, ...]:
    """Return the layouts that a panel holds.

    An aircraft of many pumps and valves has more words than large letters leave room for: a class that asks
    for every label sees its snug picture, enlarged.
    """
    parts = len(aircraft.pumps) + len(aircraft.valves)
    return (WIDE, SNUG, HALL, *((LECTURE,) if parts <= MOST_FOR_A_LECTURE else ()))


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in px."""

    left: float
    top: float
    right: float
    bottom: float

    def touches(self, other: "Box", gap: float = 0.0) -> bool:
        """Say whether two boxes overlap or come closer than `gap`."""
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.top < other.bottom + gap
            and other.top < self.bottom + gap
        )


class Frame:
    """Places of one aircraft in one layout. Nose up: px x runs to the right wing tip, px y runs aft."""

    def __init__(self, aircraft: Aircraft, layout: Layout, more_head_px: float = 0.0) -> None:
        plan = aircraft.plan
        self.aircraft = aircraft
        self.layout = layout
        self.width = layout.width
        self.middle = layout.width / 2
        ends = [vent.at_m for vent in aircraft.vents] + [outlet.at_m for outlet in aircraft.outlets]
        half_span_m = max(abs(y) for _, y in (*plan.wing_m, *ends))
        self.scale = (self.middle - 14) / half_span_m
        ahead_m = min(x for x, _ in (*plan.nacelle_m, *plan.wing_m))
        # Room over the foremost line for the labels of the fuselage pumps: two lines and a gap.
        over_px = 0.0 if layout.brief else 2.6 * layout.line
        self.top_m = ahead_m - (layout.head + over_px + more_head_px) / self.scale

    def at(self, place: Point) -> Point:
        """Return the px of a place in metres (x aft of the nose, y to the right)."""
        return self.middle + place[1] * self.scale, (place[0] - self.top_m) * self.scale

    def leading_edge(self, across_px: float) -> float:
        """Return the px y of the wing's leading edge at a px x."""
        return min(self._edges(across_px))

    def trailing_edge(self, across_px: float) -> float:
        """Return the px y of the wing's trailing edge at a px x."""
        return max(self._edges(across_px))

    def _edges(self, across_px: float) -> list[float]:
        outline = self.aircraft.plan.wing_m
        spread = [y for _, y in outline]
        across_m = min(max(abs(across_px - self.middle) / self.scale, min(spread)), max(spread))
        crossings = []
        for (x1, y1), (x2, y2) in zip(outline, (*outline[1:], outline[0]), strict=True):
            if min(y1, y2) <= across_m <= max(y1, y2):
                share = 0.0 if y1 == y2 else (across_m - y1) / (y2 - y1)
                crossings.append(self.at((x1 + share * (x2 - x1), 0.0))[1])
        return crossings


def centroid(outline: tuple[Point, ...]) -> Point:
    """Return the centre of a polygon's area."""
    area = x_sum = y_sum = 0.0
    for (x1, y1), (x2, y2) in zip(outline, (*outline[1:], outline[0]), strict=True):
        cross = x1 * y2 - x2 * y1
        area += cross
        x_sum += (x1 + x2) * cross
        y_sum += (y1 + y2) * cross
    return x_sum / (3 * area), y_sum / (3 * area)


def towards(start: Point, end: Point, distance: float) -> Point:
    """Return the point `distance` from `start` on the way to `end`."""
    length = sqrt((end[0] - start[0]) * (end[0] - start[0]) + (end[1] - start[1]) * (end[1] - start[1]))
    if length == 0.0:
        return start
    share = distance / length
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def pushed_apart(fixed: Point, moved: Point, least: float) -> Point:
    """Return `moved`, set back from `fixed` so that the two are at least `least` apart."""
    dx, dy = moved[0] - fixed[0], moved[1] - fixed[1]
    return moved if dx * dx + dy * dy >= least * least else towards(fixed, moved, least)


def smooth(*places: Point) -> str:
    """Return the path of a smooth line through all `places`."""
    ends = (places[0], *places, places[-1])
    path = f"M{number(places[0][0])},{number(places[0][1])}"
    for before, start, end, after in zip(ends, ends[1:], ends[2:], ends[3:], strict=False):
        first = (start[0] + (end[0] - before[0]) / 6, start[1] + (end[1] - before[1]) / 6)
        second = (end[0] - (after[0] - start[0]) / 6, end[1] - (after[1] - start[1]) / 6)
        path += "C" + " ".join(f"{number(x)},{number(y)}" for x, y in (first, second, end))
    return path


def rounded(radius: float, *places: Point) -> str:
    """Return the path of straight lines through `places` with rounded corners."""
    path = f"M{number(places[0][0])},{number(places[0][1])}"
    for before, corner, after in zip(places, places[1:], places[2:], strict=False):
        into, out = towards(corner, before, radius), towards(corner, after, radius)
        path += f"L{number(into[0])},{number(into[1])}Q{number(corner[0])},{number(corner[1])} "
        path += f"{number(out[0])},{number(out[1])}"
    return path + f"L{number(places[-1][0])},{number(places[-1][1])}"


def bend(start: Point, end: Point) -> str:
    """Return the path of a line that leaves `start` sideways and comes to `end` sideways."""
    reach = (end[0] - start[0]) * 0.55
    first, second = (start[0] + reach, start[1]), (end[0] - reach, end[1])
    places = " ".join(f"{number(x)},{number(y)}" for x, y in (first, second, end))
    return f"M{number(start[0])},{number(start[1])}C{places}"

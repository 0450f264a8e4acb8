"""Symbols of parts. Every state has a shape of its own.

The shapes of a part stand side by side, and its attribute `data-now` says which one is seen.
"""

from math import sqrt

from wetwing.aircraft.model import (
    CheckValve,
    Engine,
    Filter,
    JetPump,
    Node,
    Outlet,
    Part,
    Point,
    Pump,
    Valve,
    Vent,
)
from wetwing.draw.frame import towards
from wetwing.draw.svg import Element, make, way

# Three blades a third of a turn apart, in a circle of radius 1: cosine and sine of 0, 120 and 240 degrees.
_THIRDS = ((1.0, 0.0), (-0.5, 0.866), (-0.5, -0.866))


def part_group(part: Part, *drawn: Element) -> Element:
    """Return the group of one part: its name for a pointer, its state for the style."""
    group = make("g", class_=f"part {part.kind}", data_part=part.name, data_now_of=part.name)
    return group.add(make("title", part.label), *drawn)


def _line(look: str, *steps: str | float) -> Element:
    return make("path", class_=look, d=way(*steps))


def _ring(look: str, place: Point, radius: float, when: str | None = None) -> Element:
    return make("circle", class_=look, cx=place[0], cy=place[1], r=radius, data_when=when)


def pump(part: Pump, place: Point, node: Point, radius: float) -> Element:
    """Draw a pump with the check valve of its outlet, which stands on the rim towards the node."""
    x, y = place
    reach = radius * 0.42
    blades: list[str | float] = []
    for c, s in _THIRDS:
        bulge = (radius * (0.55 * c - 0.4 * s), radius * (0.55 * s + 0.4 * c))
        blades += ["M", x, y, "q", *bulge, " ", radius * 0.72 * c, radius * 0.72 * s]
    drops = [_ring("drop shape", (x + reach * c, y + reach * s), radius * 0.16) for c, s in _THIRDS]
    return part_group(
        part,
        _ring("rim", place, radius),
        _line("blades shape", *blades),
        _line("bars shape", "M", x - reach, y - reach, "v", 2 * reach, "m", 2 * reach, 0, "v", -2 * reach),
        _line("cross shape", "M", x - reach, y - reach, "l", 2 * reach, 2 * reach, "m", 0, -2 * reach,
              "l", -2 * reach, 2 * reach),
        _line("dash shape", "M", x - reach, y, "h", 2 * reach),
        _line("slash shape", "M", x - reach, y + reach, "l", 2 * reach, -2 * reach),
        _back(place, node, radius),
        *drops,
        *_flap(place, node, radius),
    )  # fmt: skip


def _back(place: Point, node: Point, radius: float) -> Element:
    """Return an angle that points away from the node: fuel passes the pump backwards."""
    ux, uy = _direction(node, place)
    foot = (place[0] - ux * radius * 0.2, place[1] - uy * radius * 0.2)
    one, other = _across(foot, ux, uy, radius * 0.5)
    return _line("back shape", "M", *one, "L", *towards(place, node, -radius * 0.45), "L", *other)


def _flap(place: Point, node: Point, radius: float) -> list[Element]:
    """Return a check valve's flap, shut (across the outlet) and open (swung along it)."""
    hinge = towards(place, node, radius + 3.2)
    ux, uy = _direction(place, hinge)
    size = radius * 0.62
    near, far = _across(hinge, ux, uy, size)
    return [
        _line("flap-shut shape", "M", *near, "L", *far),
        _line("flap-open shape", "M", *near, "l", ux * size * 1.5, uy * size * 1.5),
    ]


def valve(part: Valve, place: Point, size: float, upright: bool = False) -> Element:
    """Draw a valve: two triangles point to point; shut with a bar across, open filled, moving broken."""
    x, y = place
    half, bar = size * 0.62, size * 0.95
    if upright:
        bow = _line(
            "bow",
            "M",
            x - half,
            y - size,
            "L",
            x + half,
            y + size,
            "H",
            x - half,
            "L",
            x + half,
            y - size,
            "Z",
        )
        return part_group(part, bow, _line("stop shape", "M", x - bar, y, "h", 2 * bar))
    bow = _line(
        "bow", "M", x - size, y - half, "L", x + size, y + half, "V", y - half, "L", x - size, y + half, "Z"
    )
    return part_group(part, bow, _line("stop shape", "M", x, y - bar, "v", 2 * bar))


def check_valve(part: CheckValve, place: Point, onward: Point, size: float) -> Element:
    """Draw a check valve in a line: a triangle that points where fuel may go, and the seat that it leaves."""
    ux, uy = _direction(place, onward)
    base = (place[0] - ux * size * 0.5, place[1] - uy * size * 0.5)
    left, right = _across(base, ux, uy, size * 0.7)
    drawn = [_line("bow", "M", *left, "L", *towards(place, onward, size * 0.7), "L", *right, "Z")]
    for look, reach in (("flap-shut", 0.8), ("flap-open", 1.35)):
        one, other = _across(towards(place, onward, size * reach), ux, uy, size * 0.7)
        drawn.append(_line(f"{look} shape", "M", *one, "L", *other))
    return part_group(part, *drawn)


def bypass(part: Pump, place: Point, node: Point, size: float) -> Element:
    """Draw a suction bypass: an open mouth in the tank, and its check valve's flap."""
    x, y = place
    foot = y + size * 0.7
    mouth = _line("mouth", "M", x - size, foot, "Q", x, y - size * 1.3, " ", x + size, foot)
    return part_group(part, mouth, *_flap(place, node, size * 0.9))


def jet_pump(part: JetPump, place: Point, size: float) -> Element:
    """Draw a jet pump: a throat, narrow in the middle."""
    x, y = place
    left, right, top, foot = x - size * 1.3, x + size * 1.3, y - size * 0.7, y + size * 0.7
    throat = _line(
        "bow", "M", left, top, "Q", x, y, " ", right, top, "V", foot, "Q", x, y, " ", left, foot, "Z"
    )
    return part_group(part, throat)


def vent(part: Vent, place: Point, size: float) -> Element:
    """Draw a vent outlet: its foot is full while its surge space holds fuel, drops fall while it spills."""
    x, y = place
    mouth = _line(
        "mouth", "M", x - size * 0.7, y - size * 0.5, "h", size * 1.4, "l", -size * 0.7, size * 1.1, "Z"
    )
    drops = [
        _ring("drop shape", (x + (step - 1) * 4.5, y + size + 5 + (step % 2) * 4), 2.1) for step in range(3)
    ]
    pool = _line("pool shape", "M", x - size * 0.4, y, "h", size * 0.8, "l", -size * 0.4, size * 0.6, "Z")
    return part_group(part, mouth, pool, *drops)


def outlet(part: Outlet, place: Point, size: float) -> Element:
    """Draw an outlet: an open pipe's end, with drops while fuel leaves."""
    x, y = place
    mouth = _line(
        "mouth", "M", x - size * 0.6, y - size * 0.6, "v", size * 0.9, "m", size * 1.2, 0, "v", -size * 0.9
    )
    drops = [_ring("drop shape", (x + (step - 1) * 4.0, y + size + (step % 2) * 4), 2.1) for step in range(3)]
    return part_group(part, mouth, *drops)


def filter_(part: Filter, place: Point, onward: Point, size: float) -> Element:
    """Draw a filter in its line: a frame with a mesh; beside it, the way round when it is bypassed."""
    x, y = place
    ux, uy = _direction(place, onward)
    near, far = (x - ux * size * 1.7, y - uy * size * 1.7), (x + ux * size * 1.7, y + uy * size * 1.7)
    beside = (x - uy * size * 2.6, y + ux * size * 2.6)
    return part_group(
        part,
        _line("case", "M", x - size, y - size, "h", 2 * size, "v", 2 * size, "h", -2 * size, "Z"),
        _line("mesh", "M", x - size, y, "h", 2 * size, "M", x, y - size, "v", 2 * size),
        _line("round shape", "M", *near, "Q", *beside, " ", *far),
    )


def leak(part: Part, place: Point) -> Element:
    """Draw the drops of a leak, seen while the part has one."""
    x, y = place
    drops = make("g", class_="leak", data_when=f"{part.name}~leak", data_for=part.name)
    for dx, dy, size in ((0.0, 0.0, 4.6), (6.5, 6.0, 3.4)):
        left, right, tip, foot = x + dx - size, x + dx + size, y + dy - 1.7 * size, y + dy + size
        drops.add(
            _line(
                *("drip", "M", x + dx, tip, "Q", right, y + dy, " ", right, y + dy + 0.2 * size),
                *("Q", right, foot, " ", x + dx, foot, "Q", left, foot, " ", left, y + dy + 0.2 * size),
                *("Q", left, y + dy, " ", x + dx, tip, "Z"),
            )
        )
    return drops


def node(part: Node, place: Point, size: float) -> Element:
    """Draw a junction of the feed network, larger while it is under pressure."""
    # The height of fuel in a tank alone is no pressure to speak of.
    pressed = f"{part.name}.pressure_bar>0.15"
    return part_group(part, _ring("joint", place, size), _ring("joint pressed", place, size * 1.25, pressed))


def supply(part: Pump, place: Point, size: float) -> Element:
    """Draw the coupling of the refuelling hose: a ring with a plus in it."""
    x, y = place
    plus = _line("cup", "M", x - size * 0.5, y, "h", size, "M", x, y - size * 0.5, "v", size)
    return part_group(part, _ring("rim", place, size), plus)


def small_engine(part: Engine, place: Point, size: float) -> Element:
    """Draw the APU: a short body that tapers aft."""
    x, y = place
    case = _line(
        "case", "M", x - size, y - size, "h", 2 * size, "l", -size * 0.4, size * 2, "h", -size * 1.2, "Z"
    )
    return part_group(part, case)


def engine(part: Engine, place: Point, size: float) -> Element:
    """Draw an engine's own mark in its nacelle: a ring that fills when it runs."""
    return part_group(part, _ring("case", place, size))


def _direction(start: Point, end: Point) -> Point:
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = sqrt(dx * dx + dy * dy)
    return dx / length, dy / length


def _across(place: Point, ux: float, uy: float, size: float) -> tuple[Point, Point]:
    """Return the ends of a bar of half-length `size` through `place`, across the direction (ux, uy)."""
    return (place[0] - uy * size, place[1] + ux * size), (place[0] + uy * size, place[1] - ux * size)

"""Tanks as their true outlines, wetted as far as the fuel reaches; level sensors; vents; the ways of an
overflow."""

from math import sqrt

from wetwing.aircraft.model import Probe, Sensor, Tank
from wetwing.draw.frame import Frame, centroid, smooth, towards
from wetwing.draw.svg import Element, make, number, points


def tank(frame: Frame, part: Tank, key: str) -> Element:
    """Draw one tank with its fuel. The fuel is a rectangle, clipped by the tank's outline."""
    outline = [frame.at(place) for place in part.outline_m]
    corners = points(*outline)
    clip = f"{key}-{part.name}"
    left, right = min(x for x, _ in outline), max(x for x, _ in outline)
    top, bottom = min(y for _, y in outline), max(y for _, y in outline)
    fill = make(
        "rect", class_="fuel", data_fill=f"{part.name}.fill", data_shape="wedge" if _slopes(part) else "box",
        clip_path=f"url(#{clip})", x=left, y=top, width=0, height=0,
    )  # fmt: skip
    if _slopes(part):
        inboard_first = abs(left - frame.middle) < abs(right - frame.middle)
        fill.attributes["fill"] = f"url(#{key}-{'outward' if inboard_first else 'inward'})"
        fill.attributes |= {
            "data-from": number(left if inboard_first else right),
            "height": number(bottom - top),
        }
        fill.attributes["data-length"] = number(right - left if inboard_first else left - right)
    else:
        fill.attributes["fill"] = f"url(#{key}-upward)"
        fill.attributes |= {"data-from": number(bottom), "data-length": number(top - bottom)}
        fill.attributes["width"] = number(right - left)
    # The level of an earlier flight: an outline over the fuel, seen only where the two levels differ.
    was = make("rect", class_="ww-was", display="none")
    was.attributes |= {name: value for name, value in fill.attributes.items() if name not in _OF_FUEL}
    was.attributes |= {"data-was": f"{part.name}.actual_kg", "data-was-fill": fill.attributes["data-fill"]}
    return make("g", class_="part tank", data_part=part.name, data_now_of=part.name).add(
        make("title", part.label),
        make("clipPath", make("polygon", points=corners), id=clip),
        make("polygon", class_="room", points=corners),
        fill,
        was,
        make("polygon", class_="shell", points=corners),
    )


_OF_FUEL = ("class", "fill", "data-fill")


def _slopes(part: Tank) -> bool:
    """Say whether a tank's floor rises outboard, so that its fuel draws back towards the root."""
    return part.dihedral_deg > 0.0


def gradients(key: str) -> Element:
    """Return the shading of fuel: deep where it is deepest, paler towards the edge of the wetted part."""
    ways = {"outward": (0, 0, 1, 0), "inward": (1, 0, 0, 0), "upward": (0, 1, 0, 0)}
    shades = make("defs")
    for name, (x1, y1, x2, y2) in ways.items():
        stops = [make("stop", class_=f"fuel-{end}", offset=at) for end, at in (("deep", 0), ("thin", 1))]
        shades.add(make("linearGradient", *stops, id=f"{key}-{name}", x1=x1, y1=y1, x2=x2, y2=y2))
    return shades


def sensor(frame: Frame, part: Sensor) -> Element:
    """Draw a level sensor where the fuel's edge stands when it becomes wet."""
    owner = next(tank for tank in frame.aircraft.tanks if tank.name == part.tank)
    share = part.wet_at_l / owner.capacity_l
    outline = [frame.at(place) for place in owner.outline_m]
    if _slopes(owner):
        across = sorted((x for x, _ in outline), key=lambda x: abs(x - frame.middle))
        x = across[0] + (across[-1] - across[0]) * sqrt(share)
        crossings = _crossings(outline, x)
        y = min(crossings) + (max(crossings) - min(crossings)) * 0.72
    else:
        bottom, top = max(y for _, y in outline), min(y for _, y in outline)
        x = max(x for x, _ in outline) - 9
        y = bottom + (top - bottom) * share
    return make("g", class_="part sensor", data_part=part.name, data_now_of=part.name).add(
        make("title", part.label),
        make("path", d=f"M{number(x)},{number(y - 4)}l3.4,4l-3.4,4l-3.4,-4Z"),
    )


def leak_place(frame: Frame, part: Tank) -> tuple[float, float]:
    """Return where the drops of a leak stand: at the tank's aft edge."""
    outline = [frame.at(place) for place in part.outline_m]
    x = frame.at(centroid(part.outline_m))[0]
    crossings = _crossings(outline, x)
    return x, max(crossings) - 3.0


def probe(frame: Frame, part: Probe) -> Element:
    """Draw a gauging probe as a short rod; broken by a gap while it gives no signal."""
    x, y = frame.at(part.at_m)
    return make("g", class_="part probe", data_part=part.name, data_now_of=part.name).add(
        make("title", part.label),
        make("path", d=f"M{number(x)},{number(y - 3.5)}v7"),
    )


def _crossings(outline: list[tuple[float, float]], x: float) -> list[float]:
    found = []
    for (x1, y1), (x2, y2) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if min(x1, x2) <= x <= max(x1, x2) and x1 != x2:
            found.append(y1 + (y2 - y1) * (x - x1) / (x2 - x1))
    return found


def overflow(frame: Frame, part: Tank) -> Element:
    """Draw the way that fuel takes when this tank overflows: seen only while it spills."""
    vents = {vent.name: vent.at_m for vent in frame.aircraft.vents}
    outline = [frame.at(place) for place in part.outline_m]
    middle = frame.at(centroid(part.outline_m))
    if part.overflow.to in vents:
        end = frame.at(vents[part.overflow.to])
        # A line that leaves a tank for a vent runs along its aft edge.
        ahead, aft = min(y for _, y in outline), max(y for _, y in outline)
        start = (middle[0], middle[1] + (aft - ahead) * 0.2)
        via = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2 + 10)
        way = smooth(start, via, end)
    else:
        target = next(tank for tank in frame.aircraft.tanks if tank.name == part.overflow.to)
        goal = frame.at(centroid(target.outline_m))
        edge = min(outline, key=lambda place: abs(place[0] - goal[0]))
        across = min(abs(goal[0] - edge[0]), 40.0)
        start = towards((edge[0], edge[1] + 8), middle, 22)
        way = smooth(start, towards(start, goal, across + 22))
    return make("path", class_="spill", d=way, data_when=f"{part.name}=spilling")

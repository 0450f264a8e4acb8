"""The aircraft itself, from above: fuselage, wings, nacelles, and the slats and flaps where it has such
controls."""

from wetwing.aircraft.model import Point
from wetwing.draw.frame import Frame
from wetwing.draw.svg import Element, make, number, points, way

SLAT_GAP_M = 0.42
FLAP_GAP_M = 0.46


def body(frame: Frame, key: str, height: float) -> Element:
    """Draw the body. `key` makes the names of gradients unique in a page."""
    fade = make(
        "linearGradient",
        make("stop", offset=0, stop_color="#fff", stop_opacity=0),
        make("stop", offset=0.16, stop_color="#fff"),
        make("stop", offset=0.86, stop_color="#fff"),
        make("stop", offset=1, stop_color="#fff", stop_opacity=0),
        id=f"{key}-fade", gradientUnits="userSpaceOnUse", x1=0, y1=0, x2=0, y2=height,
    )  # fmt: skip
    mask = make(
        "mask",
        make("rect", width=frame.width, height=height, fill=f"url(#{key}-fade)"),
        id=f"{key}-ends", maskUnits="userSpaceOnUse", x=0, y=0, width=frame.width, height=height,
    )  # fmt: skip
    hull = make("linearGradient", id=f"{key}-hull", x1=0, y1=0, x2=1, y2=0)
    for look, offset in (("edge", 0), ("crown", 0.5), ("edge", 1)):
        hull.add(make("stop", class_=f"hull-{look}", offset=offset))
    group = make("g", class_="body", aria_hidden="true").add(make("defs", fade, mask, hull))
    for side in (-1, 1):
        group.add(make("polygon", class_="wing", points=_polygon(frame, frame.aircraft.plan.wing_m, side)))
        group.add(*_movables(frame, side))
    tube = make(
        "path", class_="fuselage", d=_fuselage(frame), fill=f"url(#{key}-hull)", mask=f"url(#{key}-ends)"
    )
    group.add(tube)
    group.add(*_nacelles(frame))
    return group


def nacelle_boxes(frame: Frame) -> dict[str, tuple[float, float, float, float]]:
    """Return each propelling engine's nacelle as (left, top, right, bottom), px."""
    boxes = {}
    for name, outline in _nacelle_outlines(frame):
        xs, ys = [x for x, _ in outline], [y for _, y in outline]
        boxes[name] = (min(xs), min(ys), max(xs), max(ys))
    return boxes


def _polygon(frame: Frame, outline: tuple[Point, ...], side: int) -> str:
    return points(*(frame.at((x, side * y)) for x, y in outline))


def _fuselage(frame: Frame) -> str:
    half = frame.aircraft.plan.fuselage_m
    # The tail goes on narrowing out of the picture.
    (before_x, before_y), (last_x, last_y) = half[-2], half[-1]
    slope = (last_y - before_y) / (last_x - before_x)
    half = (*half, (last_x + 4.0, last_y + 4.0 * slope))
    outline = [frame.at((x, y)) for x, y in half] + [frame.at((x, -y)) for x, y in reversed(half)]
    return "M" + "L".join(f"{number(x)},{number(y)}" for x, y in outline) + "Z"


def _nacelle_outlines(frame: Frame) -> list[tuple[str, list[Point]]]:
    plan = frame.aircraft.plan
    middle_y = (min(y for _, y in plan.nacelle_m) + max(y for _, y in plan.nacelle_m)) / 2
    first_x = min((engine.at_m[0] for engine in frame.aircraft.engines), default=0.0)
    outlines = []
    for engine in frame.aircraft.engines:
        x_m, y_m = engine.at_m
        side = -1 if y_m < 0 else 1
        outline = [frame.at((x + x_m - first_x, y_m + side * (y - middle_y))) for x, y in plan.nacelle_m]
        outlines.append((engine.name, outline))
    return outlines


def _nacelles(frame: Frame) -> list[Element]:
    drawn = []
    for _, outline in _nacelle_outlines(frame):
        drawn.append(make("path", class_="nacelle", d=_softened(outline)))
        xs, ys = [x for x, _ in outline], [y for _, y in outline]
        left, right, top, long = min(xs), max(xs), min(ys), max(ys) - min(ys)
        # The lip of the intake.
        edge, middle = top + 0.15 * long, (left + right) / 2
        lip = way("M", left + 2, edge, "Q", middle, edge - 0.07 * long, " ", right - 2, edge)
        drawn.append(make("path", class_="lip", d=lip))
    return drawn


def _softened(outline: list[Point]) -> str:
    """Return a closed path with every corner rounded off by a third of its sides."""
    path = ""
    count = len(outline)
    for index, corner in enumerate(outline):
        before, after = outline[index - 1], outline[(index + 1) % count]
        into = (corner[0] + (before[0] - corner[0]) / 3, corner[1] + (before[1] - corner[1]) / 3)
        out = (corner[0] + (after[0] - corner[0]) / 3, corner[1] + (after[1] - corner[1]) / 3)
        path += f"{'L' if path else 'M'}{number(into[0])},{number(into[1])}"
        path += f"Q{number(corner[0])},{number(corner[1])} {number(out[0])},{number(out[1])}"
    return path + "Z"


def _movables(frame: Frame, side: int) -> list[Element]:
    controls = {control.name for control in frame.aircraft.controls}
    plan = frame.aircraft.plan
    nacelle_right = max((y for _, y in plan.nacelle_m), default=0.0)
    tip = max(y for _, y in plan.wing_m)
    drawn = []
    if "slats" in controls:
        span = (nacelle_right + 0.5, tip - 0.7)
        drawn.append(_strip(frame, side, span, frame.leading_edge, -SLAT_GAP_M, "slats"))
    if "flaps" in controls:
        fuselage = min(y for _, y in plan.wing_m)
        span = (fuselage + 0.5, fuselage + (tip - fuselage) * 0.62)
        drawn.append(_strip(frame, side, span, frame.trailing_edge, FLAP_GAP_M, "flaps"))
    return drawn


def _strip(frame: Frame, side: int, span: Point, edge: object, gap_m: float, control: str) -> Element:
    assert callable(edge)
    across = [span[0] + (span[1] - span[0]) * share / 12 for share in range(13)]
    places = []
    for y_m in across:
        x_px = frame.middle + side * y_m * frame.scale
        places.append((x_px, edge(x_px) + gap_m * frame.scale))
    return make("polyline", class_="movable", points=points(*places), data_when=f"{control}=out")

"""Where the labels of the class view's wing plan stand: tanks and engines alone, in large letters.

The wing tanks of a side are named beside each other under the wing, clear of what stands on the fuselage
between the two sides; engines outboard of their nacelles; fuselage tanks ahead of the wing, or beside
themselves aft of it.
"""

from collections.abc import Iterator, Mapping

from wetwing.aircraft.model import Point, Tank
from wetwing.draw.frame import Box, Frame, centroid
from wetwing.draw.lettering import BROAD, Label
from wetwing.draw.plan_body import FLAP_GAP_M, SLAT_GAP_M
from wetwing.draw.plan_lines import Lines
from wetwing.draw.plan_words import Wording

GAP = 7.0
CLEAR = 5.0
"""How far words stay from a symbol, px."""


def apart(
    spots: list[float], halves: list[float], gap: float, most: float, least: float = 0.0
) -> list[float]:
    """Return places from `least` to `most` near `spots`, in their order, at which things of these half widths
    stand clear of one another: first moved outwards, then inwards where there is no more room."""
    outwards: list[float] = []
    start = least + gap
    for spot, half in zip(spots, halves, strict=True):
        outwards.append(max(spot, start + half))
        start = outwards[-1] + half + gap
    inwards: list[float] = []
    limit = most
    for spot, half in zip(reversed(outwards), reversed(halves), strict=True):
        inwards.append(min(spot, limit - half))
        limit = inwards[-1] - half - gap
    return inwards[::-1]


def half_px(label: Label) -> float:
    """Return half of the room that a label needs across, px. Figures have what a broad font needs already."""
    broad = [1.0 if any(piece.hooks for piece in line.words) else BROAD for line in label.lines]
    return max(share * line.width() for share, line in zip(broad, label.lines, strict=True)) / 2


def brief_labels(frame: Frame, lines: Lines, words: Wording, nacelles: Mapping[str, Box]) -> list[Label]:
    """Return the labels of a class view's plan, each with its place."""
    labels = _wing_tanks(frame, lines, words)
    for tank in frame.aircraft.tanks:
        if tank.side == "centre":
            labels.append(_fuselage_tank(frame, words, tank, labels))
    return [*labels, *_engines(frame, words, nacelles)]


def _wing_tanks(frame: Frame, lines: Lines, words: Wording) -> list[Label]:
    """Name the wing tanks. Where there is no room for names in one line, the outermost take two."""
    for folded in range(len(frame.aircraft.tanks) + 1):
        sides = [_side_of(frame, lines, words, side, folded) for side in (-1, 1)]
        if all(fits for fits, _ in sides):
            break
    return [label for _, labels in sides for label in labels]


def _side_of(frame: Frame, lines: Lines, words: Wording, side: int, folded: int) -> tuple[bool, list[Label]]:
    """Return whether the wing tanks of a side have room beside each other, with so many names folded, and
    their labels."""
    middle = frame.middle
    spot = {
        tank.name: side * (frame.at(centroid(tank.outline_m))[0] - middle) for tank in frame.aircraft.tanks
    }
    own = [tank for tank in frame.aircraft.tanks if tank.side != "centre" and spot[tank.name] > 0]
    own.sort(key=lambda tank: spot[tank.name])
    labels = [words.brief_tank(tank, len(own) - index <= folded) for index, tank in enumerate(own)]
    halves = [half_px(label) for label in labels]
    spots = [spot[tank.name] for tank in own]
    inner = 0.0
    # Where a label stands down the picture hangs on where it stands across, and so does what it has to clear.
    for _ in range(2):
        for label, away in zip(labels, apart(spots, halves, CLEAR, middle, inner), strict=True):
            label.place = (middle + side * away, _under_the_wing(frame, middle + side * away, label.width()))
        inner = max((_reach(frame, place, side, labels[:1]) for place in _symbols(lines)), default=0.0)
    placed = [side * (label.place[0] - middle) for label in labels]
    return not placed or placed[0] - halves[0] >= inner, labels


def _under_the_wing(frame: Frame, x: float, width: float) -> float:
    edge = max(frame.trailing_edge(x + step * width / 4) for step in range(-2, 3))
    # Clear of the flaps, whether they are out or in: the letters begin a little under the top of their line.
    return edge + FLAP_GAP_M * frame.scale - 2


def _symbols(lines: Lines) -> Iterator[Point]:
    """Return the places of all symbols that may stand aft of the wing."""
    aircraft, at = lines.frame.aircraft, lines.frame.at
    yield from lines.valves.values()
    yield from (lines.pump_place(pump) for pump in aircraft.pumps)
    yield from (at(apu.at_m) for apu in aircraft.apus)
    yield from (at(vent.at_m) for vent in aircraft.vents)
    yield from (at(flap.at_m) for flap in aircraft.check_valves)


def _reach(frame: Frame, place: Point, side: int, labels: list[Label]) -> float:
    """Return how far a symbol on the fuselage reaches into a side beside its innermost label, px."""
    symbol, (x, y) = frame.layout.symbol, place
    across = side * (x - frame.middle)
    for label in labels:
        box = label.box()
        beside = box.top - symbol - CLEAR < y < box.bottom + symbol + CLEAR
        if beside and across < side * (label.place[0] - frame.middle):
            return max(0.0, across + symbol + CLEAR)
    return 0.0


def _fuselage_tank(frame: Frame, words: Wording, tank: Tank, others: list[Label]) -> Label:
    """Name a tank over itself, or beside itself where it lies aft of the wing."""
    label = words.brief_tank(tank)
    places = [frame.at(place) for place in tank.outline_m]
    top, right = min(y for _, y in places), max(x for x, _ in places)
    if top < frame.trailing_edge(frame.middle):
        label.place = (frame.middle, top - GAP - label.height())
        return label
    label.anchor, label.place = "start", (right + GAP + 1, top)
    while under := next((own for own in others if own.box().touches(label.box(), 2)), None):
        label.place = (right + GAP + 1, under.box().bottom + 3)
    return label


def _engines(frame: Frame, words: Wording, nacelles: Mapping[str, Box]) -> Iterator[Label]:
    """Name each engine outboard of its nacelle, over the leading edge."""
    for engine in frame.aircraft.engines:
        box, label = nacelles[engine.name], words.brief_engine(engine)
        side = 1 if box.left + box.right > 2 * frame.middle else -1
        label.anchor = "start" if side > 0 else "end"
        x = (box.right if side > 0 else box.left) + side * 8
        edge = min(frame.leading_edge(x + side * label.width() * share) for share in (0.0, 0.5, 1.0))
        # Clear of the slats, whether they are out or in.
        bottom = min(box.bottom, edge - SLAT_GAP_M * frame.scale - 4)
        label.place = (x, bottom - label.height())
        yield label

"""The block `sketch`: a line to be drawn before it is seen; the flight's own line comes with the page.

The page holds the flight's line between two moments, thinned to what a drawing can show, and the bends of
that line with the change that made each, so that a wrong sketch can be told where it parts from the flight,
and why. The flight is the page's own, or the same with edits.
"""

import json
import re
from dataclasses import asdict, dataclass
from html import escape
from itertools import pairwise

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft
from wetwing.draw.panel_facts import tank_flows
from wetwing.flight.phrases import words
from wetwing.flight.record import Flight
from wetwing.teach.claims import Claims
from wetwing.teach.compare import first_difference
from wetwing.teach.values import Value
from wetwing.teach.words import clock
from wetwing_tools.site import html
from wetwing_tools.site.asking import fieldset, question
from wetwing_tools.site.cases import edited
from wetwing_tools.site.notation import Block
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.yaml_lines import Mapping, Text

Points = list[tuple[float, float]]

FIELDS = (4, 6, 8)
"""How many numbers stand for a sketch: they divide the drawn line into equal pieces."""

SLACK = 1.0 / 24.0
"""The share of the time span by which a bend may be drawn too early or too late."""

WITHIN = 0.1
THIN = 0.002
BEND = 0.02
_SHORTEST_S = 10.0
_NOUNS = {
    "gauged_kg": "gauge",
    "actual_kg": "fuel in it",
    "volume_l": "fuel in it",
    "rate_kg_h": "gain or loss",
    "air_share": "share of air in the fuel",
    "fill": "share that is filled",
    "metered_kg_h": "flow by its meter",
    "total.gauged_kg": "The gauges' total",
    "total.discrepancy_kg": "Fuel that use does not explain",
    "total.imbalance_kg": "Right wing less left wing, by the gauges",
    "flight.cg_percent": "Centre of gravity, share of the chord",
    "flight.gross_kg": "Gross weight",
}
"""What a quantity is called where its name in code does not say it: by its kind, or whole."""
_RANGE = re.compile(r"(-?[\d,.]+) to (-?[\d,.]+)(?: (\S+))?")
_AMOUNT = re.compile(r"([\d,.]+)(?: (\S+))?")


@dataclass(frozen=True, slots=True)
class Bend:
    """A bend of the flight's line, and the change that made it; `edits` are those of the flight."""

    time_s: float
    part: str
    label: str
    to: str
    sentence: str
    href: str
    edits: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """What the script needs: the flight's line, the sheet to draw on, and how near is near enough."""

    label: str
    unit: str
    from_s: float
    to_s: float
    least: float
    most: float
    within: float
    slack_s: float
    fields: int
    line: Points
    bends: list[Bend]


def sketch(maker: PageMaker, block: Block) -> str:
    """A sheet to draw on, and the flight's own line in words and figures."""
    allowed = ("with", "quantity", "from", "to", "range", "within", "fields", "because")
    node, name = question(maker, block, allowed)
    claims = _claims(maker, node)
    because = node.optional("because")
    why = _because(maker, because, claims) if because else ""
    sheet = _sheet(claims, node)
    maker.checked += 1
    data = escape(json.dumps(asdict(sheet), ensure_ascii=False, separators=(",", ":")))
    inside = ['<div class="ww-sketch-slot"></div>']
    answer = [
        *([f'<p markdown="span">{why}</p>'] if why else []),
        '<ul class="ww-sketch-right" markdown="block">',
        *(f'<li markdown="span">{_told(maker, bend, claims)}</li>' for bend in sheet.bends),
        "</ul>",
        _table(sheet),
    ]
    made = fieldset(maker, node, "sketch", name, inside, answer)
    return made.replace('data-ww-kind="sketch"', f'data-ww-kind="sketch" data-ww-sketch="{data}"', 1)


def _claims(maker: PageMaker, node: Mapping) -> Claims:
    """What judges the question: the page's own flight, or that with the edits of `with`. Raises Mistake."""
    wanted = node.optional("with")
    if wanted is None:
        return maker.claims
    place = node.place(wanted.line)
    claims = edited(maker, str(wanted), place)
    if first_difference(maker.claims.timeline.flight, claims.timeline.flight) is None:
        raise Mistake(place, f"'{wanted}' changes nothing in the flight", "an edit that matters")
    return claims


def _named(quantity: str, aircraft: Aircraft) -> str:
    """What the line is called: `Main left, temperature`."""
    subject, _, attribute = quantity.partition(".")
    if subject in aircraft.parts:
        return f"{aircraft.parts[subject].label}, {_NOUNS.get(attribute, words(attribute).lower())}"
    return _NOUNS.get(quantity, words(attribute))


def _because(maker: PageMaker, text: Text, claims: Claims) -> str:
    return maker.prose(str(text).strip(), text.line, claims)


def _sheet(claims: Claims, node: Mapping) -> Sheet:
    flights, flight = claims.flights, claims.timeline.flight
    quantity = node.text("quantity")
    units = flights.quantities
    if quantity not in units:
        raise unknown(node.place(quantity.line), "quantity", str(quantity), units)
    start, end = node.text("from"), node.text("to")
    from_s = claims.moments.find(start, node.place(start.line))
    to_s = claims.moments.find(end, node.place(end.line))
    if to_s - from_s < _SHORTEST_S:
        raise Mistake(
            node.place(end.line),
            f"from {clock(from_s)} to {clock(to_s)}",
            f"a later moment, {_SHORTEST_S:g} s after the first or more",
        )
    unit = units[quantity]
    points = line_of(flight, quantity, from_s, to_s)
    least, most = _range(node, unit, points)
    return Sheet(
        label=_named(str(quantity), flights.aircraft),
        unit=unit,
        from_s=round(from_s, 3),
        to_s=round(to_s, 3),
        least=least,
        most=most,
        within=_within(node, unit, least, most),
        slack_s=round((to_s - from_s) * SLACK, 1),
        fields=_fields(node),
        line=[(round(t, 3), round(v, 3)) for t, v in thinned(points, (most - least) * THIN)],
        bends=_bends(claims, str(quantity), points, (most - least) * BEND),
    )


def line_of(flight: Flight, quantity: str, from_s: float, to_s: float) -> Points:
    """The flight's line between two times: both ends, and every keyframe between; a jump has two points."""
    column = flight.quantities[quantity]
    inside = [(t, v) for t, v in zip(flight.time_s, column, strict=True) if from_s < t < to_s]
    return [(from_s, flight.quantity(quantity, from_s)), *inside, (to_s, flight.quantity(quantity, to_s))]


def thinned(points: Points, within: float) -> Points:
    """Leave out the points that lie within so much of the straight line between those that are kept."""
    if len(points) < 3:
        return points
    (first_s, first), (last_s, last) = points[0], points[-1]
    width = last_s - first_s

    def off(point: tuple[float, float]) -> float:
        share = (point[0] - first_s) / width if width > 0.0 else 0.0
        return abs(point[1] - first - (last - first) * share)

    worst = max(range(1, len(points) - 1), key=lambda at: off(points[at]))
    if off(points[worst]) <= within:
        return [points[0], points[-1]]
    return thinned(points[: worst + 1], within)[:-1] + thinned(points[worst:], within)


def _range(node: Mapping, unit: str, points: Points) -> tuple[float, float]:
    text = node.text("range")
    place = node.place(text.line)
    found = _RANGE.fullmatch(str(text).strip())
    form = f"such as: 0 to 8000 {unit}".rstrip()
    if not found or (found[3] or "") != unit:
        raise Mistake(place, f"range: {text}", form)
    least, most = (_number(found[at], place, form) for at in (1, 2))
    low, high = min(value for _, value in points), max(value for _, value in points)
    if low < least or high > most:
        raise Mistake(
            place,
            f"range: {text}, and the flight goes from {low:,.1f} to {high:,.1f}",
            "a range that holds the flight's own line",
        )
    if not least < most:
        raise Mistake(place, f"range: {text}", "the lower figure first")
    return least, most


def _within(node: Mapping, unit: str, least: float, most: float) -> float:
    text = node.optional("within")
    if text is None:
        return (most - least) * WITHIN
    place = node.place(text.line)
    form = f"such as: {(most - least) * WITHIN:g} {unit}".rstrip()
    found = _AMOUNT.fullmatch(str(text).strip())
    value = _number(found[1], place, form) if found and (found[2] or "") == unit else 0.0
    if not 0.0 < value <= (most - least) / 2.0:
        raise Mistake(place, f"within: {text}", f"{form}, above zero and at most half the range")
    return value


def _fields(node: Mapping) -> int:
    text: Text | None = node.optional("fields")
    if text is None:
        return 6
    if str(text) not in (str(count) for count in FIELDS):
        raise Mistake(node.place(text.line), f"fields: {text}", tuple(str(count) for count in FIELDS))
    return int(text)


def _number(text: str, place: str, form: str) -> float:
    try:
        return float(text.replace(",", ""))
    except ValueError:
        raise Mistake(place, f"'{text}' is no number", form) from None


def _bends(claims: Claims, quantity: str, points: Points, least: float) -> list[Bend]:
    """The bends that a reader can see, each with the change that made it; one that none made is left out."""
    flight, aircraft = claims.timeline.flight, claims.flights.aircraft
    head = quantity.partition(".")[0]
    tanks = [tank.name for tank in aircraft.tanks]
    movers = {part for part, _, _ in tank_flows(aircraft, head)} if head in tanks else set[str]()
    # A trouble's own change stands under the name of the trouble: it happens to a part.
    broken = {trouble.name: trouble for trouble in flight.script.troubles}
    found: list[Bend] = []
    for time_s, _ in thinned(points, least)[1:-1]:
        there = [change for change in flight.changes if abs(change.time_s - time_s) < 0.002]
        hurt = [broken[change.part].part if change.part in broken else change.part for change in there]
        ranks = [(part in movers) * 2 + (part == head) for part in hurt]
        if not there or any(bend.time_s == round(time_s, 3) for bend in found):
            continue
        best = ranks.index(max(ranks))
        change, part = there[best], hurt[best]
        if part not in aircraft.parts:
            continue
        state = broken[change.part].kind if change.part in broken else change.after
        target = html.Target(time_s, part, claims.edits)
        href = target.address(aircraft.name, flight.script.name)
        label, sentence = aircraft.parts[part].label, change.reason.sentence
        found.append(Bend(round(time_s, 3), part, label, state, sentence, href, target.told_edits()))
    return found


def _told(maker: PageMaker, bend: Bend, claims: Claims) -> str:
    target = html.Target(bend.time_s, bend.part, claims.edits)
    see = f'<a class="ww-see ww-at" {maker.attributes(target)}>{clock(bend.time_s)}</a>'
    sentence = html.marked(bend.sentence[:1].upper() + bend.sentence[1:])
    return f"{see} {escape(bend.label)}: {escape(bend.to)}. {sentence}"


def _table(sheet: Sheet) -> str:
    """The flight's line at the times of the numbers: for whoever wants figures, or has no scripts."""
    step = 10.0 if sheet.most - sheet.least > 500.0 else 1.0 if sheet.most - sheet.least > 50.0 else 0.1
    rows = []
    for at in range(sheet.fields + 1):
        time_s = sheet.from_s + (sheet.to_s - sheet.from_s) * at / sheet.fields
        value = _at(sheet.line, time_s)
        figure = html.figure(Value("", value, sheet.unit, step))
        rows.append(f"<tr><td>{clock(round(time_s))}</td><td>{figure}</td></tr>")
    head = f"<tr><th>Time</th><th>{escape(sheet.label)}</th></tr>"
    return f'<table class="ww-sketch-table"><thead>{head}</thead><tbody>{"".join(rows)}</tbody></table>'


def _at(points: Points, time_s: float) -> float:
    for (t0, v0), (t1, v1) in pairwise(points):
        if t0 <= time_s < t1:
            return v0 + (v1 - v0) * (time_s - t0) / (t1 - t0)
    return points[-1][1]

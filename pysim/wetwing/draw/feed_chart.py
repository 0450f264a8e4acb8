"""The feed chart: what delivers when, over a whole flight; phases above it, one cursor of time through it."""

from collections.abc import Callable
from dataclasses import dataclass

from wetwing.aircraft.model import Aircraft
from wetwing.draw import figures
from wetwing.draw.chart_bars import Gap, bar_path, shared_gaps, ticks
from wetwing.draw.chart_flight import DELIVERING, HELD, column, keyframe_times, spans, why_held
from wetwing.draw.chart_rows import Row, chart_rows
from wetwing.draw.hooks import paint
from wetwing.draw.lettering import width_px
from wetwing.draw.look import STYLE
from wetwing.draw.svg import Element, make, number
from wetwing.flight.record import Flight


@dataclass(frozen=True, slots=True)
class ChartLayout:
    """Sizes of one layout, px."""

    name: str
    width: float
    left: float
    right: float
    row: float
    tallest: float
    size: float
    small: float
    # A band has the phases and the time alone: no rows, and no chip at the cursor.
    band: bool = False


CHART_LAYOUTS = {
    layout.name: layout
    for layout in (
        ChartLayout("wide", 1080, 136, 16, 28, 24, 12.5, 11),
        ChartLayout("snug", 720, 104, 14, 27, 23, 12, 10.5),
        ChartLayout("slim", 400, 84, 12, 30, 24, 12, 10.5),
    )
}
# For a class, which reads the time and the phase in large letters beside the drawing.
BAND = ChartLayout("band", 900, 26, 26, 0, 0, 16, 15, band=True)
TOP = 12.0
PHASE_HEIGHT = 24.0
# The chip with the time hangs under the rows.
CHIP_HEIGHT = 24.0
CHIP_BROAD = 1.15
"""How much wider than estimated some readers' letters are: the chip's words have no room beside it."""


def feed_chart(
    aircraft: Aircraft,
    flight: Flight,
    time_s: float | None = None,
    *,
    layout: str = "wide",
    units: str = "kg",
    with_style: bool = True,
) -> str:
    """Return the feed chart of a flight as SVG, with the cursor at `time_s` (the start if None)."""
    return feed_chart_tree(aircraft, flight, time_s or 0.0, CHART_LAYOUTS[layout], units, with_style).render()


def feed_chart_tree(
    aircraft: Aircraft,
    flight: Flight,
    time_s: float,
    layout: ChartLayout,
    units: str = "kg",
    with_style: bool = False,
) -> Element:
    """Return the feed chart as a tree of elements, for tests and for `feed_chart`."""
    rows = () if layout.band else chart_rows(aircraft)
    first = TOP + PHASE_HEIGHT + 8
    floor = first + len(rows) * layout.row + 2
    # In a band the ticks' words stand clear of the marks of changes, which hang under the floor.
    base = floor + (20 if layout.band else CHIP_HEIGHT + 16)
    height = base + 8
    px_per_s = (layout.width - layout.left - layout.right) / flight.duration_s
    scale = px_per_kg_h(aircraft, flight, layout)

    def across(time: float) -> float:
        return layout.left + time * px_per_s

    root = make(
        "svg", xmlns="http://www.w3.org/2000/svg", class_=f"ww-picture ww-chart ww-{layout.name}",
        viewBox=f"0 0 {number(layout.width)} {number(height)}", role="img",
        aria_label=f"What delivers fuel when, over {figures.clock(flight.duration_s)} hours of flight",
        data_left=layout.left, data_right=layout.width - layout.right, data_top=TOP, data_floor=floor,
    )  # fmt: skip
    if with_style:
        root.add(make("style", STYLE))
    root.add(
        _phases(flight, time_s, layout, across),
        _ticks(flight, layout, floor, base, px_per_s, across),
        make("g", class_="rows").add(
            *(
                _row(flight, row, layout, first + (index + 0.5) * layout.row, scale, across)
                for index, row in enumerate(rows)
            )
        ),
        make("g", class_="marks"),
        _cursor(flight, layout, floor, time_s, across(time_s)),
    )
    return paint(root, flight.moment(time_s), units)


def px_per_kg_h(aircraft: Aircraft, flight: Flight, layout: ChartLayout) -> float:
    """Return the scale that all feed rows share: the greatest flow of the flight is as high as a row
    allows."""
    greatest = 1.0
    for row in chart_rows(aircraft):
        if row.kind == "feed":
            greatest = max(greatest, *(abs(flow) for flow in column(flight, row.flow)))
    return layout.tallest / greatest


def row_gaps(flight: Flight, row: Row) -> list[Gap]:
    """Return when a row's pumps are held by the automatics, and why."""
    if not row.pumps:
        return []
    each = [spans(flight, pump) for pump in row.pumps]
    return shared_gaps(each, (HELD, DELIVERING), [why_held(flight, pump) for pump in row.pumps])


def _row(
    flight: Flight,
    row: Row,
    layout: ChartLayout,
    middle: float,
    scale: float,
    across: Callable[[float], float],
) -> Element:
    own_scale = scale * row.share
    if row.kind == "refuel":
        most = max((abs(flow) for flow in column(flight, row.flow)), default=0.0)
        own_scale = min(own_scale, layout.tallest / most) if most > 0 else own_scale
    # As it is written for the page's script, which draws by the same figure.
    own_scale = float(f"{own_scale:.9g}")
    bars = bar_path(keyframe_times(flight), column(flight, row.flow), across, middle, own_scale)
    group = make(
        "g", class_=f"row {row.kind}", data_row=row.name, data_row_flow=row.flow, data_middle=middle,
        data_px_per_kg_h=f"{own_scale:.9g}", data_pumps=" ".join(row.pumps) or None,
    )  # fmt: skip
    title = make(
        "text",
        row.label,
        class_="row-name",
        x=layout.left - 12,
        y=middle - 1,
        text_anchor="end",
        font_size=layout.size,
    )
    now = make(
        "text", make("tspan", data_value=row.flow, data_unit="kg/h"), make("tspan", data_unit_word="kg/h"),
        data_when=f"{row.flow}>1",
        class_="row-now quiet", x=layout.left - 12, y=middle + layout.small, text_anchor="end",
        font_size=layout.small,
    )  # fmt: skip
    return group.add(
        make("line", class_="floor", x1=layout.left, x2=layout.width - layout.right, y1=middle, y2=middle),
        make("path", class_="earlier", d=""),
        make("g", class_="gaps").add(
            *(_gap(gap, layout, middle, across, flight.duration_s) for gap in row_gaps(flight, row))
        ),
        make("path", class_="bar", d=bars),
        title,
        now,
    )


def _gap(
    gap: Gap, layout: ChartLayout, middle: float, across: Callable[[float], float], duration_s: float
) -> Element:
    start, end = across(gap.start_s), across(min(gap.end_s, duration_s))
    group = make("g", class_="gap", data_start=gap.start_s, data_end=gap.end_s).add(
        make("title", gap.why),
        make("rect", x=start, y=middle - 8, width=max(end - start, 1.0), height=16, rx=3),
    )
    # The whole reason where there is room for it, else one word, else only the dashes.
    for words in (gap.why, "held"):
        wide = width_px(words, layout.small) + 8
        text = make(
            "text", words, x=(start + end) / 2, y=middle + layout.small * 0.34,
            text_anchor="middle", font_size=layout.small, data_wide=wide,
        )  # fmt: skip
        if wide <= end - start:
            return group.add(text)
    return group


def _phases(flight: Flight, time_s: float, layout: ChartLayout, across: Callable[[float], float]) -> Element:
    group = make("g", class_="phases")
    ends = [*(phase.start_s for phase in flight.phases[1:]), flight.duration_s]
    for phase, next_s in zip(flight.phases, ends, strict=True):
        if phase.start_s >= flight.duration_s:
            break  # A flight that ends early has no later phase.
        end_s = min(next_s, flight.duration_s)
        left, right = across(phase.start_s), across(end_s)
        block = make(
            "g", class_="phase", data_phase=phase.name, data_start=phase.start_s, data_end=end_s
        ).add(
            make("title", phase.label),
            make("rect", x=left, y=TOP, width=max(right - left - 1.5, 0.5), height=PHASE_HEIGHT, rx=3),
        )
        if phase is flight.phase(time_s):
            block.attributes["data-now"] = ""
        text = make(
            "text", phase.label, x=(left + right) / 2, y=TOP + PHASE_HEIGHT * 0.5 + layout.size * 0.35,
            text_anchor="middle", font_size=layout.size, data_wide=width_px(phase.label, layout.size) + 8,
        )  # fmt: skip
        if width_px(phase.label, layout.size) + 8 > right - left:
            text.attributes["display"] = "none"
        group.add(block.add(text))
    return group


def _ticks(
    flight: Flight,
    layout: ChartLayout,
    floor: float,
    base: float,
    px_per_s: float,
    across: Callable[[float], float],
) -> Element:
    group = make("g", class_="ticks")
    for time_s, words in ticks(0.0, flight.duration_s, px_per_s):
        x = across(time_s)
        group.add(
            make("line", x1=x, x2=x, y1=TOP + PHASE_HEIGHT + 4, y2=floor),
            make("text", words, x=x, y=base, text_anchor="middle", font_size=layout.small),
        )
    return group


def _cursor(flight: Flight, layout: ChartLayout, floor: float, time_s: float, x: float) -> Element:
    moment = flight.moment(time_s)
    words = figures.moment_words(time_s, flight.phase(time_s).label, moment.quantity("flight.altitude_ft"))
    # Wide enough for the longest words, so that the chip does not change its size under a moving hand.
    width = CHIP_BROAD * width_px("0:00:00 · preparation, on the ground", layout.size) + 22
    left = min(max(x - width / 2, 4.0), layout.width - 4.0 - width)
    return make("g", class_="cursor").add(
        make("line", class_="cursor-line", x1=x, x2=x, y1=TOP - 2, y2=floor + 4),
        make("circle", class_="cursor-head", cx=x, cy=TOP - 4, r=6),
        make("rect", class_="chip", x=left, y=floor + 3, width=width, height=CHIP_HEIGHT - 3, rx=10.5),
        make(
            "text",
            words,
            class_="chip-words",
            x=left + width / 2,
            y=floor + 3 + 14.6,
            text_anchor="middle",
            font_size=layout.size,
        ),
    )

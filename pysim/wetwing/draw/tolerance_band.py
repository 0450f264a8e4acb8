"""A bar that shows where a figure lies against the band that it should lie in: no figures, so no units."""

from wetwing.draw.svg import Element, make, points
from wetwing.teach.worksheets.sheet import Band

WIDTH, HEIGHT = 640.0, 92.0
TOP, TALL = 34.0, 24.0
LEFT, RIGHT = 12.0, 628.0
SHOWN = 2.5
"""The bar reaches so many times the tolerance to each side; what lies beyond is an arrow at its end."""


def tolerance_band(band: Band) -> Element:
    """Return the bar as SVG; it is described by the band's own sentence beside it."""
    half = max((band.high - band.low) / 2.0, 1e-9)
    reach = SHOWN * half

    def place(value: float) -> float:
        share = (value - band.middle) / reach
        return LEFT + (RIGHT - LEFT) * 0.5 * (1.0 + min(max(share, -1.0), 1.0))

    low_x, high_x, figure_x = place(band.low), place(band.high), place(band.figure)
    beyond = abs(band.figure - band.middle) > reach
    middle_x = 0.5 * (LEFT + RIGHT)
    drawing = make(
        "svg",
        viewBox=f"0 0 {WIDTH:.0f} {HEIGHT:.0f}",
        class_="ww-band",
        aria_hidden="true",
        focusable="false",
    )
    drawing.add(
        make("rect", x=LEFT, y=TOP, width=RIGHT - LEFT, height=TALL, class_="ww-band-room"),
        make("rect", x=low_x, y=TOP, width=high_x - low_x, height=TALL, class_="ww-band-within"),
        make("line", x1=middle_x, y1=TOP - 6, x2=middle_x, y2=TOP + TALL + 6, class_="ww-band-middle"),
        _figure(figure_x, beyond, band.figure > band.middle),
        make("text", "less than the book", x=LEFT, y=HEIGHT - 8, class_="ww-band-words"),
        make(
            "text", "within tolerance", x=middle_x, y=HEIGHT - 8, text_anchor="middle", class_="ww-band-words"
        ),
        make("text", "more than the book", x=RIGHT, y=HEIGHT - 8, text_anchor="end", class_="ww-band-words"),
        make(
            "text",
            "gauges",
            x=min(max(figure_x, LEFT + 26), RIGHT - 26),
            y=12,
            text_anchor="middle",
            class_="ww-band-words",
        ),
    )
    return drawing


def _figure(x: float, beyond: bool, more: bool) -> Element:
    middle = TOP + TALL / 2.0
    if not beyond:
        shape = points((x - 8.0, TOP - 16.0), (x + 8.0, TOP - 16.0), (x, TOP + 2.0))
    else:
        way = 1.0 if more else -1.0
        shape = points((x - way * 18.0, middle - 10.0), (x - way * 18.0, middle + 10.0), (x, middle))
    return make("polygon", points=shape, class_="ww-band-figure")

"""A smooth curve through given points that rises wherever they rise."""

from bisect import bisect_right


class Curve:
    """Piecewise cubic through points that rise in both coordinates; value and slope are continuous.

    Below the first point it keeps its value. Above the last it goes on in a straight line. Source: Fritsch
    and Carlson, "Monotone piecewise cubic interpolation", SIAM Journal on Numerical Analysis 17 (1980): a
    cubic rises where both its end slopes are within three times the slope of its chord.
    """

    __slots__ = ("_first", "_pieces", "_points")

    def __init__(self, points: list[float], values: list[float], slopes: list[float | None]) -> None:
        """Slopes that are None are estimated from the neighbours; all are held to what keeps the curve
        rising.
        """
        widths = [points[i + 1] - points[i] for i in range(len(points) - 1)]
        if len(points) < 2 or not all(width > 0.0 for width in widths):
            raise ValueError(f"curve: points must be two or more and rise, found {points}")
        chords = [(values[i + 1] - values[i]) / widths[i] for i in range(len(widths))]
        if not all(chord >= 0.0 for chord in chords):
            raise ValueError(f"curve: values must not fall, found {values}")
        held = [
            min(_estimate(i, widths, chords) if slope is None else slope, 3.0 * _least_chord(i, chords))
            for i, slope in enumerate(slopes)
        ]
        self._points = points
        self._first = values[0]
        self._pieces = [
            (
                values[i],
                held[i],
                (3.0 * chord - 2.0 * held[i] - held[i + 1]) / width,
                (held[i] + held[i + 1] - 2.0 * chord) / (width * width),
            )
            for i, (width, chord) in enumerate(zip(widths, chords, strict=True))
        ]
        self._pieces.append((values[-1], held[-1], 0.0, 0.0))

    def at(self, point: float) -> float:
        """Value at a point."""
        if point <= self._points[0]:
            return self._first
        i = bisect_right(self._points, point) - 1
        past = point - self._points[i]
        a, b, c, d = self._pieces[i]
        return a + past * (b + past * (c + past * d))


def _least_chord(i: int, chords: list[float]) -> float:
    return min(chords[max(0, i - 1) : i + 1])


def _estimate(i: int, widths: list[float], chords: list[float]) -> float:
    """Slope of the parabola through the point and its two neighbours, at an end the nearest two; never
    below zero.
    """
    if len(chords) == 1:
        return chords[0]
    if i == 0:
        near, far, a, b = chords[0], chords[1], widths[0], widths[1]
    elif i == len(chords):
        near, far, a, b = chords[-1], chords[-2], widths[-1], widths[-2]
    else:
        a, b = widths[i - 1], widths[i]
        return (chords[i - 1] * b + chords[i] * a) / (a + b)
    return max(0.0, near + (near - far) * a / (a + b))

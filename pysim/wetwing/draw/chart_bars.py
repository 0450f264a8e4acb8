"""Bars, gaps and ticks of the feed chart: arithmetic alone. `docs/panel/bars.js` does the same for a flight
that is flown again."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from wetwing.draw.svg import number

NOTHING_KG_H = 1.0
LEAST_PX = 1.6
STEPS_S = (60, 120, 300, 600, 900, 1800, 3600, 7200)


def bar_path(
    time_s: Sequence[float],
    flow_kg_h: Sequence[float],
    across: Callable[[float], float],
    middle: float,
    px_per_kg_h: float,
) -> str:
    """Return the path of a row's bars: as high as the flow, around the row's middle line, gone where nothing
    flows.

    Points are rounded to a tenth of a pixel, and those that add nothing at that size are left out.
    """
    path = ""
    run: list[tuple[float, float]] = []
    for time, flow in zip(time_s, flow_kg_h, strict=True):
        size = abs(flow)
        half = 0.0 if size < NOTHING_KG_H else max(size * px_per_kg_h, LEAST_PX) / 2
        place = (_tenth(across(time)), _tenth(half))
        if half > 0.0:
            _append(run, place)
        elif run:
            # The flow ends here; where it ended in a jump, the jump's first keyframe has closed the bar
            # already.
            path += _closed(run, middle)
            run = []
    return path + (_closed(run, middle) if run else "")


def _append(run: list[tuple[float, float]], place: tuple[float, float]) -> None:
    if len(run) > 1 and ((run[-1][1] == run[-2][1] == place[1]) or (run[-1][0] == run[-2][0] == place[0])):
        run[-1] = place
    else:
        run.append(place)


def _closed(run: list[tuple[float, float]], middle: float) -> str:
    first, last = run[0][0], run[-1][0]
    if last - first < 0.8:
        # Too short to be seen: widened to a sliver.
        run = [(first, run[0][1]), (_tenth(first + 0.8), run[-1][1])]
    upper = "L".join(f"{number(x)},{number(middle - half)}" for x, half in run)
    lower = "L".join(f"{number(x)},{number(middle + half)}" for x, half in reversed(run))
    return f"M{upper}L{lower}Z"


def _tenth(value: float) -> float:
    return math.floor(value * 10.0 + 0.5) / 10.0


@dataclass(frozen=True, slots=True)
class Gap:
    """A time in which a row's pumps are commanded on and held."""

    start_s: float
    end_s: float
    why: str


def shared_gaps(
    spans: Sequence[Sequence[tuple[float, float, str]]],
    words: Sequence[str],
    why: Sequence[Callable[[float], str]],
) -> list[Gap]:
    """Return when every pump of a row rests and at least one is held (its state is the first of `words`).

    `spans` holds, for each pump, (start_s, end_s, state) over the whole flight; `why[i](t)` says why pump i
    is held at t.
    """
    held, moving = words
    edges = sorted({edge for pump in spans for start, end, _ in pump for edge in (start, end)})
    gaps: list[Gap] = []
    for start, end in pairwise(edges):
        now = [next(state for s, e, state in pump if s <= start < e) for pump in spans]
        if held not in now or moving in now:
            continue
        reason = why[now.index(held)](start)
        if gaps and gaps[-1].end_s == start and gaps[-1].why == reason:
            gaps[-1] = Gap(gaps[-1].start_s, end, reason)
        else:
            gaps.append(Gap(start, end, reason))
    return gaps


def ticks(start_s: float, end_s: float, px_per_s: float, least_px: float = 62.0) -> list[tuple[float, str]]:
    """Return where ticks of time stand, and their words, at least `least_px` apart."""
    step = next((step for step in STEPS_S if step * px_per_s >= least_px), STEPS_S[-1])
    count = math.floor((end_s - start_s) / step) + 2
    first = math.ceil(start_s / step) * step
    times = [first + index * step for index in range(count) if first + index * step <= end_s]
    whole_hours = step % 3600 == 0
    return [(float(t), f"{t // 3600} h" if whole_hours else f"{t // 3600}:{t // 60 % 60:02d}") for t in times]

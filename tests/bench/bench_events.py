"""How a flight's cost grows with what happens in it, and how many troubled flights a desk flies an hour."""

import os
import time
from concurrent.futures import ProcessPoolExecutor

from rich.progress import Progress

from tests.bench.figures import tell
from tests.flight.flights import alder, switched
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.script import Edit, read_script, with_edits
from wetwing.flight.troubles import breakdowns

FLIGHTS = int(os.environ.get("BENCH_FLIGHTS", "200"))
CHUNK = 20


def _timed(switchings: int) -> tuple[int, float]:
    """Changes and processor seconds of a flight in which the cross-feed is opened and shut so often."""
    aircraft, script = alder(), switched(switchings)
    durations = []
    for _ in range(3):
        started = time.process_time()
        flight = fly(aircraft, script)
        durations.append(time.process_time() - started)
    return len(flight.changes), min(durations)


def _troubled(first: int) -> int:
    """Fly a few flights, each with two troubles, the same in every run; the number of their changes."""
    aircraft = read_aircraft("alder-165")
    script = read_script("day-sector", aircraft)
    can = [(part.name, found.kind) for part in aircraft.parts.values() for found in breakdowns(part)]
    changes = 0
    for i in range(first, first + CHUNK):
        picked = [can[(i * 7919 + k * 104729) % len(can)] for k in range(2)]
        edits = tuple(
            Edit(600.0 + (i * 613 + k * 4001) % 24000, part, kind) for k, (part, kind) in enumerate(picked)
        )
        changes += len(fly(aircraft, with_edits(script, edits, aircraft)).changes)
    return changes


def main() -> None:
    """Measure and tell."""
    few_changes, few_s = _timed(20)
    many_changes, many_s = _timed(160)
    each = (many_s / many_changes) / (few_s / few_changes)
    tell("cost of a change, eight times as many switchings over few", each, "at most 1.2")
    started = time.perf_counter()
    with Progress(transient=True) as progress, ProcessPoolExecutor(2) as pool:
        task = progress.add_task("flights with random troubles", total=FLIGHTS)
        for _ in pool.map(_troubled, range(0, FLIGHTS, CHUNK)):
            progress.advance(task, CHUNK)
    seconds = time.perf_counter() - started
    tell("10,000 flights with random troubles on 2 cores", seconds / FLIGHTS * 10000.0 / 60.0, "none", "min")


if __name__ == "__main__":
    main()

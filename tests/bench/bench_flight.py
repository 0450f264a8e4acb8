"""How quickly a whole flight is flown: against the same model stepped, and in the browser's Python."""

import tempfile
import time
from pathlib import Path
from unittest.mock import patch

import wetwing.flight.fly as flying
from tests.bench.figures import median_s, tell
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.fly import Flying, fly
from wetwing.flight.script import Edit, read_script, with_edits
from wetwing_tools.runtime import archives
from wetwing_tools.runtime.node import Start
from wetwing_tools.runtime.sources import find

STEP_S = 1.0
INSIDE = """
import time
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.script import read_script

aircraft = read_aircraft("alder-165")
script = read_script("day-sector", aircraft)
fly(aircraft, script)
durations = []
for _ in range(5):
    started = time.process_time()
    fly(aircraft, script)
    durations.append(time.process_time() - started)
str(sorted(durations)[2])
"""


class _Stepping(Flying):
    """The same aircraft, rules and network, stepped at one second as a clock-driven simulation would.

    One slope a step, and a look after each at what has happened. It locates nothing, so it does less for each
    step than `fly` does.
    """

    def _advance(self, limit_s: float, cut_s: float) -> None:
        world = self.world
        length_s = min(STEP_S, min(limit_s, cut_s) - world.time_s)
        slopes = world.flows.slopes
        world.state = [value + length_s * slope for value, slope in zip(world.state, slopes, strict=True)]
        world.time_s += length_s
        world.flows = self.plant.flows(self.configuration, self.segment, world.time_s, world.state)
        # A stepper does not know whether anything has happened: it has to look each time.
        self.event = True


def _edited(flown_s: float) -> tuple[float, str]:
    """Time of an edited flight that takes up a known one, over that of the whole flight, and its goal."""
    aircraft = read_aircraft("alder-165")
    plain = read_script("day-sector", aircraft)
    known = fly(aircraft, plain)
    script = with_edits(plain, (Edit(plain.ends_s * 2.0 / 3.0, "cross-feed", "open"),), aircraft)
    return median_s(lambda: fly(aircraft, script, known)) / flown_s, "none"


def main() -> None:
    """Measure and tell."""
    aircraft = read_aircraft("alder-165")
    script = read_script("day-sector", aircraft)
    flown_s = median_s(lambda: fly(aircraft, script))
    started = time.process_time()
    # A stepper needs more steps than any flight has events: the limit is against endless rules.
    with patch.object(flying, "MOST_STEPS", 10**6):
        stepped = _Stepping(aircraft, script).flight()
    stepped_s = time.process_time() - started
    flight = fly(aircraft, script)
    if stepped.duration_s != flight.duration_s or len(stepped.time_s) < flight.duration_s / STEP_S:
        raise SystemExit("bench_flight: the stepped flight is not the whole flight, so its time says nothing")
    tell("whole flight, times faster than stepped at one second", stepped_s / flown_s, "at least 50")
    tell("whole flight, on this desk's Python", 1000 * flown_s, "10", "ms")
    tell("the same with an edit at two thirds of it, taken up from the flight before", *_edited(flown_s))

    with tempfile.TemporaryDirectory() as scratch:
        sources = find()
        files = archives.package_files(sources.package)
        wheel = archives.write_wheel(Path(scratch), "wetwing", sources.package_version, files)
        inside = Path(scratch) / "inside.py"
        inside.write_text(INSIDE)
        inside_s = float(Start(sources, sources.pyodide / "python_stdlib.zip", wheel).run(inside))
    tell("whole flight, in the browser's Python", 1000 * inside_s, "40", "ms")


if __name__ == "__main__":
    main()

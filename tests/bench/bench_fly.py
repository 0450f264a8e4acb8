"""What the controlled step gains: the whole flight against the same integrator held to steps of one second.

Everything else is the same: model, network, events located, rules, keyframes. `bench_flight` compares with a
plainer stepper that takes one slope a step and locates nothing.
"""

from unittest.mock import patch

import wetwing.flight.fly as flying
from tests.bench.figures import median_s, tell
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.script import read_script

STEP_S = 1.0
GOAL = 30


def main() -> None:
    """Measure and tell."""
    aircraft = read_aircraft("alder-165")
    script = read_script("day-sector", aircraft)
    with patch.object(flying, "LONGEST_STEP_S", STEP_S), patch.object(flying, "MOST_STEPS", 10**6):
        stepped = flying.fly(aircraft, script)
        if len(stepped.time_s) < stepped.duration_s / STEP_S:
            raise SystemExit("bench_fly: the steps were longer than a second, so their time says nothing")
        stepped_s = median_s(lambda: flying.fly(aircraft, script), 3)
    flown_s = median_s(lambda: flying.fly(aircraft, script), 9)
    tell(
        "whole flight, times faster than its own integrator held to one second",
        stepped_s / flown_s,
        str(GOAL),
    )


if __name__ == "__main__":
    main()

"""The whole flight against the tests' independent solver, which comes to the same within 10 ms and 0.1 kg."""

from tests.bench.figures import median_s, tell
from tests.oracle.follow import follow
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.fly import fly
from wetwing.flight.script import read_script

NEAR_S, NEAR_KG = 0.01, 0.1


def main() -> None:
    """Measure and tell."""
    aircraft = read_aircraft("alder-165")
    script = read_script("day-sector", aircraft)
    flight = fly(aircraft, script)
    oracle = follow(flight)
    if oracle.late.value > NEAR_S or oracle.kg.value > NEAR_KG:
        raise SystemExit(f"bench_solver: the two disagree: {oracle.late}, {oracle.kg}")
    solved_s = median_s(lambda: follow(flight), 1)
    flown_s = median_s(lambda: fly(aircraft, script), 5)
    tell("whole flight, times faster than the independent solver at equal accuracy", solved_s / flown_s, "20")


if __name__ == "__main__":
    main()

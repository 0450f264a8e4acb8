"""Mutation testing of the simulation: `make mutate`, which runs this in a copy of the tree.

Small slips are put into the source one at a time, and the tests must notice. `ONLY=physics/suction.py` takes
one file or folder, `SAMPLE=300` so many of the mutants, the same ones each time for one `SEED=1`, and
`JOBS=2` so many at a time.
"""

import os
import random
import signal
import sys
import tempfile
from collections import Counter
from pathlib import Path

# Before NumPy is loaded: a fork of a process with threads may hang.
os.environ["OPENBLAS_NUM_THREADS"] = "1"
# As many flights by chance as a trial can afford.
os.environ["RANDOM_FLIGHTS"] = "160"

import scipy.integrate
import scipy.optimize  # noqa: F401

from tests.mutation import trial
from tests.mutation.mutants import Mutant, mutants_of, sample, span_of_function

SOURCE = Path("pysim/wetwing")
CHUNKS_S = (3.0, 15.0, 40.0, 100.0)
"""A trial begins with sharp or quick tests, and goes on to slower ones while the mutant lives.

These are the sums of the processor's time at which one lot ends and the next begins; what takes longer than
the last is left out. All of physics takes less; of the heart of flight, which every flight enters, the tests
take minutes.
"""

TESTS = {
    "physics": sorted(Path("tests/physics").glob("test_*.py")),
    # Without those that take a minute and more each: a trial could afford nothing beside them.
    "flight": sorted(
        path
        for path in (*Path("tests/flight").glob("test_*.py"), *Path("tests/oracle").glob("test_*.py"))
        if path.stem not in {"test_coverage", "test_fly"}
    ),
}

SHARP = (
    "test_flights_that_ship_are_what_they_were",
    "test_staged_flights_are_what_they_were",
    "test_flights_by_chance_are_what_they_were",
    "test_a_flight_that_once_broke_a_promise_keeps_it",
    "test_random_flights_keep_their_promises",
)
"""Tests that hold whole flights to the last bit. Little lives through them, so they come before those that
look at one thing each.
"""


def main() -> int:
    """Try the mutants that were asked for, and print what became of them, by file."""
    # A shell starts what runs behind it with interrupts ignored, and a sample is told when it is interrupted.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    only = os.environ.get("ONLY", "").strip() or "physics"
    size = int(os.environ.get("SAMPLE", "").strip() or 0)
    seed = int(os.environ.get("SEED", "").strip() or 1)
    jobs = int(os.environ.get("JOBS", "").strip() or 2)
    place = SOURCE / only
    floor = only.split("/")[0]
    if floor not in TESTS or not place.exists():
        print(f"mutate: found ONLY={only}; allowed: {', '.join(TESTS)} or a file in them", file=sys.stderr)
        return 2
    files = [place] if place.is_file() else sorted(place.rglob("*.py"))

    with tempfile.TemporaryDirectory() as folder:
        covered, failed = trial.cover_all(TESTS[floor], SOURCE / floor, Path(folder), jobs)
    if failed:
        print(f"mutate: these fail without a mutant: {', '.join(failed)}", file=sys.stderr)
        return 1
    seconds = sum(run.took_s for run in covered)
    print(f"{len(covered)} tests, {seconds:.0f} s of the processor's time", flush=True)

    everything = [mutant for path in files for mutant in mutants_of(path)]
    chosen = sample(everything, size, seed) if size else everything
    print(f"{len(chosen)} of {len(everything)} mutants (seed {seed})", flush=True)
    if chosen and not _lives_unchanged(chosen[0], covered):
        print(
            "mutate: the tests fail in a trial without a mutant, so that no verdict could be trusted",
            file=sys.stderr,
        )
        return 1
    verdicts = [""] * len(chosen)
    try:
        _try(chosen, covered, jobs, verdicts)
    except KeyboardInterrupt:
        print(f"stopped: {len(chosen) - verdicts.count('')} of {len(chosen)} tried", flush=True)
    _report(chosen, verdicts)
    return 0


def _try(chosen: list[Mutant], covered: list[trial.Coverage], jobs: int, verdicts: list[str]) -> None:
    """Try each and fill in its verdict. One that is not tried, since somebody stops it all, has none."""
    running: dict[int, int] = {}

    def took(i: int, verdict: str) -> None:
        verdicts[i] = verdict
        if verdict != "killed":
            _tell(chosen[i], verdict, len(chosen) - verdicts.count(""), len(chosen))

    def wait() -> None:
        pid, status = os.wait()
        took(running.pop(pid), trial.verdict(status))

    # Not by file: where it is stopped early, what has been tried is a sample of the whole.
    for i in random.Random(len(chosen)).sample(range(len(chosen)), len(chosen)):
        lots, took_s = _lots_for(chosen[i], covered)
        if not lots:
            took(i, "no test")
            continue
        while len(running) >= jobs:
            wait()
        running[trial.start(chosen[i].path, chosen[i].code, lots, 10 + int(5 * took_s))] = i
    while running:
        wait()


def _lives_unchanged(mutant: Mutant, covered: list[trial.Coverage]) -> bool:
    """Whether the true source lives through the tests that are to kill a mutant of it."""
    lots, took_s = _lots_for(mutant, covered)
    if not lots:
        return True
    trial.start(mutant.path, mutant.path.read_text(encoding="utf-8"), lots, 10 + int(5 * took_s))
    return trial.verdict(os.wait()[1]) == "survived"


def _lots_for(mutant: Mutant, covered: list[trial.Coverage]) -> tuple[list[list[str]], float]:
    """The tests that enter the mutant's function, or anything of its file if it is outside a function, in
    lots: the sharp ones first, then the quickest; and the seconds that all take.
    """
    span = span_of_function(mutant.path.read_text(encoding="utf-8"), mutant.line)
    lines = span or range(sys.maxsize)
    runs = [run for run in covered if any(line in lines for line in run.ran.get(str(mutant.path), []))]
    runs.sort(key=lambda run: (not any(name in run.test for name in SHARP), run.took_s))
    lots: list[list[str]] = [[] for _ in CHUNKS_S]
    took_s = 0.0
    for run in runs:
        took_s += run.took_s
        lot = next((i for i, most_s in enumerate(CHUNKS_S) if took_s <= most_s), None)
        if lot is None:
            # One test is tried however long it takes.
            if any(lots):
                break
            lot = 0
        lots[lot].append(run.test)
    return [lot for lot in lots if lot], took_s


def _tell(mutant: Mutant, verdict: str, tried: int, among: int) -> None:
    place = f"{mutant.path}:{mutant.line} {mutant.operator} {mutant.occurrence}"
    print(f"{verdict}: {place} ({tried} of {among} tried)")
    print(f"    - {mutant.before}\n    + {mutant.after}", flush=True)


def _report(chosen: list[Mutant], verdicts: list[str]) -> None:
    print(f"\n{'file':40} killed survived")
    total: Counter[bool] = Counter()
    for path in dict.fromkeys(mutant.path for mutant in chosen):
        ends = Counter(
            verdict in ("killed", "timeout")
            for mutant, verdict in zip(chosen, verdicts, strict=True)
            if mutant.path == path and verdict
        )
        print(f"{path.relative_to(SOURCE)!s:40} {ends[True]:6} {ends[False]:8}")
        total += ends
    share = 100 * total[True] / max(1, total.total())
    timeouts = verdicts.count("timeout")
    print(f"{'all':40} {total[True]:6} {total[False]:8}   {share:.1f} % killed, {timeouts} of them by time")


if __name__ == "__main__":
    sys.exit(main())

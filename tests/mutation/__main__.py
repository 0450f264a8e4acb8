"""Mutation testing of the simulation: `make mutate`, which runs this in a copy of the tree.

Small slips are put into the source one at a time, and the tests must notice. `ONLY=physics/suction.py` takes
one file or folder, `SAMPLE=300` so many of the mutants, the same ones each time for one `SEED=1`, and
`JOBS=2` so many at a time.
"""

import os
import sys
import tempfile
from collections import Counter
from itertools import accumulate
from pathlib import Path

# Before NumPy is loaded: a fork of a process with threads may hang.
os.environ["OPENBLAS_NUM_THREADS"] = "1"

import scipy.integrate
import scipy.optimize  # noqa: F401

from tests.mutation import trial
from tests.mutation.mutants import Mutant, mutants_of, sample, span_of_function

SOURCE = Path("pysim/wetwing")
MOST_S = (30.0, 200.0)
"""The processor's time that a trial's tests may take, and those of a second trial of what survived the first.

All of physics takes less; all of flight, minutes.
"""

TESTS = {
    "physics": sorted(Path("tests/physics").glob("test_*.py")),
    # Without those that take a minute and more each: a trial could afford nothing beside them.
    "flight": sorted(
        path
        for path in (*Path("tests/flight").glob("test_*.py"), *Path("tests/oracle").glob("test_*.py"))
        if path.stem not in {"test_coverage", "test_fly", "test_random_flights"}
    ),
}


def main() -> int:
    """Try the mutants that were asked for, and print what became of them, by file."""
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
        covered = [trial.cover(tests, SOURCE / floor, Path(folder) / "note") for tests in TESTS[floor]]
    failed = [str(run.tests) for run in covered if not run.passed]
    if failed:
        print(f"mutate: these fail without a mutant: {', '.join(failed)}", file=sys.stderr)
        return 1
    seconds = sum(run.took_s for run in covered)
    print(f"{len(covered)} files of tests, {seconds:.0f} s of the processor's time", flush=True)

    everything = [mutant for path in files for mutant in mutants_of(path)]
    chosen = sample(everything, size, seed) if size else everything
    print(f"{len(chosen)} of {len(everything)} mutants (seed {seed})", flush=True)
    _report(chosen, _try(chosen, covered, jobs))
    return 0


def _try(chosen: list[Mutant], covered: list[trial.Coverage], jobs: int) -> list[str]:
    verdicts = ["no test"] * len(chosen)
    running: dict[int, tuple[int, list[trial.Coverage]]] = {}

    def start(i: int, runs: list[trial.Coverage], rest: list[trial.Coverage]) -> None:
        while len(running) >= jobs:
            wait()
        patience_s = 10 + int(5 * sum(run.took_s for run in runs))
        pid = trial.start(chosen[i].path, chosen[i].code, [run.tests for run in runs], patience_s)
        running[pid] = (i, rest)

    def wait() -> None:
        pid, status = os.wait()
        i, rest = running.pop(pid)
        verdicts[i] = trial.verdict(status)
        if verdicts[i] == "survived" and rest:
            start(i, rest, [])
        elif verdicts[i] != "killed":
            _tell(chosen[i], verdicts[i])

    for i, mutant in enumerate(chosen):
        first, rest = _runs_for(mutant, covered)
        if first:
            start(i, first, rest)
        else:
            _tell(mutant, verdicts[i])
    while running:
        wait()
    return verdicts


def _runs_for(
    mutant: Mutant, covered: list[trial.Coverage]
) -> tuple[list[trial.Coverage], list[trial.Coverage]]:
    """The tests that enter the mutant's function, or load its file if it is outside a function.

    Those that enter the most of the file come first, since most mutants fall to them. The rest, as far as the
    time allows, are for those that don't.
    """
    span = span_of_function(mutant.path.read_text(encoding="utf-8"), mutant.line)
    lines = span or range(sys.maxsize)
    entered = {run.tests: run.ran.get(str(mutant.path), []) for run in covered}
    runs = [run for run in covered if any(line in lines for line in entered[run.tests])]
    runs.sort(key=lambda run: (-len(entered[run.tests]), run.took_s))
    sums_s = list(accumulate(run.took_s for run in runs))
    first, last = (sum(sum_s <= most_s for sum_s in sums_s) for most_s in MOST_S)
    first = max(first, 1)
    return runs[:first], runs[first:last]


def _tell(mutant: Mutant, verdict: str) -> None:
    print(f"{verdict}: {mutant.path}:{mutant.line} {mutant.operator} {mutant.occurrence}")
    print(f"    - {mutant.before}\n    + {mutant.after}", flush=True)


def _report(chosen: list[Mutant], verdicts: list[str]) -> None:
    print(f"\n{'file':40} killed survived")
    total: Counter[bool] = Counter()
    for path in dict.fromkeys(mutant.path for mutant in chosen):
        ends = Counter(
            verdict in ("killed", "timeout")
            for mutant, verdict in zip(chosen, verdicts, strict=True)
            if mutant.path == path
        )
        print(f"{path.relative_to(SOURCE)!s:40} {ends[True]:6} {ends[False]:8}")
        total += ends
    share = 100 * total[True] / max(1, total.total())
    timeouts = verdicts.count("timeout")
    print(f"{'all':40} {total[True]:6} {total[False]:8}   {share:.1f} % killed, {timeouts} of them by time")


if __name__ == "__main__":
    sys.exit(main())

"""How a bench script says what it measured: one line each, a ratio from one run where that can be."""

import statistics
import time
from collections.abc import Callable


def median_s(task: Callable[[], object], times: int = 5) -> float:
    """Run `task` a few times, the first unmeasured, and return the median of the processor's time in seconds.

    Processor time, since a machine that does something else besides would spoil the ratio.
    """
    task()
    durations = []
    for _ in range(times):
        started = time.process_time()
        task()
        durations.append(time.process_time() - started)
    return statistics.median(durations)


def tell(name: str, figure: float, goal: str, unit: str = "") -> None:
    """Print `name: figure (goal G)`. A missed goal is told, not hidden, and ends nothing: machines differ."""
    print(f"{name}: {figure:.3g}{f' {unit}' if unit else ''} (goal {goal})", flush=True)

"""Random flights by the hundred thousand: `python -m tests.flight.soak [count] [first]`.

Two processes fly; what breaks a promise is printed with how to make it again, and the exit code counts it.
"""

import sys
from concurrent.futures import ProcessPoolExecutor, as_completed

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

from tests.flight.promises import checked

USUAL = 100_000
PROCESSES = 2
EACH = 50


def batch(first: int, last: int) -> list[str]:
    """What is broken among the flights of these numbers."""
    return [found for seed in range(first, last) if (found := checked(seed))]


def main(arguments: list[str]) -> int:
    """Fly; return 1 if any promise was broken."""
    count = int(arguments[0]) if arguments else USUAL
    first = int(arguments[1]) if len(arguments) > 1 else 0
    console = Console()
    broken = flown = told = 0
    columns = (TextColumn("flights"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with ProcessPoolExecutor(PROCESSES) as pool, Progress(*columns, console=console) as progress:
        bar = progress.add_task("flights", total=count)
        sizes = {
            pool.submit(batch, begin, min(begin + EACH, first + count)): min(EACH, first + count - begin)
            for begin in range(first, first + count, EACH)
        }
        for done in as_completed(sizes):
            for found in done.result():
                broken += 1
                console.print(found, markup=False, highlight=False)
            flown += sizes[done]
            progress.advance(bar, sizes[done])
            # A bar is drawn in a terminal alone: a file gets a line for each hundredth.
            if not console.is_terminal and flown * 100 // count > told:
                told = flown * 100 // count
                print(f"{flown} of {count} flights, {broken} with a broken promise", flush=True)
    console.print(f"{count} flights, {broken} with a broken promise")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

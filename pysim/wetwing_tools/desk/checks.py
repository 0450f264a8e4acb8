"""What `make test` and `make lint` run: named stages, one after the other, ended by the first that fails."""

import os
import shlex
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

from wetwing_tools.desk import chromium, firefox

ROOT = Path(__file__).resolve().parents[3]
# Each process takes half of the files, in order, so that flights kept for a file's tests are flown once; the
# one that is done first takes over a part of what the other has left.
PYTEST = "python -m pytest -n 2 --dist worksteal"
BROWSERS = {"chromium": chromium, "firefox": firefox}


@dataclass(frozen=True)
class Stage:
    """A named command, written as for a shell but run without one; a word with a `*` stands for its files.

    `browser` is the one that it drives, if any: a key of `BROWSERS`.
    """

    name: str
    command: str
    browser: str = ""


# Common slips of the pen, and American spellings, in what people read; "statics" is a branch of physics.
SLIPS_OF_THE_PEN = "--builtin clear,rare -D - -D pysim/wetwing_tools/desk/american.txt -L statics"
TEXTS = (
    "--skip docs/panel,docs/assets docs README.md DEVELOPERS.md CHANGELOG.md "
    "pysim/wetwing/aircraft/fleet pysim/wetwing/flight/scripts"
)

LINT = (
    Stage("style", "ruff check ."),
    Stage("format", "ruff format --check ."),
    Stage("types", "mypy"),
    Stage("floors", "lint-imports"),
    Stage("spelling", f"codespell {SLIPS_OF_THE_PEN} {TEXTS}"),
)

# What is quick comes first, so that most mistakes are told within a minute.
TEST = (
    *LINT,
    Stage("panel arithmetic", "node --test tests/panel/*.test.mjs"),
    Stage("python tests", f"{PYTEST} tests --ignore=tests/pages --ignore=tests/runtime"),
    Stage("runtime bundle", "python -m wetwing_tools.runtime --out build/runtime"),
    Stage("site", "mkdocs build --strict --quiet"),
    # Two stages, since each holds a browser's driver for as long as it runs, and a process can have only one.
    Stage("runtime in a browser", f"{PYTEST} tests/runtime", browser="chromium"),
    Stage("pages in a browser", f"{PYTEST} tests/pages", browser="chromium"),
    Stage("panel in a second engine", "node --test tests/engines/*.test.mjs", browser="firefox"),
)

LISTS = {"lint": LINT, "test": TEST}


def main(arguments: list[str]) -> int:
    """Run the named list; return 0 only if every stage passed."""
    if len(arguments) != 1 or arguments[0] not in LISTS:
        print(f"usage: python -m wetwing_tools.desk.checks {{{','.join(LISTS)}}}", file=sys.stderr)
        return 2
    return run_stages(LISTS[arguments[0]])


def run_stages(stages: tuple[Stage, ...]) -> int:
    """Run stages until one fails, then print the summary; return the exit code."""
    summary: list[str] = []
    failed = False
    for stage in stages:
        if failed:
            summary.append(f"  not run  {stage.name}")
            continue
        print(f"\n== {stage.name}: {stage.command}", flush=True)
        started = time.monotonic()
        failed = not passes(stage)
        line = f"{stage.name} ({time.monotonic() - started:.1f} s)"
        print(f"== {stage.name}: {'FAILED' if failed else 'passed'}", flush=True)
        summary.append(f"  {'FAILED ' if failed else 'passed '}  {line}")
    print("\n".join(["", "Summary", *summary]), flush=True)
    return 1 if failed else 0


def passes(stage: Stage) -> bool:
    """Run one stage from the repository's root, with `.venv` first on the path."""
    env = dict(os.environ)
    env["NO_MKDOCS_2_WARNING"] = "1"
    env["PATH"] = f"{Path(sys.executable).parent}{os.pathsep}{env.get('PATH', os.defpath)}"
    if stage.browser:
        wanted = BROWSERS[stage.browser]
        try:
            env[wanted.VARIABLE] = str(wanted.ensure())
        except chromium.NoBrowser as fault:
            print(fault, flush=True)
            return False
    words = words_of(stage.command)
    try:
        done = subprocess.run(words, cwd=ROOT, env=env, stdin=subprocess.DEVNULL)
    except OSError as fault:
        print(f"{stage.command}: {fault.strerror}", flush=True)
        return False
    return done.returncode == 0


def words_of(command: str) -> list[str]:
    """Split a command; a pattern that matches nothing stays as it is, so that its program complains."""
    words: list[str] = []
    for word in shlex.split(command):
        matches = sorted(str(path.relative_to(ROOT)) for path in ROOT.glob(word)) if "*" in word else []
        words += matches or [word]
    return words


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""How a mutant is tried: tests run in a forked process in which one file of the simulation is the mutant.

A fork has pytest, Hypothesis and SciPy at hand, but nothing of the simulation or its tests: what these
work out once, as they are loaded or on first use, is so worked out from the mutant. Nothing is written.
"""

import importlib.abc
import importlib.machinery
import importlib.util
import json
import os
import resource
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, ModuleType

import hypothesis
import pytest

PACKAGES = Path("pysim")
QUIET = ["-x", "-q", "--tb=no", "--noconftest", "-p", "no:cacheprovider", "-p", "no:xdist"]

# The same examples each time, and no search for the simplest one: that it fails is enough.
hypothesis.settings.register_profile(
    "mutation",
    derandomize=True,
    database=None,
    deadline=None,
    phases=[hypothesis.Phase.explicit, hypothesis.Phase.generate],
    report_multiple_bugs=False,
)


@dataclass(frozen=True)
class Coverage:
    """What a file of tests takes, in the processor's seconds, and the first lines of what it enters."""

    tests: Path
    took_s: float
    ran: dict[str, list[int]]
    passed: bool


class _Stand(importlib.machinery.SourceFileLoader):
    """Loads a module from other source than its file's."""

    def __init__(self, name: str, path: str, code: str) -> None:
        super().__init__(name, path)
        self.code = code

    def get_code(self, fullname: str) -> CodeType:
        return compile(self.code, self.path, "exec", dont_inherit=True)


class _Finder(importlib.abc.MetaPathFinder):
    def __init__(self, path: Path, code: str) -> None:
        self.name = ".".join(path.relative_to(PACKAGES).with_suffix("").parts)
        self.path, self.code = str(path.resolve()), code

    def find_spec(
        self, fullname: str, path: object = None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if fullname != self.name:
            return None
        loader = _Stand(fullname, self.path, self.code)
        return importlib.util.spec_from_file_location(fullname, self.path, loader=loader)


def cover(tests: Path, place: Path, note: Path) -> Coverage:
    """Run one file of tests on the true source, in a fork; note which functions under `place` it enters."""
    pid = os.fork()
    if pid == 0:
        ran: dict[str, set[int]] = {}
        inside = str(place.resolve())

        def entered(code: CodeType, offset: int) -> object:
            if code.co_filename.startswith(inside):
                file = str(Path(code.co_filename).relative_to(Path.cwd()))
                ran.setdefault(file, set()).add(code.co_firstlineno)
            return sys.monitoring.DISABLE

        sys.monitoring.use_tool_id(sys.monitoring.COVERAGE_ID, "mutation")
        sys.monitoring.register_callback(sys.monitoring.COVERAGE_ID, sys.monitoring.events.PY_START, entered)
        sys.monitoring.set_events(sys.monitoring.COVERAGE_ID, sys.monitoring.events.PY_START)
        started = time.process_time()
        code = _pytest([tests])
        took_s = time.process_time() - started
        note.write_text(json.dumps([took_s, {name: sorted(lines) for name, lines in ran.items()}]))
        os._exit(code)
    passed = os.waitpid(pid, 0)[1] == 0
    took_s, lines = json.loads(note.read_text())
    return Coverage(tests, took_s, lines, passed)


def start(path: Path, code: str, tests: list[Path], patience_s: int) -> int:
    """Fork a process that runs tests with `code` in the place of a file, and give its number."""
    pid = os.fork()
    if pid == 0:
        # The processor's time, so that a busy machine kills no mutant.
        resource.setrlimit(resource.RLIMIT_CPU, (patience_s, patience_s + 5))
        sys.meta_path.insert(0, _Finder(path, code))
        os._exit(_pytest(tests))
    return pid


def verdict(status: int) -> str:
    """How a trial ended, from its process's status: `killed`, `timeout` or `survived`."""
    if os.WIFSIGNALED(status):
        return "timeout"
    code = os.waitstatus_to_exitcode(status)
    if code in (pytest.ExitCode.USAGE_ERROR, pytest.ExitCode.NO_TESTS_COLLECTED):
        raise RuntimeError(f"pytest could not run the tests: it ended with {code}")
    return "survived" if code == 0 else "killed"


def _pytest(tests: list[Path]) -> int:
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, 1)
    os.dup2(nothing, 2)
    hypothesis.settings.load_profile("mutation")
    for file in tests:  # one by one, so that no file is read after the one that fails
        if code := int(pytest.main([*QUIET, str(file)])):
            return code
    return 0

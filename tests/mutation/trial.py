"""How a mutant is tried: tests run in a forked process in which one file of the simulation is the mutant.

A fork has pytest, Hypothesis and SciPy at hand, but nothing of the simulation or its tests: what these
work out once, as they are loaded or on first use, is so worked out from the mutant. Nothing is written.
"""

import functools
import importlib.abc
import importlib.machinery
import importlib.util
import json
import os
import resource
import sys
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, ModuleType

import hypothesis
import pytest

from tests.mutation.entering import Notes, Plugin

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
    """What a test function takes, in the processor's seconds, and the first lines of what it enters, by
    file.
    """

    test: str
    took_s: float
    ran: dict[str, list[int]]


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


def cover_all(files: list[Path], place: Path, folder: Path, jobs: int) -> tuple[list[Coverage], list[str]]:
    """Run files of tests on the true source, some at a time, each in a fork; note which functions under
    `place` each test enters. Also the files in which one fails. `folder` is for notes.
    """
    notes = {tests: folder / f"{i}.json" for i, tests in enumerate(files)}
    running: dict[int, Path] = {}
    failed: set[Path] = set()
    for tests in [*files, None]:
        while running and (tests is None or len(running) >= jobs):
            pid, status = os.wait()
            ended = running.pop(pid)
            if status != 0:
                failed.add(ended)
        if tests is not None:
            running[_cover(tests, place, notes[tests])] = tests
    covered = [
        Coverage(name, took_s, ran)
        for tests in files
        if tests not in failed
        for name, took_s, ran in json.loads(notes[tests].read_text())
    ]
    return covered, [str(tests) for tests in files if tests in failed]


def _cover(tests: Path, place: Path, note: Path) -> int:
    pid = os.fork()
    if pid == 0:
        notes = Notes(place)
        functools.cache = notes.cache  # type: ignore[assignment]
        plugin = Plugin(notes)
        code = _pytest([str(tests)], plugin)
        told = []
        for name, took_s in plugin.took_s.items():
            ran: dict[str, list[int]] = {}
            for file, line in sorted(plugin.entered[name] | plugin.shared):
                ran.setdefault(file, []).append(line)
            told.append([name, took_s, ran])
        note.write_text(json.dumps(told))
        os._exit(code)
    return pid


def start(path: Path, code: str, tests: list[list[str]], patience_s: int) -> int:
    """Fork a process that runs tests with `code` in the place of a file, and give its number.

    `tests` are lists of test functions: one list is run whole before the next is loaded.
    """
    pid = os.fork()
    if pid == 0:
        # The processor's time, so that a busy machine kills no mutant.
        resource.setrlimit(resource.RLIMIT_CPU, (patience_s, patience_s + 5))
        sys.meta_path.insert(0, _Finder(path, code))
        code_of_all = 0
        for names in tests:
            code_of_all = code_of_all or _pytest(names)
        os._exit(code_of_all)
    return pid


def verdict(status: int) -> str:
    """How a trial ended, from its process's status: `killed`, `timeout` or `survived`."""
    if os.WIFSIGNALED(status):
        return "timeout"
    code = os.waitstatus_to_exitcode(status)
    if code == pytest.ExitCode.NO_TESTS_COLLECTED:
        raise RuntimeError(f"pytest could not run the tests: it ended with {code}")
    # A file of tests that flies as it is loaded, and cannot with the mutant, is a usage error to pytest.
    return "survived" if code == 0 else "killed"


def _pytest(tests: list[str], *plugins: object) -> int:
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, 1)
    os.dup2(nothing, 2)
    hypothesis.settings.load_profile("mutation")
    return int(pytest.main([*QUIET, *tests], plugins=list(plugins)))

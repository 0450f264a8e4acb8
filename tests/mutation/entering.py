"""Which functions of the simulation each test enters, so that a mutant is tried on those tests alone.

A test also enters what a fixture of its module, a cached helper or the loading of its file has entered for
it: the result that it looks at was made there, once for all.
"""

import functools
import sys
import time
from collections.abc import Callable, Generator, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import CodeType
from typing import Any

import pytest

type Entered = set[tuple[str, int]]
"""Functions by file and first line."""


class Notes:
    """What is entered under a folder, for as long as somebody asks."""

    def __init__(self, place: Path) -> None:
        self.inside = str(place.resolve())
        self.here = Path.cwd()
        self.asking: list[Entered] = []
        sys.monitoring.use_tool_id(sys.monitoring.COVERAGE_ID, "mutation")
        events = sys.monitoring.events.PY_START
        sys.monitoring.register_callback(sys.monitoring.COVERAGE_ID, events, self._start)
        sys.monitoring.set_events(sys.monitoring.COVERAGE_ID, events)

    def _start(self, code: CodeType, offset: int) -> object:
        if self.asking and code.co_filename.startswith(self.inside):
            file = str(Path(code.co_filename).relative_to(self.here))
            self.asking[-1].add((file, code.co_firstlineno))
        return sys.monitoring.DISABLE

    @contextmanager
    def taken(self) -> Iterator[Entered]:
        """What is entered within; whoever asks around it has that too."""
        own: Entered = set()
        self.asking.append(own)
        sys.monitoring.restart_events()
        try:
            yield own
        finally:
            self.asking.pop()
            self.add(own)
            sys.monitoring.restart_events()

    def add(self, entered: Entered) -> None:
        """Count functions as entered for whoever asks now."""
        if self.asking:
            self.asking[-1] |= entered

    def cache(self, function: Callable[..., Any]) -> Callable[..., Any]:
        """`functools.cache` that counts what a kept result once entered, each time that it is handed out."""
        kept = functools.lru_cache(maxsize=None)(function)
        before: dict[object, Entered] = {}

        @functools.wraps(function)
        def call(*given: Any, **named: Any) -> Any:
            key = (given, tuple(sorted(named.items())))
            if key in before:
                self.add(before[key])
                return kept(*given, **named)
            with self.taken() as entered:
                result = kept(*given, **named)
            before[key] = entered
            return result

        call.cache_clear = kept.cache_clear  # type: ignore[attr-defined]
        return call


class Plugin:
    """Pytest's plugin that gathers, for each test function of a file, its seconds and what it enters."""

    def __init__(self, notes: Notes) -> None:
        self.notes = notes
        self.shared: Entered = set()
        self.took_s: dict[str, float] = {}
        self.entered: dict[str, Entered] = {}

    @pytest.hookimpl(wrapper=True)
    def pytest_collection(self) -> Generator[None, object, object]:
        """What the loading of a file enters is for all its tests."""
        with self.notes.taken() as entered:
            result = yield
        self.shared |= entered
        return result

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: Any) -> Generator[None, object, object]:
        """What a fixture enters for several tests is for all of them."""
        with self.notes.taken() as entered:
            result = yield
        if fixturedef.scope != "function":
            self.shared |= entered
        return result

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, object, object]:
        """One test; those that differ by parameters alone count as one."""
        name = item.nodeid.partition("[")[0]
        started = time.process_time()
        with self.notes.taken() as entered:
            result = yield
        self.took_s[name] = self.took_s.get(name, 0.0) + time.process_time() - started
        self.entered.setdefault(name, set()).update(entered)
        return result

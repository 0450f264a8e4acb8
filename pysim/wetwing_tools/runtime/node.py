"""Runs the browser's Python under Node: for the build, and for tests that ask the built runtime something."""

import json
import subprocess
from dataclasses import dataclass
from pathlib import Path

from wetwing_tools.runtime.sources import HERE, Sources

START_LIMIT_S = 180


class StartFailed(Exception):
    """The browser's Python did not do under Node what it was asked."""


@dataclass(frozen=True)
class Start:
    """One start of the browser's Python: with which library, package and kept memory."""

    sources: Sources
    library: Path
    package: Path
    snapshot: Path | None = None

    def run(self, script: Path) -> str:
        """Run a Python file inside; return its last value, which must be text (or nothing)."""
        return self._node(run=str(script))

    def keep_memory(self, script: Path, snapshot: Path) -> None:
        """Run a Python file inside, then write the memory to `snapshot`."""
        self._node(run=str(script), keep=str(snapshot))

    def ask(self, requests: Path) -> list[str]:
        """Send a JSON file's list of requests to the package's door; return the answers' texts."""
        answers: list[str] = json.loads(self._node(ask=str(requests)))
        return answers

    def _node(self, **what: str) -> str:
        task = {
            "pyodide": str(self.sources.pyodide),
            "wheelScript": (self.sources.page_scripts / "wheel.js").as_uri(),
            "library": str(self.library),
            "package": str(self.package),
            **({"snapshot": str(self.snapshot)} if self.snapshot else {}),
            **what,
        }
        command = [str(self.sources.node), str(HERE / "start.mjs"), json.dumps(task)]
        done = subprocess.run(command, capture_output=True, text=True, timeout=START_LIMIT_S)
        if done.returncode:
            raise StartFailed(f"the browser's Python failed under Node:\n{done.stderr[-4000:]}")
        return done.stdout

"""Finds what the runtime is made of, and says by one hash whether any of it has changed."""

import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[2]

# The release that the worker's source and the snapshot were tried with. Another one may start and still be
# wrong.
PYODIDE_VERSION = "0.29.5"
PYODIDE_FILES = (
    "pyodide.js",
    "pyodide.mjs",
    "pyodide.asm.js",
    "pyodide.asm.wasm",
    "pyodide-lock.json",
    "python_stdlib.zip",
)


class MissingSource(Exception):
    """Something that the runtime is made of is not there, or of another version."""


@dataclass(frozen=True)
class Sources:
    """Where everything is that the runtime is made of."""

    package: Path  # folder of the simulation, `wetwing`
    pyodide: Path  # folder of the Pyodide release
    page_scripts: Path  # folder of the page's side, with worker.js and wheel.js
    node: Path

    @property
    def package_version(self) -> str:
        """The simulation's version, as its `__init__.py` states it."""
        found = re.search(
            r'^__version__ = "([^"]+)"', (self.package / "__init__.py").read_text("utf-8"), re.M
        )
        if found is None:
            raise MissingSource(f'{self.package.name}/__init__.py: no line `__version__ = "…"`')
        return found[1]

    def digest(self) -> str:
        """Return 32 hex digits over all inputs: equal inputs give an equal bundle."""
        total = hashlib.sha256(sys.version.encode())
        files = [self.pyodide / name for name in PYODIDE_FILES]
        files += [self.page_scripts / name for name in ("worker.js", "wheel.js")]
        files += [path for path in sorted(HERE.iterdir()) if path.suffix in {".py", ".mjs"}]
        files += [
            path for path in sorted(self.package.rglob("*")) if path.is_file() and path.suffix != ".pyc"
        ]
        for path in files:
            name = path.relative_to(self.package.parent) if path.is_relative_to(self.package) else path.name
            total.update(f"{name}:".encode())
            total.update(hashlib.sha256(path.read_bytes()).digest())
        return total.hexdigest()[:32]


def find(root: Path = ROOT) -> Sources:
    """Return the sources under the repository's root.

    Raises:
        MissingSource: with what is missing and what to do about it.
    """
    pyodide = root / "node_modules" / "pyodide"
    for name in (*PYODIDE_FILES, "package.json"):
        if not (pyodide / name).is_file():
            raise MissingSource(f"node_modules/pyodide/{name} is missing; run `make setup`.")
    version = json.loads((pyodide / "package.json").read_text("utf-8"))["version"]
    if version != PYODIDE_VERSION:
        raise MissingSource(
            f"node_modules/pyodide is version {version}; the runtime is made for {PYODIDE_VERSION}. "
            "Run `make setup`, or try the new version and change PYODIDE_VERSION."
        )
    return Sources(
        package=root / "pysim" / "wetwing",
        pyodide=pyodide,
        page_scripts=root / "docs" / "panel" / "runtime",
        node=find_node(),
    )


def find_node() -> Path:
    """Return a Node of version 18 or later: beside this Python first, then on the path.

    Raises:
        MissingSource: there is none.
    """
    places = os.pathsep.join([str(Path(sys.executable).parent), os.environ.get("PATH", os.defpath)])
    found = shutil.which("node", path=places)
    if found is None:
        raise MissingSource("no Node here; run `make setup`, which brings one.")
    shown = subprocess.run([found, "--version"], capture_output=True, text=True).stdout.strip()
    digits = re.match(r"v(\d+)\.", shown)
    if digits is None or int(digits[1]) < 18:
        raise MissingSource(
            f"Node {shown or 'of unknown version'} is too old; version 18 or later is needed."
        )
    return Path(found)

"""Asks a built runtime under Node, so that its answers can be compared with those of this desk's Python."""

import dataclasses
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

from wetwing_tools.runtime import RuntimeBundle, parts
from wetwing_tools.runtime.node import Start
from wetwing_tools.runtime.sources import Sources

# The scripts of the release, as installed; interpreter, library, package and memory come from the bundle.
SCRIPTS = ("pyodide.mjs", "pyodide.asm.js", "pyodide-lock.json")


def ask_under_node(
    bundle: RuntimeBundle, sources: Sources, requests: list[str], scratch: Path, *, snapshot: bool = True
) -> list[str]:
    """Return the answers of a built runtime, as texts; from its kept memory, or from its byte-code alone."""
    scratch.mkdir(exist_ok=True)
    for name in SCRIPTS:
        shutil.copy(sources.pyodide / name, scratch / name)
    names = {
        "wasm": "pyodide.asm.wasm",
        "library": "library.zip",
        "package": "package.whl",
        "snapshot": "memory",
    }
    for piece, name in names.items():
        files = [file for file, _ in bundle.manifest["pieces"][piece]]
        (scratch / name).write_bytes(parts.join(bundle.path, files))
    asked = scratch / "requests.json"
    asked.write_text(json.dumps(requests), "utf-8")
    start = Start(
        dataclasses.replace(sources, pyodide=scratch),
        scratch / "library.zip",
        scratch / "package.whl",
        scratch / "memory" if snapshot else None,
    )
    return start.ask(asked)


def ask_on_this_desk(package: Path, requests: list[str], *, hash_seed: str = "random") -> list[str]:
    """Return the answers of a package's door in a fresh process of this Python."""
    code = (
        "import json, sys\n"
        "from wetwing.browser import answer\n"
        "print(json.dumps([answer(request) for request in json.load(sys.stdin)]))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": str(package.parent), "PYTHONHASHSEED": hash_seed},
        input=json.dumps(requests),
        capture_output=True,
        text=True,
        check=True,
    )
    answers: list[str] = json.loads(done.stdout)
    return answers

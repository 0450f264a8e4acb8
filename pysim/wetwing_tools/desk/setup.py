"""Fill `.venv` and `node_modules` with the pinned, hash-checked parts that this repository names.

This one file runs before anything is installed, so it keeps to the standard library of Python 3.11, and is
started by its path, never imported. It changes nothing outside the repository.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
VENV = ROOT / ".venv"
VENV_PYTHON = VENV / "bin" / "python"
NODE_MODULES = ROOT / "node_modules"
STAMP = VENV / "ready.json"
PRIVATE_UV = ROOT / ".cache" / "uv-from-pip"
EDITABLE = ["--no-deps", "--no-build-isolation", "--editable", "."]
OLDEST_UV = (0, 5)
OLDEST_NODE = 18


class SetupFailed(Exception):
    """A step failed; the text says which, and what the reader can do."""


def main() -> int:
    """Do what is missing, say each step on one line, and return the exit code."""
    try:
        python_wanted = (ROOT / ".python-version").read_text().strip()
        if _is_ready(python_wanted):
            return 0
        _set_up(python_wanted)
    except SetupFailed as fault:
        print(f"setup: {fault}", file=sys.stderr)
        return 1
    return 0


def _set_up(python_wanted: str) -> None:
    STAMP.unlink(missing_ok=True)  # an interrupted run must not look like a finished one
    uv = _find_uv() or _fetch_uv()

    if _version_of_venv() != python_wanted or _was_moved():
        shutil.rmtree(VENV, ignore_errors=True)
        _say(f"making .venv with Python {python_wanted}")
        _run(
            [uv, "venv", "--quiet", "--python", python_wanted, str(VENV)],
            f"no Python {python_wanted} could be found or fetched; install it, so that "
            f"`python{python_wanted}` runs, then try again",
        )

    # Asked of the machine alone: a Node that an earlier run put into .venv is installed again by this one.
    own_node = _has_node(_machine_path())
    pins = ["requirements/desk.txt"] + ([] if own_node else ["requirements/node.txt"])
    _say("installing the Python parts" + ("" if own_node else ", and Node, which this machine lacks"))
    _run(
        [uv, "pip", "sync", "--quiet", "--require-hashes", "--python", str(VENV_PYTHON), *pins],
        "the Python package registry could not be reached, or a package did not have the pinned hash",
    )
    _run(
        [uv, "pip", "install", "--quiet", "--python", str(VENV_PYTHON), *EDITABLE],
        "the project itself could not be installed into .venv",
    )

    _say("installing the Node parts")
    _run(
        ["npm", "ci", "--no-progress", "--loglevel=error"],
        "the Node package registry could not be reached, or a package did not have the pinned hash",
    )
    STAMP.write_text(json.dumps({"inputs": _hash_of_inputs(), "folder": str(ROOT)}) + "\n")
    _say("ready")


def _is_ready(python_wanted: str) -> bool:
    """Tell whether the last finished run had these inputs in this folder, and what it made still stands."""
    try:
        stamp = json.loads(STAMP.read_text())
    except (OSError, ValueError):
        return False
    return bool(
        stamp == {"inputs": _hash_of_inputs(), "folder": str(ROOT)}
        and (NODE_MODULES / ".package-lock.json").exists()
        and (VENV / "bin" / "wetwing").exists()
        and _version_of_venv() == python_wanted
        and _has_node(_path())
    )


def _hash_of_inputs() -> str:
    """Hash what setup depends on: contents, not dates, since a fresh clone dates every file alike."""
    names = (".python-version", "pyproject.toml", "package.json", "package-lock.json")
    inputs = [ROOT / name for name in names]
    inputs += sorted((ROOT / "requirements").glob("*.txt"))
    total = hashlib.sha256(Path(__file__).read_bytes())
    for path in inputs:
        total.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    return total.hexdigest()


def _find_uv() -> str | None:
    """Find a uv that runs here. A version manager's stand-in may be on the path and yet refuse to run."""
    for candidate in (shutil.which("uv"), str(PRIVATE_UV / "bin" / "uv")):
        words = (_output_of([candidate, "--version"]) or "").split() if candidate else []
        if candidate and len(words) > 1 and _numbers(words[1])[:2] >= OLDEST_UV:
            return candidate
    return None


def _fetch_uv() -> str:
    """Fetch the pinned uv with pip into a folder of the repository, so that nothing global changes."""
    _say("fetching uv with pip")
    shutil.rmtree(PRIVATE_UV, ignore_errors=True)
    pins = ["--quiet", "--require-hashes", "--only-binary", ":all:", "-r", "requirements/uv.txt"]
    if _output_of([sys.executable, "-m", "venv", str(PRIVATE_UV)]) is not None:
        pip = [str(PRIVATE_UV / "bin" / "python"), "-m", "pip", "install"]
    else:  # some distributions ship Python without what `venv` needs
        shutil.rmtree(PRIVATE_UV, ignore_errors=True)
        pip = [sys.executable, "-m", "pip", "install", "--target", str(PRIVATE_UV)]
    _run(
        pip + pins,
        "no uv on the path, and pip could not fetch it; install uv, or Python's venv and pip, then try again",
    )
    return str(PRIVATE_UV / "bin" / "uv")


def _version_of_venv() -> str | None:
    """Give `3.13` for the Python in `.venv`; None if there is none that runs."""
    text = _output_of([str(VENV_PYTHON), "-c", "import sys; print('%d.%d' % sys.version_info[:2])"])
    return text.strip() if text else None


def _was_moved() -> bool:
    """Tell whether `.venv` was made in another folder: its programs then start a Python that isn't there."""
    try:
        return str(VENV) not in (VENV / "bin" / "wetwing").read_text()[:500]
    except OSError:
        return False


def _has_node(path: str) -> bool:
    """Tell whether a Node and npm that are new enough run from a search path."""
    node = _numbers((_output_of(["node", "--version"], path) or "").lstrip("v"))
    return node[:1] >= (OLDEST_NODE,) and _output_of(["npm", "--version"], path) is not None


def _numbers(version: str) -> tuple[int, ...]:
    return tuple(int(part) for part in version.strip().split(".") if part.isdigit())


def _machine_path() -> str:
    """The caller's search path without `.venv`."""
    folders = os.environ.get("PATH", os.defpath).split(os.pathsep)
    return os.pathsep.join(folder for folder in folders if Path(folder) != VENV / "bin")


def _path() -> str:
    """The search path with `.venv` first."""
    return f"{VENV / 'bin'}{os.pathsep}{_machine_path()}"


def _environment(path: str) -> dict[str, str]:
    """Set the search path, and hide any environment that the caller has switched on."""
    env = {name: value for name, value in os.environ.items() if name not in ("VIRTUAL_ENV", "CONDA_PREFIX")}
    return {**env, "PATH": path}


def _output_of(command: list[str], path: str | None = None) -> str | None:
    """Run quietly; None if the command is missing, fails or says nothing within a minute."""
    try:
        done = subprocess.run(
            command,
            cwd=ROOT,
            env=_environment(path or _path()),
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            timeout=60,
        )
    except (OSError, subprocess.TimeoutExpired):
        return None
    return done.stdout if done.returncode == 0 else None


def _run(command: list[str], if_it_fails: str) -> None:
    try:
        done = subprocess.run(command, cwd=ROOT, env=_environment(_path()), stdin=subprocess.DEVNULL)
    except OSError as fault:
        raise SetupFailed(f"{command[0]} could not be run ({fault.strerror}): {if_it_fails}") from fault
    if done.returncode != 0:
        raise SetupFailed(f"{Path(command[0]).name} ended with code {done.returncode}: {if_it_fails}")


def _say(text: str) -> None:
    print(f"setup: {text}", flush=True)


if __name__ == "__main__":
    sys.exit(main())

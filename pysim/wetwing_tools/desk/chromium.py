"""Find a Chromium for the browser tests, or bring one.

`WETWING_CHROMIUM` names one outright. Otherwise: one on the path, then the one that Playwright keeps, then
Playwright's own download (given up after two minutes, since behind some firewalls it never ends), then the
distribution's package where the caller may install it.
"""

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import sync_playwright

VARIABLE = "WETWING_CHROMIUM"
ON_THE_PATH = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
DOWNLOAD_LIMIT_S = 120
PACKAGE_LIMIT_S = 600


class NoBrowser(Exception):
    """No Chromium that runs was found or could be had."""


def find() -> Path | None:
    """Return a Chromium that starts, or None."""
    named = os.environ.get(VARIABLE)
    if named:
        if not starts(Path(named)):
            raise NoBrowser(f"{VARIABLE} names {named!r}, which does not start; unset it, or name another.")
        return Path(named)
    return next((path for path in _candidates() if starts(path)), None)


def ensure() -> Path:
    """Return a Chromium that starts, bringing one first if need be."""
    found = find()
    if found:
        return found
    print("browser: none found; trying Playwright's own", flush=True)
    run_limited([sys.executable, "-m", "playwright", "install", "chromium"], DOWNLOAD_LIMIT_S)
    found = find()
    if found:
        return found
    if install("chromium", "fonts-dejavu-core") and (found := find()):
        return found
    raise NoBrowser(
        "The browser tests need Chromium, and none could be had. Install your distribution's chromium "
        f"package, or set {VARIABLE} to the program's path."
    )


def install(*packages: str) -> bool:
    """Install packages of the distribution, where the caller may; say whether it was tried."""
    if not shutil.which("apt-get") or os.geteuid() != 0:
        return False
    print(f"browser: installing {' and '.join(packages)}", flush=True)
    run_limited(["apt-get", "update", "-qq"], PACKAGE_LIMIT_S)
    run_limited(["apt-get", "install", "-y", "-qq", "--no-install-recommends", *packages], PACKAGE_LIMIT_S)
    return True


def _candidates() -> Iterator[Path]:
    for name in ON_THE_PATH:
        if found := shutil.which(name):
            yield Path(found)
    with sync_playwright() as playwright:
        yield Path(playwright.chromium.executable_path)


def starts(program: Path) -> bool:
    """Ask for the version: it fails when the program, or a library that it needs, is missing."""
    try:
        command = [str(program), "--version", "--no-sandbox", "--headless"]
        return subprocess.run(command, capture_output=True, timeout=30).returncode == 0
    except (OSError, subprocess.TimeoutExpired):
        return False


def run_limited(command: list[str], limit_s: int) -> None:
    """Run, and end the whole process group at the limit; the caller looks at what came of it."""
    env = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    try:
        process = subprocess.Popen(command, env=env, stdin=subprocess.DEVNULL, start_new_session=True)
    except OSError as fault:
        print(f"browser: {command[0]} could not be run ({fault.strerror})", flush=True)
        return
    try:
        process.wait(limit_s)
    except subprocess.TimeoutExpired:
        print(f"browser: {command[0]} gave no result in {limit_s} s", flush=True)
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()

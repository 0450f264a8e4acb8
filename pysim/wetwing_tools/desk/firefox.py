"""Find a Firefox for the tests in a second engine, or bring one.

`WETWING_FIREFOX` names one outright. Otherwise: one on the path, then the distribution's package where the
caller may install it.
"""

import os
import shutil
from pathlib import Path

from wetwing_tools.desk.chromium import NoBrowser, install, starts

VARIABLE = "WETWING_FIREFOX"
ON_THE_PATH = ("firefox", "firefox-esr")


def find() -> Path | None:
    """Return a Firefox that starts, or None."""
    named = os.environ.get(VARIABLE)
    if named:
        if not starts(Path(named)):
            raise NoBrowser(f"{VARIABLE} names {named!r}, which does not start; unset it, or name another.")
        return Path(named)
    found = (shutil.which(name) for name in ON_THE_PATH)
    return next((Path(path) for path in found if path and starts(Path(path))), None)


def ensure() -> Path:
    """Return a Firefox that starts, bringing one first if need be."""
    found = find()
    if found is None and install("firefox-esr"):
        found = find()
    if found is None:
        raise NoBrowser(
            "The tests in a second engine need Firefox, and none could be had. Install your distribution's "
            f"firefox or firefox-esr package, or set {VARIABLE} to the program's path."
        )
    return found

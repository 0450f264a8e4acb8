"""Runs inside the browser's Python at build time, before its memory is kept: imports and warms the package.

What is left in memory here is what every reader's start finds there: the modules, their data read once, and
nothing of the warming itself. Nothing here may keep an object of the JavaScript side alive.
"""

import gc
import linecache
import sys


def warm() -> None:
    """Import the package's door, let it read its data, ask it one thing, and say in one line how it went."""
    import json
    import traceback  # noqa: F401  a failure in the page must not have to read a module first

    import wetwing.browser

    warm_up = getattr(wetwing.browser, "warm_up", None)
    if warm_up is not None:
        warm_up()
    answer = json.loads(wetwing.browser.answer('{"ask": "hello"}'))
    print(f"warmed; the package answers with ok: {answer.get('ok')}")


warm()
linecache.clearcache()
sys.path_importer_cache.clear()
gc.collect()
del warm, gc, linecache, sys

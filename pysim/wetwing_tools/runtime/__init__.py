"""Makes the runtime of the page: Python, the simulation and a quick start, as scripts that any host can
serve.

`build` is what the site's plugin calls; `python -m wetwing_tools.runtime --out DIR` does the same by hand.
"""

from wetwing_tools.runtime.archives import ArchiveError
from wetwing_tools.runtime.bundle import BundleFile, RuntimeBundle, build, describe
from wetwing_tools.runtime.node import StartFailed
from wetwing_tools.runtime.sources import MissingSource

__all__ = ["ArchiveError", "BundleFile", "MissingSource", "RuntimeBundle", "StartFailed", "build", "describe"]

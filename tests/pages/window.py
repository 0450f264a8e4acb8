"""One window that goes from page to page of the built site, so that the theme's scripts are read once.

To open a window and to fill it with the theme and the panel takes a browser longer than all that a test asks
of most pages. Each visit finds what a new reader's browser holds: nothing stored, the usual width and scheme.
"""

from playwright.sync_api import Browser, Page

from tests.pages.reader import AXE, RUNTIME, Reader
from tests.runtime.host import Host, Reply
from tests.runtime.pages import PATIENCE_S

WIDTH, HEIGHT = 1280, 900


# Where a page names no icon, a browser asks the host for one in its own time: maybe within the next visit.
NOWHERE = "nowhere.html"
EMPTY = Reply(b'<!doctype html><title>Nowhere</title><link rel="icon" href="data:,">', 200, "text/html")
# A script that comes from a host is kept by the browser ready to run; what a test hands over is read anew.
JUDGE = "judge.js"


class HostWithoutRuntime(Host):
    """A host of the site on which no file of the runtime is to be had, so each panel shows its record."""

    def reply(self, path: str) -> Reply | None:
        """As any host's, but for the runtime's files, the page between two visits, and axe."""
        if path == f"/{NOWHERE}":
            return EMPTY
        if path == f"/{JUDGE}":
            return Reply(AXE.encode())
        if path.startswith(RUNTIME):
            return Reply(b"no runtime here", 404, "text/plain")
        return super().reply(path)


class Window:
    """A browser's window, visited by one reader after the other."""

    def __init__(self, browser: Browser, host: Host) -> None:
        self.host = host
        self.context = browser.new_context(
            viewport={"width": WIDTH, "height": HEIGHT}, color_scheme="light", reduced_motion="reduce"
        )
        self.context.set_default_timeout(PATIENCE_S * 1000)
        self.page: Page = self.context.new_page()
        self.devtools = self.context.new_cdp_session(self.page)
        self.reader: Reader | None = None

    def open(self, path: str) -> Reader:
        """Open a page for a new reader."""
        if self.reader:
            self._forget(self.reader)
        self.page.set_viewport_size({"width": WIDTH, "height": HEIGHT})
        self.page.emulate_media(color_scheme="light", forced_colors="none", media="screen")
        self.reader = Reader(self.page, no_runtime=True)
        self.page.goto(self.host.address(path))
        self.page.add_script_tag(url=self.host.address(JUDGE))
        return self.reader

    def _forget(self, reader: Reader) -> None:
        """Leave the page, then take away all that it has stored: some is stored as a page is left."""
        reader.leave()
        # What is stored for this window alone can be reached only from its host, and an empty page stores
        # nothing as it is left.
        self.page.goto(self.host.address(NOWHERE))
        self.page.evaluate("() => sessionStorage.clear()")
        origin = self.host.address("").removesuffix("/")
        self.devtools.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "all"})

    def close(self) -> None:
        """Close the window."""
        self.context.close()

"""A finger on the screen: taps, and drags of the browser's own touch events, which may scroll the page."""

from playwright.sync_api import Locator, Page

from tests.pages.reader import TWO_FRAMES

STEPS = 8
"""How many moves a drag is made of: a browser takes the first few for a finger that lies still."""
REST_MS = 100


class Finger:
    """One finger; it never uses the mouse."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.devtools = page.context.new_cdp_session(page)

    def _touch(self, kind: str, *places: tuple[float, float]) -> None:
        points = [{"x": x, "y": y} for x, y in places]
        self.devtools.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    def tap_at(self, target: Locator, across: float, down: float = 0.5) -> None:
        """Tap a place of something, as shares of its width and height; it is scrolled there first."""
        self.page.touchscreen.tap(*self.place(target, across, down))

    def place(self, target: Locator, across: float = 0.5, down: float = 0.5) -> tuple[float, float]:
        """Where a place of something is on the screen, in its middle if it has to be scrolled there."""
        target.evaluate("(own) => own.scrollIntoView({ block: 'center', behavior: 'instant' })")
        self.page.evaluate(TWO_FRAMES)
        box = target.bounding_box()
        assert box, "what is not on the screen can't be touched"
        return box["x"] + across * box["width"], box["y"] + down * box["height"]

    def drag(self, start: tuple[float, float], *ways: tuple[float, float], lift: bool = True) -> None:
        """Put the finger down, draw it along each way in turn (px right, px down), and lift it."""
        x, y = start
        self._touch("touchStart", (x, y))
        for right, down in ways:
            for step in range(1, STEPS + 1):
                self._touch("touchMove", (x + right * step / STEPS, y + down * step / STEPS))
            x, y = x + right, y + down
        if lift:
            self.lift()

    def lift(self) -> None:
        """Take the finger away when it rests: a page that still glides takes the next tap for its end."""
        self.page.wait_for_timeout(REST_MS)
        self._touch("touchEnd")
        self.page.evaluate(TWO_FRAMES)

    def scroll_from(self, target: Locator, up: float = 240.0) -> float:
        """Scroll the page with a finger that begins on something; return how far the page has gone, px."""
        start = self.place(target)
        before = float(self.page.evaluate("() => window.scrollY"))
        self.drag(start, (3.0, -up))
        return float(self.page.evaluate("() => window.scrollY")) - before

"""A reader at the panel of a page: what they do and what they see."""

import re
from pathlib import Path
from typing import Any

from playwright.sync_api import ConsoleMessage, Error, Page, Request, expect

from tests.runtime.pages import PATIENCE_S
from wetwing_tools.runtime.sources import ROOT

# What a page promises is waited for without end, even by a browser that draws no more frames; this is not.
PATIENTLY = f"""((coming) => Promise.race([coming, new Promise((_done, fail) =>
  setTimeout(() => fail(new Error("nothing came within {PATIENCE_S} s")), {1000 * PATIENCE_S}))]))"""
TWO_FRAMES = f"""() => {PATIENTLY}(
  new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))))"""
AXE = (ROOT / "node_modules" / "axe-core" / "axe.min.js").read_text("utf-8")
RUNTIME = "/assets/runtime/"
OWN_ADDRESSES = ("http://127.0.0.1:", "file://", "blob:", "data:")

# The panel paints before a frame, and the theme fades colours: what is seen sooner may be an earlier state.
SETTLED = """() =>
  ![...document.querySelectorAll("wet-wing-panel")].some((panel) => panel.painting) &&
  document.getAnimations().every(({ effect, playState }) =>
    playState !== "running" || effect.getComputedTiming().endTime === Infinity)"""


class Reader:
    """One page and what a person does with it."""

    def __init__(
        self, page: Page, *, scripts: bool = True, expect_errors: bool = False, no_runtime: bool = False
    ) -> None:
        self.page = page
        # Without scripts axe, which is one, can't be run: it would never answer.
        self.scripts = scripts
        self.strays: list[str] = []
        self.errors: list[str] = []
        self.expect_errors = expect_errors
        self.no_runtime = no_runtime
        page.context.on("request", self._note)
        page.on("console", self._heard)
        page.on("pageerror", self._failed)

    def leave(self) -> None:
        """Hear no more of the page, which somebody else reads next."""
        self.page.context.remove_listener("request", self._note)
        self.page.remove_listener("console", self._heard)
        self.page.remove_listener("pageerror", self._failed)

    def _note(self, request: Request) -> None:
        if not request.url.startswith(OWN_ADDRESSES):
            self.strays.append(request.url)

    def _heard(self, message: ConsoleMessage) -> None:
        url = message.location.get("url", "")
        # The browser itself tells of each file of a runtime that is held back.
        if message.type == "error" and not (self.no_runtime and RUNTIME in url):
            self.errors.append(f"{message.text} {url}")

    def _failed(self, error: Error) -> None:
        self.errors.append(str(error))

    def assert_clean(self) -> None:
        """No request has left the host, and nothing has failed in the page."""
        assert not self.strays, f"requests that left the host: {self.strays}"
        if not self.expect_errors:
            assert not self.errors, f"errors of the page: {self.errors}"

    # -- waiting

    def wait_until_live(self) -> None:
        """Wait until switches work."""
        self.page.wait_for_selector("wet-wing-panel[data-live]", state="attached")

    def wait_until_flown(self, edits: int) -> None:
        """Wait until the panel shows a flight with so many changes of the reader's."""
        expect(self.page.locator(".ww-edits > li")).to_have_count(edits)

    def settle(self) -> None:
        """Wait until what was asked for is painted and nothing moves any more."""
        self.page.wait_for_function(SETTLED)

    def resize(self, width: int) -> None:
        """Give the window another width, and wait until the page has laid itself out for it."""
        self.page.set_viewport_size({"width": width, "height": 900})
        self.page.wait_for_function("(width) => window.innerWidth === width", arg=width)
        self.page.evaluate(TWO_FRAMES)
        self.settle()

    # -- doing

    def go_to(self, time: str) -> None:
        """Type a time."""
        field = self.page.locator(".ww-time")
        field.fill(time)
        field.press("Enter")
        self.page.locator(".ww-now-time").click()
        expect(self.page.locator(".ww-now-time")).to_have_text(time.partition(".")[0])
        self.settle()

    def set_switch(self, part: str, state: str) -> None:
        """Set a switch of the panel with the mouse."""
        self.page.locator(f'[data-control="{part}"] label', has_text=state).click()

    def choose(self, part: str) -> None:
        """Ask about a part."""
        self.page.locator("select.ww-part").select_option(part)

    # -- seeing

    def figure(self, quantity: str) -> float:
        """A figure of the table of every figure, in the unit shown; of the first panel of two."""
        self.open_figures()
        text = self.page.locator(f'.ww-tables [data-value="{quantity}"]').first.text_content() or ""
        return float(text.replace(",", "").replace("\u2212", "-"))

    def open_figures(self) -> None:
        """Unfold the table of every figure; the panel hears of it a little later, and then paints it."""
        self.page.evaluate(
            f"""async () => {{
                 const table = document.querySelector('details.ww-figures');
                 if (table.open) return;
                 const told = new Promise((done) => table.addEventListener('toggle', done, {{ once: true }}));
                 table.open = true;
                 await {PATIENTLY}(told);
               }}"""
        )
        self.settle()

    def state(self, part: str) -> str:
        """A part's state in the table of every figure."""
        self.open_figures()
        return self.page.locator(f'.ww-tables [data-state="{part}"]').first.text_content() or ""

    def chain(self) -> str:
        """What the card says because of."""
        self.settle()
        return self.page.locator(".ww-because").inner_text()

    def text(self, selector: str) -> str:
        """The text of one element, as a person reads it."""
        self.settle()
        return re.sub(r"\s+", " ", self.page.locator(selector).first.inner_text()).strip()


def assert_accessible(page: Page, rules: tuple[str, ...] = (), without: tuple[str, ...] = ()) -> None:
    """Run axe on the page and allow nothing of WCAG 2.2 A and AA, nor of its best practices; or only some of
    its rules, such as those that another colour scheme can break; or `without` what some selectors find.
    """
    page.wait_for_function(SETTLED)
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate(AXE)
    found: list[dict[str, Any]] = page.evaluate(
        """async ([rules, without]) => {
             // What a reader has scrolled under the page's head is not covered by it for good.
             const { scrollX, scrollY } = window;
             window.scrollTo({ top: 0, behavior: "instant" });
             const { violations } = await axe.run(without.length ? { exclude: without } : document, {
               resultTypes: ["violations"],
               // Off by itself: the size of targets is of WCAG 2.2 alone.
               ...(rules.length ? {} : { rules: { "target-size": { enabled: true } } }),
               ...(rules.length ? { runOnly: { type: "rule", values: rules } } : {}),
             });
             window.scrollTo({ left: scrollX, top: scrollY, behavior: "instant" });
             return violations;
           }""",
        [list(rules), list(without)],
    )
    lines = [
        f"{violation['id']} ({violation['impact']}): {node['target']} {node['failureSummary']}"
        for violation in found
        for node in violation["nodes"][:3]
    ]
    assert not lines, "\n".join(lines)


def page_paths(site: Path) -> list[str]:
    """Every page of the site, as the host's paths."""
    return sorted(str(path.relative_to(site)) for path in site.rglob("*.html"))

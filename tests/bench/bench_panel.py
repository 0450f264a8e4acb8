"""How smoothly the panel of the built site paints, playing and scrubbed, and how soon a switch shows."""

import statistics
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from tests.bench.figures import tell
from tests.runtime.host import Host
from tests.runtime.pages import PATIENCE_S, launch
from wetwing_tools.runtime.sources import ROOT

PAGE = "phases/cruise.html"
FRAMES = 400

# The work of a frame, not the time between two, which a machine without a screen makes what it likes. The
# panel's own painting is followed by the browser's, which a read of the layout brings about.
WATCH = """(frames) => new Promise((done) => {
  const panel = document.querySelector("wet-wing-panel");
  const paint = panel.paint.bind(panel);
  const tookMs = [];
  panel.paint = () => {
    const begun = performance.now();
    paint();
    panel.getBoundingClientRect();
    tookMs.push(performance.now() - begun);
    if (tookMs.length === frames) {
      delete panel.paint;
      done(tookMs);
    }
  };
  const end = panel.flight.durationS;
  let at = 0;
  MOVE
})"""
PLAY = 'panel.querySelector(".ww-speed").value = "600"; panel.transport.start();'
SCRUB = """
  const move = () => {
    at += 1;
    panel.goTo((end * ((at * 37) % frames)) / frames, { scrubbing: true });
    if (at <= frames) requestAnimationFrame(move);
  };
  move();
"""
# First comes what is on show, once it is flown; then, with the rest, all that shows the whole flight.
SWITCH = """async (state) => {
  const panel = document.querySelector("wet-wing-panel");
  const paint = panel.paint.bind(panel);
  const begun = performance.now();
  let seenMs = null;
  panel.paint = () => {
    paint();
    panel.getBoundingClientRect();
    const shows = panel.onShow.at(panel.timeS).setting("centre-feed") === state;
    if (shows) seenMs ??= performance.now() - begun;
  };
  const problem = await panel.edit({ part: "centre-feed", state });
  panel.paint();
  delete panel.paint;
  if (problem) throw new Error(problem);
  return [seenMs, performance.now() - begun];
}"""


def late(page: Page, move: str) -> float:
    """The 95th percentile of the milliseconds that a frame's work takes."""
    took = sorted(page.evaluate(WATCH.replace("MOVE", move), FRAMES))
    page.evaluate("document.querySelector('wet-wing-panel').pause()")
    return float(took[int(0.95 * len(took))])


def main() -> None:
    """Measure and tell."""
    site = ROOT / "site"
    if not (site / PAGE).is_file():
        raise SystemExit("bench_panel: no built site; `make build` makes it")
    with sync_playwright() as playwright, Host(Path(site)) as host:
        browser = launch(playwright)
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        page.goto(host.address(PAGE))
        page.wait_for_selector("wet-wing-panel[data-live]", state="attached", timeout=PATIENCE_S * 1000)
        tell("panel, 95th percentile of a frame's work while scrubbing", late(page, SCRUB), "16", "ms")
        tell("panel, 95th percentile of a frame's work while playing at 600×", late(page, PLAY), "16", "ms")
        page.evaluate("document.querySelector('wet-wing-panel').goTo(6000)")
        # The first change of all has nothing to take up.
        page.evaluate(SWITCH, "manual")
        switches: list[list[float]] = []
        for i in range(8):
            page.evaluate("(s) => document.querySelector('wet-wing-panel').goTo(s)", 7000.0 + 500.0 * i)
            switches.append(page.evaluate(SWITCH, "automatic" if i % 2 == 0 else "manual"))
        seen, whole = (statistics.median(times) for times in zip(*switches, strict=True))
        tell("panel, from a switch to the redrawn picture", seen, "100", "ms")
        tell("panel, from a switch to the whole flight redrawn", whole, "none", "ms")
        browser.close()


if __name__ == "__main__":
    main()

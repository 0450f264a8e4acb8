"""The panel for an hour: it plays at 600×, is switched all the time, and must not grow.

`python -m tests.bench.soak_panel [minutes]` prints the page's and the worker's memory as it goes. It exits
with 1 if the page's heap at the end is more than a tenth above what it was after the first fifth.
"""

import sys
import time
from pathlib import Path

from playwright.sync_api import CDPSession, sync_playwright

from tests.runtime.host import Host
from tests.runtime.pages import PATIENCE_S, launch
from wetwing_tools.runtime.sources import ROOT

PAGE = "phases/cruise.html"
MOST_GROWTH = 1.1
TURN = """async (i) => {
  const panel = document.querySelector("wet-wing-panel");
  if (panel.edits.length >= 40) await panel.flyWith([]);
  const problem = await panel.edit({ part: "centre-feed", state: i % 2 ? "automatic" : "manual" });
  panel.querySelector(".ww-speed").value = "600";
  if (!panel.transport.playing) panel.transport.start();
  return problem;
}"""


def heap_mb(session: CDPSession) -> float:
    """What the page's script holds, after collection."""
    session.send("HeapProfiler.collectGarbage")
    metrics = {one["name"]: one["value"] for one in session.send("Performance.getMetrics")["metrics"]}
    return float(metrics["JSHeapUsedSize"]) / 1e6


def main(arguments: list[str]) -> int:
    """Play, switch, and tell."""
    minutes = float(arguments[0]) if arguments else 60.0
    with sync_playwright() as playwright, Host(Path(ROOT / "site")) as host:
        browser = launch(playwright)
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        failures: list[str] = []
        page.on("pageerror", lambda error: failures.append(str(error)))
        page.goto(host.address(PAGE))
        page.wait_for_selector("wet-wing-panel[data-live]", state="attached", timeout=PATIENCE_S * 1000)
        session = page.context.new_cdp_session(page)
        session.send("Performance.enable")
        begun = time.monotonic()
        edits, heaps, told_s = 0, [heap_mb(session)], 0.0
        while (passed_s := time.monotonic() - begun) < 60.0 * minutes:
            problem = page.evaluate(TURN, edits)
            if problem:
                failures.append(problem)
            edits += 1
            page.wait_for_timeout(2000)
            if passed_s - told_s >= 60.0 * minutes / 20:
                told_s = passed_s
                heaps.append(heap_mb(session))
                print(f"{passed_s / 60:5.1f} min, {edits:4} changes, heap {heaps[-1]:.2f} MB", flush=True)
        heaps.append(heap_mb(session))
        browser.close()
    early, last = heaps[max(1, len(heaps) // 5)], heaps[-1]
    print(f"{minutes:g} minutes, {edits} changes: heap {early:.2f} MB early, {last:.2f} MB at the end")
    for failure in dict.fromkeys(failures):
        print(f"failed: {failure}")
    return 1 if failures or last > MOST_GROWTH * early else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

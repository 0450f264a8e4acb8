"""How soon the page is live: against a default start that loads the same wheel, in one browser and run."""

import shutil
import statistics
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from tests.bench.figures import tell
from tests.runtime.host import Host
from tests.runtime.pages import bundle_page_script, launch, lay_out
from wetwing_tools.runtime import RuntimeBundle, archives, build
from wetwing_tools.runtime.sources import Sources, find

TIMES = 5
# The lightest request that the door answers: what is measured is the start, not a flight.
FIRST = '{"ask": "hello"}'

# What the release's own guide does: fetch its files from the server, unpack the wheel, import, ask.
DEFAULT_PAGE = """<!doctype html>
<title>Default start</title>
<link rel="icon" href="data:,">
<script type="module">
  const begun = performance.now();
  const { loadPyodide } = await import("./pyodide/pyodide.mjs");
  const pyodide = await loadPyodide({ indexURL: "pyodide/" });
  const wheel = await (await fetch("WHEEL")).arrayBuffer();
  pyodide.unpackArchive(wheel, "wheel");
  const answer = pyodide.runPython("from wetwing.browser import answer\\nanswer");
  self.answered = "ok" in JSON.parse(answer('REQUEST'));
  self.tookMs = performance.now() - begun;
</script>
"""

# The same for ours, within the page too, so that what drives the browser takes no part.
ASK = """
client.ask(REQUEST).then((answer) => {
  self.answered = "ok" in answer;
  self.tookMs = performance.now() - started;
});
"""


def lay_out_ours(site: Path, bundle: RuntimeBundle, page_script: Path) -> None:
    """Put a page into `site` that starts our runtime and asks at once."""
    lay_out(site, bundle, page_script)
    page = (site / "index.html").read_text("utf-8")
    (site / "ours.html").write_text(page.replace("</body>", '<script src="ask.js"></script></body>'), "utf-8")
    (site / "ask.js").write_text(ASK.replace("REQUEST", FIRST), "utf-8")


def lay_out_default(site: Path, sources: Sources) -> None:
    """Put a page into `site` that starts Pyodide as its guide says."""
    wheel = archives.write_wheel(
        site, "wetwing", sources.package_version, archives.package_files(sources.package)
    )
    shutil.copytree(
        sources.pyodide, site / "pyodide", ignore=shutil.ignore_patterns("*.map", "*.html", "*.ts")
    )
    text = DEFAULT_PAGE.replace("WHEEL", wheel.name).replace("", "")
    (site / "default.html").write_text(text.replace("REQUEST", FIRST), "utf-8")


def measure(browser: Browser, host: Host, path: str) -> tuple[float, float]:
    """Return the milliseconds to the first answer with an empty cache, and with a full one."""
    context = browser.new_context()
    took = []
    for _ in range(2):
        page = context.new_page()
        page.goto(host.address(path), wait_until="commit")
        page.wait_for_function("self.tookMs !== undefined", polling=50, timeout=60_000)
        if page.evaluate("answered") is not True:
            raise SystemExit(f"bench_start: {path} gave no answer, so its time says nothing")
        took.append(float(page.evaluate("tookMs")))
        page.close()
    context.close()
    return took[0], took[1]


def main() -> None:
    """Measure and tell."""
    sources = find()
    with tempfile.TemporaryDirectory() as scratch:
        site = Path(scratch) / "site"
        bundle = build(Path(scratch) / "runtime")
        lay_out_ours(site, bundle, bundle_page_script(Path(scratch) / "page.js"))
        lay_out_default(site, sources)
        with Host(site) as host, sync_playwright() as driver:
            browser = launch(driver)
            pairs = [
                (measure(browser, host, "ours.html"), measure(browser, host, "default.html"))
                for _ in range(TIMES)
            ]
            browser.close()
    # Each pair is measured within seconds, so that a slow minute of the machine falls on both.
    cold, warm = (statistics.median(ours[n] / default[n] for ours, default in pairs) for n in (0, 1))
    tell("live start", cold, "0.30")
    tell("live start, files in the browser's cache", warm, "none")
    tell("live start, first answer after", statistics.median(ours[0] for ours, _ in pairs), "none", "ms")
    tell("runtime's folder", bundle.total_bytes / 1e6, "15", "MB")


if __name__ == "__main__":
    main()

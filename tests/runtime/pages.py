"""Lays out the tests' page with a runtime, opens it in a browser, and asks it; for tests and measurements."""

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, Playwright

from wetwing_tools.desk import chromium
from wetwing_tools.runtime import RuntimeBundle
from wetwing_tools.runtime.sources import ROOT

HERE = Path(__file__).resolve().parent

# How long a test waits for what must come, however busy the machine is. Only a wrong product lets it run out.
PATIENCE_S = 60
# The runtime's own time limits, where a test is about none of them: so long that nothing comes of one.
UNHURRIED = dict.fromkeys(
    ("noticeS", "loadingS", "startingS", "greetingS", "answerS", "takenS"), 2.0 * PATIENCE_S
)

FLAGS = (
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # Every name but these leads nowhere: a request that leaves the host fails and is seen.
    "--host-resolver-rules=MAP insecure.test 127.0.0.1, MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
)


def bundle_page_script(script: Path) -> Path:
    """Write the page's side to `script` as one classic script, made as the site makes it."""
    esbuild = ROOT / "node_modules" / ".bin" / "esbuild"
    command = [esbuild, HERE / "page" / "entry.mjs", "--bundle", "--format=iife", f"--outfile={script}"]
    subprocess.run([str(word) for word in command], check=True, capture_output=True)
    return script


def lay_out(
    site: Path,
    bundle: RuntimeBundle,
    page_script: Path,
    *,
    limits: dict[str, float] | None = None,
    before: str = "",
) -> Path:
    """Put the tests' page and a runtime into `site`; `before` is a script that runs first. Return `site`."""
    shutil.copytree(HERE / "page", site, ignore=shutil.ignore_patterns("*.mjs"))
    shutil.copytree(bundle.path, site / "assets" / "runtime" / bundle.folder)
    shutil.copy(page_script, site / "page.js")
    settings = {
        "base": f"assets/runtime/{bundle.folder}/",
        "manifest": bundle.manifest,
        "limits": limits or {},
    }
    (site / "config.js").write_text(f"self.wetwingPage = {json.dumps(settings)};\n", "utf-8")
    (site / "before.js").write_text(before, "utf-8")
    return site


def launch(playwright: Playwright, *flags: str) -> Browser:
    """Start Chromium with the usual flags and some more."""
    path = str(chromium.ensure())
    return playwright.chromium.launch(
        executable_path=path, args=[*FLAGS, *flags], chromium_sandbox=False, timeout=PATIENCE_S * 1000
    )


def last_state(page: Page) -> dict[str, Any]:
    """Wait until the runtime is ready or has failed; return that state."""
    ended = "() => ['ready', 'failed'].includes(globalThis.heard?.at(-1)?.name)"
    page.wait_for_function(ended, timeout=PATIENCE_S * 1000, polling=50)
    state: dict[str, Any] = page.evaluate("() => heard.at(-1)")
    return state


def ask(page: Page, request: dict[str, Any]) -> dict[str, Any]:
    """Ask the page's runtime; return the answer, or as `fault` or `error` why there is none."""
    answer: dict[str, Any] = page.evaluate(
        """(request) => client.ask(request).catch(({ cause, title, message, name }) =>
             cause ? { fault: cause, title } : { error: message, name })""",
        request,
    )
    return answer

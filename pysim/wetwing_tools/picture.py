"""The README's picture: the panel of the cruise page, taken from the built site."""

import sys
import threading
from pathlib import Path

from playwright.sync_api import sync_playwright

from wetwing_tools.desk import chromium
from wetwing_tools.desk.serve import server_for

ROOT = Path(__file__).resolve().parents[2]
PAGE = "phases/cruise.html"
WIDTH_PX, HEIGHT_PX = 1240, 1600
"""High enough for the whole panel: where a page has to scroll, its head stands over the picture."""


def main(arguments: list[str]) -> int:
    """Write the picture to the path given; `make build` comes first."""
    if len(arguments) != 1:
        print("usage: python -m wetwing_tools.picture FILE.png", file=sys.stderr)
        return 2
    site = ROOT / "site"
    if not (site / PAGE).is_file():
        print(f"picture: {site / PAGE} is not there; `make build` makes it", file=sys.stderr)
        return 1
    take(site, Path(arguments[0]))
    return 0


def take(site: Path, picture: Path) -> None:
    """Open the cruise page of a built site, wait until it is live, and save its panel as PNG."""
    server = server_for(site, 8100)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(
                executable_path=str(chromium.ensure()), args=["--disable-gpu"], chromium_sandbox=False
            )
            page = browser.new_page(
                viewport={"width": WIDTH_PX, "height": HEIGHT_PX},
                reduced_motion="reduce",
                color_scheme="light",
            )
            page.goto(f"http://127.0.0.1:{server.server_port}/{PAGE}")
            page.wait_for_selector("wet-wing-panel[data-live]", state="attached")
            page.locator("wet-wing-panel .ww-frame").screenshot(path=picture, animations="disabled")
            browser.close()
    finally:
        server.shutdown()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

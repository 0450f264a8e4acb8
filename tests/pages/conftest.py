"""What the browser tests of the built site share: the site, a host for it, a browser, a check after each."""

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.pages.reader import Reader, assert_accessible
from tests.runtime.host import Host
from tests.runtime.pages import PATIENCE_S
from wetwing_tools.runtime.sources import ROOT

SITE = ROOT / "site"


@pytest.fixture(scope="session")
def site(pytestconfig: pytest.Config) -> Path:
    """The built site; `make build` makes it, and `--site FOLDER` names another."""
    found = Path(pytestconfig.getoption("--site") or SITE)
    if not (found / "index.html").is_file():
        pytest.fail(f"no built site in {found}: `make build` comes before these tests")
    return found


@pytest.fixture(scope="session")
def host(site: Path) -> Iterator[Host]:
    """A well-behaved host of the site."""
    with Host(site) as running:
        yield running


type OpenReader = Callable[..., Reader]


@pytest.fixture
def reader(browser: Browser, host: Host) -> Iterator[OpenReader]:
    """Open a page as a reader does; then: no request left the host, nothing failed, axe finds nothing."""
    with ExitStack() as ends:
        opened: list[Reader] = []

        def open_page(
            path: str,
            *,
            at: Host | None = None,
            folder: Path | None = None,
            width: int = 1280,
            dark: bool = False,
            block_runtime: bool = False,
            scripts: bool = True,
            expect_errors: bool = False,
            whole: bool = True,
        ) -> Reader:
            context: BrowserContext = browser.new_context(
                viewport={"width": width, "height": 900},
                color_scheme="dark" if dark else "light",
                reduced_motion="reduce",
                java_script_enabled=scripts,
            )
            ends.callback(context.close)
            context.set_default_timeout(PATIENCE_S * 1000)
            if block_runtime:
                context.route("**/assets/runtime/**", lambda route: route.abort())
            page: Page = context.new_page()
            own = Reader(page, scripts=scripts, expect_errors=expect_errors or block_runtime, whole=whole)
            page.goto(f"{folder.as_uri()}/{path}" if folder else (at or host).address(path))
            opened.append(own)
            return own

        yield open_page
        for own in opened:
            own.assert_clean()
            if own.scripts:
                assert_accessible(own.page, whole=own.whole)

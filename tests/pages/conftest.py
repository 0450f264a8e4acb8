"""What the browser tests of the built site share: the site, a host for it, a browser, a check after each."""

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.pages.reader import Reader, assert_accessible
from tests.pages.window import HostWithoutRuntime, Window
from tests.runtime.host import Host
from tests.runtime.pages import PATIENCE_S
from wetwing_tools.runtime.sources import ROOT

SITE = ROOT / "site"


def built_site(config: pytest.Config) -> Path:
    """Where the built site is to be: `make build` makes it, and `--site FOLDER` names another."""
    return Path(config.getoption("--site") or SITE)


@pytest.fixture(scope="session")
def site(pytestconfig: pytest.Config) -> Path:
    """The built site."""
    found = built_site(pytestconfig)
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
            touch: bool = False,
            block_runtime: bool = False,
            scripts: bool = True,
            expect_errors: bool = False,
        ) -> Reader:
            context: BrowserContext = browser.new_context(
                viewport={"width": width, "height": 900},
                color_scheme="dark" if dark else "light",
                reduced_motion="reduce",
                has_touch=touch,
                is_mobile=touch,
                java_script_enabled=scripts,
            )
            ends.callback(context.close)
            context.set_default_timeout(PATIENCE_S * 1000)
            if block_runtime:
                context.route("**/assets/runtime/**", lambda route: route.abort())
            page: Page = context.new_page()
            own = Reader(page, scripts=scripts, expect_errors=expect_errors, no_runtime=block_runtime)
            page.goto(f"{folder.as_uri()}/{path}" if folder else (at or host).address(path))
            opened.append(own)
            return own

        yield open_page
        for own in opened:
            own.assert_clean()
            if own.scripts:
                assert_accessible(own.page)


@pytest.fixture(scope="session")
def window(browser: Browser, site: Path) -> Iterator[Window]:
    """The window of all visits: a host of its own, since what it has read is kept and no runtime is there."""
    with HostWithoutRuntime(site, headers={"Cache-Control": "max-age=3600"}) as running:
        opened = Window(browser, running)
        yield opened
        opened.close()


type Visit = Callable[[str], Reader]


@pytest.fixture
def visit(window: Window) -> Iterator[Visit]:
    """Open a page as `reader` does, with the same checks afterwards, in the window of all visits, without the
    runtime.
    """
    visits: list[Reader] = []

    def open_page(path: str) -> Reader:
        for earlier in visits[-1:]:
            check(earlier)
        visits.append(window.open(path))
        return visits[-1]

    def check(own: Reader) -> None:
        own.assert_clean()
        assert_accessible(own.page)

    yield open_page
    for own in visits[-1:]:
        check(own)

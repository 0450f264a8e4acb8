"""What every browser test shares: one driver and one browser a process, since a process can have only one."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Playwright, expect, sync_playwright

from tests.runtime.pages import PATIENCE_S, launch


def pytest_addoption(parser: pytest.Parser) -> None:
    """`--site FOLDER`: a built site other than the one of `make build`."""
    parser.addoption("--site", default=None, help="the built site to test (default: site/)")


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """The browsers' driver."""
    expect.set_options(timeout=PATIENCE_S * 1000)
    with sync_playwright() as driver:
        yield driver


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """One browser for the session; each test has a context of its own, so an empty cache."""
    started = launch(playwright)
    yield started
    started.close()

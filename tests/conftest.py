"""What every browser test shares: one driver and one browser a process, since a process can have only one."""

import sys
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Playwright, expect, sync_playwright

from tests.runtime.pages import PATIENCE_S, launch

IN_A_BROWSER = ("tests/pages/", "tests/runtime/")
_tried_again: set[str] = set()


@pytest.hookimpl(optionalhook=True)
def pytest_handlecrashitem(crashitem: str, report: pytest.TestReport, sched: Any) -> None:
    """A browser test that ended its process is tried once more in a new one.

    So end those whose browser no longer answers (`faulthandler_timeout`). One of the touch tests has been
    seen to, once; why is not known. No other test is tried again: a hang of the simulation is a fault.
    """
    if crashitem in _tried_again or not crashitem.startswith(IN_A_BROWSER):
        return
    _tried_again.add(crashitem)
    print(f"\n{crashitem} ended its process, and is tried once more", file=sys.stderr)
    sched.mark_test_pending(crashitem)
    report.outcome = "rerun"


def pytest_report_teststatus(report: pytest.TestReport) -> tuple[str, str, str] | None:
    """Such a test is no failure yet."""
    return ("tried again", "R", "TRIED AGAIN") if str(report.outcome) == "rerun" else None


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

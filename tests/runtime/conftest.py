"""What the runtime's tests share: built bundles, the tests' page, a browser."""

import dataclasses
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from wetwing_tools.runtime import RuntimeBundle, build
from wetwing_tools.runtime.sources import Sources, find

from .pages import HERE, PATIENCE_S, UNHURRIED, bundle_page_script, lay_out


@pytest.fixture(scope="session")
def sources() -> Sources:
    """Where the real runtime is made from."""
    return find()


@pytest.fixture(scope="session")
def sample_sources(sources: Sources) -> Sources:
    """The same with the stand-in package, which can hang, raise and eat memory."""
    return dataclasses.replace(sources, package=HERE / "sample" / "wetwing")


@pytest.fixture(scope="session")
def real_bundle(tmp_path_factory: pytest.TempPathFactory) -> RuntimeBundle:
    """The runtime with the simulation, as the site holds it."""
    return build(tmp_path_factory.mktemp("real"))


@pytest.fixture(scope="session")
def sample_bundle(tmp_path_factory: pytest.TempPathFactory, sample_sources: Sources) -> RuntimeBundle:
    """The runtime with the stand-in package."""
    return build(tmp_path_factory.mktemp("sample"), sources=sample_sources)


@pytest.fixture(scope="session")
def page_script(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page's side as one classic script."""
    return bundle_page_script(tmp_path_factory.mktemp("page") / "page.js")


type MakeSite = Callable[..., Path]


@pytest.fixture
def make_site(tmp_path: Path, page_script: Path) -> MakeSite:
    """Lay out a folder with the tests' page and a runtime; return the folder.

    The runtime is unhurried, so that a slow machine changes nothing; `limits` are those that a test is about.
    """

    def make(bundle: RuntimeBundle, *, limits: dict[str, float] | None = None, before: str = "") -> Path:
        own = {**UNHURRIED, **(limits or {})}
        return lay_out(tmp_path / "site", bundle, page_script, limits=own, before=before)

    return make


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page of a fresh context that may reach no other host."""
    context = browser.new_context()
    context.set_default_timeout(PATIENCE_S * 1000)
    opened = context.new_page()
    strays: list[str] = []

    def note(url: str) -> None:
        if not url.startswith(("http://127.0.0.1:", "http://insecure.test:", "file://", "blob:", "data:")):
            strays.append(url)

    context.on("request", lambda request: note(request.url))
    yield opened
    context.close()
    assert not strays, f"requests that left the host: {strays}"

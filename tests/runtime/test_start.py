"""The runtime starts on every kind of host, and says nothing to any other."""

import pytest
from playwright.sync_api import Page

from wetwing_tools.runtime import RuntimeBundle

from .conftest import MakeSite
from .host import Host
from .pages import ask, last_state


def assert_answers(page: Page, started: str = "snapshot") -> None:
    state = last_state(page)
    assert state["name"] == "ready", f"{state['cause']}: {state['technical']}"
    assert state["started"] == started
    assert ask(page, {"do": "echo", "n": 1}) == {"ok": True, "echo": {"do": "echo", "n": 1}}
    assert ask(page, {"do": "data"}) == {"ok": True, "greeting": "read from the package's data"}


def test_over_http_with_honest_progress(
    page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle
) -> None:
    with Host(make_site(sample_bundle)) as host:
        page.goto(host.address())
        assert_answers(page)
    heard = page.evaluate("heard")
    names = [state["name"] for state in heard]
    assert names == sorted(names, key=["waiting", "loading", "starting", "ready"].index)
    loading = [state for state in heard if state["name"] == "loading"]
    fractions = [state["fraction"] for state in loading]
    assert fractions[0] == 0
    assert fractions == sorted(fractions)
    assert fractions[-1] == 1
    expected = sum(chars for piece in sample_bundle.manifest["pieces"].values() for _, chars in piece)
    assert loading[-1]["bytes"] == loading[-1]["totalBytes"] == expected


def test_from_a_folder(page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle) -> None:
    page.goto((make_site(sample_bundle) / "index.html").as_uri())
    assert_answers(page)


@pytest.mark.parametrize("sniffing", ["allowed", "forbidden"])
def test_scripts_served_as_plain_text(
    page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle, sniffing: str
) -> None:
    """Where the browser may not guess, it runs no script of that type; the parts still come, read as text."""
    with Host(make_site(sample_bundle)) as host:
        if sniffing == "allowed":
            host.types = {".js": "text/plain"}
        else:
            for file in sample_bundle.files:
                host.instead[file.name] = as_plain_text
            host.headers = {"X-Content-Type-Options": "nosniff"}
        page.goto(host.address())
        assert_answers(page)


def as_plain_text(reply):  # type: ignore[no-untyped-def]
    reply.content_type = "text/plain"
    return reply


def test_where_binary_files_are_refused(
    page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle
) -> None:
    with Host(
        make_site(sample_bundle), refused=frozenset({".zip", ".whl", ".wasm", ".mjs", ".json"})
    ) as host:
        page.goto(host.address())
        assert_answers(page)
        assert all(path.endswith((".js", ".html")) for path in host.asked)


def test_plain_http_on_a_named_host(page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle) -> None:
    with Host(make_site(sample_bundle)) as host:
        page.goto(host.address(name="insecure.test"))
        assert page.evaluate("isSecureContext") is False
        assert_answers(page)


STORAGE_THROWS = """
for (const name of ["localStorage", "sessionStorage", "indexedDB", "caches"]) {
  Object.defineProperty(self, name, { get() { throw new DOMException("storage is off", "SecurityError"); } });
}
"""


def test_where_storage_throws(page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle) -> None:
    with Host(make_site(sample_bundle, before=STORAGE_THROWS)) as host:
        page.goto(host.address())
        assert_answers(page)


def test_where_the_worker_was_replaced(page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle) -> None:
    """A theme's help for pages opened from a folder may put another `Worker` in place first."""
    replaced = "self.Worker = class { constructor() { throw new Error('a replacement'); } };"
    page.goto((make_site(sample_bundle, before=replaced) / "index.html").as_uri())
    assert_answers(page)


# The worker's source is made in memory on the page, so a line can be put before it.
WITHOUT_FROM_BASE64 = """
const Whole = self.Blob;
self.Blob = class extends Whole {
  constructor(parts, options) {
    super(options?.type === "text/javascript" ? ["delete Uint8Array.fromBase64;", ...parts] : parts, options);
  }
};
"""


def test_in_a_browser_without_the_newest_decoder(
    page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle
) -> None:
    with Host(make_site(sample_bundle, before=WITHOUT_FROM_BASE64)) as host:
        page.goto(host.address())
        assert_answers(page)


@pytest.mark.parametrize(
    "policy",
    [
        "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; worker-src blob:",
        "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'",
        "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; img-src data:",
    ],
)
def test_under_a_strict_policy_that_suffices(
    page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle, policy: str
) -> None:
    """A worker from memory where blob: is allowed, else the served one."""
    with Host(make_site(sample_bundle), headers={"Content-Security-Policy": policy}) as host:
        page.goto(host.address())
        assert_answers(page)
        assert any(path.endswith("/worker.js") for path in host.asked) == ("blob:" not in policy)


def test_the_simulation_itself(page: Page, make_site: MakeSite, real_bundle: RuntimeBundle) -> None:
    with Host(make_site(real_bundle)) as host:
        page.goto(host.address())
        assert last_state(page)["name"] == "ready"
        assert "ok" in ask(page, {"ask": "hello"})

"""Every fault of a host is named as what it is, without waiting; what can be lived with is lived with."""

import re
import shutil
import threading
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, Playwright

from wetwing_tools.runtime import RuntimeBundle, describe, parts

from .conftest import MakeSite
from .host import Host, Reply
from .pages import PATIENCE_S, ask, last_state, launch


def failure(page: Page) -> dict[str, Any]:
    """Return the state of failure, with words for the reader; an unhurried runtime has not waited for it."""
    state = last_state(page)
    assert state["name"] == "failed", state
    assert state["title"]
    assert re.search(r"can |[Cc]heck|Copy|Reload|Close|Open", state["detail"]), "says what can be done"
    assert "{" not in state["detail"]
    assert "unknown" not in state["detail"]
    return state


def block_page(reply: Reply) -> Reply:
    return Reply(b"<!doctype html><title>Blocked</title><p>Category: unknown", 200, "text/html")


def not_found(reply: Reply) -> Reply:
    return Reply(b"<!doctype html><title>Not found</title>", 404, "text/html")


def cut(reply: Reply) -> Reply:
    return Reply(reply.body[: len(reply.body) // 2])


def other_version(reply: Reply) -> Reply:
    return Reply(re.sub(rb'"[0-9a-f]{16}/', b'"0123456789abcdef/', reply.body, count=1))


def scribbled(reply: Reply) -> Reply:
    """Same length, other content: only a checksum can tell."""
    start = len(reply.body) // 2
    end = start + 400
    return Reply(reply.body[:start] + bytes(reversed(reply.body[start:end])) + reply.body[end:])


def replaced(reply: Reply) -> Reply:
    return Reply(b"console.log('not what was built');" + b" " * len(reply.body))


@pytest.mark.parametrize(
    ("file", "change", "cause", "words"),
    [
        ("wasm-1.js", not_found, "missing", r"404 for wasm-1\.js"),
        ("script-0.js", not_found, "missing", r"404 for script-0\.js"),
        ("library-0.js", block_page, "page-instead", r"library-0\.js was a web page"),
        ("wasm-0.js", cut, "cut-short", r"wasm-0\.js holds \d+ of 1200000 characters"),
        ("package-0.js", other_version, "other-version", r"package-0\.js is of version 0123456789abcdef"),
        ("wasm-2.js", scribbled, "damaged", r"wasm: "),
        ("script-0.js", scribbled, "damaged", r"script: "),
        ("library-0.js", replaced, "altered", r"library-0\.js is damaged, cut short or replaced"),
    ],
)
def test_a_wrong_file_is_named(
    page: Page,
    make_site: MakeSite,
    sample_bundle: RuntimeBundle,
    file: str,
    change: Callable[[Reply], Reply],
    cause: str,
    words: str,
) -> None:
    with Host(make_site(sample_bundle), instead={file: change}) as host:
        page.goto(host.address())
        state = failure(page)
    assert state["cause"] == cause
    assert re.search(words, state["detail"]), state["detail"]


@pytest.mark.parametrize("change", [not_found, block_page, cut, other_version, scribbled])
def test_without_a_good_snapshot_it_starts_all_the_same(
    page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle, change: Callable[[Reply], Reply]
) -> None:
    with Host(make_site(sample_bundle), instead={"snapshot-2.js": change}) as host:
        page.goto(host.address())
        state = last_state(page)
        assert (state["name"], state.get("started")) == ("ready", "bytecode")
        assert ask(page, {"do": "echo"})["ok"]


def test_late_parts_of_a_broken_snapshot_change_nothing(
    page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle
) -> None:
    released = threading.Event()

    def late(reply: Reply) -> Reply:
        released.wait(2 * PATIENCE_S)
        return reply

    with Host(make_site(sample_bundle), instead={"snapshot-0.js": not_found, "snapshot-3.js": late}) as host:
        page.goto(host.address(), wait_until="commit")
        assert last_state(page)["started"] == "bytecode"
        with page.expect_response("**/snapshot-3.js"):
            released.set()
        # The runtime takes a part's script away once the part has come.
        page.wait_for_function("() => !document.querySelector('script[src*=snapshot-3]')")
        assert page.evaluate("heard.at(-1).name") == "ready"
        assert ask(page, {"do": "echo"})["ok"]


def repacked(
    bundle: RuntimeBundle, target: Path, piece: str, change: Callable[[bytes], bytes]
) -> RuntimeBundle:
    """Copy a bundle with one piece changed and packed again as the build does it: every checksum fits."""
    shutil.copytree(bundle.path, target)
    files = [file for file, _ in bundle.manifest["pieces"][piece]]
    made = parts.split(piece, change(parts.join(bundle.path, files)))
    for part in made:
        (target / part.file).write_text(parts.script(part, bundle.folder), "ascii")
    changed = describe(target)
    changed.manifest["pieces"][piece] = [[part.file, part.chars] for part in made]
    return changed


@pytest.mark.parametrize(
    "change",
    [
        lambda memory: memory[:16] + bytes(32) + memory[48:],  # of another build of the interpreter
        lambda memory: bytes(4) + memory[4:],  # no snapshot at all
        lambda memory: memory[: 1 << 20] + bytes(len(memory) - (1 << 20)),  # right head, no content: it traps
    ],
)
def test_a_snapshot_that_does_not_run_is_left(
    page: Page,
    make_site: MakeSite,
    sample_bundle: RuntimeBundle,
    tmp_path: Path,
    change: Callable[[bytes], bytes],
) -> None:
    bundle = repacked(sample_bundle, tmp_path / sample_bundle.folder, "snapshot", change)
    with Host(make_site(bundle)) as host:
        page.goto(host.address())
        state = last_state(page)
        assert (state["name"], state.get("started")) == ("ready", "bytecode")
        assert ask(page, {"do": "echo"})["ok"]


def test_byte_code_of_another_python(
    page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle, tmp_path: Path
) -> None:
    magic = bytes.fromhex(sample_bundle.manifest["magic"])
    other = bytes.fromhex("a70d0d0a")
    bundle = repacked(
        sample_bundle, tmp_path / sample_bundle.folder, "package", lambda wheel: wheel.replace(magic, other)
    )
    with Host(make_site(bundle)) as host:
        page.goto(host.address())
        state = failure(page)
    assert state["cause"] == "bytecode"
    assert "wetwing/__init__.pyc: found a70d0d0a, wanted f30d0d0a" in state["detail"]


def test_a_stale_cache_is_passed_by(page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle) -> None:
    """The first answer is of another version, as a cache may hold it; asked past the cache it is right."""
    seen: list[int] = []

    def stale_once(reply: Reply) -> Reply:
        seen.append(1)
        return other_version(reply) if len(seen) == 1 else reply

    with Host(make_site(sample_bundle), instead={"wasm-0.js": stale_once}) as host:
        page.goto(host.address())
        assert last_state(page)["name"] == "ready"
    assert len(seen) == 2


@pytest.mark.parametrize(
    ("policy", "cause"),
    [
        ("script-src 'self'; worker-src blob: 'self'", "wasm-policy"),
        ("script-src 'self' 'wasm-unsafe-eval'; worker-src 'none'", "worker-policy"),
    ],
)
def test_a_policy_that_forbids_is_named(
    page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle, policy: str, cause: str
) -> None:
    with Host(make_site(sample_bundle), headers={"Content-Security-Policy": policy}) as host:
        page.goto(host.address())
        assert failure(page)["cause"] == cause


def test_a_worker_from_the_server_may_have_a_policy_of_its_own(
    page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle
) -> None:
    """The page allows WebAssembly; the answer for the worker's file does not."""
    with Host(make_site(sample_bundle)) as host:
        page.route(
            "**/index.html",
            lambda route: route.fulfill(
                response=route.fetch(),
                headers={
                    "Content-Type": "text/html",
                    "Content-Security-Policy": "script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'",
                },
            ),
        )
        host.headers = {"Content-Security-Policy": "script-src 'self'; worker-src 'self'"}
        page.goto(host.address())
        assert failure(page)["cause"] == "wasm-policy"


@pytest.mark.parametrize(
    ("file", "cause"), [("wasm-1.js", "unreadable"), ("library-0.js", "altered"), ("snapshot-0.js", None)]
)
def test_a_folder_with_a_file_missing_or_cut(
    page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle, file: str, cause: str | None
) -> None:
    site = make_site(sample_bundle)
    path = site / "assets" / "runtime" / sample_bundle.folder / file
    if cause == "altered":
        path.write_bytes(path.read_bytes()[:1000])
    else:
        path.unlink()
    page.goto((site / "index.html").as_uri())
    if cause is None:
        assert last_state(page)["started"] == "bytecode"
    else:
        state = failure(page)
        assert state["cause"] == cause
        assert file in state["detail"]


def test_a_server_that_stops_answering(page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle) -> None:
    site = make_site(sample_bundle, limits={"noticeS": 1, "loadingS": 3})
    with Host(site, instead={"wasm-1.js": lambda reply: None}) as host:
        page.goto(host.address(), wait_until="commit")
        state = failure(page)
        assert any(heard.get("stalled") for heard in page.evaluate("heard"))
    assert state["cause"] == "stalled"
    assert re.search(r"for 3 seconds: \d+\.\d of \d+\.\d MB", state["detail"])


def test_a_server_that_went_away(page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle) -> None:
    with Host(make_site(sample_bundle)) as host:
        page.route("**/library-1.js", lambda route: route.abort())
        page.goto(host.address())
        assert failure(page)["cause"] == "unreachable"


def test_web_assembly_switched_off(
    playwright: Playwright, make_site: MakeSite, sample_bundle: RuntimeBundle
) -> None:
    with (
        Host(make_site(sample_bundle)) as host,
        closing(launch(playwright, "--js-flags=--jitless")) as browser,
    ):
        page = browser.new_page()
        page.goto(host.address())
        state = failure(page)
        assert not [path for path in host.asked if "/runtime/" in path], "nothing is downloaded in vain"
    assert state["cause"] == "no-webassembly"


def test_too_little_memory(playwright: Playwright, make_site: MakeSite, sample_bundle: RuntimeBundle) -> None:
    flag = "--js-flags=--wasm-max-mem-pages=100"
    with Host(make_site(sample_bundle)) as host, closing(launch(playwright, flag)) as browser:
        page = browser.new_page()
        page.goto(host.address())
        state = failure(page)
    assert state["cause"] == "memory"


def test_an_old_browser_is_told_what_it_lacks(
    page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle
) -> None:
    with Host(make_site(sample_bundle, before="delete self.DecompressionStream;")) as host:
        page.goto(host.address())
        state = failure(page)
    assert state["cause"] == "old-browser"
    assert "gzip" in state["detail"]


def test_trying_again_after_a_failure(page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle) -> None:
    with Host(make_site(sample_bundle), instead={"package-0.js": not_found}) as host:
        page.goto(host.address())
        assert failure(page)["cause"] == "missing"
        assert ask(page, {"do": "echo"})["fault"] == "missing"
        host.instead.clear()
        page.evaluate("() => { client.retry(); }")
        page.wait_for_function("client.state.name === 'ready'")
        assert ask(page, {"do": "echo"})["ok"]

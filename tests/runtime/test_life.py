"""A runtime that hangs, crashes or is killed is ended and started again; whoever asked is told."""

from typing import Any

import pytest
from playwright.sync_api import Page

from wetwing_tools.runtime import RuntimeBundle

from .conftest import MakeSite
from .host import Host
from .pages import ask, last_state

# Lets a test count the workers that live, and end one as a browser short of memory does.
KEEP_WORKERS = """
const Native = self.Worker;
self.living = [];
self.starts = 0;
self.Worker = new Proxy(Native, {
  construct(target, given) {
    const made = new target(...given);
    living.push(made);
    starts += 1;
    made.terminate = () => {
      self.living = living.filter((other) => other !== made);
      Native.prototype.terminate.call(made);
    };
    return made;
  },
});
// Ask what is not going to be answered, with a limit that is soon over; what is asked later has time again.
self.askInVain = (request) => {
  const { limits } = client;
  const { answerS } = limits;
  limits.answerS = 0.5;
  return client.ask(request).finally(() => {
    limits.answerS = answerS;
  });
};
"""
# End the worker as a browser short of memory does: nothing is told to the page.
KILL = "Native.prototype.terminate.call(living[0])"


@pytest.fixture
def running(page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle) -> Any:
    """A page with the stand-in running."""
    site = make_site(sample_bundle, limits={"restarts": 2}, before=KEEP_WORKERS)
    with Host(site) as host:
        page.goto(host.address())
        assert last_state(page)["name"] == "ready"
        yield page
        # A start under way has a second worker, which unpacks the kept memory; one that stays is a leak.
        page.wait_for_function("living.length <= 1", polling=50)


def test_a_hang_is_ended_and_the_next_request_answered(running: Page) -> None:
    waiting = running.evaluate(
        """() => Promise.allSettled([askInVain({ do: "hang" }), client.ask({ do: "echo", n: 2 })])
             .then((all) => all.map(({ reason, value }) => reason?.cause ?? value.echo.n))"""
    )
    assert waiting == ["no-answer", 2]
    names = [state["name"] for state in running.evaluate("heard")]
    assert names.count("ready") == 2


def test_a_killed_worker_is_replaced(running: Page) -> None:
    running.evaluate(KILL)
    # At rest: nothing is asked, and another is there all the same.
    running.wait_for_function("heard.filter(({ name }) => name === 'ready').length === 2")
    assert ask(running, {"do": "echo"}) == {"ok": True, "echo": {"do": "echo"}}
    assert running.evaluate("[living.length, starts]") == [1, 4]


def test_a_request_in_the_hands_of_a_killed_worker_is_asked_again(running: Page) -> None:
    answer = running.evaluate(
        f"() => {{ const waiting = client.ask({{ do: 'sum', n: 3000000 }}); {KILL}; return waiting; }}"
    )
    assert answer["ok"]
    assert running.evaluate("[living.length, starts]") == [1, 4]
    # A worker that is busy for long is none that has ended.
    assert ask(running, {"do": "sum", "n": 3000000}) == answer
    assert running.evaluate("[living.length, starts]") == [1, 4]


@pytest.mark.parametrize("way", ["lock", "silence"])
def test_a_browser_without_an_end_of_channels_notices_too(
    page: Page, make_site: MakeSite, sample_bundle: RuntimeBundle, way: str
) -> None:
    """By a lock; and where a page may use none, by the sign that a request gives when it arrives."""
    without = "delete MessagePort.prototype.onclose;\n"
    if way == "silence":
        without += "Object.defineProperty(Navigator.prototype, 'locks', { value: undefined });\n"
    site = make_site(sample_bundle, limits={"takenS": 2.0}, before=without + KEEP_WORKERS)
    with Host(site) as host:
        page.goto(host.address())
        assert last_state(page)["name"] == "ready"
        answer = page.evaluate(
            f"() => {{ const waiting = client.ask({{ do: 'echo', n: 5 }}); {KILL}; return waiting; }}"
        )
        assert answer == {"ok": True, "echo": {"do": "echo", "n": 5}}
        assert page.evaluate("[living.length, starts]") == [1, 4]


def test_what_keeps_hanging_is_given_up(running: Page) -> None:
    causes = running.evaluate(
        """async () => {
             const causes = [];
             client.limits.answerS = 0.5;
             for (let n = 0; n < 4; n += 1) await client.ask({ do: "hang" }).catch(({ cause }) =>
             causes.push(cause)); return causes;
           }"""
    )
    assert causes == ["no-answer", "no-answer", "no-answer", "keeps-stopping"]
    assert running.evaluate("client.state.name") == "failed"


def test_too_large_a_wish_for_memory(running: Page) -> None:
    assert ask(running, {"do": "memory"})["fault"] == "memory"
    assert ask(running, {"do": "echo"})["ok"]


def test_an_error_of_the_package_harms_nothing(running: Page) -> None:
    answer = ask(running, {"do": "raise"})
    assert answer["error"] == "ValueError: the stand-in raised on purpose"
    assert ask(running, {"do": "echo"})["ok"]
    assert running.evaluate("[living.length, starts]") == [1, 2]


def test_a_dropped_request(running: Page) -> None:
    outcome = running.evaluate(
        """async () => {
             const early = new AbortController();
             const late = new AbortController();
             const first = client.ask({ do: "sum", n: 300000 }, { signal: late.signal });
             const second = client.ask({ do: "hang" }, { signal: early.signal });
             const third = client.ask({ do: "echo", n: 3 });
             early.abort();
             late.abort();
             const all = await Promise.allSettled([first, second, third]);
             return all.map(({ reason, value }) => reason?.name ?? value.echo.n);
           }"""
    )
    assert outcome == ["AbortError", "AbortError", 3]
    assert running.evaluate("[living.length, starts]") == [1, 2]


def test_a_page_has_one_worker(running: Page) -> None:
    same = running.evaluate(
        """() => {
             const states = [];
             const { base, manifest } = wetwingPage;
             const other = startRuntime({ base, manifest, onState: ({ name }) => states.push(name) });
             return other === client && states.join() === "ready";
           }"""
    )
    assert same
    assert running.evaluate("[living.length, starts]") == [1, 2]


def test_a_panel_that_left_is_not_told_any_more(running: Page) -> None:
    heard = running.evaluate(
        """async () => {
             const states = [];
             const leaving = new AbortController();
             const onState = ({ name }) => states.push(name);
             startRuntime({ ...wetwingPage, onState, signal: leaving.signal });
             leaving.abort();
             await askInVain({ do: "hang" }).catch(() => {});
             return states;
           }"""
    )
    assert heard == ["ready"]


def test_stop_ends_it_for_good(running: Page) -> None:
    outcome = running.evaluate(
        """async () => {
             const waiting = client.ask({ do: "hang" });
             client.stop();
             return [(await waiting.catch((fault) => fault)).cause, (await client.ask({}).catch((fault) =>
             fault)).cause];
           }"""
    )
    assert outcome == ["stopped", "stopped"]


def test_a_crash_is_tried_once_more(running: Page) -> None:
    """The first worker reports a crash of its interpreter; the request is asked again of the second."""
    running.evaluate(
        """() => {
             const first = living[0];
             first.postMessage = ({ id }) => first.onmessage({ data: { type: "crash", id, cause: "crash",
             technical: "trap" } });
           }"""
    )
    assert ask(running, {"do": "echo", "n": 4}) == {"ok": True, "echo": {"do": "echo", "n": 4}}
    assert running.evaluate("[living.length, starts]") == [1, 4]


def test_an_answer_in_stages_gives_its_first_part_at_once_and_can_be_left(running: Page) -> None:
    heard = running.evaluate(
        """async () => {
             const heard = [];
             const onFirst = ({ first }) => heard.push(`first of ${first}`);
             heard.push((await client.ask({ do: "stages", n: 3 }, { onFirst })).stages);
             const leaving = new AbortController();
             const begun = new Promise((resolve) => {
               const options = { signal: leaving.signal, onFirst: resolve };
               client.ask({ do: "stages", n: 1e9 }, options).catch(({ name }) => heard.push(name));
             });
             await begun;
             leaving.abort();
             heard.push((await client.ask({ do: "left" })).left);
             return heard;
           }"""
    )
    # What was left would have taken for ever: the next is answered all the same.
    assert heard == ["first of 3", 3, "AbortError", 1]
    assert running.evaluate("[living.length, starts]") == [1, 2]


def test_an_answer_that_takes_long_is_waited_for_while_it_gives_signs(running: Page) -> None:
    answer = running.evaluate(
        """async () => {
             client.limits.answerS = 4;
             const begun = performance.now();
             const leaving = new AbortController();
             const waiting = client.ask({ do: "stages", n: 1e9 }, { signal: leaving.signal });
             const ended = await Promise.race([
               waiting.catch(({ cause }) => cause),
               new Promise((resolve) => setTimeout(() => resolve("still at it"), 9000)),
             ]);
             leaving.abort();
             return ended;
           }"""
    )
    assert answer == "still at it"
    assert running.evaluate("[living.length, starts]") == [1, 2]

"""Questions that are ordered, sketched and found: what the page gets, and each slip with its line."""

import base64
import json
import re
from html import unescape
from typing import Any

import pytest

from tests.teach.hand_made import claims
from wetwing.teach.claims import Claims
from wetwing_tools.site import blocks
from wetwing_tools.site.asking import mixed
from wetwing_tools.site.front import Front
from wetwing_tools.site.library import Library
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.sketch import line_of, thinned
from wetwing_tools.site.slips import Slips

PANEL = "\n```panel\nstart: begin\ncontrols: [slats]\n```\n"


def maker(judge: Claims | None = None) -> PageMaker:
    return PageMaker("phases/x.md", Front(), judge or claims(), Slips(), blocks.MAKERS, "../index.html")


def made(page: str, judge: Claims | None = None) -> str:
    one = maker(judge)
    html = one.make(page + PANEL, 1)
    assert not one.slips.found, one.slips.report()
    return html


def slip(page: str, judge: Claims | None = None) -> str:
    one = maker(judge)
    one.make(page, 1)
    (found,) = one.slips.found
    return str(found)


@pytest.fixture(scope="module")
def real() -> Claims:
    """The flight that the pages are about."""
    names = {
        "hold": "return-flow-hold-right becomes active",
        "release": "return-flow-hold-right becomes inactive",
    }
    return Claims(Library().flights("alder-165", "day-sector"), names)


# -- order

ITEMS = (("The slats go out.", "slats becomes out"), ("The slats come in.", "slats becomes in"))
DRY = ("The left pump runs dry.", "centre-left becomes dry")


def order(*items: tuple[str, str], more: str = "") -> str:
    rows = "".join(f"- say: {say}\n  at: {at}\n  because: So it is.\n" for say, at in items)
    return f"```order\nid: slats-order\nask: In which order?\n{more}items:\n{rows}```"


def test_an_order_is_the_flights_own_and_its_list_never_gives_it_away() -> None:
    html = made(order(DRY, *ITEMS))
    shown = [int(place) for place in re.findall(r'data-place="(\d)"', html)]
    assert sorted(shown) == [1, 2, 3]
    assert shown != [1, 2, 3]
    right = html.partition("ww-order-right")[2]
    assert [right.index(words) for words in ("go out", "come in", "runs dry")] == sorted(
        right.index(words) for words in ("go out", "come in", "runs dry")
    )
    assert re.findall(r'data-ww-time="([\d.]+)"', right) == ["10.0", "40.0", "80.0"]
    assert 'data-ww-kind="order" data-ww-page="phases/x.html"' in html
    # A page is the same each time it is built.
    assert html == made(order(DRY, *ITEMS))


def test_an_order_may_be_that_of_an_edited_flight() -> None:
    spills = ("The vent spills.", "vent-left becomes spilling")
    html = made(
        order(
            spills,
            *ITEMS[:1],
            ("It is down.", "when main-left.actual_kg <= 700 kg"),
            more="with: slats=out at begin + 0:00:20\n",
        )
    )
    right = html.partition("ww-order-right")[2]
    assert re.findall(r'data-ww-time="([\d.]+)"', right)[-1] == "60.0"
    assert right.count("data-ww-edit=") == 3


@pytest.mark.parametrize("count", range(2, 9))
def test_a_mixed_list_is_whole_fixed_and_out_of_order(count: int) -> None:
    right = list(range(1, count + 1))
    found = [mixed(count, f"question-{seed}") for seed in range(60)]
    assert all(sorted(one) == right and one != right for one in found)
    assert found == [mixed(count, f"question-{seed}") for seed in range(60)]
    assert count == 2 or len({tuple(one) for one in found}) > 2


def test_one_item_cannot_be_mixed() -> None:
    with pytest.raises(ValueError, match="2 or more"):
        mixed(1, "x")


@pytest.mark.parametrize(
    ("page", "line", "found", "allowed"),
    [
        (order(*ITEMS), 2, "items to put in order: 2", "3 to 8"),
        (order(*ITEMS, ("Never.", "cross-feed becomes open")), 12, "becomes open never", "changes never"),
        (
            order(*ITEMS, ("Same.", "centre-left becomes delivering")),
            12,
            "together with",
            "1 s or more apart",
        ),
        (order(*ITEMS, ("Odd.", "centre-lft becomes dry")), 12, "centre-lft", "nearest: centre-left"),
        (order(*ITEMS, ("No.", "nowhere")), 12, "unknown moment 'nowhere'", "begin"),
        (order(*ITEMS, DRY, more="hnt: x\n"), 4, "unknown key 'hnt'", "nearest: hint"),
        (order(*ITEMS, DRY)[:-3] + "- say: A\n```", 14, "no 'at'", "at: …"),
        ("```order\n- a\n```", 2, "holds no mapping", "name: value"),
        (order(*ITEMS, DRY).replace("slats-order", "Slats"), 2, "id 'Slats'", "lower-case"),
    ],
)
def test_slips_of_an_order_say_where_what_and_what_is_allowed(
    page: str, line: int, found: str, allowed: str
) -> None:
    told = slip(page)
    assert told.startswith(f"phases/x.md:{line}: "), told
    assert found in told
    assert allowed in told


def test_a_change_that_comes_twice_among_the_items_is_refused(real: Claims) -> None:
    items = (
        ("One.", "phase cruise"),
        ("Two.", "return-flow-hold-right becomes active after phase cruise"),
        ("Three.", "centre-left becomes dry"),
    )
    told = slip(order(*items), real)
    assert told.startswith(
        "phases/x.md:9: return-flow-hold-right becomes active 2 times among the items: 1:21:42"
    )
    assert "2nd return-flow-hold-right becomes active" in told
    assert "ww-order-right" in made(order(*items[:1], ("Two.", "2nd " + items[1][1]), items[2]), real)


# -- sketch


def sketch(**changes: str) -> str:
    lines = {
        "quantity": "main-left.actual_kg",
        "from": "begin",
        "to": "end",
        "range": "0 to 1200 kg",
    } | {key.rstrip("_"): value for key, value in changes.items()}
    told = "".join(f"{key}: {value}\n" for key, value in lines.items() if value)
    return f"```sketch\nid: main-sketch\nask: How does it go?\n{told}```"


def sheet(html: str) -> dict[str, Any]:
    found = re.search(r'data-ww-sketch="([^"]+)"', html)
    assert found
    return json.loads(unescape(found[1]))  # type: ignore[no-any-return]


def test_a_sketch_holds_the_flights_own_line_with_its_jump() -> None:
    own = sheet(made(sketch()))
    assert own["line"] == [[0, 1000], [50, 500], [50, 700], [100, 800]]
    assert (own["unit"], own["least"], own["most"], own["within"], own["fields"]) == ("kg", 0, 1200, 120, 6)
    assert own["slack_s"] == pytest.approx(100 / 24, abs=0.05)
    table = made(sketch(fields="4")).partition("ww-sketch-table")[2]
    assert re.findall(r"<td>([\d:]+)</td>", table) == ["0:00:00", "0:00:25", "0:00:50", "0:01:15", "0:01:40"]
    assert re.findall(r'value="([\d.]+)"', table) == ["1000", "750", "700", "750", "800"]


def test_a_sketch_may_be_that_of_an_edited_flight(real: Claims) -> None:
    wished = {
        "quantity": "main-right.gauged_kg",
        "from_": "recorded hold",
        "to": "recorded hold + 1:00:00",
        "range": "3000 to 7000 kg",
        "with_": "centre-right=failed at hold, main-right=leak 1500 at hold + 0:10:00",
        "because": "'[It ends lower.]{holds: main-right.gauged_kg < 5800 kg at recorded hold + 1:00:00}'",
    }
    own, plain = (
        sheet(made(sketch(**wished), real)),
        sheet(made(sketch(**wished | {"with_": "", "because": ""}).replace("recorded ", ""), real)),
    )
    edits = real.edits_of(wished["with_"], "")
    flight = real.flights.edited(edits).flight
    assert own["line"][-1][1] == pytest.approx(flight.quantity("main-right.gauged_kg", own["to_s"]), abs=0.01)
    assert own["line"][-1][1] < plain["line"][-1][1] - 500
    # The bend that the trouble made says so, and its link opens the flight with the edits.
    trouble = next(bend for bend in own["bends"] if bend["part"] == "main-right")
    assert (trouble["label"], trouble["to"]) == ("Main right", "leak")
    assert trouble["sentence"].startswith("Main right leaks: {1,500 kg/h} when the tank is full")
    assert all(bend["href"].count("edit=") == 2 for bend in own["bends"])
    assert trouble["edits"].endswith("main-right,leak 1500")
    assert all("edit=" not in bend["href"] and not bend["edits"] for bend in plain["bends"])


def test_its_bends_are_the_changes_that_made_them(real: Claims) -> None:
    page = sketch(
        quantity="main-right.gauged_kg",
        from_="hold - 0:20:00",
        to="release + 0:20:00",
        range="5600 to 7000 kg",
    )
    own = sheet(made(page, real))
    flight = real.timeline.flight
    bends = [(bend["part"], bend["to"]) for bend in own["bends"]]
    assert bends == [("main-right-forward", "delivering"), ("main-right-forward", "running, held back")]
    for time_s, value in own["line"][1:-1]:
        assert flight.quantity("main-right.gauged_kg", time_s) == pytest.approx(value, abs=0.01) or any(
            jump == pytest.approx(time_s, abs=0.001) for jump in flight.time_s
        )
    assert own["line"][0][1] == pytest.approx(
        flight.quantity("main-right.gauged_kg", own["from_s"]), abs=0.01
    )


def test_a_thinned_line_is_nowhere_farther_off_than_it_may_be(real: Claims) -> None:
    flight = real.timeline.flight
    whole = line_of(flight, "main-left.actual_kg", 3000.0, 20000.0)
    thin = thinned(whole, 5.0)
    assert len(thin) < len(whole) / 2

    def at(time_s: float) -> float:
        right = next(i for i, (t, _) in enumerate(thin) if t >= time_s)
        (t0, v0), (t1, v1) = thin[max(right - 1, 0)], thin[right]
        return v1 if t1 == t0 else v0 + (v1 - v0) * (time_s - t0) / (t1 - t0)

    times = [t for t, _ in whole]
    assert max(abs(at(t) - v) for t, v in whole if times.count(t) == 1) <= 5.0


@pytest.mark.parametrize(
    ("page", "line", "found", "allowed"),
    [
        (sketch(quantity="main-lft.actual_kg"), 4, "unknown quantity", "nearest: main-left.actual_kg"),
        (sketch(to="begin"), 6, "from 0:00:00 to 0:00:00", "10 s after the first"),
        (
            sketch(range="0 to 900 kg"),
            7,
            "the flight goes from 500.0 to 1,000.0",
            "holds the flight's own line",
        ),
        (sketch(range="0 to 9 t"), 7, "range: 0 to 9 t", "0 to 8000 kg"),
        (sketch(range="much"), 7, "range: much", "such as"),
        (sketch(range=""), 2, "no 'range'", "range: …"),
        (sketch(within="0 kg"), 8, "within: 0 kg", "120 kg"),
        (sketch(within="5 lb"), 8, "within: 5 lb", "120 kg"),
        (sketch(within="900 kg"), 8, "within: 900 kg", "at most half the range"),
        (sketch(fields="5"), 8, "fields: 5", "4, 6, 8"),
        (sketch(from_="nowhere"), 5, "unknown moment", "begin"),
        (sketch(quantty="x"), 8, "unknown key 'quantty'", "nearest: quantity"),
        (sketch(with_="slats is out"), 8, "'slats is out' is no edit", "PART=STATE at MOMENT"),
        (sketch(with_="slat=out at begin"), 8, "slat", "nearest: slats"),
        (sketch(with_="slats=ot at begin"), 8, "ot", "nearest: out"),
        (sketch(with_="slats=out at nowhere"), 8, "unknown moment", "begin"),
    ],
)
def test_slips_of_a_sketch_say_where_what_and_what_is_allowed(
    page: str, line: int, found: str, allowed: str
) -> None:
    told = slip(page)
    assert told.startswith(f"phases/x.md:{line}: "), told
    assert found in told
    assert allowed in told


def test_a_sketch_of_an_edit_that_changes_nothing_is_refused(real: Claims) -> None:
    told = slip(
        sketch(with_="centre-feed=automatic at hold", range="0 to 7000 kg").replace("actual", "gauged"), real
    )
    assert told.startswith("phases/x.md:8: 'centre-feed=automatic at hold' changes nothing in the flight")


# -- a hidden trouble


def case(wanted: str, looks: str = "main-left", shows: str = "leak becomes on", part: str = "leak") -> str:
    return f"- with: {wanted}\n  looks: [{looks}]\n  shows: {shows}\n  part: {part}\n  text: So it is.\n"


LEAK = case("main-left=leak 1500 at hold")
BLOCKED = case("scavenge=blocked at hold", "scavenge", "centre-right becomes dry after hold", "scavenge")


def challenge(*cases: str) -> str:
    return f"```challenge\nid: find\nask: What is it?\nstart: hold\ntroubles:\n{''.join(cases)}```"


def test_what_a_case_hides_is_not_to_be_read_at_a_glance_and_comes_back_whole(real: Claims) -> None:
    html = made(challenge(LEAK, BLOCKED), real)
    found = re.search(r'data-ww-challenge="([^"]+)"', html)
    assert found
    assert "leak 1500" not in unescape(found[1])
    wish = json.loads(unescape(found[1]))
    hidden = [json.loads(base64.b64decode(text)) for text in wish["cases"]]
    hold_s = real.moments.find("hold", "")
    assert [(one["part"], one["kind"], one["fewest"]) for one in hidden] == [
        ("main-left", "leak", 1),
        ("scavenge", "blocked", 1),
    ]
    assert hidden[0]["edits"] == [
        {"time_s": pytest.approx(hold_s, abs=0.11), "part": "main-left", "state": "leak 1500"}
    ]
    assert wish["start_s"] == pytest.approx(hold_s, abs=0.001)
    named = {name for _, parts in wish["groups"] for name, _ in parts}
    assert {"main-left", "scavenge", "high-level-main-right", "compensator-main-left"} <= named
    assert {"leak", "blocked", "stuck wet", "drifting"} <= set(wish["kinds"])
    assert html.count('class="ww-case"') == 2


@pytest.mark.parametrize(
    ("page", "line", "found", "allowed"),
    [
        (challenge(LEAK), 2, "troubles to hide: 1", "2 to 8"),
        (challenge(LEAK, LEAK), 11, "main-left, leak, a second time", "each trouble once"),
        (challenge(LEAK, case("centre-feed=manual at hold")), 11, "is no trouble", "PART=TROUBLE at MOMENT"),
        (challenge(LEAK, case("main-left=leek 9 at hold")), 11, "leek", "nearest: leak"),
        (challenge(LEAK, case("vent-left=blocked at end")), 11, "shows on no gauge", "a crew could notice"),
        (
            challenge(BLOCKED, case("main-left=leak 9 at hold", "")),
            11,
            "looks of the shortest way: 0",
            "1 to 9",
        ),
        (
            challenge(BLOCKED, case("main-left=leak 900 at hold", "man-left")),
            12,
            "man-left",
            "nearest: main-left",
        ),
        (
            challenge(BLOCKED, case("main-left=leak 900 at hold", shows="cross-feed becomes open")),
            13,
            "never",
            "changes",
        ),
    ],
)
def test_slips_of_a_challenge_say_where_what_and_what_is_allowed(
    real: Claims, page: str, line: int, found: str, allowed: str
) -> None:
    told = slip(page, real)
    assert told.startswith(f"phases/x.md:{line}: "), told
    assert found in told
    assert allowed in told


def test_a_hint_stands_open_and_a_moment_may_ask() -> None:
    html = made(order(*ITEMS, DRY, more="hint: Look at the slats.\n"))
    assert '<details class="ww-hint" open markdown="block">' in html
    assert "Look at the slats." in html
    step = "```moments\n- at: begin\n  title: T\n  ask: Which tank?\n  text: It is so.\n```"
    assert 'data-ww-ask="Which tank?"' in made(step)

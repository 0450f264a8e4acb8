"""The static page of a panel: complete without a script, harmless in its texts, and with its first state
painted."""

import json
import re
from html.parser import HTMLParser

import pytest

from tests.draw.flights import alder, day_sector
from wetwing.draw.hooks import holds, paint, wetted
from wetwing.draw.panel_because import chain
from wetwing.draw.panel_page import json_in_script, panel_html
from wetwing.draw.svg import Element, make
from wetwing.flight.compact import compact
from wetwing.flight.record import Flight
from wetwing.teach.words import clock

VOID = {"input", "br", "link", "meta"}


class Balance(HTMLParser):
    """Follows opening and closing tags, and gathers ids and texts."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.seen: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.note(tag, attrs)
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.note(tag, attrs)

    def note(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))
        self.ids += [value for name, value in attrs if name == "id" and value]

    def handle_endtag(self, tag: str) -> None:
        assert self.open and self.open[-1] == tag, f"</{tag}> closes <{self.open[-1:]}>"
        self.open.pop()


def page(start_s: float = 8200.0, focus: str = "centre-left", flight: Flight | None = None) -> str:
    flight = flight or day_sector()
    return panel_html(
        alder(),
        flight,
        record_json=json_in_script(compact(flight)),
        page="phases/cruise.html",
        start_s=start_s,
        controls=("centre-feed", "cross-feed", "main-left-forward", "preselect"),
        focus=focus,
    )


def parsed(html: str) -> Balance:
    balance = Balance()
    balance.feed(html)
    balance.close()
    assert balance.open == []
    return balance


def test_tags_balance_and_ids_are_unique() -> None:
    found = parsed(page())
    assert len(found.ids) == len(set(found.ids)) > 10


def test_it_reads_without_a_script() -> None:
    html = page()
    without = re.sub(r"<script.*?</script>", "", html, flags=re.DOTALL)
    flight = day_sector()
    moment = flight.moment(8200.0)
    assert "2:16:40" in without
    assert moment.state("centre-left") in without
    assert "Every figure of this moment" in without
    assert "<noscript>" in without
    for part in alder().parts.values():
        assert part.label in without, part.name


def test_nothing_in_it_comes_from_elsewhere() -> None:
    for tag, given in parsed(page()).seen:
        for name in ("src", "href", "xlink:href"):
            assert name not in given, (tag, given)
    assert "http" not in page().replace("http://www.w3.org/2000/svg", "")


def test_the_switches_show_what_is_set_and_wait_for_the_simulation() -> None:
    found = parsed(page(3000.0))
    fields = [given for tag, given in found.seen if tag == "fieldset" and given.get("data-control")]
    assert [given["data-control"] for given in fields] == [
        "centre-feed",
        "cross-feed",
        "main-left-forward",
        "preselect",
    ]
    assert all("disabled" in given for given in fields)
    checked = {
        given["name"]: given["value"] for tag, given in found.seen if tag == "input" and "checked" in given
    }
    moment = day_sector().moment(3000.0)
    for part in ("centre-feed", "cross-feed", "main-left-forward"):
        assert checked[f"ww-switch-{part}"] == moment.setting(part)


def test_alerts_of_the_moment_stand_there_with_their_level() -> None:
    flight = day_sector((3600.0, "centre-feed", "manual"))
    alerts = {alert.name: alert.level for alert in alder().alerts}
    times = [change.time_s for change in flight.changes if change.part in alerts and change.after == "on"]
    assert times, "with the selector at manual a main tank overfills"
    moment = flight.moment(times[0])
    found = parsed(page(times[0], flight=flight)).seen
    rows = [given for tag, given in found if tag == "li" and "ww-alert" in str(given.get("class"))]
    shown = {given["data-for"]: given["class"] for given in rows if "hidden" not in given}
    wanted = {
        name: f"ww-alert ww-level-{level}" for name, level in alerts.items() if moment.state(name) == "on"
    }
    assert shown == wanted


def test_text_can_not_break_out_of_its_script() -> None:
    assert "</script" not in json_in_script({"a": "</script><b>"})
    assert json.loads(json_in_script({"a": "</script>"})) == {"a": "</script>"}


def test_a_start_outside_the_flight_is_held_to_its_ends() -> None:
    assert 'data-start="0"' in page(-50.0)
    assert f'data-start="{day_sector().duration_s:.10g}"' in page(1e9)


def test_an_unknown_focus_falls_to_the_first_control() -> None:
    assert 'data-focus="centre-feed"' in page(focus="nothing")


class Made:
    """A made-up moment."""

    def quantity(self, name: str) -> float:
        return {"a.flow_kg_h": -1450.0, "b.flow_kg_h": 450.0, "t.fill": 0.25}[name]

    def state(self, part: str) -> str:
        return {"pump": "running, held back"}[part]


@pytest.mark.parametrize(
    ("test", "held"),
    [
        ("pump=off|running, held back", True),
        ("pump!=running, held back", False),
        ("a.flow_kg_h<-1000", True),
        ("a.flow_kg_h + b.flow_kg_h>-1000", False),
    ],
)
def test_tests_of_a_hook(test: str, held: bool) -> None:
    assert holds(test, Made()) is held


def test_a_wrong_test_is_named() -> None:
    with pytest.raises(ValueError, match="'pump'"):
        holds("pump", Made())


def test_reverse_flow_is_marked() -> None:
    ribbon = make("path", data_flow="a.flow_kg_h", data_px_per_kg_h="0.01", data_least_px="2")
    assert paint(ribbon, Made()).attributes["stroke-width"] == "14.5"
    assert "data-back" in ribbon.attributes


def test_hidden_in_a_page_is_not_hidden_in_a_picture() -> None:
    row, line = make("li", data_when="pump=off"), make("path", data_when="pump=off")
    assert "hidden" in paint(row, Made()).attributes
    assert paint(line, Made()).attributes["display"] == "none"


def test_wetted() -> None:
    wing = {"data-shape": "wedge", "data-from": "100", "data-length": "-80"}
    assert wetted(wing, 0.25) == {"x": "60", "width": "40"}
    box = {"data-shape": "box", "data-from": "200", "data-length": "-50"}
    assert wetted(box, 0.5) == {"y": "175", "height": "25"}


def test_elements_are_escaped() -> None:
    assert Element("p", {"title": 'a"b'}, ["<b> & c"]).render() == '<p title="a&quot;b">&lt;b&gt; &amp; c</p>'


def test_a_tank_whose_state_stays_tells_what_moves_its_fuel_next() -> None:
    flight = day_sector()
    hold_s = next(c.time_s for c in flight.changes if c.part == "centre-left" and c.after == "delivering")
    *_, then = chain(flight, hold_s + 1.0, "centre")
    pumps = [
        c for c in flight.changes if c.part in ("centre-left", "centre-right") and c.time_s > hold_s + 1.0
    ]
    first = min(pumps, key=lambda change: change.time_s)
    label = alder().parts[first.part].label
    assert then.text().startswith("Next: what moves its fuel changes in ")
    assert then.text().endswith(f"at {clock(first.time_s)}: {label}: {first.after}.")
    *_, then = chain(flight, flight.duration_s, "centre")
    assert then.text() == "Next: nothing that moves its fuel changes again in this flight."
    *_, then = chain(flight, flight.duration_s, "centre-left")
    assert then.text() == "Next: its state does not change again in this flight."


def test_what_comes_next_names_its_cause_once() -> None:
    flight = day_sector()
    names = {part.label for part in alder().parts.values()}
    told = []
    for change in flight.changes:
        if change.part in alder().parts:
            *_, then = chain(flight, change.time_s - 1.0, change.part)
            told.append(then.text())
    assert sum("(Return-flow hold (right) ends" in words for words in told) >= 1
    for words in told:
        assert not any(f"{name}: {name}" in words for name in names), words

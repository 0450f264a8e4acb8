"""The feed chart: bars where fuel flows, gaps that say why, one cursor."""

import json
import re
import shutil
import subprocess
from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.draw.flights import alder, day_sector
from wetwing.draw.chart_bars import Gap, bar_path, shared_gaps, ticks
from wetwing.draw.chart_flight import column, rule_words
from wetwing.draw.chart_rows import chart_rows
from wetwing.draw.feed_chart import CHART_LAYOUTS, feed_chart, feed_chart_tree, row_gaps
from wetwing.draw.panel_facts import facts
from wetwing.flight.compact import compact

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize("layout", sorted(CHART_LAYOUTS))
def test_it_is_well_formed_and_the_same_every_time(layout: str) -> None:
    drawn = feed_chart(alder(), day_sector(), 8200.0, layout=layout)
    assert ElementTree.fromstring(drawn).tag.endswith("svg")
    assert drawn == feed_chart(alder(), day_sector(), 8200.0, layout=layout)


def test_there_is_a_row_for_each_way_that_fuel_takes() -> None:
    rows = {row.name: row for row in chart_rows(alder())}
    assert list(rows) == [
        "centre",
        "main-left",
        "main-right",
        "transfers",
        "jet-pumps",
        "returns",
        "supplies",
    ]
    assert rows["transfers"].label == "Outboards"
    assert rows["centre"].pumps == ("centre-left", "centre-right")
    drawn = " ".join(row.flow for row in rows.values())
    for part in (*alder().pumps, *alder().bypasses, *alder().transfers, *alder().returns, *alder().jet_pumps):
        assert f"{part.name}.flow_kg_h" in drawn


def test_the_area_of_a_bar_is_the_fuel_that_flowed() -> None:
    flight = day_sector()
    flow = column(flight, "returns" and chart_rows(alder())[5].flow)
    pieces = zip(flight.time_s, flight.time_s[1:], flow, flow[1:], strict=False)
    mass_kg = sum((end - start) * (a + b) / 2 / 3600 for start, end, a, b in pieces)
    # At a scale of one pixel a second and a hundredth of a pixel a kg/h.
    path = bar_path(flight.time_s, flow, lambda time: time, 0.0, 0.01)
    area = sum(abs(area_of(piece)) for piece in path.split("M")[1:])
    assert area / 3600 / 0.01 == pytest.approx(mass_kg, rel=0.01)


def area_of(piece: str) -> float:
    numbers = [float(text) for text in re.findall(r"-?[\d.]+", piece)]
    places = list(zip(numbers[::2], numbers[1::2], strict=True))
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(places, places[1:] + places[:1], strict=True)) / 2


def test_gaps_say_why_the_centre_is_held() -> None:
    flight = day_sector()
    gaps = row_gaps(flight, chart_rows(alder())[0])
    reasons = {gap.why for gap in gaps}
    assert any("slat" in why for why in reasons)
    assert any("return-flow" in why for why in reasons)
    for gap in gaps:
        for pump in ("centre-left", "centre-right"):
            assert flight.moment((gap.start_s + gap.end_s) / 2).state(pump) != "delivering"


def test_gaps_are_where_every_pump_rests_and_one_is_held() -> None:
    one = [(0.0, 10.0, "off"), (10.0, 30.0, "held"), (30.0, 40.0, "on")]
    other = [(0.0, 15.0, "on"), (15.0, 40.0, "held")]
    why = [lambda _time: "a", lambda _time: "b"]
    assert shared_gaps([one, other], ("held", "on"), why) == [Gap(15.0, 30.0, "a")]


def test_ticks_are_far_enough_apart() -> None:
    assert [words for _, words in ticks(0.0, 7200.0, 0.02)] == ["0 h", "1 h", "2 h"]
    assert ticks(2880.0, 3180.0, 3.0)[0] == (2880.0, "0:48")


def test_the_cursor_stands_at_its_time() -> None:
    layout = CHART_LAYOUTS["wide"]
    flight = day_sector()
    for time_s in (0.0, 8200.0, flight.duration_s):
        tree = feed_chart_tree(alder(), flight, time_s, layout)
        (line,) = [e for e in tree.walk() if e.attributes.get("class") == "cursor-line"]
        share = (float(line.attributes["x1"]) - layout.left) / (layout.width - layout.left - layout.right)
        assert share == pytest.approx(time_s / flight.duration_s, abs=1e-4)


@pytest.mark.parametrize(("start_s", "end_s"), [(0.0, 1.0)])
def test_the_page_draws_the_same_bars_and_gaps(start_s: float, end_s: float, tmp_path: Path) -> None:
    """Python draws the recorded flight, the page's script a flight that is flown again: to the same
    letter."""
    node = shutil.which("node")
    if node is None:
        pytest.skip("there is no Node on the path")
    flight, layout = day_sector(), CHART_LAYOUTS["wide"]
    tree = feed_chart_tree(alder(), flight, 0.0, layout)
    rows = [e for e in tree.walk() if "data-row" in e.attributes]
    asked = {
        "record": compact(flight),
        "rules": rule_words(alder()),
        "left": layout.left,
        "right": layout.width - layout.right,
        "rows": [
            {
                name: row.attributes.get(f"data-{name}")
                for name in ("row-flow", "middle", "px-per-kg-h", "pumps")
            }
            for row in rows
        ],
    }
    (tmp_path / "asked.json").write_text(json.dumps(asked))
    script = ROOT / "tests" / "panel" / "draw_rows.mjs"
    done = subprocess.run([node, script, tmp_path / "asked.json"], capture_output=True, text=True, check=True)
    for row, drawn in zip(rows, json.loads(done.stdout), strict=True):
        (bar,) = [e for e in row.walk() if e.attributes.get("class") == "bar"]
        assert drawn["bar"] == bar.attributes["d"], row.attributes["data-row"]
        gaps = [e.attributes for e in row.walk() if e.attributes.get("class") == "gap"]
        found = [float(gap[edge]) for gap in gaps for edge in ("data-start", "data-end")]
        # One writes whole flights to hundredths of a second, the other to thousandths.
        assert [gap[edge] for gap in drawn["gaps"] for edge in ("start", "end")] == pytest.approx(
            found, abs=0.006
        )


def test_the_page_knows_what_moves_each_tank() -> None:
    """The balance that the page shows accounts for a tank's rate, but for what spills in."""
    flight = day_sector()
    flows = facts(alder())["flows"]
    assert isinstance(flows, dict)
    moment = flight.moment(20_000.0)
    for tank in ("centre", "outboard-left"):
        if moment.state(tank) == "holding":
            known = sum(moment.quantity(quantity) * sign for _, quantity, sign in flows[tank])
            assert known == pytest.approx(moment.quantity(f"{tank}.rate_kg_h"), abs=2.0)

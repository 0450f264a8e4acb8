"""Two panels on one page: the notation, its slips, and that no name of one is a name of the other."""

import re

import pytest

from wetwing.teach.claims import Claims
from wetwing.teach.compare import Difference
from wetwing_tools.site import blocks, twin
from wetwing_tools.site.front import Front
from wetwing_tools.site.library import Library
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.panels import Panels
from wetwing_tools.site.slips import Slips

LIBRARY = Library()
FLIGHTS = LIBRARY.flights("alder-165", "day-sector")

BLOCK = """
```twin
title: Automatic & manual
at: phase cruise + 0:20:00
focus: centre-left
controls: [centre-feed]
left:
  name: automatic
  text: |
    [It is so.]{holds: centre-feed is automatic at end}
right:
  name: manual
  edits: centre-feed=manual at phase cruise
  text: |
    [It is otherwise: {= total.vented_kg at end}.]{holds: centre-feed is manual at end}
```
"""
OTHER = "  edits: centre-feed=manual at phase cruise\n"


def made(page: str) -> tuple[str, PageMaker]:
    one = PageMaker(
        "twins/x.md",
        Front(),
        Claims(FLIGHTS),
        Slips(),
        blocks.MAKERS,
        "../index.html",
        flights_of=LIBRARY.flights,
    )
    return one.make(page, 1), one


def test_each_side_is_judged_in_its_own_flight_and_opens_its_own_panel() -> None:
    html, one = made(BLOCK)
    assert not one.slips.found, one.slips.report()
    assert (one.checked, one.figures) == (2, 1)
    left, right = html.split("Right: manual")
    assert 'data-ww-side="left"' in left
    assert 'data-ww-side="right"' not in left
    assert (
        'href="#;v=1&amp;aircraft=alder-165&amp;flight=day-sector&amp;edit=1:10:00,centre-feed,manual'
        in right
    )
    assert one.twin
    assert one.twin.right.claims.timeline.flight.quantity("total.vented_kg", 26_000) > 300


def test_a_side_can_be_another_aircraft() -> None:
    _, one = made(
        BLOCK.replace(OTHER, "  aircraft: alder-165-b\n").replace("is manual at", "is automatic at")
    )
    assert not one.slips.found, one.slips.report()
    assert one.twin
    assert one.twin.right.claims.flights.aircraft.revision == "B"


@pytest.mark.parametrize(
    ("found", "wanted", "slip"),
    [
        (OTHER, "", "two sides that never part"),
        ("centre-feed is manual at end", "centre-feed is automatic at end", '"It is otherwise'),
        ("controls: [centre-feed]", "controls: [centre-fed]", "nearest: centre-feed"),
        ("controls: [centre-feed]", "controls: [main-left]", "nobody can set 'main-left'"),
        ("focus: centre-left", "focuss: centre-left", "unknown key 'focuss'"),
        ("  name: manual\n", "", "no 'name'"),
        (OTHER, "  aircraft: elder-165\n", "nearest: alder-165"),
        (
            "```twin",
            "```panel\nstart: begin\ncontrols: [slats]\n```\n\n```twin",
            "one panel, or one twin, a page",
        ),
    ],
)
def test_a_slip_in_a_twin_is_told(found: str, wanted: str, slip: str) -> None:
    _, one = made(BLOCK.replace(found, wanted))
    assert slip in one.slips.report()


def test_no_name_of_one_panel_is_a_name_of_the_other() -> None:
    _, one = made(BLOCK)
    assert one.twin
    html = Panels().twin(one.twin, "twins/x.html")
    ids = re.findall(r'\sid="([^"]+)"', html)
    assert len(ids) == len(set(ids)) > 20
    for reference in ("for", "aria-labelledby", "aria-describedby", "aria-controls"):
        for wanted in re.findall(rf'\s{reference}="([^"]+)"', html):
            assert set(wanted.split()) <= set(ids), reference
    assert set(re.findall(r"url\(#([^)]+)\)", html)) <= set(ids)
    left, right = html.split('<div class="ww-twin-side ww-twin-right">')
    radios = re.compile(r'<input[^>]*type="radio"[^>]*name="([^"]+)"')
    assert set(radios.findall(left)).isdisjoint(radios.findall(right))
    assert len(set(radios.findall(left))) == len(set(radios.findall(right))) > 1
    # Regions of a page have names of their own.
    regions = re.findall(r'<section[^>]*aria-label="([^"]+)"', html)
    assert len(regions) == len(set(regions)) == html.count("<section") == 3


def test_where_the_flights_part_stands_on_the_page_without_a_script() -> None:
    _, one = made(BLOCK)
    assert one.twin
    said = twin.parting(one.twin)
    assert said.startswith(
        "A state first differs at 1:21:42.6: centre left pump stopped by automatics on the left,"
    )
    assert "delivering on the right. On the left: The automatics stop it" in said
    html = Panels().twin(one.twin, "twins/x.html")
    assert '<section class="ww-twin" aria-label="Automatic &amp; manual">' in html


def test_an_alert_is_said_to_be_shown_on_one_side_alone() -> None:
    for before, after, side in (("on", "off", "left"), ("off", "on", "right")):
        found = Difference(
            60.0, "leak", "alert", "Fuel leak: less than used", before, after, "So.", side == "right"
        )
        assert twin.parting_words(found) == (
            "A state first differs at 0:01:00: the alert “Fuel leak: less than used” is shown on the "
            f"{side} alone. On the {side}: So."
        )


def test_a_bench_takes_the_place_of_controls() -> None:
    _, one = made("```panel\nstart: begin\nbench: all\n```\n")
    assert one.panel
    assert one.panel.bench
    assert {"centre-feed", "cross-feed", "main-left-aft", "preselect"} <= set(one.panel.controls)
    for wrong in ("bench: some", "bench: all\ncontrols: [slats]"):
        _, one = made(f"```panel\nstart: begin\n{wrong}\n```\n")
        assert "bench: all, which stands instead of controls" in one.slips.report()

"""The block `worksheet`: what a page gets, and each slip with its line."""

import json
import re

import pytest

from wetwing.teach.claims import Claims
from wetwing_tools.site import blocks
from wetwing_tools.site.front import Front
from wetwing_tools.site.library import Library
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.slips import Slips

PANEL = "\n```panel\nstart: begin\ncontrols: [slats]\n```\n"


@pytest.fixture(scope="module")
def maker() -> PageMaker:
    claims = Claims(Library().flights("alder-165", "day-sector"), {})
    return PageMaker("planning/x.md", Front(), claims, Slips(), blocks.MAKERS, "../index.html")


def sheet(inside: str) -> str:
    return f"```worksheet\n{inside}\n```\n"


def test_the_sheet_stands_in_the_page_filled_in_and_counts_as_computed(maker: PageMaker) -> None:
    html = maker.make(sheet("kind: uplift") + PANEL, 1)
    assert not maker.slips.found, maker.slips.report()
    assert maker.figures == 5
    assert 'data-ww-kind="uplift"' in html
    assert "The gauges show what the book says." in html
    facts = json.loads(re.search(r'class="ww-ws-facts">(.*?)</script>', html)[1].replace("<\\/", "</"))  # type: ignore[index]
    assert [field["name"] for field in facts["fields"]][:3] == ["arrival", "ground", "litres"]
    assert facts["answer"]["results"][2]["name"] == "expected"
    assert "approved manuals" in facts["caution"]
    # Every field has a label, and its help and its problem are named by it.
    for name in re.findall(r'<label for="(ws-uplift-[a-z]+)"', html):
        assert f'id="{name}"' in html
        assert f'id="{name}-problem"' in html


@pytest.mark.parametrize(
    ("inside", "panel", "told"),
    [
        ("kind: uplifts", PANEL, "planning/x.md:2: unknown worksheet 'uplifts'"),
        ("kind: uplift\nat: phase crews", PANEL, "planning/x.md:3: "),
        ("kind: uplift\nfields: x", PANEL, "planning/x.md:3: unknown key 'fields'"),
        ("at: begin", PANEL, "planning/x.md:2: no 'kind'"),
        ("kind: uplift", "", "planning/x.md:2: a worksheet on a page without a panel"),
    ],
)
def test_a_slip_names_its_line(maker: PageMaker, inside: str, panel: str, told: str) -> None:
    own = PageMaker("planning/x.md", Front(), maker.claims, Slips(), blocks.MAKERS, "../index.html")
    own.make(sheet(inside) + panel, 1)
    (slip,) = own.slips.found
    assert str(slip).startswith(told)

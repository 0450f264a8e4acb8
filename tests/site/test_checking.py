"""A page whose front matter has a slip is judged all the same: an author sees the rest of them too."""

from pathlib import Path

import pytest

from wetwing_tools.site.checking import check_pages

PAGE = """---
title: Slips
{front}
moments:
  hold: return-flow-hold-rigt becomes active
---

# Slips

[The cross-feed is open.]{{holds: cross-feed is open at begin}}
"""
REST = (5, 10)
"""The lines of the moment that is spelled wrong, and of the sentence that is false."""


@pytest.mark.parametrize(
    ("front", "nearest"),
    [
        ("flight: day-secter", "day-sector"),
        ("aircraft: alder-156", "alder-165"),
        ("flihgt: day-sector", "flight"),
    ],
)
def test_a_slip_in_the_front_matter_hides_no_other(tmp_path: Path, front: str, nearest: str) -> None:
    page = tmp_path / "slips.md"
    page.write_text(PAGE.format(front=front), encoding="utf-8")
    slips = sorted(check_pages([page], "alder-165", "day-sector").slips.found)
    assert [slip.line for slip in slips] == [3, *REST]
    assert f"nearest: {nearest}" in slips[0].message
    assert "nearest: return-flow-hold-right" in slips[1].message
    assert "is not true" in slips[2].message


def test_a_flight_that_is_near_none_stops_the_page(tmp_path: Path) -> None:
    page = tmp_path / "slips.md"
    page.write_text(PAGE.format(front="flight: xyzzy"), encoding="utf-8")
    (slip,) = check_pages([page], "alder-165", "day-sector").slips.found
    assert "unknown script 'xyzzy'" in slip.message

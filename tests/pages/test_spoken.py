"""What a screen reader finds of the panel in four states: names, roles and values, in their order."""

import pytest

from tests.pages.conftest import OpenReader
from tests.pages.flights import first_hold
from tests.pages.snapshots import assert_same_text
from wetwing.flight.clock import clock

CRUISE = "phases/cruise.html"
OF = "v=1&aircraft=alder-165&flight=day-sector"
LEAK = "&edit=1:10:00,main-left,leak+1500"
GAUGE = "&edit=1:10:00,main-left,gauge+blank"


@pytest.mark.parametrize(
    ("state", "more", "live"),
    [
        ("recorded", "", False),
        ("live", "", True),
        ("leak-alert", f"{LEAK}&t=1:40:00", True),
        ("on-the-gauges", f"{LEAK}&view=gauges&t=1:40:00", True),
    ],
)
def test_a_screen_reader_finds_the_whole_state(reader: OpenReader, state: str, more: str, live: bool) -> None:
    time = "" if "&t=" in more else f"&t={clock(first_hold().time_s + 60.0, 1)}"
    opened = reader(f"{CRUISE}#{OF}{more}{time}", block_runtime=not live)
    if live:
        opened.wait_until_live()
    else:
        opened.page.wait_for_function("() => document.querySelector('.ww-state')?.dataset.state === 'failed'")
    opened.wait_until_flown(more.count("&edit="))
    opened.settle()
    assert_same_text(f"{state}.txt", opened.page.locator("wet-wing-panel").aria_snapshot())

"""The panel looks as it did: small pictures of it at three widths, and in dark."""

import pytest

from tests.pages.conftest import OpenReader
from tests.pages.snapshots import assert_same_look

CRUISE = "phases/cruise.html"


@pytest.mark.parametrize(("width", "dark"), [(390, False), (820, False), (1440, False), (1440, True)])
def test_the_panel_looks_as_it_did(reader: OpenReader, width: int, dark: bool) -> None:
    opened = reader(CRUISE, width=width, dark=dark, block_runtime=True)
    # The state line says that the runtime is not there: the rest of the panel is the same as with it.
    opened.page.wait_for_function("() => document.querySelector('.ww-state')?.dataset.state === 'failed'")
    # The page's own bars lie over a tall picture, now here and now there.
    opened.page.add_style_tag(content=".md-header, .md-top, .md-tabs { display: none !important }")
    opened.settle()
    scheme = "dark" if dark else "light"
    assert_same_look(f"panel-{width}-{scheme}", opened.page.locator("wet-wing-panel"))

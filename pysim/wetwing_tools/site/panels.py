"""Puts a page's panel where its block stood: the recorded flight, its pictures, the runtime's place."""

import json
from dataclasses import dataclass, field
from typing import Any

from wetwing.draw.panel_page import panel_html
from wetwing.flight.compact import compact
from wetwing.flight.record import Flight
from wetwing_tools.site.page import PanelWish


@dataclass
class Panels:
    """Makes the panels of one build; each flight is written out once."""

    runtime_folder: str = ""
    runtime_manifest: dict[str, Any] = field(default_factory=dict)
    _records: dict[int, str] = field(default_factory=dict)

    def html(self, flight: Flight, wish: PanelWish, page: str, base: str) -> str:
        """The whole panel of a page, with `base` the way from the page to the runtime's folder."""
        runtime = {"base": base, "manifest": self.runtime_manifest} if base else None
        panel = panel_html(
            flight.aircraft,
            flight,
            record_json=self._record(flight),
            page=page,
            start_s=wish.start_s,
            controls=wish.controls,
            focus=wish.focus,
            caption=wish.caption,
        )
        settings = f'<script type="application/json" class="ww-runtime">{in_script(runtime)}</script>'
        return f'<div class="ww-slot" data-search-exclude>{settings}\n{panel}</div>'

    def _record(self, flight: Flight) -> str:
        if id(flight) not in self._records:
            self._records[id(flight)] = in_script(compact(flight))
        return self._records[id(flight)]


def in_script(value: object) -> str:
    """JSON that can stand in a script element: nothing in it ends the element."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).replace("</", "<\\/")

"""Puts a page's panel where its block stood: the recorded flight, its pictures, the runtime's place."""

import json
from dataclasses import asdict, dataclass, field
from html import escape
from typing import Any

from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.draw.panel_page import panel_html
from wetwing.flight.compact import compact
from wetwing.flight.inputs import inputs
from wetwing.flight.record import Flight
from wetwing_tools.site.naming import title
from wetwing_tools.site.page import PanelWish, TwinWish
from wetwing_tools.site.twin import parting


@dataclass
class Panels:
    """Makes the panels of one build; each flight is written out once."""

    runtime_folder: str = ""
    runtime_manifest: dict[str, Any] = field(default_factory=dict)
    _records: dict[int, str] = field(default_factory=dict)

    def twin(self, wish: TwinWish, page: str) -> str:
        """Two panels on one time, and where their flights part."""
        sides = []
        for key, side in (("left", wish.left), ("right", wish.right)):
            flight = side.claims.timeline.flight
            name = f'<p class="ww-twin-name"><span>{key.capitalize()}</span> {escape(side.name)}</p>'
            panel = self.panel(flight, side.wish, page, key)
            sides.append(f'<div class="ww-twin-side ww-twin-{key}">{name}{panel}</div>')
        title = escape(wish.title)
        return (
            f'<section class="ww-twin" aria-label="{title}"><div class="ww-twin-head">'
            f'<p class="ww-twin-title">{title}</p><p class="ww-twin-parting">{parting(wish)}</p></div>'
            f'<div class="ww-twin-pair">{"".join(sides)}</div></section>'
        )

    def panel(self, flight: Flight, wish: PanelWish, page: str, key: str = "") -> str:
        """The panel of a page, without what its script needs to find the runtime; `key` says which of two."""
        return panel_html(
            flight.aircraft,
            flight,
            record_json=self._record(flight),
            page=page,
            start_s=wish.start_s,
            controls=wish.controls,
            focus=wish.focus,
            caption=wish.caption,
            key=key,
            bench=bench_facts(flight) if wish.bench else None,
        )

    def slot(self, inside: str, base: str) -> str:
        """What a page shows, with `base` the way from the page to the runtime's folder; none where empty."""
        return f'<div class="ww-slot" data-search-exclude>{self.settings(base)}\n{inside}</div>'

    def settings(self, base: str) -> str:
        """Where the page finds the runtime, for its script; nothing where the site has none."""
        runtime = {"base": base, "manifest": self.runtime_manifest} if base else None
        return f'<script type="application/json" class="ww-runtime">{in_script(runtime)}</script>'

    def _record(self, flight: Flight) -> str:
        if id(flight) not in self._records:
            self._records[id(flight)] = in_script(compact(flight))
        return self._records[id(flight)]


def bench_facts(flight: Flight) -> dict[str, object]:
    """What a bench has to know of its flight's script: what it is called, and the figures that can change."""
    script = flight.script
    return {
        "script": {"name": script.name, "title": script.title},
        "inputs": [asdict(found) for found in inputs(script, flight.aircraft)],
        "benches": {name: {"title": title(read_aircraft(name)), "page": f"{name}.html"} for name in fleet()},
    }


def in_script(value: object) -> str:
    """JSON that can stand in a script element: nothing in it ends the element."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).replace("</", "<\\/")

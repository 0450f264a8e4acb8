"""The whole static HTML of a panel: pictures, figures and controls of a page, complete for readers without
scripts.

`docs/panel/element.js` brings it to life. It finds everything by the classes and hooks that are written here,
adds nothing
that moves what is already on the page, and repeats none of the drawing.
"""

import json

from wetwing.aircraft.model import Aircraft
from wetwing.draw import figures
from wetwing.draw.feed_chart import BAND, CHART_LAYOUTS, feed_chart_tree
from wetwing.draw.frame import panel_layouts
from wetwing.draw.hooks import paint
from wetwing.draw.look import STYLE
from wetwing.draw.panel_because import chain
from wetwing.draw.panel_changes import changes_card, lane
from wetwing.draw.panel_controls import bar
from wetwing.draw.panel_facts import facts, part_groups
from wetwing.draw.panel_table import table
from wetwing.draw.panel_traces import traces_html
from wetwing.draw.panel_views import plan_bar, writing
from wetwing.draw.svg import Element, make
from wetwing.draw.unique import names_apart
from wetwing.draw.wing_plan import wing_plan_tree
from wetwing.flight.record import Flight


def panel_html(
    aircraft: Aircraft,
    flight: Flight,
    *,
    record_json: str,
    page: str,
    start_s: float,
    controls: tuple[str, ...] = (),
    focus: str | None = None,
    caption: str | None = None,
    key: str = "",
    bench: dict[str, object] | None = None,
) -> str:
    """Return a panel as HTML.

    `record_json` is the compact record of `flight`, safe inside a script element. `start_s` is the moment
    that the page opens at,
    s; `controls` the parts that a reader can set here; `focus` the part that is explained first. `key`
    names the panel where a page has two; `bench` is what the card of the script's figures has to know.
    """
    start_s = min(max(start_s, 0.0), flight.duration_s)
    focus = focus if focus in aircraft.parts else (controls[0] if controls else aircraft.tanks[0].name)
    root = make(
        "wet-wing-panel", class_="ww-panel",
        data_page=page, data_aircraft=aircraft.name, data_script=flight.script.name,
        data_revision=aircraft.revision, data_start=f"{start_s:.10g}", data_focus=focus,
        data_controls=",".join(controls),
    )  # fmt: skip
    root.add(
        make(
            "section",
            class_="ww-frame",
            aria_label=_named(aircraft, flight, key),
        ).add(
            _top(flight, start_s),
            _plans(aircraft, flight, start_s),
            _alerts(aircraft, flight, start_s),
            _charts(aircraft, flight, start_s),
            lane(),
            bar(aircraft, flight, start_s, controls),
        ),
        *((make("section", class_="ww-card ww-bench ww-live", aria_label="Bench"),) if bench else ()),
        *traces_html(),
        _cards(aircraft, flight, start_s, focus),
        table(aircraft, flight, start_s),
        make("p", caption or _caption(aircraft, flight, start_s), class_="ww-caption"),
    )
    if key:
        _fold(names_apart(root, f"-{key}"))
        root.attributes["data-twin"] = key
    scripts = (
        f'<script type="application/json" class="ww-record">{record_json}</script>'
        f'<script type="application/json" class="ww-facts">{json_in_script(facts(aircraft))}</script>'
    )
    if bench:
        scripts += f'<script type="application/json" class="ww-bench-facts">{json_in_script(bench)}</script>'
    without = (
        "<noscript><style>.ww-live{display:none!important}"
        ".ww-why-card{grid-column:1/-1}.ww-because,.ww-then{height:auto!important}</style></noscript>"
    )
    inside = root.render().removesuffix("</wet-wing-panel>")
    return f"<style>{STYLE}</style>{without}{inside}{scripts}</wet-wing-panel>"


def _fold(root: Element) -> None:
    """Fold what is below the frame, so that two panels can stand side by side. What is said aloud stays."""
    frame, *rest = [child for child in root.children if isinstance(child, Element)]
    caption = rest.pop()
    cards = next(child for child in rest if child.attributes.get("class") == "ww-cards")
    said = cards.children.pop()
    folded = make("details", class_="ww-fold ww-folded").add(
        make("summary", "Because, ledger and every figure"), *rest
    )
    root.children = [frame, folded, said, caption]


def _named(aircraft: Aircraft, flight: Flight, key: str) -> str:
    named = f"{aircraft.title}, {flight.script.title.lower()}: the fuel system"
    return f"{key.capitalize()}: {named}" if key else named


def json_in_script(value: object) -> str:
    """Write JSON that can stand in a script element: nothing in it ends the element."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).replace("</", "<\\/")


def _top(flight: Flight, start_s: float) -> Element:
    moment = flight.moment(start_s)
    when = make("p", class_="ww-when").add(
        make("span", figures.clock(start_s), class_="ww-now-time"),
        make(
            "span",
            f"{flight.phase(start_s).label}, {figures.where(moment.quantity('flight.altitude_ft'))}",
            class_="ww-where",
        ),
    )
    # Filled by the script: without it the sentence that stands here stays true.
    state = make(
        "p", "Recorded flight, at the moment that this page is about.", class_="ww-state", role="status"
    )
    return make("div", class_="ww-top").add(when, state, _units(), writing())


def _units() -> Element:
    choice = make("div", class_="ww-seg")
    for units in figures.UNITS:
        button = make("input", type="radio", name="ww-units", value=units)
        if units == "kg":
            button.attributes["checked"] = ""
        choice.add(make("label", button, make("span", units)))
    return make("fieldset", class_="ww-units ww-live").add(
        make("legend", "Units", class_="ww-hidden"), choice
    )


def _plans(aircraft: Aircraft, flight: Flight, start_s: float) -> Element:
    moment = flight.moment(start_s)
    sides = make("div", class_="ww-seg")
    for side in ("left", "right"):
        button = make("input", type="radio", name="ww-side", value=side)
        if side == "left":
            button.attributes["checked"] = ""
        sides.add(make("label", button, make("span", f"{side} half")))
    frame = make("div", class_="ww-plans")
    for layout in panel_layouts(aircraft):
        picture = wing_plan_tree(aircraft, moment, layout, key=f"ww-{layout.name}")
        frame.add(make("div", picture, class_=f"ww-fit ww-fit-{layout.name}"))
    return make("div", class_="ww-drawing").add(
        plan_bar(),
        make("fieldset", class_="ww-sides ww-live").add(
            make("legend", "Which half to show", class_="ww-hidden"), sides
        ),
        frame,
    )


def _charts(aircraft: Aircraft, flight: Flight, start_s: float) -> Element:
    line = make("div", class_="ww-flightline")
    for layout in (*CHART_LAYOUTS.values(), BAND):
        picture = feed_chart_tree(aircraft, flight, start_s, layout)
        line.add(make("div", picture, class_=f"ww-fit ww-fit-{layout.name}"))
    return line


def _alerts(aircraft: Aircraft, flight: Flight, start_s: float) -> Element:
    rank = {"warning": 0, "caution": 1, "advisory": 2}
    listed = make("ul", class_="ww-alerts", aria_label="Alerts")
    for alert in sorted(aircraft.alerts, key=lambda alert: rank[alert.level]):
        listed.add(
            make(
                "li",
                class_=f"ww-alert ww-level-{alert.level}",
                data_when=f"{alert.name}=on",
                data_for=alert.name,
            ).add(make("strong", alert.level.capitalize()), make("span", alert.text))
        )
    quiet = " & ".join(f"{alert.name}!=on" for alert in aircraft.alerts)
    listed.add(make("li", "No alerts", class_="ww-no-alert", data_when=quiet or None))
    return paint(listed, flight.moment(start_s))


def _cards(aircraft: Aircraft, flight: Flight, start_s: float, focus: str) -> Element:
    choice = make("select", class_="ww-part", id="ww-part")
    for title, names in part_groups(aircraft):
        group = make("optgroup", label=title)
        for name in names:
            option = make("option", aircraft.parts[name].label, value=name)
            if name == focus:
                option.attributes["selected"] = ""
            group.add(option)
        choice.add(group)
    because = make("section", class_="ww-card ww-why-card", aria_labelledby="ww-why-title").add(
        make("p", "Because", class_="ww-card-title", id="ww-why-title"),
        make("p", class_="ww-pick ww-live").add(make("label", "Part", for_="ww-part"), choice),
        *chain(flight, start_s, focus),
    )
    ledger = make("section", class_="ww-card ww-ledger-card ww-live", aria_labelledby="ww-ledger-title").add(
        make("p", "Ledger", class_="ww-card-title", id="ww-ledger-title"),
        make("div", class_="ww-ledger"),
        make("p", class_="ww-describe-row").add(
            make(
                "button",
                "Describe this moment in words",
                type="button",
                class_="ww-describe",
                aria_expanded="false",
            ),
        ),
        make("div", class_="ww-description", hidden="", tabindex="-1"),
    )
    following = make("section", class_="ww-card ww-next-card ww-live", aria_labelledby="ww-next-title").add(
        make("p", "Next changes", class_="ww-card-title", id="ww-next-title"),
        make("ol", class_="ww-next-changes"),
    )
    said = make("p", class_="ww-said ww-hidden", aria_live="polite")
    return make("div", class_="ww-cards").add(changes_card(), because, ledger, following, said)


def _caption(aircraft: Aircraft, flight: Flight, start_s: float) -> str:
    return (
        f"{aircraft.title} of {aircraft.operator}, revision {aircraft.revision}: "
        f"{flight.script.title.lower()}, opened at {figures.clock(start_s)}. "
        "A fictional aircraft, for learning."
    )

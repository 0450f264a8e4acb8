"""The bar under the pictures: moving through time, the switches that a page is about, and the link."""

from wetwing.aircraft.model import Aircraft, Control, Part, Quantity
from wetwing.draw import figures
from wetwing.draw.hooks import paint
from wetwing.draw.panel_facts import part_groups
from wetwing.draw.svg import Element, make
from wetwing.flight.record import Flight

SPEEDS = (1, 10, 60, 120, 300, 600)
USUAL_SPEED = 60
MOST_RADIOS = 3
MOST_TOGETHER = 6


def bar(aircraft: Aircraft, flight: Flight, start_s: float, controls: tuple[str, ...]) -> Element:
    """Return the bar of a panel. Everything in it needs a script, and is hidden where there is none."""
    switches = make("div", class_="ww-switches", role="group", aria_label="Switches")
    moment = flight.moment(start_s)
    made = {name: _switch(aircraft.parts[name], moment.setting(name)) for name in controls}
    if len(made) <= MOST_TOGETHER:
        switches.add(*made.values())
    else:
        switches.attributes["class"] += " ww-switch-groups"
        for title, names in part_groups(aircraft):
            own = [made[name] for name in names if name in made]
            if own:
                head = make("p", title, class_="ww-switch-title")
                switches.add(make("div", head, *own, class_="ww-switch-group"))
    return make("div", class_="ww-bar ww-live").add(
        _transport(start_s),
        paint(switches, flight.moment(start_s)),
        make("p", class_="ww-note", id="ww-note", role="alert", hidden=""),
        make("div", class_="ww-tools").add(
            make("button", "Copy link", type="button", class_="ww-copy"),
            make("button", "Reset", type="button", class_="ww-reset"),
            make("span", class_="ww-copied", role="status"),
            make("label", class_="ww-link-row", hidden="").add(
                "Link to this state ", make("input", type="text", class_="ww-link", readonly="")
            ),
        ),
    )


def _transport(start_s: float) -> Element:
    speed = make("select", class_="ww-speed")
    for times in SPEEDS:
        option = make("option", f"{times} ×", value=str(times))
        if times == USUAL_SPEED:
            option.attributes["selected"] = ""
        speed.add(option)
    zoom = make("select", class_="ww-zoom").add(
        make("option", "whole flight", value="flight"), make("option", "this phase", value="phase")
    )
    time = make(
        "input", type="text", class_="ww-time", value=figures.clock(start_s), size=9, autocomplete="off",
        spellcheck="false", aria_describedby="ww-time-problem",
    )  # fmt: skip
    return make("div", class_="ww-transport", role="group", aria_label="Time").add(
        make("button", "Step back", type="button", class_="ww-back"),
        make("button", "Play", type="button", class_="ww-play ww-primary"),
        make("button", "Next change", type="button", class_="ww-next"),
        make("label", "Time ", time),
        make("label", "Speed ", speed),
        make("label", "Show ", zoom),
        make("p", class_="ww-problem ww-time-problem", id="ww-time-problem", role="alert", hidden=""),
    )


def _switch(part: Part, setting: str) -> Element:
    quantity = part.quantity if isinstance(part, Control) else None
    block = make("fieldset", class_="ww-switch", data_control=part.name, disabled="")
    block.add(make("legend", part.label))
    if quantity:
        block.add(_number(part, quantity, setting))
    elif len(part.settings) <= MOST_RADIOS:
        block.add(_radios(part, setting))
    else:
        block.add(_choice(part, setting))
    if not isinstance(part, Control):
        # What is commanded and what is so are two texts.
        block.add(make("span", "now ", make("strong", data_state=part.name), class_="ww-actual"))
    return block.add(make("p", class_="ww-problem", role="alert", hidden=""))


def _radios(part: Part, setting: str) -> Element:
    choice = make("div", class_="ww-seg")
    for state in part.settings:
        button = make("input", type="radio", name=f"ww-switch-{part.name}", value=state)
        if state == setting:
            button.attributes["checked"] = ""
        choice.add(make("label", button, make("span", state)))
    return choice


def _choice(part: Part, setting: str) -> Element:
    choice = make("select", aria_label=part.label)
    for state in part.settings:
        option = make("option", state, value=state)
        if state == setting:
            option.attributes["selected"] = ""
        choice.add(option)
    return choice


def _number(part: Part, quantity: Quantity, setting: str) -> Element:
    entry = make(
        "input", type="text", inputmode="decimal", autocomplete="off", data_least=quantity.least,
        data_most=quantity.most,
        value=setting.partition(" ")[0], aria_label=f"{part.label}, {quantity.unit}", data_unit=quantity.unit,
    )  # fmt: skip
    return make("div", class_="ww-number").add(
        entry, make("span", quantity.unit, class_="ww-number-unit"), make("button", "Set", type="button")
    )

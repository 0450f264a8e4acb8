"""Why a part is as it is, and what comes next: the card as it stands before a script takes it over."""

from wetwing.draw.panel_facts import tank_flows
from wetwing.draw.svg import Element, make
from wetwing.flight.reasons import because, next_change
from wetwing.flight.record import Flight
from wetwing.teach.words import clock, say, say_state, span

FEW_STEPS = 5


def chain(flight: Flight, start_s: float, part: str) -> list[Element]:
    """Return the pieces of the card: how the part is, because of what, and its next change."""
    steps = because(flight, start_s, part)
    more = make(
        "button", f"Show the whole chain ({len(steps)} steps)", type="button", class_="ww-more ww-live"
    )
    if len(steps) <= FEW_STEPS:
        more.attributes["hidden"] = ""
    return [
        _now(flight, start_s, part),
        make("ul", class_="ww-balance", hidden=""),
        make("ol", class_="ww-because").add(
            *(
                make("li", _told(flight, step.index), data_depth=min(step.depth, 3))
                for step in steps[:FEW_STEPS]
            )
        ),
        more,
        _next(flight, start_s, part),
    ]


def _now(flight: Flight, start_s: float, part: str) -> Element:
    last = flight.last_change(part, start_s)
    since = "since the flight began" if last is None else f"since {clock(flight.changes[last].time_s)}"
    label = _label(flight, part)
    state = flight.moment(start_s).state(part)
    return make(
        "p", make("strong", label), ": ", make("strong", say_state(state)), f" {since}", class_="ww-now"
    )


def _told(flight: Flight, index: int) -> str:
    change = flight.changes[index]
    sentence = say(change.reason.sentence)
    told = f"{sentence[:1].upper()}{sentence[1:]}"
    return f"{clock(change.time_s)} {_label(flight, change.part)}: {say_state(change.after)}. {told}"


def _next(flight: Flight, start_s: float, part: str) -> Element:
    change = next_change(flight, start_s, part)
    if change is None:
        return _last(flight, start_s, part)
    why = say(change.reason.sentence)
    if change.reason.causes:
        cause = flight.changes[change.reason.causes[0]]
        label, told = _label(flight, cause.part), say(cause.reason.sentence)
        # A rule's sentence often begins with the rule's name, which is not said twice.
        why += f" ({told})" if told.startswith(label) else f" ({label}: {told})"
    words = f" {say_state(change.after)} in {span(change.time_s - start_s)}, at {clock(change.time_s)}. {why}"
    return make("p", make("span", "Next:", class_="ww-then-title"), words, class_="ww-then")


def _last(flight: Flight, start_s: float, part: str) -> Element:
    """A part whose state stays. A tank's says little: what moves its fuel goes on changing."""
    is_tank = part in flight.aircraft.parts and flight.aircraft.parts[part].kind == "tank"
    movers = [name for name, _, _ in tank_flows(flight.aircraft, part)] if is_tank else []
    changes = [change for name in movers if (change := next_change(flight, start_s, name)) is not None]
    if not changes:
        what = "nothing that moves its fuel changes again" if movers else "its state does not change again"
        return make("p", f"Next: {what} in this flight.", class_="ww-then")
    change = min(changes, key=lambda change: change.time_s)
    words = (
        f" what moves its fuel changes in {span(change.time_s - start_s)}, at {clock(change.time_s)}: "
        f"{_label(flight, change.part)}: {say_state(change.after)}."
    )
    return make("p", make("span", "Next:", class_="ww-then-title"), words, class_="ww-then")


def _label(flight: Flight, part: str) -> str:
    # The phase changes too, and is no part of the aircraft.
    known = flight.aircraft.parts.get(part)
    if known is None:
        return part.capitalize()
    # What a trouble does stands in its reason.
    return "Trouble" if known.kind == "trouble" else known.label

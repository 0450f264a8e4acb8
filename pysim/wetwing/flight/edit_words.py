"""An edit of a flight in words, as buttons and lists name it. `docs/panel/edit_words.js` says the same."""

from wetwing.aircraft.model import Aircraft, Control
from wetwing.flight.edits import parse_edit
from wetwing.flight.phrases import mark as quantity_mark
from wetwing.flight.script_records import Action, Edit
from wetwing.flight.troubles import Trouble, breakdown, mark


def edit_words(edit: Edit, aircraft: Aircraft) -> str:
    """Say what an edit does to its part, its figure marked in braces.

    `Centre feed selector to manual`, `Main left: leak {900 kg/h}`, `Main left mended`. Raises Mistake.
    """
    place = f"edit of {edit.part}"
    found = parse_edit(edit, aircraft, place)
    part = aircraft.parts[edit.part]
    if isinstance(found, Trouble):
        kind = breakdown(part, found.kind, place)
        return f"{part.label}: {found.kind}{_amount(kind.key, mark(kind, found.severity))}"
    if not isinstance(found, Action):
        return f"{part.label} mended"
    state = found.settings[0].state
    if isinstance(part, Control) and part.quantity:
        unit = part.quantity.unit
        state = quantity_mark(float(state.removesuffix(unit).strip()), unit)
    return f"{part.label} to {state}"


def _amount(key: str | None, marked: str) -> str:
    """A trouble's figure after its kind; a factor has no unit, so the word says what it is."""
    if key is None:
        return ""
    return f" {marked} times" if key == "factor" else f" {marked}"

"""A reader's edits: a setting, a trouble or a mending more, each checked. They make a new script."""

from dataclasses import replace

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft, Control, Part
from wetwing.flight.clock import clock
from wetwing.flight.script_records import Action, Edit, Script, Setting
from wetwing.flight.troubles import Breakdown, Mended, Trouble, breakdowns, check_severity

MOST_EDITS = 200
MENDED = "mended"


def settable(aircraft: Aircraft) -> dict[str, Part]:
    """Parts that a person can set."""
    return {
        name: part
        for name, part in aircraft.parts.items()
        if part.settings or (isinstance(part, Control) and part.quantity is not None)
    }


def check_setting(part: str, state: str, aircraft: Aircraft, place: str) -> Setting:
    """A setting that the aircraft can take, with a number in its normal form. Raises Mistake."""
    if part not in aircraft.parts:
        raise unknown(place, "part", part, settable(aircraft))
    known = settable(aircraft)
    if part not in known:
        raise Mistake(place, f"{part} is not set by a person", known)
    found = known[part]
    if isinstance(found, Control) and found.quantity:
        quantity = found.quantity
        value = _number(state, quantity.unit)
        if value is None or not quantity.least <= value <= quantity.most:
            allowed = f"{quantity.least:g} to {quantity.most:g} {quantity.unit}"
            raise Mistake(place, f"{part} = '{state[:40]}'", allowed)
        return Setting(part, f"{value:g} {quantity.unit}")
    if state not in found.settings:
        raise unknown(place, f"setting of {part}", state, found.settings)
    return Setting(part, state)


def parse_edit(edit: Edit, aircraft: Aircraft, place: str, name: str = "edit-1") -> Action | Trouble | Mended:
    """What an edit does: a setting where its word is one, else a trouble such as `leak 1200` (called `name`),
    or `mended`. Raises Mistake.
    """
    if edit.part not in aircraft.parts:
        able = [each for each, part in aircraft.parts.items() if _words(part)]
        raise unknown(place, "part", edit.part, able)
    part = aircraft.parts[edit.part]
    kinds = breakdowns(part)
    if edit.state not in part.settings and kinds:
        if edit.state == MENDED:
            return Mended(edit.time_s, part.name)
        # The longest kind wins: "stuck open" is not "stuck" with a figure "open".
        for found in sorted(kinds, key=lambda kind: len(kind.kind), reverse=True):
            if edit.state == found.kind or edit.state.startswith(f"{found.kind} "):
                severity = _severity(found, edit.state[len(found.kind) :].strip(), part, place)
                return Trouble(
                    name=name,
                    part=part.name,
                    kind=found.kind,
                    severity=severity,
                    at_s=edit.time_s,
                    when=None,
                    after_s=0.0,
                    until_s=None,
                    lasts_s=None,
                    note="",
                )
        if not (isinstance(part, Control) and part.quantity):
            what = "setting or trouble" if part.settings else "trouble"
            raise unknown(place, f"{what} of {part.name}", edit.state, _words(part))
    return Action((check_setting(edit.part, edit.state, aircraft, place),), "", edit.time_s, None, 0.0)


def plain_edit(edit: Edit, aircraft: Aircraft, place: str) -> Edit:
    """The same edit as links write it: a number without comma or unit, blanks alone between words. Raises
    Mistake.
    """
    found = parse_edit(edit, aircraft, place)
    if isinstance(found, Action):
        return Edit(edit.time_s, found.settings[0].part, found.settings[0].state)
    if isinstance(found, Mended):
        return Edit(edit.time_s, found.part, MENDED)
    kind = next(one for one in breakdowns(aircraft.parts[found.part]) if one.kind == found.kind)
    figure = f" {found.severity:.10g}" if kind.key else ""
    return Edit(edit.time_s, found.part, f"{found.kind}{figure}")


def with_edits(script: Script, edits: tuple[Edit, ...], aircraft: Aircraft) -> Script:
    """The same script with a reader's edits, each checked. Edits come after the script's own actions of the
    same time.
    """
    if len(edits) > MOST_EDITS:
        raise Mistake("edits", f"{len(edits)} edits", f"at most {MOST_EDITS}")
    actions, troubles, mended = list(script.actions), list(script.troubles), list(script.mended)
    taken = {*aircraft.parts, *(trouble.name for trouble in troubles)}
    for edit in edits:
        place = f"edit at {clock(edit.time_s)}"
        if not 0 <= edit.time_s <= script.ends_s:
            raise Mistake(place, "a time outside the flight", f"0:00:00 to {clock(script.ends_s)}")
        name = next(name for name in (f"edit-{i}" for i in range(1, len(taken) + 2)) if name not in taken)
        found = parse_edit(edit, aircraft, place, name)
        if isinstance(found, Action):
            actions.append(found)
        elif isinstance(found, Trouble):
            troubles.append(found)
            taken.add(name)
        else:
            mended.append(found)
    return replace(
        script,
        actions=tuple(actions),
        troubles=tuple(troubles),
        mended=tuple(mended),
        edits=script.edits + edits,
    )


def _words(part: Part) -> tuple[str, ...]:
    kinds = tuple(found.kind for found in breakdowns(part))
    number = isinstance(part, Control) and part.quantity is not None
    return (*part.settings, *kinds, MENDED) if kinds else part.settings or (("a number",) if number else ())


def _severity(found: Breakdown, figure: str, part: Part, place: str) -> float:
    if not figure:
        return float(found.default)
    place = f"{place}: {part.name}"
    if found.key is None:
        raise Mistake(
            place, f"'{figure[:40]}' after '{found.kind}'", f"'{found.kind}' alone: it takes no figure"
        )
    value = _number(figure, found.unit)
    if value is None:
        allowed = f"a number from {found.least:g} to {found.most:g} {found.unit}".rstrip()
        raise Mistake(place, f"{found.kind} '{figure[:40]}'", allowed)
    return check_severity(found, value, f"{place}: {found.kind}")


def _number(text: str, unit: str) -> float | None:
    text = text.removesuffix(unit).strip()
    try:
        return float(text.replace(",", "")) if len(text) < 20 else None
    except ValueError:
        return None

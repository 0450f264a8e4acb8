"""Links that hold a state of a panel as its inputs: readable, versioned, and harmless whatever they say.

    #v=1&aircraft=alder-165&flight=day-sector&edit=1:58:20,centre-feed,manual&t=2:12:40&units=kg

The page is the link's path; the fragment holds the rest. Only syntax is judged here: whether the aircraft has
that part is the simulation's to say. `tests/vectors/links.json` holds this reader and the panel's to one
answer.
"""

import re
from dataclasses import dataclass
from urllib.parse import unquote_plus

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.flight.clock import seconds
from wetwing.teach.words import UNITS, Units, clock

VERSION = "1"
MOST_EDITS = 50
MOST_CHARACTERS = 4000
KEYS = ("v", "aircraft", "flight", "edit", "t", "units", "view")
VIEWS = ("inside", "gauges")

_NAME = re.compile(r"[a-z][a-z0-9-]{0,59}")
_STATE = re.compile(r"[A-Za-z0-9][A-Za-z0-9 .-]{0,39}")
_PLACE = "link"


@dataclass(frozen=True, slots=True)
class LinkEdit:
    """One change of the script: at `time_s` somebody sets `part` to `state`."""

    time_s: float
    part: str
    state: str


@dataclass(frozen=True, slots=True)
class Link:
    """What a link asks for; what it leaves open is the page's own default."""

    aircraft: str | None = None
    flight: str | None = None
    edits: tuple[LinkEdit, ...] = ()
    time_s: float | None = None
    units: Units | None = None
    view: str | None = None


def format_link(link: Link) -> str:
    """Write the fragment of a link, with its `#`."""
    fields = [f"v={VERSION}"]
    if link.aircraft is not None:
        fields.append(f"aircraft={link.aircraft}")
    if link.flight is not None:
        fields.append(f"flight={link.flight}")
    fields += [f"edit={clock(edit.time_s)},{edit.part},{edit.state.replace(' ', '+')}" for edit in link.edits]
    if link.time_s is not None:
        fields.append(f"t={clock(link.time_s)}")
    if link.units is not None:
        fields.append(f"units={link.units}")
    # A page of before the second view refuses this key: so the usual view, which needs none, has none.
    if link.view == "gauges":
        fields.append(f"view={link.view}")
    return "#" + "&".join(fields)


def parse_link(fragment: str) -> Link | None:
    """Read a fragment; None where it is an ordinary anchor (it has no `=`) and no link. Raises Mistake."""
    text = fragment.removeprefix("#")
    if "=" not in text:
        return None
    if len(text) > MOST_CHARACTERS:
        raise Mistake(_PLACE, f"{len(text)} characters", f"at most {MOST_CHARACTERS} characters")
    fields = [_field(field) for field in text.split("&")]
    once: dict[str, str] = {}
    edits: list[LinkEdit] = []
    for key, value in fields:
        if key == "edit":
            edits.append(_edit(value, len(edits) + 1))
        elif key in once:
            raise Mistake(_PLACE, f"'{key}' stands twice", f"'{key}' once")
        else:
            once[key] = value
    _check_version(once.get("v"))
    if len(edits) > MOST_EDITS:
        raise Mistake(_PLACE, f"{len(edits)} edits", f"at most {MOST_EDITS} edits")
    return Link(
        aircraft=_name(once, "aircraft"),
        flight=_name(once, "flight"),
        edits=tuple(edits),
        time_s=seconds(once["t"], f"{_PLACE}, t") if "t" in once else None,
        units=_units(once),
        view=_view(once),
    )


def _field(field: str) -> tuple[str, str]:
    key, equals, raw = field.partition("=")
    if key not in KEYS:
        raise unknown(_PLACE, "key", key, KEYS)
    if not equals or not raw:
        raise Mistake(_PLACE, f"'{key}' has no value; the link may have been cut short", f"{key}=…")
    try:
        return key, unquote_plus(raw, errors="strict")
    except UnicodeDecodeError:
        raise Mistake(_PLACE, f"the value of '{key}' is not text", "UTF-8 with percent signs") from None


def _check_version(found: str | None) -> None:
    if found is None:
        raise Mistake(_PLACE, "no version; the link may have been cut short", f"v={VERSION}", f"v={VERSION}")
    if found != VERSION:
        raise Mistake(_PLACE, f"version '{found[:20]}'", f"version {VERSION}", f"v={VERSION}")


def _edit(value: str, ordinal: int) -> LinkEdit:
    place = f"{_PLACE}, edit {ordinal}"
    pieces = value.split(",")
    if len(pieces) != 3:
        raise Mistake(
            place,
            f"'{value[:60]}' has {len(pieces)} of 3 pieces",
            "time,part,state, such as 1:58:20,centre-feed,manual",
        )
    time, part, state = pieces
    if not _NAME.fullmatch(part):
        raise Mistake(place, f"'{part[:60]}' is no name of a part", "small letters, digits and hyphens")
    if not _STATE.fullmatch(state):
        raise Mistake(place, f"'{state[:60]}' is no state", "letters, digits, spaces, points and hyphens")
    return LinkEdit(seconds(time, place), part, state)


def _name(once: dict[str, str], key: str) -> str | None:
    value = once.get(key)
    if value is not None and not _NAME.fullmatch(value):
        raise Mistake(f"{_PLACE}, {key}", f"'{value[:60]}' is no name", "small letters, digits and hyphens")
    return value


def _units(once: dict[str, str]) -> Units | None:
    value = once.get("units")
    if value is None:
        return None
    if value not in UNITS:
        raise unknown(f"{_PLACE}, units", "unit of mass", value, UNITS)
    return value


def _view(once: dict[str, str]) -> str | None:
    value = once.get("view")
    if value is not None and value not in VIEWS:
        raise unknown(f"{_PLACE}, view", "view", value, VIEWS)
    return value

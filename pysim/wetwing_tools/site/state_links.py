"""Links to states that stand in a page's Markdown: they must be read, and name what there is.

`[the first hold](../phases/cruise.md#v=1&t=1:28:00)` opens a state of another page's panel. MkDocs checks the
page; what stands after `#` is checked here.
"""

import posixpath
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import fleet, read_aircraft
from wetwing.flight.clock import clock
from wetwing.flight.edits import plain_edit
from wetwing.flight.script import Edit, read_script, script_aircraft, script_for, scripts, variants
from wetwing.teach.link import Link, parse_link
from wetwing_tools.site.slips import Slips

_CODE = re.compile(r"(`{3,}|~{3,})[\s\S]*?^\1|`[^`\n]+`", re.MULTILINE)
_LINK = re.compile(r"\]\(<?([^()\s<>#]*)#([^()\s<>]*=[^()\s<>]*)>?\)")


@dataclass(frozen=True, slots=True)
class Shown:
    """What a page's panel shows: a link for anything else is refused there. A flight of None is not known
    here: two of them stand side by side.
    """

    aircraft: str
    flight: str | None


def check(
    source: str,
    page: str,
    aircraft: str,
    read: Callable[[str], Aircraft],
    slips: Slips,
    shown: Mapping[str, Shown] | None = None,
) -> None:
    """Note each link to a state that cannot be opened.

    `aircraft` is that of links which name none; `shown` tells what pages show, by their paths.
    """
    bare = _CODE.sub(lambda code: re.sub(r"[^\n]", " ", code[0]), source)
    for found in _LINK.finditer(bare):
        line = bare.count("\n", 0, found.start()) + 1
        target = posixpath.normpath(posixpath.join(posixpath.dirname(page), found[1])) if found[1] else page
        there = (shown or {}).get(target)
        for part in found[2].replace("&amp;", "&").split(";"):
            try:
                link = parse_link(part)
                if link:
                    place = f"{page}:{line}"
                    _check_names(link, place)
                    if there:
                        _check_shown(link, place, target, there)
                    _check_flight(link, place, there or Shown(aircraft, None), read)
            except Mistake as mistake:
                slips.mistake(page, line, mistake)


def _check_names(link: Link, place: str) -> None:
    if link.aircraft is not None and link.aircraft not in fleet():
        raise unknown(place, "aircraft", link.aircraft, fleet())
    known = (*scripts(), *variants())
    if link.flight is not None and link.flight not in known:
        raise unknown(place, "flight", link.flight, known)


def _check_flight(link: Link, place: str, there: Shown, read: Callable[[str], Aircraft]) -> None:
    """Raise Mistake for a part or a state that the aircraft lacks, or a time after the end of the flight."""
    own = link.aircraft or there.aircraft
    for edit in link.edits:
        plain_edit(Edit(edit.time_s, edit.part, edit.state), read(own), place)
    flight = link.flight or there.flight
    if flight is None or flight not in (*scripts(), *variants()) or own not in fleet():
        return  # a page's own slip, told there
    wanted = script_aircraft(flight)
    if own != wanted and not own.startswith(f"{wanted}-"):
        raise Mistake(place, f"the flight {flight} with the aircraft {own}", f"{wanted}, which it is for")
    ends_s = _ends_s(flight, own)
    times = [(f"the time of {edit.part}", edit.time_s) for edit in link.edits]
    for what, time_s in (*times, ("t", link.time_s)):
        if time_s is not None and time_s > ends_s:
            raise Mistake(place, f"{what}, {clock(time_s)}", f"up to the end of {flight}, {clock(ends_s)}")


@cache
def _ends_s(flight: str, aircraft: str) -> float:
    return read_script(flight, read_aircraft(aircraft)).ends_s


def _check_shown(link: Link, place: str, target: str, there: Shown) -> None:
    for what, asked, shows in (
        ("aircraft", link.aircraft, there.aircraft),
        ("flight", link.flight, there.flight),
    ):
        if asked is not None and shows is not None and asked != shows:
            raise Mistake(place, f"a link for the {what} {asked}", f"{shows}, which is what {target} shows")


def shown_by(source: str, aircraft: str | None, flight: str | None, usual: str) -> Shown:
    """What a page shows by its front matter; `usual` is the aircraft of pages that name none."""
    own = aircraft or usual
    if "```twin" in source:
        return Shown(own, None)
    return Shown(own, flight or script_for(own))

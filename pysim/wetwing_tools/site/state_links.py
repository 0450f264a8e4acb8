"""Links to states that stand in a page's Markdown: they must be read, and name what there is.

`[the first hold](../phases/cruise.md#v=1&t=1:28:00)` opens a state of another page's panel. MkDocs checks the
page; what stands after `#` is checked here.
"""

import re
from collections.abc import Callable

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import fleet
from wetwing.flight.edits import plain_edit
from wetwing.flight.script import Edit, scripts
from wetwing.teach.link import Link, parse_link
from wetwing_tools.site.slips import Slips

_CODE = re.compile(r"(`{3,}|~{3,})[\s\S]*?^\1|`[^`\n]+`", re.MULTILINE)
_LINK = re.compile(r"\]\(<?[^()\s<>#]*#([^()\s<>]*=[^()\s<>]*)>?\)")


def check(source: str, page: str, aircraft: str, read: Callable[[str], Aircraft], slips: Slips) -> None:
    """Note each link to a state that cannot be opened; `aircraft` is that of links which name none."""
    bare = _CODE.sub(lambda code: re.sub(r"[^\n]", " ", code[0]), source)
    for found in _LINK.finditer(bare):
        line = bare.count("\n", 0, found.start()) + 1
        for part in found[1].replace("&amp;", "&").split(";"):
            try:
                link = parse_link(part)
                if link:
                    _check(link, f"{page}:{line}", aircraft, read)
            except Mistake as mistake:
                slips.mistake(page, line, mistake)


def _check(link: Link, place: str, aircraft: str, read: Callable[[str], Aircraft]) -> None:
    """Raise Mistake where a link names an aircraft, a flight, a part or a state that does not exist."""
    if link.aircraft is not None and link.aircraft not in fleet():
        raise unknown(place, "aircraft", link.aircraft, fleet())
    if link.flight is not None and link.flight not in scripts():
        raise unknown(place, "flight", link.flight, scripts())
    known = read(link.aircraft or aircraft)
    for edit in link.edits:
        plain_edit(Edit(edit.time_s, edit.part, edit.state), known, place)

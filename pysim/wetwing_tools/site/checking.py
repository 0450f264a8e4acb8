"""Checks pages without building a site: every statement, figure and block, as the build does."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from wetwing.aircraft.mistakes import Mistake
from wetwing.teach.claims import Claims
from wetwing_tools.site import blocks
from wetwing_tools.site.front import Front, body_of, first_line_of, read_front
from wetwing_tools.site.library import Library
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.slips import Slips


@dataclass
class Checked:
    """What was found on some pages."""

    pages: int = 0
    statements: int = 0
    figures: int = 0
    slips: Slips = field(default_factory=Slips)


def check_pages(paths: Iterable[Path], aircraft: str, flight: str) -> Checked:
    """Make pages of the course and throw the HTML away; `aircraft` and `flight` serve where a page names none."""
    library, found = Library(), Checked()
    for path in paths:
        source, name = path.read_text(encoding="utf-8"), str(path)
        try:
            front = read_front(source, name)
            claims = Claims(
                library.flights(front.aircraft or aircraft, front.flight or flight), front.moments
            )
        except Mistake as mistake:
            found.slips.mistake(name, 1, mistake)
            continue
        markdown = body_of(source)
        maker = PageMaker(
            name, front, claims, found.slips, blocks.MAKERS, "index.html", flights_of=library.flights
        )
        check_moments(front, claims, name, found.slips)
        maker.make(markdown, first_line_of(source, markdown))
        found.pages += 1
        found.statements += maker.checked
        found.figures += maker.figures
    return found


def check_moments(front: Front, claims: Claims, page: str, slips: Slips) -> None:
    """A moment that the page names must happen, whether or not a statement uses it."""
    for name, text in front.moments.items():
        try:
            claims.moments.find(name, f"{page}:{text.line}")
        except Mistake as mistake:
            slips.mistake(page, text.line, mistake)

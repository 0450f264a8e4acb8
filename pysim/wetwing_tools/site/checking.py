"""Checks pages without building a site: every statement, figure and block, as the build does."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.teach.claims import Claims
from wetwing.teach.flights import Flights
from wetwing_tools.site import blocks, objectives, reading, state_links
from wetwing_tools.site.front import Front, body_of, first_line_of, read_front
from wetwing_tools.site.library import Library
from wetwing_tools.site.page import PageMaker, line_of
from wetwing_tools.site.slips import Slips
from wetwing_tools.site.survey import survey
from wetwing_tools.site.yaml_lines import Text


@dataclass
class Checked:
    """What was found on some pages."""

    pages: int = 0
    statements: int = 0
    figures: int = 0
    slips: Slips = field(default_factory=Slips)


def check_pages(paths: Iterable[Path], aircraft: str, flight: str) -> Checked:
    """Make pages of the course and throw the HTML away; `aircraft` and `flight` serve where one names none."""
    library, found = Library(), Checked()
    for path in paths:
        source, name = path.read_text(encoding="utf-8"), str(path)
        maker = maker_of(name, source, "index.html", library, (aircraft, flight), found.slips)
        if maker is None:
            continue
        markdown = body_of(source)
        maker.make(markdown, first_line_of(source, markdown))
        _check_alone(source, name, aircraft, library.aircraft, found.slips)
        found.pages += 1
        found.statements += maker.checked
        found.figures += maker.figures
    return found


def _check_alone(
    source: str, page: str, aircraft: str, read: Callable[[str], Aircraft], slips: Slips
) -> None:
    """What a page says of itself, without the rest of the course."""
    try:
        one = survey(source, page)
    except Mistake:
        return  # told already, by whatever made the block
    objectives.check_page(one, slips)
    reading.check_page(one, slips)
    state_links.check(source, page, one.front.aircraft or aircraft, read, slips)


def maker_of(
    page: str, source: str, elsewhere: str, library: Library, usual: tuple[str, str], slips: Slips
) -> PageMaker | None:
    """What makes a page, its named moments checked; None, and a slip, where its front matter cannot be used.

    `usual` names the aircraft and the flight that serve where the page names none.
    """
    aircraft, flight = usual
    try:
        told: list[Mistake] = []
        front = read_front(source, page, told)
        for mistake in told:
            slips.mistake(page, line_of(mistake, page, 1), mistake)
        wanted = (front.aircraft or Text(aircraft, 1), front.flight or Text(flight, 1))
        flights = _flights(library, wanted, usual, page, slips)
    except Mistake as mistake:
        slips.mistake(page, line_of(mistake, page, 1), mistake)
        return None
    own = flights.aircraft.name
    claims = Claims(flights, front.moments, others=lambda name: library.flights(own, name))
    check_moments(front, claims, page, slips)
    return PageMaker(page, front, claims, slips, blocks.MAKERS, elsewhere, flights_of=library.flights)


def _flights(
    library: Library, wanted: tuple[Text, Text], usual: tuple[str, str], page: str, slips: Slips
) -> Flights:
    """The flights of a page. One that there is not is a slip, and the nearest stands for it, so that the rest
    of the page is judged too. Raises Mistake where nothing is near enough to judge by.
    """
    aircraft, flight = wanted
    for _ in wanted:
        try:
            return library.flights(aircraft, flight)
        except Mistake as mistake:
            if not mistake.nearest or mistake.place not in ("aircraft", "script"):
                raise
            of_the_aircraft = mistake.place == "aircraft"
            named = aircraft if of_the_aircraft else flight
            slips.mistake(page, named.line, Mistake(f"{page}:{named.line}", mistake.found, mistake.allowed, mistake.nearest))
            if of_the_aircraft:
                aircraft = Text(mistake.nearest, named.line)
            else:
                flight = Text(mistake.nearest, named.line)
    return library.flights(aircraft, flight)


def check_moments(front: Front, claims: Claims, page: str, slips: Slips) -> None:
    """A moment that the page names must happen, whether or not a statement uses it."""
    for name, text in front.moments.items():
        try:
            claims.moments.find(name, f"{page}:{text.line}")
        except Mistake as mistake:
            slips.mistake(page, text.line, mistake)

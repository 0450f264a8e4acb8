"""Makes the pages of a build, several at a time: each is flown, judged and drawn in one of a few processes.

What a page becomes is plain data, so that a process can hand it back, and a server that builds again makes
only what has changed.
"""

import hashlib
import multiprocessing
import os
from collections.abc import Iterable, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache

from wetwing.aircraft.mistakes import Mistake
from wetwing.teach.claims import Claims
from wetwing_tools.site import blocks, exercises, twin
from wetwing_tools.site.checking import maker_of
from wetwing_tools.site.front import Objective, first_line_of, read_front
from wetwing_tools.site.library import Library
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.panels import Panels
from wetwing_tools.site.slips import Slip, Slips

MOST_PROCESSES = 8
FEWEST_PAGES = 4
"""Fewer are made here: to start a process takes as long as to make one."""


@dataclass(frozen=True, slots=True)
class Job:
    """A page to be made: its path, its whole source and the text after the front matter, and the way from it
    to a page with a panel.
    """

    uri: str
    url: str
    source: str
    markdown: str
    elsewhere: str


@dataclass(frozen=True, slots=True)
class Terms:
    """What every page of a build is made under; `aircraft` and `flight` serve where a page names none."""

    aircraft: str
    flight: str
    objectives: Mapping[str, Objective]


@dataclass(frozen=True, slots=True)
class Made:
    """A page's Markdown with HTML in it; what stands in its slot, if it has one; its slips and counts."""

    markdown: str
    slot: str | None = None
    inside: str = ""
    slips: tuple[Slip, ...] = ()
    checked: int = 0
    figures: int = 0


def make_all(jobs: Sequence[Job], terms: Terms, kept: dict[str, Made]) -> dict[str, Made]:
    """Make every page; `kept` holds those that were made before, and takes the new ones."""
    keys = {job.uri: _key(job, terms) for job in jobs}
    wanted = [job for job in jobs if keys[job.uri] not in kept]
    # The longest first, so that none is left alone at the end.
    wanted.sort(key=lambda job: -len(job.source))
    processes = min(MOST_PROCESSES, os.process_cpu_count() or 1)
    if processes == 1 or len(wanted) < FEWEST_PAGES:
        found: Iterable[Made] = [make(job, terms) for job in wanted]
    else:
        # A fresh process holds no thread and no open file of this one.
        fresh = multiprocessing.get_context("spawn")
        with ProcessPoolExecutor(processes, fresh) as pool:
            found = list(pool.map(make, wanted, [terms] * len(wanted)))
    kept.update({keys[job.uri]: made for job, made in zip(wanted, found, strict=True)})
    return {job.uri: kept[keys[job.uri]] for job in jobs}


def make(job: Job, terms: Terms) -> Made:
    """Make one page: turn its notation into HTML, and draw what stands in its slot."""
    library, slips = _library(), Slips()
    usual = (terms.aircraft, terms.flight)
    maker = maker_of(job.uri, job.source, job.elsewhere, library, usual, slips)
    if maker is None:
        return Made(job.markdown, slips=tuple(slips.found))
    maker.course = dict(terms.objectives)
    markdown = maker.make(job.markdown, first_line_of(job.source, job.markdown))
    slot, inside = (None, "") if slips.found else _slot(maker, job.url)
    library.forget_edited()
    return Made(markdown, slot, inside, tuple(slips.found), maker.checked, maker.figures)


def _slot(maker: PageMaker, url: str) -> tuple[str | None, str]:
    if maker.exercises:
        return exercises.SLOT, maker.exercises
    if maker.twin:
        return twin.SLOT, Panels().twin(maker.twin, url)
    if maker.panel:
        return blocks.SLOT, Panels().panel(maker.claims.timeline.flight, maker.panel, url)
    return None, ""


@cache
def _library() -> Library:
    """The flights of this process."""
    return Library()


def _key(job: Job, terms: Terms) -> str:
    """A page's own name and content, and whatever else it is made from."""
    said = "\0".join((job.uri, job.source, job.elsewhere, repr(terms)))
    return hashlib.sha256(said.encode()).hexdigest()

"""All pages of the course as one: what they list, what they miss together, and the pages made from that."""

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.teach.exercises import KINDS, objectives_served
from wetwing_tools.site import objectives, reading, state_links, vocabulary
from wetwing_tools.site.front import Objective
from wetwing_tools.site.slips import Slips
from wetwing_tools.site.survey import Survey, survey


@dataclass(frozen=True, slots=True)
class Course:
    """The pages that people wrote, in the order of the menu, and those that a build leaves out."""

    surveys: tuple[Survey, ...]
    left_out: tuple[Survey, ...] = ()

    @property
    def objectives(self) -> dict[str, Objective]:
        """Every objective by its id."""
        return objectives.defined((*self.surveys, *self.left_out))

    def check(self, slips: Slips, fleet: Sequence[Aircraft]) -> None:
        """Note every slip that is seen without a flight; the first of the fleet is the site's own."""
        known = {aircraft.name: aircraft for aircraft in fleet}
        usual = fleet[0].name
        shown = {
            one.page: state_links.shown_by(one.source, one.front.aircraft, one.front.flight, usual)
            for one in (*self.surveys, *self.left_out)
        }
        for one in self.surveys:
            objectives.check_page(one, slips)
            reading.check_page(one, slips)
            own = one.front.aircraft or usual
            state_links.check(one.source, one.page, own, known.__getitem__, slips, shown)
        if not self.left_out:
            objectives.check_course(self.surveys, slips)
            # A small site without a glossary has nothing that its words could be held to.
            if self.glossary:
                vocabulary.check(self.surveys, self.glossary, fleet, slips)

    @property
    def glossary(self) -> str:
        """The text of the glossary; none where the course has none."""
        return next((one.source for one in self.surveys if one.page == vocabulary.GLOSSARY), "")

    def pages(
        self, exercises: Mapping[str, Sequence[str]], made: Mapping[str, str] | None = None
    ) -> dict[str, str]:
        """The pages made from the others, by their path within the docs folder; `made` are those that the
        build makes from anything else.
        """
        matrix = objectives.pages(self.surveys, exercises)
        words = vocabulary.first_uses(self.surveys, self.glossary)
        figures = reading.page(self.surveys, words, read_course({**(made or {}), **matrix}).surveys)
        return {**matrix, "reference/pages.md": figures}


def exercise_objectives() -> dict[str, tuple[str, ...]]:
    """The objectives of each kind of exercise, by what it asks for."""
    return {KINDS[kind].capitalize(): ids for kind, ids in objectives_served().items()}


def read_course(sources: Mapping[str, str], left_out: Container[str] = ()) -> Course:
    """Read every page by its path, in the order given.

    One that cannot be read is missing here: its own making says why.
    """
    found = []
    for path, source in sources.items():
        try:
            found.append(survey(source, path))
        except Mistake:
            continue
    return Course(
        tuple(one for one in found if one.page not in left_out),
        tuple(one for one in found if one.page in left_out),
    )

"""What the course is for: each objective with the pages, moments and questions that serve it, and the rules
that no objective is left without them.

A page lists its objectives in its front matter: it defines them there, or names those of other pages by their
ids. A question is for some of these, a guided moment may be. Where a page lists one objective alone, all its
questions and moments are for it.
"""

from collections.abc import Iterable, Mapping, Sequence

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing_tools.site.front import Objective
from wetwing_tools.site.slips import Slips
from wetwing_tools.site.survey import Survey

_KINDS = {"predict": "choose", "order": "put in order", "sketch": "sketch", "challenge": "find"}

_HEAD = """# Objectives

Each objective of the course, and how often it is served: by pages that list it, by guided moments and trials
that show it, by questions that ask for it, and by kinds of [exercise](#exercises) that practise it. An
objective's name leads to where. The build refuses an objective that no page teaches or that no question asks.

A page teaches an objective that it lists when one of its moments or trials is for it; a moment that names
none is for all that its page lists. A page without moments teaches by the checked statements of its text. The
words are this course's own.
"""

_LIST_HEAD = """# Objectives: {area}

Where each of these objectives is served. The whole course stands on [Objectives](objectives.md). The syllabus
reference is a number of EASA Part-FCL subjects 021 to 050.
"""

MATRIX = "reference/objectives.md"
_AREAS = {"twins": "side by side", "": "first pages"}
"""What the menu calls a folder, where it is not the folder's own name."""


def defined(surveys: Iterable[Survey]) -> dict[str, Objective]:
    """Every objective of the course by its id; the first of two with one id."""
    found: dict[str, Objective] = {}
    for one in surveys:
        for objective in one.front.objectives:
            found.setdefault(objective.id, objective)
    return found


def check_page(survey: Survey, slips: Slips) -> None:
    """What a page alone can have wrong: ids that it does not list, and questions that are for nothing."""
    listed: dict[str, int] = {}
    for name in survey.front.listed:
        if name in listed:
            found = f"objective '{name}' stands twice on this page, first on line {listed[name]}"
            _add(slips, survey, name.line, Mistake(_at(survey, name.line), found, "each id once"))
        listed.setdefault(str(name), name.line)
    for question in survey.questions:
        if question.purposes is None and len(listed) != 1:
            found = f"{question.kind} '{question.anchor}' does not say which objective it is for"
            allowed = f"for: [{', '.join(listed)}], or some of these" if listed else _NONE
            _add(slips, survey, question.line, Mistake(_at(survey, question.line), found, allowed))
    for purpose in (*survey.questions, *survey.moments, *survey.trials):
        for name in purpose.purposes or ():
            if name not in listed:
                place = _at(survey, name.line)
                mistake = (
                    unknown(place, "objective of this page", name, listed)
                    if listed
                    else Mistake(place, f"for: {name}", _NONE)
                )
                _add(slips, survey, name.line, mistake)


TEACHING = ("phases/", "system/", "troubles/", "planning/", "twins/")
"""Folders whose pages teach: each says what it is for, but the first one, which leads to the others."""

_NONE = "objectives in the page's front matter, of its own or by the ids of other pages"


def check_course(surveys: Sequence[Survey], slips: Slips) -> None:
    """What the pages together can have wrong: ids that clash or are unknown, and objectives left alone."""
    known = defined(surveys)
    first: dict[str, str] = {}
    for one in surveys:
        for objective in one.front.objectives:
            place = _at(one, objective.line)
            # Twice on one page is that page's own slip.
            if objective.id in first and first[objective.id].rpartition(":")[0] != one.page:
                found = f"objective '{objective.id}' is defined a second time, first at {first[objective.id]}"
                allowed = f"'- {objective.id}' alone, which lists the one there, or an id of its own"
                _add(slips, one, objective.line, Mistake(place, found, allowed))
            first.setdefault(objective.id, place)
        if not one.front.listed and one.page.startswith(TEACHING) and not one.page.endswith("/index.md"):
            _add(slips, one, 1, Mistake(_at(one, 1), "a page that names no objective", _NONE))
        for name in one.front.listed:
            if name not in known:
                _add(slips, one, name.line, unknown(_at(one, name.line), "objective", name, known))
    for one in surveys:
        for objective in one.front.objectives:
            if first[objective.id] == _at(one, objective.line):
                _check_served(objective, one, surveys, slips)


def _check_served(objective: Objective, home: Survey, surveys: Sequence[Survey], slips: Slips) -> None:
    place = _at(home, objective.line)
    if not any(teaches(one, objective.id) for one in surveys):
        allowed = (
            f"a moment or a try with 'for: [{objective.id}]', or checked statements, "
            "on a page that lists the objective"
        )
        found = f"no page teaches objective '{objective.id}'"
        _add(slips, home, objective.line, Mistake(place, found, allowed))
    if not any(objective.id in one.purposes_of(asked) for one in surveys for asked in one.questions):
        found = f"no question asks objective '{objective.id}'"
        allowed = f"a question with 'for: [{objective.id}]' on a page that lists the objective"
        _add(slips, home, objective.line, Mistake(place, found, allowed))


def teaches(survey: Survey, objective: str) -> bool:
    """Whether a page teaches an objective: it lists it, and its moments or its text serve it."""
    if objective not in survey.front.listed:
        return False
    if any(objective in survey.purposes_of(one) for one in (*survey.moments, *survey.trials)):
        return True
    if survey.moments:
        return any(step.purposes is None for step in survey.moments)
    return survey.statements > 0


def pages(surveys: Sequence[Survey], exercises: Mapping[str, Sequence[str]]) -> dict[str, str]:
    """The matrix and, for each part of the course, the list of where its objectives are served, as Markdown
    by path; `exercises` gives the objectives of each kind of exercise by its title.
    """
    areas: dict[str, dict[str, Objective]] = {}
    for one in surveys:
        for objective in one.front.objectives:
            own = areas.setdefault(one.page.rpartition("/")[0].partition("/")[0], {})
            if not any(objective.id in area for area in areas.values()):
                own[objective.id] = objective
    parts = [_HEAD]
    found: dict[str, str] = {}
    for folder, own in areas.items():
        name = _AREAS.get(folder, folder)
        file = f"objectives-{name.replace(' ', '-')}.md"
        found[f"reference/{file}"] = _listed(name, own, surveys, exercises)
        parts += [f"## {name.capitalize()}\n", _table(file, own, surveys, exercises)]
    return {MATRIX: "\n".join([*parts, _exercises(exercises)]), **found}


def _table(
    file: str,
    own: Mapping[str, Objective],
    surveys: Sequence[Survey],
    exercises: Mapping[str, Sequence[str]],
) -> str:
    heads = ("Objective", "What a reader can do", "Pages", "Moments", "Questions", "Exercises")
    rows = [f"| {' | '.join(heads)} |", f"|{' --- |' * len(heads)}"]
    for objective in own.values():
        counts = (
            sum(objective.id in one.front.listed for one in surveys),
            len(_served(surveys, objective.id, "moments")),
            len(_served(surveys, objective.id, "questions")),
            sum(objective.id in ids for ids in exercises.values()),
        )
        words = objective.text.replace("|", "\\|")
        told = " | ".join(str(count or "–") for count in counts)
        rows.append(f"| [{objective.id}]({file}#{objective.id.lower()}) | {words} | {told} |")
    return "\n".join([*rows, ""])


def _listed(
    name: str,
    own: Mapping[str, Objective],
    surveys: Sequence[Survey],
    exercises: Mapping[str, Sequence[str]],
) -> str:
    parts = [_LIST_HEAD.format(area=name)]
    for objective in own.values():
        syllabus = f"Syllabus reference: {objective.syllabus}." if objective.syllabus else ""
        kinds = [title for title, ids in exercises.items() if objective.id in ids]
        parts += [
            f"## {objective.id}\n",
            f"{objective.text} {syllabus}".strip() + "\n",
            "| Served by | Where |\n| --- | --- |",
            _row("Pages", [_link(one.title, one) for one in surveys if objective.id in one.front.listed]),
            _row("Moments and trials", _served(surveys, objective.id, "moments")),
            _row("Questions", _served(surveys, objective.id, "questions")),
            _row("Exercises", kinds),
            "",
        ]
    return "\n".join(parts)


def _served(surveys: Sequence[Survey], objective: str, which: str) -> list[str]:
    found = []
    for one in surveys:
        many = (*one.moments, *one.trials) if which == "moments" else one.questions
        for purpose in many:
            if objective in one.purposes_of(purpose):
                kind = _KINDS.get(purpose.kind)
                words = f"{shortened(purpose.says)} ({kind})" if kind else shortened(purpose.says)
                found.append(_link(words, one, purpose.anchor))
    return found


def shortened(words: str, most: int = 70) -> str:
    """The beginning of a text, cut between two words."""
    if len(words) <= most:
        return words
    return f"{words[: words.rfind(' ', 0, most)].rstrip(' ,;:…')} …"


def _row(name: str, cells: Sequence[str]) -> str:
    items = "".join(f"<li>{cell}</li>" for cell in cells)
    return f"| {name} | {f'<ul>{items}</ul>' if len(cells) > 1 else items[4:-5] or '–'} |"


def _link(words: str, survey: Survey, anchor: str = "") -> str:
    text = words.replace("|", "\\|").replace("[", "(").replace("]", ")")
    return f"[{text}](../{survey.page}{f'#{anchor}' if anchor else ''})"


def _exercises(exercises: Mapping[str, Sequence[str]]) -> str:
    rows = [f"| {title} | {', '.join(ids)} |" for title, ids in exercises.items()]
    if not rows:
        return "## Exercises\n\nThis site has no exercises with objectives of their own.\n"
    return "\n".join(["## Exercises\n", "| Kind | Objectives |", "| --- | --- |", *rows, ""])


def _at(survey: Survey, line: int) -> str:
    return f"{survey.page}:{line}"


def _add(slips: Slips, survey: Survey, line: int, mistake: Mistake) -> None:
    slips.mistake(survey.page, line, mistake)

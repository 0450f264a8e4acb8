"""The block `exercises`: a recorded paper of the exercise bank, and the form that asks for another one.

The paper is made when the page is built, so the page works without the live simulation, and without scripts.
"""

from html import escape

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.read import read_aircraft
from wetwing.draw.exercises import fieldset
from wetwing.teach.exercises import KINDS, SCRIPTS, Paper, Wish, make_paper
from wetwing.teach.exercises.dice import LARGEST_SEED
from wetwing.teach.exercises.paper import MOST_QUESTIONS
from wetwing.teach.words import UNITS
from wetwing_tools.site.naming import title
from wetwing_tools.site.notation import Block
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.yaml_lines import Mapping, Text, read_yaml

SLOT = '<div class="ww-slot" data-ww-slot="exercises"></div>'


def exercises(maker: PageMaker, block: Block) -> str:
    """Make the recorded paper, and leave the place for it."""
    place = f"{maker.page}:{block.line}"
    node = read_yaml(block.text, maker.page, block.line)
    if not isinstance(node, Mapping):
        raise Mistake(place, f"'{block.kind}' holds no mapping", "lines of 'name: value'")
    node = maker.known(node, ("seed", "count", "aircraft"))
    if maker.exercises is not None:
        raise Mistake(place, "a second paper", "one block 'exercises' a page")
    aircraft = node.optional("aircraft")
    try:
        wish = Wish(
            seed=_whole(node, node.text("seed")),
            aircraft=str(aircraft) if aircraft else maker.claims.flights.aircraft.name,
            count=_whole(node, node.text("count")),
        )
    except Mistake as mistake:
        raise Mistake(f"{place}: {mistake.place}", mistake.found, mistake.allowed, mistake.nearest) from None
    paper = make_paper(wish)
    maker.checked += len(paper.questions)
    maker.exercises = f"{_form(paper, wish)}\n{paper_html(paper)}"
    return SLOT


def _whole(node: Mapping, text: Text) -> int:
    if not str(text).isdigit():
        raise Mistake(node.place(text.line), f"'{text}'", "a whole number")
    return int(text)


def paper_html(paper: Paper) -> str:
    """The questions of a paper, each with its answer as a fold-out."""
    questions = "".join(fieldset(question) for question in paper.questions)
    return (
        f'<div class="ww-paper" data-seed="{paper.seed}" data-aircraft="{paper.aircraft}">{questions}</div>'
    )


def _form(paper: Paper, wish: Wish) -> str:
    """The form for another paper; the page's script shows it, for without the simulation it does nothing."""
    kinds = "".join(
        f'<label><input type="checkbox" name="kinds" value="{kind}"{_on(kind in wish.kinds)}> '
        f"<span>{escape(words)}</span></label>"
        for kind, words in KINDS.items()
    )
    aircraft = "".join(
        f'<option value="{name}"{_on(name == paper.aircraft, "selected")}>'
        f"{escape(title(read_aircraft(name)))}</option>"
        for name in SCRIPTS
    )
    units = "".join(f'<option value="{unit}">{unit}</option>' for unit in UNITS)
    return (
        '<form class="ww-exercise-form" hidden novalidate><div class="ww-exercise-line">'
        f"{_field('Seed', 'seed', paper.seed, LARGEST_SEED)}"
        '<button type="button" class="ww-exercise-next">Another seed</button>'
        f"{_field('Questions', 'count', wish.count, MOST_QUESTIONS)}"
        f'<label>Aircraft <select name="aircraft">{aircraft}</select></label>'
        f'<label>Masses in <select name="units">{units}</select></label></div>'
        '<p class="ww-exercise-says">The same seed gives the same questions on every machine.</p>'
        f'<fieldset class="ww-exercise-kinds"><legend>Kinds of question</legend>{kinds}</fieldset>'
        '<p class="ww-problem" role="alert" hidden></p>'
        '<p class="ww-exercise-line"><button type="submit" class="ww-primary">Make this paper</button>'
        '<progress max="1" value="0" hidden aria-label="Questions made"></progress>'
        '<span class="ww-exercise-state" role="status"></span></p></form>'
    )


def _field(words: str, name: str, value: int, most: int) -> str:
    entry = f'type="text" inputmode="numeric" autocomplete="off" value="{value}" data-most="{most}"'
    return f'<label>{words} <input name="{name}" {entry}></label>'


def _on(value: bool, word: str = "checked") -> str:
    return f" {word}" if value else ""

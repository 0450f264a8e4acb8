"""The fenced blocks of a page: panel, moments, predict, try, caution; others have files of their own."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from html import escape

from wetwing.aircraft.mistakes import Mistake
from wetwing.flight.edit_words import edit_words
from wetwing.flight.script import settable
from wetwing.teach.claims import Claims
from wetwing.teach.compare import first_difference
from wetwing.teach.questions import Marked, Option, check_one_right, judged
from wetwing.teach.words import clock
from wetwing_tools.site import html, twin
from wetwing_tools.site.asking import fieldset, question
from wetwing_tools.site.challenge import challenge
from wetwing_tools.site.exercises import exercises
from wetwing_tools.site.look_alikes import look_alikes
from wetwing_tools.site.notation import Block
from wetwing_tools.site.order import order
from wetwing_tools.site.outcomes import outcomes
from wetwing_tools.site.page import PageMaker, PanelWish
from wetwing_tools.site.sketch import sketch
from wetwing_tools.site.worksheet import worksheet
from wetwing_tools.site.yaml_lines import Mapping, Text, mappings, read_yaml

SLOT = '<div class="ww-slot" data-ww-slot="panel"></div>'
MOST_CONTROLS = 4


def _mapping(maker: PageMaker, block: Block, allowed: tuple[str, ...]) -> Mapping:
    node = read_yaml(block.text, maker.page, block.line)
    if not isinstance(node, Mapping):
        raise Mistake(
            f"{maker.page}:{block.line}", f"'{block.kind}' holds no mapping", "lines of 'name: value'"
        )
    return maker.known(node, allowed)


def _text(maker: PageMaker, node: Mapping, key: str, claims: Claims | None = None) -> str:
    """A text of a block, with its statements checked and its figures worked out. Raises Mistake."""
    text = node.text(key)
    return maker.prose(str(text).strip(), text.line, claims)


def panel(maker: PageMaker, block: Block) -> str:
    """Note what the page asks of its panel, and leave the place for it."""
    node = _mapping(maker, block, ("start", "focus", "controls", "caption", "bench"))
    if maker.panel is not None or maker.twin is not None:
        raise Mistake(node.place(), "a second panel", "one panel a page")
    start = maker.tried(node.line, maker.moment, node, "start")
    focus = maker.tried(node.line, maker.part_of, node, "focus")
    names = maker.tried(node.line, node.texts, "controls") or []
    found = [maker.tried(name.line, _control, maker, name) for name in names]
    controls = tuple(name for name in found if name)
    bench = node.optional("bench")
    if bench is not None and (bench != "all" or names):
        raise Mistake(
            node.place(bench.line), f"bench: {bench}", "bench: all, which stands instead of controls"
        )
    if bench:
        controls = tuple(settable(maker.claims.flights.aircraft))
    elif not 1 <= len(names) <= MOST_CONTROLS:
        raise Mistake(
            node.place(),
            f"{len(names)} controls",
            f"1 to {MOST_CONTROLS}: the ones that the page is about",
        )
    maker.panel = PanelWish(
        start_s=start or 0.0,
        focus=focus,
        controls=controls,
        caption=node.optional("caption"),
        bench=bench is not None,
    )
    return SLOT


def _control(maker: PageMaker, name: Text) -> str:
    place = f"{maker.page}:{name.line}"
    known = settable(maker.claims.flights.aircraft)
    if maker.check_part(name, place) not in known:
        raise Mistake(place, f"nobody can set '{name}'", known)
    return str(name)


def moments(maker: PageMaker, block: Block) -> str:
    """A guided walk: each step opens a moment of the panel and says what to look at."""
    place = f"{maker.page}:{block.line}"
    steps = mappings(read_yaml(block.text, maker.page, block.line), place, "moments")
    found = ['<ol class="ww-moments" markdown="block">']
    for wish in steps:
        maker.steps += 1
        step = maker.known(wish, ("at", "title", "part", "text", "ask", "for"))
        time_s = maker.tried(step.line, maker.moment, step, "at")
        part = maker.tried(step.line, maker.part_of, step, "part")
        target = html.Target(time_s or 0.0, part)
        title = maker.tried(step.line, _text, maker, step, "title")
        text = maker.tried(step.line, _text, maker, step, "text")
        when = f'<span class="ww-at">{clock(target.time_s)}</span>'
        go = f'<a class="ww-go" {maker.attributes(target)}><strong>{title}</strong> {when}</a>'
        ask = step.optional("ask")
        asks = f' data-ww-ask="{escape(" ".join(ask.split()))}"' if ask else ""
        hooks = f'id="moment-{maker.steps}"{asks}'
        found.append(f'<li class="ww-moment" {hooks} markdown="block">\n\n{go}\n\n{text}\n\n</li>')
    return "\n".join([*found, "</ol>"])


def caution(maker: PageMaker, block: Block) -> str:
    """A caution of the page's own."""
    text = maker.prose(block.text, block.line)
    return f'<div class="ww-caution" role="note" markdown="block">\n\n{text}\n\n</div>'


def try_it(maker: PageMaker, block: Block) -> str:
    """An edit of the flight, and what follows from it; the text's claims are judged in the edited flight."""
    node = _mapping(maker, block, ("with", "say", "shows", "part", "text", "for"))
    part = maker.tried(node.line, maker.part_of, node, "part")
    say = maker.tried(node.line, _text, maker, node, "say")
    wanted = node.text("with")
    edits = maker.claims.edits_of(wanted, node.place(wanted.line))
    edited = replace(maker.claims, edits=edits)
    text = maker.tried(node.line, _text, maker, node, "text", edited)
    difference = first_difference(maker.claims.timeline.flight, edited.timeline.flight)
    if difference is None:
        raise Mistake(
            node.place(wanted.line), f"'{wanted}' changes nothing in the flight", "an edit that matters"
        )
    shown_s = maker.moment(node, "shows", edited) if "shows" in node.values else difference.time_s
    target = html.Target(shown_s, part or difference.part, edits)
    maker.trials += 1
    aircraft = maker.claims.flights.aircraft
    told = "; ".join(f"{edit_words(edit, aircraft)} at {clock(edit.time_s)}" for edit in edits)
    return "\n\n".join(
        [
            f'<div class="ww-try" id="try-{maker.trials}" markdown="block">',
            say or "",
            f'<a class="ww-go" {maker.attributes(target)}><strong>Try it:</strong> {html.marked(told)}</a>',
            text or "",
            f'<span class="ww-parting">{html.marked(difference.said())}</span>',
            "</div>",
        ]
    )


def predict(maker: PageMaker, block: Block) -> str:
    """A question; the simulation says which of its options is right."""
    node, name = question(maker, block, ("options",))
    told = [_told(maker, wish) for wish in node.mappings("options")]
    options = [option for option in told if option]
    if len(options) < len(told):
        return ""
    check_one_right([option.marked for option in options], node.place())
    maker.checked += 1
    rows, whys = [], []
    for number, option in enumerate(options, start=1):
        words, right = option.words, "true" if option.marked.right else "false"
        why = f"{name}-why-{number}"
        # The radio carries no moment: choosing an answer must not give the answer away.
        radio = f'<input type="radio" name="{name}" value="{number}" data-right="{right}" data-why="{why}">'
        rows.append(
            f'<div class="ww-option" markdown="span"><label>{radio} <span>{words}</span></label></div>'
        )
        verdict = "Right" if option.marked.right else "Not so"
        said = f"<strong>{verdict}: {words}</strong> {option.because}"
        see = _see(maker, option.target, option.marked.right)
        whys.append(f'<li id="{why}" class="ww-why" data-right="{right}" markdown="span">{said} {see}</li>')
    answer = ['<ul class="ww-whys" markdown="block">', *whys, "</ul>"]
    return fieldset(maker, node, "choose", name, rows, answer)


@dataclass(frozen=True, slots=True)
class _Told:
    """An option that has been judged: its words, the text shown afterwards, and the state that it opens."""

    marked: Marked
    words: str
    because: str
    target: html.Target


def _told(maker: PageMaker, wish: Mapping) -> _Told | None:
    """Judge an option and its texts; None, and every slip of it, where one cannot be used."""
    wish = maker.known(wish, ("say", "true_if", "because", "shows", "part"))
    marked = maker.tried(wish.line, _marked, maker, wish)
    words = maker.tried(wish.line, _text, maker, wish, "say")
    because = maker.tried(wish.line, _text, maker, wish, "because")
    shown_s = maker.tried(wish.line, maker.moment, wish, "shows") if "shows" in wish.values else None
    part = maker.tried(wish.line, maker.part_of, wish, "part")
    if marked is None or words is None or because is None:
        return None
    verdict = marked.verdict
    # What proves or contradicts an option: the moment and part that it names, or those of its claim.
    target = html.Target(verdict.time_s if shown_s is None else shown_s, part or verdict.part, verdict.edits)
    return _Told(marked, words, because, target)


def _marked(maker: PageMaker, wish: Mapping) -> Marked:
    claim = wish.text("true_if")
    option = Option(" ".join((wish.optional("say") or "").split()), claim, wish.place(claim.line))
    return judged(maker.claims, option)


def _see(maker: PageMaker, target: html.Target, right: bool) -> str:
    """A link to an option's moment. A wrong one's is replayed: the seconds that lead to it are played."""
    replayed = "" if right or not maker.has_panel else " data-ww-replay"
    does = "shows" if right else "contradicts"
    return f'<a class="ww-see" {maker.attributes(target)}{replayed}>See the moment that {does} it</a>'


MAKERS: dict[str, Callable[[PageMaker, Block], str]] = {
    "panel": panel,
    "twin": twin.twin,
    "moments": moments,
    "predict": predict,
    "order": order,
    "challenge": challenge,
    "sketch": sketch,
    "try": try_it,
    "outcomes": outcomes,
    "look-alikes": look_alikes,
    "worksheet": worksheet,
    "caution": caution,
    "exercises": exercises,
}

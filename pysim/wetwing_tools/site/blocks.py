"""The fenced blocks of a page: panel, moments, predict, try, caution; others have files of their own."""

from collections.abc import Callable
from dataclasses import replace
from html import escape

from wetwing.aircraft.mistakes import Mistake
from wetwing.flight.edit_words import edit_words
from wetwing.flight.script import settable
from wetwing.teach.claims import Claims
from wetwing.teach.compare import first_difference
from wetwing.teach.questions import Marked, Option, mark
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
    node.only(allowed)
    return node


def _said(maker: PageMaker, text: Text, claims: Claims | None = None) -> str:
    return maker.prose(str(text).strip(), text.line, claims)


def panel(maker: PageMaker, block: Block) -> str:
    """Note what the page asks of its panel, and leave the place for it."""
    node = _mapping(maker, block, ("start", "focus", "controls", "caption", "bench"))
    if maker.panel is not None or maker.twin is not None:
        raise Mistake(node.place(), "a second panel", "one panel a page")
    start = node.text("start")
    focus = node.optional("focus")
    controls = tuple(_control(maker, name) for name in node.texts("controls"))
    bench = node.optional("bench")
    if bench is not None and (bench != "all" or controls):
        raise Mistake(
            node.place(bench.line), f"bench: {bench}", "bench: all, which stands instead of controls"
        )
    if bench:
        controls = tuple(settable(maker.claims.flights.aircraft))
    elif not 1 <= len(controls) <= MOST_CONTROLS:
        raise Mistake(
            node.place(),
            f"{len(controls)} controls",
            f"1 to {MOST_CONTROLS}: the ones that the page is about",
        )
    maker.panel = PanelWish(
        start_s=maker.claims.moments.find(start, node.place(start.line)),
        focus=maker.check_part(focus, node.place(focus.line)) if focus else None,
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
    for step in steps:
        maker.steps += 1
        step.only(("at", "title", "part", "text", "ask", "for"))
        at, part = step.text("at"), step.optional("part")
        target = html.Target(
            maker.claims.moments.find(at, step.place(at.line)),
            maker.check_part(part, step.place(part.line)) if part else None,
        )
        title, text = _said(maker, step.text("title")), _said(maker, step.text("text"))
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
    wanted = node.text("with")
    edits = maker.claims.edits_of(wanted, node.place(wanted.line))
    edited = replace(maker.claims, edits=edits)
    difference = first_difference(maker.claims.timeline.flight, edited.timeline.flight)
    if difference is None:
        raise Mistake(
            node.place(wanted.line), f"'{wanted}' changes nothing in the flight", "an edit that matters"
        )
    shows, part = node.optional("shows"), node.optional("part")
    target = html.Target(
        edited.moments.find(shows, node.place(shows.line)) if shows else difference.time_s,
        maker.check_part(part, node.place(part.line)) if part else difference.part,
        edits,
    )
    maker.trials += 1
    aircraft = maker.claims.flights.aircraft
    told = "; ".join(f"{edit_words(edit, aircraft)} at {clock(edit.time_s)}" for edit in edits)
    return "\n\n".join(
        [
            f'<div class="ww-try" id="try-{maker.trials}" markdown="block">',
            _said(maker, node.text("say")),
            f'<a class="ww-go" {maker.attributes(target)}><strong>Try it:</strong> {html.marked(told)}</a>',
            _said(maker, node.text("text"), edited),
            f'<span class="ww-parting">{html.marked(difference.said())}</span>',
            "</div>",
        ]
    )


def predict(maker: PageMaker, block: Block) -> str:
    """A question; the simulation says which of its options is right."""
    node, name = question(maker, block, ("options",))
    wishes = node.mappings("options")
    for wish in wishes:
        wish.only(("say", "true_if", "because", "shows", "part"))
    options = [_option(wish) for wish in wishes]
    marked = mark(maker.claims, options, node.place())
    maker.checked += 1
    rows, whys = [], []
    for number, (wish, judged) in enumerate(zip(wishes, marked, strict=True), start=1):
        target = _shown_by(maker, wish, judged)
        words, right = _said(maker, wish.text("say")), "true" if judged.right else "false"
        why = f"{name}-why-{number}"
        # The radio carries no moment: choosing an answer must not give the answer away.
        radio = f'<input type="radio" name="{name}" value="{number}" data-right="{right}" data-why="{why}">'
        rows.append(
            f'<div class="ww-option" markdown="span"><label>{radio} <span>{words}</span></label></div>'
        )
        verdict = "Right" if judged.right else "Not so"
        told = f"<strong>{verdict}: {words}</strong> {_said(maker, wish.text('because'))}"
        see = _see(maker, target, judged.right)
        whys.append(f'<li id="{why}" class="ww-why" data-right="{right}" markdown="span">{told} {see}</li>')
    answer = ['<ul class="ww-whys" markdown="block">', *whys, "</ul>"]
    return fieldset(maker, node, "choose", name, rows, answer)


def _see(maker: PageMaker, target: html.Target, right: bool) -> str:
    """A link to an option's moment. A wrong one's is replayed: the seconds that lead to it are played."""
    replayed = "" if right or not maker.has_panel else " data-ww-replay"
    does = "shows" if right else "contradicts"
    return f'<a class="ww-see" {maker.attributes(target)}{replayed}>See the moment that {does} it</a>'


def _option(wish: Mapping) -> Option:
    claim = wish.text("true_if")
    return Option(" ".join(wish.text("say").split()), claim, wish.place(claim.line))


def _shown_by(maker: PageMaker, wish: Mapping, judged: Marked) -> html.Target:
    """The moment that proves or contradicts an option: the one it names, or that of its claim."""
    shows, part = wish.optional("shows"), wish.optional("part")
    time_s = maker.claims.moments.find(shows, wish.place(shows.line)) if shows else judged.verdict.time_s
    named = maker.check_part(part, wish.place(part.line)) if part else judged.verdict.part
    return html.Target(time_s, named, judged.verdict.edits)


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

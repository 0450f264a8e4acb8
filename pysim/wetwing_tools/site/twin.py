"""The block `twin`: two flights side by side on one time, each with a text judged in its own flight."""

from dataclasses import replace
from html import escape

from wetwing.aircraft.mistakes import Mistake
from wetwing.flight.script import settable
from wetwing.teach.claims import Claims
from wetwing.teach.compare import ALERT, Difference, first_difference
from wetwing.teach.words import clock
from wetwing_tools.site import html
from wetwing_tools.site.notation import Block
from wetwing_tools.site.page import PageMaker, PanelWish, TwinSide, TwinWish
from wetwing_tools.site.yaml_lines import Mapping, Text, read_yaml

SLOT = '<div class="ww-slot" data-ww-slot="twin"></div>'
SIDES = ("left", "right")
MOST_CONTROLS = 3


def twin(maker: PageMaker, block: Block) -> str:
    """Note what the page asks of its two panels, leave the place for them, and put their texts under it."""
    node = read_yaml(block.text, maker.page, block.line)
    if not isinstance(node, Mapping):
        raise Mistake(f"{maker.page}:{block.line}", "'twin' holds no mapping", "lines of 'name: value'")
    node = maker.known(node, ("title", "at", "focus", "controls", *SIDES))
    if maker.panel is not None or maker.twin is not None:
        raise Mistake(node.place(), "a second panel", "one panel, or one twin, a page")
    title = node.text("title")
    tried = [maker.tried(node.line, _side, maker, node, name) for name in SIDES]
    sides = [side for side in tried if side]
    if len(sides) < len(SIDES):
        return ""
    (left, _), (right, _) = sides
    if first_difference(left.claims.timeline.flight, right.claims.timeline.flight) is None:
        raise Mistake(node.place(), "two sides that never part", "sides with different edits or aircraft")
    maker.twin = TwinWish(str(title), left, right)
    texts = [text for _, text in sides]
    return "\n\n".join([SLOT, '<div class="ww-twin-texts" markdown="block">', *texts, "</div>"])


def _side(maker: PageMaker, node: Mapping, name: str) -> tuple[TwinSide, str]:
    """One side, and its text as a block of the page."""
    own = node.mapping(name)
    if own is None:
        raise Mistake(node.place(), f"no '{name}'", f"{name}: with lines of 'name: value' under it")
    own = maker.known(own, ("name", "aircraft", "flight", "edits", "text"))
    claims = _flights(maker, own)
    edits = own.optional("edits")
    if edits:
        claims = replace(claims, edits=claims.edits_of(edits, own.place(edits.line)))
    judge = replace(maker, claims=claims, side=name, checked=0, figures=0)
    called, text = own.text("name"), own.text("text")
    said = judge.prose(str(text).strip(), text.line)
    maker.checked += judge.checked
    maker.figures += judge.figures
    controls = tuple(node.texts("controls"))
    for control in controls:
        judge.tried(control.line, _check_control, judge, control)
    if len(controls) > MOST_CONTROLS:
        raise Mistake(node.place(), f"{len(controls)} controls", f"up to {MOST_CONTROLS}")
    # Both open at one time, which the page's own flight names.
    wish = PanelWish(
        start_s=maker.moment(node, "at"),
        focus=judge.tried(node.line, judge.part_of, node, "focus"),
        controls=tuple(str(control) for control in controls),
        caption=None,
    )
    head = f"<strong>{name.capitalize()}: {escape(called)}.</strong>"
    block = f'<div class="ww-twin-text" markdown="block">\n\n{head} {said}\n\n</div>'
    return TwinSide(str(called), claims, wish), block


def _check_control(maker: PageMaker, name: Text) -> None:
    place, known = f"{maker.page}:{name.line}", settable(maker.claims.flights.aircraft)
    if maker.check_part(name, place) not in known:
        raise Mistake(place, f"nobody can set '{name}'", known)


def _flights(maker: PageMaker, own: Mapping) -> Claims:
    """What judges a side: the page's flight, or another that the side names."""
    aircraft, flight = own.optional("aircraft"), own.optional("flight")
    flights = maker.claims.flights
    if aircraft or flight:
        if maker.flights_of is None:
            raise Mistake(own.place(), "another flight", "the page's own flight")
        flights = maker.flights_of(aircraft or flights.aircraft.name, flight or flights.script.name)
    return replace(maker.claims, flights=flights, edits=())


def parting(wish: TwinWish) -> str:
    """Say where the two flights part, as HTML."""
    found = first_difference(wish.left.claims.timeline.flight, wish.right.claims.timeline.flight)
    return html.marked(parting_words(found)) if found else "The two flights are the same."


def parting_words(found: Difference) -> str:
    """Say where two flights part, and why, with the marks of quantities; the panel's script says the same."""
    states = f"{found.before} on the left, {found.after} on the right"
    if found.kind == ALERT and found.before != found.after:
        states = f"is shown on the {'left' if found.before == 'on' else 'right'} alone"
    side = "right" if found.in_second else "left"
    what = f"A state first differs at {clock(found.time_s)}: {found.named} {states}"
    return f"{what}. On the {side}: {found.sentence}"

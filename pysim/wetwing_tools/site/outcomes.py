"""The block `outcomes`, a trouble and three flights: no act, the right thing, the tempting wrong one."""

from dataclasses import replace
from html import escape

from wetwing.aircraft.mistakes import Mistake
from wetwing.flight.edits import parse_edit
from wetwing.flight.troubles import Trouble
from wetwing.teach.compare import first_difference
from wetwing_tools.site import html
from wetwing_tools.site.cases import Case, check_told_apart, rows_of, table
from wetwing_tools.site.notation import Block
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.yaml_lines import Mapping, read_yaml

WAYS = {
    "nothing": "If nothing is done",
    "right": "If the right thing is done",
    "tempting": "If the tempting thing is done",
}
UNMOVED = "No switch is moved"


def outcomes(maker: PageMaker, block: Block) -> str:
    """Three cards, each judged in its own flight, and a table of what each flight comes to."""
    node = read_yaml(block.text, maker.page, block.line)
    if not isinstance(node, Mapping):
        raise Mistake(
            f"{maker.page}:{block.line}", f"'{block.kind}' holds no mapping", "lines of 'name: value'"
        )
    node = maker.known(node, ("trouble", "at", "rows", *WAYS))
    trouble = _trouble(maker, node)
    cards: list[str] = []
    cases: list[Case] = []
    for name in WAYS:
        found = maker.tried(node.line, _way, maker, node, name, trouble)
        if found is None:
            continue
        case, card = found
        cards.append(card)
        if name == "right" and not case.acts and cases:
            # The right thing is to move no switch: it is the first flight, and one column shows both.
            cases[0] = replace(cases[0], name=UNMOVED)
        else:
            cases.append(case)
    if len(cards) < len(WAYS):
        return ""
    at = node.optional("at") or "end"
    rows = rows_of(maker, node, "rows", cases, str(at))
    check_told_apart(cases, rows, node.place())
    maker.checked += len(cases)
    caption = "What each flight comes to. In bold: what differs from doing nothing"
    return "\n\n".join(
        [
            '<div class="ww-outcomes" markdown="block">',
            *cards,
            "</div>",
            table(maker, caption, cases, rows, "What it comes to"),
        ]
    )


def _trouble(maker: PageMaker, node: Mapping) -> str:
    """The text of the trouble: what is broken, or left wrong, in all three flights."""
    wanted = node.text("trouble")
    maker.claims.edits_of(wanted, node.place(wanted.line))
    return str(wanted)


def _way(maker: PageMaker, node: Mapping, name: str, trouble: str) -> tuple[Case, str]:
    title, own = WAYS[name], node.mapping(name)
    if own is None:
        raise Mistake(node.place(), f"no '{name}'", f"{name}: with say and text under it")
    way = maker.known(own, ("say", "text", "shows", "part", *(("with",) if name != "nothing" else ())))
    wanted = way.text("with") if name == "tempting" else way.optional("with")
    edits = maker.claims.edits_of(trouble, way.place())
    plain = replace(maker.claims, edits=edits)
    claims = plain
    if wanted is not None:
        # The moments of what is done are those of the flight with the trouble: a crew acts on what it sees.
        done = plain.edits_of(wanted, way.place(wanted.line))
        for edit in done:
            if isinstance(parse_edit(edit, maker.claims.flights.aircraft, way.place()), Trouble):
                raise Mistake(
                    way.place(wanted.line),
                    f"'{wanted}' is a trouble",
                    "what a crew can do: PART=STATE at MOMENT",
                )
        claims = replace(maker.claims, edits=(*edits, *done))
    say, text = way.text("say"), way.text("text")
    # The words are judged first: what follows may give the card up, and they would not be told.
    words = [maker.prose(str(said).strip(), said.line, claims) for said in (say, text)]
    part = maker.tried(way.line, maker.part_of, way, "part")
    against = maker.claims if wanted is None else plain
    before, after = against.timeline.flight, claims.timeline.flight
    difference = first_difference(before, after)
    # An instrument's trouble may change figures alone; what a crew does has to change a state.
    if difference is None and (wanted is not None or before.quantities == after.quantities):
        raise Mistake(
            way.place(), f"'{wanted or trouble}' changes nothing in the flight", "an edit that matters"
        )
    parts = difference or edits[0]
    shown_s = maker.moment(way, "shows", claims) if "shows" in way.values else parts.time_s
    target = html.Target(shown_s, part or parts.part, claims.edits)
    card = "\n\n".join(
        [
            f'<div class="ww-outcome ww-outcome-{name}" markdown="block">',
            f'<p class="ww-outcome-title">{escape(title)}</p>',
            words[0],
            f'<a class="ww-go" {maker.attributes(target)}><strong>Open this flight</strong></a>',
            words[1],
            "</div>",
        ]
    )
    return Case(title.removeprefix("If ").capitalize(), claims, target, acts=wanted is not None), card

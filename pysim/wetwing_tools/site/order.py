"""The block `order`: a list to be put in the order in which it happens; the flight itself gives that order,
the page's own or one with edits.

Each item names a moment. The build refuses an item that never happens, two that happen at the same time, and
one that happens several times among the others, so that exactly one order is right.
"""

import re
from dataclasses import dataclass
from itertools import pairwise

from wetwing.aircraft.mistakes import Mistake
from wetwing.teach.claims import Claims
from wetwing.teach.text import unbracketed, unquoted
from wetwing.teach.words import clock
from wetwing_tools.site import html
from wetwing_tools.site.asking import between, fieldset, mixed, question, said
from wetwing_tools.site.cases import edited
from wetwing_tools.site.notation import Block
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.yaml_lines import Mapping

APART_S = 1.0
"""Two items nearer than this would stand at the same shown time: nobody could see which is first."""

LEAST, MOST = 3, 8
_BARE = re.compile(r'([a-z][a-z0-9-]*) becomes ("[^"]+"|[^"\s]+)(?: after .+)?')


@dataclass(frozen=True, slots=True)
class Item:
    """One thing that happens: when, and what the page says of it."""

    time_s: float
    wish: Mapping
    part: str | None
    words: str
    because: str


def order(maker: PageMaker, block: Block) -> str:
    """A list to be put in order, and the flight's own order with its times."""
    node, name = question(maker, block, ("with", "items"))
    wanted = node.optional("with")
    claims = edited(maker, str(wanted), node.place(wanted.line)) if wanted else maker.claims
    wishes = node.mappings("items")
    tried = [maker.tried(wish.line, _item, maker, wish, claims) for wish in wishes]
    between(wishes, LEAST, MOST, node.place(), "items to put in order")
    items = [item for item in tried if item]
    if len(items) < len(wishes):
        return ""
    items.sort(key=lambda item: item.time_s)
    _check_apart(items)
    _check_once(claims, items)
    maker.checked += 1
    inside = ['<ol class="ww-order-list" markdown="block">']
    for place in mixed(len(items), name):
        words = items[place - 1].words
        inside.append(f'<li class="ww-order-item" data-place="{place}" markdown="span">{words}</li>')
    answer = ['<ol class="ww-order-right" markdown="block">']
    for item in items:
        target = html.Target(item.time_s, item.part, claims.edits)
        see = f'<a class="ww-see ww-at" {maker.attributes(target)}>{clock(item.time_s)}</a>'
        why = f" {item.because}" if item.because else ""
        words = f"<strong>{item.words}</strong>{why}"
        answer.append(f'<li markdown="span"><span class="ww-order-flight">{see} {words}</span></li>')
    return fieldset(maker, node, "order", name, [*inside, "</ol>"], [*answer, "</ol>"])


def _item(maker: PageMaker, wish: Mapping, claims: Claims) -> Item:
    wish = maker.known(wish, ("say", "at", "because", "part"))
    words = said(maker, wish.text("say"))
    because = wish.optional("because")
    why = maker.prose(str(because).strip(), because.line, claims) if because else ""
    part = maker.tried(wish.line, maker.part_of, wish, "part")
    return Item(maker.moment(wish, "at", claims), wish, part, words, why)


def _check_apart(items: list[Item]) -> None:
    for earlier, later in pairwise(items):
        if later.time_s - earlier.time_s < APART_S:
            line = later.wish.text("at").line
            said_first = str(earlier.wish.text("say")).strip()
            raise Mistake(
                later.wish.place(line),
                f"it happens at {clock(later.time_s)}, together with '{said_first}' at "
                f"{clock(earlier.time_s)}",
                f"items that are {APART_S:g} s or more apart",
            )


def _check_once(claims: Claims, items: list[Item]) -> None:
    """A change that comes again among the others could stand in two places."""
    first_s, last_s = items[0].time_s, items[-1].time_s
    for item in items:
        at = item.wish.text("at")
        text = unbracketed(" ".join(str(claims.names.get(str(at), at)).split()))
        found = _BARE.fullmatch(text)
        if not found:
            continue
        part, state = found[1], unquoted(found[2])
        changes = claims.timeline.flight.changes
        times = [
            change.time_s
            for change in changes
            if change.part == part and change.after == state and first_s <= change.time_s <= last_s
        ]
        if len(times) > 1:
            told = ", ".join(clock(time_s) for time_s in times)
            raise Mistake(
                item.wish.place(at.line),
                f"{part} becomes {state} {len(times)} times among the items: {told}",
                f"a change that comes once, or which one: '2nd {text}'",
            )

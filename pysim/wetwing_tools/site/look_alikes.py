"""The block `look-alikes`: troubles that show the same cue, side by side, with what tells them apart."""

from html import escape

from wetwing.aircraft.mistakes import Mistake
from wetwing.teach.compare import first_difference
from wetwing.teach.words import clock
from wetwing_tools.site import html
from wetwing_tools.site.asking import between
from wetwing_tools.site.cases import Case, check_told_apart, edited, rows_of, table
from wetwing_tools.site.notation import Block
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.yaml_lines import Mapping, read_yaml


def look_alikes(maker: PageMaker, block: Block) -> str:
    """A column for the flight with all working and one for each trouble; a row for each cue, at one time."""
    node = read_yaml(block.text, maker.page, block.line)
    if not isinstance(node, Mapping):
        raise Mistake(
            f"{maker.page}:{block.line}", f"'{block.kind}' holds no mapping", "lines of 'name: value'"
        )
    node = maker.known(node, ("at", "cases", "rows"))
    at = node.text("at")
    time_s = maker.claims.moments.find(at, node.place(at.line))
    wishes = node.mappings("cases")
    between(wishes, 2, 5, node.place(), "cases")
    cases = [Case("All working", maker.claims, html.Target(time_s))]
    tried = [maker.tried(wish.line, _case, maker, wish, time_s) for wish in wishes]
    cases += [case for case in tried if case]
    rows = rows_of(maker, node, "rows", cases, f"recorded {at}")
    if None in tried:
        return ""
    check_told_apart(cases, rows, node.place())
    maker.checked += len(wishes)
    caption = f"At {clock(time_s)} of each flight. In bold: what differs from the flight with all working"
    return table(maker, caption, cases, rows, "What a crew sees")


def _case(maker: PageMaker, wish: Mapping, time_s: float) -> Case:
    wish = maker.known(wish, ("name", "with", "page", "part"))
    wanted, name, page = wish.text("with"), wish.text("name"), wish.optional("page")
    named = maker.tried(wish.line, maker.part_of, wish, "part")
    place = wish.place(wanted.line)
    claims = edited(maker, str(wanted), place)
    found = first_difference(maker.claims.timeline.flight, claims.timeline.flight)
    target = html.Target(time_s, named or (found.part if found else None), claims.edits)
    return Case(escape(str(name), quote=False), claims, target, _page(page, wish) if page else None)


def _page(page: str, wish: Mapping) -> str:
    """The address of a page of the course, written as authors write it."""
    if not page.endswith(".md"):
        raise Mistake(wish.place(), f"page '{page}'", "a page's file, such as leak-tank.md")
    return f"{page.removesuffix('.md')}.html"

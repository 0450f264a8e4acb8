"""The block `worksheet`: a sheet that computes, filled in with the figures of the page's flight."""

from wetwing.aircraft.mistakes import Mistake
from wetwing.draw.worksheet_page import worksheet_html
from wetwing.teach.worksheets.entry import Reader
from wetwing.teach.worksheets.fill import fill, kind_of
from wetwing_tools.site.notation import Block
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.yaml_lines import Mapping, read_yaml


def worksheet(maker: PageMaker, block: Block) -> str:
    """Fill in a sheet. A sheet whose own figures it refuses itself is refused here."""
    node = read_yaml(block.text, maker.page, block.line)
    if not isinstance(node, Mapping):
        raise Mistake(
            f"{maker.page}:{block.line}", f"'{block.kind}' holds no mapping", "lines of 'name: value'"
        )
    node = maker.known(node, ("kind", "at"))
    if not maker.has_panel:
        raise Mistake(
            node.place(),
            "a worksheet on a page without a panel",
            "a panel on the same page: the sheet asks its simulation",
        )
    wanted = node.text("kind")
    kind = kind_of(str(wanted), node.place(wanted.line))
    maker.new_id(f"ws-{kind.name}", node.place(wanted.line))
    at = node.optional("at")
    time_s = maker.claims.moments.find(at, node.place(at.line)) if at else 0.0
    flight = maker.claims.timeline.flight
    filled = fill(kind, flight, time_s, {}, Reader(), node.place())
    for name, entry in filled.entries.items():
        if entry.problem:
            raise Mistake(node.place(), f"the flight's own figure for '{name}': {entry.problem}")
    maker.figures += len(filled.work.results) if filled.work else 0
    html = worksheet_html(filled, flight.aircraft, flight, time_s, maker.page.removesuffix(".md"))
    # One block of HTML for Markdown: a blank line would end it.
    return "\n" + html.replace("\n", " ") + "\n"

"""`wetwing check`: judge the statements and figures of pages without building the site."""

from pathlib import Path

import click


@click.command("check")
@click.argument(
    "pages",
    metavar="PAGE…",
    nargs=-1,
    required=True,
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
)
@click.option("--aircraft", default="alder-165", help="The aircraft of pages that name none.")
@click.option("--script", default="day-sector", help="The flight of pages that name none.")
def check(pages: tuple[Path, ...], aircraft: str, script: str) -> None:
    """Judge every statement, figure and question of some PAGEs, and name every slip with its line."""
    try:
        from wetwing_tools.site.checking import check_pages
    except ModuleNotFoundError as missing:
        raise click.ClickException(
            f"checking pages needs the site's parts: {missing}; run make setup"
        ) from None
    found = check_pages(pages, aircraft, script)
    if found.slips.found:
        click.echo(found.slips.report(), err=True)
    counts = (("statement", found.statements), ("figure", found.figures), ("page", found.pages))
    said = [f"{count} {what}{'' if count == 1 else 's'}" for what, count in counts]
    click.echo(f"{said[0]} and {said[1]} on {said[2]}")
    if found.slips.found:
        raise click.exceptions.Exit(1)

"""`wetwing check`: judge pages, and read files of aircraft and flights, without building the site."""

from pathlib import Path

import click

from wetwing.aircraft.mistakes import Mistake
from wetwing_tools.cli.check_file import counted, said_of, slips_in


@click.command("check")
@click.argument(
    "files",
    metavar="FILE…",
    nargs=-1,
    required=True,
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
)
@click.option(
    "--aircraft",
    help="The aircraft of pages that name none (alder-165), and of scripts, in place of their own.",
)
@click.option("--script", default="day-sector", help="The flight of pages that name none.")
def check(files: tuple[Path, ...], aircraft: str | None, script: str) -> None:
    """Judge every statement, figure and question of pages, and name every slip with its line.

    A FILE that ends in .toml is an aircraft or a script: it is read, and what it holds is counted.
    """
    data = [path for path in files if path.suffix == ".toml"]
    pages = [path for path in files if path.suffix != ".toml"]
    bad = sum(not _read(path, aircraft) for path in data)
    if pages:
        bad += not _judged(pages, aircraft or "alder-165", script)
    if bad:
        raise click.exceptions.Exit(1)


def _read(path: Path, aircraft: str | None) -> bool:
    """Say what an aircraft or a script holds, or every slip of it; whether all is well."""
    try:
        slips = slips_in(path, aircraft)
        if not slips:
            click.echo(said_of(path, aircraft))
    except Mistake as mistake:
        slips = [mistake]
    for slip in slips:
        click.echo(slip, err=True)
    return not slips


def _judged(pages: list[Path], aircraft: str, script: str) -> bool:
    """Say what stands on pages, and every slip; whether there is none."""
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
    said = [counted(count, what) for what, count in counts]
    click.echo(f"{said[0]} and {said[1]} on {said[2]}")
    return not found.slips.found

"""`python -m wetwing_tools.runtime --out DIR`: build the runtime's folder and say what is in it."""

import sys
from pathlib import Path

import click

from wetwing_tools.runtime import ArchiveError, MissingSource, StartFailed, build


@click.command(help="Build the page's runtime into OUT/<version>, with no network.")
@click.option(
    "--out", type=click.Path(path_type=Path, file_okay=False), required=True, help="Folder to build into."
)
@click.option("--cache", type=click.Path(path_type=Path, file_okay=False), help="Folder for finished builds.")
def main(out: Path, cache: Path | None) -> None:
    """Build, then print each file with its size."""
    try:
        bundle = build(out, cache=cache)
    except (ArchiveError, MissingSource, StartFailed) as fault:
        print(f"runtime: {fault}", file=sys.stderr)
        sys.exit(1)
    for file in bundle.files:
        print(f"{file.size_bytes:>12,} B  {file.name}")
    print(f"{bundle.total_bytes:>12,} B  in {out / bundle.folder}")


if __name__ == "__main__":
    main()

"""`wetwing paper`: a paper of exercises and its key, as two HTML files for print."""

import os
import tempfile
from pathlib import Path
from urllib.parse import urlsplit

import click

from wetwing.aircraft.mistakes import Mistake
from wetwing.teach.exercises import KINDS, SCRIPTS, Wish, make_paper
from wetwing.teach.words import UNITS, Units
from wetwing_tools.paper import key_html, paper_html
from wetwing_tools.site.library import model_revision

EXAMPLE = "https://training.example/wet-wing/"
GROUPS = {"compute": ("ledger", "uplift", "endurance", "delay", "balance")}


@click.command()
@click.option("--seed", type=int, default=1, show_default=True, help="Decides every question.")
@click.option("--count", type=int, default=12, show_default=True, help="How many questions.")
@click.option(
    "--kind",
    "kinds",
    multiple=True,
    metavar="KIND",
    help=f"A kind of question; may be given often. {', '.join((*KINDS, *GROUPS))}. All where none is given.",
)
@click.option(
    "--objective", "objectives", multiple=True, metavar="ID", help="Only questions that serve it: F-CRZ-1."
)
@click.option(
    "--aircraft", default="alder-165", metavar="NAME", show_default=True, help=f"{', '.join(SCRIPTS)}."
)
@click.option("--units", type=click.Choice(UNITS), default="kg", show_default=True, help="Unit of mass.")
@click.option("--address", default="", metavar="BASE", help=f"The site's address, for whole links: {EXAMPLE}")
@click.option(
    "--out",
    "folder",
    required=True,
    metavar="FOLDER",
    type=click.Path(path_type=Path),
    help="Where the two files go; made where it is missing.",
)
def paper(
    seed: int,
    count: int,
    kinds: tuple[str, ...],
    objectives: tuple[str, ...],
    aircraft: str,
    units: Units,
    address: str,
    folder: Path,
) -> None:
    """Make a paper of exercises and its key: the same seed gives the same paper on every machine."""
    wanted = tuple(dict.fromkeys(one for kind in kinds for one in GROUPS.get(kind, (kind,)))) or tuple(KINDS)
    wish = Wish(seed, aircraft, count, wanted, objectives)
    base = _base(address)
    check_folder(folder)
    made = make_paper(wish)
    if not made.questions:
        raise Mistake("paper", f"no clear question for seed {seed}", "another seed, or more kinds")
    model = model_revision()
    names = [f"{part}-{aircraft}-{seed}.html" for part in ("paper", "key")]
    texts = [paper_html(made, units, model, base), key_html(made, units, model, base)]
    write_all(folder, dict(zip(names, texts, strict=True)))
    for name in names:
        click.echo(f"{folder / name}")
    if made.left_out:
        click.echo(
            f"Fewer than asked, because {aircraft} gives no more clear ones: {', '.join(made.left_out)}."
        )


def _base(address: str) -> str:
    if not address:
        return ""
    parts = urlsplit(address)
    if parts.scheme not in ("http", "https") or not parts.netloc or parts.query or parts.fragment:
        raise Mistake(
            "--address", f"'{address[:60]}'", "the folder of the site, with http:// or https://", EXAMPLE
        )
    return address if address.endswith("/") else f"{address}/"


def check_folder(folder: Path) -> None:
    """Raise Mistake where files can't go there, before anything is made."""
    if folder.exists() and not folder.is_dir():
        raise Mistake("--out", f"'{folder}' is a file", "a folder")


def write_all(folder: Path, texts: dict[str, str]) -> None:
    """Write files whole or not at all: each is finished beside its place, then all are put in place."""
    ready: list[tuple[str, Path]] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in texts.items():
            handle, made = tempfile.mkstemp(dir=folder, prefix=f".{name}-")
            ready.append((made, folder / name))
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                file.write(text)
            Path(made).chmod(0o644)
        for made, place in ready:
            Path(made).replace(place)
    except OSError as error:
        raise Mistake(
            "--out", f"'{folder}' can't be written: {error.strerror or error}", "a folder to write in"
        ) from None
    finally:
        for made, _ in ready:
            Path(made).unlink(missing_ok=True)

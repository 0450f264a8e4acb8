"""A guide's own steps: the files and commands that stand in a page, done in a folder as a reader would.

Run by its path, `python tests/site/guide.py PAGE FOLDER`, in FOLDER, it does all steps in this one process
and prints what each command said, as JSON. FOLDER holds the copy of the project that the commands belong to.
"""

import json
import re
import shlex
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

_FENCE = re.compile(
    r'^(?P<fence>`{3,})(?P<language>\w+)(?: title="(?P<title>[^"]+)")?\n(?P<text>.*?)^(?P=fence)$',
    re.M | re.S,
)
ADDED = ", added at the end"
COMMAND = ".venv/bin/wetwing"
ELIDED = "…"


class GuideBroken(Exception):
    """A step of the guide cannot be done; the text says which."""


@dataclass(frozen=True)
class FileStep:
    """A file to write, or a text to add at its end, or lines of it to change."""

    path: str
    text: str
    how: str


@dataclass(frozen=True)
class CommandStep:
    """A command, and what the page says that it prints."""

    command: str
    shown: tuple[str, ...]


Step = FileStep | CommandStep


def steps(page: str) -> Iterator[Step]:
    """The steps of a page, in its order. Code without a title, other than a session, is no step."""
    for found in _FENCE.finditer(page):
        title, text = found["title"], found["text"]
        if found["language"] == "console":
            yield from _commands(text)
        elif title:
            how = "change" if found["language"] == "diff" else "add" if title.endswith(ADDED) else "write"
            yield FileStep(title.removesuffix(ADDED), text, how)


def _commands(session: str) -> Iterator[CommandStep]:
    for part in re.split(r"^\$ ", session, flags=re.M)[1:]:
        command, *shown = part.rstrip("\n").split("\n")
        yield CommandStep(command, tuple(shown))


def do_file(step: FileStep, folder: Path) -> None:
    """Write, lengthen or change a file under `folder`."""
    path = folder / step.path
    if step.how == "write":
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(step.text, encoding="utf-8")
        return
    before = path.read_text(encoding="utf-8")
    if step.how == "add":
        path.write_text(before + step.text, encoding="utf-8")
        return
    lines = step.text.splitlines(keepends=True)
    old = "".join(line[1:] for line in lines if line[0] != "+")
    new = "".join(line[1:] for line in lines if line[0] != "-")
    if before.count(old) != 1:
        raise GuideBroken(f"{step.path} has these lines {before.count(old)} times:\n{old}")
    path.write_text(before.replace(old, new), encoding="utf-8")


def matches(shown: tuple[str, ...], said: list[str]) -> bool:
    """Whether output is as shown: line for line, where a line of `…` stands for one line or more."""
    if not shown:
        return not said
    if shown[0] == ELIDED:
        return any(matches(shown[1:], said[skipped:]) for skipped in range(1, len(said) + 1))
    return bool(said) and said[0] == shown[0] and matches(shown[1:], said[1:])


def main() -> None:
    """Do the steps of the page in the folder, and print what each command said."""
    from click.testing import CliRunner

    import wetwing
    from wetwing_tools.cli import main as command_line

    page, folder = Path(sys.argv[1]), Path(sys.argv[2]).resolve()
    if not Path(wetwing.__file__).is_relative_to(folder):
        raise GuideBroken(f"the commands would read another copy, {wetwing.__file__}")
    said: list[list[str]] = []
    for step in steps(page.read_text(encoding="utf-8")):
        if isinstance(step, FileStep):
            do_file(step, folder)
            continue
        first, *arguments = shlex.split(step.command)
        if first != COMMAND:
            raise GuideBroken(f"'{first}' is no {COMMAND}")
        done = CliRunner().invoke(command_line, arguments, catch_exceptions=False)
        said.append([line.rstrip() for line in done.output.splitlines()])
    json.dump(said, sys.stdout)


if __name__ == "__main__":
    main()

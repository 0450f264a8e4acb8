"""The command line's reference page, made from the commands themselves."""

import click

from wetwing_tools.cli import main

_INTRODUCTION = """# Command line

`wetwing` flies a script and answers questions about the flight, on your own machine and with no network.
After either command of the README it is `.venv/bin/wetwing`.

A time is `h:mm:ss`, counted from the start of the flight, or the name of a phase, which means its beginning.
A script is a path to a file, or the name of one that ships. Bad input ends with one message on standard error
and exit code 2.
"""


def page() -> str:
    """The page in Markdown."""
    parts = [_INTRODUCTION]
    for name, command in sorted(main.commands.items()):
        parts += [
            f"## wetwing {name}\n",
            f"{_prose(command.help or '')}\n",
            _usage(name, command),
            _options(name, command),
        ]
    return "\n".join(parts)


def _prose(text: str) -> str:
    return " ".join(text.replace("\b", "").split())


def _usage(name: str, command: click.Command) -> str:
    words = [
        parameter.make_metavar(click.Context(command))
        for parameter in command.params
        if isinstance(parameter, click.Argument)
    ]
    return "\n".join(["```text", " ".join(["wetwing", name, *words, "[OPTIONS]"]), "```", ""])


def _options(name: str, command: click.Command) -> str:
    rows = ["| Option | Meaning |", "| --- | --- |"]
    for parameter in command.params:
        if isinstance(parameter, click.Option):
            metavar = "" if parameter.is_flag else f" {parameter.make_metavar(click.Context(command))}"
            meaning = (parameter.help or "").replace("|", "\\|")
            rows.append(f"| `{', '.join(parameter.opts)}{metavar}` | {meaning} |")
    return "\n".join([*rows, ""])

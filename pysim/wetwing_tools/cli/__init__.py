"""The `wetwing` command: fly a script, and ask the flight what, why and what next."""

import os
import sys
from typing import Any

import click

from wetwing.aircraft.mistakes import Mistake
from wetwing_tools.cli.ahead import ahead
from wetwing_tools.cli.at import at
from wetwing_tools.cli.because import because
from wetwing_tools.cli.check import check
from wetwing_tools.cli.differences import differences
from wetwing_tools.cli.fly import fly
from wetwing_tools.cli.next import next_
from wetwing_tools.cli.paper import paper
from wetwing_tools.cli.whole import Slipped

BAD_INPUT = 2


class _Group(click.Group):
    """Ends bad input with code 2 and its message, or all slips of a file; a closed pipe in silence."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except Mistake as mistake:
            for slip in mistake.slips if isinstance(mistake, Slipped) else [mistake]:
                click.echo(f"wetwing: {slip}", err=True)
            ctx.exit(BAD_INPUT)
        except BrokenPipeError:
            # The reader of the pipe has seen enough: nothing is wrong, and the last flush must not complain.
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            ctx.exit(0)


@click.group(cls=_Group, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="wetwing", message="%(prog)s %(version)s")
def main() -> None:
    """Fly a fictional aircraft's fuel system, and ask the flight what, why and what next."""


main.add_command(fly)
main.add_command(at)
main.add_command(ahead)
main.add_command(because)
main.add_command(check)
main.add_command(differences)
main.add_command(next_)
main.add_command(paper)

__all__ = ["main"]

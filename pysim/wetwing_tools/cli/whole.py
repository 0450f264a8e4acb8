"""Reading a flight's files for a command: of one with slips all are told, as `check` tells them."""

from pathlib import Path

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.script import Script, read_script, script_aircraft
from wetwing_tools.cli.check_file import slips_in


class Slipped(Mistake):
    """A file that cannot be used, with every slip of it."""

    def __init__(self, slips: list[Mistake]) -> None:
        first = slips[0]
        super().__init__(first.place, first.found, first.allowed, first.nearest)
        self.slips = slips


def aircraft_of(source: str) -> Aircraft:
    """The aircraft of that name or file. Raises Mistake: Slipped where it is a file with slips."""
    try:
        return read_aircraft(source)
    except Mistake as mistake:
        raise _whole(source, None, mistake) from mistake


def script_and_aircraft(script: str, aircraft: str | None) -> tuple[Script, Aircraft]:
    """The script of that name or file, with its own aircraft or that of a name or file. Raises Mistake:
    Slipped where one is a file with slips.
    """
    try:
        own = aircraft or script_aircraft(script)
    except Mistake as mistake:
        raise _whole(script, aircraft, mistake) from mistake
    read = aircraft_of(own)
    return script_with(script, read), read


def script_with(script: str, aircraft: Aircraft) -> Script:
    """The script of that name or file, flown with an aircraft. Raises Mistake: Slipped where it is a file
    with slips.
    """
    try:
        return read_script(script, aircraft)
    except Mistake as mistake:
        raise _whole(script, aircraft, mistake) from mistake


def _whole(source: str, aircraft: str | Aircraft | None, mistake: Mistake) -> Mistake:
    """Every slip of the file that a mistake is in; the mistake itself where it is in none."""
    if not source.endswith(".toml"):
        return mistake
    slips = slips_in(Path(source), aircraft)
    return Slipped(slips) if slips else mistake

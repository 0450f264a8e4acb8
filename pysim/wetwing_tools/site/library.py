"""The flights of a build: each aircraft read once, each script flown once, whatever the number of pages."""

import hashlib
from dataclasses import dataclass, field
from pathlib import Path

import wetwing
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.script import read_script
from wetwing.teach.flights import Flights


@dataclass
class Library:
    """Aircraft and flights by name, kept for the whole build."""

    _aircraft: dict[str, Aircraft] = field(default_factory=dict)
    _flights: dict[tuple[str, str], Flights] = field(default_factory=dict)

    def aircraft(self, name: str) -> Aircraft:
        """Read an aircraft. Raises Mistake."""
        if name not in self._aircraft:
            self._aircraft[name] = read_aircraft(name)
        return self._aircraft[name]

    def flights(self, aircraft: str, script: str) -> Flights:
        """Give the flights of a script. Raises Mistake."""
        key = (aircraft, script)
        if key not in self._flights:
            read = self.aircraft(aircraft)
            self._flights[key] = Flights(read, read_script(script, read))
        return self._flights[key]

    def forget_edited(self) -> None:
        """Keep the recorded flights alone: edits belong to a page, and hundreds of flights fill a memory."""
        for flights in self._flights.values():
            flights.forget_edited()


def model_revision() -> str:
    """Name the simulation that computed the pages: its version and a hash of its sources and data."""
    folder = Path(wetwing.__file__).parent
    total = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        if path.suffix in (".py", ".toml"):
            total.update(path.relative_to(folder).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return f"{wetwing.__version__}-{total.hexdigest()[:8]}"

"""Flights by their fingerprints, kept in `tests/golden/fingerprints.txt`: a change of the last bit shows.

Two for each flight that ships, is staged for a rule or an alert, or is drawn by chance: of its figures,
states and causes, and of the words of its reasons; and two for each `GROUP` of the first `GROUPED` of
`test_random_flights`, which are flown there anyway. They are the same on every machine and in every Python,
since the simulation uses nothing that differs. A change of the model, of an aircraft or of a sentence changes
them; when that is meant, write them anew and see which have changed:

    python -m tests.flight.fingerprint
"""

from collections.abc import Iterable, Iterator
from difflib import unified_diff
from hashlib import sha256
from pathlib import Path

from tests.flight.coverage import flown, staged
from tests.flight.random_scripts import aircraft_of, cut_short, drawn, fleet, flights_of, script_of
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight

FILE = Path(__file__).resolve().parents[1] / "golden" / "fingerprints.txt"
HEAD = "# flight | its figures | its words; written by `python -m tests.flight.fingerprint`"
BY_CHANCE = 28
GROUP, GROUPED = 40, 400
LONG = 16
"""Digits of a fingerprint: enough that no two flights share one by chance."""


def figures(flight: Flight) -> str:
    """The fingerprint of every figure, state and cause, to the last bit."""
    changes = [
        (c.time_s, c.part, c.before, c.after, c.reason.kind, c.reason.name, c.reason.facts, c.reason.causes)
        for c in flight.changes
    ]
    commands = [(c.time_s, c.part, c.state) for c in flight.commands]
    end = (flight.duration_s, flight.ended.name if flight.ended else "")
    quantities = sorted(flight.quantities.items())
    return _digest((flight.time_s, quantities, changes, commands, end, sorted(flight.start_states.items())))


def words(flight: Flight) -> str:
    """The fingerprint of every sentence."""
    return _digest(([c.reason.sentence for c in flight.changes], flight.ended and flight.ended.sentence))


def _digest(found: object) -> str:
    return sha256(repr(found).encode()).hexdigest()[:LONG]


def shipped() -> Iterator[tuple[str, Flight]]:
    """Each flight that ships, by each aircraft that can fly it."""
    for aircraft in fleet():
        for name in flights_of(aircraft):
            yield f"{aircraft}, {name}", fly(aircraft_of(aircraft), script_of(name, aircraft))


def of_the_staged(aircraft: str = "") -> Iterator[tuple[str, Flight]]:
    """The flights that are staged for one rule or alert each; of one aircraft, if one is named."""
    for scenario in staged():
        if aircraft in ("", scenario.aircraft):
            yield f"{scenario.aircraft}, {scenario.name}", flown(scenario)


def by_chance() -> Iterator[tuple[str, Flight]]:
    """Some flights drawn by chance."""
    for seed in range(BY_CHANCE):
        found = drawn(seed)
        yield f"by chance, {seed}", fly(found.aircraft, found.script)


def grouped(first: int, flights: Iterable[Flight]) -> str:
    """The line of the file for the group of flights that a number begins."""
    prints = [(figures(flight), words(flight)) for flight in flights]
    drawn_of, told = zip(*prints, strict=True)
    return f"{group_name(first)} | {_digest(drawn_of)} | {_digest(told)}"


def group_name(first: int) -> str:
    """What a group is called in the file."""
    return f"by chance and cut short, {first} to {first + GROUP - 1}"


def _groups() -> Iterator[str]:
    for first in range(0, GROUPED, GROUP):
        cut = [cut_short(drawn(seed)) for seed in range(first, first + GROUP)]
        yield grouped(first, [fly(found.aircraft, found.script) for found in cut])


def lines(flights: Iterable[tuple[str, Flight]]) -> list[str]:
    """The lines of the file for some flights."""
    return [f"{name} | {figures(flight)} | {words(flight)}" for name, flight in flights]


def recorded() -> list[str]:
    """The lines of the file, without its head."""
    return FILE.read_text(encoding="utf-8").splitlines()[1:]


def assert_as_recorded(known: list[str], found: list[str]) -> None:
    """The same lines; else which differ, and what to run if it is meant."""
    difference = "\n".join(unified_diff(known, found, "recorded", "flown now", lineterm="", n=0))
    assert not difference, f"if this is meant, run python -m tests.flight.fingerprint\n{difference}"


if __name__ == "__main__":
    written = [HEAD, *lines(shipped()), *lines(of_the_staged()), *lines(by_chance()), *_groups()]
    FILE.write_text("\n".join(written) + "\n", encoding="utf-8")
    print(f"{FILE.relative_to(Path.cwd())}: {len(written) - 1} lines")

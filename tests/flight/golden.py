"""The demonstration flight's log by meaning: one line a change, kept in `tests/golden/day-sector.txt`.

A change of the aircraft, the script or the model changes the log. When that is meant, write it anew and read
the difference before it is committed:

    python -m tests.flight.golden
"""

from pathlib import Path

from tests.flight.flights import flown
from wetwing.flight.clock import clock
from wetwing.flight.record import Change, Flight

FILE = Path(__file__).resolve().parents[1] / "golden" / "day-sector.txt"
HEAD = (
    "# time | part | from > to | kind of reason, its name | facts; written by `python -m tests.flight.golden`"
)


def line(change: Change) -> str:
    """One change: when to a tenth of a second, what, by which rule or physics, and what was seen."""
    reason = change.reason
    facts = ", ".join(f"{fact.name} is {fact.state}" if fact.state else fact.name for fact in reason.facts)
    return (
        f"{clock(change.time_s, 1)} | {change.part} | {change.before} > {change.after} | "
        f"{reason.kind}, {reason.name} | {facts or '-'}"
    )


def log(flight: Flight) -> list[str]:
    """A flight's log, with its end."""
    ended = flight.ended.name if flight.ended else "as the script says"
    return [
        HEAD,
        *(line(change) for change in flight.changes),
        f"{clock(flight.duration_s, 1)} | ends {ended}",
    ]


if __name__ == "__main__":
    FILE.write_text("\n".join(log(flown())) + "\n", encoding="utf-8")
    print(f"{FILE.relative_to(Path.cwd())}: {len(flown().changes)} changes")

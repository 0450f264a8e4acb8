"""What a page lacks of a flight when it has another of the same script: the record from where they part.

Up to there the two are one flight, row by row, so the page puts the remainder after its own rows. It may end
before the flight does, while the rest of it is still being flown.
"""

from bisect import bisect_left
from collections.abc import Sequence

from wetwing.aircraft.names import quantities
from wetwing.flight.compact import change_json, columns, command_json, edits_json, ended_json, parts
from wetwing.flight.keeping import parts_at_s
from wetwing.flight.record import Change, Command, Flight
from wetwing.flight.script import Script
from wetwing.flight.stages import FlyingInStages

FORMAT = "wetwing-remainder/1"


def remainder(flown: Flight | FlyingInStages, had: Script) -> dict[str, object]:
    """The remainder of a flight, or of what is flown of it, for who has the whole flight of `had`; documented
    on the page of formats. A part is told anew only where the scripts have different troubles.
    """
    kept = flown.kept
    if kept is None:
        raise ValueError("a flight without its rows has no remainder")
    part_s = parts_at_s(had, flown.script)
    rows = bisect_left(kept.times, part_s)
    changes, commands = _before(kept.changes, part_s), _before(kept.commands, part_s)
    found: dict[str, object] = {
        "format": FORMAT,
        "after": {
            "keyframes": rows,
            "time_s": round(kept.times[rows - 1], 3) if rows else None,
            "changes": changes,
            "commands": commands,
        },
        "parting_s": round(part_s, 3) if part_s < kept.times[-1] else None,
        "whole": isinstance(flown, Flight),
        "edits": edits_json(flown.script),
        "duration_s": round(kept.times[-1], 3),
        "ended": ended_json(flown.ended),
        "time_s": [round(time_s, 3) for time_s in kept.times[rows:]],
        "quantities": columns(
            zip(quantities(flown.aircraft), zip(*kept.rows[rows:], strict=True), strict=False)
        ),
        "changes": [change_json(change) for change in kept.changes[changes:]],
        "commands": [command_json(command) for command in kept.commands[commands:]],
    }
    if rows == 0 or had.troubles != flown.script.troubles:
        found["parts"] = parts(flown)
    return found


def _before(entries: Sequence[Change | Command], time_s: float) -> int:
    """How many entries, in the order of their times, are before a time."""
    return bisect_left(entries, time_s, key=lambda entry: entry.time_s)

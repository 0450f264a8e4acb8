"""A flight as one JSON document for other programs: every keyframe whole, at full precision."""

from collections.abc import Callable

from wetwing.aircraft.names import TOTALS
from wetwing.flight.compact import change_json, parts, reason_json
from wetwing.flight.phrases import plain
from wetwing.flight.record import Change, Flight

FORMAT = "wetwing-flight/1"


def document(flight: Flight, say: Callable[[str], str] = plain) -> dict[str, object]:
    """The whole flight, ready for JSON; documented on the page of formats.

    `say` puts the marks of a sentence into somebody's units; without it they are told in kilograms.

    A part's state in a keyframe is that after all changes of that time, except in the first of two keyframes
    of one time, which shows the flight just before them.
    """
    aircraft, script = flight.aircraft, flight.script
    return {
        "format": FORMAT,
        "aircraft": {
            "name": aircraft.name,
            "title": aircraft.title,
            "revision": aircraft.revision,
            "operator": aircraft.operator,
        },
        "script": {"name": script.name, "title": script.title, "plan_kg": script.plan_kg},
        "edits": [{"time_s": edit.time_s, "part": edit.part, "state": edit.state} for edit in script.edits],
        "duration_s": flight.duration_s,
        "ended": None
        if flight.ended is None
        else {
            "time_s": flight.ended.time_s,
            "name": flight.ended.name,
            "sentence": say(flight.ended.sentence),
        },
        "parts": [
            {**part, "sentence": say(str(part["sentence"]))} if "sentence" in part else part
            for part in parts(flight)
        ],
        "phases": [
            {"name": phase.name, "label": phase.label, "start_s": phase.start_s} for phase in flight.phases
        ],
        "keyframes": _keyframes(flight),
        "changes": [_change(change, say) for change in flight.changes],
        "commands": [{"time_s": c.time_s, "part": c.part, "state": c.state} for c in flight.commands],
    }


def _change(change: Change, say: Callable[[str], str]) -> dict[str, object]:
    reason = {**reason_json(change.reason), "sentence": say(change.reason.sentence)}
    return {**change_json(change), "time_s": change.time_s, "reason": reason}


def _keyframes(flight: Flight) -> list[dict[str, object]]:
    times, quantities = flight.time_s, flight.quantities
    tanks = [tank.name for tank in flight.aircraft.tanks]
    users = [
        *(engine.name for engine in flight.aircraft.engines),
        *(apu.name for apu in flight.aircraft.apus),
    ]
    extras: dict[str, list[tuple[str, list[float]]]] = {}
    for name, column in quantities.items():
        subject, _, attribute = name.partition(".")
        extras.setdefault(subject, []).append((attribute, column))
    states = dict(flight.start_states)
    states.pop("phase", None)
    frames: list[dict[str, object]] = []
    at = 0
    for k, time_s in enumerate(times):
        jump = k + 1 < len(times) and times[k + 1] == time_s
        while at < len(flight.changes) and (
            flight.changes[at].time_s < time_s or (flight.changes[at].time_s == time_s and not jump)
        ):
            states[flight.changes[at].part] = flight.changes[at].after
            at += 1
        frames.append(
            {
                "time_s": time_s,
                "tanks": {
                    tank: {attribute: column[k] for attribute, column in extras[tank]} for tank in tanks
                },
                "engines": {
                    user: {attribute: column[k] for attribute, column in extras[user]} for user in users
                },
                "parts": {
                    name: {"state": state, **{a: c[k] for a, c in extras.get(name, ())}}
                    for name, state in states.items()
                    if name not in tanks and name not in users
                }
                | {name: {"state": states[name]} for name in (*tanks, *users)},
                "totals": {total: quantities[f"total.{total}"][k] for total in TOTALS},
                "flight": {attribute: column[k] for attribute, column in extras["flight"]},
            }
        )
    return frames

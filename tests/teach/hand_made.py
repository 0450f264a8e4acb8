"""A small flight written by hand, so that every answer about it is known: 100 s, two jumps, a few changes."""

from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.record import Change, Flight, Reason
from wetwing.flight.script import Edit, Phase, Script, read_script
from wetwing.teach.claims import Claims
from wetwing.teach.flights import Flights
from wetwing.teach.timeline import Timeline

EDIT = Edit(20.0, "slats", "out")


def change(
    time_s: float, part: str, before: str, after: str, name: str, *causes: int, kind: str = "rule"
) -> Change:
    """One change whose sentence says no more than its name."""
    return Change(time_s, part, before, after, Reason(kind, name, f"Because of {name}.", (), causes))


CHANGES = (
    change(10.0, "slats", "in", "out", "setting", kind="action"),
    change(10.0, "slat-hold", "inactive", "active", "slat-hold", 0),
    change(10.0, "centre-left", "delivering", "stopped by automatics", "slat-hold", 1),
    change(40.0, "slats", "out", "in", "setting", kind="action"),
    change(40.0, "slat-hold", "active", "inactive", "slat-hold", 3),
    change(40.0, "centre-left", "stopped by automatics", "delivering", "slat-hold", 4),
    change(80.0, "centre-left", "delivering", "dry", "air", 5, kind="physics"),
)
EDITED_CHANGES = (*CHANGES[:3], change(60.0, "vent-left", "dry", "spilling", "overflow", kind="physics"))


def flight(aircraft: Aircraft, script: Script, changes: tuple[Change, ...]) -> Flight:
    """The main falls 1000 to 500 kg by 50 s, jumps to 700, rises to 800; the centre falls all the way."""
    first = {part.name: part.initial for part in aircraft.parts.values()}
    return Flight(
        aircraft=aircraft,
        script=script,
        duration_s=100.0,
        time_s=[0.0, 10.0, 40.0, 50.0, 50.0, 80.0, 100.0],
        quantities={
            "main-left.actual_kg": [1000.0, 900.0, 600.0, 500.0, 700.0, 760.0, 800.0],
            "centre.actual_kg": [2000.0, 1800.0, 1200.0, 1000.0, 1000.0, 400.0, 0.0],
            "total.on_board_kg": [5000.0] * 7,
            "vent-left.flow_kg_h": [0.0] * 7,
        },
        start_states={**first, "slats": "in", "centre-left": "delivering"},
        start_settings={},
        changes=changes,
        commands=(),
        ended=None,
    )


def claims(names: dict[str, str] | None = None) -> Claims:
    """Claims about the flight; the edit EDIT is flown already, as EDITED_CHANGES."""
    aircraft = read_aircraft("alder-165")
    plain = read_script("day-sector", aircraft)
    phases = (
        Phase("climb", "Climb", 0.0),
        Phase("cruise", "Cruise", 30.0),
        Phase("descent", "Descent", 90.0),
    )
    script = type(plain)(**{**{name: getattr(plain, name) for name in plain.__slots__}, "phases": phases})
    flights = Flights(aircraft, script)
    flights._kept[()] = Timeline(flight(aircraft, script, CHANGES))
    flights._kept[(EDIT,)] = Timeline(flight(aircraft, script, EDITED_CHANGES))
    return Claims(flights, names or {})

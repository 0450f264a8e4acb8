"""The phases of a flight and its way through the air, read from a script."""

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.table import Table
from wetwing.flight.clock import clock, seconds
from wetwing.flight.script_records import PathPoint, Phase


def phases(top: Table, ends_s: float) -> tuple[Phase, ...]:
    """The phases in their order, the first at 0:00:00."""
    found: list[Phase] = []
    for i, values in enumerate(top.listed("phases")):
        table = Table(values, f"{top.place}: phases[{i}]")
        name = table.name("name")
        start_s = seconds(table.text("at"), table.at("at"))
        label = table.text("label", name.replace("-", " ").capitalize())
        table.finish()
        if name in [phase.name for phase in found]:
            raise Mistake(table.at("name"), f"'{name}' is used twice", "a name of its own for every phase")
        if found and start_s <= found[-1].start_s:
            raise Mistake(
                table.at("at"),
                clock(start_s),
                f"later than {clock(found[-1].start_s)}, when {found[-1].name} begins",
            )
        if start_s >= ends_s:
            raise Mistake(table.at("at"), clock(start_s), f"before the flight ends at {clock(ends_s)}")
        found.append(Phase(name, label, start_s))
    if not found or found[0].start_s != 0:
        raise Mistake(f"{top.place}: phases", "no phase at 0:00:00", "a first phase at 0:00:00")
    return tuple(found)


def path(top: Table, aircraft: Aircraft, ends_s: float) -> tuple[PathPoint, ...]:
    """The points of the way, from the start to the end of the flight."""
    points: list[PathPoint] = []
    for i, values in enumerate(top.listed("path")):
        table = Table(values, f"{top.place}: path[{i}]")
        point = PathPoint(
            seconds(table.text("at"), table.at("at")),
            table.number("altitude_ft", -1000, aircraft.limits.ceiling_ft, "ft"),
            table.number("mach", 0, 0.95, ""),
            table.flag("ground", False),
            table.number("pitch_deg", -15, 20, "°") if table.has("pitch_deg") else None,
            table.number("roll_deg", -30, 30, "°") if table.has("roll_deg") else None,
        )
        table.finish()
        if points and point.time_s <= points[-1].time_s:
            raise Mistake(
                table.at("at"),
                clock(point.time_s),
                f"later than {clock(points[-1].time_s)}, the point before",
            )
        if not point.ground and point.mach < 0.1:
            raise Mistake(
                table.at("mach"), f"{point.mach:g} in the air", "0.1 or more, or ground = true", "0.1"
            )
        points.append(point)
    if len(points) < 2 or points[0].time_s != 0 or points[-1].time_s < ends_s:
        raise Mistake(
            f"{top.place}: path", "does not cover the flight", f"points from 0:00:00 to {clock(ends_s)}"
        )
    return tuple(points)

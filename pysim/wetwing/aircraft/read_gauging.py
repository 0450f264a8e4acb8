"""What senses and shows, read from an aircraft's file: sensors, probes, compensators, meters, displays."""

from wetwing.aircraft import model
from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.read_tanks import mean_point_m
from wetwing.aircraft.section import Sections, only_one
from wetwing.aircraft.table import Table

GAUGE_STATES = ("reads", "no signal")
SENSOR_STATES = ("dry", "wet", "no signal")


def corrects_attitude(top: Table) -> bool:
    """`[gauging]`: whether gauges are read by pitch and roll; a file without it reads them as if level."""
    if not top.has("gauging"):
        return False
    table = top.table("gauging")
    found = table.flag("corrects_attitude", False)
    table.finish()
    return found


def sensors(sections: Sections, tanks: tuple[model.Tank, ...]) -> tuple[model.Sensor, ...]:
    """`[sensors.X]`."""
    outlines = {tank.name: tank.outline_m for tank in tanks}
    found = []
    for name, table in sections.section("sensors"):
        wet_at_l = table.number("wet_at_l", 0.1, 1e6, "L")
        tank = sections.tank(table)
        found.append(
            model.Sensor(
                name=name,
                label=table.text("label"),
                kind="sensor",
                states=SENSOR_STATES,
                settings=(),
                initial="dry",
                tank=tank,
                wet_at_l=wet_at_l,
                dry_at_l=table.number("dry_at_l", 0, wet_at_l * 0.9999, "L"),
                bus=sections.bus(table),
                at_m=table.point("at_m") if table.has("at_m") else mean_point_m(outlines[tank]),
            )
        )
        table.finish()
    return tuple(found)


def probes(sections: Sections) -> tuple[model.Probe, ...]:
    """`[probes.X]`."""
    found = []
    for name, table in sections.section("probes"):
        found.append(
            model.Probe(
                name=name,
                label=table.text("label"),
                kind="probe",
                states=GAUGE_STATES,
                settings=(),
                initial="reads",
                tank=sections.tank(table),
                bus=sections.bus(table),
                at_m=table.point("at_m"),
            )
        )
        table.finish()
    return tuple(found)


def compensators(sections: Sections) -> tuple[model.Compensator, ...]:
    """`[compensators.X]`."""
    found = []
    taken: dict[str, str] = {}
    for name, table in sections.section("compensators"):
        tank = sections.tank(table)
        only_one(name, tank, taken, table, "tank")
        label, bus = table.text("label"), sections.bus(table)
        found.append(model.Compensator(name, label, "compensator", GAUGE_STATES, (), "reads", tank, bus))
        table.finish()
    return tuple(found)


def meters(sections: Sections) -> tuple[model.Meter, ...]:
    """`[meters.X]`."""
    found = []
    taken: dict[str, str] = {}
    for name, table in sections.section("meters"):
        engine = table.reference("engine", "engine", sections.named("engines"))
        only_one(name, engine, taken, table, "engine")
        label, bus = table.text("label"), sections.bus(table)
        found.append(model.Meter(name, label, "meter", GAUGE_STATES, (), "reads", engine, bus))
        table.finish()
    return tuple(found)


def totalisers(sections: Sections) -> tuple[model.Totaliser, ...]:
    """`[totalisers.X]`, one at most."""
    found: list[model.Totaliser] = []
    for name, table in sections.section("totalisers"):
        if found:
            raise Mistake(table.place, f"a second totaliser beside {found[0].name}", "one at most")
        label, bus = table.text("label"), sections.bus(table)
        found.append(model.Totaliser(name, label, "totaliser", GAUGE_STATES, (), "reads", bus))
        table.finish()
    return tuple(found)


def displays(sections: Sections) -> tuple[model.Display, ...]:
    """`[displays.X]`."""
    found = []
    for name, table in sections.section("displays"):
        states = ("not available", "shown")
        shows = table.choice("shows", ("gross_kg", "computed_kg"))
        label, shown_when = table.text("label"), table.condition("shown_when")
        found.append(model.Display(name, label, "display", states, (), states[0], shows, shown_when))
        table.finish()
    return tuple(found)

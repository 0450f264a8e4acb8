"""Which gauges are blank: a record holds zero where a gauge shows nothing, so its parts' states must tell."""

from typing import Protocol

from wetwing.aircraft.model import Aircraft
from wetwing.flight.record import Flight, Moment

NO_SIGNAL = "no signal"
BLANK = "blank"
"""What a statement may say of a figure that an instrument shows: `main-left.gauged_kg is blank`."""

SHOWN = ("gauged_kg", "discrepancy_kg", "imbalance_kg", "computed_kg", "metered_kg_h")
"""What instruments show of a tank, the total or an engine; all else is what it is, whatever is shown."""


class Stands(Protocol):
    """What is asked of a moment."""

    def state(self, part: str) -> str:
        """Return the state of a part."""


def probes_of(aircraft: Aircraft, tank: str) -> tuple[str, ...]:
    """The probes of a tank, by name."""
    return tuple(probe.name for probe in aircraft.probes if probe.tank == tank)


def tank_is_blank(aircraft: Aircraft, moment: Stands, tank: str) -> bool:
    """Whether a tank's gauge shows nothing: it has probes, and none gives a signal."""
    probes = probes_of(aircraft, tank)
    return bool(probes) and all(moment.state(probe) == NO_SIGNAL for probe in probes)


def total_is_blank(aircraft: Aircraft, moment: Stands) -> bool:
    """Whether the total shows nothing: the totaliser, or the gauge of any tank, is blank."""
    silent = any(moment.state(part.name) == NO_SIGNAL for part in aircraft.totalisers)
    return silent or any(tank_is_blank(aircraft, moment, tank.name) for tank in aircraft.tanks)


def may_be_blank(quantity: str) -> bool:
    """Whether an instrument shows this quantity, and so may show nothing of it."""
    return quantity.partition(".")[2] in SHOWN


def ever_silent(flight: Flight) -> bool:
    """Whether any part of the gauges gives no signal at any time of a flight."""
    aircraft = flight.aircraft
    gauging = {part.name for part in (*aircraft.probes, *aircraft.totalisers, *aircraft.meters)}
    return any(flight.start_states[name] == NO_SIGNAL for name in gauging) or any(
        change.part in gauging and change.after == NO_SIGNAL for change in flight.changes
    )


def quantity_is_blank(aircraft: Aircraft, moment: Moment, quantity: str) -> bool:
    """Whether an instrument shows nothing of a quantity, so that the record's zero is no reading."""
    part, _, what = quantity.partition(".")
    if what not in SHOWN:
        return False
    if what == "imbalance_kg":
        return any(
            tank_is_blank(aircraft, moment, tank.name) for tank in aircraft.tanks if tank.side != "centre"
        )
    if part == "total":
        # Fuel by use is the gauges' total until the first engine start; from there the meters keep it.
        counted = what == "computed_kg" and _departed(aircraft, moment)
        return not counted and total_is_blank(aircraft, moment)
    if what == "metered_kg_h":
        silent = [meter.name for meter in aircraft.meters if meter.engine == part]
        return any(moment.state(name) == NO_SIGNAL for name in silent)
    return what == "gauged_kg" and tank_is_blank(aircraft, moment, part)


def _departed(aircraft: Aircraft, moment: Moment) -> bool:
    times = [moment.flight.indices(engine.name) for engine in aircraft.engines]
    changes = moment.flight.changes
    return any(
        changes[i].after == "starting" and time_s <= moment.time_s
        for own, indices in times
        for time_s, i in zip(own, indices, strict=True)
    )

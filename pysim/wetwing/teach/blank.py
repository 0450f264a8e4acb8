"""Which gauges are blank: a record holds zero where a gauge shows nothing, so its parts' states must tell."""

from typing import Protocol

from wetwing.aircraft.model import Aircraft

NO_SIGNAL = "no signal"


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


def quantity_is_blank(aircraft: Aircraft, moment: Stands, quantity: str) -> bool:
    """Whether an instrument shows nothing of a quantity, so that the record's zero is no reading."""
    part, _, what = quantity.partition(".")
    if what == "imbalance_kg":
        return any(
            tank_is_blank(aircraft, moment, tank.name) for tank in aircraft.tanks if tank.side != "centre"
        )
    if part == "total":
        return what in ("gauged_kg", "discrepancy_kg") and total_is_blank(aircraft, moment)
    if what == "metered_kg_h":
        silent = [meter.name for meter in aircraft.meters if meter.engine == part]
        return any(moment.state(name) == NO_SIGNAL for name in silent)
    return what == "gauged_kg" and tank_is_blank(aircraft, moment, part)

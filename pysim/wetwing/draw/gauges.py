"""What a crew would see of a moment: the second of the two views, *on the gauges*.

A picture is painted from whatever answers for its quantities and states. `Gauges` answers as the gauges of
the aircraft do, and gives nothing that nobody measures: so no picture, table or sentence that is painted
from it can tell more than a crew could know. `docs/panel/gauges.js` answers the same.

What is shown to a crew: the gauge of each tank, the totaliser, flow and fuel used by the meters, the
temperature of a tank, the settings of switches, the position of each valve by its own indication, whether
engines and the APU run, figures of the displays, alerts, and the flight itself.
"""

from wetwing.aircraft.model import Aircraft
from wetwing.draw.hooks import Shown
from wetwing.teach.blank import NO_SIGNAL, tank_is_blank, total_is_blank

NOT_SHOWN = "not shown"
UNKNOWN = float("nan")
FULL_KG_L = 0.8
"""The gauge's reading is drawn as a level as if the fuel had this density, whatever it has."""

TRUE_STATES = ("control", "display", "alert", "engine", "apu", "meter", "totaliser")
STOPPED = ("failed", "stopped for want of fuel")
TRUE_QUANTITIES = ("gauged_kg", "temperature_c", "metered_kg_h", "used_kg")


class Gauges:
    """A moment as the crew sees it."""

    def __init__(self, aircraft: Aircraft, moment: Shown) -> None:
        self.aircraft = aircraft
        self.moment = moment
        self.meters = {meter.engine: meter.name for meter in aircraft.meters}
        self.full_kg = {tank.name: tank.capacity_l * FULL_KG_L for tank in aircraft.tanks}
        self.displayed = {f"total.{display.shows}" for display in aircraft.displays}

    def quantity(self, name: str) -> float:
        """Return a quantity as it is shown; not a number where nobody shows it."""
        part, _, what = name.partition(".")
        if part == "flight" or what in ("uplifted_kg", "uplifted_l") or name in self.displayed:
            return self.moment.quantity(name)
        if part == "total":
            shown = what in ("on_board_kg", "gauged_kg") and not total_is_blank(self.aircraft, self.moment)
            return self.moment.quantity("total.gauged_kg") if shown else UNKNOWN
        if part in self.full_kg:
            return self._of_tank(part, what)
        if what == "flow_kg_h" and part in self.meters:
            what = "metered_kg_h"
        if what == "metered_kg_h" and self._silent(part):
            return UNKNOWN
        return self.moment.quantity(f"{part}.{what}") if what in TRUE_QUANTITIES else UNKNOWN

    def _of_tank(self, tank: str, what: str) -> float:
        if what == "temperature_c":
            return self.moment.quantity(f"{tank}.{what}")
        if what not in ("actual_kg", "gauged_kg", "fill") or tank_is_blank(self.aircraft, self.moment, tank):
            return UNKNOWN
        gauged_kg = self.moment.quantity(f"{tank}.gauged_kg")
        return min(gauged_kg / self.full_kg[tank], 1.0) if what == "fill" else gauged_kg

    def _silent(self, engine: str) -> bool:
        meter = self.meters.get(engine)
        return meter is None or self.moment.state(meter) == NO_SIGNAL

    def state(self, part: str) -> str:
        """Return a part's state as it is shown."""
        known = self.aircraft.parts.get(part)
        kind = known.kind if known else "phase"
        if kind == "phase" or kind in TRUE_STATES:
            return self._seen(kind, self.moment.state(part))
        if kind == "valve":
            return self.moment.shown(part)
        if kind == "tank":
            return "holding"
        if kind == "pump" and known and known.settings:
            return self.moment.setting(part)
        if kind == "probe":
            # One probe of several that gives no signal is not told; a gauge without any is blank.
            owner = next(probe.tank for probe in self.aircraft.probes if probe.name == part)
            return NO_SIGNAL if tank_is_blank(self.aircraft, self.moment, owner) else NOT_SHOWN
        return NOT_SHOWN

    @staticmethod
    def _seen(kind: str, state: str) -> str:
        """A crew sees that an engine has stopped, and not of what."""
        return "not running" if kind in ("engine", "apu") and state in STOPPED else state

    def setting(self, part: str) -> str:
        """Return what a person last set a part to: whoever set it knows."""
        return self.moment.setting(part)

    def shown(self, part: str) -> str:
        """Return a valve's indication."""
        return self.moment.shown(part)

    def troubles(self, part: str) -> tuple[str, ...]:
        """Return no trouble: a crew is told of none but by its gauges and alerts."""
        return ()

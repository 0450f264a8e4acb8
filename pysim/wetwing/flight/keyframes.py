"""Collecting keyframes: one row of every shown quantity each, turned into columns at the end."""

from wetwing.aircraft.names import quantities
from wetwing.flight.plant import Flows
from wetwing.flight.world import World


class Keyframes:
    """Rows of one flight. A blank reading is kept as zero: what is blank says so in its part's state."""

    def __init__(self, world: World) -> None:
        self.world = world
        self.time_s: list[float] = []
        self.rows: list[list[float]] = []
        self.names = list(quantities(world.aircraft))
        self.plain = self._plain()
        at = {name: i for i, name in enumerate(self.names)}
        self.read = [(at[name], world.facts.reader(name)[0]) for name in self.names if name not in self.plain]
        order = list(self.plain)
        self.placed = [order.index(name) if name in self.plain else -1 for name in self.names]

    def _plain(self) -> dict[str, None]:
        """Quantities that stand in lists as they are, in the order in which `_listed` gives them."""
        plant, aircraft = self.world.plant, self.world.aircraft
        tanks = [tank.name for tank in aircraft.tanks]
        names = [f"{tank}.{q}" for q in ("actual_kg", "temperature_c", "air_share") for tank in tanks]
        names += [f"{line.name}.oil_c" for line in aircraft.returns]
        names += [f"{vent.name}.surge_kg" for vent in aircraft.vents]
        names += [f"{engine.name}.used_kg" for engine in aircraft.engines]
        totals = ("burned_kg", "uplifted_kg", "vented_kg", "leaked_kg", "discharged_kg", "metered_kg")
        names += [f"total.{total}" for total in totals]
        names += [f"{source.name}.flow_kg_h" for source in plant.sources]
        names += [f"{node.name}.pressure_bar" for node in aircraft.nodes]
        names += [f"{line.name}.flow_kg_h" for line in plant.lines]
        names += [f"{part.name}.flow_kg_h" for part in aircraft.transfers]
        names += [f"{part.name}.flow_kg_h" for part in aircraft.returns]
        names += [f"{part.name}.flow_kg_h" for part in aircraft.jet_pumps]
        names += [f"{part.name}.flow_kg_h" for part in (*aircraft.vents, *aircraft.outlets, *plant.users)]
        names += [f"{engine.name}.metered_kg_h" for engine in aircraft.engines]
        return dict.fromkeys(names)

    @staticmethod
    def _listed(state: list[float], flows: Flows) -> list[float]:
        return [
            *state,
            *flows.source_kg_h,
            *flows.node_bar,
            *flows.line_kg_h,
            *flows.transfer_kg_h,
            *flows.return_kg_h,
            *flows.jet_kg_h,
            *flows.vent_kg_h,
            *flows.outlet_kg_h,
            *flows.user_kg_h,
            *flows.metered_kg_h,
        ]

    def add(self, time_s: float, state: list[float], flows: Flows) -> None:
        """One keyframe; one that says the same as the last is left out."""
        listed = self._listed(state, flows)
        row = [listed[i] for i in self.placed]
        for i, reader in self.read:
            value = reader(time_s, state, flows)
            row[i] = value if value == value else 0.0
        if self.rows and self.time_s[-1] == time_s and self.rows[-1] == row:
            return
        self.time_s.append(time_s)
        self.rows.append(row)

    def times(self) -> list[float]:
        """Times of the keyframes, s."""
        return self.time_s

    def columns(self) -> dict[str, list[float]]:
        """Columns by quantity."""
        return {
            name: list(column) for name, column in zip(self.names, zip(*self.rows, strict=True), strict=True)
        }

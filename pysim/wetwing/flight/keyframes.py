"""Collecting keyframes: one row of every shown quantity each, turned into columns at the end."""

from wetwing.aircraft.names import FLIGHT_QUANTITIES, TOTALS
from wetwing.flight.facts import source_bar
from wetwing.flight.plant import Flows
from wetwing.flight.world import World
from wetwing.physics.air import FOOT_M, ZERO_CELSIUS_K


class Keyframes:
    """Rows of one flight."""

    def __init__(self, world: World) -> None:
        self.world = world
        self.time_s: list[float] = []
        self.rows: list[list[float]] = []
        aircraft, plant = world.aircraft, world.plant
        tanks = [tank.name for tank in aircraft.tanks]
        self.names = [
            f"{tank}.{q}"
            for q in ("actual_kg", "temperature_c", "gauged_kg", "volume_l", "fill", "rate_kg_h")
            for tank in tanks
        ]
        self.names += [f"{engine.name}.used_kg" for engine in aircraft.engines]
        self.names += [f"total.{q}" for q in TOTALS]
        self.names += [f"{source.name}.flow_kg_h" for source in plant.sources]
        self.names += [f"{source.name}.pressure_bar" for source in plant.sources]
        self.names += [f"{node.name}.pressure_bar" for node in aircraft.nodes]
        self.line_at = [i for i, line in enumerate(plant.lines) if getattr(line, "ends", True)]
        self.names += [f"{plant.lines[i].name}.flow_kg_h" for i in self.line_at]
        movers = (*aircraft.transfers, *aircraft.returns, *aircraft.jet_pumps, *aircraft.vents)
        self.names += [f"{part.name}.flow_kg_h" for part in (*movers, *plant.users)]
        self.names += [f"flight.{q}" for q in FLIGHT_QUANTITIES]
        self.values = [c for c in aircraft.controls if c.quantity]
        self.names += [f"{c.name}.value_{c.quantity.unit}" for c in self.values if c.quantity]
        self.unusable = [tank.unusable_kg for tank in aircraft.tanks]
        self.capacity = [tank.capacity_l for tank in aircraft.tanks]

    def add(self, time_s: float, state: list[float], flows: Flows) -> None:
        """One keyframe; one that says the same as the last is left out."""
        world = self.world
        plant = world.plant
        n = plant.tanks
        gauged = [held - low if held > low else 0.0 for held, low in zip(state, self.unusable, strict=False)]
        volume = [plant.volume_l(i, state) for i in range(n)]
        row = state[: 2 * n]
        row += gauged
        row += volume
        row += [v / c for v, c in zip(volume, self.capacity, strict=True)]
        row += [slope * 3600.0 for slope in flows.slopes[:n]]
        row += state[plant.used_at : plant.burned_at]
        row += [sum(state[:n]), sum(gauged), *state[plant.burned_at :]]
        row += flows.source_kg_h
        row += [source_bar(plant, world.states, world.index, i, flows) for i in range(len(plant.sources))]
        row += flows.node_bar
        row += [flows.line_kg_h[i] for i in self.line_at]
        row += flows.transfer_kg_h
        row += flows.return_kg_h
        row += flows.jet_kg_h
        row += flows.vent_kg_h
        row += flows.user_kg_h
        here = flows.place
        row += [
            here.altitude_m / FOOT_M,
            here.mach,
            here.air_k - ZERO_CELSIUS_K,
            here.skin_c,
            flows.gross_kg,
            time_s,
        ]
        row += [world.facts.values[c.name] for c in self.values]
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

"""What has to hold whatever the figures: energy, symmetry, monotony, and no hold on the clock."""

from dataclasses import replace
from itertools import pairwise

import pytest

import tests.flight.mirrored as mirror
from tests.aircraft.files import alder_text, day_sector_text
from tests.flight.flights import alder, day_sector, edit, flown
from tests.flight.random_scripts import drawn
from wetwing.flight.fly import Flying, fly
from wetwing.flight.plant import Flows, Plant
from wetwing.flight.script import InitialTank, PathPoint, Script, parse_script, with_edits
from wetwing.flight.wiring import Configuration

# -- energy: what the tanks' heat content gains is what comes through skins and with the fuel


class Sampled(Flying):
    """Keeps the state, what flows and what is on after every step."""

    def _advance(self, limit_s: float, cut_s: float) -> None:
        super()._advance(limit_s, cut_s)
        flows = self.plant.flows(self.configuration, self.segment, self.world.time_s, self.world.state)
        self.samples: list[tuple[list[float], Flows, Configuration]]
        self.__dict__.setdefault("samples", []).append((list(self.world.state), flows, self.configuration))


def content_j_kg(celsius: float) -> float:
    """Trapezium under the straight line of the specific heat."""
    low, high = 1895.0, 1895.0 + 4.10 * (celsius - 15.0)
    return 0.5 * (low + high) * (celsius - 15.0)


def gained_w(plant: Plant, state: list[float], flows: Flows) -> float:
    """Chain rule: d(m h(T) + C T)/dt over all tanks."""
    n = plant.tanks
    total = 0.0
    for i, tank in enumerate(plant.aircraft.tanks):
        kg, celsius = state[i], state[n + i]
        capacity = kg * (1895.0 + 4.10 * (celsius - 15.0)) + 1000.0 * tank.structure_kj_k
        total += flows.slopes[i] * content_j_kg(celsius) + capacity * flows.slopes[n + i]
    return total


def brought_w(plant: Plant, state: list[float], flows: Flows, configuration: Configuration) -> float:
    """What comes in less what goes out, each flow with the heat of where it comes from."""
    n, aircraft = plant.tanks, plant.aircraft
    heat = [content_j_kg(celsius) for celsius in state[n : 2 * n]]
    uplifted = content_j_kg(plant.script.uplift_temperature_c)
    total = 0.0
    for i, tank in enumerate(aircraft.tanks):
        fill = min(plant.volume_l(i, state) / tank.capacity_l, 1.0)
        area_w_k = plant.skins[i][0] * (1.0 + fill)
        total += area_w_k * (flows.place.skin_c - state[n + i])
    for component in configuration.components:
        given = [(flows.source_kg_h[s], plant.source_tanks[s]) for s in component.sources]
        forward = [(flow, heat[tank] if tank >= 0 else uplifted) for flow, tank in given if flow > 0.0]
        through = sum(flow for flow, _ in forward)
        mixed = sum(flow * each for flow, each in forward) / through if through > 0.0 else 0.0
        total -= sum(flow * heat[tank] for flow, tank in given if tank >= 0 and flow > 0.0) / 3600.0
        total -= sum(flow * mixed for flow, tank in given if tank >= 0 and flow < 0.0) / 3600.0
        for mouth, line in zip(component.mouths, component.mouth_lines, strict=True):
            if mouth.kind == "tank":
                total += flows.line_kg_h[line] * mixed / 3600.0
            elif mouth.kind == "jet":
                total += flows.fed.motive_kg_h[mouth.index] * mixed / 3600.0
    for i, back in enumerate(aircraft.returns):
        user = plant.user_index[back.engine]
        oil, feed = state[plant.oil_at + i], flows.node_c[plant.user_nodes[user]]
        total += flows.return_kg_h[i] * content_j_kg(feed + 0.9 * (oil - feed)) / 3600.0
    for i, tank in enumerate(aircraft.tanks):
        share = plant.volume_l(i, state) / tank.capacity_l
        leak = configuration.active.tank_leaks[i] if configuration.active.tank_leaks else 0.0
        total -= leak * max(share, 0.0) ** 0.5 * heat[i] / 3600.0
        if configuration.spilling[i] and tank.overflow.to in plant.vent_index:
            total -= flows.spill_kg_h[i] * heat[i] / 3600.0
    for i, vent in enumerate(aircraft.vents):
        if configuration.active.surging[i] == "draining" and vent.drains_to:
            total += vent.drain_kg_h * heat[plant.tank_index[vent.drains_to]] / 3600.0
    return total


@pytest.mark.parametrize("seed", range(6))
def test_the_tanks_gain_the_heat_that_is_brought(seed: int) -> None:
    flight = drawn(seed)
    flying = Sampled(flight.aircraft, flight.script)
    flying.flight()
    assert len(flying.samples) > 50
    for state, flows, configuration in flying.samples:
        gained = gained_w(flying.plant, state, flows)
        brought = brought_w(flying.plant, state, flows, configuration)
        # Watts: of megawatts that refuelling brings, the network's last bits.
        assert gained == pytest.approx(brought, rel=1e-7, abs=0.5)


# -- symmetry


def tilted(script: Script, roll_deg: float) -> Script:
    """With a wing low for half an hour of the cruise, so that left and right don't fill alike."""
    level, low = (PathPoint(t, 35000.0, 0.78, ground=False) for t in (9000.0, 10800.0))
    path = sorted([*script.path, level, replace(low, roll_deg=roll_deg)], key=lambda point: point.time_s)
    return replace(script, path=tuple(path))


MIRRORED = (
    (),
    ("2:00:00 main-left=leak 1500", "3:00:00 cross-feed=open"),
    ("1:30:00 main-right-forward=failed", "1:40:00 centre-left=off"),
)


@pytest.mark.parametrize("edits", MIRRORED)
def test_a_mirrored_aircraft_flies_the_mirrored_flight(edits: tuple[str, ...]) -> None:
    script = with_edits(day_sector(), tuple(edit(text) for text in edits), alder())
    flight = fly(alder(), tilted(script, 6.0))
    craft = mirror.aircraft(alder_text())
    turned = mirror.script(day_sector_text(), craft)
    turned = with_edits(turned, tuple(edit(mirror.name(text)) for text in edits), craft)
    image = fly(craft, tilted(turned, -6.0))
    assert craft.tanks[0].outline_m[0][1] == -alder().tanks[0].outline_m[0][1]
    assert [mirror.name(c.part) for c in flight.changes] == [c.part for c in image.changes]
    assert [c.after for c in flight.changes] == [c.after for c in image.changes]
    assert [c.time_s for c in image.changes] == pytest.approx([c.time_s for c in flight.changes], abs=1e-5)
    assert image.time_s == pytest.approx(flight.time_s, abs=1e-5)
    for name, column in flight.quantities.items():
        turn = -1.0 if name in ("total.imbalance_kg", "flight.roll_deg") else 1.0
        found = [turn * value for value in image.quantities[mirror.name(name)]]
        assert found == pytest.approx(column, rel=1e-6, abs=2e-4), name
    assert max(abs(value) for value in flight.quantities["total.imbalance_kg"]) > 100.0


# -- more fuel


def test_more_fuel_never_runs_out_sooner() -> None:
    lasted = []
    for kg in range(6000, 15001, 1500):
        script = with_edits(day_sector(), (edit(f"0:03:00 preselect={kg}"),), alder())
        flight = fly(alder(), script)
        assert flight.ended is not None
        assert flight.ended.name == "fuel-exhausted"
        lasted.append(flight.duration_s)
    assert all(b > a + 300.0 for a, b in pairwise(lasted)), lasted


# -- the clock


def settled(script: Script) -> Script:
    """As it is found when all has stood in the air's own temperature for long."""
    celsius = 15.0 + script.deviation_k
    tanks = {name: InitialTank(tank.actual_kg, celsius) for name, tank in script.tanks.items()}
    return replace(script, tanks=tanks)


def later(script: Script, by_s: float) -> Script:
    """The same flight after a wait."""

    def moved(time_s: float | None) -> float | None:
        return None if time_s is None else time_s + by_s

    actions = tuple(replace(action, at_s=moved(action.at_s)) for action in script.actions)
    phases = tuple(
        replace(phase, start_s=phase.start_s + by_s if phase.start_s else 0.0) for phase in script.phases
    )
    path = tuple(replace(point, time_s=point.time_s + by_s) for point in script.path)
    return replace(
        script, actions=actions, phases=phases, path=(script.path[0], *path), ends_s=script.ends_s + by_s
    )


def test_an_hour_on_the_stand_shifts_a_flight_and_changes_nothing_else() -> None:
    script = settled(day_sector())
    flight = fly(alder(), script)
    waited = fly(alder(), later(script, 3600.0))
    assert [(c.part, c.after) for c in waited.changes] == [(c.part, c.after) for c in flight.changes]
    for change, shifted in zip(flight.changes, waited.changes, strict=True):
        assert shifted.time_s - 3600.0 == pytest.approx(change.time_s, abs=0.02), change
    for name in ("main-left.actual_kg", "centre.actual_kg", "total.burned_kg", "outboard-right.actual_kg"):
        for time_s in range(0, int(flight.duration_s), 600):
            assert waited.quantity(name, time_s + 3600.0) == pytest.approx(
                flight.quantity(name, time_s), abs=1.5
            ), (name, time_s)


def test_words_change_no_number() -> None:
    text = day_sector_text().replace('title = "Day sector"', 'title = "Another"', 1)
    other = fly(alder(), parse_script(text, "day.toml", alder()))
    assert other.script.title == "Another"
    assert other.quantities == flown().quantities


# -- the shortcut: within a step only the slopes are asked, and what no tank feels is left out


class BothWays(Flying):
    """Works out the slopes of a step in both ways, and keeps where they are furthest apart."""

    apart = 0.0
    asked = 0

    def _slopes(self, time_s: float, state: list[float]) -> list[float]:
        short = super()._slopes(time_s, state)
        whole = self.plant.flows(self.configuration, self.segment, time_s, state).slopes
        self.apart = max(self.apart, *(abs(a - b) for a, b in zip(short, whole, strict=True)))
        self.asked += 1
        return short


# A weak centre pump shares with a main tank's; suction, cross-feed, a check valve that lets fuel back.
SHORTCUTS = [
    (),
    ("1:20:42 centre-left=low output 0.7",),
    ("1:20:42 centre-left=low output 0.72", "1:40:00 centre-right=low output 0.705"),
    ("2:00:00 cross-feed=open", "3:00:00 main-left-forward=failed", "3:00:00 main-left-aft=failed"),
    ("1:20:00 centre-left=check valve stuck open", "1:40:00 centre-left=off"),
]


@pytest.mark.parametrize("texts", SHORTCUTS)
def test_the_slopes_of_a_step_are_those_of_all_that_flows(texts: tuple[str, ...]) -> None:
    flying = BothWays(alder(), with_edits(day_sector(), tuple(edit(text) for text in texts), alder()))
    flying.flight()
    assert flying.asked > 1000
    assert flying.apart < 1e-9


# -- no hold on the order of a file


def test_the_order_in_which_tanks_are_named_changes_nothing() -> None:
    first = next(i for i, tank in enumerate(alder().tanks) if tank.name == "main-right")
    turned = replace(alder(), tanks=(*alder().tanks[first:], *alder().tanks[:first]))
    plain, other = flown(), fly(turned, day_sector())
    # Sums are made in another order, so the last bits differ.
    assert other.duration_s == plain.duration_s
    told = [
        sorted((c.part, c.after, round(c.time_s, 3)) for c in flight.changes) for flight in (plain, other)
    ]
    assert [row[:2] for row in told[0]] == [row[:2] for row in told[1]]
    assert max(abs(a[2] - b[2]) for a, b in zip(*told, strict=True)) < 0.01
    within = [f"{tank.name}.{name}" for tank in alder().tanks for name in ("actual_kg", "temperature_c")]
    for time_s in range(0, int(plain.duration_s), 600):
        for name in within:
            assert other.quantity(name, time_s) == pytest.approx(plain.quantity(name, time_s), abs=0.01), name
        for node in alder().nodes:
            name = f"{node.name}.pressure_bar"
            assert other.quantity(name, time_s) == pytest.approx(plain.quantity(name, time_s), abs=1e-4), name

"""How each quantity that a condition or a keyframe may speak of is read from a flight in the making."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from wetwing.aircraft.model import Filter
from wetwing.flight.plant import Flows, Plant
from wetwing.physics.air import FOOT_M, ZERO_CELSIUS_K, recovery_temperature_k
from wetwing.physics.balance import (
    arm_of_percent_m,
    centre_of_gravity_m,
    percent_mac,
    root_bending_n_m,
)
from wetwing.physics.flammability import HIGHEST_FT, lower_limit_c
from wetwing.physics.fuel import density_kg_m3
from wetwing.physics.outline import centroid_m
from wetwing.physics.suction import lowest_inlet_bar
from wetwing.physics.vapour import vapour_pressure_bar

if TYPE_CHECKING:
    from wetwing.flight.facts import Facts

Reader = Callable[[float, list[float], Flows], float]

DRY_SHARE = 0.06
"""Of its shut-off pressure, what a pump that draws air still shows: a mixture of air and fuel has hardly any
weight to throw.
"""

BLOCKED_BAR_H_T = 1e6
NO_FLOW = ("off", "stopped by automatics", "failed", "no power")


def read_quantity(facts: "Facts", quantity: str) -> tuple[Reader, bool]:
    """A quantity's reader, and whether it needs the flows. Raises KeyError for an unknown quantity."""
    subject, _, attribute = quantity.partition(".")
    plant = facts.plant
    if subject in plant.tank_index:
        return _tank(plant, plant.tank_index[subject], attribute)
    if subject == "total":
        return _total(facts, attribute), False
    if subject == "flight":
        return _flight(plant, attribute)
    if subject in plant.node_index:
        node = plant.node_index[subject]
        return lambda t, y, f: f.node_bar[node], True
    if subject in plant.user_index:
        return _user(plant, plant.user_index[subject], attribute)
    if subject in plant.source_index:
        source = plant.source_index[subject]
        if attribute == "flow_kg_h":
            return lambda t, y, f: f.source_kg_h[source], True
        return lambda t, y, f: source_bar(plant, facts.states, facts.index, source, f), True
    if attribute.startswith("value_"):
        values = facts.values
        return lambda t, y, f: values[subject], False
    if attribute == "oil_c":
        at = plant.oil_at + [line.name for line in plant.aircraft.returns].index(subject)
        return lambda t, y, f: y[at], False
    if attribute == "surge_kg":
        at = plant.surge_at + plant.vent_index[subject]
        return lambda t, y, f: y[at], False
    if attribute == "differential_bar":
        return lambda t, y, f: differential_bar(plant, subject, t, f), True
    return _mover(plant, subject), True


def _tank(plant: Plant, tank: int, attribute: str) -> tuple[Reader, bool]:
    part = plant.aircraft.tanks[tank]
    n = plant.tanks
    if attribute == "actual_kg":
        return lambda t, y, f: y[tank], False
    if attribute == "gauged_kg":
        gauging = plant.gauging
        return lambda t, y, f: gauging.gauged_kg(tank, t, y, plant.posture), False
    if attribute == "temperature_c":
        return lambda t, y, f: y[n + tank], False
    if attribute == "freezing_margin_c":
        freezing_c = plant.script.freezing_c
        return lambda t, y, f: y[n + tank] - freezing_c, False
    if attribute == "air_share":
        at = plant.air_at + tank
        return lambda t, y, f: y[at], False
    if attribute == "volume_l":
        return lambda t, y, f: plant.volume_l(tank, y), False
    if attribute == "fill":
        capacity = part.capacity_l
        return lambda t, y, f: plant.volume_l(tank, y) / capacity, False
    return lambda t, y, f: f.slopes[tank] * 3600.0, True


def _total(facts: "Facts", attribute: str) -> Reader:
    plant = facts.plant
    n = plant.tanks
    gauging = plant.gauging

    def gauged(t: float, y: list[float], f: Flows) -> float:
        return gauging.total_kg(t, y, plant.posture)

    def computed(t: float, y: list[float], f: Flows) -> float:
        if not facts.departed:
            return gauged(t, y, f)
        used_kg = y[plant.metered_at] - facts.departure_metered_kg
        # The outlets have meters: what leaves by them was let go, and is known.
        return facts.departure_kg - used_kg - (y[plant.discharged_at] - facts.departure_discharged_kg)

    if attribute == "gauged_kg":
        return gauged
    if attribute == "computed_kg":
        return computed
    if attribute == "discrepancy_kg":
        return lambda t, y, f: computed(t, y, f) - gauged(t, y, f) if facts.departed else 0.0
    if attribute == "imbalance_kg":
        sides = [{"left": -1.0, "right": 1.0}.get(tank.side, 0.0) for tank in plant.aircraft.tanks]
        wings = [(i, sign) for i, sign in enumerate(sides) if sign != 0.0]

        def imbalance(t: float, y: list[float], f: Flows) -> float:
            return sum([sign * gauging.gauged_kg(i, t, y, plant.posture) for i, sign in wings])

        return imbalance
    if attribute == "on_board_kg":
        surge = slice(plant.surge_at, plant.used_at)
        return lambda t, y, f: sum(y[:n]) + sum(y[surge])
    if attribute == "uplifted_l":
        script = plant.script
        litres = 1000.0 / density_kg_m3(script.density_15c_kg_m3, script.uplift_temperature_c)
        return lambda t, y, f: y[plant.uplifted_at] * litres
    at = {
        "burned_kg": plant.burned_at,
        "uplifted_kg": plant.uplifted_at,
        "vented_kg": plant.vented_at,
        "leaked_kg": plant.leaked_at,
        "discharged_kg": plant.discharged_at,
        "metered_kg": plant.metered_at,
    }[attribute]
    return lambda t, y, f: y[at]


def _flight(plant: Plant, attribute: str) -> tuple[Reader, bool]:
    if attribute == "cg_percent":
        return _cg_percent(plant), False
    if attribute == "root_bending_kn_m":
        return _root_bending_kn_m(plant), False
    readers: dict[str, Reader] = {
        "altitude_ft": lambda t, y, f: f.place.altitude_m / FOOT_M,
        "mach": lambda t, y, f: f.place.mach,
        "air_temperature_c": lambda t, y, f: f.place.air_k - ZERO_CELSIUS_K,
        "total_temperature_c": lambda t, y, f: (
            recovery_temperature_k(f.place.air_k, f.place.mach, 1.0) - ZERO_CELSIUS_K
        ),
        "skin_temperature_c": lambda t, y, f: f.place.skin_c,
        "gross_kg": lambda t, y, f: f.gross_kg,
        "flammable_above_c": lambda t, y, f: lower_limit_c(min(f.place.altitude_m, HIGHEST_FT * FOOT_M)),
        "pitch_deg": lambda t, y, f: plant.posture.pitch_deg,
        "roll_deg": lambda t, y, f: plant.posture.roll_deg,
        "time_s": lambda t, y, f: t,
    }
    return readers[attribute], attribute != "time_s"


def _cg_percent(plant: Plant) -> Reader:
    balance, script = plant.aircraft.balance, plant.script
    zero_m = arm_of_percent_m(script.zero_fuel_cg_percent, balance.mac_m, balance.lemac_m)
    arms = [centroid_m(tank.outline_m)[0] for tank in plant.aircraft.tanks]
    n = plant.tanks

    def cg(t: float, y: list[float], f: Flows) -> float:
        fuel = [(kg if kg > 0.0 else 0.0, arm) for kg, arm in zip(y[:n], arms, strict=True)]
        arm_m = centre_of_gravity_m([(script.zero_fuel_kg, zero_m), *fuel])
        return percent_mac(arm_m, balance.mac_m, balance.lemac_m)

    return cg


def _root_bending_kn_m(plant: Plant) -> Reader:
    # The wing of the mean: each side's fuel counts half, so that an imbalance does not hide in one of them.
    lift_arm_m = plant.aircraft.balance.lift_arm_m
    zero_kg = plant.script.zero_fuel_kg
    wings = [
        (i, abs(centroid_m(tank.outline_m)[1]))
        for i, tank in enumerate(plant.aircraft.tanks)
        if tank.side != "centre"
    ]
    n = plant.tanks

    def bending(t: float, y: list[float], f: Flows) -> float:
        fuel = [(0.5 * y[i] if y[i] > 0.0 else 0.0, arm) for i, arm in wings]
        return root_bending_n_m(zero_kg + sum(y[:n]), fuel, lift_arm_m) / 1000.0

    return bending


def _user(plant: Plant, user: int, attribute: str) -> tuple[Reader, bool]:
    if attribute == "used_kg":
        used = plant.used_at + user
        return lambda t, y, f: y[used], False
    if attribute == "metered_kg_h":
        return lambda t, y, f: f.metered_kg_h[user], True
    if attribute == "inlet_margin_bar":
        return lambda t, y, f: inlet_margin_bar(plant, user, t, f), True
    return lambda t, y, f: f.user_kg_h[user], True


def _mover(plant: Plant, subject: str) -> Reader:
    lines = {part.name: i for i, part in enumerate(plant.lines)}
    if subject in lines:
        line = lines[subject]
        return lambda t, y, f: f.line_kg_h[line]
    if subject in plant.vent_index:
        vent = plant.vent_index[subject]
        return lambda t, y, f: f.vent_kg_h[vent]
    outlets = {outlet.name: i for i, outlet in enumerate(plant.aircraft.outlets)}
    if subject in outlets:
        outlet = outlets[subject]
        return lambda t, y, f: f.outlet_kg_h[outlet]
    movers = {t.name: (i, "transfer") for i, (_, _, t) in enumerate(plant.transfers)}
    movers |= {r.name: (i, "return") for i, (_, _, r) in enumerate(plant.returns)}
    movers |= {j.name: (i, "jet") for i, (_, _, _, j) in enumerate(plant.jets)}
    at, kind = movers[subject]
    if kind == "transfer":
        return lambda t, y, f: f.transfer_kg_h[at]
    if kind == "return":
        return lambda t, y, f: f.return_kg_h[at]
    return lambda t, y, f: f.jet_kg_h[at]


def source_bar(plant: Plant, states: list[str], index: dict[str, int], source: int, flows: Flows) -> float:
    """Pressure that a pump, bypass or supply gives at its outlet, before its check valve, bar."""
    part = plant.sources[source]
    state = states[index[part.name]]
    if state == "dry":
        return DRY_SHARE * part.shut_off_bar
    if state in NO_FLOW:
        return 0.0
    flow_t_h = flows.source_kg_h[source] / 1000.0
    head = flows.fed.source_head_bar[source] or part.shut_off_bar
    linear = part.linear_bar_h_t * flows.fed.node_thickness[plant.source_nodes[source]]
    return head - (linear + part.square_bar_h2_t2 * abs(flow_t_h)) * flow_t_h


def _filter_loss_bar(plant: Plant, part: Filter, time_s: float, flows: Flows) -> float:
    """What a filter would take if no fuel passed round it: its own resistance, dirt and ice, by flow."""
    user = plant.user_index[part.user]
    node = plant.user_nodes[user]
    flow_t_h = flows.drawn_kg_h[user] / 1000.0
    celsius = min(max(flows.node_c[node], -60.0), 120.0)
    faults = plant.faults
    if part.name in faults.blocked:
        linear = BLOCKED_BAR_H_T
    else:
        linear = part.linear_bar_h_t * flows.fed.node_thickness[node] + faults.added_bar_h_t(
            part.name, time_s
        )
        linear += ice_bar_h_t(flows.fed.node_water_l[node], celsius)
    return (linear + part.square_bar_h2_t2 * flow_t_h) * flow_t_h


def ice_bar_h_t(water_l: float, temperature_c: float) -> float:
    """What ice adds to a filter's resistance: none above 0 °C, all of it at -10 °C and below.

    Water in the fuel freezes into crystals that stick to the filter. 40 L of water add 1.2 bar at 1 t/h: a
    parameterisation of this project, on public reports that crystals stick from 0 to -20 °C.
    """
    if water_l <= 0.0 or temperature_c >= 0.0:
        return 0.0
    share = -temperature_c / 10.0 if temperature_c > -10.0 else 1.0
    return 1.2 * share * water_l / 40.0


def differential_bar(plant: Plant, name: str, time_s: float, flows: Flows) -> float:
    """Pressure that a filter takes, bar; not more than that at which fuel passes round it."""
    part = plant.filters[name]
    return min(_filter_loss_bar(plant, part, time_s, flows), part.bypass_bar)


def over_bypass_bar(plant: Plant, name: str, time_s: float, flows: Flows) -> float:
    """By how much a filter would take more than its bypass lets it, bar."""
    part = plant.filters[name]
    return _filter_loss_bar(plant, part, time_s, flows) - part.bypass_bar


def inlet_margin_bar(plant: Plant, user: int, time_s: float, flows: Flows) -> float:
    """What is left, at the inlet of an engine's own pump, above the pressure at which gas starves it.

    Ambient pressure and the manifold's, less the losses of line and filter, less the lowest inlet pressure of
    the fuel that comes: its vapour pressure and what of its dissolved air comes out (`physics/suction.py`).
    `time_s` is that of the flows.
    """
    found = flows.inlet_margins_bar.get(user)
    if found is None:
        found = flows.inlet_margins_bar[user] = _inlet_margin_bar(plant, user, time_s, flows)
    return found


def _inlet_margin_bar(plant: Plant, user: int, time_s: float, flows: Flows) -> float:
    part = plant.users[user]
    node = plant.user_nodes[user]
    flow_t_h = flows.drawn_kg_h[user] / 1000.0
    celsius = min(max(flows.node_c[node], -60.0), 120.0)
    loss = part.line_linear_bar_h_t * flows.fed.node_thickness[node] * flow_t_h
    loss += part.line_square_bar_h2_t2 * flow_t_h * flow_t_h
    for each in plant.filters.values():
        if each.user == part.name:
            loss += differential_bar(plant, each.name, time_s, flows)
    vapour = vapour_pressure_bar(celsius, plant.script.light_ends)
    air = min(max(flows.node_air[node], 0.0), 1.2)
    need = lowest_inlet_bar(vapour, air, gas_limit=part.inlet_gas_share)
    return flows.place.ambient_bar + flows.node_bar[node] - loss - need

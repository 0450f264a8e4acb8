"""Checks of a whole aircraft: conditions speak of what is there, rules do not chase each other, numbers fit
together.
"""

from collections.abc import Iterator

from wetwing.aircraft.condition import Condition, Is, check
from wetwing.aircraft.contradictions import check_can_hold, check_ends
from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.names import quantities, states
from wetwing.aircraft.told_figures import check_told_figures


def conditions(aircraft: Aircraft) -> Iterator[tuple[str, str, Condition]]:
    """Every condition of an aircraft as (part, key, condition), in the file's order."""
    for pump in (*aircraft.pumps, *aircraft.supplies):
        if pump.runs_when:
            yield pump.name, "runs_when", pump.runs_when
    for jet in aircraft.jet_pumps:
        if jet.runs_when:
            yield jet.name, "runs_when", jet.runs_when
    for valve in aircraft.valves:
        if valve.opens_when:
            yield valve.name, "opens_when", valve.opens_when
    for user in (*aircraft.engines, *aircraft.apus):
        yield user.name, "runs_when", user.runs_when
    for bus in aircraft.buses:
        yield bus.name, "powered_when", bus.powered_when
    for display in aircraft.displays:
        yield display.name, "shown_when", display.shown_when
    for rule in aircraft.rules:
        yield rule.name, "starts", rule.starts
        if rule.ends:
            yield rule.name, "ends", rule.ends
    for condition, _ in aircraft.airframe.extra_drag:
        yield "airframe", "extra_drag", condition
    for condition, _ in aircraft.airframe.bleed:
        yield "airframe", "bleed", condition
    for alert in aircraft.alerts:
        yield alert.name, "when", alert.when


def check_aircraft(aircraft: Aircraft, file: str) -> None:
    """Raise Mistake for the first thing that does not hold together."""
    known_states = states(aircraft)
    known_quantities = quantities(aircraft)
    for part, key, condition in conditions(aircraft):
        place = f"{file}: {part}.{key}"
        check(condition, place, known_states, known_quantities)
        for leaf in condition.leaves():
            if not isinstance(leaf, Is) and leaf.change and key != "ends":
                raise Mistake(
                    place,
                    f"{leaf.change}({leaf.left})",
                    "only in a rule's ends: it counts from when the rule became active",
                )
            if not isinstance(leaf, Is) and key in ("extra_drag", "bleed"):
                raise Mistake(place, f"'{condition.text}'", "states of parts only")
        check_can_hold(condition, place)
    for rule in aircraft.rules:
        if rule.ends:
            check_ends(rule.starts, rule.ends, f"{file}: {rule.name}.ends")
    _check_loops(aircraft, file)
    _check_tanks(aircraft, file)
    _check_lines(aircraft, file)
    check_told_figures(aircraft, file)


def _check_loops(aircraft: Aircraft, file: str) -> None:
    # A rule that waits on itself through other rules or its power has no defined answer at one instant. Loops
    # through pumps, valves and levels are legitimate feedback: they take time, and `fly` refuses those that
    # do not.
    sources: dict[str, tuple[Condition | None, ...]] = {
        rule.name: (rule.starts, rule.ends) for rule in aircraft.rules
    }
    sources |= {bus.name: (bus.powered_when,) for bus in aircraft.buses}
    power = {rule.name: rule.bus for rule in aircraft.rules}
    needs = {
        name: [
            leaf.part
            for condition in found
            if condition
            for leaf in condition.leaves()
            if isinstance(leaf, Is) and leaf.part in sources
        ]
        + [bus for bus in (power.get(name),) if bus]
        for name, found in sources.items()
    }
    done: set[str] = set()

    def visit(name: str, trail: tuple[str, ...]) -> None:
        if name in trail:
            round_trip = (*trail[trail.index(name) :], name)
            loop = " → ".join(round_trip)
            among = {"rules" if each in power else "buses" for each in round_trip}
            place = f"{file}: {'rules' if name in power else 'buses'}.{name}"
            what = " and ".join(sorted(among))
            raise Mistake(place, f"a loop of {what}: {loop}", f"{what} that do not wait on themselves")
        if name in done:
            return
        for other in needs[name]:
            visit(other, (*trail, name))
        done.add(name)

    for name in sources:
        visit(name, ())


def _check_tanks(aircraft: Aircraft, file: str) -> None:
    tanks = {tank.name: tank for tank in aircraft.tanks}
    for tank in aircraft.tanks:
        trail = [tank.name]
        while trail[-1] in tanks:
            to = tanks[trail[-1]].overflow.to
            if to in trail:
                loop = " → ".join((*trail, to))
                raise Mistake(
                    f"{file}: tanks.{tank.name}.overflows.to",
                    f"a loop of overflows: {loop}",
                    "a chain that ends at a vent",
                )
            trail.append(to)
    levels: list[tuple[str, str, float]] = [
        *((f"sensors.{sensor.name}.wet_at_l", sensor.tank, sensor.wet_at_l) for sensor in aircraft.sensors),
        *((f"pumps.{p.name}.recovers_l", p.tank, p.recovers_l) for p in aircraft.pumps if p.tank),
        *((f"bypasses.{p.name}.recovers_l", p.tank, p.recovers_l) for p in aircraft.bypasses if p.tank),
        *((f"jet-pumps.{jet.name}.recovers_l", jet.from_tank, jet.recovers_l) for jet in aircraft.jet_pumps),
    ]
    for key, tank_name, level_l in levels:
        capacity_l = tanks[tank_name].capacity_l
        if level_l > capacity_l:
            raise Mistake(
                f"{file}: {key}",
                f"{level_l:g} L",
                f"at most the tank's capacity, {capacity_l:g} L",
                f"{capacity_l:g} L",
            )


def _check_lines(aircraft: Aircraft, file: str) -> None:
    users = (*aircraft.engines, *aircraft.apus)
    held = [user.valve for user in users]
    held += [transfer.valve for transfer in aircraft.transfers if transfer.valve]
    held += [line.valve for line in aircraft.returns]
    by_name = {valve.name: valve for valve in aircraft.valves}
    for name in held:
        if by_name[name].ends:
            raise Mistake(
                f"{file}: valves.{name}.between",
                f"{name} also stands in another part's line",
                "no between on such a valve",
            )
        if held.count(name) > 1:
            raise Mistake(f"{file}: valves.{name}", "held by two parts", "one part a valve")
    for valve in aircraft.valves:
        if not valve.ends and valve.name not in held:
            raise Mistake(
                f"{file}: valves.{valve.name}",
                "stands in no line",
                "between, or a part that names it as its valve",
            )
    reached = {end for valve in aircraft.valves if valve.ends for end in valve.ends}
    for outlet in aircraft.outlets:
        if outlet.name not in reached:
            raise Mistake(
                f"{file}: outlets.{outlet.name}", "no valve leads to it", "a valve with it as its second end"
            )

"""What physics does to the parts' states: levels reach sensors, pick-ups uncover, check valves shut, tanks
spill, engines starve.

The watches and the states are two uses of the same comparisons, so an event that was found is an event that
is acted on.
"""

from collections.abc import Callable
from dataclasses import replace

from wetwing.flight.automation import Automation
from wetwing.flight.facts import Test, Watch
from wetwing.flight.feeding import Feeding
from wetwing.flight.mouths import DRY, FULL, mouth_watches, next_mouth
from wetwing.flight.moving import PASSING_KG_H, Moving
from wetwing.flight.phrases import inner, mark
from wetwing.flight.readers import inlet_margin_bar, over_bypass_bar
from wetwing.flight.record import Reason
from wetwing.flight.sensing import Sensing
from wetwing.flight.vents import Vents
from wetwing.flight.watches import (
    bypasses,
    falls_in,
    falls_to,
    flap_opens,
    flap_shuts,
    flows_back,
    gain_kg_s,
    gains,
    opens,
    pushes_out,
    rises_to,
    spill_ends,
    starves,
    volume_falls_to,
    volume_rises_to,
)
from wetwing.flight.wiring import Active, Configuration
from wetwing.flight.world import NEVER, World

FILM_KG = 60.0
"""What freezes in a tank that is as good as empty stops nothing."""

EMPTY_KG = 0.5
LEAK_RECOVERS_KG = 10.0
"""A leak takes a tank down to a film that no hole drains, and begins again when so much more has come in."""

RUNNING = ("delivering", "running, held back", "running, nothing drawn")


class Happenings:
    """Physics' own changes of one flight."""

    def __init__(
        self, world: World, automation: Automation, configuration: Callable[[], Configuration]
    ) -> None:
        self.world = world
        self.automation = automation
        self.configuration = configuration
        self.feeding = Feeding(world, automation, configuration)
        plant = world.plant
        state = world.state
        self.mouths = [
            FULL if state[a] > self._mouth_kg(i) else DRY for i, (a, _, _) in enumerate(plant.transfers)
        ]
        self.leak_covered = [state[i] > EMPTY_KG for i in range(plant.tanks)]
        self.jet_covered = [
            plant.volume_l(a, state) > plant.posture.jet_stops_l[i]
            for i, (a, _, _, _) in enumerate(plant.jets)
        ]
        airframe = world.aircraft.airframe
        self.drag_tests = [world.facts.test(condition) for condition, _ in airframe.extra_drag]
        self.bleed_tests = [world.facts.test(condition) for condition, _ in airframe.bleed]
        self.moving = Moving(world, automation, self.jet_covered)
        self.sensing = Sensing(world, automation)
        self.vents = Vents(world)

    def _mouth_kg(self, i: int) -> float:
        # A gravity pipe leaves what lies below its mouth: the tank's unusable fuel.
        return self.world.aircraft.tanks[self.world.plant.transfers[i][0]].unusable_kg

    # -- what is on

    def active(self) -> Active:
        """What the configuration depends on."""
        world = self.world
        plant = world.plant
        states, index = world.states, world.index
        aircraft = world.aircraft

        faults = plant.faults

        def passes(valve: str | None) -> bool:
            return valve is None or states[index[valve]] != "shut"

        def hold(tests: list[Test]) -> tuple[bool, ...]:
            return tuple([test.holds(world.time_s, world.state, world.flows) for test in tests])

        sources = range(len(plant.sources))
        active = Active(
            sources=tuple([self.feeding.branches(i) for i in sources]),
            valves=tuple([states[index[valve.name]] for valve in aircraft.valves]),
            users=tuple([states[index[user.name]] for user in plant.users]),
            returns=tuple(
                [passes(r.valve) and states[index[r.engine]] == "running" for _, _, r in plant.returns]
            ),
            transfers=tuple(
                [
                    self.mouths[i] if passes(t.valve) and self.mouths[i] != DRY else ""
                    for i, (_, _, t) in enumerate(plant.transfers)
                ]
            ),
            jets=tuple(
                [
                    self.automation.permits[j.name]
                    and self.jet_covered[i]
                    and states[index[j.motive]] in RUNNING
                    and faults.jet_shares[i] > 0.0
                    for i, (_, _, _, j) in enumerate(plant.jets)
                ]
            ),
            spilling=tuple([states[index[tank.name]] == "spilling" for tank in aircraft.tanks]),
            surging=self.vents.surging(),
            extra_drag=hold(self.drag_tests),
            bleed=hold(self.bleed_tests),
        )
        if not faults.any:
            return active
        filling = any(states[index[supply.name]] == "delivering" for supply in aircraft.supplies)
        return replace(
            active,
            drag_share=faults.drag_share,
            checks=self.feeding.checks(),
            line_checks=tuple(faults.line_checks),
            shares=tuple(faults.shares),
            tank_leaks=tuple(
                [kg_h if self.leak_covered[i] else 0.0 for i, kg_h in enumerate(faults.tank_leaks)]
            ),
            node_leaks=tuple(faults.node_leaks),
            early_leaks=tuple(faults.early_leaks),
            late_leaks=tuple(faults.late_leaks),
            jet_shares=tuple(faults.jet_shares),
            # A tank that is being filled pushes its air out; one that is drawn on sucks air in.
            vents_blocked=tuple([blocked and not filling for blocked in faults.vents]),
        )

    # -- detecting

    def watches(self) -> list[Watch]:
        """Every comparison whose turning is an event of physics."""
        world = self.world
        plant = world.plant
        found: list[Watch] = []
        posture, faults = plant.posture, plant.faults
        for i, tank in enumerate(plant.source_tanks):
            if tank >= 0:
                found.append(
                    volume_falls_to(plant, tank, posture.uncovers_l[i])
                    if self.feeding.covered[i]
                    else volume_rises_to(plant, tank, posture.recovers_l[i])
                )
        for i, (a, _, transfer) in enumerate(plant.transfers):
            mouth = self.mouths[i]
            found += mouth_watches(mouth, a, self._mouth_kg(i))
            if mouth != DRY and not (transfer.valve and world.is_in(transfer.valve, "shut")):
                flowing = world.is_in(transfer.name, "flowing")
                found.append(flap_shuts(plant, i) if flowing else flap_opens(plant, i))
        for i, (a, _, _, _) in enumerate(plant.jets):
            found.append(
                volume_falls_to(plant, a, posture.jet_stops_l[i])
                if self.jet_covered[i]
                else volume_rises_to(plant, a, posture.jet_recovers_l[i])
            )
        found += self.sensing.watches()
        for i, leak in enumerate(faults.tank_leaks):
            if leak > 0.0:
                covered = self.leak_covered[i]
                found.append(falls_to(i, EMPTY_KG) if covered else rises_to(i, EMPTY_KG + LEAK_RECOVERS_KG))
        for i, part in enumerate(world.aircraft.tanks):
            holding = world.is_in(part.name, "holding")
            if not holding:
                found.append(spill_ends(i))
            elif plant.volume_l(i, world.state) >= part.overflow.at_l:
                # Full, but losing: it spills when it begins to gain, which its volume alone does not tell.
                found.append(gains(plant, i, part.overflow.at_l))
            else:
                found.append(volume_rises_to(plant, i, part.overflow.at_l))
        for i in range(plant.tanks):
            found.append(falls_in(plant.tanks + i, world.script.freezing_c))
        found += self.vents.watches()
        for i, source in enumerate(plant.sources):
            if self.feeding.branches(i):
                found.append(opens(i, plant.node_index[source.node]))
                if faults.checks[i] == "open":
                    found.append(flows_back(i))
        for component in self.configuration().components:
            found += [pushes_out(component.nodes[k]) for k in component.mouth_nodes]
        for i, user in enumerate(plant.users):
            if world.is_in(user.name, "starting", "running"):
                found.append(starves(plant, i))
        for each in world.aircraft.filters:
            found.append(bypasses(plant, each.name))
        return found

    def frozen(self) -> list[bool]:
        """Which tanks have come to their fuel's freezing point with enough in them to matter."""
        state, n = self.world.state, self.world.plant.tanks
        freezing_c = self.world.script.freezing_c
        return [state[n + i] <= freezing_c and state[i] > FILM_KG for i in range(n)]

    # -- acting

    def cover(self) -> None:
        """Pick-ups and mouths uncover and cover again, surge spaces begin and stop draining: before the
        network is made, since what is dry gives nothing.
        """
        world = self.world
        state = world.state
        self.feeding.cover()
        self.vents.cover()
        for i, (a, _, _) in enumerate(world.plant.transfers):
            self.mouths[i] = next_mouth(self.mouths[i], state[a] - self._mouth_kg(i))
        for i, covered in enumerate(self.leak_covered):
            self.leak_covered[i] = state[i] > EMPTY_KG if covered else state[i] >= EMPTY_KG + LEAK_RECOVERS_KG
        plant = world.plant
        for i, (a, _, _, _) in enumerate(plant.jets):
            held_l = plant.volume_l(a, state)
            self.jet_covered[i] = (
                held_l > plant.posture.jet_stops_l[i]
                if self.jet_covered[i]
                else held_l >= plant.posture.jet_recovers_l[i]
            )

    def act(self) -> None:
        """Put every part into the state that physics gives it, once, in a fixed order."""
        self._sources()
        self._nodes()
        self._lines()
        self.moving.act()
        self._tanks()
        self.vents.act()
        self.sensing.act()
        self._filters()
        self._users()

    def _sources(self) -> None:
        world = self.world
        turned = [(i, self.feeding.state(i)) for i, source in enumerate(world.plant.sources)]
        turned = [(i, after) for i, after in turned if not world.is_in(world.plant.sources[i].name, after)]
        # Whoever has just been switched or run dry comes first: what follows from it can point at it.
        turned.sort(
            key=lambda pair: (
                world.plant.sources[pair[0]].name not in self.automation.acted_by,
                pair[1] != "dry",
            )
        )
        for i, after in turned:
            name = world.plant.sources[i].name
            acted = self.automation.acted_by.pop(name, None)
            world.change(name, after, self.feeding.reason(i, after, acted))
        self.automation.acted_by = {
            name: reason
            for name, reason in self.automation.acted_by.items()
            if world.aircraft.parts[name].kind == "jet-pump"
        }

    def _nodes(self) -> None:
        world = self.world
        for i, node in enumerate(world.aircraft.nodes):
            after = "fed" if world.flows.node_fed[i] else "unfed"
            if not world.is_in(node.name, after):
                causes = tuple(world.node_causes(node.name)[:1])
                sentence = "A source reaches it." if after == "fed" else "No source reaches it any more."
                world.change(node.name, after, Reason("physics", "pressure", sentence, (), causes))

    def _lines(self) -> None:
        world = self.world
        first = len(world.aircraft.valves)
        for k, check in enumerate(world.aircraft.check_valves):
            passing = world.flows.line_kg_h[first + k] > PASSING_KG_H
            sentence = (
                "Fuel is drawn beyond it."
                if passing
                else "Nothing is drawn beyond it, or the pressure there is higher."
            )
            world.change(
                check.name,
                "passing" if passing else "shut",
                Reason("physics", "pressure", sentence, (), self.feeding.line_causes(check)),
            )

    def _tanks(self) -> None:
        world = self.world
        plant = world.plant
        for i, to, at_l in plant.overflow_order:
            tank = world.aircraft.tanks[i]
            if world.is_in(tank.name, "spilling"):
                if world.flows.spill_kg_h[i] < 0.0:
                    reason = Reason(
                        "physics",
                        "overflow-ends",
                        f"{tank.label} now loses more than it gains.",
                        (),
                        tuple(world.tank_turns(i)),
                    )
                    world.change(tank.name, "holding", reason)
            elif plant.volume_l(i, world.state) >= at_l:
                gain = gain_kg_s(plant, i, at_l, world.flows)
                if gain > 0.0:
                    goes = world.aircraft.tanks[to].label if to >= 0 else world.aircraft.vents[-1 - to].label
                    flow = mark(gain * 3600.0, "kg/h")
                    if world.flows.slopes[i] > 0.0:
                        what = f"{flow} more comes in than leaves, and goes over into {inner(goes)}"
                    else:
                        what = f"its fuel swells by {flow} as it warms, which goes over into {inner(goes)}"
                    sentence = f"{tank.label} is full at {mark(at_l, 'L')}: {what}."
                    world.change(
                        tank.name,
                        "spilling",
                        Reason("physics", "overflow", sentence, (), tuple(world.tank_causes(i))),
                    )

    def _filters(self) -> None:
        world = self.world
        for part in world.aircraft.filters:
            over = over_bypass_bar(world.plant, part.name, world.time_s, world.flows) > 0.0
            after = "bypassed" if over else "clear"
            if world.is_in(part.name, after):
                continue
            causes = tuple(world.trouble_causes(part.name)[:2])
            if over:
                sentence = f"It takes {mark(part.bypass_bar, 'bar')}: fuel passes round it."
                waters = [tank for tank in world.aircraft.tanks if tank.name in world.troubles_of]
                causes = causes or tuple(c for tank in waters for c in world.trouble_causes(tank.name))[:2]
            else:
                sentence = f"It takes less than {mark(part.bypass_bar, 'bar')} again."
                user = world.plant.users[world.plant.user_index[part.user]]
                causes = (causes + tuple(world.node_causes(user.node)))[:2]
            world.change(part.name, after, Reason("physics", "pressure", sentence, (), causes))

    def _users(self) -> None:
        # One at a time, the worst fed first: what it no longer draws may be enough for the others.
        world = self.world
        starving: list[tuple[float, int]] = []
        for i, user in enumerate(world.plant.users):
            if world.is_in(user.name, "starting", "running"):
                lack = -inlet_margin_bar(world.plant, i, world.time_s, world.flows)
                if not world.flows.node_fed[world.plant.user_nodes[i]] or world.is_in(user.valve, "shut"):
                    lack = NEVER
                if lack > 0.0:
                    starving.append((-lack, i))
        if starving:
            self._starve(min(starving)[1])

    def _starve(self, i: int) -> None:
        world = self.world
        plant, flows = world.plant, world.flows
        user = plant.users[i]
        self.automation.timers.pop(("user", user.name), None)
        label = inner(world.aircraft.parts[user.node].label)
        node = plant.node_index[user.node]
        if world.is_in(user.valve, "shut"):
            sentence = f"{world.aircraft.parts[user.valve].label} is shut: nothing passes it."
            reason = Reason("physics", "starvation", sentence, (), world.latest(user.valve))
            world.change(user.name, "stopped for want of fuel", reason)
            return
        if flows.node_fed[node]:
            margin = inlet_margin_bar(plant, i, world.time_s, flows)
            inlet = flows.place.ambient_bar + flows.node_bar[node]
            lack = mark(-margin, "bar")
            less = "a hair" if lack == mark(0.0, "bar") else lack
            sentence = (
                f"The {label} holds {mark(inlet, 'bar')} above vacuum, {less} too little for its pump: "
                "air and vapour come out of the fuel."
            )
        else:
            sentence = f"Nothing feeds the {label}."
        names = [s.name for s in plant.sources if s.node == user.node]
        latest = sorted((world.last[world.index[name]] for name in names), reverse=True)
        causes = tuple(c for c in latest[:3] if c >= 0)
        if not flows.node_fed[node]:
            # What should let fuel through and doesn't has not turned: nothing but its trouble tells why.
            ways = [*names, *(line.name for line in world.aircraft.check_valves if line.to_node == user.node)]
            broken = [cause for way in ways for cause in world.troubles_now(way)]
            causes = tuple(dict.fromkeys((*sorted(broken, reverse=True)[:2], *causes)))[:3]
        world.change(
            user.name, "stopped for want of fuel", Reason("physics", "starvation", sentence, (), causes)
        )

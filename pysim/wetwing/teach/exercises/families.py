"""Families of troubles that look alike: fuel that goes missing, a pump that does not deliver, a tank that
gains on the others, and a flight that burns more than planned.

The flights of a family differ by one trouble alone, all from the same time on.
"""

from collections.abc import Callable

from wetwing.aircraft.model import Engine, Tank
from wetwing.flight.record import Moment
from wetwing.teach.exercises.dice import Dice
from wetwing.teach.exercises.stock import Group, Stock

LEAK_PERCENT = (90, 170, 10)
"""A leak, as a share of what an engine draws then."""

METER_PERCENT = (25, 45, 5)
"""A meter that counts too little, or too much, as a share of what passes it."""

DRAG_PERCENT = (25, 60, 5)
"""Drag that should not be there, as a share of that at no lift."""

AIRFRAME = "airframe"


def leak_group(stock: Stock) -> Group:
    """Fuel goes missing: from a tank, before a meter, behind it, or on the gauge alone."""
    dice = Dice(stock.seed, stock.aircraft, "leak")
    engine = dice.pick(stock.engines)
    at_s = stock.minute(dice, 0.15, 0.55)
    moment = stock.plain.moment(at_s)
    rate = _leak_kg_h(moment, engine, dice)
    tank, meter = _main_of(stock, engine), _meter_of(stock, engine)
    gauge = _compensator_of(stock, tank.name)
    # The gauge drifts about as fast as the leak would empty the tank, so that it is a look-alike.
    drift = min(50, max(5, int(100.0 * rate / max(1.0, moment.quantity(f"{tank.name}.actual_kg")))))
    wishes = [
        (tank.name, f"leak {rate}"),
        (engine.name, f"leak before the meter {rate}"),
        (engine.name, f"leak after the meter {rate}"),
        (gauge, f"drifting {drift}"),
        (meter, f"biased {-dice.between(*METER_PERCENT)}"),
    ]
    return stock.group("leak", wishes, at_s)


def pump_group(stock: Stock) -> Group | None:
    """A pump that ought to deliver does not: failed, too weak, or shut in."""
    own = Dice(stock.seed, stock.aircraft, "pump")
    time_s = stock.minute(own, 0.1, 0.7)
    moment = stock.plain.moment(time_s)
    nodes = {engine.node for engine in stock.engines}
    able = [
        pump
        for pump in stock.flights.aircraft.pumps
        if pump.node in nodes and pump.tank and moment.state(pump.name) == "delivering"
    ]
    if not able:
        return None
    pump = own.pick(able)
    wishes = [(pump.name, word) for word in ("failed", "low output 0.5", "check valve stuck shut")]
    return stock.group("pump", wishes, time_s)


def place_group(stock: Stock) -> Group | None:
    """One tank gains on the others: back-flow, return flow lost, a gauge, a leak elsewhere, a pump lost."""
    dice = Dice(stock.seed, stock.aircraft, "place")
    at_s = stock.minute(dice, 0.02, 0.4)
    moment = stock.plain.moment(at_s)
    engine = dice.pick(stock.engines)
    pumps = [pump for pump in stock.flights.aircraft.pumps if pump.node == engine.node and pump.tank]
    held = [pump for pump in pumps if moment.state(pump.name) == "running, held back"]
    giving = [pump for pump in pumps if moment.state(pump.name) == "delivering"]
    back = [(held_one, giver) for held_one in held for giver in giving if held_one.tank != giver.tank]
    if not back:
        return None
    into, giver = back[0]
    rate = _leak_kg_h(moment, engine, dice)
    wishes = [
        (into.name, "check valve stuck open"),
        (giver.tank or "", f"leak {rate}"),
        (_compensator_of(stock, into.tank or ""), f"drifting {dice.between(4, 10)}"),
        (giver.name, "failed"),
    ]
    wishes += [
        (line.valve, "stuck shut")
        for line in stock.flights.aircraft.returns
        if line.engine == engine.name and moment.state(line.valve) == "open"
    ]
    return stock.group("place", wishes, at_s)


def burn_group(stock: Stock) -> Group | None:
    """More goes than planned: drag, a leak before or behind a meter, a meter that counts too much."""
    dice = Dice(stock.seed, stock.aircraft, "burn")
    at_s = stock.minute(dice, 0.2, 0.6)
    engine = dice.pick(stock.engines)
    rate = _leak_kg_h(stock.plain.moment(at_s), engine, dice)
    wishes = [
        (AIRFRAME, f"extra drag {dice.between(*DRAG_PERCENT) / 100.0:.2f}"),
        (engine.name, f"leak after the meter {rate}"),
        (engine.name, f"leak before the meter {rate}"),
        (_meter_of(stock, engine), f"biased {dice.between(*METER_PERCENT)}"),
    ]
    return stock.group("burn", wishes, at_s)


def _leak_kg_h(moment: Moment, engine: Engine, dice: Dice) -> int:
    share = dice.between(*LEAK_PERCENT) / 100.0
    return int(moment.quantity(f"{engine.name}.flow_kg_h") * share / 10.0) * 10


def _main_of(stock: Stock, engine: Engine) -> Tank:
    """The largest tank of an engine's side."""
    tanks = [tank for tank in stock.flights.aircraft.tanks if tank.side == engine.side]
    return max(tanks, key=lambda one: one.capacity_l)


def _compensator_of(stock: Stock, tank: str) -> str:
    return next(one.name for one in stock.flights.aircraft.compensators if one.tank == tank)


def _meter_of(stock: Stock, engine: Engine) -> str:
    return next(one.name for one in stock.flights.aircraft.meters if one.engine == engine.name)


FAMILIES: dict[str, Callable[[Stock], Group | None]] = {
    "fuel": leak_group,
    "pump": pump_group,
    "place": place_group,
    "burn": burn_group,
}
DRAWN = ("fuel", "fuel", "pump", "place", "burn")
"""How often each family is drawn: to find out where fuel goes missing comes first."""

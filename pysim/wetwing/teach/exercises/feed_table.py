"""What a reader is given of an engine's feed: each pump's switch and own pressure, the line's, the gauges."""

from wetwing.aircraft.model import Node, Pump, Tank
from wetwing.flight.record import Moment
from wetwing.teach.exercises.records import Table
from wetwing.teach.exercises.stock import Case
from wetwing.teach.exercises.wording import figure


def pumps_of(case: Case, node: str) -> list[Pump]:
    """The tank pumps that push into a line."""
    return [pump for pump in case.aircraft.pumps if pump.node == node and pump.tank]


def feed_table(case: Case, moment: Moment, node: str) -> Table:
    """The pumps of a line, without saying what they do: that is the question."""
    parts = case.aircraft.parts
    rows = []
    for pump in pumps_of(case, node):
        tank = parts[pump.tank or ""]
        switch = moment.setting(pump.name) if pump.settings else "none"
        rows.append(
            (
                pump.label,
                switch,
                figure(moment.quantity(f"{pump.name}.pressure_bar"), "bar", 0.01),
                _gauge(moment, tank),
            )
        )
    line = parts[node]
    assert isinstance(line, Node)
    pressure = figure(moment.quantity(f"{node}.pressure_bar"), "bar", 0.01)
    rows.append((line.label, "", pressure, ""))
    return Table(("Part", "Switch", "Own pressure", "Its tank's gauge"), tuple(rows))


def with_automatics(case: Case, moment: Moment, table: Table) -> Table:
    """The same with the active rules, the alerts and the buses: what tells a stop from a failure."""
    rules = [rule.label for rule in case.aircraft.rules if moment.state(rule.name) == "active"]
    alerts = [alert.label for alert in case.aircraft.alerts if moment.state(alert.name) == "on"]
    buses = [bus.label for bus in case.aircraft.buses if moment.state(bus.name) == "powered"]
    rows = [("Active rules", rules), ("Alerts", alerts), ("Powered", buses)]
    return Table(table.head, (*table.rows, *((name, "; ".join(found) or "none") for name, found in rows)))


def _gauge(moment: Moment, tank: object) -> str:
    assert isinstance(tank, Tank)
    return figure(moment.quantity(f"{tank.name}.gauged_kg"), "kg", 10.0)

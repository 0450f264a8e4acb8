"""What the panel's script has to know of an aircraft besides the record: what moves each tank's fuel, names,
groups."""

from wetwing.aircraft.model import Aircraft, Control, JetPump, Transfer
from wetwing.draw.chart_flight import rule_words
from wetwing.draw.gauges import FULL_KG_L
from wetwing.draw.panel_traces import trace_groups
from wetwing.flight.troubles import breakdowns
from wetwing.teach.blank import probes_of


def facts(aircraft: Aircraft) -> dict[str, object]:
    """Return the facts, ready for JSON.

    `engines`: those whose fuel used is counted. `troubles`: the kinds of trouble that each part can have.
    `probes`: those of each tank. `gauges`: what a crew is shown. `rules`: each rule in a few words.
    `flows`: for each tank, what moves its fuel, as (part, quantity, sign): with sign 1 the quantity flows
    in. `spills_to`: where each tank overflows to. `figures`: those that troubles take. `drains`: the
    vents whose surge spaces drain to each tank. `overflows`: for each tank, the tanks that overflow into
    it. `traces`: what the traces draw.
    """
    return {
        "engines": [engine.name for engine in aircraft.engines],
        "probes": {tank.name: probes_of(aircraft, tank.name) for tank in aircraft.tanks},
        "gauges": gauges(aircraft),
        "rules": rule_words(aircraft),
        "troubles": {
            name: [found.kind for found in breakdowns(part)]
            for name, part in aircraft.parts.items()
            if breakdowns(part)
        },
        "figures": trouble_figures(aircraft),
        "flows": {tank.name: tank_flows(aircraft, tank.name) for tank in aircraft.tanks},
        "spills_to": {tank.name: tank.overflow.to for tank in aircraft.tanks},
        "drains": {
            tank.name: [vent.name for vent in aircraft.vents if vent.drains_to == tank.name]
            for tank in aircraft.tanks
        },
        "overflows": {
            tank.name: [other.name for other in aircraft.tanks if other.overflow.to == tank.name]
            for tank in aircraft.tanks
        },
        "traces": trace_groups(aircraft),
    }


def trouble_figures(aircraft: Aircraft) -> dict[str, dict[str, dict[str, object]]]:
    """Return the figure that a trouble takes, by kind of part and of trouble: range, usual value, unit."""
    found: dict[str, dict[str, dict[str, object]]] = {}
    for part in aircraft.parts.values():
        group = "control with a number" if isinstance(part, Control) and part.quantity else part.kind
        for trouble in breakdowns(part):
            if trouble.key:
                # A share is written in percent and a factor as times; neither has a unit in the catalogue.
                unit = {"share": "share", "factor": "times"}.get(trouble.key, trouble.unit)
                found.setdefault(group, {})[trouble.kind] = {
                    "least": trouble.least,
                    "most": trouble.most,
                    "usual": trouble.default,
                    "unit": unit,
                }
    return found


def gauges(aircraft: Aircraft) -> dict[str, object]:
    """Return what the view *on the gauges* has to know: see `wetwing.draw.gauges`."""
    return {
        "meters": {meter.engine: meter.name for meter in aircraft.meters},
        "displayed": [f"total.{display.shows}" for display in aircraft.displays],
        "tanks": {
            tank.name: {"full_kg": tank.capacity_l * FULL_KG_L, "probes": probes_of(aircraft, tank.name)}
            for tank in aircraft.tanks
        },
    }


def tank_flows(aircraft: Aircraft, tank: str) -> list[tuple[str, str, int]]:
    """Return what moves a tank's fuel: (part, quantity in kg/h, 1 in or -1 out)."""
    found: list[tuple[str, str, int]] = []
    for pump in (*aircraft.pumps, *aircraft.bypasses):
        if pump.tank == tank:
            found.append((pump.name, f"{pump.name}.flow_kg_h", -1))
    ways: tuple[Transfer | JetPump, ...] = (*aircraft.transfers, *aircraft.jet_pumps)
    for way in ways:
        for end, sign in ((way.from_tank, -1), (way.to_tank, 1)):
            if end == tank:
                found.append((way.name, f"{way.name}.flow_kg_h", sign))
    for back in aircraft.returns:
        if back.to_tank == tank:
            found.append((back.name, f"{back.name}.flow_kg_h", 1))
    for valve in aircraft.valves:
        if valve.ends and tank in valve.ends:
            # A valve's flow counts from its first end to its second.
            found.append((valve.name, f"{valve.name}.flow_kg_h", 1 if valve.ends[1] == tank else -1))
    return found


def part_groups(aircraft: Aircraft) -> list[tuple[str, list[str]]]:
    """Return every part by name, grouped as a reader looks for them."""
    kinds = (
        ("Tanks", ("tank",)),
        ("Pumps", ("pump", "bypass", "jet-pump", "supply")),
        ("Valves", ("valve", "check-valve")),
        ("Lines and flows", ("node", "transfer", "return", "vent", "outlet", "filter")),
        ("Engines and APU", ("engine", "apu")),
        ("Automatics", ("rule",)),
        ("Switches", ("control",)),
        ("Electrical power", ("bus",)),
        ("Sensors and displays", ("sensor", "display")),
        ("Gauging", ("totaliser", "compensator", "meter", "probe")),
        ("Alerts", ("alert",)),
        ("Airframe", ("airframe",)),
        ("Troubles", ("trouble", "indication")),
    )
    groups = []
    for title, members in kinds:
        names = [part.name for part in aircraft.parts.values() if part.kind in members]
        if names:
            groups.append((title, names))
    return groups

"""What the traces of a flight draw: every quantity of an aircraft, grouped by what a reader looks for.

The panel's script draws them. Only the aircraft's data says here which quantities there are and which belong
together, so that the script needs to know no aircraft.
"""

from collections.abc import Iterable

from wetwing.aircraft.condition import unit_of
from wetwing.aircraft.model import Aircraft, Part
from wetwing.draw.svg import Element, make
from wetwing.teach.blank import probes_of

Line = dict[str, object]
Plot = dict[str, object]
Group = dict[str, object]

# What a gauge reads is drawn finer than what is so.
READ = "read"


def trace_groups(aircraft: Aircraft) -> list[Group]:
    """Return the groups of plots, ready for JSON.

    A plot has a `title`, a `unit`, `lines`, and perhaps `levels` that are drawn across it. A line has a
    `label` and a `name`, which heads its column in a saved file: a quantity, or else what its `terms` add up
    to (a quantity with `-` before it is taken away). A line with `style` `read` is what an instrument shows;
    `blank` then lists sets of parts: the instrument shows nothing while every part of any set has no signal.
    `since` is `departure` where a line begins as the first engine starts. A crew is shown the lines with
    `told`.
    """
    return [
        {"name": "masses", "title": "Masses", "plots": _masses(aircraft)},
        {"name": "flows", "title": "Flows", "plots": _flows(aircraft)},
        {"name": "pressures", "title": "Pressures", "plots": _pressures(aircraft)},
        {"name": "temperatures", "title": "Temperatures", "plots": _temperatures(aircraft)},
        {"name": "balance", "title": "Balance", "plots": _balance(aircraft)},
        {"name": "imbalance", "title": "Left and right", "plots": _imbalance(aircraft)},
    ]


def traces_html() -> tuple[Element, ...]:
    """Return the folded sections that the script fills when a reader opens them."""
    return (
        make("details", class_="ww-fold ww-traces ww-live").add(
            make("summary", "Traces"), make("div", class_="ww-traces-body")
        ),
        make("details", class_="ww-fold ww-ahead ww-live").add(
            make("summary", "Looking ahead"), make("div", class_="ww-ahead-body")
        ),
    )


def _plot(title: str, lines: Iterable[Line], levels: Iterable[tuple[float, str]] = ()) -> Plot:
    listed = list(lines)
    unit = unit_of(str(listed[0]["name"])) if listed else ""
    across = [{"value": value, "label": label} for value, label in levels]
    plot: Plot = {"title": title, "unit": unit, "lines": listed}
    return {**plot, "levels": across} if across else plot


def _line(label: str, quantity: str, **more: object) -> Line:
    return {"label": label, "name": quantity, **more}


def _each(parts: Iterable[Part], attribute: str) -> list[Line]:
    return [_line(part.label, f"{part.name}.{attribute}") for part in parts]


def _filled(plots: Iterable[Plot]) -> list[Plot]:
    return [plot for plot in plots if plot["lines"]]


def _total_blank(aircraft: Aircraft) -> list[list[str]]:
    tanks = [list(probes_of(aircraft, tank.name)) for tank in aircraft.tanks]
    return [*([part.name] for part in aircraft.totalisers), *(probes for probes in tanks if probes)]


def _masses(aircraft: Aircraft) -> list[Plot]:
    tanks: list[Line] = []
    for tank in aircraft.tanks:
        probes = list(probes_of(aircraft, tank.name))
        tanks.append(_line(tank.label, f"{tank.name}.actual_kg"))
        tanks.append(
            _line(
                f"{tank.label}, gauge",
                f"{tank.name}.gauged_kg",
                style=READ,
                blank=[probes] if probes else [],
                told=True,
            )
        )
    blank = _total_blank(aircraft)
    whole = [
        _line("On board", "total.on_board_kg"),
        _line("By the gauges", "total.gauged_kg", style=READ, blank=blank, told=True),
        _line("By fuel used", "total.computed_kg", style=READ, since="departure", told=True),
        _line("Burned", "total.burned_kg"),
        _line("Vented", "total.vented_kg"),
        _line("Leaked", "total.leaked_kg"),
        _line("Discharged", "total.discharged_kg"),
    ]
    gap = _line(
        "By fuel used, less by the gauges",
        "total.discrepancy_kg",
        style=READ,
        blank=blank,
        since="departure",
        told=True,
    )
    return [_plot("Tanks", tanks), _plot("In all", whole), _plot("Two accounts", [gap], [(0.0, "alike")])]


def _flows(aircraft: Aircraft) -> list[Plot]:
    filling = {supply.node for supply in aircraft.supplies}
    outlets = {outlet.name for outlet in aircraft.outlets}
    ground: list[Part] = []
    lines: list[Part] = []
    for valve in aircraft.valves:
        if valve.ends:
            away = filling.intersection(valve.ends) or outlets.intersection(valve.ends)
            (ground if away else lines).append(valve)
    users: list[Line] = []
    for user in (*aircraft.engines, *aircraft.apus):
        users.append(_line(user.label, f"{user.name}.flow_kg_h"))
        meters = [meter.name for meter in aircraft.meters if meter.engine == user.name]
        if meters:
            users.append(
                _line(
                    f"{user.label}, meter",
                    f"{user.name}.metered_kg_h",
                    style=READ,
                    blank=[meters],
                    told=True,
                )
            )
    between = (
        *aircraft.returns,
        *aircraft.transfers,
        *aircraft.jet_pumps,
        *lines,
        *aircraft.check_valves,
    )
    beyond = (*aircraft.supplies, *ground, *aircraft.outlets, *aircraft.vents)
    flow = "flow_kg_h"
    return _filled(
        (
            _plot("Engines", users),
            _plot("Pumps", _each((*aircraft.pumps, *aircraft.bypasses), flow)),
            _plot("Between the tanks and lines", _each(between, flow)),
            _plot("From and to the outside", _each(beyond, flow)),
        )
    )


def _pressures(aircraft: Aircraft) -> list[Plot]:
    users = (*aircraft.engines, *aircraft.apus)
    return _filled(
        (
            _plot("Lines", _each(aircraft.nodes, "pressure_bar")),
            _plot("At the pumps", _each(aircraft.pumps, "pressure_bar")),
            _plot(
                "In hand at the inlets", _each(users, "inlet_margin_bar"), [(0.0, "gas starves the engine")]
            ),
            _plot("Taken by the filters", _each(aircraft.filters, "differential_bar")),
        )
    )


def _temperatures(aircraft: Aircraft) -> list[Plot]:
    air = [
        _line("Air", "flight.air_temperature_c", told=True),
        _line("Air brought to rest", "flight.total_temperature_c", told=True),
        _line("Skin", "flight.skin_temperature_c"),
    ]
    return _filled(
        (
            _plot(
                "Fuel",
                [
                    *_each(aircraft.tanks, "temperature_c"),
                    _line("Lower flammable limit", "flight.flammable_above_c"),
                ],
            ),
            _plot("Air and skin", air),
            _plot(
                "Fuel, above freezing",
                _each(aircraft.tanks, "freezing_margin_c"),
                [(0.0, "freezing point")],
            ),
            _plot("Oil of the return flow", _each(aircraft.returns, "oil_c")),
        )
    )


def _balance(aircraft: Aircraft) -> list[Plot]:
    forward, aft = aircraft.balance.cg_limits_percent
    return [
        _plot(
            "Centre of gravity, share of the chord",
            [_line("Centre of gravity", "flight.cg_percent")],
            [(forward, "forward limit"), (aft, "aft limit")],
        ),
        _plot("Gross mass", [_line("Gross mass", "flight.gross_kg")]),
        _plot("Bending at the wing root", [_line("Bending", "flight.root_bending_kn_m")]),
    ]


def _imbalance(aircraft: Aircraft) -> list[Plot]:
    signs = {"left": "-", "right": ""}
    wings = [tank for tank in aircraft.tanks if tank.side in signs]
    terms = [f"{signs[tank.side]}{tank.name}.actual_kg" for tank in wings]
    whole: list[Line] = [
        {"label": "Right wing less left", "name": "right-less-left.actual_kg", "terms": terms},
        _line(
            "By the gauges",
            "total.imbalance_kg",
            style=READ,
            blank=[probes for tank in wings if (probes := list(probes_of(aircraft, tank.name)))],
            told=True,
        ),
    ]
    names = {tank.name: tank for tank in wings}
    pairs: list[Line] = []
    for tank in wings:
        other = tank.name.replace("right", "left")
        if tank.side == "right" and other != tank.name and other in names:
            pairs.append(
                {
                    "label": f"{tank.label} less {names[other].label.lower()}",
                    "name": f"{tank.name}-less-{other}.actual_kg",
                    "terms": [f"{tank.name}.actual_kg", f"-{other}.actual_kg"],
                }
            )
    even = [(0.0, "even")]
    return _filled((_plot("The wings", whole, even), _plot("Tank by tank", pairs, even)))

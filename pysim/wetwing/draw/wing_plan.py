"""The wing plan: an aircraft's fuel system from above, drawn from its data, and painted from a moment of a
flight."""

from wetwing.aircraft.model import Aircraft, Part
from wetwing.draw import plan_symbols as symbols
from wetwing.draw.frame import LAYOUTS, Frame, Layout
from wetwing.draw.gauges import Gauges
from wetwing.draw.hooks import Shown, paint
from wetwing.draw.lettering import INSIDE, ON_GAUGES
from wetwing.draw.look import STYLE
from wetwing.draw.plan_body import body
from wetwing.draw.plan_labels import Labels
from wetwing.draw.plan_lines import Lines, rest_line, ribbon
from wetwing.draw.plan_tanks import gradients, leak_place, overflow, probe, sensor, tank
from wetwing.draw.svg import Element, make, number

# No ribbon is wider than this times an engine's at take-off: a jettison would hide the aircraft.
MOST_RIBBON = 1.3


def wing_plan(
    aircraft: Aircraft,
    moment: Shown | None = None,
    *,
    layout: str = "wide",
    key: str = "plan",
    units: str = "kg",
    with_style: bool = True,
    view: str = "inside",
) -> str:
    """Return the wing plan as SVG: a still picture of `moment`, or without one a template that is painted
    later.

    `view` is `inside`, the truth, or `gauges`, what a crew would see of it. `layout` is `wide` or `snug`;
    `key` makes names inside the picture unique in a page. Without `with_style` the picture relies on a page
    that holds `wetwing.draw.look.STYLE` once for all pictures.
    """
    return wing_plan_tree(aircraft, moment, LAYOUTS[layout], key, units, with_style, view).render()


def wing_plan_tree(
    aircraft: Aircraft,
    moment: Shown | None,
    layout: Layout,
    key: str = "plan",
    units: str = "kg",
    with_style: bool = False,
    view: str = "inside",
) -> Element:
    """Return the wing plan as a tree of elements, for tests and for `wing_plan`."""
    frame, lines, labels = laid_out(aircraft, layout)
    height = labels.bottom + layout.foot
    root = make(
        "svg", xmlns="http://www.w3.org/2000/svg", class_=f"ww-picture ww-plan ww-{layout.name}",
        viewBox=f"0 0 {number(frame.width)} {number(height)}", role="img",
        aria_label=f"{aircraft.title} from above: tanks, pumps, lines and valves",
    )  # fmt: skip
    if with_style:
        root.add(make("style", STYLE))
    runs = lines.runs()
    # Each aircraft has the scale at which what its engines burn at take-off is a ribbon of the same width.
    scale = layout.ribbon / aircraft.airframe.static_flow_kg_h
    most = layout.ribbon * MOST_RIBBON
    root.add(
        gradients(key),
        body(frame, key, height),
        make("g", class_="tanks").add(*(tank(frame, part, key) for part in aircraft.tanks)),
        make("g", class_=f"sensors {INSIDE}").add(
            *(probe(frame, part) for part in aircraft.probes),
            *(sensor(frame, part) for part in aircraft.sensors),
        ),
        make("g", class_="rests", aria_hidden="true").add(*(rest_line(run) for run in runs)),
        make("g", class_=f"flows {INSIDE}", aria_hidden="true").add(
            *(ribbon(run, scale, most) for run in runs)
        ),
        make("g", class_=f"flows {ON_GAUGES}", aria_hidden="true").add(
            *(ribbon(run, scale, most) for run in lines.metered())
        ),
        make("g", class_=f"spills {INSIDE}", aria_hidden="true").add(
            *(overflow(frame, part) for part in aircraft.tanks)
        ),
        make("g", class_="leaders", aria_hidden="true").add(*labels.leaders()),
        make("g", class_="symbols").add(*_ways(lines), *_symbols(frame, lines)),
        make("g", class_=f"leaks {INSIDE}").add(*_leaks(frame, lines)),
        make("g", class_="plates", aria_hidden="true").add(*labels.plates),
        make("g", class_="labels").add(*(label.element() for label in labels.labels)),
    )
    if view == "gauges":
        root.attributes["data-view"] = view
    if moment is None:
        return root
    return paint(root, Gauges(aircraft, moment) if view == "gauges" else moment, units)


def laid_out(aircraft: Aircraft, layout: Layout) -> tuple[Frame, Lines, Labels]:
    """Return where everything stands: with more room over the aircraft where its labels need it."""
    frame = Frame(aircraft, layout)
    lines = Lines(frame)
    labels = Labels(frame, lines)
    if (lacking_px := labels.lacking_px()) > 0.0:
        frame = Frame(aircraft, layout, lacking_px)
        lines = Lines(frame)
        labels = Labels(frame, lines)
    return frame, lines, labels


def _ways(lines: Lines) -> list[Element]:
    """Return the parts that are ways between others: what a pointer finds along them."""
    aircraft = lines.frame.aircraft
    paths = {run.flow: run.path for run in lines.runs()}
    ways: tuple[Part, ...] = (*aircraft.transfers, *aircraft.returns)
    return [
        symbols.part_group(part, make("path", class_="hit", d=paths[f"{part.name}.flow_kg_h"]))
        for part in ways
    ]


def _symbols(frame: Frame, lines: Lines) -> list[Element]:
    aircraft, size = frame.aircraft, frame.layout.symbol
    nodes, valves = lines.nodes, lines.valves
    across = {engine.valve for engine in aircraft.engines} | {apu.valve for apu in aircraft.apus}
    drawn = [
        symbols.node(part, _gallery_place(lines, part.name) or nodes[part.name], size * 0.42)
        for part in aircraft.nodes
    ]
    drawn += [
        symbols.valve(part, valves[part.name], size * 0.78, part.name in across) for part in aircraft.valves
    ]
    drawn += [
        symbols.check_valve(part, frame.at(part.at_m), nodes[part.to_node], size * 0.8)
        for part in aircraft.check_valves
    ]
    drawn += [
        symbols.bypass(part, lines.pump_place(part), nodes[part.node], size * 0.62)
        for part in aircraft.bypasses
    ]
    drawn += [symbols.supply(part, frame.at(part.at_m), size * 0.75) for part in aircraft.supplies]
    drawn += [symbols.pump(part, lines.pump_place(part), nodes[part.node], size) for part in aircraft.pumps]
    drawn += [symbols.jet_pump(part, frame.at(part.at_m), size * 0.7) for part in aircraft.jet_pumps]
    drawn += [symbols.vent(part, frame.at(part.at_m), size * 0.75) for part in aircraft.vents]
    drawn += [symbols.outlet(part, lines.outlets[part.name], size * 0.8) for part in aircraft.outlets]
    drawn += [symbols.filter_(part, *lines.filter_place(part), size * 0.5) for part in aircraft.filters]
    drawn += [symbols.engine(engine, lines.user_goal(engine), size * 0.6) for engine in aircraft.engines]
    drawn += [symbols.small_engine(apu, frame.at(apu.at_m), size) for apu in aircraft.apus]
    return drawn


def _leaks(frame: Frame, lines: Lines) -> list[Element]:
    """Return the drops of every part that can leak."""
    aircraft, aside = frame.aircraft, frame.layout.symbol * 1.1
    drawn = [symbols.leak(part, leak_place(frame, part)) for part in aircraft.tanks]
    for part in aircraft.nodes:
        x, y = _gallery_place(lines, part.name) or lines.nodes[part.name]
        drawn.append(symbols.leak(part, (x + aside, y + aside)))
    for engine in aircraft.engines:
        x, y = lines.user_goal(engine)
        drawn.append(symbols.leak(engine, (x + aside, y)))
    return drawn


def _gallery_place(lines: Lines, node: str) -> tuple[float, float] | None:
    """Return where a gallery's junction stands on its line: nearest to where the hose comes in."""
    if node not in lines.galleries:
        return None
    aircraft = lines.frame.aircraft
    part = next(part for part in aircraft.nodes if part.name == node)
    own = lines.nodes[node]
    spine = [place for _, place in lines.spine(part)]
    return min(spine, key=lambda place: abs(place[0] - own[0]))

"""Every figure of a moment as tables: what the pictures show, for whoever does not see them or wants the
numbers."""

from wetwing.aircraft.model import Aircraft
from wetwing.draw.hooks import paint
from wetwing.draw.plan_words import blank_test
from wetwing.draw.svg import Element, make
from wetwing.flight.record import Flight

Column = tuple[str, str, str]

# Title, quantity, unit. A column named `state` shows the part's state, `density` a tank's.
TANKS: tuple[Column, ...] = (
    ("On board", "actual_kg", "kg"),
    ("Gauge", "gauged_kg", "kg"),
    ("Volume", "volume_l", "L"),
    ("Density", "density", "kg/L"),
    ("Temperature", "temperature_c", "°C"),
    ("Above freezing", "freezing_margin_c", "°C"),
    ("State", "state", ""),
)
USERS: tuple[Column, ...] = (
    ("State", "state", ""),
    ("Flow", "flow_kg_h", "kg/h"),
    ("Flow by meter", "metered_kg_h", "kg/h"),
    ("Used by meter", "used_kg", "kg"),
    ("Inlet in hand", "inlet_margin_bar", "bar"),
)
PUMPS: tuple[Column, ...] = (
    ("State", "state", ""),
    ("Flow", "flow_kg_h", "kg/h"),
    ("Pressure", "pressure_bar", "bar"),
)
VALVES: tuple[Column, ...] = (("State", "state", ""), ("Flow", "flow_kg_h", "kg/h"))
RETURNS: tuple[Column, ...] = (*VALVES, ("Oil", "oil_c", "°C"))
VENTS: tuple[Column, ...] = (*VALVES, ("Surge space", "surge_kg", "kg"))
FILTERS: tuple[Column, ...] = (("State", "state", ""), ("Pressure taken", "differential_bar", "bar"))
LIVE: tuple[Column, ...] = (("State", "state", ""),)


def table(aircraft: Aircraft, flight: Flight, start_s: float) -> Element:
    """Return the tables, folded away, painted for the page's own moment."""
    valves = (*aircraft.valves, *aircraft.check_valves, *aircraft.transfers, *aircraft.jet_pumps)
    gauging = (*aircraft.totalisers, *aircraft.compensators, *aircraft.meters, *aircraft.probes)
    groups: tuple[tuple[str, tuple[Column, ...], list[str]], ...] = (
        ("Tanks", TANKS, [tank.name for tank in aircraft.tanks]),
        ("Engines and APU", USERS, [part.name for part in (*aircraft.engines, *aircraft.apus)]),
        ("Pumps", PUMPS, [part.name for part in (*aircraft.pumps, *aircraft.bypasses, *aircraft.supplies)]),
        ("Valves and flows", VALVES, [part.name for part in (*valves, *aircraft.outlets)]),
        ("Return flow", RETURNS, [part.name for part in aircraft.returns]),
        ("Vents", VENTS, [part.name for part in aircraft.vents]),
        ("Filters", FILTERS, [part.name for part in aircraft.filters]),
        ("Level sensors", LIVE, [part.name for part in aircraft.sensors]),
        ("Electrical power", LIVE, [part.name for part in aircraft.buses]),
        ("Gauging", LIVE, [part.name for part in gauging]),
    )
    block = make("details", class_="ww-figures").add(make("summary", "Every figure of this moment"))
    # It scrolls sideways on a narrow page: so the keyboard must reach it.
    inside = make("div", class_="ww-tables", tabindex="0", role="group", aria_label="Tables of every figure")
    for title, columns, names in [group for group in groups if group[2]]:
        inside.add(_group(aircraft, flight, title, columns, names))
    return block.add(paint(inside, flight.moment(start_s)))


def _group(
    aircraft: Aircraft, flight: Flight, title: str, columns: tuple[Column, ...], names: list[str]
) -> Element:
    head = make("tr").add(
        make("th", title, scope="col"), *(make("th", own, scope="col") for own, _, _ in columns)
    )
    body = make("tbody")
    for name in names:
        row = make("tr").add(make("th", aircraft.parts[name].label, scope="row"))
        for _, quantity, unit in columns:
            blank = blank_test(aircraft, name) if quantity == "gauged_kg" else ""
            row.add(_cell(flight, name, quantity, unit, blank))
        body.add(row)
    caption = make("caption", title, class_="ww-hidden")
    return make("table", class_="ww-table").add(caption, make("thead", head), body)


def _cell(flight: Flight, part: str, quantity: str, unit: str, blank: str) -> Element:
    if quantity == "state":
        return make("td", make("span", data_state=part))
    if quantity == "density":
        weight = make("span", data_density=part)
        return make("td", weight, make("span", data_unit_word=unit), class_="ww-num")
    name = f"{part}.{quantity}"
    if name not in flight.quantities:
        return make("td", "–", class_="ww-none")
    cell = make("td", class_="ww-num")
    figure, sign = make("span", data_value=name, data_unit=unit), make("span", data_unit_word=unit)
    if not blank:
        return cell.add(figure, sign)
    return cell.add(make("span", figure, sign, data_unless=blank), make("span", "no signal", data_when=blank))

"""The rows of the feed chart: what of an aircraft delivers fuel, in the order of the way the fuel takes."""

from dataclasses import dataclass

from wetwing.aircraft.model import Aircraft
from wetwing.draw.plan_words import short


@dataclass(frozen=True, slots=True)
class Row:
    """One row. `flow` names its quantities, joined by ` + `; `share` is its scale against the other rows';
    `pumps` can be held."""

    name: str
    label: str
    flow: str
    kind: str
    share: float = 1.0
    pumps: tuple[str, ...] = ()


def chart_rows(aircraft: Aircraft) -> tuple[Row, ...]:
    """Return a row for each tank that feeds, then transfers, jet pumps, return flow and refuelling, as far as
    there are any."""
    rows = []
    order = {"centre": 0, "left": 1, "right": 2}
    for tank in sorted(aircraft.tanks, key=lambda tank: order[tank.side]):
        sources = [part for part in (*aircraft.pumps, *aircraft.bypasses) if part.tank == tank.name]
        if sources:
            pumps = tuple(part.name for part in aircraft.pumps if part.tank == tank.name and part.crew)
            rows.append(
                Row(tank.name, tank.label, _sum([part.name for part in sources]), "feed", pumps=pumps)
            )
    if aircraft.transfers:
        senders = {transfer.from_tank for transfer in aircraft.transfers}
        labels = {short(tank, "left", "right") for tank in aircraft.tanks if tank.name in senders}
        title = f"{min(labels).capitalize()}s" if len(labels) == 1 else "Transfers"
        rows.append(Row("transfers", title, _sum([part.name for part in aircraft.transfers]), "feed"))
    if aircraft.jet_pumps:
        rows.append(Row("jet-pumps", "Jet pump", _sum([part.name for part in aircraft.jet_pumps]), "feed"))
    if aircraft.returns:
        rows.append(Row("returns", "Return flow", _sum([part.name for part in aircraft.returns]), "return"))
    if aircraft.supplies:
        rows.append(
            Row("supplies", "Refuelling", _sum([part.name for part in aircraft.supplies]), "refuel", 0.1)
        )
    return tuple(rows)


def _sum(names: list[str]) -> str:
    return " + ".join(f"{name}.flow_kg_h" for name in names)

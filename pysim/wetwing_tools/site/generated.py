"""Reference pages made from the data, so that they cannot go stale."""

from wetwing.aircraft.model import Aircraft
from wetwing_tools.site import (
    aircraft_sheet,
    alerts_page,
    command_page,
    document_page,
    formats,
    troubles_page,
)
from wetwing_tools.site.naming import title

Switch = list[tuple[str, str]]


def pages(own: Aircraft, others: tuple[Aircraft, ...] = ()) -> dict[str, str]:
    """The generated pages by their path within the docs folder: the site's own aircraft, and two pages
    for each of the others: its sheet with its rules, and its alerts.
    """
    switch = [(title(own), "aircraft.md"), *((title(other), _file(other)) for other in others)]
    alerts = [(title(own), "alerts.md"), *((title(other), _alerts_file(other)) for other in others)]
    return {
        "reference/aircraft.md": _switched(aircraft_sheet.sheet(own), switch, "aircraft.md"),
        "reference/rules.md": aircraft_sheet.rules(own),
        "reference/alerts.md": _switched(alerts_page.page(own), alerts, "alerts.md"),
        **{f"reference/{_file(other)}": _other(other, switch) for other in others},
        **{f"reference/{_alerts_file(other)}": _alerts(other, alerts) for other in others},
        "reference/troubles.md": troubles_page.page(own),
        "reference/aircraft-file.md": formats.aircraft_file(),
        "reference/script-file.md": formats.script_file(),
        "reference/flight-document.md": document_page.page(),
        "reference/command-line.md": command_page.page(),
    }


def navigation(others: tuple[Aircraft, ...]) -> list[dict[str, str]]:
    """What the menu needs for the pages of the other aircraft."""
    return [
        {name: f"reference/{file}"}
        for other in others
        for name, file in ((title(other), _file(other)), (f"{title(other)}: alerts", _alerts_file(other)))
    ]


def _file(aircraft: Aircraft) -> str:
    return f"aircraft-{aircraft.name}.md"


def _alerts_file(aircraft: Aircraft) -> str:
    return f"alerts-{aircraft.name}.md"


def _alerts(aircraft: Aircraft, switch: Switch) -> str:
    return _switched(alerts_page.page(aircraft), switch, _alerts_file(aircraft))


def _other(aircraft: Aircraft, switch: Switch) -> str:
    pieces = (
        aircraft_sheet.sheet(aircraft),
        f"What it tells its crew stands on a page of its own: [alerts]({_alerts_file(aircraft)}).\n",
        aircraft_sheet.rules(aircraft, level=2),
    )
    return _switched("\n".join(pieces), switch, _file(aircraft))


def _switched(text: str, switch: Switch, here: str) -> str:
    """Put the way to the other aircraft's pages under a page's heading."""
    if len(switch) < 2:
        return text
    ways = [f"**{name}**" if file == here else f"[{name}]({file})" for name, file in switch]
    head, _, rest = text.partition("\n")
    return f"{head}\n\nAircraft: {' · '.join(ways)}\n{rest}"

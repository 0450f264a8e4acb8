"""Reference pages made from the data, so that they cannot go stale."""

from wetwing.aircraft.model import Aircraft
from wetwing_tools.site import aircraft_sheet, command_page, document_page, formats


def pages(aircraft: Aircraft) -> dict[str, str]:
    """The generated pages by their path within the docs folder."""
    return {
        "reference/aircraft.md": aircraft_sheet.sheet(aircraft),
        "reference/rules.md": aircraft_sheet.rules(aircraft),
        "reference/aircraft-file.md": formats.aircraft_file(),
        "reference/script-file.md": formats.script_file(),
        "reference/flight-document.md": document_page.page(),
        "reference/command-line.md": command_page.page(),
    }

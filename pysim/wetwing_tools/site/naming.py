"""What an aircraft is called on the site."""

from wetwing.aircraft.model import Aircraft


def title(aircraft: Aircraft) -> str:
    """What an aircraft is called where several are listed: two revisions share a title."""
    revised = aircraft.revision not in ("", "A") and aircraft.revision not in aircraft.title
    return f"{aircraft.title}, revision {aircraft.revision}" if revised else aircraft.title

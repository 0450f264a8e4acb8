"""The reference page on an aircraft's alerts: level, text, what raises each, what clears it."""

from wetwing.aircraft.model import Aircraft, Alert
from wetwing.teach.words import span
from wetwing_tools.site.conditions import said_items
from wetwing_tools.site.html import marked
from wetwing_tools.site.naming import title

LEVELS = {
    "warning": "Warnings ask for awareness and action at once; they are red.",
    "caution": "Cautions ask for awareness at once and action later; they are amber.",
    "advisory": "Advisories ask for awareness.",
}


def page(aircraft: Aircraft) -> str:
    """The page in Markdown."""
    parts = [
        f"# {title(aircraft)}: alerts\n",
        "Alerts have the three levels of 14 CFR 25.1322. An alert comes on when its condition has been true "
        "for the time given, and leaves as soon as the condition ends.\n",
    ]
    for word, meaning in LEVELS.items():
        own = [alert for alert in aircraft.alerts if alert.level == word]
        if own:
            parts += [f"## {_plural(word)}\n", f"{meaning}\n"]
            parts += [_alert(alert, aircraft) for alert in own]
    return "\n".join(parts)


def _plural(word: str) -> str:
    return f"{word[:-1]}ies".capitalize() if word.endswith("y") else f"{word}s".capitalize()


def _alert(alert: Alert, aircraft: Aircraft) -> str:
    items = said_items(alert.when, aircraft)
    lines = [f"### {alert.text}\n", f"Name: `{alert.name}`.\n"]
    if len(items) == 1:
        lines.append(f"- Comes on when this is so: {marked(items[0])}.")
    else:
        lines.append("- Comes on when all of this is so:")
        lines += [f"    - {marked(item)}" for item in items]
    if alert.after_s:
        lines.append(f"- That must have been so for {span(alert.after_s)}.")
    ends = "that is" if len(items) == 1 else "any of it is"
    lines += [f"- Leaves when {ends} no longer so.", f"- In the file: {code(alert)}"]
    lines += [f"- Why so: {marked(alert.note)}"] if alert.note else []
    lines.append("")
    return "\n".join(lines)


def code(alert: Alert) -> str:
    """The condition as the file has it, on one line."""
    return f"`{' '.join(alert.when.text.split()).replace('( ', '(').replace(' )', ')')}`"

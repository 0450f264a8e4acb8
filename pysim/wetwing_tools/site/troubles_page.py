"""The reference page on troubles: what can go wrong with each kind of part, made from the catalogue."""

from wetwing.aircraft.model import Aircraft, Control, Part
from wetwing.flight.troubles import CATALOGUE, Breakdown

_HEAD = """# Troubles

A trouble is something wrong with one part, from a time or from a condition on. It is part of a flight's
script, or of a reader's edits. Some kinds have a figure that says how bad it is; without one, the usual
figure counts.

```sh
wetwing fly day-sector --set "1:20:00 main-left leak 1200" --set "2:00:00 cross-feed stuck shut"
wetwing because day-sector 2:30:00 main-left --set "1:20:00 main-left leak 1200"
wetwing at day-sector 3:00:00 --set "1:20:00 main-left leak 1200" --set "2:40:00 main-left mended"
```

`mended` ends every trouble of a part. A share is of the whole: 0.6 is 60 %. In a script's file a trouble is
a table of [`[[troubles]]`](script-file.md#troubles), with its figure under the key given here.
"""

_NAMES = {
    "apu": "APU",
    "bypass": "Suction bypass",
    "bus": "Electrical bus",
    "supply": "Refuelling supply",
    "node": "Line or manifold",
    "rule": "Rule of the automatics",
    "meter": "Flow meter",
    "probe": "Gauging probe",
    "totaliser": "Fuel totaliser",
    "airframe": "Airframe",
    "sensor": "Level sensor",
    "control with a number": "Control that is set to a number",
    "control with settings": "Control with settings",
}

# What stands for the part in a sentence, where the heading would not read as one there.
_SUBJECTS = {
    "Rule of the automatics": "in question",
    "Control that is set to a number": "the control",
    "Control with settings": "the control",
}

# What stands for the figure in a sentence, by its key.
_FIGURES = {
    "share": "that share",
    "factor": "that many",
    "l": "so many litres",
    "l_h": "so many litres an hour",
}


def page(aircraft: Aircraft) -> str:
    """The page in Markdown, with the parts of one aircraft that can have each trouble."""
    parts = [_HEAD]
    for key, many in CATALOGUE.items():
        title = title_of(key)
        parts += [f"## {title}\n", _table(title, many), _own(aircraft, key)]
    return "\n".join(parts)


def title_of(key: str) -> str:
    """A kind of part as a heading."""
    return _NAMES.get(key, key.replace("-", " ").capitalize())


def _table(title: str, many: tuple[Breakdown, ...]) -> str:
    subject = _SUBJECTS.get(title) or f"the {title if title.isupper() else title[:1].lower() + title[1:]}"
    rows = ["| Trouble | What it does | Figure | From | To | Usual | Key |", f"|{' --- |' * 7}"]
    for found in many:
        rows.append(f"| `{found.kind}` | {_sentence(found, subject)} | {' | '.join(_figures(found))} |")
    return "\n".join([*rows, ""])


def _sentence(found: Breakdown, subject: str) -> str:
    figure = _FIGURES.get(found.key or "", "the figure")
    text = found.sentence.replace("{severity}", figure).replace("{label}", subject)
    return text[:1].upper() + text[1:]


def _figures(found: Breakdown) -> tuple[str, ...]:
    if found.key is None:
        return ("none", "–", "–", "–", "–")
    what = found.unit or ("share" if found.key == "share" else "factor")
    figures = [f"{figure:g}".replace("-", "−") for figure in (found.least, found.most, found.default)]
    return (what, *figures, f"`{found.key}`")


def _own(aircraft: Aircraft, key: str) -> str:
    names = [f"`{part.name}`" for part in aircraft.parts.values() if _key_of(part) == key]
    return f"On the {aircraft.title}: {', '.join(names)}.\n" if names else f"The {aircraft.title} has none.\n"


def _key_of(part: Part) -> str:
    if not isinstance(part, Control):
        return part.kind
    return "control with a number" if part.quantity else "control with settings"

"""The pages on what differs between two aircraft: what a crew sees, and when; then the rest."""

from collections.abc import Callable, Iterable, Sequence
from html import escape
from itertools import combinations, groupby

from wetwing.aircraft.model import Aircraft
from wetwing.draw.gauges import Gauges
from wetwing.flight.record import Flight
from wetwing.flight.script import Edit, script_for
from wetwing.teach.differences import HEADS, Pair, Row, Sight, Told, Trial, compare
from wetwing.teach.exercises import SCRIPTS
from wetwing.teach.flights import Flights
from wetwing.teach.link import Link, LinkEdit, format_link
from wetwing.teach.words import clock, in_sentence
from wetwing_tools.site.html import marked
from wetwing_tools.site.naming import title

INDEX = "differences/index.md"
FlightsOf = Callable[[str, str], Flights]


def pages(fleet: Sequence[Aircraft], flights_of: FlightsOf) -> dict[str, str]:
    """A page for each two aircraft, by its path within the docs folder. Raises Mistake."""
    return {uri(*pair): page(compared(*pair, flights_of)) for pair in _pairs(fleet)}


def navigation(fleet: Sequence[Aircraft]) -> list[dict[str, str]]:
    """What the menu needs for the pages of the pairs."""
    return [{_both(*pair): uri(*pair)} for pair in _pairs(fleet)]


def _pairs(fleet: Sequence[Aircraft]) -> Iterable[tuple[Aircraft, Aircraft]]:
    """Each two of those that can be flown: an aircraft that is still being written may have no script."""
    return combinations([one for one in fleet if SCRIPTS.get(one.name) or script_for(one.name)], 2)


def _script(aircraft: Aircraft) -> str:
    """The script that an aircraft is compared with: that of its exercises, or the first that ships for it."""
    found = SCRIPTS.get(aircraft.name) or script_for(aircraft.name)
    assert found, aircraft.name
    return found


def uri(first: Aircraft, second: Aircraft) -> str:
    """The path of a pair's page."""
    return f"differences/{first.name}-and-{second.name}.md"


def compared(first: Aircraft, second: Aircraft, flights_of: FlightsOf) -> Pair:
    """Compare two aircraft of the fleet with the flights of the build."""

    def flown(aircraft: Aircraft, edits: tuple[Edit, ...]) -> Flight:
        return flights_of(aircraft.name, _script(aircraft)).edited(edits).flight

    return compare(first, second, flights_of(first.name, _script(first)).script, flown, Gauges)


def page(pair: Pair) -> str:
    """The page of a pair in Markdown, with a panel of two sides where both can fly one script."""
    parts = [_front(pair), f"# {_both(pair.first, pair.second)}\n"]
    parts += _seen(pair) if pair.alike else _types(pair)
    if pair.alike:
        parts += ["## Rules\n", _told(pair.rules, pair)]
    parts += ["## Alerts\n", _told(pair.alerts, pair)]
    parts += ["## Figures\n" if pair.alike else "## System by system\n", _rows(pair)]
    for system in dict.fromkeys(system for own in pair.logic for system in own):
        parts.append(f"### Rules: {system.lower()}\n")
        for aircraft, own in zip((pair.first, pair.second), pair.logic, strict=True):
            many = own.get(system, [])
            parts.append(f"**{title(aircraft)}**: {'none.' if not many else ''}\n")
            parts += [f"- *{label}.* {marked(sentence)}" for label, sentence in many]
            parts.append("")
    return "\n".join(parts)


def _both(first: Aircraft, second: Aircraft) -> str:
    if first.title == second.title:
        return f"{first.title}: revision {first.revision} and revision {second.revision}"
    return f"{title(first)} and {title(second)}"


def _short(aircraft: Aircraft, pair: Pair) -> str:
    """What an aircraft is called in a table of its pair."""
    if pair.first.title == pair.second.title:
        return f"Revision {aircraft.revision}"
    return title(aircraft)


def _front(pair: Pair) -> str:
    hidden = "hide:\n  - navigation\n  - toc\n" if pair.alike else ""
    return (
        f"---\ntitle: {_quoted(_both(pair.first, pair.second))}\naircraft: {pair.first.name}\n"
        f"flight: {_script(pair.first)}\n{hidden}---\n"
    )


def _quoted(text: str) -> str:
    return f'"{text}"'


def _seen(pair: Pair) -> list[str]:
    """What a crew sees, and when: the twin panel at the first of it, then a table for each flight."""
    plain, *troubled = pair.trials
    parts = [
        "Both fly the same script with the same crew. Below stands what each shows on its gauges, alerts, "
        "displays and valves where the other shows something else, with the reason. A time opens both on the "
        "gauges; look inside to see the rest.\n"
    ]
    if plain.sights.found:
        parts += [_twin(pair, plain.sights.found[0]), "## What you will see, and when\n", _table(pair, plain)]
    else:
        parts.append("In the undisturbed flight a crew sees no difference.\n")
    parts += ["## With a trouble\n", "Each trouble begins with the cruise.\n"]
    for trial in troubled:
        parts += [f"### {marked(trial.says.rstrip('.'))}\n", _table(pair, trial)]
    return parts


def _twin(pair: Pair, sight: Sight) -> str:
    """The block of two panels, opened where a crew can first see which aircraft it sits in."""
    lines = ["```twin", "title: The first difference"]
    lines += [f"at: begin + {clock(sight.time_s)}", f"focus: {sight.part}" if sight.part != "total" else ""]
    for side, aircraft, shown in (
        ("left", pair.first, sight.first),
        ("right", pair.second, sight.second),
    ):
        lines += [f"{side}:", f"  name: {_quoted(_short(aircraft, pair))}"]
        lines += [f"  aircraft: {aircraft.name}", f"  flight: {_script(aircraft)}"]
        because = f" {marked(sight.sentence)}" if sight.in_second == (side == "right") else ""
        lines += ["  text: |", f"    {escape(sight.label)} {marked(shown)}.{because}"]
    return "\n".join([*(line for line in lines if line), "```\n"])


def _table(pair: Pair, trial: Trial) -> str:
    if not trial.sights.found:
        return "A crew sees no difference.\n"
    heads = ("When", "Where", _short(pair.first, pair), _short(pair.second, pair), "What acted otherwise")
    rows = [
        (
            f'<a class="ww-see" href="{escape(_address(pair, sight.time_s, trial.edits))}">'
            f"{clock(sight.time_s)}</a>",
            escape(sight.label),
            marked(sight.first),
            marked(sight.second),
            _why(pair, sight),
        )
        for sight in trial.sights.found
    ]
    return _framed("ww-sights", heads, rows)


def _why(pair: Pair, sight: Sight) -> str:
    whose = _short(pair.second if sight.in_second else pair.first, pair)
    most = f" Largest difference: {marked(sight.most)}." if sight.most else ""
    return f"{whose}: {marked(sight.sentence)}{most}"


def _address(pair: Pair, time_s: float, edits: Iterable[Edit]) -> str:
    """The fragment that opens both sides at a time, on the gauges."""
    told = tuple(LinkEdit(edit.time_s, edit.part, edit.state) for edit in edits)
    left, right = (
        format_link(Link(one.name, _script(one), told, time_s, view="gauges"))
        for one in (pair.first, pair.second)
    )
    return f"{left};{right[1:]}"


def _types(pair: Pair) -> list[str]:
    """Two types: each through its own script, phase by phase."""
    parts = [
        "Two types, each flown through its own script. Their parts are not the same parts, so they are set "
        "side by side system by system: first how each flight goes, then alerts, figures and rules.\n",
        "## Phase by phase\n",
    ]
    by_phase = [{stage.phase: stage for stage in stages} for stages in pair.stages]
    for phase in dict.fromkeys(stage.phase for stages in pair.stages for stage in stages):
        own = [stages.get(phase) for stages in by_phase]
        label = next(stage.label for stage in own if stage)
        rows = [
            (head.capitalize(), *(marked(stage.figures[at]) if stage else "–" for stage in own))
            for at, head in enumerate(HEADS)
        ]
        heads = ("Figure", title(pair.first), title(pair.second))
        parts += [f"### {label}\n", _even(heads, rows)]
    return parts


def _told(found: Sequence[Told], pair: Pair) -> str:
    if not found:
        return "Nothing differs.\n"
    # Between two types nothing is added or gone: each has its own.
    names = (_short(pair.first, pair), _short(pair.second, pair))
    heads = (*(("Name", "What differs") if pair.alike else ("Alert",)), *names)
    rows = [(one.label, *((one.what,) if pair.alike else ()), *_sides(one, pair.alike)) for one in found]
    return (_markdown if pair.alike else _even)(heads, rows)


def _sides(one: Told, alike: bool) -> tuple[str, str]:
    """What each aircraft says; conditions are shown where they, and not the words alone, differ.

    Alerts of two types are paired by what they say, which the first column holds: here stands the rest.
    """
    sides = []
    for said, own, other in (
        (one.first, one.first_when, one.second_when),
        (one.second, one.second_when, one.first_when),
    ):
        if said is None:
            sides.append("–")
            continue
        differs = [(what, code) for what, code in own if (what, code) not in other and other]
        words = said if alike else said.replace(f": {one.label}", "", 1)
        sides.append("<br>".join([marked(words), *(f"{what} `{code}`" for what, code in differs)]))
    return sides[0], sides[1]


def _rows(pair: Pair) -> str:
    if not pair.rows:
        return "No figure of a tank, pump, valve, engine, gauge or limit differs.\n"
    parts = []
    for system, rows in groupby(pair.rows, key=lambda row: row.system):
        heads = ("What", _short(pair.first, pair), _short(pair.second, pair))
        parts.append(f"### {system}\n")
        cells = [(_what(row), _cell(row, 0), _cell(row, 1)) for row in rows]
        parts.append((_markdown if pair.alike else _even)(heads, cells))
    return "\n".join(parts)


def _what(row: Row) -> str:
    words = f"{in_sentence(row.part)}, {row.what}" if row.part else row.what
    return f"{words[:1].upper()}{words[1:]}"


def _cell(row: Row, side: int) -> str:
    value = (row.first, row.second)[side]
    if value is None:
        return "–"
    return f"`{value}`" if row.code else marked(value).replace("; ", "<br>")


def _even(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table whose columns are as wide as those of the tables above and below it."""
    return _framed("ww-even", heads, rows)


def _framed(look: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table in a frame by which the style sheet knows it."""
    return f'<div class="{look}" markdown="1">\n\n{_markdown(heads, rows)}\n</div>\n'


def _markdown(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = [heads, ["---"] * len(heads), *rows]
    return "\n".join([*(f"| {' | '.join(line)} |" for line in lines), ""])

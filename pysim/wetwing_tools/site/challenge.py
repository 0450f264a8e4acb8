"""The block `challenge`: a trouble that the panel hides, to be found by gauges and as few looks as possible.

The build flies each trouble and judges its answer in that flight. The page holds what is hidden as base64:
that keeps it from a glance, and is no lock. Whoever reads the page's source can find it.
"""

import base64
import json
from dataclasses import replace
from html import escape

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.draw.panel_facts import part_groups
from wetwing.flight.edits import parse_edit
from wetwing.flight.record import Flight
from wetwing.flight.troubles import Trouble, breakdowns
from wetwing.teach.claims import Claims
from wetwing.teach.words import in_sentence
from wetwing_tools.site import html
from wetwing_tools.site.asking import between, fieldset, question
from wetwing_tools.site.notation import Block
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.yaml_lines import Mapping

LEFT_OUT = ("Switches", "Airframe", "Alerts", "Automatics", "Electrical power", "Troubles")
"""Groups of parts that are not offered: they are on show, or can have no trouble of the fuel system."""

MOST_LOOKS = 9
_SEEN = ("gauged_kg", "used_kg")
_NOTICED_KG = 20.0


def challenge(maker: PageMaker, block: Block) -> str:
    """A hidden trouble, and the answer to each of those that a case may hide."""
    node, name = question(maker, block, ("start", "troubles"))
    start = node.text("start")
    start_s = maker.claims.moments.find(start, node.place(start.line))
    wishes = node.mappings("troubles")
    between(wishes, 2, 8, node.place(), "troubles to hide")
    cases, answers, taken = [], [], set[tuple[str, str]]()
    for wish in wishes:
        tried = maker.tried(wish.line, _case, maker, wish)
        if tried is None:
            continue
        trouble, case, answer = tried
        if trouble in taken:
            raise Mistake(wish.place(), f"{trouble[0]}, {trouble[1]}, a second time", "each trouble once")
        taken.add(trouble)
        cases.append(case)
        answers.append(answer)
    if len(cases) < len(wishes):
        return ""
    maker.checked += len(cases)
    groups = _groups(maker.claims.flights.aircraft)
    wish_json = {
        "start_s": round(start_s, 3),
        "groups": groups,
        "kinds": _kinds(maker.claims.flights.aircraft, groups),
        "cases": cases,
    }
    data = escape(json.dumps(wish_json, ensure_ascii=False, separators=(",", ":")))
    without = "<noscript><p>This needs scripts: the live simulation flies the hidden trouble.</p></noscript>"
    made = fieldset(maker, node, "challenge", name, [without], answers)
    return made.replace('data-ww-kind="challenge"', f'data-ww-kind="challenge" data-ww-challenge="{data}"', 1)


def _case(maker: PageMaker, wish: Mapping) -> tuple[tuple[str, str], str, str]:
    """One trouble: its part and kind, what the page hides of it, and its answer as HTML."""
    wish = maker.known(wish, ("with", "looks", "shows", "part", "text"))
    wanted = wish.text("with")
    place = wish.place(wanted.line)
    aircraft = maker.claims.flights.aircraft
    edits = maker.claims.edits_of(wanted, place)
    trouble = parse_edit(edits[0], aircraft, place)
    if not isinstance(trouble, Trouble):
        raise Mistake(
            place, f"'{wanted}' is no trouble", "PART=TROUBLE at MOMENT, such as: main-left=leak 1200 at top"
        )
    edited = replace(maker.claims, edits=edits)
    _check_seen(maker.claims, edited, str(wanted), place)
    looks = [maker.check_part(look, wish.place(look.line)) for look in wish.texts("looks")]
    between(looks, 1, MOST_LOOKS, wish.place(), "looks of the shortest way")
    shows, part = wish.text("shows"), wish.text("part")
    target = html.Target(
        edited.moments.find(shows, wish.place(shows.line)),
        maker.check_part(part, wish.place(part.line)),
        edits,
    )
    hidden = {
        "edits": [{"time_s": edit.time_s, "part": edit.part, "state": edit.state} for edit in edits],
        "part": trouble.part,
        "kind": trouble.kind,
        "fewest": len(looks),
    }
    obscured = base64.b64encode(json.dumps(hidden, ensure_ascii=False).encode()).decode()
    label = aircraft.parts[trouble.part].label
    shortest = ", then ".join(escape(in_sentence(aircraft.parts[look].label)) for look in looks)
    text = wish.text("text")
    words = maker.prose(str(text).strip(), text.line, edited)
    see = f'<a class="ww-see" {maker.attributes(target)}>See the moment and its reasons</a>'
    answer = "\n\n".join(
        [
            '<div class="ww-case" markdown="block">',
            f"<strong>{escape(label)}: {escape(trouble.kind)}.</strong>",
            words,
            f'<p markdown="span">The shortest way: look inside {shortest}. {see}</p>',
            "</div>",
        ]
    )
    return (trouble.part, trouble.kind), obscured, answer


def _check_seen(plain: Claims, edited: Claims, wanted: str, place: str) -> None:
    """A trouble that no gauge, meter or alert ever shows cannot be found by them."""
    ours, theirs = plain.timeline.flight, edited.timeline.flight
    alerts = {alert.name for alert in plain.flights.aircraft.alerts}
    if _alerts(ours, alerts) != _alerts(theirs, alerts):
        return
    names = [name for name in ours.quantities if name.rpartition(".")[2] in _SEEN]
    for time_s in theirs.time_s:
        if time_s > ours.duration_s:
            break
        apart = (abs(ours.quantity(name, time_s) - theirs.quantity(name, time_s)) for name in names)
        if max(apart) > _NOTICED_KG:
            return
    allowed = "a trouble that a crew could notice"
    raise Mistake(place, f"'{wanted}' shows on no gauge, meter or alert", allowed)


def _alerts(flight: Flight, alerts: set[str]) -> list[tuple[str, str]]:
    return [(change.part, change.after) for change in flight.changes if change.part in alerts]


def _groups(aircraft: Aircraft) -> list[tuple[str, list[tuple[str, str]]]]:
    """The parts that can be looked into and named, in the groups that the panel has; probes are too many."""
    found = []
    for title, names in part_groups(aircraft):
        parts = [aircraft.parts[name] for name in names if aircraft.parts[name].kind != "probe"]
        if title not in LEFT_OUT and parts:
            found.append((title, [(part.name, part.label) for part in parts]))
    return found


def _kinds(aircraft: Aircraft, groups: list[tuple[str, list[tuple[str, str]]]]) -> list[str]:
    names = [name for _, parts in groups for name, _ in parts]
    return sorted({found.kind for name in names for found in breakdowns(aircraft.parts[name])})

"""Figures in a page's text, computed from its flight: `{= centre.gauged_kg at hold-1}`.

QUANTITY at MOMENT [to STEP]              rounded to STEP of the reader's unit, 1 where none is given; "blank"
                                          where its gauge or meter shows nothing
change of QUANTITY from MOMENT to MOMENT  how much it rises or falls, without sign; "blank" where either is
time of MOMENT                            h:mm:ss
span from MOMENT to MOMENT                16 min 20 s
state of PART at MOMENT                   in words
indication of VALVE at MOMENT             where the valve's own indication says that it is
setting of PART at MOMENT                 what a person last set the part to
count of PART becomes STATE               how often it happens in the flight
sentence of RULE                          as the aircraft's file says it
PART.figure                               a figure of the aircraft's file: main-left.capacity_l
limits.figure                             a limit of the aircraft: limits.landing_kg, limits.cg_aft_percent
plan.figure                               a figure of the script's plan: plan.final_reserve_kg
limit of QUANTITY in RULE                 the figure with which a rule or an alert compares it;
                                          also least limit of, greatest limit of
430 kg                                    a plain figure, so that it follows the reader's units
with PART=STATE at MOMENT then …          any of these in the edited flight
on FLIGHT then …                          any of these in another flight of the aircraft
"""

import re
from dataclasses import dataclass, replace

from wetwing.aircraft.condition import unit_of
from wetwing.aircraft.mistakes import Mistake, nearest, unknown
from wetwing.aircraft.model import Rule
from wetwing.teach.blank import BLANK
from wetwing.teach.claims import Claims
from wetwing.teach.limits import limit_of
from wetwing.teach.moments import check_state
from wetwing.teach.planned import PLAN, UNIT, planned
from wetwing.teach.text import check_closed, split_at, split_last, unquoted
from wetwing.teach.words import clock, number, span

_STEP = re.compile(r"\d+(?:\.\d+)?")
_PLAIN = re.compile(r"([-−]?[\d,]+(?:\.\d+)?)\s*(kg|kg/h|L|bar|°C|s|ft|%)")
_STEPS = {"kg": 1.0, "kg/h": 1.0, "L": 1.0, "bar": 0.01, "°C": 1.0, "ft": 1.0, "s": 1.0, "%": 1.0}


@dataclass(frozen=True, slots=True)
class Value:
    """A figure with its unit and rounding; or, where `unit` is None, plain words."""

    text: str
    amount: float = 0.0
    unit: str | None = None
    step: float = 1.0

    @property
    def marked(self) -> str:
        """The figure as a mark of a sentence, `{430 kg}`; words as they are."""
        return self.text if self.unit is None else f"{{{number(self.amount, self.step)} {self.unit}}}"


def is_plain(text: str) -> bool:
    """Whether a figure is written out, `430 kg`, and not worked out: it may go stale."""
    return _PLAIN.fullmatch(" ".join(text.split())) is not None


def value_of(claims: Claims, text: str, place: str) -> Value:
    """Work out the figure that `text` asks for. Raises Mistake."""
    asked = " ".join(text.split())
    check_closed(asked, place)
    if asked.startswith("on "):
        other, rest = claims.elsewhere(asked, place, "…")
        return value_of(other, rest, place)
    if asked.startswith("with "):
        cut = split_at(asked.removeprefix("with "), "then")
        if not cut:
            raise Mistake(place, f"'{asked}' has no 'then'", "with PART=STATE at MOMENT then …")
        edits = claims.edits_of(cut[0], place)
        return value_of(replace(claims, edits=(*claims.edits, *edits)), cut[1], place)
    head, _, rest = asked.partition(" ")
    match head:
        case "time":
            return Value(clock(claims.moments.find(rest.removeprefix("of "), place)))
        case "span":
            start_s, end_s, _ = claims.span(rest, place)
            return Value(span(end_s - start_s))
        case "change":
            return _change(claims, rest.removeprefix("of "), place)
        case "state":
            return _state(claims, rest.removeprefix("of "), place)
        case "indication":
            return _indication(claims, rest.removeprefix("of "), place)
        case "setting":
            return _setting(claims, rest.removeprefix("of "), place)
        case "count":
            return _count(claims, rest.removeprefix("of "), place)
        case "limit" | "least" | "greatest":
            which = "" if head == "limit" else head
            wanted = rest.removeprefix("limit ").removeprefix("of ")
            amount, unit = limit_of(claims.flights.aircraft, wanted, place, which)
            return _value(amount, unit, None)
        case "sentence":
            return Value(_rule(claims, rest.removeprefix("of "), place).sentence)
    if found := _PLAIN.fullmatch(asked):
        amount = float(found[1].replace(",", "").replace("−", "-"))
        decimals = len(found[1].partition(".")[2])
        return Value(asked, amount, found[2], float(f"1e-{decimals}"))
    if cut := split_at(asked, "at"):
        return _quantity(claims, cut[0], cut[1], place)
    return _figure(claims, asked, place)


def _unit(claims: Claims, quantity: str, place: str) -> str:
    units = claims.flights.quantities
    if quantity not in units:
        raise unknown(place, "quantity", quantity, units)
    return units[quantity]


def _value(amount: float, unit: str, step: float | None) -> Value:
    rounding = step if step is not None else _STEPS.get(unit, 0.01)
    return Value(f"{number(amount, rounding)} {unit}".rstrip(), amount, unit, rounding)


def _quantity(claims: Claims, quantity: str, moment: str, place: str) -> Value:
    unit = _unit(claims, quantity, place)
    moment, step = _rounded(moment, place)
    time_s = claims.moments.find(moment, place)
    if claims.timeline.is_blank(quantity, time_s):
        return Value(BLANK)
    return _value(claims.timeline.flight.quantity(quantity, time_s), unit, step)


def _rounded(text: str, place: str) -> tuple[str, float | None]:
    """Cut off `to STEP`; no step where it is missing. Raises Mistake."""
    cut = split_last(text, "to")
    if not cut:
        return text, None
    if not _STEP.fullmatch(cut[1]) or float(cut[1]) <= 0.0:
        raise Mistake(place, f"rounding to '{cut[1]}'", "a step above zero, such as: to 10")
    return cut[0], float(cut[1])


def _change(claims: Claims, text: str, place: str) -> Value:
    start_s, end_s, quantity = claims.span(text, place)
    unit = _unit(claims, quantity, place)
    if any(claims.timeline.is_blank(quantity, time_s) for time_s in (start_s, end_s)):
        return Value(BLANK)
    values = claims.values(quantity, start_s, end_s)
    return _value(abs(values[-1] - values[0]), unit, None)


def _state(claims: Claims, text: str, place: str) -> Value:
    cut = split_at(text, "at")
    if not cut:
        raise Mistake(place, f"'state of {text}' names no moment", "state of PART at MOMENT")
    part, parts = cut[0], claims.flights.aircraft.parts
    if part not in parts:
        raise unknown(place, "part", part, parts)
    return Value(claims.timeline.flight.state(part, claims.moments.find(cut[1], place)))


def _indication(claims: Claims, text: str, place: str) -> Value:
    cut = split_at(text, "at")
    if not cut:
        raise Mistake(place, f"'indication of {text}' names no moment", "indication of VALVE at MOMENT")
    valve, valves = cut[0], [valve.name for valve in claims.flights.aircraft.valves]
    if valve not in valves:
        raise unknown(place, "valve", valve, valves)
    return Value(claims.timeline.flight.moment(claims.moments.find(cut[1], place)).shown(valve))


def _setting(claims: Claims, text: str, place: str) -> Value:
    cut = split_at(text, "at")
    if not cut:
        raise Mistake(place, f"'setting of {text}' names no moment", "setting of PART at MOMENT")
    part, parts = cut[0], claims.flights.aircraft.parts
    settable = sorted(name for name, found in parts.items() if found.settings)
    if part not in settable:
        raise unknown(place, "part that a person sets", part, settable)
    return Value(claims.timeline.flight.setting(part, claims.moments.find(cut[1], place)))


def _count(claims: Claims, text: str, place: str) -> Value:
    cut = split_at(text, "becomes")
    if not cut:
        raise Mistake(place, f"'count of {text}' names no change", "count of PART becomes STATE")
    part, state = cut[0], unquoted(cut[1])
    check_state(claims.flights, part, state, place)
    changes = claims.timeline.flight.changes
    return Value(str(sum(change.part == part and change.after == state for change in changes)))


def _rule(claims: Claims, name: str, place: str) -> Rule:
    rules = {rule.name: rule for rule in claims.flights.aircraft.rules}
    if name not in rules:
        raise unknown(place, "rule", name, rules)
    return rules[name]


def _figure(claims: Claims, text: str, place: str) -> Value:
    part_name, point, figure = text.partition(".")
    parts = claims.flights.aircraft.parts
    if not point:
        raise Mistake(
            place,
            f"'{text[:60]}' is no figure",
            ("QUANTITY at MOMENT", "time of MOMENT", "PART.figure", "430 kg"),
        )
    if f"{part_name}." == PLAN:
        return _planned(claims, text, place)
    if part_name == "limits":
        return _limit(claims, figure, place)
    if part_name not in parts:
        raise unknown(place, "part", part_name, parts)
    part = parts[part_name]
    figures = {name: getattr(part, name) for name in part.__dataclass_fields__ if unit_of(name) is not None}
    figures = {name: found for name, found in figures.items() if isinstance(found, int | float)}
    if figure not in figures:
        hint = f"{text} at MOMENT" if text in claims.flights.quantities else nearest(figure, figures)
        raise Mistake(place, f"the file gives no '{figure}' for {part_name}", sorted(figures), hint)
    return _value(float(figures[figure]), unit_of(figure) or "", None)


def _planned(claims: Claims, text: str, place: str) -> Value:
    figures = planned(claims.flights.script)
    name, step = _rounded(text, place)
    if name not in figures:
        raise unknown(place, "figure of the plan", name, figures)
    return _value(figures[name], UNIT, step)


def _limit(claims: Claims, figure: str, place: str) -> Value:
    limits, balance = claims.flights.aircraft.limits, claims.flights.aircraft.balance
    forward, aft = balance.cg_limits_percent
    figures = {
        "zero_fuel_kg": limits.zero_fuel_kg,
        "take_off_kg": limits.take_off_kg,
        "landing_kg": limits.landing_kg,
        "ceiling_ft": limits.ceiling_ft,
        "cg_forward_percent": forward,
        "cg_aft_percent": aft,
    }
    if figure not in figures:
        raise unknown(place, "limit of the aircraft", figure, figures)
    return _value(figures[figure], unit_of(figure) or "", None)

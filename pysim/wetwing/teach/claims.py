"""The language of checked statements: a sentence of a page is true of the simulation, or the build fails.

    CONDITION at MOMENT                           as in an aircraft's rules: main-left.actual_kg > 900 kg
    CONDITION from MOMENT to MOMENT               throughout; also: during phase NAME, during flight
    never CONDITION from MOMENT to MOMENT         at no time of it
    sometimes CONDITION from MOMENT to MOMENT     at some time of it
    QUANTITY rises|falls [by >= 430 kg] from MOMENT to MOMENT
    QUANTITY stays within 5 kg from MOMENT to MOMENT
    QUANTITY is blank at MOMENT                   its gauge or meter shows nothing; a claim that hangs on
                                                  such a figure is refused
    PART is STATE because NAME at MOMENT          NAME, a rule or part, is close in the chain of reasons
    PART is STATE ultimately because NAME at MOMENT  anywhere in the chain
    PART next becomes STATE [because NAME] after MOMENT
    MOMENT before MOMENT                          the first happens earlier
    with PART=STATE at MOMENT [, ...] then CLAIM  of the flight with these edits; also PART=TROUBLE, such as
                                                  main-left=leak 1200, and PART=mended
    on FLIGHT then CLAIM                          of another flight of the same aircraft, by its script's
                                                  name: on day-sector-hot then ...

A claim is parsed and judged in one go: most mistakes (a moment that never happens) show only in the flight.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise

from wetwing.aircraft.condition import Condition, Is, Not
from wetwing.aircraft.mistakes import Mistake, nearest, unknown
from wetwing.flight.edits import plain_edit
from wetwing.flight.reasons import next_change
from wetwing.flight.script import Edit, script_aircraft, scripts, variants
from wetwing.teach.blank import may_be_blank
from wetwing.teach.chain import NEAR, reasons
from wetwing.teach.flights import Edits, Flights
from wetwing.teach.moments import Moments, check_state
from wetwing.teach.text import check_closed, has, split_at, unquoted
from wetwing.teach.timeline import Piece, Timeline
from wetwing.teach.words import clock, up_to_tenth

_TREND = re.compile(r"(rises|falls|stays)(?:\s+(?:by\s+(<=|>=|<|>)|within)\s+([\d,.]+)\s*(\S+))?")
_EDIT = re.compile(r"([a-z][a-z0-9-]*)\s*=\s*(.+)")
_FORMS = (
    "CONDITION at MOMENT",
    "CONDITION from MOMENT to MOMENT",
    "CONDITION during phase NAME",
    "PART is STATE because NAME at MOMENT",
    "PART next becomes STATE after MOMENT",
    "QUANTITY rises|falls|stays from MOMENT to MOMENT",
    "MOMENT before MOMENT",
)


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a claim holds in the flight with `edits`; the moment and part that show it; what was seen.

    `flight` names the script where it is another than the page's own.
    """

    claim: str
    holds: bool
    time_s: float
    part: str | None
    found: str
    edits: Edits = ()
    flight: str | None = None


@dataclass(frozen=True)
class Claims:
    """Checks claims about one page's flight; `names` are the moments of its front matter, `others` gives the
    flights of another script for the same aircraft.
    """

    flights: Flights
    names: Mapping[str, str] = field(default_factory=dict)
    edits: Edits = ()
    others: Callable[[str], Flights] | None = None

    @property
    def timeline(self) -> Timeline:
        """The flight that is judged."""
        return self.flights.edited(self.edits)

    @property
    def moments(self) -> Moments:
        """The moments of the flight that is judged."""
        return Moments(self.flights, self.timeline, self.names)

    def check(self, text: str, place: str) -> Verdict:
        """Judge a claim. Raises Mistake where it has no meaning."""
        claim = " ".join(text.split())
        check_closed(claim, place)
        if claim.startswith("on "):
            other, rest = self.elsewhere(claim, place, "CLAIM")
            return replace(other.check(rest, place), claim=claim, flight=other.flights.script.name)
        if claim.startswith("with "):
            return self._edited(claim, place)
        if cut := split_at(claim, "before"):
            return self._order(claim, *cut, place)
        if has(claim, "next"):
            return self._next(claim, place)
        if has(claim, "because"):
            return self._because(claim, place)
        if any(has(claim, word) for word in ("rises", "falls", "stays")):
            return self._trend(claim, place)
        if cut := split_at(claim, "at"):
            return self._at(claim, *cut, place)
        return self._throughout(claim, place)

    def _verdict(self, claim: str, holds: bool, time_s: float, part: str | None, found: str) -> Verdict:
        return Verdict(claim, holds, time_s, part, found, self.edits)

    def _edited(self, claim: str, place: str) -> Verdict:
        cut = split_at(claim.removeprefix("with "), "then")
        if not cut:
            raise Mistake(place, f"'{claim}' has no 'then'", "with PART=STATE at MOMENT then CLAIM")
        edits = self.edits_of(cut[0], place)
        verdict = replace(self, edits=(*self.edits, *edits)).check(cut[1], place)
        return replace(verdict, claim=claim)

    def elsewhere(self, text: str, place: str, what: str) -> tuple["Claims", str]:
        """Read `on FLIGHT then …`: what judges the rest, and the rest. Moments are those of that flight.

        Raises Mistake.
        """
        cut = split_at(text.removeprefix("on "), "then")
        if not cut:
            raise Mistake(place, f"'{text}' has no 'then'", f"on FLIGHT then {what}")
        if cut[0] == self.flights.script.name:
            raise Mistake(place, f"'on {cut[0]}' is the flight of this text", f"the {what.lower()} alone")
        known = [name for name in (*scripts(), *variants()) if self._flies(name)]
        if cut[0] not in known or self.others is None:
            raise unknown(place, f"flight of {self.flights.aircraft.name}", cut[0], known)
        return replace(self, flights=self.others(cut[0]), edits=()), cut[1]

    def _flies(self, script: str) -> bool:
        own, wanted = self.flights.aircraft.name, script_aircraft(script)
        return own == wanted or own.startswith(f"{wanted}-")

    def edits_of(self, text: str, place: str) -> Edits:
        """Read `PART=STATE at MOMENT, PART=STATE at MOMENT`. Raises Mistake."""
        edits = []
        for piece in _pieces(text):
            cut = split_at(piece, "at")
            found = _EDIT.fullmatch(cut[0]) if cut else None
            if not cut or not found:
                raise Mistake(place, f"'{piece}' is no edit", "PART=STATE at MOMENT")
            time_s = up_to_tenth(self.moments.find(cut[1], place))
            wanted = Edit(time_s, found[1], unquoted(found[2]))
            edits.append(plain_edit(wanted, self.flights.aircraft, place))
        return tuple(edits)

    def _order(self, claim: str, earlier: str, later: str, place: str) -> Verdict:
        first_s, second_s = self.moments.find(earlier, place), self.moments.find(later, place)
        found = f"the first is at {clock(first_s)}, the second at {clock(second_s)}"
        words = earlier.split()
        part = next((word for word in words if word in self.flights.aircraft.parts), None)
        return self._verdict(claim, first_s < second_s, first_s, part, found)

    def _next(self, claim: str, place: str) -> Verdict:
        subject, tail = split_at(claim, "next") or ("", "")
        cut = split_at(tail, "after")
        if not cut or not cut[0].startswith("becomes "):
            raise Mistake(
                place, f"'{claim}' is incomplete", "PART next becomes STATE [because NAME] after MOMENT"
            )
        named = split_at(cut[0], "because")
        state = unquoted((named[0] if named else cut[0]).removeprefix("becomes "))
        check_state(self.flights, subject, state, place)
        time_s = self.moments.find(cut[1], place)
        change = next_change(self.timeline.flight, time_s, subject)
        if change is None:
            return self._verdict(
                claim, False, time_s, subject, f"{subject} does not change after {clock(time_s)}"
            )
        found = f"{subject} next becomes {change.after} at {clock(change.time_s)}: {change.reason.sentence}"
        holds = change.after == state
        if holds and named:
            named_reasons = self._reasons(change.time_s, subject, named[1], False, place)
            told = ", ".join(sorted(named_reasons))
            holds, found = named[1] in named_reasons, f"{found} (reasons: {told})"
        return self._verdict(claim, holds, change.time_s, subject, found)

    def _because(self, claim: str, place: str) -> Verdict:
        state_text, tail = split_at(claim, "because") or ("", "")
        far = has(state_text, "ultimately")
        subject = split_at(state_text.removesuffix("ultimately"), "is")
        cut = split_at(tail, "at")
        if not subject or not cut:
            raise Mistake(place, f"'{claim}' is incomplete", "PART is STATE because NAME at MOMENT")
        part, state = subject[0], unquoted(subject[1])
        check_state(self.flights, part, state, place)
        time_s = self.moments.find(cut[1], place)
        actual = self.timeline.flight.state(part, time_s)
        if actual != state:
            return self._verdict(claim, False, time_s, part, f"at {clock(time_s)} {part} is '{actual}'")
        found = self._reasons(time_s, part, cut[0], far, place)
        told = ", ".join(sorted(found)) or "none"
        return self._verdict(
            claim, cut[0] in found, time_s, part, f"its reasons at {clock(time_s)} are {told}"
        )

    def _reasons(self, time_s: float, part: str, name: str, far: bool, place: str) -> set[str]:
        """Every rule and part among a part's reasons; `name` must be one that could stand there."""
        found = reasons(self.timeline.flight, time_s, part, None if far else NEAR)
        known = {*self.flights.aircraft.parts, *found}
        if name not in known:
            near = nearest(name, known)
            raise Mistake(
                place, f"unknown reason '{name}'", sorted(found) or "the name of a rule or part", near
            )
        return found

    def _trend(self, claim: str, place: str) -> Verdict:
        quantity, _, tail = claim.partition(" ")
        units = self.flights.quantities
        if quantity not in units:
            raise unknown(place, "quantity", quantity, units)
        start_s, end_s, head = self.span(tail, place)
        found = _TREND.fullmatch(head)
        word = found[1] if found else ""
        if not found or (word == "stays") != ("within" in head):
            raise Mistake(
                place, f"'{head}' is no trend", ("rises", "falls", "rises by >= 400 kg", "stays within 5 kg")
            )
        if found[3] and found[4] != units[quantity]:
            raise Mistake(place, f"unit '{found[4]}' for {quantity}", units[quantity] or "no unit")
        amount = float(found[3].replace(",", "")) if found[3] else 0.0
        blank_s = self.timeline.first_blank(quantity, start_s, end_s)
        if blank_s is not None:
            raise self._shows_nothing([quantity], blank_s, place)
        values = self.values(quantity, start_s, end_s)
        change, unit = values[-1] - values[0], units[quantity]
        # The whole aircraft's totals belong to no part.
        head = quantity.partition(".")[0]
        part = head if head in self.flights.aircraft.parts else None
        said = f"{quantity} goes from {values[0]:,.1f} to {values[-1]:,.1f} {unit}"
        said = f"{said} between {clock(start_s)} and {clock(end_s)}"
        if word == "stays":
            spread = max(values) - min(values)
            return self._verdict(claim, spread <= amount, start_s, part, f"{said}, spread {spread:,.2f}")
        sign = 1.0 if word == "rises" else -1.0
        steps = [sign * (later - earlier) for earlier, later in pairwise(values)]
        # Two sums of the same mass can differ in the last bits: a billionth of the value is no turn.
        steady = all(step >= -1e-9 * (1.0 + abs(values[0])) for step in steps) and sign * change > 0.0
        holds = steady and (found[2] is None or _ordered(sign * change, found[2], amount))
        return self._verdict(claim, holds, start_s, part, said if steady else f"{said}, not steadily")

    def values(self, quantity: str, start_s: float, end_s: float) -> list[float]:
        """A quantity at every keyframe from just after `start_s` to just before `end_s`."""
        times = [start_s, *(t for t in self.timeline.flight.time_s if start_s < t < end_s), end_s]
        values: list[float] = []
        for low, high in pairwise(times):
            if high > low:
                values += self.timeline.line(quantity, low, high)
        return values or [self.timeline.flight.quantity(quantity, start_s)] * 2

    def _at(self, claim: str, condition_text: str, moment: str, place: str) -> Verdict:
        condition = self.flights.condition(condition_text, place)
        time_s = self.moments.find(moment, place)
        holds = self.timeline.truth(condition, time_s)
        if holds is None:
            raise self._hangs(condition, time_s, place)
        return self._verdict(claim, holds, time_s, _subject(condition), self.seen(condition, time_s))

    def _throughout(self, claim: str, place: str) -> Verdict:
        first, _, rest = claim.partition(" ")
        word = first if first in ("never", "sometimes") else ""
        start_s, end_s, head = self.span(rest if word else claim, place)
        condition = self.flights.condition(head, place)
        wanted = Condition(condition.text, Not(condition.node)) if word == "never" else condition
        pieces = list(self.timeline.pieces(wanted, start_s, end_s))
        part = _subject(condition)
        if word == "sometimes":
            hit = next((piece for piece in pieces if piece.holds), None)
            if hit is None:
                self._refuse_open(condition, pieces, place)
            time_s = hit.start_s if hit else start_s
            found = (
                self.seen(condition, time_s) if hit else f"never true from {clock(start_s)} to {clock(end_s)}"
            )
            return self._verdict(claim, hit is not None, time_s, part, found)
        slip = next((piece for piece in pieces if piece.holds is False), None)
        if slip is None:
            self._refuse_open(condition, pieces, place)
        if not pieces:
            return self._verdict(
                claim, False, start_s, part, f"from {clock(start_s)} to {clock(end_s)} is no time at all"
            )
        time_s = slip.start_s if slip else start_s
        return self._verdict(claim, slip is None, time_s, part, self.seen(condition, time_s))

    def _refuse_open(self, condition: Condition, pieces: list[Piece], place: str) -> None:
        """Raise Mistake where a piece's truth hangs on a figure that is not shown."""
        hanging = next((piece for piece in pieces if piece.holds is None), None)
        if hanging is not None:
            raise self._hangs(condition, hanging.start_s, place)

    def _hangs(self, condition: Condition, time_s: float, place: str) -> Mistake:
        compared = [leaf for leaf in condition.leaves() if not isinstance(leaf, Is)]
        names = [name for leaf in compared for name in (leaf.left, leaf.right) if isinstance(name, str)]
        return self._shows_nothing(
            [name for name in names if self.timeline.is_blank(name, time_s)], time_s, place
        )

    def _shows_nothing(self, quantities: list[str], time_s: float, place: str) -> Mistake:
        name = quantities[0]
        return Mistake(
            place,
            f"{name} shows nothing at {clock(time_s)}: of its figure nothing is true or false",
            (f"{name} is blank", "a time at which it shows a figure"),
        )

    def span(self, text: str, place: str) -> tuple[float, float, str]:
        """Cut off `from … to …` or `during …`: start and end in s, and what stood before it."""
        if cut := split_at(text, "during"):
            return (*self._during(cut[1], place), cut[0])
        cut = split_at(text, "from")
        ends = split_at(cut[1], "to") if cut else None
        if not cut or not ends:
            raise Mistake(place, f"'{text[:80]}' says of no time that it holds", _FORMS)
        start_s, end_s = self.moments.find(ends[0], place), self.moments.find(ends[1], place)
        if end_s < start_s:
            raise Mistake(
                place, f"from {clock(start_s)} to {clock(end_s)} runs backwards", "the earlier moment first"
            )
        return start_s, end_s, cut[0]

    def _during(self, text: str, place: str) -> tuple[float, float]:
        flight = self.timeline.flight
        if text == "flight":
            return 0.0, flight.duration_s
        start_s = self.moments.find(text, place) if text.startswith("phase ") else None
        if start_s is None:
            raise unknown(
                place,
                "stretch of time",
                text,
                ("flight", *(f"phase {phase.name}" for phase in flight.phases)),
            )
        later = [phase.start_s for phase in flight.phases if phase.start_s > start_s]
        return start_s, min(later, default=flight.duration_s)

    def seen(self, condition: Condition, time_s: float) -> str:
        """Say what the flight shows of everything that a condition speaks of."""
        facts: dict[str, str] = {}
        for leaf in condition.leaves():
            if isinstance(leaf, Is):
                facts[leaf.part] = self._seen_of(leaf, time_s)
                continue
            for name in (leaf.left, leaf.right):
                if isinstance(name, str) and self.timeline.is_blank(name, time_s):
                    facts[name] = f"{name} is blank"
                elif isinstance(name, str):
                    value = self.timeline.flight.quantity(name, time_s)
                    facts[name] = (
                        f"{name} is {value:,.4g}" if abs(value) < 10.0 else f"{name} is {value:,.1f}"
                    )
                    facts[name] = f"{facts[name]} {self.flights.quantities[name]}".rstrip()
        return f"at {clock(time_s)} {', '.join(facts.values())}"

    def _seen_of(self, leaf: Is, time_s: float) -> str:
        if may_be_blank(leaf.part):
            return f"{leaf.part} {'is blank' if self.timeline.is_blank(leaf.part, time_s) else 'is shown'}"
        return f"{leaf.part} is '{self.timeline.flight.state(leaf.part, time_s)}'"


def _ordered(left: float, op: str, right: float) -> bool:
    return {"<": left < right, "<=": left <= right, ">": left > right, ">=": left >= right}[op]


def _subject(condition: Condition) -> str | None:
    """The part that a reader should look at: the first that the condition names."""
    for leaf in condition.leaves():
        name = (leaf.part if isinstance(leaf, Is) else leaf.left).partition(".")[0]
        if name not in ("phase", "total", "flight"):
            return name
    return None


def _pieces(text: str) -> list[str]:
    """Cut a list of edits at its commas, leaving quoted states whole."""
    pieces, quoted, start = [], False, 0
    for at, character in enumerate(text):
        quoted ^= character == '"'
        if character == "," and not quoted:
            pieces.append(text[start:at].strip())
            start = at + 1
    return [*pieces, text[start:].strip()]

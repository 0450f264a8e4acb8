"""The recorded flight of a page and its edited versions, each flown once and kept."""

from dataclasses import dataclass, field

from wetwing.aircraft.condition import Compare, Condition, check, parse
from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.names import quantities, states
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight
from wetwing.flight.script import Edit, Script, with_edits
from wetwing.teach.blank import BLANK, may_be_blank
from wetwing.teach.planned import with_plan
from wetwing.teach.timeline import Timeline

Edits = tuple[Edit, ...]


@dataclass
class Flights:
    """One aircraft and one script; `edited(())` is the recorded flight itself."""

    aircraft: Aircraft
    script: Script
    _kept: dict[Edits, Timeline] = field(default_factory=dict)

    @property
    def recorded(self) -> Timeline:
        """The flight as its script has it."""
        return self.edited(())

    def edited(self, edits: Edits) -> Timeline:
        """The flight with these edits. Raises Mistake where an edit names no part, state or time."""
        if edits not in self._kept:
            script = with_edits(self.script, edits, self.aircraft) if edits else self.script
            self._kept[edits] = Timeline(fly(self.aircraft, script, self._nearest(edits)))
        return self._kept[edits]

    def forget_edited(self) -> None:
        """Keep the recorded flight alone."""
        self._kept = {edits: kept for edits, kept in self._kept.items() if not edits}

    def _nearest(self, edits: Edits) -> Flight | None:
        """The flight that shares most of the way: the same edits without the last of them, or none at all."""
        if not edits:
            return None
        shared = max((n for n in range(1, len(edits)) if edits[:n] in self._kept), default=0)
        return self.edited(edits[:shared]).flight

    def condition(self, text: str, place: str) -> Condition:
        """Parse a condition and check every name in it. Raises Mistake."""
        condition = with_plan(parse(text, place), self.script, place)
        phases = tuple(phase.name for phase in self.script.phases)
        shown = {quantity: (BLANK,) for quantity in self.quantities if may_be_blank(quantity)}
        check(condition, place, states(self.aircraft, phases) | shown, self.quantities)
        for leaf in condition.leaves():
            if isinstance(leaf, Compare) and leaf.change:
                wanted = f"'{leaf.left} falls by >= … from … to …'"
                raise Mistake(
                    place,
                    f"{leaf.change}({leaf.left}) belongs to a rule, which has a beginning to count from",
                    wanted,
                )
        return condition

    @property
    def quantities(self) -> dict[str, str]:
        """Every quantity's name with its unit."""
        return quantities(self.aircraft)

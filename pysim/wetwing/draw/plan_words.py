"""What the labels of the wing plan say, built of hooks that a painter fills in."""

import re

from wetwing.aircraft.model import (
    Aircraft,
    Control,
    Display,
    Engine,
    Part,
    Pump,
    Return,
    Tank,
    Transfer,
    Valve,
    Vent,
)
from wetwing.draw.frame import Layout
from wetwing.draw.lettering import Label, Line, Word, rate, state, unit, value, word


def short(part: Part, *known: str) -> str:
    """Return a part's label without words that its place already says.

    `Main left forward pump` in the main left tank is a `forward pump`.
    """
    text = part.label
    for phrase in known:
        text = re.sub(rf"\b{re.escape(phrase)}\b,? ?", "", text, flags=re.IGNORECASE).strip(" ,")
    if not text:
        return part.label
    return text if text[:2].isupper() else text[0].lower() + text[1:]


def _flow(part: str, when: str, longest: str = "1,450") -> list[Word]:
    """Return a part's flow with its unit, after a space, while a test holds."""
    amount = value(f"{part}.flow_kg_h", "kg/h", longest, "value", when)
    return [word(" ", when=when), amount, unit("kg/h", when=when)]


class Wording:
    """Makes every label of one layout."""

    def __init__(self, aircraft: Aircraft, layout: Layout) -> None:
        self.aircraft = aircraft
        self.layout = layout

    def line(self, *words: Word, bold: bool = False, look: str = "") -> Line:
        """Return a line in small letters."""
        return Line(list(words), self.layout.small_size, bold, look)

    def label(self, part: str, *lines: Line, anchor: str = "start", look: str = "") -> Label:
        """Return a label of lines."""
        return Label(part, list(lines), self.layout.line, anchor, look)

    def one_or_two(self, first: list[Word], second: list[Word]) -> list[Line]:
        """Return one line where the layout has room across, else two."""
        if self.layout.name == "wide":
            return [self.line(*first, *second)]
        return [self.line(*first), self.line(*second)]

    def tank(self, part: Tank) -> Label:
        """Name a tank: its mass, how that changes, what its gauge reads."""
        name = part.name
        spills = word(f"spilling {self._whither(part)}", "state", f"{name}=spilling")
        moves = rate(f"{name}.rate_kg_h", when=f"{name}!=spilling")
        mass = [value(f"{name}.actual_kg", "kg", "8,880"), unit("kg", "unit small")]
        lines = [
            Line([word(part.label)], self.layout.name_size),
            Line(mass, self.layout.mass_size, True, "mass"),
            self.line(moves, spills, look="quiet"),
            self.line(word("gauge "), value(f"{name}.gauged_kg", "kg", "8,880", ""), look="quiet"),
        ]
        for jet in self.aircraft.jet_pumps:
            if jet.from_tank == name:
                lines.append(self.line(word("jet pump "), state(jet.name, jet.states), look="quiet"))
        return self.label(name, *lines, anchor="middle", look="tank")

    def _whither(self, tank: Tank) -> str:
        target = next((own for own in self.aircraft.tanks if own.name == tank.overflow.to), None)
        return f"into {target.label.lower()}" if target else "overboard"

    def _owner(self, part: Part) -> str:
        name = part.tank if isinstance(part, Pump) else None
        return next((tank.label for tank in self.aircraft.tanks if tank.name == name), "")

    def row(self, part: Part, anchor: str) -> Label:
        """Name a pump, a bypass or a check valve in one line."""
        owner = self._owner(part)
        known = (owner, "left", "right", "line") if owner else ("left", "right")
        words = [word(f"{short(part, *known)} "), state(part.name, part.states)]
        if isinstance(part, Pump):
            words += _flow(part.name, f"{part.name}={self._at_work(part)}")
        return self.label(part.name, self.line(*words), anchor=anchor)

    def _at_work(self, part: Pump) -> str:
        return "delivering" if "delivering" in part.states else "feeding"

    def pump(self, part: Pump, anchor: str) -> Label:
        """Name a pump in two lines."""
        flow = _flow(part.name, f"{part.name}=delivering")
        lines = (
            self.line(word(short(part, self._owner(part)))),
            self.line(state(part.name, part.states), *flow),
        )
        return self.label(part.name, *lines, anchor=anchor)

    def engine(self, part: Engine) -> Label:
        """Name an engine: its flow while it has one, and its state."""
        running = f"{part.name}=running|starting"
        flow = [
            value(f"{part.name}.flow_kg_h", "kg/h", "1,450", "value", running),
            unit("kg/h", "unit small", running),
        ]
        return self.label(
            part.name,
            self.line(word(part.label), bold=True),
            Line(flow, self.layout.name_size, True, "mass"),
            self.line(state(part.name, ("starting",), "quiet")),
            self.line(
                word("used "), value(f"{part.name}.used_kg", "kg", "8,880", ""), unit("kg"), look="quiet"
            ),
        )

    def apu(self, part: Engine) -> Label:
        """Name the APU."""
        lines = self.one_or_two([word(f"{part.label} ", "strong")], [state(part.name, ("starting",))])
        flow = self.line(*_flow(part.name, f"{part.name}=running|starting", "130"))
        return self.label(part.name, *lines, flow)

    def valve(self, part: Valve, *known: str) -> Label:
        """Name a valve and its state in one line."""
        return self.label(
            part.name, self.line(word(f"{short(part, *known)} "), state(part.name, part.states))
        )

    def tall_valve(self, part: Valve) -> Label:
        """Name a valve and its state, in two lines where the layout is narrow."""
        return self.label(
            part.name, *self.one_or_two([word(f"{short(part)} ")], [state(part.name, part.states)])
        )

    def split_valve(self, part: Valve) -> tuple[Label, Label]:
        """Name a valve and say its state, in two labels: one over it and one under it."""
        name = self.label(part.name, self.line(word(short(part, "valve"))), anchor="middle")
        return name, self.label(part.name, self.line(state(part.name, part.states)), anchor="middle")

    def shut_off(self, part: Valve) -> Label:
        """Name an engine's shut-off valve, which stands at its engine."""
        return self.label(part.name, self.line(word("shut-off valve "), state(part.name, part.states)))

    def transfer(self, valve: Valve, part: Transfer) -> Label:
        """Name a transfer's valve, with the flow while there is one."""
        first = [word(f"{short(valve, 'left', 'right')} "), state(valve.name, valve.states)]
        return self.label(valve.name, *self.one_or_two(first, _flow(part.name, f"{part.name}=flowing")))

    def back(self, valve: Valve, part: Return) -> Label:
        """Name a return flow and its valve."""
        when = f"{part.name}=flowing"
        first = self.line(
            word("return flow resting", "quiet", f"{part.name}=resting"), word("return flow", "warm", when),
            *_flow(part.name, when, "520"), word(f", {part.temperature_c:.0f} °C", "warm", when), look="warm",
        )  # fmt: skip
        return self.label(part.name, first, self.line(word("return valve "), state(valve.name, valve.states)))

    def vent(self, part: Vent) -> Label:
        """Name a vent, with what it spills."""
        first = [word("vent "), state(part.name, part.states)]
        return self.label(
            part.name, *self.one_or_two(first, _flow(part.name, f"{part.name}=spilling", "520"))
        )

    def pressure(self, node: str, anchor: str) -> Label:
        """Say a junction's pressure."""
        return self.label(
            node, self.line(value(f"{node}.pressure_bar", "bar", "2.43"), unit("bar")), anchor=anchor
        )

    def brief(self, part: Part, test: str) -> Label:
        """Say only a part's state, while a test holds."""
        text = self.line(state(part.name, part.states, "state", test))
        return self.label(part.name, text, anchor="middle", look="brief")

    def hose(self, part: Pump, anchor: str) -> Label:
        """Say what the refuelling supply delivers, while it does."""
        return self.label(
            part.name, self.line(*_flow(part.name, f"{part.name}=delivering", "62,000")[1:]), anchor=anchor
        )

    def display(self, part: Display) -> Label:
        """Name a figure that is not always available, and give it while it is."""
        shown = f"{part.name}=shown"
        return self.label(
            part.name,
            self.line(
                word(f"{part.label.lower()} "),
                word("not available", "state", f"{part.name}!=shown"),
                value(f"flight.{part.shows}", "kg", "98,880", "value", shown),
                unit("kg", when=shown),
            ),
            anchor="start",
            look="corner",
        )

    def lever(self, part: Control) -> Label:
        """Name what a person sets."""
        return self.label(
            part.name,
            self.line(word(f"{part.label.lower()} "), state(part.name, part.states)),
            anchor="end",
            look="corner",
        )

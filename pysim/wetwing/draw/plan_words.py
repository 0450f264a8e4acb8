"""What the labels of the wing plan say, built of hooks that a painter fills in."""

import re
from dataclasses import replace

from wetwing.aircraft.model import (
    Aircraft,
    Control,
    Display,
    Engine,
    Outlet,
    Part,
    Pump,
    Return,
    Tank,
    Transfer,
    Valve,
    Vent,
)
from wetwing.aircraft.names import TOTALS
from wetwing.draw.frame import Layout
from wetwing.draw.lettering import (
    INSIDE,
    Label,
    Line,
    Word,
    inside,
    on_gauges,
    rate,
    state,
    unit,
    unless,
    value,
    was,
    word,
)
from wetwing.teach.blank import NO_SIGNAL, probes_of

MOST_LETTERS = 12
"""How long a state may be in a class's large letters."""


def halved(text: str) -> tuple[str, str]:
    """Return a text in two lines, parted at the gap nearest to its middle."""
    gaps = [at for at, letter in enumerate(text) if letter == " "]
    gap = min(gaps, key=lambda at: abs(at - len(text) / 2))
    return text[:gap], text[gap + 1 :]


def blank_test(aircraft: Aircraft, tank: str) -> str:
    """Return the test that holds while a tank's gauge is blank; nothing where it has no probes."""
    return " & ".join(f"{probe}={NO_SIGNAL}" for probe in probes_of(aircraft, tank))


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
    return _amount(f"{part}.flow_kg_h", when, longest)


def _amount(quantity: str, when: str, longest: str = "1,450") -> list[Word]:
    return [word(" ", when=when), value(quantity, "kg/h", longest, "value", when), unit("kg/h", when=when)]


def _switched(part: Part) -> list[Word]:
    """Return how a pump is switched, where its state does not tell."""
    if not part.settings:
        return []
    name = part.name
    return [
        piece
        for setting in part.settings
        for piece in inside(
            word(f", switched {setting}", when=f"{name}=failed|no power|flowing back & {name}:set={setting}")
        )
    ]


def _differs(part: Valve) -> list[Word]:
    """Return what a valve is told, what its indication says, and whether it is stuck, where these differ."""
    name, words = part.name, []
    if part.settings:
        words += [
            word(f", told {told}", when=f"{name}!={told} & {name}:set={told}") for told in part.settings
        ]
    words += inside(
        *(
            word(f", shown {shown}", "strong", f"{name}!={shown} & {name}:shown={shown}")
            for shown in part.states
        ),
        word(", stuck", "strong", f"{name}~stuck"),
    )
    return words


def _back(part: str) -> list[Word]:
    """Return what passes a part backwards, while anything does."""
    return _amount(f"-{part}.flow_kg_h", f"{part}=flowing back", "9,250")


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
        leaks = word(", leaking", "state", f"{name}~leak")
        blank = blank_test(self.aircraft, name)
        sign = unit("kg", "unit small")
        mass = [value(f"{name}.actual_kg", "kg", "98,880"), *inside(sign)]
        mass += on_gauges(unless(sign, blank) if blank else sign)
        mass += inside(was(f"{name}.actual_kg", "8,880", self.layout.small_size / self.layout.mass_size))
        lines = [
            Line([word(part.label)], self.layout.name_size),
            Line(mass, self.layout.mass_size, True, "mass"),
            self.line(*inside(moves, spills, leaks), *self._by_gauge(blank), look="quiet"),
            self.line(*inside(word("gauge "), *self._gauge(name)), look="quiet"),
        ]
        for jet in self.aircraft.jet_pumps:
            if jet.from_tank == name:
                lines.append(self.line(*inside(word("jet pump "), state(jet.name, jet.states)), look="quiet"))
        return self.label(name, *lines, anchor="middle", look="tank")

    def brief_tank(self, part: Tank, folded: bool = False) -> Label:
        """Name a tank for a class, in two lines where the name is `folded`, with its mass.

        In one line of smaller letters stands what its gauge reads; in its place what is amiss; and in the
        place of both what the mass was in an earlier flight.
        """
        name, sign = part.name, unit("kg", "unit small")
        blank = blank_test(self.aircraft, name)
        mass = [value(f"{name}.actual_kg", "kg", "88,880"), *inside(sign)]
        # One of the two signs is shown at a time: the second takes no more room.
        mass += [replace(own, scale=0.0) for own in on_gauges(unless(sign, blank) if blank else sign)]
        amiss = inside(
            word("spilling", "state", f"{name}=spilling"), word(" leaking", "state", f"{name}~leak")
        )
        if blank:
            amiss.append(word(" no signal", "state", blank))
        gauged = [unless(piece, blank) if blank else piece for piece in self._reading(name)]
        small = self.layout.small_size
        names = part.label.rsplit(" ", 1) if folded else [part.label]
        lines = [
            *(Line([word(name)], self.layout.name_size) for name in names),
            Line(mass, self.layout.mass_size, True, "mass"),
            self.line(*inside(word("gauge "), *gauged), look="quiet gives"),
            Line(amiss, small, look="gives", instead=True),
            Line(inside(was(f"{name}.actual_kg", "8,880", 1.0)), small, look="earlier", instead=True),
        ]
        return self.label(name, *lines, anchor="middle", look="tank")

    def brief_engine(self, part: Engine) -> Label:
        """Name an engine for a class: its flow while it has one, else its state, a long one in two lines of
        smaller letters."""
        title, flow, *_ = self.engine(part).lines
        size, small, name = self.layout.name_size, self.layout.small_size, part.name
        resting = [own for own in part.states if own != "running"]
        brief = [own for own in resting if len(own) <= MOST_LETTERS]
        lines = [
            Line(title.words, size, True),
            Line(flow.words, size, True, "mass gives"),
            Line([state(name, tuple(brief), when=f"{name}={'|'.join(brief)}")], size, instead=True),
        ]
        long_ones = [(own, *halved(own)) for own in resting if own not in brief]
        firsts = [word(first, "state", f"{name}={own}") for own, first, _ in long_ones]
        seconds = [word(second, "state", f"{name}={own}") for own, _, second in long_ones]
        return self.label(name, *lines, Line(firsts, small, instead=True), Line(seconds, small))

    def _by_gauge(self, blank: str) -> list[Word]:
        """Return what stands under a mass that its gauge gives."""
        words = on_gauges(unless(word("by its gauge"), blank) if blank else word("by its gauge"))
        return words + (on_gauges(word("no signal", "state", blank)) if blank else [])

    def _whither(self, tank: Tank) -> str:
        target = next((own for own in self.aircraft.tanks if own.name == tank.overflow.to), None)
        return f"into {target.label.lower()}" if target else "to the vent"

    def _gauge(self, tank: str) -> list[Word]:
        """Return what a gauge reads; it is blank while no probe of the tank gives a signal."""
        blank = blank_test(self.aircraft, tank)
        if not blank:
            return self._reading(tank)
        return [*(unless(piece, blank) for piece in self._reading(tank)), word("no signal", "state", blank)]

    def _reading(self, tank: str) -> list[Word]:
        return [value(f"{tank}.gauged_kg", "kg", "8,880", ""), unit("kg")]

    def _owner(self, part: Part) -> str:
        name = part.tank if isinstance(part, Pump) else None
        return next((tank.label for tank in self.aircraft.tanks if tank.name == name), "")

    def row(self, part: Part, anchor: str, folded: bool = False) -> Label:
        """Name a pump, a bypass or a check valve in one line, or in two where it is `folded`."""
        owner = self._owner(part)
        known = (owner, "left", "right", "line") if owner else ("left", "right")
        name, words = word(f"{short(part, *known)} "), [state(part.name, part.states)]
        if isinstance(part, Pump):
            words += _flow(part.name, f"{part.name}={self._at_work(part)}") + _back(part.name)
        words += _switched(part)
        lines = [self.line(name), self.line(*words)] if folded else [self.line(name, *words)]
        return self.label(part.name, *lines, anchor=anchor, look="" if part.settings else INSIDE)

    def _at_work(self, part: Pump) -> str:
        return "delivering" if "delivering" in part.states else "feeding"

    def pump(self, part: Pump, anchor: str) -> Label:
        """Name a pump in two lines."""
        flow = _flow(part.name, f"{part.name}=delivering")
        lines = (
            self.line(word(short(part, self._owner(part)))),
            self.line(state(part.name, part.states), *flow, *_back(part.name), *_switched(part)),
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
            self.line(
                state(part.name, ("starting",), "quiet"),
                *inside(word(", leaking", "state", f"{part.name}~leak")),
            ),
            self.line(
                word("used "), value(f"{part.name}.used_kg", "kg", "8,880", ""), unit("kg"), look="quiet"
            ),
        )

    def apu(self, part: Engine) -> Label:
        """Name the APU."""
        lines = self.one_or_two([word(f"{part.label} ", "strong")], [state(part.name, ("starting",))])
        flow = self.line(*inside(*_flow(part.name, f"{part.name}=running|starting", "130")))
        return self.label(part.name, *lines, flow)

    def valve(self, part: Valve, *known: str) -> Label:
        """Name a valve and its state in one line."""
        return self.label(
            part.name,
            self.line(word(f"{short(part, *known)} "), state(part.name, part.states), *_differs(part)),
        )

    def tall_valve(self, part: Valve) -> Label:
        """Name a valve and its state, in two lines where the layout is narrow."""
        now = [state(part.name, part.states), *_differs(part)]
        return self.label(part.name, *self.one_or_two([word(f"{short(part)} ")], now))

    def split_valve(self, part: Valve) -> tuple[Label, Label]:
        """Name a valve, with what it is told and shows where that differs, and say its state, in two labels:
        one over it and one under it, where there is less room."""
        name = self.line(word(short(part, "valve")), *_differs(part))
        now = self.line(state(part.name, part.states))
        return self.label(part.name, name, anchor="middle"), self.label(part.name, now, anchor="middle")

    def shut_off(self, part: Valve) -> Label:
        """Name an engine's shut-off valve, which stands at its engine, and the filter beyond it."""
        lines = [self.line(word("shut-off valve "), state(part.name, part.states), *_differs(part))]
        users = {user.name for user in self.aircraft.engines if user.valve == part.name}
        for filter_ in self.aircraft.filters:
            if filter_.user in users:
                lines.append(self.line(*inside(word("filter "), state(filter_.name, filter_.states))))
        return self.label(part.name, *lines)

    def transfer(self, valve: Valve | None, part: Transfer) -> Label:
        """Name a transfer's valve, or itself where it has none, with the flow while there is one."""
        if valve is None:
            words = [word(f"{short(part, 'left', 'right')} "), state(part.name, part.states)]
            flow = _flow(part.name, f"{part.name}=flowing")
            return self.label(part.name, self.line(*words, *flow), look=INSIDE)
        first = [word(f"{short(valve, 'left', 'right')} "), state(valve.name, valve.states), *_differs(valve)]
        return self.label(valve.name, *self.one_or_two(first, _flow(part.name, f"{part.name}=flowing")))

    def back(self, valve: Valve, part: Return) -> Label:
        """Name a return flow and its valve."""
        when = f"{part.name}=flowing"
        first = self.line(
            word("return flow resting", "quiet", f"{part.name}=resting"), word("return flow", "warm", when),
            *_flow(part.name, when, "520"), look="warm",
        )  # fmt: skip
        oil = (value(f"{part.name}.oil_c", "°C", "−10", ""), unit("°C"))
        first.words = inside(*first.words)
        return self.label(
            part.name,
            first,
            self.line(*inside(word("oil at "), *oil), look="warm"),
            self.line(word("return valve "), state(valve.name, valve.states), *_differs(valve)),
        )

    def vent(self, part: Vent) -> Label:
        """Name a vent, with what its surge space holds and what it spills."""
        first = [word("vent "), state(part.name, part.states)]
        holds = f"{part.name}=holding"
        held = [
            word(" ", when=holds),
            value(f"{part.name}.surge_kg", "kg", "88", "value", holds),
            unit("kg", when=holds),
        ]
        spilled = _flow(part.name, f"{part.name}=spilling", "520")
        return self.label(part.name, *self.one_or_two(first, [*held, *spilled]), look=INSIDE)

    def outlet(self, part: Outlet) -> Label:
        """Name an outlet, with what leaves by it."""
        first = [word(f"{short(part, 'left', 'right')} "), state(part.name, part.states)]
        flow = _flow(part.name, f"{part.name}=flowing")
        return self.label(part.name, *self.one_or_two(first, flow), look=INSIDE)

    def pressure(self, node: str, anchor: str) -> Label:
        """Say a junction's pressure."""
        pressure = [value(f"{node}.pressure_bar", "bar", "2.43"), unit("bar")]
        leak = word(", leak", "state", f"{node}~leak")
        return self.label(node, self.line(*pressure, leak), anchor=anchor, look=INSIDE)

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
        quantity = f"total.{part.shows}" if part.shows in TOTALS else f"flight.{part.shows}"
        return self.label(
            part.name,
            self.line(
                word(f"{part.label.lower()} "),
                word("not available", "state", f"{part.name}!=shown"),
                value(quantity, "kg", "98,880", "value", shown),
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

"""Where the labels of the wing plan stand.

Tanks are named under their place, pumps in a column a side, valves of the wing along its leading edge. Every
label is given the room that its longest words need.
"""

from wetwing.aircraft.model import CheckValve, Part, Point, Pump, Valve
from wetwing.draw.frame import Box, Frame, centroid
from wetwing.draw.lettering import BROAD, INSIDE, Label
from wetwing.draw.plan_body import FLAP_GAP_M, nacelle_boxes
from wetwing.draw.plan_brief import GAP, brief_labels
from wetwing.draw.plan_leaders import Wish, lane, ways
from wetwing.draw.plan_lines import Lines
from wetwing.draw.plan_words import Wording
from wetwing.draw.svg import Element, make, points

MOST_ASIDE = 24.0
"""How far from its part a line may come down, px."""
ANCHORS = {-1: "end", 1: "start"}
USUAL = 0.68
"""The share of a row's room that its usual words take: a state and a flow."""


def plate(box: Box) -> Element:
    """Return what lets the words of a box be read over the line that comes down from another tank."""
    width, height = USUAL * (box.right - box.left), box.bottom - box.top + 2
    left = (box.left + box.right - width) / 2
    return make("rect", class_="plate", x=left, y=box.top, width=width, height=height, rx=6)


class Labels:
    """All labels of one drawing. `bottom` is the px y under which nothing stands."""

    def __init__(self, frame: Frame, lines: Lines) -> None:
        self.frame = frame
        self.lines = lines
        self.layout = frame.layout
        self.words = Wording(frame.aircraft, frame.layout)
        self.nacelles = {name: Box(*box) for name, box in nacelle_boxes(frame).items()}
        self.labels: list[Label] = []
        self.wishes: list[tuple[Label, Wish]] = []
        self.plates: list[Element] = []
        self.columns: dict[int, list[tuple[Label, Point]]] = {-1: [], 1: []}
        self.bottom = 0.0
        if frame.layout.brief:
            for label in brief_labels(frame, lines, self.words, self.nacelles):
                self._put(label, *label.place)
            return
        parts = {side: self._column_parts(side) for side in (-1, 1)}
        self._tanks(parts)
        self._rows(parts)
        self._fuselage_pumps()
        self._engines()
        self._tail()
        self._ahead()
        self._on_the_lines()
        self._levers()

    def _put(self, label: Label, x: float, y: float) -> Label:
        label.place = (x, y)
        box = label.box()
        # Where half of the drawing is shown, what belongs to the other half would be cut through.
        if box.left > self.frame.middle:
            label.half = "right"
        elif box.right < self.frame.middle:
            label.half = "left"
        self.labels.append(label)
        self.bottom = max(self.bottom, box.bottom)
        return label

    def _lead(self, label: Label, *places: Point, starts: tuple[Point, ...] = ()) -> None:
        """Ask for a line from a label to its part: the plain way, or one from another start."""
        self.wishes.append((label, Wish(places, self.labels.index(label), starts)))

    def leaders(self) -> list[Element]:
        """Lead from the labels to their parts, clear of words: each line is seen where its label is."""
        self._lead_columns()
        found = ways(
            tuple(wish for _, wish in self.wishes), tuple(label.box(usual=True) for label in self.labels)
        )
        return [
            make(
                "polyline", class_=f"leader {label.look}" if label.look == INSIDE else "leader",
                points=points(*way), data_leads=label.part,
            )
            for (label, _), way in zip(self.wishes, found, strict=True)
        ]  # fmt: skip

    def _lead_columns(self) -> None:
        """Lead from the rows of the columns straight up to their parts, once all words have their places."""
        for side, rows in self.columns.items():
            lanes = self._lanes(side, rows)
            for (label, (px, py)), down in zip(rows, lanes, strict=True):
                start, (x, y) = py + self.layout.symbol + 1, label.place
                # A row that begins under its part has the line end over its words.
                level = y + self.layout.line * 0.56
                foot = [(down, y - 1)] if side * (x - px) < 6 else [(x - side * 4, level), (down, level)]
                jog = [(down, start + 2 * abs(down - px))] if down != px else []
                self._lead(label, *foot, *jog, (px, start))

    def _lanes(self, side: int, rows: list[tuple[Label, Point]]) -> list[float]:
        """Return where the line of each row comes down: under its part, or a little outboard of that where
        words stand in its way."""
        plain = [px for _, (px, _) in rows]
        found: list[float] = []
        for label, (px, py) in reversed(rows):
            words = tuple(own.box(usual=True) for own in self.labels if own is not label)
            start, end = py + self.layout.symbol + 2, label.place[1] + self.layout.line * 0.56
            found.append(lane(px, start, end, side, words, found[-1] if found else None))
        found.reverse()
        far = any(abs(down - px) > MOST_ASIDE for down, px in zip(found, plain, strict=True))
        beyond = any(
            side * (label.place[0] - down) < -1 for (label, _), down in zip(rows, found, strict=True)
        )
        return plain if far or beyond else found

    def lacking_px(self) -> float:
        """Return how much more room the labels need over the aircraft, clear of those in the corners, px."""
        corners = [label.box() for label in self.labels if label.look == "corner"]
        lacking, margin = 0.0, 2.0 if self.layout.brief else 4.0
        for label in self.labels:
            box = label.box()
            if label.look == "corner":
                continue
            over = [own.bottom for own in corners if own.left < box.right + 4 and box.left < own.right + 4]
            lacking = max([lacking, margin - box.top, *(bottom + 4.0 - box.top for bottom in over)])
        return lacking

    def _side(self, x: float) -> int:
        return 1 if x > self.frame.middle else -1

    def _tanks(self, columns: dict[int, list[Part]]) -> None:
        """Under the wing for a wing tank, ahead of it for one in the fuselage."""
        middle = self.frame.middle
        fuselage = [tank for tank in self.frame.aircraft.tanks if tank.side == "centre"]
        placed: list[Label] = []
        # From the root outwards: where two have not room beside each other, the outer one stands lower.
        for tank in sorted(self.frame.aircraft.tanks, key=lambda tank: abs(centroid(tank.outline_m)[1])):
            label = self.words.tank(tank)
            x, _ = self.frame.at(centroid(tank.outline_m))
            if tank.side == "centre":
                top = min(self.frame.at(place)[1] for place in tank.outline_m)
                self._put(label, x, top - GAP - label.height())
                if any(self.frame.at(centroid(other.outline_m))[1] < label.box().top for other in fuselage):
                    self.plates.append(plate(label.box()))
                continue
            side, half = self._side(x), label.width() / 2
            # The lines that lead to the column of pumps come down between the fuselage and this label.
            leads = [abs(self._place_of(part)[0] - middle) for part in columns[side]]
            clear = max(leads, default=0.0) + 10 + half
            x = middle + side * min(max(abs(x - middle), clear), middle - 6 - half)
            edge = max(self.frame.trailing_edge(x + step * half / 2) for step in range(-2, 3))
            # Clear of the flaps, whether they are out or in.
            y = edge + FLAP_GAP_M * self.frame.scale + 4
            for other in placed:
                box = Box(x - half, y, x + half, y + label.height())
                if box.touches(other.box(), 4):
                    y = other.box().bottom + 4
            placed.append(self._put(label, x, y))

    def _place_of(self, part: Part) -> Point:
        if isinstance(part, Pump):
            return self.lines.pump_place(part)
        assert isinstance(part, CheckValve)
        return self.frame.at(part.at_m)

    def _column_parts(self, side: int) -> list[Part]:
        aircraft = self.frame.aircraft
        centre = {tank.name for tank in aircraft.tanks if tank.side == "centre"}
        wing_pumps = [pump for pump in (*aircraft.pumps, *aircraft.bypasses) if pump.tank not in centre]
        parts: tuple[Part, ...] = (*wing_pumps, *aircraft.check_valves)
        own = [part for part in parts if self._side(self._place_of(part)[0]) == side]
        # The outermost comes first, so that the lines that lead there nest and do not cross.
        return sorted(own, key=lambda part: -abs(self._place_of(part)[0] - self.frame.middle))

    def _rows(self, columns: dict[int, list[Part]]) -> None:
        """Pumps, bypasses and check valves of a wing, under the tanks' labels: a line each, or two where the
        drawing has no room for the usual words of the longest in one."""
        top = max((label.box().bottom for label in self.labels if label.look == "tank"), default=0.0) + GAP
        spots = {
            side: [abs(self._place_of(part)[0] - self.frame.middle) for part in parts]
            for side, parts in columns.items()
        }
        # Rows that would run out of the drawing stand farther in, clear of the next line that comes down.
        outs = {side: [spot + 13 for spot in places[:2]] for side, places in spots.items()}
        for folded in (False, True):
            rows = {
                side: [self.words.row(part, ANCHORS[side], folded) for part in parts]
                for side, parts in columns.items()
            }
            most = {
                side: self.frame.width / 2 - 4 - BROAD * max((row.width(True) for row in own), default=0.0)
                for side, own in rows.items()
            }
            if all(most[side] >= out[-1] for side, out in outs.items() if out):
                break
        for side, parts in columns.items():
            out, y = outs[side], top
            x = self.frame.middle + side * min(out[0], max(most[side], out[-1])) if out else 0.0
            for part, row in zip(parts, rows[side], strict=True):
                label = self._put(row, x, y)
                self.columns[side].append((label, self._place_of(part)))
                y += row.height() + 1.5

    def _fuselage_pumps(self) -> None:
        """Pumps of a fuselage tank: over its label, and over the nacelles where they would touch."""
        middle = self.frame.middle
        centre = [tank.name for tank in self.frame.aircraft.tanks if tank.side == "centre"]
        pumps = [pump for pump in self.frame.aircraft.pumps if pump.tank in centre]
        if not pumps:
            return
        owner = next(label for label in self.labels if label.part in centre).box()
        sides = {pump.name: self._side(self.lines.pump_place(pump)[0]) for pump in pumps}
        labels = {pump.name: self.words.pump(pump, ANCHORS[sides[pump.name]]) for pump in pumps}
        height = max(label.height() for label in labels.values())
        reach = max(label.width() for label in labels.values()) + 8
        bottom = owner.top - GAP
        band = Box(middle - reach, bottom - height, middle + reach, bottom)
        if any(band.touches(box, 6) for box in self.nacelles.values()):
            bottom = min(bottom, min(box.top for box in self.nacelles.values()) - 6)
        stacked = {-1: 0, 1: 0}
        for pump in pumps:
            place, side = self.lines.pump_place(pump), sides[pump.name]
            self._put(labels[pump.name], middle + side * 8, bottom - height - stacked[side] * (height + 2))
            stacked[side] += 1
            # Down beside the tank's label, then in to the pump.
            beside, elbow = middle + side * (owner.right - middle + 5), owner.bottom + 2
            end = (place[0], place[1] - self.layout.symbol - 1)
            self._lead(labels[pump.name], (beside, bottom + 2), (beside, elbow), end)

    def _engines(self) -> None:
        """In the nacelle where it is wide enough, else beside it."""
        for engine in self.frame.aircraft.engines:
            box, label = self.nacelles[engine.name], self.words.engine(engine)
            middle, long = (box.left + box.right) / 2, box.bottom - box.top
            if box.right - box.left > label.width() * 0.9:
                label.anchor = "middle"
                self._put(label, middle, box.top + long * 0.28)
                continue
            side = self._side(middle)
            label.anchor = ANCHORS[side]
            self._put(label, (box.right if side > 0 else box.left) + side * 7, box.top + long * 0.08)

    def _ahead(self) -> None:
        """Valves of the wing and vents: ahead of the leading edge, from the tip inwards."""
        aircraft = self.frame.aircraft
        wanted: list[tuple[Part, Point, Label]] = []
        shut_offs = {engine.valve for engine in aircraft.engines}
        for valve in aircraft.valves:
            place = self.frame.at(valve.at_m)
            wanted += [
                (valve, place, self.words.transfer(valve, own))
                for own in aircraft.transfers if own.valve == valve.name
            ]  # fmt: skip
            if self._ends_alone(valve):
                wanted.append((valve, place, self.words.valve(valve, "left", "right")))
            wanted += [
                (valve, place, self.words.back(valve, own))
                for own in aircraft.returns
                if own.valve == valve.name
            ]
            if valve.name in shut_offs:
                wanted.append((valve, place, self.words.shut_off(valve)))
        for own in aircraft.transfers:
            if own.valve is None:
                wanted.append((own, self.lines.transfer_place(own), self.words.transfer(None, own)))
        wanted += [(vent, self.frame.at(vent.at_m), self.words.vent(vent)) for vent in aircraft.vents]
        wanted += [
            (part, self.lines.outlets[part.name], self.words.outlet(part)) for part in aircraft.outlets
        ]
        placed = [label.box() for label in self.labels] + list(self.nacelles.values())
        wanted.sort(key=lambda item: (-abs(item[1][0] - self.frame.middle), item[0].name))
        for _, place, label in wanted:
            if not self._stand_beside(place, label, placed):
                self._stand_ahead(place, label, placed)
            placed.append(label.box())

    def _ends_alone(self, valve: Valve) -> bool:
        """Say whether a valve leads from a node to a tank or an outlet, and no gallery names it."""
        if not valve.ends or set(valve.ends) & self.lines.galleries:
            return False
        return not set(valve.ends) <= set(self.lines.nodes)

    def _stand_beside(self, place: Point, label: Label, taken: list[Box]) -> bool:
        """Put a label beside a symbol that stands aft of the wing, if there is room."""
        x, y = place
        if y < self.frame.trailing_edge(x) + self.layout.line:
            return False
        top, gap = y - label.height() / 2 - 1, self.layout.symbol + 5
        for side in (1, -1):
            left = x + gap if side > 0 else x - gap - label.width()
            box = Box(left, top, left + label.width(), top + label.height())
            if not any(box.touches(other, 2) for other in taken):
                label.anchor = ANCHORS[side]
                self._put(label, x + side * gap, top)
                return True
        return False

    def _stand_ahead(self, place: Point, label: Label, taken: list[Box]) -> None:
        """Put a label over the leading edge, above whatever is already there."""
        middle, side = self.frame.middle, self._side(place[0])
        width, height = label.width(), label.height()
        inner = abs(place[0] - middle) + 6
        for box in self.nacelles.values():
            near, far = sorted((abs(box.left - middle), abs(box.right - middle)))
            # What hides behind a nacelle starts beside it.
            if self._side(box.left) == side and near < inner < far + 8:
                inner = far + 8
        inner = min(inner, middle - 5 - width)
        left = middle + (inner if side > 0 else -inner - width)
        bottom = self.frame.leading_edge(middle + side * inner) - 0.75 * self.frame.scale
        box = Box(left, bottom - height, left + width, bottom)
        while blocking := next((other for other in taken if box.touches(other, 3)), None):
            bottom = blocking.top - 3.5
            box = Box(left, bottom - height, left + width, bottom)
        label.anchor = ANCHORS[side]
        x = middle + side * inner
        self._put(label, x, bottom - height)
        end = (place[0] + side * 2, place[1] - self.layout.symbol * 0.8)
        starts = ((x - side * 4, bottom - height / 2),)
        self._lead(label, (x + side * 3, bottom + 1), end, starts=starts)

    def _on_the_lines(self) -> None:
        """Pressures, the valves between manifolds, refuelling: beside their symbols."""
        aircraft, symbol, line = self.frame.aircraft, self.layout.symbol, self.layout.line
        for node in sorted({engine.node for engine in aircraft.engines}):
            x, y = self.lines.nodes[node]
            side = self._side(x)
            self._put(self.words.pressure(node, ANCHORS[side]), x + side * (symbol + 11), y - line * 0.35)
        for valve in aircraft.valves:
            x, y = self.lines.valves[valve.name]
            if valve.ends and all(end in self.lines.nodes for end in valve.ends):
                name, now = self.words.split_valve(valve)
                name.place = (x, y - symbol - 2 - line)
                if any(name.box().touches(label.box()) for label in self.labels):
                    # Something else is named over it: name and state stand under it.
                    self._put(name, x, y + symbol * 0.6)
                    self._put(now, x, y + symbol * 0.6 + line)
                    continue
                self._put(name, *name.place)
                self._put(now, x, y + symbol * 0.6)
            elif valve.ends and set(valve.ends) & self.lines.galleries:
                self._put(self.words.brief(valve, f"{valve.name}!=shut"), x, y + symbol * 0.5)
        for supply in aircraft.supplies:
            x, y = self.frame.at(supply.at_m)
            side = self._side(x)
            self._put(self.words.hose(supply, ANCHORS[side]), x + side * (symbol + 3), y + 3)

    def _tail(self) -> None:
        """The APU and its valve stand between the halves: their words are shown with either."""
        symbol = self.layout.symbol
        valves = {valve.name: valve for valve in self.frame.aircraft.valves}
        for apu in self.frame.aircraft.apus:
            x, y = self.frame.at(apu.at_m)
            own = self._put(self.words.apu(apu), x + symbol + 8, y - self.layout.line * 0.7)
            x, y = self.lines.valves[apu.valve]
            label = self.words.tall_valve(valves[apu.valve])
            self._put(label, x + symbol + 6, y - label.height() / 2 - 1)
            own.half = label.half = ""

    def _levers(self) -> None:
        """Slats and flaps in one corner, figures that are not always available in the other."""
        named = {control.name: control for control in self.frame.aircraft.controls}
        shown = [named[name] for name in ("slats", "flaps") if name in named]
        for index, control in enumerate(shown):
            label = self._put(self.words.lever(control), self.frame.width - 10, 8 + index * self.layout.line)
            label.half = "right"
        for index, display in enumerate(self.frame.aircraft.displays):
            label = self._put(self.words.display(display), 10, 8 + index * self.layout.line)
            label.half = "left"

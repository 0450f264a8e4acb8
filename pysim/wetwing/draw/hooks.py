"""Hooks: attributes that say what an element shows, and the painter that fills them in from a moment of a
flight.

A drawing is made once, as a template with hooks. Python paints it for a still picture; `docs/panel/paint.js`
paints the same
hooks in the page. Neither knows what is drawn. Hooks:

A quantity may be a sum of several, joined by ` + `, except for rates and fills; `-quantity` takes its sign
from it:

- `data-value="quantity" data-unit="kg"`: the text is the figure. `data-unit-word="kg"`: the text is a space
  and the unit.
- `data-rate="quantity"`: the text says rising, falling or steady.
- `data-state="part"`: the text is the part's state. `data-now-of="part"`: the attribute `data-now` is the
  part's state.
- `data-flow="quantity" data-px-per-kg-h data-least-px data-most-px`: stroke width by flow; gone when nothing
  flows; `data-back` on reverse flow.
- `data-fill="quantity" data-shape data-from data-length`: a rectangle that is as far wetted as the tank.
  `data-length` is signed.
- `data-was="quantity"`: shown only while an earlier flight is laid behind this one and differs in the
  quantity by more than 10 kg; a text says what it was. With `data-was-fill`, the rectangle is wetted as far
  as the earlier flight's tank. A still picture has no earlier flight.
- `data-when="test & test"`: shown only while every test holds: `part=state|state`, `part!=state`,
  `quantity>number`, `quantity<number`, `part~word` (it has a trouble whose kind begins so); `part:set=state`
  asks what a person set the part to, `valve:shown=state` what its indication says.
- `data-unless="test & test"`: hidden while every test holds.
- `data-density="tank"`: the text is what a litre of a tank's fuel weighs; a dash where nobody knows.

What is not a number is known to nobody: its text is a dash, its flow and its level are not drawn.
"""

import math
import re
from typing import Protocol, cast

from wetwing.draw import figures
from wetwing.draw.svg import Element, number
from wetwing.teach.words import Units, say_state

NOTHING_KG_H = 1.0
# Elements of a page, as against those of a picture, that a hook may hide.
HTML = frozenset(("div", "li", "p", "span", "td", "tr"))


class Shown(Protocol):
    """What a painter asks: a moment of a flight."""

    def quantity(self, name: str) -> float:
        """Return a quantity by name."""

    def state(self, part: str) -> str:
        """Return the state of a part."""

    def setting(self, part: str) -> str:
        """Return what a person last set a part to."""

    def shown(self, part: str) -> str:
        """Return what a valve's indication says."""

    def troubles(self, part: str) -> tuple[str, ...]:
        """Return the kinds of trouble that a part has."""


def paint(root: Element, shown: Shown, units: str = "kg") -> Element:
    """Fill in every hook under `root` from `shown`, in place; return `root`."""
    for element in root.walk():
        given = element.attributes
        if name := given.get("data-value"):
            element.children = [figures.figure(total(name, shown), given["data-unit"], units)]
        elif unit := given.get("data-unit-word"):
            element.children = ["\u00a0" + figures.unit_word(unit, units)]
        elif name := given.get("data-rate"):
            element.children = [figures.rate_words(shown.quantity(name), units)]
        elif part := given.get("data-state"):
            element.children = [say_state(shown.state(part), cast(Units, units))]
        elif tank := given.get("data-density"):
            element.children = [figures.figure(density_kg_l(tank, shown), "kg/L")]
        if part := given.get("data-now-of"):
            given["data-now"] = shown.state(part)
        if name := given.get("data-flow"):
            _paint_flow(element, total(name, shown))
        if name := given.get("data-fill"):
            given.update(wetted(given, shown.quantity(name)))
        if tests := given.get("data-when"):
            _show(element, _all_hold(tests, shown))
        elif tests := given.get("data-unless"):
            _show(element, not _all_hold(tests, shown))
    return root


def total(names: str, shown: Shown) -> float:
    """Return a quantity, or the sum of several joined by ` + `; `-name` counts against it."""
    each = names.split(" + ")
    return sum(-shown.quantity(name[1:]) if name.startswith("-") else shown.quantity(name) for name in each)


def density_kg_l(tank: str, shown: Shown) -> float:
    """Return what a litre of a tank's fuel weighs, kg/L; not a number where it is empty, or not shown."""
    volume_l = shown.quantity(f"{tank}.volume_l")
    return shown.quantity(f"{tank}.actual_kg") / volume_l if volume_l > 0.0 else float("nan")


def _all_hold(tests: str, shown: Shown) -> bool:
    return all(holds(test, shown) for test in tests.split(" & "))


def holds(test: str, shown: Shown) -> bool:
    """Say whether one test of a `data-when` holds."""
    parted = re.fullmatch(r"([^!=<>~]+)(!=|=|<|>|~)(.+)", test)
    if parted is None:
        raise ValueError(f"data-when: {test!r} is no test")
    name, sign, value = parted.groups()
    if sign == "=":
        return _state(name, shown) in value.split("|")
    if sign == "!=":
        return _state(name, shown) != value
    if sign == "~":
        return any(kind.startswith(value) for kind in shown.troubles(name))
    return total(name, shown) < float(value) if sign == "<" else total(name, shown) > float(value)


def _state(name: str, shown: Shown) -> str:
    part, _, asked = name.partition(":")
    if asked == "set":
        return shown.setting(part)
    return shown.shown(part) if asked == "shown" else shown.state(part)


def wetted(given: dict[str, str], fill: float) -> dict[str, str]:
    """Return the geometry of the wetted part of a tank whose volume is filled to `fill` (0 to 1).

    In a wing tank with dihedral the fuel lies at the inboard end: its length goes with the square root of the
    volume, as does its level.
    A box rises in proportion, and is drawn from its aft edge.
    """
    share = min(max(fill, 0.0), 1.0) if fill == fill else 0.0
    start, length = float(given["data-from"]), float(given["data-length"])
    if given["data-shape"] == "wedge":
        share = math.sqrt(share)
    extent = abs(length) * share
    first = start if length > 0 else start - extent
    if given["data-shape"] == "wedge":
        return {"x": number(first), "width": number(extent)}
    return {"y": number(first), "height": number(extent)}


def _paint_flow(element: Element, flow_kg_h: float) -> None:
    given = element.attributes
    size = abs(flow_kg_h)
    flows = size >= NOTHING_KG_H
    _show(element, flows)
    if flows:
        width = max(size * float(given["data-px-per-kg-h"]), float(given["data-least-px"]))
        width = min(width, float(given.get("data-most-px", "inf")))
        given["stroke-width"] = number(width)
    if flow_kg_h <= -NOTHING_KG_H:
        given["data-back"] = ""
    else:
        given.pop("data-back", None)


def _show(element: Element, visible: bool) -> None:
    name, value = ("hidden", "") if element.tag in HTML else ("display", "none")
    if visible:
        element.attributes.pop(name, None)
    else:
        element.attributes[name] = value

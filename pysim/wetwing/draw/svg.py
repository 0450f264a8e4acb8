"""A small tree of SVG and HTML elements, written out in one fixed way, so that the same drawing is the same
text."""

from collections.abc import Iterator
from dataclasses import dataclass, field

Value = str | float | int

SHAPES = frozenset(("circle", "line", "path", "polygon", "polyline", "rect", "stop"))
# HTML elements that have no end.
VOID = frozenset(("input", "br"))


@dataclass(slots=True)
class Element:
    """One element: tag, attributes in the order they were given, and children (elements or text)."""

    tag: str
    attributes: dict[str, str] = field(default_factory=dict)
    children: list["Element | str"] = field(default_factory=list)

    def add(self, *children: "Element | str") -> "Element":
        """Append children and return this element."""
        self.children.extend(children)
        return self

    def walk(self) -> Iterator["Element"]:
        """Give this element and every element under it, in the order of the document."""
        yield self
        for child in self.children:
            if isinstance(child, Element):
                yield from child.walk()

    def text(self) -> str:
        """Return all text in this element."""
        return "".join(child if isinstance(child, str) else child.text() for child in self.children)

    def render(self) -> str:
        """Write the element as XML that is also valid inside an HTML page."""
        attributes = "".join(f' {name}="{escape(value)}"' for name, value in self.attributes.items())
        if self.tag in VOID:
            return f"<{self.tag}{attributes}>"
        if not self.children and self.tag in SHAPES:
            return f"<{self.tag}{attributes}/>"
        inside = "".join(
            escape(child) if isinstance(child, str) else child.render() for child in self.children
        )
        return f"<{self.tag}{attributes}>{inside}</{self.tag}>"


def make(tag: str, *children: Element | str, **attributes: Value | None) -> Element:
    """Make an element. `_` in a name stands for `-`, a last `_` is dropped; None leaves the attribute out,
    `""` writes it bare.

    >>> make("line", x1=1.25, stroke_width=2, class_="pipe").render()
    '<line x1="1.25" stroke-width="2" class="pipe"/>'
    """
    given = {
        name.rstrip("_").replace("_", "-"): value if isinstance(value, str) else number(value)
        for name, value in attributes.items()
        if value is not None
    }
    return Element(tag, given, list(children))


def number(value: float) -> str:
    """Write a coordinate with at most two decimals, and never as `-0`."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def way(*steps: str | float) -> str:
    """Write the steps of a path: letters and coordinates in turn.

    >>> way("M", 1, 2.5, "h", 4, "Z")
    'M1,2.5h4Z'
    """
    path = ""
    for step in steps:
        if isinstance(step, str):
            path += step
        else:
            path += ("," if path and path[-1].isdigit() else "") + number(step)
    return path


def points(*places: tuple[float, float]) -> str:
    """Write places as the points of a polygon or polyline."""
    return " ".join(f"{number(x)},{number(y)}" for x, y in places)


def escape(text: str) -> str:
    """Escape what XML reserves, in text and in attributes."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")

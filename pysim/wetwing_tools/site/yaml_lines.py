"""YAML that keeps the line of every text, so that a slip in a block or the front matter names its line."""

from collections.abc import Iterable
from dataclasses import dataclass

import yaml  # type: ignore[import-untyped]

from wetwing.aircraft.mistakes import Mistake, nearest, unknown


class Text(str):
    """A text of a YAML document that knows its line."""

    line: int

    def __new__(cls, value: str, line: int) -> "Text":
        """Make the text; `line` counts from 1 in the page's source."""
        text = super().__new__(cls, value)
        text.line = line
        return text

    def __reduce__(self) -> tuple[type["Text"], tuple[str, int]]:
        """What makes it anew in another process."""
        return Text, (str(self), self.line)


@dataclass(frozen=True, slots=True)
class Mapping:
    """A YAML mapping whose keys are asked for by name; `where` says page and line of any place in it."""

    page: str
    line: int
    values: dict[str, "Node"]

    def place(self, line: int | None = None) -> str:
        """Name a line of the page."""
        return f"{self.page}:{self.line if line is None else line}"

    def only(self, allowed: Iterable[str]) -> None:
        """Raise Mistake at the first key that is not among the allowed ones."""
        names = tuple(allowed)
        for key in self.values:
            if key not in names:
                raise unknown(self.place(getattr(key, "line", self.line)), "key", key, names)

    def mended(self, allowed: Iterable[str]) -> "tuple[Mapping, list[Mistake]]":
        """The mapping with allowed keys alone, and a mistake for each other one.

        Another key stands for the nearest allowed one that is missing: what it holds can then be judged too.
        """
        names = tuple(allowed)
        values = {key: value for key, value in self.values.items() if key in names}
        slips = []
        for key, value in self.values.items():
            if key in names:
                continue
            slips.append(unknown(self.place(getattr(key, "line", self.line)), "key", key, names))
            near = nearest(key, [name for name in names if name not in values])
            if near:
                values[near] = value
        return Mapping(self.page, self.line, values), slips

    def text(self, key: str) -> Text:
        """The text under a key. Raises Mistake where it is missing or no text."""
        found = self.values.get(key)
        if found is None:
            raise Mistake(self.place(), f"no '{key}'", f"{key}: …")
        if not isinstance(found, Text):
            line = found.line if isinstance(found, Mapping) else self.line
            raise Mistake(
                self.place(line),
                f"'{key}' is no text",
                f"{key}: a text, in quotes where it holds a colon or a brace",
            )
        return found

    def optional(self, key: str) -> Text | None:
        """The text under a key, or None where there is none."""
        return self.text(key) if key in self.values else None

    def texts(self, key: str) -> list[Text]:
        """The list of texts under a key; none where it is missing."""
        found = self.values.get(key, [])
        items = found if isinstance(found, list) else [found]
        return [item if isinstance(item, Text) else self._no_text(key) for item in items]

    def _no_text(self, key: str) -> Text:
        raise Mistake(self.place(), f"'{key}' holds something that is no text", f"{key}: [first, second]")

    def mappings(self, key: str) -> list["Mapping"]:
        """The list of mappings under a key; none where it is missing."""
        found = self.values.get(key, [])
        return mappings(found, self.place(), key)

    def mapping(self, key: str) -> "Mapping | None":
        """The mapping under a key, or None where there is none."""
        found = self.values.get(key)
        if found is not None and not isinstance(found, Mapping):
            raise Mistake(
                self.place(), f"'{key}' is no mapping", f"{key}: with lines of 'name: text' under it"
            )
        return found


Node = Text | list["Node"] | Mapping


def mappings(node: Node, place: str, what: str) -> list[Mapping]:
    """A list of mappings, or a Mistake."""
    if not isinstance(node, list):
        raise Mistake(place, f"'{what}' is no list", f"{what}: lines that begin with '- '")
    found = []
    for item in node:
        if not isinstance(item, Mapping):
            raise Mistake(
                place, f"'{what}' holds something that is no mapping", "lines of 'name: text' after each '- '"
            )
        found.append(item)
    return found


def read_yaml(text: str, page: str, first_line: int) -> Node:
    """Read a YAML text whose first line is `first_line` of the page. Raises Mistake."""
    try:
        root = yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.YAMLError as fault:
        mark = getattr(fault, "problem_mark", None)
        line = first_line + (mark.line if mark else 0)
        problem = getattr(fault, "problem", None) or "cannot be read"
        hint = "texts in quotes where they hold a colon, a brace or a bracket at the start"
        raise Mistake(f"{page}:{line}", f"this YAML {problem}", hint) from None
    if root is None:
        return Mapping(page, first_line, {})
    return _node(root, page, first_line)


def _node(node: yaml.Node, page: str, first_line: int) -> Node:
    line = first_line + node.start_mark.line
    if isinstance(node, yaml.MappingNode):
        values: dict[str, Node] = {}
        for key, value in node.value:
            name = Text(str(key.value), first_line + key.start_mark.line)
            if name in values:
                raise Mistake(f"{page}:{name.line}", f"'{name}' stands twice", f"'{name}' once")
            values[name] = _node(value, page, first_line)
        return Mapping(page, line, values)
    if isinstance(node, yaml.SequenceNode):
        return [_node(item, page, first_line) for item in node.value]
    # The text of a block scalar begins on the line after its `|` or `>`.
    return Text(str(node.value), line + (node.style in ("|", ">")))

"""The front matter of a page: its flight, its named moments, its objectives."""

import re
from dataclasses import dataclass, field

from wetwing.aircraft.mistakes import Mistake
from wetwing_tools.site.yaml_lines import Mapping, Text, read_yaml

OURS = ("aircraft", "flight", "moments", "objectives")
OF_THE_SITE = ("title", "description", "hide", "template", "search", "icon", "status", "tags")
_FRONT = re.compile(r"\A---[ \t]*\n(.*?)^(?:---|\.\.\.)[ \t]*\n", re.DOTALL | re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Objective:
    """What a reader will be able to do; `syllabus` is a reference to a public syllabus."""

    id: str
    text: str
    syllabus: str | None


@dataclass(frozen=True, slots=True)
class Front:
    """What a page's front matter says; `moments` gives the definitions by name."""

    aircraft: str | None = None
    flight: str | None = None
    moments: dict[str, Text] = field(default_factory=dict)
    objectives: tuple[Objective, ...] = ()


def read_front(source: str, page: str) -> Front:
    """Read the front matter of a page's source. Raises Mistake."""
    found = _FRONT.match(source)
    if not found:
        return Front()
    node = read_yaml(found[1], page, 2)
    if not isinstance(node, Mapping):
        raise Mistake(
            f"{page}:2", "front matter that is no mapping", "lines of 'name: value' between the two '---'"
        )
    node.only((*OURS, *OF_THE_SITE))
    return Front(
        aircraft=node.optional("aircraft"),
        flight=node.optional("flight"),
        moments=_moments(node),
        objectives=tuple(_objective(item) for item in node.mappings("objectives")),
    )


def _moments(node: Mapping) -> dict[str, Text]:
    named = node.mapping("moments")
    if named is None:
        return {}
    for name in named.values:
        if not re.fullmatch(r"[a-z][a-z0-9-]*", name):
            raise Mistake(named.place(), f"moment '{name}'", "lower-case letters, digits and hyphens")
        if name in ("begin", "end", "phase", "when", "first", "last", "recorded"):
            raise Mistake(
                named.place(), f"moment '{name}' has a meaning already", "a name of your own, such as hold-1"
            )
    return {name: named.text(name) for name in named.values}


def _objective(item: Mapping) -> Objective:
    item.only(("id", "text", "syllabus"))
    return Objective(item.text("id"), item.text("text"), item.optional("syllabus"))


def first_line_of(source: str, markdown: str) -> int:
    """The line of the source on which the text after the front matter begins."""
    at = source.rfind(markdown) if markdown else -1
    return source.count("\n", 0, at) + 1 if at >= 0 else 1

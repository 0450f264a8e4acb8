"""The front matter of a page: its flight, its named moments, its objectives."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from wetwing.aircraft.mistakes import Mistake
from wetwing_tools.site.yaml_lines import Mapping, Text, mappings, read_yaml

OURS = ("aircraft", "flight", "moments", "objectives")
OF_THE_SITE = ("title", "description", "hide", "template", "search", "icon", "status", "tags")
_FRONT = re.compile(r"\A---[ \t]*\n(.*?)^(?:---|\.\.\.)[ \t]*\n", re.DOTALL | re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Objective:
    """What a reader will be able to do; `syllabus` is a reference to a public syllabus, `line` the page's."""

    id: str
    text: str
    syllabus: str | None
    line: int = 1


@dataclass(frozen=True, slots=True)
class Front:
    """What a page's front matter says; `moments` gives the definitions by name.

    `objectives` are those that the page defines, `listed` the ids of all that it is for: an objective of
    another page is listed by its id alone.
    """

    aircraft: Text | None = None
    flight: Text | None = None
    moments: dict[str, Text] = field(default_factory=dict)
    objectives: tuple[Objective, ...] = ()
    listed: tuple[Text, ...] = ()


def read_front(source: str, page: str, slips: list[Mistake] | None = None) -> Front:
    """Read the front matter of a page's source. Raises Mistake.

    Where `slips` is given, it takes what is wrong with one key alone, and the rest is read all the same.
    """
    found = _FRONT.match(source)
    if not found:
        return Front()
    node = read_yaml(found[1], page, 2)
    if not isinstance(node, Mapping):
        raise Mistake(
            f"{page}:2", "front matter that is no mapping", "lines of 'name: value' between the two '---'"
        )
    node = _known(node, (*OURS, *OF_THE_SITE), slips)
    objectives, listed = _objectives(node)
    return Front(
        aircraft=node.optional("aircraft"),
        flight=node.optional("flight"),
        moments=_moments(node),
        objectives=objectives,
        listed=listed,
    )


def _known(node: Mapping, allowed: Iterable[str], slips: list[Mistake] | None) -> Mapping:
    if slips is None:
        node.only(allowed)
        return node
    mended, found = node.mended(allowed)
    slips += found
    return mended


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


def _objectives(node: Mapping) -> tuple[tuple[Objective, ...], tuple[Text, ...]]:
    """The objectives that a page defines, and the ids of all that it lists."""
    found = node.values.get("objectives", [])
    if not isinstance(found, list):
        raise Mistake(
            node.place(getattr(found, "line", node.line)),
            "'objectives' is no list",
            "lines of '- id: …', or of '- ID' for an objective of another page",
        )
    defined, listed = list[Objective](), list[Text]()
    for item in found:
        if isinstance(item, Text):
            listed.append(item)
            continue
        (own,) = mappings([item], node.place(), "objectives")
        own.only(("id", "text", "syllabus"))
        name = own.text("id")
        defined.append(Objective(str(name), own.text("text"), own.optional("syllabus"), name.line))
        listed.append(name)
    return tuple(defined), tuple(listed)


def body_of(source: str) -> str:
    """A page's text after its front matter."""
    found = _FRONT.match(source)
    return source[found.end() :] if found else source


def first_line_of(source: str, markdown: str) -> int:
    """The line of the source on which the text after the front matter begins."""
    at = source.rfind(markdown) if markdown else -1
    return source.count("\n", 0, at) + 1 if at >= 0 else 1

"""What every question of a page has around it: words, a hint, a place for its answer, hooks."""

import hashlib
from collections.abc import Iterable, Sequence

from wetwing.aircraft.mistakes import Mistake
from wetwing_tools.site.notation import Block
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.yaml_lines import Mapping, Text, read_yaml


def question(maker: PageMaker, block: Block, allowed: tuple[str, ...]) -> tuple[Mapping, str]:
    """The mapping of a question's block, and the question's own name. Raises Mistake."""
    node = read_yaml(block.text, maker.page, block.line)
    if not isinstance(node, Mapping):
        raise Mistake(
            f"{maker.page}:{block.line}", f"'{block.kind}' holds no mapping", "lines of 'name: value'"
        )
    node = maker.known(node, ("id", "ask", "hint", "for", *allowed))
    name = node.text("id")
    return node, maker.new_id(name, node.place(name.line))


def said(maker: PageMaker, text: Text) -> str:
    """A text of a block, with its statements checked and its figures worked out."""
    return maker.prose(str(text).strip(), text.line)


def page_of(maker: PageMaker) -> str:
    """The page as results name it: its address within the site."""
    return f"{maker.page.removesuffix('.md')}.html"


def fieldset(
    maker: PageMaker, node: Mapping, kind: str, name: str, inside: Iterable[str], answer: Iterable[str]
) -> str:
    """A question as HTML. Without scripts its answer is a fold-out; with them it opens by the check."""
    hooks = f'data-ww-question="{name}" data-ww-kind="{kind}" data-ww-page="{page_of(maker)}"'
    return "\n".join(
        [
            f'<fieldset class="ww-predict ww-{kind}" id="{name}" {hooks} markdown="block">',
            f'<legend markdown="span">{said(maker, node.text("ask"))}</legend>',
            *hint(maker, node),
            *inside,
            '<details class="ww-answer" markdown="block">',
            "<summary>The answer, and why</summary>",
            *answer,
            "</details>",
            "</fieldset>",
        ]
    )


def hint(maker: PageMaker, node: Mapping) -> list[str]:
    """The hint of a question, where it has one: open in the guided level, folded in the faded one."""
    text = node.optional("hint")
    if text is None:
        return []
    return [
        '<details class="ww-hint" open markdown="block">',
        "<summary>A hint</summary>",
        f'<p markdown="span">{said(maker, text)}</p>',
        "</details>",
    ]


def mixed(count: int, seed: str) -> list[int]:
    """The numbers 1 to `count` in an order that depends on `seed` alone, and is never their own.

    A list that is shuffled by chance would change with every build; one that may come out in order would give
    its question away. Raises ValueError below two.
    """
    if count < 2:
        raise ValueError(f"a list of {count} cannot be out of order; 2 or more can")
    right = list(range(1, count + 1))
    for attempt in range(1000):
        order = sorted(right, key=lambda item: _rank(f"{seed} {attempt} {item}"))
        if order != right:
            return order
    raise AssertionError("a thousand hashes in order")  # pragma: no cover


def _rank(text: str) -> bytes:
    return hashlib.sha256(text.encode()).digest()


def between(found: Sequence[object], least: int, most: int, place: str, what: str) -> None:
    """Raise Mistake unless a list has a number of entries that its question can use."""
    if not least <= len(found) <= most:
        raise Mistake(place, f"{what}: {len(found)}", f"{least} to {most}")

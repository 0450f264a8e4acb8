"""Finding the notation of a page, each piece with its line."""

from wetwing_tools.site import notation
from wetwing_tools.site.notation import Block, Figure, Prose, Said, Stray


def test_blocks_are_found_with_the_line_of_their_text() -> None:
    page = "# Page\n\n```panel\nstart: begin\n```\n\nText.\n"
    assert list(notation.pieces(page, 5)) == [
        Prose("# Page\n", 5),
        Block("panel", "start: begin", 8),
        Prose("\nText.\n", 10),
    ]


def test_other_fences_are_prose_and_may_show_our_notation() -> None:
    page = "````markdown\n```panel\nstart: begin\n```\n````"
    assert list(notation.pieces(page)) == [Prose(page, 1)]
    assert list(notation.inline(page, 1)) == [page]
    inside = "~~~\n[a]{holds: b}\n~~~\n[c]{holds: d}"
    assert Said("c", "d", 4) in list(notation.inline(inside, 1))
    assert not any(isinstance(piece, Said) and piece.sentence == "a" for piece in notation.inline(inside, 1))


def test_a_fence_that_never_ends_swallows_no_line_twice() -> None:
    assert list(notation.pieces("a\n```text\nb\nc")) == [Prose("a\n```text\nb\nc", 1)]


def test_inline_notation_has_its_lines() -> None:
    text = "One {= two at end} three.\n[Four\nfive [six](seven.md).]{holds: eight is\nnine at end} ten"
    assert list(notation.inline(text, 11)) == [
        "One ",
        Figure("two at end", 11),
        " three.\n",
        Said("Four\nfive [six](seven.md).", "eight is\nnine at end", 12),
        " ten",
    ]


def test_a_sentence_may_hold_a_figure() -> None:
    (piece,) = [p for p in notation.inline("[It holds {= a at end}.]{holds: b}", 1) if p]
    assert piece == Said("It holds {= a at end}.", "b", 1)


def test_code_is_left_alone() -> None:
    text = "Write `{= x}` or ``[a]{holds: b}``."
    assert "".join(str(piece) for piece in notation.inline(text, 1)) == text


def test_notation_that_does_not_end_is_a_stray() -> None:
    found = list(notation.inline("text\n\n[a\n\nb]{holds: c}\n{= never", 1))
    assert [(piece.line, piece.text) for piece in found if isinstance(piece, Stray)] == [
        (5, "{holds: c}"),
        (6, "{= never"),
    ]

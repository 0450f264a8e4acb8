"""Counting the sentences that say what the system does."""

from pathlib import Path

from wetwing_tools.site.statements import count, sentences


def test_only_what_says_behaviour_counts() -> None:
    text = (
        "# The centre pumps\n\nThe centre pumps stop. Why do the pumps stop? Look at the pumps.\n"
        "Each engine must keep full flow. The sky is blue. [The mains\nfill up.]{holds: x} "
        "The tank holds {= a at b}.\n"
    )
    assert list(sentences(text)) == [
        ("The centre pumps stop.", False),
        ("The mains fill up.", True),
        ("The tank holds N.", True),
    ]


def test_one_check_over_two_sentences_covers_both() -> None:
    assert [
        checked for _, checked in sentences("[The pumps stop. The mains fill.]{holds: x} A pump runs.")
    ] == [
        True,
        True,
        False,
    ]


def test_pages_are_counted_with_their_blocks(tmp_path: Path) -> None:
    (tmp_path / "phases").mkdir()
    (tmp_path / "reference").mkdir()
    (tmp_path / "reference" / "a.md").write_text("A pump runs.")
    page = "---\ntitle: T\n---\n\n```moments\n- at: begin\n  title: A pump\n  text: A pump runs.\n```\n"
    (tmp_path / "phases" / "a.md").write_text(page)
    missing: list[str] = []
    assert count(tmp_path, missing) == (0, 1)
    assert missing == ["phases/a.md:8: A pump runs."]

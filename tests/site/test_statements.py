"""Counting the sentences that say what the system does."""

from pathlib import Path

import pytest

from wetwing_tools.site.statements import FIRST_PAGES, count, sentences, together


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


@pytest.mark.parametrize(
    "sentence",
    [
        "[The fuel plan](fuel-plan.md): fuel by purpose.",
        "More: [Tanks and vents](system/tanks.md).",
        "On this page a pump stands for its tank.",
        "- **A pump that fails.**",
        "- **Mains fall:** [slats seen out](slats.md).",
        "- **A blank gauge**: read [the gauge](gauge.md).",
    ],
)
def test_a_heading_or_a_pointer_says_nothing_of_the_system(sentence: str) -> None:
    assert list(sentences(sentence)) == []


def test_a_figure_that_is_written_out_is_no_check() -> None:
    text = "The valves open at {= 900 kg}. They open at {= limit of main-left.gauged_kg in outboard-release}."
    assert [checked for _, checked in sentences(text)] == [False, True]


def test_code_of_any_fence_is_no_sentence() -> None:
    text = "````markdown\n```panel\nA pump runs.\n```\nA tank is full.\n````\n\nA pump stops.\n"
    assert list(sentences(text)) == [("A pump stops.", False)]


def test_pages_are_counted_by_folder_with_their_blocks(tmp_path: Path) -> None:
    for folder in ("phases", "twins", "reference", "instructors"):
        (tmp_path / folder).mkdir()
    for looked_up in ("reference", "instructors"):
        (tmp_path / looked_up / "a.md").write_text("A pump runs.")
    page = "---\ntitle: T\n---\n\n```moments\n- at: begin\n  title: A pump\n  text: A pump runs.\n```\n"
    (tmp_path / "phases" / "a.md").write_text(page)
    (tmp_path / "twins" / "a.md").write_text("[A pump runs.]{holds: x} A tank is full.")
    (tmp_path / "questions.md").write_text("[A pump runs.]{holds: x}")
    missing: list[str] = []
    counts = count(tmp_path, missing)
    assert counts == {"phases": (0, 1), "twins": (1, 2), FIRST_PAGES: (1, 1)}
    assert together(counts) == (2, 4)
    assert missing == ["phases/a.md:8: A pump runs.", "twins/a.md:1: A tank is full."]

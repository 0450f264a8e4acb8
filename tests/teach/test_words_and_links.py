"""Words and links against the vectors that the panel's script is held to as well."""

import contextlib
import json
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as some

from wetwing.aircraft.mistakes import Mistake
from wetwing.flight.clock import seconds
from wetwing.teach.link import MOST_CHARACTERS, MOST_EDITS, Link, LinkEdit, format_link, parse_link
from wetwing.teach.words import clock, flow, listed, mass, number, say, say_state, span

VECTORS = Path(__file__).parents[1] / "vectors"
LINKS: dict[str, Any] = json.loads((VECTORS / "links.json").read_text())
WORDS: dict[str, Any] = json.loads((VECTORS / "words.json").read_text())


@pytest.mark.parametrize("vector", LINKS["good"], ids=lambda vector: vector["fragment"])
def test_a_good_link_is_read_and_written(vector: dict[str, Any]) -> None:
    link = parse_link(vector["fragment"])
    assert link is not None
    assert {**asdict(link), "edits": [asdict(edit) for edit in link.edits]} == {
        "view": None,
        **vector["link"],
    }
    assert format_link(link) == vector["canonical"]


@pytest.mark.parametrize("fragment", LINKS["no_link"])
def test_an_ordinary_anchor_is_no_link(fragment: str) -> None:
    assert parse_link(fragment) is None


@pytest.mark.parametrize("vector", LINKS["bad"], ids=lambda vector: vector["fragment"])
def test_a_bad_link_is_refused_with_its_reason(vector: dict[str, str]) -> None:
    with pytest.raises(Mistake, match="link") as caught:
        parse_link(vector["fragment"])
    assert vector["problem"] in str(caught.value)
    assert caught.value.allowed


def test_a_link_has_limits() -> None:
    edit = "&edit=1:00:00,slats,out"
    assert len(parse_link("v=1" + edit * MOST_EDITS).edits) == MOST_EDITS  # type: ignore[union-attr]
    with pytest.raises(Mistake, match="51 edits"):
        parse_link("v=1" + edit * (MOST_EDITS + 1))
    with pytest.raises(Mistake, match="characters"):
        parse_link("v=1&t=" + "1" * MOST_CHARACTERS)


@given(some.text(max_size=200))
def test_no_text_breaks_the_reader_of_links(text: str) -> None:
    with contextlib.suppress(Mistake):
        parse_link("#v=1&" + text)


@given(
    some.lists(
        some.tuples(
            some.integers(0, 90000),
            some.sampled_from(["slats", "centre-feed"]),
            some.sampled_from(["in", "18000 kg"]),
        ),
        max_size=6,
    ),
    some.integers(0, 900000),
)
def test_a_link_comes_back_as_it_went(edits: list[tuple[int, str, str]], tenths: int) -> None:
    link = Link("alder-165", "day-sector", tuple(LinkEdit(*edit) for edit in edits), tenths / 10, "lb")
    assert parse_link(format_link(link)) == link


@pytest.mark.parametrize("case", WORDS["say_state"])
def test_a_state_that_is_a_figure_is_said_in_the_readers_units(case: dict[str, Any]) -> None:
    assert say_state(case["state"], case["units"]) == case["said"]


@pytest.mark.parametrize("vector", WORDS["say"], ids=lambda vector: vector["sentence"])
def test_marks_are_said_in_the_readers_units(vector: Any) -> None:
    assert say(vector["sentence"], vector["units"]) == vector["said"]


@pytest.mark.parametrize("vector", WORDS["clock"], ids=lambda vector: vector["said"])
def test_clocks(vector: Any) -> None:
    assert clock(vector["time_s"]) == vector["said"]
    assert seconds(vector["said"], "here") >= vector["time_s"] - 1e-6


@pytest.mark.parametrize("text", ["", "2:12", "1:60:00", "-1:00:00", "noon", "1:00:00.1234"])
def test_a_bad_clock_names_the_form(text: str) -> None:
    with pytest.raises(Mistake, match="h:mm:ss"):
        seconds(text, "here")


def test_figures_in_words() -> None:
    assert mass(6480.4) == "6,480 kg"
    assert mass(6480.4, "kg", 100) == "6,500 kg"
    assert mass(453.59237, "lb") == "1,000 lb"
    assert flow(520.0, "lb") == "1,146 lb/h"
    assert number(3.546, 0.01) == "3.55"
    assert number(-0.2) == "0"
    assert number(-1234.5) == "−1,234"
    assert [span(41), span(980), span(960), span(7500)] == ["41 s", "16 min 20 s", "16 min", "2 h 05 min"]
    assert listed(("a", "b", "c")) == "a, b and c"
    assert listed(["a"]) == "a"

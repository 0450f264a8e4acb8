"""The browser's Python gives the same answers as the desk's, to the last bit of every number."""

import json
from pathlib import Path

import pytest

from wetwing_tools.runtime import RuntimeBundle
from wetwing_tools.runtime.sources import Sources

from .under_node import ask_on_this_desk, ask_under_node

# Requests to the simulation's door whose answers are compared; whoever adds a kind of request adds one here.
REQUESTS: list[str] = json.loads(Path(__file__).with_name("requests.json").read_text("utf-8"))

SUMS = [json.dumps({"do": "sum", "n": n}) for n in (3, 1000, 20000)]


@pytest.mark.parametrize("snapshot", [True, False], ids=["snapshot", "byte-code"])
def test_the_simulation(real_bundle: RuntimeBundle, sources: Sources, tmp_path: Path, snapshot: bool) -> None:
    expected = ask_on_this_desk(sources.package, REQUESTS)
    assert ask_under_node(real_bundle, sources, REQUESTS, tmp_path, snapshot=snapshot) == expected


def test_long_sums(sample_bundle: RuntimeBundle, sample_sources: Sources, tmp_path: Path) -> None:
    expected = ask_on_this_desk(sample_sources.package, SUMS)
    assert len(set(expected)) == len(SUMS)
    assert ask_under_node(sample_bundle, sample_sources, SUMS, tmp_path) == expected


def test_no_chance_is_left(sample_bundle: RuntimeBundle, sample_sources: Sources, tmp_path: Path) -> None:
    """Hashes of text, by which sets are ordered, are the same from every start, and fixed on purpose."""
    asked = [json.dumps({"do": "hash"})]
    from_memory = ask_under_node(sample_bundle, sample_sources, asked, tmp_path / "a")
    from_code = ask_under_node(sample_bundle, sample_sources, asked, tmp_path / "b", snapshot=False)
    assert from_memory == from_code

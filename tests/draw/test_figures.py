"""Figures as people read them, by the same vectors as the page's script."""

import json
from pathlib import Path
from typing import Any

import pytest

from wetwing.draw import figures

VECTORS: dict[str, Any] = json.loads(
    (Path(__file__).resolve().parents[1] / "panel" / "figures.json").read_text(encoding="utf-8")
)


@pytest.mark.parametrize("case", VECTORS["figures"], ids=lambda case: f"{case['value']} {case['unit']}")
def test_figures(case: dict[str, Any]) -> None:
    assert figures.figure(case["value"], case["unit"], case["units"]) == case["shown"]


@pytest.mark.parametrize("case", VECTORS["rates"], ids=lambda case: str(case["value"]))
def test_rates(case: dict[str, Any]) -> None:
    assert figures.rate_words(case["value"], case["units"]) == case["shown"]


@pytest.mark.parametrize("case", VECTORS["where"], ids=lambda case: str(case["value"]))
def test_heights(case: dict[str, Any]) -> None:
    assert figures.where(case["value"]) == case["shown"]


@pytest.mark.parametrize("time_s", [7378.2, 7378.9999999])
def test_a_moving_clock_shows_whole_seconds(time_s: float) -> None:
    assert figures.clock(time_s) == ("2:02:58" if time_s < 7378.9 else "2:02:59")

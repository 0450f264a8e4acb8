"""Every published figure that the simulation computes, held to that figure's own rounding; and the page that
shows them.
"""

from dataclasses import replace

import pytest

from tests.accuracy.collect import MODULES, figures_of
from tests.accuracy.figure import Figure
from tests.accuracy.page import FILE, page, row

FIGURES = [(module, figure) for module in MODULES for figure in figures_of(module)]


@pytest.mark.parametrize("figure", [f for _, f in FIGURES], ids=[f"{m}: {f.name}" for m, f in FIGURES])
def test_figure_is_met_or_marked_as_a_miss(figure: Figure) -> None:
    told = f"{figure.name}: published {figure.published} {figure.unit}, computed {figure.computed}"
    if figure.misses:
        assert not figure.is_within, f"{told}: it is met, so it is no miss"
    else:
        assert figure.is_within, f"{told}, allowed {figure.allowed}"


@pytest.mark.parametrize("module", MODULES)
def test_figures_are_told_in_full(module: str) -> None:
    found = figures_of(module)
    assert found
    for figure in found:
        assert figure.allowed >= 0.0, figure.name
        assert all((figure.group, figure.name, figure.source)), figure.name
    assert len({(figure.group, figure.name) for figure in found}) == len(found)


def test_a_wrong_figure_would_be_found() -> None:
    figure = Figure("Trial", "one third", 0.33, 1.0 / 3.0, "", 0.005, "arithmetic")
    assert figure.is_within
    assert not replace(figure, computed=0.336).is_within
    assert not replace(figure, computed=float("nan")).is_within


def test_the_page_says_what_the_figures_say() -> None:
    told = "run `python -m tests.accuracy` and read the difference before it is committed"
    assert FILE.read_text(encoding="utf-8") == page(), told


def test_a_row_tells_rounding_range_and_miss() -> None:
    rounded = Figure("Trial", "fuel at -5 °C", 27.0, 26.98, "%", 0.05, "arithmetic")
    assert row(rounded) == "| Fuel at −5 °C | 27.0 ± 0.05 % | 26.98 % | met |"
    ranged = Figure("Trial", "ceiling", 22500.0, 23678.2, "ft", 7500.0, "general knowledge")
    assert row(ranged) == "| Ceiling | 15,000 to 30,000 ft | 23,678 ft | met |"
    missed = Figure("Trial", "nothing", 0.0, 0.7, "", 0.5, "arithmetic", misses="it is -1 too little")
    assert row(missed) == "| Nothing | 0 ± 0.5 | 0.7 | **missed**: it is −1 too little |"
    still = Figure("Trial", "still", 0.0, -1e-9, "kg", 0.5, "arithmetic")
    assert row(still) == "| Still | 0 ± 0.5 kg | 0.0 kg | met |"

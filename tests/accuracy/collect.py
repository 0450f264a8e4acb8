"""Finding the figures: every module `figures_*.py` of this folder that offers `figures()`."""

import importlib
import pkgutil
from functools import cache
from pathlib import Path

from tests.accuracy.figure import Figure

MODULES = sorted(
    module.name
    for module in pkgutil.iter_modules([str(Path(__file__).parent)])
    if module.name.startswith("figures_")
)


@cache
def figures_of(module: str) -> tuple[Figure, ...]:
    """A module's figures; computed once."""
    return tuple(importlib.import_module(f"tests.accuracy.{module}").figures())


def all_figures() -> list[Figure]:
    """Every figure, module by module."""
    return [figure for module in MODULES for figure in figures_of(module)]

"""What flights share with each other cannot be changed by one of them."""

import pkgutil
from collections.abc import Iterator
from dataclasses import is_dataclass
from importlib import import_module
from typing import Any

import wetwing

GROWING = {
    "Asked",
    "Element",
    "Fed",
    "Flight",
    "Flights",
    "Flows",
    "Kept",
    "Label",
    "Line",
    "Planned",
    "Present",
    "Step",
    "Stock",
    "Test",
    "Watch",
    "World",
    "_Kept",
}
"""Each belongs to one flight or one drawing, and is filled while that is made."""


def records() -> Iterator[type[Any]]:
    for found in pkgutil.walk_packages(wetwing.__path__, "wetwing."):
        module = import_module(found.name)
        for own in vars(module).values():
            if isinstance(own, type) and is_dataclass(own) and own.__module__ == found.name:
                yield own


def test_every_record_is_frozen_but_those_that_grow() -> None:
    params = {own.__name__: own.__dataclass_params__ for own in records()}
    assert {name for name, own in params.items() if not own.frozen} == GROWING

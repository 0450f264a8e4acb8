"""A condition that somebody waits on."""

from collections.abc import Callable
from dataclasses import dataclass

from wetwing.flight.facts import Test


@dataclass(slots=True)
class Asked:
    """A condition with what to do with its truth."""

    test: Test
    answer: Callable[[bool], None]
    wanted: Callable[[], bool]


@dataclass(slots=True)
class Planned:
    """Something that happens at a fixed time. Of one time, actions come before troubles, and those before
    mendings; each in the script's order.
    """

    at_s: float
    rank: int
    order: int
    act: Callable[[], None]

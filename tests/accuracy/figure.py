"""One published figure beside what the simulation computes for it."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Figure:
    """A figure from outside, what the simulation makes of it, and the difference that its source allows.

    `allowed` is the published figure's own rounding or its stated tolerance. A figure that misses says why in
    `misses`; it is shown, not hidden.
    """

    group: str
    name: str
    published: float
    computed: float
    unit: str
    allowed: float
    source: str
    misses: str = ""

    @property
    def is_within(self) -> bool:
        """Whether both agree within what is allowed, plus the last bits of a subtraction."""
        return abs(self.computed - self.published) <= self.allowed + 1e-12 * abs(self.published)

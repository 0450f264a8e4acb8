"""Whole numbers from a seed: the same on every machine, because nothing but integers is used.

Each step adds a constant and mixes the bits, modulo 2 to the 64th (the published SplitMix64 sequence). A name
gives a sequence of its own, so that one question never depends on how many were drawn before it.
"""

from collections.abc import Sequence

LARGEST_SEED = 999_999

_WORD = (1 << 64) - 1
_STEP = 0x9E3779B97F4A7C15


def _mixed(value: int) -> int:
    value = ((value ^ (value >> 30)) * 0xBF58476D1CE4E5B9) & _WORD
    value = ((value ^ (value >> 27)) * 0x94D049BB133111EB) & _WORD
    return value ^ (value >> 31)


class Dice:
    """A sequence of whole numbers that a seed and a name decide."""

    def __init__(self, seed: int, *names: str | int) -> None:
        self._state = _mixed(seed & _WORD)
        for name in names:
            for byte in f"{name}/".encode():
                self._state = _mixed((self._state + byte + _STEP) & _WORD)

    def below(self, count: int) -> int:
        """A number from 0 to `count` - 1, each as likely. Raises ValueError below 1."""
        if count < 1:
            raise ValueError(f"dice: {count} sides; 1 or more can be thrown")
        # The last, incomplete round of numbers is thrown again: it would favour the small ones.
        limit = (_WORD + 1) - (_WORD + 1) % count
        while True:
            self._state = (self._state + _STEP) & _WORD
            value = _mixed(self._state)
            if value < limit:
                return value % count

    def between(self, least: int, most: int, step: int = 1) -> int:
        """A multiple of `step` counted from `least`, not above `most`."""
        return least + step * self.below((most - least) // step + 1)

    def pick[Thing](self, things: Sequence[Thing]) -> Thing:
        """One of them."""
        return things[self.below(len(things))]

    def mixed[Thing](self, things: Sequence[Thing]) -> list[Thing]:
        """All of them in an order of chance."""
        left = list(things)
        return [left.pop(self.below(len(left))) for _ in range(len(things))]

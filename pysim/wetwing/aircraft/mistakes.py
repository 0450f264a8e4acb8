"""What is wrong with an author's or a reader's input, said so that it can be mended."""

from collections.abc import Iterable
from difflib import get_close_matches


class Mistake(ValueError):
    """Bad input: where, what was found, what is allowed, and the nearest valid name.

    `str(mistake)` is the whole message, fit to be shown as it is.
    """

    def __init__(
        self, place: str, found: str, allowed: str | Iterable[str] = (), nearest: str | None = None
    ) -> None:
        self.place = place
        self.found = found
        self.allowed: tuple[str, ...] = (allowed,) if isinstance(allowed, str) else tuple(allowed)
        self.nearest = nearest
        super().__init__(self._message())

    def _message(self) -> str:
        message = f"{self.place}: {self.found}"
        if self.allowed:
            shown = (
                self.allowed
                if len(self.allowed) <= 12
                else (*self.allowed[:12], f"and {len(self.allowed) - 12} more")
            )
            message += f"; allowed: {', '.join(shown)}"
        if self.nearest:
            message += f"; nearest: {self.nearest}"
        return message


def nearest(found: str, allowed: Iterable[str]) -> str | None:
    """The allowed name that looks most like `found`, or None if none comes near."""
    close = get_close_matches(found, list(allowed), n=1, cutoff=0.5)
    return close[0] if close else None


def unknown(place: str, what: str, found: str, allowed: Iterable[str]) -> Mistake:
    """A name that is not among the allowed ones."""
    names = tuple(allowed)
    shown = found if len(found) <= 60 else found[:57] + "..."
    return Mistake(place, f"unknown {what} '{shown}'", names, nearest(found, names))


def out_of_range(place: str, found: float, least: float, most: float, unit: str) -> Mistake:
    """A number outside its range; the nearest valid value is the end of the range that it missed."""
    near = least if found < least else most
    tail = f" {unit}" if unit else ""
    return Mistake(place, f"{found:g}{tail}", f"{least:g} to {most:g}{tail}", f"{near:g}{tail}")

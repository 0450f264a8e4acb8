"""Predict-first questions: the simulation says which option is right.

Every option has a claim that would make it the right answer. The build refuses a question unless exactly one
of them holds, so no answer key can go stale.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from wetwing.aircraft.mistakes import Mistake
from wetwing.teach.claims import Claims, Verdict


@dataclass(frozen=True, slots=True)
class Option:
    """One answer to choose: its words, and the claim that would make it right."""

    words: str
    true_if: str
    place: str


@dataclass(frozen=True, slots=True)
class Marked:
    """An option with what the simulation says of it."""

    option: Option
    verdict: Verdict

    @property
    def right(self) -> bool:
        """Whether this is the answer."""
        return self.verdict.holds


def judged(claims: Claims, option: Option) -> Marked:
    """What the simulation says of one option. Raises Mistake where its claim has no meaning."""
    verdict = claims.check(option.true_if, option.place)
    if verdict.flight is not None:
        # The answer opens the moment that shows it, which the page's panel would not have.
        raise Mistake(
            option.place, f"an option about the flight {verdict.flight}", "a claim about the page's own"
        )
    return Marked(option, verdict)


def check_one_right(marked: Sequence[Marked], place: str) -> None:
    """Raise Mistake unless exactly one of two or more options is right."""
    if len(marked) < 2:
        raise Mistake(place, f"a question with {len(marked)} options", "two or more options")
    right = [option for option in marked if option.right]
    if len(right) != 1:
        told = "; ".join(
            f"'{one.option.words}' is {'true' if one.right else 'false'}: {one.verdict.found}"
            for one in marked
        )
        count = "none" if not right else str(len(right))
        raise Mistake(
            place, f"{count} of the options is true ({told})", "exactly one option whose true_if holds"
        )

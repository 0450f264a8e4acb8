"""A question for a figure: the slips of wrong ways must lie outside what counts as right."""

from wetwing.teach.exercises.records import Number, Slip


def number(
    amount: float, unit: str, step: float, tolerance: float, slips: list[tuple[float, str]], claim: str | None
) -> Number | None:
    """A figure with its slips; one too near to it, or to another slip, is dropped. None without any."""
    kept: list[Slip] = []
    for wrong, misconception in slips:
        others = [amount, *(slip.amount for slip in kept)]
        if all(abs(wrong - other) > 2.0 * tolerance for other in others):
            kept.append(Slip(wrong, misconception))
    return Number(amount, unit, step, tolerance, tuple(kept), claim) if kept else None


def rounded(value: float, step: float) -> float:
    """A reading as it is printed: what the reader reckons with."""
    return int(value / step + 0.5) * step if value >= 0.0 else -int(-value / step + 0.5) * step

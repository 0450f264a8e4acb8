"""Exercises as the page shows them."""

from wetwing.draw.exercises import words


def test_a_figure_below_nothing_has_the_minus_sign_of_all_figures() -> None:
    shown = "".join(
        piece if isinstance(piece, str) else piece.render()
        for piece in words("It is {-45 %} off, {-1,500 kg}.")
    )
    assert "−45\u00a0%" in shown
    assert "−1,500\u00a0kg" in shown
    assert 'value="-1500"' in shown

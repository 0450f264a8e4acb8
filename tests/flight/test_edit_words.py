"""What an edit does, in words with its figure and unit."""

import pytest

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.edit_words import edit_words
from wetwing.flight.script_records import Edit

ALDER = read_aircraft("alder-165")


@pytest.mark.parametrize(
    ("part", "state", "words"),
    [
        ("centre-feed", "manual", "Centre feed selector to manual"),
        ("preselect", "24000 kg", "Preselected total to {24,000 kg}"),
        ("main-left", "leak 900", "Main left: leak {900 kg/h}"),
        ("main-left", "leak", "Main left: leak {1,000 kg/h}"),
        ("main-left", "mended", "Main left mended"),
        ("main-left-forward", "failed", "Main left forward pump: failed"),
        ("main-left-forward", "off", "Main left forward pump to off"),
        ("airframe", "extra drag 0.15", "Airframe: extra drag {15 %}"),
        ("probe-centre-1", "biased -40", "Centre probe 1: biased {-40 %}"),
        ("preselect", "wrong units", "Preselected total: wrong units {0.4536} times"),
    ],
)
def test_an_edit_is_said_with_its_figure_and_unit(part: str, state: str, words: str) -> None:
    assert edit_words(Edit(60.0, part, state), ALDER) == words


def test_an_edit_that_means_nothing_is_refused() -> None:
    with pytest.raises(Mistake, match="centre-feed"):
        edit_words(Edit(60.0, "centre-feed", "sideways"), ALDER)

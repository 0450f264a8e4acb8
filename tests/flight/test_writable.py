"""Names, ranges and usual figures that scripts hang on stay as they are, unless a change is meant."""

from tests.flight.writable import FILE, lines


def test_what_people_may_write_is_what_it_was() -> None:
    assert lines() == FILE.read_text("utf-8").splitlines()

"""What is typed into a field: numbers in every form, units, ambiguous marks, and what is refused."""

import json
from pathlib import Path

import pytest

from wetwing.teach.worksheets.entry import Entry, Reader, read_entry, read_value
from wetwing.teach.worksheets.number_text import FORMS, read_number
from wetwing.teach.worksheets.sheet import Field

VECTORS = json.loads((Path(__file__).parents[2] / "vectors" / "typed_numbers.json").read_text("utf-8"))


def field(kind: str, least: float = 0.0, most: float = 50_000.0, empty: str | None = None) -> Field:
    return Field("x", "X", kind, None, least, most, empty=empty)


def read(text: str, kind: str = "mass", reader: Reader | None = None, **bounds: float) -> Entry:
    return read_entry(field(kind, **bounds), text, reader or Reader())


@pytest.mark.parametrize(("form", "typed", "value"), VECTORS)
def test_numbers_are_read_as_the_page_reads_them(form: str, typed: str, value: float | None) -> None:
    assert read_number(typed, form) == value


def test_a_number_that_is_too_long_is_none() -> None:
    assert read_number("1" * 41, "1,234.5") is None
    assert all(read_number("½", form) is None and read_number("٣", form) is None for form in FORMS)


@pytest.mark.parametrize(
    ("typed", "kg"),
    [
        ("12.5 t", 12_500.0),
        ("12500", 12_500.0),
        ("12 500", 12_500.0),
        ("12,500 kg", 12_500.0),
        ("27,500 lb", 12_473.790175),
        ("27500lbs", 12_473.790175),
        ("  430  KG ", 430.0),
    ],
)
def test_a_mass_comes_alone_or_with_its_unit(typed: str, kg: float) -> None:
    assert read(typed).value == pytest.approx(kg, rel=1e-12)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("typed", ["0,804", "0.804"])
def test_a_nought_leads_no_thousands(form: str, typed: str) -> None:
    """A density with a comma for a point is a density, and is told as it was read."""
    found = read(typed, "density", Reader(form), least=0.775, most=0.84)
    assert (found.value, found.told, found.problem) == (0.804, True, None)


def test_a_number_alone_is_in_the_readers_units_and_form() -> None:
    assert read("12.5", reader=Reader(masses="t")).value == 12_500.0
    assert read("1,5", reader=Reader("1.234,5", "t")).value == 1500.0
    assert read("1000", "volume", Reader(volumes="US gal")).value == pytest.approx(3785.411784)
    assert read("1000", "flow", Reader(masses="lb")).value == pytest.approx(453.59237)


@pytest.mark.parametrize(
    ("form", "typed", "value", "told"),
    [
        ("1,234.5", "1,234", 1234.0, True),
        ("1.234,5", "1,234", 1.234, True),
        ("1,234.5", "12,5", 12.5, True),
        ("1,234.5", "1234", 1234.0, False),
        ("1,234.5", "1234 kg", 1234.0, True),
    ],
)
def test_what_can_be_read_in_two_ways_is_told(form: str, typed: str, value: float, told: bool) -> None:
    assert read(typed, reader=Reader(form)) == Entry(value, None, told)


@pytest.mark.parametrize(
    ("kind", "typed", "value"),
    [
        ("minutes", "1:30", 90.0),
        ("minutes", "2 h", 120.0),
        ("minutes", "45 min", 45.0),
        ("distance", "185.2 km", 100.0),
        ("speed", "+20 kt", 20.0),
        ("speed", "-20", -20.0),
        ("density", "804 kg/m3", 0.804),
        ("density", "6.7 lb/US gal", 0.8028),
        ("density", "1.77 lb/L", 0.80286),
        ("temperature", "-5 °C", -5.0),
        ("share", "3 %", 3.0),
    ],
)
def test_other_kinds(kind: str, typed: str, value: float) -> None:
    assert read(typed, kind, least=-100.0).value == pytest.approx(value, rel=1e-3)


def test_a_time_of_the_flight() -> None:
    clock = Field("x", "X", "clock", None, 3600.0, 7200.0)
    assert read_entry(clock, "1:30", Reader()).value == 5400.0
    assert read_entry(clock, "1:30:20", Reader()).value == 5420.0
    assert "1:00 to 2:00" in (read_entry(clock, "2:01", Reader()).problem or "")
    assert "Write h:mm" in (read_entry(clock, "90", Reader()).problem or "")


@pytest.mark.parametrize(
    ("kind", "typed", "told"),
    [
        ("mass", "", "This field is empty"),
        ("mass", "much", "'much' is not a number. Allowed here: a number alone, or with kg, t, lb."),
        ("mass", "1,23,4", "is not a number"),
        ("mass", "500 L", "'L' makes it a volume; this field is a mass."),
        ("mass", "500 L", "A volume becomes a mass by its density."),
        ("mass", "500 stone", "'stone' is no unit that is known here."),
        ("volume", "500 kg", "'kg' makes it a mass; this field is a volume."),
        ("mass", "-5", "{−5 kg} is less than nothing. Allowed here: {0 kg} to {50,000 kg}."),
        ("mass", "900 t", "{900,000 kg} can't be meant. Allowed here: {0 kg} to {50,000 kg}."),
        ("minutes", "1e9", "'e9' is no unit that is known here."),
    ],
)
def test_what_is_refused_and_what_is_allowed(kind: str, typed: str, told: str) -> None:
    found = read(typed, kind)
    assert found.value is None
    assert told in (found.problem or "")


@pytest.mark.parametrize(
    ("typed", "fits", "share"), [("1.77", "lb/L", "45 %"), ("6.7", "lb/US gal", "12 %"), ("804", "kg/m³", "")]
)
def test_a_density_of_another_unit_is_recognised(typed: str, fits: str, share: str) -> None:
    problem = read(typed, "density", least=0.775, most=0.840).problem or ""
    assert f"It would fit in {fits}:" in problem
    assert "{0.775 kg/L} to {0.840 kg/L}" in problem
    assert share in problem
    assert ("it would bring" in problem) == bool(share)


def test_an_empty_field_that_may_be_empty_is_none() -> None:
    assert read_entry(field("mass", empty="Empty: worked out."), " ", Reader()) == Entry(None)


def test_values_from_a_file_are_judged_too() -> None:
    choice = Field("x", "X", "choice", 0.0, 0.0, 1.0, choices=("no", "yes"))
    assert read_value(choice, 1).value == 1.0
    for wrong in (2, 0.5, -1):
        assert "Allowed: no, yes" in (read_value(choice, wrong).problem or "")
    for odd in ("1", True, [1]):
        assert "is not a number" in (read_value(field("mass"), odd).problem or "")
    assert "can't be meant" in (read_value(field("mass"), 1e300).problem or "")
    assert read_value(field("mass"), float("nan")).problem
    assert "empty" in (read_value(field("mass"), None).problem or "")

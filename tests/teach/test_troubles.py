"""Troubles in claims, and gauges that are blank: on the demonstration flight."""

import pytest

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.script import Edit, read_script
from wetwing.teach.blank import probes_of, tank_is_blank, total_is_blank
from wetwing.teach.claims import Claims
from wetwing.teach.flights import Flights
from wetwing.teach.link import Link, LinkEdit, format_link, parse_link
from wetwing.teach.values import value_of

ALDER = read_aircraft("alder-165")
CLAIMS = Claims(Flights(ALDER, read_script("day-sector", ALDER)), {"top": "phase cruise"})
HERE = "page.md:7"


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("main-left=leak 1200 kg/h at top", "leak 1200"),
        ("main-left=leak at top", "leak 1000"),
        ("centre-left=low output 0.5 at top", "low output 0.5"),
        ("centre-left=check valve stuck open at top", "check valve stuck open"),
        ("probe-centre-1=biased -20 at top", "biased -20"),
        ("main-left=mended at top", "mended"),
        ("cross-feed=open at top", "open"),
        ("preselect=12000 kg at top", "12000 kg"),
    ],
)
def test_an_edit_of_a_claim_is_written_as_links_carry_it(written: str, plain: str) -> None:
    (edit,) = CLAIMS.edits_of(written, HERE)
    assert edit == Edit(4200.0, written.partition("=")[0], plain)
    link = parse_link(format_link(Link(edits=(LinkEdit(edit.time_s, edit.part, edit.state),))))
    assert link is not None
    assert link.edits == (LinkEdit(edit.time_s, edit.part, edit.state),)


@pytest.mark.parametrize(
    ("written", "message"),
    [
        ("main-left=leek at top", "nearest: leak"),
        ("gross-weight=leak at top", "not set by a person"),
        ("main-left=leak 70000 at top", "nearest: 60000 kg/h"),
        ("main-left=failed at top", "allowed: leak, water, mended"),
    ],
)
def test_an_edit_that_means_nothing_is_refused_at_its_place(written: str, message: str) -> None:
    with pytest.raises(Mistake) as raised:
        CLAIMS.edits_of(written, HERE)
    assert message in str(raised.value)
    assert raised.value.place.startswith(HERE)


def test_a_claim_may_be_about_a_flight_with_a_trouble() -> None:
    claim = "with centre-left=failed at top then centre-left is failed because failed at top + 0:00:01"
    assert CLAIMS.check(claim, HERE).holds
    healed = "with centre-left=failed at top, centre-left=mended at top + 0:01:00 then centre-left is failed"
    assert CLAIMS.check(f"{healed} at top + 0:00:59", HERE).holds
    assert not CLAIMS.check(f"{healed} at top + 0:01:01", HERE).holds


def test_a_gauge_is_blank_when_no_probe_reads() -> None:
    flight = CLAIMS.flights.recorded.flight
    alive, dead = flight.moment(4200.0), flight.moment(flight.duration_s)
    assert len(probes_of(ALDER, "centre")) == 4
    for tank in ALDER.tanks:
        assert not tank_is_blank(ALDER, alive, tank.name)
        assert tank_is_blank(ALDER, dead, tank.name)
    assert not total_is_blank(ALDER, alive)
    assert total_is_blank(ALDER, dead)


def test_one_dead_probe_blanks_nothing_and_a_dead_totaliser_the_total_alone() -> None:
    edits = (Edit(4200.0, "probe-centre-1", "no signal"), Edit(4300.0, "totaliser", "no signal"))
    flight = CLAIMS.flights.edited(edits).flight
    assert not tank_is_blank(ALDER, flight.moment(4250.0), "centre")
    assert not total_is_blank(ALDER, flight.moment(4250.0))
    assert total_is_blank(ALDER, flight.moment(4350.0))
    assert not tank_is_blank(ALDER, flight.moment(4350.0), "centre")


def test_an_indication_that_is_frozen_differs_from_the_valve() -> None:
    edits = "cross-feed=indication frozen at top - 0:00:10, cross-feed=open at top"
    asked = f"with {edits} then {{}} of cross-feed at top + 0:00:10"
    assert value_of(CLAIMS, asked.format("state"), HERE).text == "open"
    assert value_of(CLAIMS, asked.format("indication"), HERE).text == "shut"
    assert value_of(CLAIMS, "setting of cross-feed at top", HERE).text == "shut"
    assert value_of(CLAIMS, asked.format("setting"), HERE).text == "open"


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        ("indication of cross-feed", "names no moment"),
        ("indication of cross-fed at top", "cross-feed"),
        ("setting of cross-feed", "names no moment"),
        ("setting of shut-of-1 at top", "part that a person sets"),
    ],
)
def test_a_mistaken_indication_or_setting_is_named(asked: str, message: str) -> None:
    with pytest.raises(Mistake, match=HERE) as caught:
        value_of(CLAIMS, asked, HERE)
    assert message in str(caught.value)

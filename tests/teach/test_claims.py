"""Claims, moments and figures against a flight whose every answer is known."""

from dataclasses import replace

import pytest

from tests.teach.hand_made import claims
from wetwing.aircraft.mistakes import Mistake
from wetwing.teach.moments import Moments
from wetwing.teach.values import value_of
from wetwing_tools.site.library import Library

HERE = "page.md:7"

TRUE = [
    "slats is out at slats becomes out",
    "main-left.actual_kg > 899 kg and main-left.actual_kg < 901 kg at slats becomes out",
    "main-left.actual_kg > 699 kg at begin + 0:00:50",
    "slats is out from slats becomes out to slats becomes in",
    "main-left.actual_kg < centre.actual_kg during phase climb",
    "never main-left.actual_kg < 500 kg during flight",
    "never (slats is out or main-left.actual_kg > 700 kg) from slats becomes in to begin + 0:00:50",
    "sometimes main-left.actual_kg < 510 kg during phase cruise",
    "main-left.actual_kg < 600 kg or slats is in from slats becomes in to phase descent",
    "main-left.actual_kg falls from begin to begin + 0:00:50",
    "main-left.actual_kg falls by >= 500 kg from begin to begin + 0:00:50",
    "main-left.actual_kg rises by < 101 kg from begin + 0:00:50 to end",
    "total.on_board_kg stays within 0.1 kg during flight",
    'centre-left is "stopped by automatics" because slat-hold at slats becomes out',
    'centre-left is "stopped by automatics" because slats at phase cruise',
    "centre-left is dry ultimately because slats at end",
    "centre-left next becomes dry after slats becomes in",
    'centre-left next becomes "stopped by automatics" because slat-hold after begin',
    "slats becomes in before centre-left becomes dry",
    "with slats=out at begin + 0:00:20 then vent-left is spilling at end",
    "with slats=out at begin + 0:00:20 then slats is out at recorded slats becomes in + 0:00:10",
    "slats is in at hold-over",
    "phase is cruise at when main-left.actual_kg <= 600 kg after phase cruise",
    "main-left.actual_kg < plan.final_reserve_kg and not total.on_board_kg < plan.diversion_kg at begin",
]

FALSE = [
    ("slats is in at slats becomes out", "slats is 'out'"),
    ("main-left.actual_kg > 700 kg at begin + 0:00:50", "700.0 kg"),
    ("main-left.actual_kg > 500 kg during phase climb and", None),
    ("slats is out from begin to slats becomes in", "slats is 'in'"),
    (
        "main-left.actual_kg > 510 kg from begin to begin + 0:00:50",
        "at 0:00:49 main-left.actual_kg is 510.0 kg",
    ),
    (
        "centre.actual_kg > 1300 kg or main-left.actual_kg < 600 kg during flight",
        "centre.actual_kg is 1,300.0 kg",
    ),
    ("never main-left.actual_kg < 510 kg during flight", "510.0 kg"),
    ("sometimes slats is out during phase descent", "never true"),
    ("main-left.actual_kg falls during flight", "not steadily"),
    ("main-left.actual_kg falls by >= 501 kg from begin to begin + 0:00:50", "1,000.0 to 500.0"),
    ("centre.actual_kg stays within 5 kg during phase cruise", "spread"),
    ("centre-left is dry because slats at end", "slat-hold"),
    ("centre-left is delivering because slat-hold at end", "'dry'"),
    ("centre-left next becomes dry after begin", "next becomes stopped by automatics"),
    ("vent-left next becomes spilling after begin", "does not change"),
    ("centre-left becomes dry before slats becomes in", "the second at 0:00:40"),
    ("vent-left is spilling at end", "'dry'"),
    ("main-left.actual_kg >= plan.final_reserve_kg or slats is out at begin", "is 1,000.0 kg"),
]

MISTAKEN = [
    ("on day-sector-hott then slats is out at end", "nearest: day-sector-hot"),
    ("on rowan-hop then slats is out at end", "unknown flight of alder-165 'rowan-hop'"),
    ("on day-sector-hot slats is out at end", "has no 'then'"),
    ("on day-sector then slats is out at end", "is the flight of this text"),
    ("slats is ot at end", "nearest: out"),
    ("slat is out at end", "nearest: slats"),
    ("main-left.actual_kgs > 3 kg at end", "nearest: main-left.actual_kg"),
    ("main-left.actual_kg > 900 at end", "no unit"),
    ("main-left.actual_kg > plan.final_reserv_kg at end", "nearest: plan.final_reserve_kg"),
    ("main-left.volume_l > plan.trip_kg at end", "unit 'kg' for main-left.volume_l"),
    ("main-left.actual_kg > 900 L at end", "unit 'L'"),
    ("main-left.actual_kg falls by >= 900 lb during flight", "unit 'lb'"),
    ("main-left.actual_kg jumps during flight", "jumps"),
    ("main-left.actual_kg stays during flight", "no trend"),
    ("slats is out", "of no time"),
    ("slats is out at", "no moment"),
    ("slats is out at phase cruse", "nearest: cruise"),
    ("slats is out during phase cruse", "nearest: cruise"),
    ("slats is out during night", "flight"),
    ("slats is out at hold-ver", "nearest: hold-over"),
    ("slats is out at 2nd slats becomes out", "only 1 times"),
    ("slats is out at cross-feed becomes open", "becomes open never"),
    ("slats is out at end + 0:00:01", "outside the flight"),
    ("slats is out at begin - 0:00:01", "outside the flight"),
    ("slats is out at begin + noon", "h:mm:ss"),
    ("slats is out at when slats is out after end", "never true"),
    ("slats is out from end to begin", "runs backwards"),
    ("fallen(main-left.actual_kg) > 3 kg at end", "belongs to a rule"),
    ("centre-left is dry because slat-hld at end", "nearest: slat-hold"),
    ("centre-left is dry because", "incomplete"),
    ("centre-left next is dry after begin", "incomplete"),
    ("with slats=out at begin + 0:00:20 vent-left is spilling at end", "no 'then'"),
    ("with slats=sideways at begin then slats is out at end", "allowed: in, out"),
    ("with slat=out at begin then slats is out at end", "nearest: slats"),
    ("with slats is out at begin then slats is out at end", "no edit"),
    ("slats is out at first difference", "no first difference"),
    ("slats is out at loop", "defined by itself"),
    ("(((slats is out at end", "not closed"),
]

NAMES = {"hold-over": "slats becomes in + 0:00:05", "loop": "loop"}


@pytest.mark.parametrize("claim", TRUE)
def test_what_is_true_holds(claim: str) -> None:
    verdict = claims(NAMES).check(claim, HERE)
    assert verdict.holds, verdict.found
    assert 0.0 <= verdict.time_s <= 100.0


@pytest.mark.parametrize(("claim", "found"), [(claim, found) for claim, found in FALSE if found])
def test_what_is_false_says_what_was_found(claim: str, found: str) -> None:
    verdict = claims(NAMES).check(claim, HERE)
    assert not verdict.holds
    assert found in verdict.found


@pytest.mark.parametrize(("claim", "message"), MISTAKEN)
def test_a_mistake_is_named_with_its_place(claim: str, message: str) -> None:
    with pytest.raises(Mistake) as caught:
        claims(NAMES).check(claim, HERE)
    assert str(caught.value).startswith(f"{HERE}: ")
    assert message in str(caught.value)


def test_a_verdict_shows_where_to_look() -> None:
    held = claims().check("slats is out and main-left.actual_kg > 1 kg at slats becomes out", HERE)
    assert (held.time_s, held.part, held.edits) == (10.0, "slats", ())
    edited = claims().check("with slats=out at begin + 0:00:20 then vent-left is spilling at end", HERE)
    assert [(edit.time_s, edit.part, edit.state) for edit in edited.edits] == [(20.0, "slats", "out")]
    assert edited.claim.startswith("with ")


def test_a_claim_about_another_flight_is_judged_there() -> None:
    library = Library()
    there = library.flights("alder-165", "day-sector-hot")
    own = replace(
        claims({"fuelled": "refuelling becomes inactive"}),
        others=lambda name: library.flights("alder-165", name),
    )
    held = own.check("on day-sector-hot then main-left.temperature_c > 30 °C at fuelled", HERE)
    assert held.holds
    assert held.flight == "day-sector-hot"
    assert held.time_s == Moments(there, there.recorded, {}).find("refuelling becomes inactive", HERE)
    plain = own.check("slats is out at slats becomes out", HERE)
    assert plain.flight is None
    edited = own.check(
        "on day-sector-hot then with cross-feed=open at phase cruise then cross-feed is open at end", HERE
    )
    assert edited.flight == "day-sector-hot"
    assert [edit.part for edit in edited.edits] == ["cross-feed"]
    shown = value_of(own, "on day-sector-hot then main-left.temperature_c at fuelled", HERE)
    assert shown.amount == there.recorded.flight.quantity("main-left.temperature_c", held.time_s)


def test_a_strict_comparison_begins_just_after_the_crossing() -> None:
    found = claims().moments.find("when main-left.actual_kg < 600 kg", HERE)
    assert 40.0 < found < 40.01


def test_the_first_difference_leaves_out_what_was_set() -> None:
    verdict = claims().check("with slats=out at begin + 0:00:20 then slats is out at first difference", HERE)
    assert verdict.time_s == 40.0


FIGURES = [
    ("main-left.actual_kg at slats becomes out", "900 kg"),
    ("main-left.actual_kg at begin + 0:00:51 to 100", "700 kg"),
    ("change of main-left.actual_kg from begin to begin + 0:00:50", "500 kg"),
    ("time of slats becomes in", "0:00:40"),
    ("span from slats becomes out to slats becomes in", "30 s"),
    ("state of centre-left at end", "dry"),
    ("count of centre-left becomes delivering", "1"),
    ("main-left.capacity_l", "8,300 L"),
    ("limits.landing_kg", "86,000 kg"),
    ("limits.cg_aft_percent", "36 %"),
    ("plan.final_reserve_kg", "1,280 kg"),
    ("plan.diversion_kg", "2,780 kg"),
    ("plan.change_kg to 10", "210 kg"),
    ("plan.minimum_fuel_kg", "1,493 kg"),
    ("plan.block_kg", "22,610 kg"),
    ("limit of main-left.gauged_kg in return-flow-hold-left", "430 kg"),
    ("limit of return-left.oil_c in start of oil-warm-1", "62 °C"),
    ("limit of return-left.oil_c in end of oil-warm-1", "35 °C"),
    ("limit of total.imbalance_kg in imbalance", "1,500 kg"),
    ("least limit of return-left.oil_c in oil-warm-1", "35 °C"),
    ("greatest limit of return-left.oil_c in oil-warm-1", "62 °C"),
    ("proving-run-1.lasts_s", "150 s"),
    ("430 kg", "430 kg"),
    ("3.55 bar", "3.55 bar"),
    ("with slats=out at begin + 0:00:20 then time of vent-left becomes spilling", "0:01:00"),
]


@pytest.mark.parametrize(("asked", "shown"), FIGURES)
def test_figures(asked: str, shown: str) -> None:
    assert value_of(claims(), asked, HERE).text == shown


def test_a_figure_keeps_its_mark() -> None:
    assert value_of(claims(), "430 kg", HERE).marked == "{430 kg}"
    assert "{430 kg}" in value_of(claims(), "sentence of return-flow-hold-left", HERE).text


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        ("main-left.actual_kg", "at MOMENT"),
        ("main-left.capacity", "nearest: capacity_l"),
        ("main-let.capacity_l", "nearest: main-left"),
        ("main-left.actual_kg at end to 0", "a step above zero"),
        ("sentence of slat-hld", "nearest: slat-hold"),
        ("state of slats", "names no moment"),
        ("count of slats", "names no change"),
        ("limits.landin_kg", "nearest: landing_kg"),
        ("plan.change_kg to 0", "a step above zero"),
        ("plan.final_reserv_kg", "nearest: plan.final_reserve_kg"),
        ("limit of main-left.gauged_kg", "names no rule"),
        ("limit of main-left.gauged_kg in outbord-release", "nearest: outboard-release"),
        ("limit of main-lft.gauged_kg in outboard-release", "nearest: main-left.gauged_kg"),
        (
            "limit of return-left.oil_c in oil-warm-1",
            "in start of oil-warm-1, in end of oil-warm-1, least limit",
        ),
        ("limit of return-left.oil_c in middle of oil-warm-1", "allowed: start, end"),
        ("nonsense", "no figure"),
    ],
)
def test_a_mistaken_figure_is_named(asked: str, message: str) -> None:
    with pytest.raises(Mistake, match=HERE) as caught:
        value_of(claims(), asked, HERE)
    assert message in str(caught.value)

"""A figure of a gauge or meter that shows nothing is blank: the zero that the record holds is no reading."""

import pytest

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.read import read_aircraft
from wetwing.flight.script import read_script
from wetwing.teach.claims import Claims, Verdict
from wetwing.teach.flights import Flights
from wetwing.teach.values import value_of

AIRCRAFT = read_aircraft("alder-165")
CLAIMS = Claims(Flights(AIRCRAFT, read_script("day-sector", AIRCRAFT)))
CRUISE = "phase cruise + 0:01:00"


def all_probes_of(tank: str) -> str:
    names = [probe.name for probe in AIRCRAFT.probes if probe.tank == tank]
    return ", ".join(f"{name}=no signal at phase cruise" for name in names)


def shown(edit: str, quantity: str) -> str:
    return value_of(CLAIMS, f"with {edit} then {quantity} at {CRUISE}", "page.md:1").text


@pytest.mark.parametrize("quantity", ["gauged_kg", "discrepancy_kg", "imbalance_kg"])
def test_a_blank_gauge_takes_the_sums_with_it(quantity: str) -> None:
    assert shown(all_probes_of("main-left"), f"total.{quantity}") == "blank"


def test_the_other_tanks_and_what_is_inside_keep_their_figures() -> None:
    lost = all_probes_of("main-left")
    assert shown(lost, "main-left.gauged_kg") == "blank"
    assert shown(lost, "main-left.actual_kg").endswith(" kg")
    assert shown(lost, "main-right.gauged_kg").endswith(" kg")


def test_one_probe_of_several_leaves_a_reading_and_the_centre_no_imbalance_blank() -> None:
    assert shown("probe-main-left-1=no signal at phase cruise", "main-left.gauged_kg").endswith(" kg")
    assert shown(all_probes_of("centre"), "total.imbalance_kg").endswith(" kg")


def test_a_silent_meter_is_blank_and_its_engine_is_not() -> None:
    assert shown("meter-1=no signal at phase cruise", "engine-1.metered_kg_h") == "blank"
    assert shown("meter-1=no signal at phase cruise", "engine-1.flow_kg_h").endswith(" kg/h")


# ------------------------------------------------------------------ statements about what shows nothing

HERE = "page.md:7"
LOST = f"with {all_probes_of('main-left')} then"
LATER = "phase cruise + 0:05:00"


def judged(claim: str) -> Verdict:
    return CLAIMS.check(claim, HERE)


@pytest.mark.parametrize(
    "claim",
    [
        f"{LOST} main-left.gauged_kg < 500 kg at {CRUISE}",
        f"{LOST} main-left.gauged_kg > 500 kg at {CRUISE}",
        f"{LOST} not main-left.gauged_kg > 500 kg at {CRUISE}",
        f"{LOST} main-left.gauged_kg < main-right.gauged_kg at {CRUISE}",
        f"{LOST} total.gauged_kg < 500 kg at {CRUISE}",
        f"{LOST} total.discrepancy_kg < 50 kg at {CRUISE}",
        f"{LOST} total.imbalance_kg < 50 kg from {CRUISE} to {LATER}",
        f"{LOST} never main-left.gauged_kg > 500 kg from {CRUISE} to {LATER}",
        f"{LOST} sometimes main-left.gauged_kg > 90000 kg from phase climb to {LATER}",
        f"{LOST} main-left.gauged_kg falls from phase climb + 0:10:00 to {LATER}",
        f"{LOST} main-left.gauged_kg stays within 5 kg from {CRUISE} to {LATER}",
        f"with meter-1=no signal at phase cruise then engine-1.metered_kg_h < 1 kg/h at {CRUISE}",
    ],
)
def test_a_statement_that_hangs_on_a_blank_figure_is_refused(claim: str) -> None:
    with pytest.raises(Mistake) as caught:
        judged(claim)
    assert str(caught.value).startswith(f"{HERE}: ")
    assert "shows nothing at 1:1" in str(caught.value)
    assert " is blank" in str(caught.value)


@pytest.mark.parametrize(
    ("claim", "holds"),
    [
        (f"{LOST} main-left.gauged_kg is blank at {CRUISE}", True),
        (f"{LOST} main-left.gauged_kg is not blank at {CRUISE}", False),
        (f"{LOST} total.gauged_kg is blank from {CRUISE} to {LATER}", True),
        (f"{LOST} main-right.gauged_kg is blank at {CRUISE}", False),
        (f"{LOST} main-left.actual_kg > 5000 kg at {CRUISE}", True),
        ("main-left.gauged_kg is not blank during phase cruise", True),
        # What else is said may decide, whatever the gauge shows.
        (f"{LOST} main-left.gauged_kg is not blank and main-left.gauged_kg > 5 kg at {CRUISE}", False),
        (f"{LOST} main-left.gauged_kg is blank or main-left.gauged_kg > 5 kg during phase cruise", True),
        (f"{LOST} sometimes main-left.gauged_kg > 500 kg from phase climb to {LATER}", True),
        (f"{LOST} main-left.gauged_kg < 500 kg from phase climb to {LATER}", False),
    ],
)
def test_a_gauge_can_be_said_to_be_blank(claim: str, holds: bool) -> None:
    verdict = judged(claim)
    assert verdict.holds is holds, verdict.found


def test_a_verdict_calls_a_blank_gauge_blank() -> None:
    found = judged(
        f"{LOST} main-left.gauged_kg is not blank and main-left.gauged_kg > 5 kg at {CRUISE}"
    ).found
    assert "main-left.gauged_kg is blank" in found
    assert " 0 kg" not in found


def test_a_moment_never_comes_by_a_figure_that_is_not_shown() -> None:
    """As no condition of the automatics holds on it: the gauge first shows so little when it shows again."""
    lost = all_probes_of("main-left")
    mended = ", ".join(
        f"{probe.name}=mended at phase cruise + 0:30:00"
        for probe in AIRCRAFT.probes
        if probe.tank == "main-left"
    )
    when = "when main-left.gauged_kg < 90000 kg after phase cruise + 0:01:00"
    assert judged(f"with {lost}, {mended} then phase cruise + 0:29:59 before {when}").holds


def test_what_shows_something_cannot_be_called_blank() -> None:
    with pytest.raises(Mistake, match=r"main-left\.actual_kg"):
        judged(f"main-left.actual_kg is blank at {CRUISE}")
    with pytest.raises(Mistake, match="allowed: blank"):
        judged(f"main-left.gauged_kg is full at {CRUISE}")


def test_a_change_from_or_to_a_blank_figure_is_blank() -> None:
    figure = f"change of main-left.gauged_kg from phase climb + 0:10:00 to {CRUISE}"
    assert value_of(CLAIMS, f"with {all_probes_of('main-left')} then {figure}", HERE).text == "blank"
    assert value_of(CLAIMS, figure, HERE).text.endswith(" kg")


def test_fuel_by_use_is_blank_before_it_counts_from_a_total() -> None:
    """Until the first engine start it is the gauges' own total; after that the meters keep it."""
    lost = all_probes_of("main-left").replace("phase cruise", "phase preparation + 0:25:00")
    early, late = "phase preparation + 0:26:00", CRUISE
    assert value_of(CLAIMS, f"with {lost} then total.computed_kg at {early}", HERE).text == "blank"
    assert value_of(CLAIMS, f"with {lost} then total.computed_kg at {late}", HERE).text.endswith(" kg")

"""What the gauges read off level: as if level, or by an attitude that their computer knows."""

import pytest

from tests.flight.fleet_flights import airborne_s, flown
from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import fleet_text, parse_aircraft, read_aircraft
from wetwing.flight.posture import Frame

ATTITUDES = [
    *((pitch, 0.0) for pitch in (-4.0, -3.0, -2.0, -1.0, 1.0, 2.0, 3.0, 4.0)),
    *((0.0, roll) for roll in (-2.0, -1.0, 1.0, 2.0)),
]
"""Pitch 4 degrees to either side of the cruise, or a wing 2 degrees low: what the fleet's flights ask for."""

CORRECTED = ("juniper-285", "rowan-54")


def worst_share(aircraft: Aircraft, corrected: bool) -> dict[str, float]:
    """The largest error of each tank's gauge at these attitudes, as a share of what the tank holds when
    full.
    """
    frame = Frame(aircraft)
    worst = {}
    for i, tank in enumerate(aircraft.tanks):
        gauge = frame.gauges[i]
        assert gauge is not None
        errors = []
        for pitch, roll in ATTITUDES:
            tilted = frame.shapes[i].at(pitch, roll)
            for k in range(51):
                volume_l = tank.overflow.at_l * k / 50.0
                errors.append(abs(gauge.reads_l(tilted, volume_l, (), corrected) - volume_l))
        worst[tank.name] = max(errors) / tank.capacity_l
    return worst


@pytest.mark.parametrize("name", CORRECTED)
def test_a_computer_that_knows_the_attitude_stays_within_one_per_cent_of_full(name: str) -> None:
    aircraft = read_aircraft(name)
    assert aircraft.corrects_attitude
    found = worst_share(aircraft, corrected=True)
    assert max(found.values()) <= 0.01, found
    # Read as if level, the same probes err by more.
    assert max(worst_share(aircraft, corrected=False).values()) > 0.01


def test_without_the_key_a_gauge_reads_as_if_level() -> None:
    assert not read_aircraft("alder-165").corrects_attitude
    assert 0.03 < max(worst_share(read_aircraft("alder-165"), corrected=False).values()) < 0.04


@pytest.mark.parametrize("name", CORRECTED)
def test_in_a_normal_flight_the_ledger_hardly_moves_with_the_nose(name: str) -> None:
    flight = flown(name)
    start_s, end_s = airborne_s(flight)
    full_kg = sum(tank.capacity_l for tank in flight.aircraft.tanks) * 0.8
    missing = [
        kg
        for time_s, kg in zip(flight.time_s, flight.quantities["total.discrepancy_kg"], strict=True)
        if start_s <= time_s <= end_s
    ]
    assert max(flight.quantities["flight.pitch_deg"]) > 3.0
    assert max(missing) - min(missing) < 0.002 * full_kg


def test_the_key_is_read_and_its_slips_are_named() -> None:
    rowan = fleet_text("rowan-54")
    section = "[gauging]\ncorrects_attitude = true\n"
    assert section in rowan
    assert not parse_aircraft(rowan.replace(section, ""), "rowan.toml").corrects_attitude
    assert not parse_aircraft(
        rowan.replace("attitude = true", "attitude = false"), "x.toml"
    ).corrects_attitude
    for slip, told in (("yes", "true or false"), ("corrects_atitude = true", "nearest: corrects_attitude")):
        line = f'corrects_attitude = "{slip}"' if slip == "yes" else slip
        with pytest.raises(Mistake) as caught:
            parse_aircraft(rowan.replace("corrects_attitude = true", line), "x.toml")
        assert str(caught.value).startswith("x.toml: gauging")
        assert told in str(caught.value).replace(", ", " or ")


def test_a_gauge_with_lost_probes_is_corrected_too() -> None:
    """Each probe that is left knows the attitude: a lost one costs coverage, not the correction."""
    aircraft = read_aircraft("juniper-285")
    frame = Frame(aircraft)
    inner = next(i for i, tank in enumerate(aircraft.tanks) if tank.name == "inner-left")
    gauge = frame.gauges[inner]
    assert gauge is not None
    tilted = frame.shapes[inner].at(3.0, 0.0)
    for k in range(5, 96):
        volume_l = 310.0 * k
        read_l = gauge.reads_l(tilted, volume_l, (3,), corrected=True)
        assert read_l == pytest.approx(volume_l, abs=310.0)


@pytest.mark.parametrize("name", CORRECTED)
def test_an_empty_tank_reads_nothing_at_any_attitude(name: str) -> None:
    """A tilted tank has a corner that no probe sees: read as if level, or by the attitude, it is no fuel."""
    aircraft = read_aircraft(name)
    frame = Frame(aircraft)
    for i, gauge in enumerate(frame.gauges):
        assert gauge is not None
        for pitch, roll in (*ATTITUDES, (5.0, 2.0), (-3.0, -2.0)):
            assert gauge.reads_l(frame.shapes[i].at(pitch, roll), 0.0, (), corrected=True) == 0.0

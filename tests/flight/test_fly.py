"""What every flight promises, and that its numbers are those of finer steps."""

import hashlib
import json
import os
import subprocess
import sys
from bisect import bisect_left
from dataclasses import replace
from itertools import pairwise

import pytest

from tests.flight.finer import finer
from tests.flight.flights import (
    alder,
    assert_conserved,
    assert_sound,
    day_sector,
    edit,
    flown,
    turn,
)
from wetwing.flight.compact import compact
from wetwing.flight.document import document
from wetwing.flight.fly import fly
from wetwing.flight.record import Flight
from wetwing.flight.script import InitialTank, with_edits

EDITED = (
    (),
    ("1:30:00 centre-feed=manual",),
    ("2:00:00 cross-feed=open",),
    ("1:30:00 main-left-forward=off", "1:30:00 main-left-aft=off"),
    ("0:30:00 slats=out",),
)


def test_nothing_is_lost_at_any_keyframe_of_the_demonstration_flight() -> None:
    assert_conserved(flown())


@pytest.mark.parametrize("edits", EDITED)
def test_every_flight_keeps_its_promises(edits: tuple[str, ...]) -> None:
    assert_sound(flown(*edits))


def test_a_loss_would_be_found() -> None:
    flight = fly(alder(), day_sector())
    flight.quantities["total.vented_kg"][40] += 1e-4
    with pytest.raises(AssertionError, match="kg lost"):
        assert_conserved(flight)


def test_a_jump_has_two_keyframes_and_no_time_has_three() -> None:
    times = flown().time_s
    assert any(a == b for a, b in pairwise(times))
    assert all(a < c for a, c in zip(times, times[2:], strict=False))


def apart_from_changes(flight: Flight, other: Flight, time_s: float) -> bool:
    """Whether a time is well clear of every change: an event located a moment later is no error of a line."""
    for one in (flight, other):
        times = [change.time_s for change in one.changes]
        at = bisect_left(times, time_s)
        if any(abs(times[i] - time_s) < 0.25 for i in (at - 1, at) if 0 <= i < len(times)):
            return False
    return True


@pytest.mark.parametrize("edits", EDITED)
def test_straight_lines_between_keyframes_are_true_to_a_display(
    edits: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    flight = flown(*edits)
    true = finer(monkeypatch, alder(), flight.script)
    assert len(true.time_s) > 4 * len(flight.time_s)
    happened = [(change.part, change.after) for change in flight.changes]
    assert happened == [(change.part, change.after) for change in true.changes]
    for change, exact in zip(flight.changes, true.changes, strict=True):
        assert change.time_s == pytest.approx(exact.time_s, abs=0.01), change
    times = [t for t in true.time_s if apart_from_changes(flight, true, t)]
    assert len(times) > 0.8 * len(true.time_s)
    # A gauge shows tens; the aircraft tilted, its reading bends where a probe falls dry or drowns.
    limits = {
        "gauged_kg": 4.0,
        "imbalance_kg": 10.0,
        "discrepancy_kg": 10.0,
        "kg": 2.0,
        "kg_h": 15.0,
        "bar": 0.05,
        "l": 3.0,
        "ft": 1.0,
        "mach": 0.001,
        "c": 0.5,
    }
    compared = set()
    for name in flight.quantities:
        subject, _, attribute = name.partition(".")
        ending = next((e for e in sorted(limits, key=len, reverse=True) if attribute.endswith(e)), None)
        if ending is None or name == "flight.time_s":
            continue
        compared.add(ending)
        for t in times:
            # What is summed over the tanks errs by their sum.
            limit = 10.0 if name == "total.gauged_kg" else limits[ending]
            if attribute == "temperature_c" and flight.quantity(f"{subject}.actual_kg", t) <= 100.0:
                continue
            assert flight.quantity(name, t) == pytest.approx(true.quantity(name, t), abs=limit), (name, t)
    assert compared == set(limits)


def fingerprint(flight: Flight) -> str:
    """Of every bit of a flight."""
    whole = [document(flight), compact(flight), flight.quantities]
    return hashlib.sha256(json.dumps(whole, allow_nan=False).encode()).hexdigest()


def test_two_runs_are_one_flight() -> None:
    script = with_edits(day_sector(), (edit("1:30:00 centre-feed=manual"),), alder())
    assert fingerprint(fly(alder(), script)) == fingerprint(fly(alder(), script))


def test_a_flight_leaves_its_aircraft_and_script_as_they_were() -> None:
    first = fingerprint(fly(alder(), day_sector()))
    flown("1:30:00 centre-feed=manual", "2:00:00 main-left-aft=off")
    assert fingerprint(fly(alder(), day_sector())) == first


def test_another_process_with_another_hash_seed_flies_the_same_flight() -> None:
    program = "from tests.flight.test_fly import *; print(fingerprint(fly(alder(), day_sector())))"
    found = set()
    for seed in ("0", "4242"):
        done = subprocess.run(
            [sys.executable, "-c", program],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        )
        found.add(done.stdout.strip())
    assert found == {fingerprint(fly(alder(), day_sector()))}


def test_a_quantity_at_a_jump_is_the_later_one_and_before_it_the_earlier() -> None:
    flight = flown()
    starts = turn(flight, "engine-2", "starting")
    assert flight.quantity("engine-2.flow_kg_h", starts.time_s) == 900.0
    assert flight.quantity("engine-2.flow_kg_h", starts.time_s - 1e-6) == 0.0
    assert flight.state("engine-2", starts.time_s) == "starting"
    assert flight.state("engine-2", starts.time_s - 1e-6) == "off"


def test_a_moment_is_held_to_the_ends_of_the_flight() -> None:
    flight = flown()
    assert flight.moment(-5.0).quantity("total.on_board_kg") == flight.quantities["total.on_board_kg"][0]
    late = flight.moment(1e6)
    assert late.time_s == flight.duration_s
    assert late.quantity("total.on_board_kg") == flight.quantities["total.on_board_kg"][-1]


def test_the_same_mass_of_lighter_fuel_fills_more() -> None:
    script = replace(
        day_sector(),
        tanks={name: InitialTank(tank.actual_kg, 15.0) for name, tank in day_sector().tanks.items()},
    )
    light = fly(alder(), replace(script, density_15c_kg_m3=780.0))
    dense = fly(alder(), replace(script, density_15c_kg_m3=830.0))
    for tank in alder().tanks:
        column = f"{tank.name}.volume_l"
        ratio = light.quantities[column][0] / dense.quantities[column][0]
        assert ratio == pytest.approx(830.0 / 780.0, rel=1e-12)


def test_the_whole_flight_burns_what_its_engines_and_apu_flow() -> None:
    # Trapezia over the keyframes: an independent sum of what the panel shows.
    flight = flown()
    burned = 0.0
    for a, b in zip(range(len(flight.time_s)), range(1, len(flight.time_s)), strict=False):
        length_h = (flight.time_s[b] - flight.time_s[a]) / 3600.0
        for user in ("engine-1", "engine-2", "apu"):
            column = flight.quantities[f"{user}.flow_kg_h"]
            burned += 0.5 * (column[a] + column[b]) * length_h
    assert burned == pytest.approx(flight.quantities["total.burned_kg"][-1], abs=10.0)


def test_an_edit_changes_nothing_that_lies_before_it() -> None:
    plain = flown()
    for at_s, text in ((5000.0, "1:23:20 centre-left=off"), (15000.0, "4:10:00 cross-feed=open")):
        edited = flown(text)
        before = [k for k, time_s in enumerate(plain.time_s) if time_s < at_s - 900.0]
        assert len(before) > 50
        assert edited.time_s[: len(before)] == plain.time_s[: len(before)]
        for name, column in plain.quantities.items():
            assert edited.quantities[name][: len(before)] == column[: len(before)]
        early = [change for change in plain.changes if change.time_s < at_s]
        assert list(edited.changes[: len(early)]) == early

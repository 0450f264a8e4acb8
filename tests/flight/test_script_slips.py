"""What the reader of scripts says to each slip of an author, and what edits are refused with.

The slips stand in `slips.toml`, beside this file.
"""

from functools import partial
from pathlib import Path

import pytest

from tests.aircraft.files import Slip, changed, day_sector_text, mistake_of, says, slips_in
from tests.flight.flights import alder, day_sector, edit
from wetwing.flight.clock import clock, seconds
from wetwing.flight.script import (
    MOST_EDITS,
    Edit,
    parse_script,
    read_script,
    script_aircraft,
    script_for,
    scripts,
    with_edits,
)

SLIPS = slips_in(Path(__file__).with_name("slips.toml"))


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip.name.replace(" ", "-"))
def test_a_slip_in_a_script_is_named(slip: Slip) -> None:
    text = changed(day_sector_text(), (slip.old, slip.new))
    assert says(mistake_of(lambda: parse_script(text, "day.toml", alder())), slip.says)


def test_the_script_as_it_ships_has_no_slip() -> None:
    assert parse_script(day_sector_text(), "day-sector.toml", alder()) == day_sector()
    assert "day-sector" in scripts()
    assert script_aircraft("day-sector") == "alder-165"


@pytest.mark.parametrize(
    ("shown", "unit", "kg_m3"),
    [("0.804", "kg/L", "804"), ("1.77", "lb/L", "803"), ("6.7", "lb/US gal", "803"), ("0.71", "kg/L", "710")],
)
def test_a_unit_slip_of_the_density_is_recognised_by_its_size(shown: str, unit: str, kg_m3: str) -> None:
    text = changed(day_sector_text(), ("density_15c_kg_m3 = 804", f"density_15c_kg_m3 = {shown}"))
    mistake = mistake_of(lambda: parse_script(text, "day.toml", alder()))
    assert mistake.found == f"{shown} looks like {unit}"
    assert mistake.nearest == f"{kg_m3} kg/m³"


@pytest.mark.parametrize("density", ["745", "875", "804.5"])
def test_densities_of_the_whole_range_are_read(density: str) -> None:
    text = changed(day_sector_text(), ("density_15c_kg_m3 = 804", f"density_15c_kg_m3 = {density}"))
    assert parse_script(text, "day.toml", alder()).density_15c_kg_m3 == float(density)


def test_a_script_that_is_not_there(tmp_path: Path) -> None:
    assert says(
        mistake_of(lambda: read_script("day-sektor", alder())),
        "script: unknown script 'day-sektor'; allowed: …; nearest: day-sector",
    )
    path = tmp_path / "none.toml"
    assert says(
        mistake_of(lambda: read_script(str(path), alder())),
        f"{path}: script cannot be read: No such file or directory",
    )


def test_an_aircraft_has_the_script_that_ships_for_it() -> None:
    found = {
        name: script_for(name) for name in ("alder-165", "alder-165-b", "rowan-54", "alder-1650", "alder")
    }
    assert found == {
        "alder-165": "day-sector",
        "alder-165-b": "day-sector",
        "rowan-54": "rowan-hop",
        "alder-1650": None,
        "alder": None,
    }


def test_a_script_at_a_path_is_read(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(day_sector_text(), encoding="utf-8")
    assert read_script(str(path), alder()) == day_sector()


EDITS = [
    (
        Edit(60.0, "centre-fed", "manual"),
        "edit at 0:01:00: unknown part 'centre-fed'; allowed: …; nearest: centre-feed",
    ),
    (
        Edit(60.0, "centre", "full"),
        "edit at 0:01:00: unknown trouble of centre 'full'; allowed: leak, water, mended",
    ),
    (Edit(60.0, "apu-pump", "on"), "edit at 0:01:00: unknown trouble of apu-pump 'on'; allowed: …, mended"),
    (Edit(60.0, "transfer-left", "blocked"), "edit at 0:01:00: transfer-left is not set by a person; …"),
    (
        Edit(60.0, "main-left", "leak 70000"),
        "edit at 0:01:00: main-left: leak: 70000 kg/h; allowed: 1 to 60000 kg/h; nearest: 60000 kg/h",
    ),
    (
        Edit(60.0, "main-left", "leak much"),
        "edit at 0:01:00: main-left: leak 'much'; allowed: a number from 1 to 60000 kg/h",
    ),
    (
        Edit(60.0, "main-left", "leak nan"),
        "edit at 0:01:00: main-left: leak: nan kg/h; allowed: 1 to 60000 kg/h; nearest: 60000 kg/h",
    ),
    (
        Edit(60.0, "vent-left", "blocked 3"),
        "edit at 0:01:00: vent-left: '3' after 'blocked'; allowed: 'blocked' alone: it takes no figure",
    ),
    (
        Edit(60.0, "slats", "stuk"),
        "edit at 0:01:00: unknown setting or trouble of slats 'stuk'; allowed: in, out, stuck, mended; "
        "nearest: stuck",
    ),
    (
        Edit(60.0, "centre-feed", "manuel"),
        "edit at 0:01:00: unknown setting or trouble of centre-feed 'manuel'; allowed: …; nearest: manual",
    ),
    (
        Edit(60.0, "cross-feed", "moving"),
        "edit at 0:01:00: unknown setting or trouble of cross-feed 'moving'; allowed: shut, open, …",
    ),
    (Edit(-1.0, "slats", "out"), "edit at …: a time outside the flight; allowed: 0:00:00 to 7:21:00"),
    (
        Edit(26461.0, "slats", "out"),
        "edit at 7:21:01: a time outside the flight; allowed: 0:00:00 to 7:21:00",
    ),
    (Edit(60.0, "preselect", "24001"), "edit at 0:01:00: preselect = '24001'; allowed: 0 to 24000 kg"),
    (Edit(60.0, "preselect", "-1 kg"), "edit at 0:01:00: preselect = '-1 kg'; allowed: 0 to 24000 kg"),
    (Edit(60.0, "preselect", "much"), "edit at 0:01:00: preselect = 'much'; allowed: 0 to 24000 kg"),
    (Edit(60.0, "preselect", "inf"), "edit at 0:01:00: preselect = 'inf'; allowed: 0 to 24000 kg"),
    (Edit(60.0, "preselect", "nan"), "edit at 0:01:00: preselect = 'nan'; allowed: 0 to 24000 kg"),
    (
        Edit(60.0, "preselect", "9" * 400),
        f"edit at 0:01:00: preselect = '{'9' * 40}'; allowed: 0 to 24000 kg",
    ),
]


@pytest.mark.parametrize(("wrong", "message"), EDITS, ids=[f"{e.part}={e.state[:9]}" for e, _ in EDITS])
def test_a_wrong_edit_is_refused_and_named(wrong: Edit, message: str) -> None:
    assert says(mistake_of(lambda: with_edits(day_sector(), (wrong,), alder())), message)


def test_too_many_edits_are_refused() -> None:
    many = (edit("1:00:00 slats=out"),) * (MOST_EDITS + 1)
    assert says(
        mistake_of(lambda: with_edits(day_sector(), many, alder())), "edits: 201 edits; allowed: at most 200"
    )


def test_edits_are_kept_in_their_order_and_change_no_script() -> None:
    before = day_sector()
    edits = (edit("2:00:00 slats=out"), edit("1:00:00 preselect=20,000 kg"))
    after = with_edits(before, edits, alder())
    assert after.edits == edits
    assert before.edits == ()
    assert len(after.actions) == len(before.actions) + 2
    assert after.actions[-1].settings[0].state == "20000 kg"


def test_times_as_people_write_them() -> None:
    assert seconds("1:04:30", "x") == 3870.0
    assert seconds("0:00:00.5", "x") == 0.5
    assert seconds(" 12:00:00 ", "x") == 43_200.0
    assert clock(3870.0) == "1:04:30"
    assert clock(3869.96, 1) == "1:04:30.0"
    assert clock(59.999) == "0:01:00"
    for wrong in ("1:4:30", "1:04", "1:04:60", "1:60:00", "x", "", "-1:00:00", "1:04:30.1234", "1:04:30 pm"):
        assert says(
            mistake_of(partial(seconds, wrong, "x")),
            f"x: time '{wrong}'; allowed: h:mm:ss, such as 1:04:30",
        )


def test_fuel_that_the_model_of_its_physics_does_not_cover_is_refused() -> None:
    dense = changed(day_sector_text(), ("density_15c_kg_m3 = 804", "density_15c_kg_m3 = 885"))
    assert says(
        mistake_of(lambda: parse_script(dense, "day.toml", alder())),
        "day.toml: initial.tanks.outboard-left.temperature_c: 5 °C, where this fuel has 892 kg/m³; "
        "allowed: a density of 745 to 885 kg/m³",
    )
    frozen = changed(
        day_sector_text(), ("uplift_temperature_c = 14", "uplift_temperature_c = -40\nfreezing_c = -38")
    )
    assert says(
        mistake_of(lambda: parse_script(frozen, "day.toml", alder())),
        "day.toml: fuel.uplift_temperature_c: -40 °C; allowed: above the freezing point, -38 °C",
    )
    just_frozen = changed(frozen, ("freezing_c = -38", "freezing_c = -40"))
    assert says(
        mistake_of(lambda: parse_script(just_frozen, "day.toml", alder())),
        "day.toml: fuel.uplift_temperature_c: -40 °C; allowed: above the freezing point, -40 °C",
    )

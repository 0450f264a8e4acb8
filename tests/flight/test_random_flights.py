"""Any loading, any switches at any time: no crash, no negative tank, nothing lost, every cause earlier.

`SOAK=5000` in the environment flies that many, by chance instead of by a fixed list.
"""

import os
import re
from dataclasses import replace

from hypothesis import HealthCheck, given, note, settings
from hypothesis import strategies as st

from tests.flight.flights import alder, assert_sound, day_sector
from wetwing.aircraft.model import Control
from wetwing.flight.fly import fly
from wetwing.flight.script import Edit, InitialTank, Script, settable, with_edits
from wetwing.physics.fuel import mass_kg

SOAK = int(os.environ.get("SOAK", "0"))
PARTS = sorted(settable(alder()))
# Moments at which much happens anyway are tried more often than chance would.
TIMES_S = st.one_of(
    st.floats(0.0, day_sector().ends_s, allow_nan=False),
    st.integers(0, int(day_sector().ends_s)).map(float),
    st.sampled_from([0.0, 120.0, 240.0, 1200.0, 1860.0, 1980.0, 2820.0, 3020.0, 5075.0, 10284.0, 23940.0]),
)


@st.composite
def edits(draw: st.DrawFn) -> Edit:
    name = draw(st.sampled_from(PARTS))
    part = alder().parts[name]
    if isinstance(part, Control) and part.quantity:
        kg = draw(st.floats(part.quantity.least, part.quantity.most, allow_nan=False))
        return Edit(draw(TIMES_S), name, f"{kg:.1f}")
    return Edit(draw(TIMES_S), name, draw(st.sampled_from(part.settings)))


@st.composite
def scripts(draw: st.DrawFn) -> Script:
    density = draw(st.floats(*alder().limits.fuel_density_kg_m3))
    temperature_c = draw(st.floats(-30.0, 40.0))
    tanks = {}
    for tank in alder().tanks:
        most_kg = mass_kg(tank.overflow.at_l, density, temperature_c)
        fill = draw(st.one_of(st.floats(0.0, 1.0), st.sampled_from([0.0, 1.0, 0.002, 0.02, 0.1])))
        tanks[tank.name] = InitialTank(fill * most_kg * (1.0 - 1e-12), temperature_c)
    changed = replace(
        day_sector(),
        density_15c_kg_m3=density,
        zero_fuel_kg=draw(st.floats(40_000.0, alder().limits.zero_fuel_kg)),
        deviation_k=draw(st.floats(-30.0, 30.0)),
        uplift_temperature_c=draw(st.floats(-20.0, 45.0)),
        tanks=tanks if draw(st.booleans()) else day_sector().tanks,
    )
    return with_edits(changed, tuple(draw(st.lists(edits(), max_size=12))), alder())


@settings(
    max_examples=SOAK or 150,
    derandomize=not SOAK,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(scripts())
def test_any_flight_keeps_its_promises(script: Script) -> None:
    # No Mistake is legitimate here: the aircraft's rules rest, and every setting is one that it can take.
    note([(edit.time_s, edit.part, edit.state) for edit in script.edits])
    flight = fly(alder(), script)
    assert_sound(flight)
    for change in flight.changes:
        assert change.reason.kind == "action" or change.reason.sentence
        assert not re.search(r"None|nan|inf\b", change.reason.sentence), change.reason.sentence
        if change.reason.kind == "rule":
            assert change.reason.facts or change.reason.causes
    for tank in alder().tanks:
        column = flight.quantities[f"{tank.name}.temperature_c"]
        assert -80.0 < min(column) <= max(column) < 85.0
    for name in ("engine-1.flow_kg_h", "engine-2.flow_kg_h", "apu.flow_kg_h"):
        assert min(flight.quantities[name]) >= 0.0

"""The same flight by tighter steps."""

import pytest

import wetwing.flight.fly as flying
from wetwing.aircraft.model import Aircraft
from wetwing.flight.record import Flight
from wetwing.flight.script import Script

TIGHT = {
    "LONGEST_STEP_S": 5.0,
    "STEP_ERROR_KG": 1e-7,
    "STEP_ERROR_K": 1e-7,
    "LINE_ERROR_KG": 0.02,
    "LINE_ERROR_K": 0.005,
    "LINE_ERROR_KG_H": 0.2,
}


def finer(patch: pytest.MonkeyPatch, aircraft: Aircraft, script: Script) -> Flight:
    """The flight by steps of five seconds at most, each held to a hundredth of the usual error or less."""
    with patch.context() as tight:
        for name, value in TIGHT.items():
            tight.setattr(flying, name, value)
        return flying.fly(aircraft, script)

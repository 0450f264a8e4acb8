"""The same flight by tighter steps."""

import pytest

import wetwing.flight.fly as flying
import wetwing.flight.lines as lines
from wetwing.aircraft.model import Aircraft
from wetwing.flight.record import Flight
from wetwing.flight.script import Script

STEPS = {"LONGEST_STEP_S": 5.0, "STEP_ERROR_KG": 1e-7, "STEP_ERROR_K": 1e-7}
LINES = {"LINE_ERROR_KG": 0.02, "LINE_ERROR_K": 0.005, "LINE_ERROR_KG_H": 0.2}


def finer(patch: pytest.MonkeyPatch, aircraft: Aircraft, script: Script) -> Flight:
    """The flight by steps of five seconds at most, each held to a hundredth of the usual error or less."""
    with patch.context() as tight:
        for module, errors in ((flying, STEPS), (lines, LINES)):
            for name, value in errors.items():
                tight.setattr(module, name, value)
        return flying.fly(aircraft, script)

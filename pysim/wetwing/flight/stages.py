"""Flying a flight in stages, so that whoever waits for it can look at what is flown, or leave it for another.

The flight is that of `fly`, to the last bit: a stage stops between two steps and changes nothing.
"""

from collections.abc import Callable, Iterator
from functools import partial

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.flight.clock import clock
from wetwing.flight.fly import MOST_STEPS, Flying, fly
from wetwing.flight.keeping import Kept, parts_at_s
from wetwing.flight.record import Flight
from wetwing.flight.script import Script

STEPS = 4
"""Steps in a stage: so few that a browser is done with them within some hundredths of a second."""


class _Stopped(Exception):
    """A stage is done."""


class FlyingInStages(Flying):
    """A flight in the making that stops after so many steps.

    At a stop everything has come to rest, or it is between two events; every change up to then is there.
    """

    def __init__(self, aircraft: Aircraft, script: Script) -> None:
        super().__init__(aircraft, script)
        self.left = STEPS
        self.whole: Flight | None = None
        """The flight, once it is flown."""

    def stages(self, known: Kept | None = None) -> Iterator[None]:
        """Fly as `fly` does, and stop after each stage. Raises Mistake.

        `known` may be what is flown of another flight that was left after a stage.
        """
        go: Callable[[], Flight] = self.flight
        if known is not None and known.aircraft is self.base:
            at = known.rest_before(parts_at_s(known.script, self.script))
            if at is not None:
                go = partial(self.go_on, known, at)
        taken = 0
        while self.whole is None:
            try:
                self.whole = go()
            except _Stopped:
                taken += STEPS
                if taken > MOST_STEPS:
                    # Too long a flight is refused in one place, in its words.
                    self.whole = fly(self.base, self.script)
                go, self.left = self._rest_of_it, STEPS
                yield
            except Mistake:
                raise
            except ValueError as error:
                place = f"{self.script.name} at {clock(self.world.time_s)}"
                raise Mistake(place, str(error), "what the model of the physics covers") from error

    def _is_over(self) -> bool:
        if self.left == 0:
            raise _Stopped
        self.left -= 1
        return super()._is_over()

    @property
    def kept(self) -> Kept:
        """What is flown, for another flight to take up."""
        world, keyframes = self.world, self.keyframes
        return Kept(
            self.base,
            self.script,
            self.rests,
            keyframes.time_s,
            keyframes.rows,
            world.changes,
            world.commands,
            self.start_states,
            self.start_settings,
        )

"""Fuel for a flight before it starts, and what to say when little is left.

An example of the arithmetic. The reader's operator sets the policy; its approved manuals come first.
"""

from dataclasses import dataclass, fields
from typing import Literal

from wetwing.physics.arithmetic import exp
from wetwing.physics.bounds import MOST_KG, within

Standing = Literal["normal", "minimum fuel", "mayday fuel"]

HOLDING_AT_LEAST_MIN = 5.0
FINAL_RESERVE_MIN = 30.0


@dataclass(frozen=True, slots=True)
class Plan:
    """Usable fuel by purpose, kg, and its sums.

    Taxi: from the start of the APU or the first engine to take-off. Trip: take-off to landing at the
    destination. Contingency: for what turns out otherwise than planned. Alternate: from a missed approach to
    the alternate's runway. Final reserve: to be there still at landing. Additional: for a failure at the
    worst point, where the rest won't do. Extra: for a delay or constraint that is expected. Discretionary: as
    the commander sees fit. Source: CAT.OP.MPA.181; ICAO Annex 6 Part I. Worked figure: 270, 8,900, 445,
    1,500 and 1,170 make block 12,285, take-off 12,015, planned landing 3,115.
    """

    taxi_kg: float
    trip_kg: float
    contingency_kg: float
    alternate_kg: float
    final_reserve_kg: float
    additional_kg: float = 0.0
    extra_kg: float = 0.0
    discretionary_kg: float = 0.0

    def __post_init__(self) -> None:
        for field in fields(self):
            within(f"plan: {field.name}", getattr(self, field.name), 0.0, MOST_KG)

    @property
    def landing_kg(self) -> float:
        """Planned fuel at landing: all but taxi and trip, for a flight that goes as planned."""
        return (
            self.contingency_kg
            + self.alternate_kg
            + self.final_reserve_kg
            + self.additional_kg
            + self.extra_kg
            + self.discretionary_kg
        )

    @property
    def take_off_kg(self) -> float:
        """Fuel at the start of the take-off."""
        return self.trip_kg + self.landing_kg

    @property
    def block_kg(self) -> float:
        """Fuel on board before the engines start."""
        return self.taxi_kg + self.take_off_kg


def contingency_kg(trip_kg: float, holding_flow_kg_h: float, share: float = 0.05) -> float:
    """Contingency fuel: the larger of share x trip and 5 minutes' holding at 1,500 ft, kg.

    The share is 5 %; 3 % with an en-route alternate and monitoring of the fleet's burn. Range: share 0.03 to
    0.05; the rule's other methods (20 minutes, statistics) are left out. Source: AMC1 and AMC6
    CAT.OP.MPA.181. Worked figure: trip 8,900 at 5 % with 2,340 kg/h gives 445; trip 3,000 gives 195, the
    5 minutes.
    """
    within("contingency: trip_kg", trip_kg, 0.0, MOST_KG)
    within("contingency: holding_flow_kg_h", holding_flow_kg_h, 0.0, MOST_KG)
    within("contingency: share", share, 0.03, 0.05)
    return max(share * trip_kg, holding_flow_kg_h * HOLDING_AT_LEAST_MIN / 60.0)


def final_reserve_kg(holding_flow_kg_h: float, minutes: float = FINAL_RESERVE_MIN) -> float:
    """Final reserve: holding flow x time, kg; 30 minutes for turbines, at 1,500 ft above the alternate (or
    the destination, where none is needed) in a standard day at the mass of arrival.

    Source: CAT.OP.MPA.181(c). Worked figure: 2,340 kg/h gives 1,170.
    """
    within("final reserve: holding_flow_kg_h", holding_flow_kg_h, 0.0, MOST_KG)
    return holding_flow_kg_h * within("final reserve: minutes", minutes, 30.0, 120.0) / 60.0


def clearance_change_kg(final_reserve_kg: float) -> float:
    """What a change of clearance may cost, kg: a sixth of the final reserve, five minutes of thirty.

    A parameter of this project. Worked figure: 195 of 1,170.
    """
    return within("change: final_reserve_kg", final_reserve_kg, 0.0, MOST_KG) / 6.0


def standing_of(
    predicted_landing_kg: float, final_reserve_kg: float, committed: bool, change_kg: float | None = None
) -> Standing:
    """What the predicted fuel at landing calls for.

    Mayday fuel: less than the final reserve at the nearest aerodrome where a safe landing can be made; an
    emergency. Minimum fuel: committed to one aerodrome, and a change of clearance may bring the landing below
    final reserve; not an emergency. `change_kg` is what such a change may cost; `clearance_change_kg` where
    it is not given. Source: CAT.OP.MPA.185; ICAO Annex 6 Part I, 4.3.7. Worked figure, final reserve 1,170,
    committed: 1,300 is minimum fuel, 1,169 mayday fuel, 1,500 normal.
    """
    within("standing: predicted_landing_kg", predicted_landing_kg, -MOST_KG, MOST_KG)
    within("standing: final_reserve_kg", final_reserve_kg, 0.0, MOST_KG)
    if change_kg is None:
        change_kg = clearance_change_kg(final_reserve_kg)
    within("standing: change_kg", change_kg, 0.0, MOST_KG)
    if predicted_landing_kg < final_reserve_kg:
        return "mayday fuel"
    if committed and predicted_landing_kg - change_kg < final_reserve_kg:
        return "minimum fuel"
    return "normal"


def carriage_cost_kg(extra_kg: float, hours: float, share_h: float) -> float:
    """Fuel that carrying extra fuel burns: e (1 - exp(-r t)), kg; what is left of the extra burns at r an
    hour.

    Range: r 0 to 0.2 an hour, t 0 to 24 h. `burn.carriage_share_h` gives r, 0.025 to 0.04 in cruise.
    Worked figure: 2,000 kg for 5 h at 0.03: 279.
    """
    within("carriage: extra_kg", extra_kg, 0.0, MOST_KG)
    return extra_kg * (1.0 - exp(-_exponent(hours, share_h)))


def loaded_for_kg(wanted_kg: float, hours: float, share_h: float) -> float:
    """Extra fuel to load for a wanted extra at landing: w exp(r t), kg; the inverse of carrying it. Worked
    figure: 2,000 after 5 h at 0.03: 2,324.
    """
    within("carriage: wanted_kg", wanted_kg, 0.0, MOST_KG)
    return wanted_kg * exp(_exponent(hours, share_h))


def _exponent(hours: float, share_h: float) -> float:
    return within("carriage: hours", hours, 0.0, 24.0) * within("carriage: share_h", share_h, 0.0, 0.2)

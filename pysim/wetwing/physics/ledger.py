"""The fuel's book-keeping: what should be on board against what the gauges show.

Tolerances are examples. The reader's operator sets them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from wetwing.physics.bounds import MOST_KG, within

FEWEST_READINGS = 5

Finding = Literal["agrees", "leak", "gauge"]


def discrepancy_kg(departure_kg: float, on_board_kg: float, used_kg: float) -> float:
    """Fuel that is missing: departure - (on board + used), kg; negative where there is too much.

    Used is the sum of the engines' flow meters. A leak downstream of a meter is used fuel to it, so this
    difference stays small and the flow is high; upstream of it the difference grows. Worked figure: 12,000
    at departure, 7,400 shown, 4,250 used: 350 missing.
    """
    for name, value_kg in (
        ("departure_kg", departure_kg),
        ("on_board_kg", on_board_kg),
        ("used_kg", used_kg),
    ):
        within(f"ledger: {name}", value_kg, 0.0, MOST_KG)
    return departure_kg - (on_board_kg + used_kg)


def finding(discrepancies_kg: Sequence[float], tolerance_kg: float) -> Finding:
    """What discrepancies at equal intervals, oldest first, point to.

    Within tolerance at the last: agrees. Else, if one interval made at least half of the whole change, it
    stepped: suspect a gauge. Else it grows: a leak. A loss that began before the first reading and stands
    still since is a gauge too. Range: at least 5 readings. A parameterisation of this project: a hint, not a
    proof, and until a leak is excluded it counts as one. Worked figure: 0, 90, 180, 270, 360 with 200 is a
    leak; 0, 0, 350, 350, 350 is a gauge.
    """
    within("finding: number of readings", len(discrepancies_kg), FEWEST_READINGS, 1_000_000)
    within("finding: tolerance_kg", tolerance_kg, 0.0, MOST_KG)
    if abs(discrepancies_kg[-1]) <= tolerance_kg:
        return "agrees"
    grown_kg = discrepancies_kg[-1] - discrepancies_kg[0]
    steps = [later - earlier for earlier, later in pairwise(discrepancies_kg)]
    # Fuel that appears from nowhere comes here too, however steadily: of steps whose sum is negative, the
    # greatest is above half the sum.
    if max(steps) >= 0.5 * grown_kg:
        return "gauge"
    return "leak"


def leak_flow_kg_h(earlier_kg: float, later_kg: float, hours: float) -> float:
    """Growth of a discrepancy over a time, kg/h; from 1 minute to 24 h. Worked figure: 350 to 800 in half an
    hour: 900.
    """
    return (later_kg - earlier_kg) / within("leak: hours", hours, 1.0 / 60.0, 24.0)


@dataclass(frozen=True, slots=True)
class UpliftCheck:
    """Gauges after refuelling against the book. A positive difference: the gauges show more than the book."""

    expected_kg: float
    difference_kg: float
    tolerance_kg: float

    @property
    def agrees(self) -> bool:
        return abs(self.difference_kg) <= self.tolerance_kg


def uplift_check(
    arrival_kg: float,
    ground_burn_kg: float,
    uplift_l: float,
    density_kg_l: float,
    gauged_kg: float,
    tolerance_share: float = 0.03,
    tolerance_kg: float = 0.0,
) -> UpliftCheck:
    """Expected = arrival - ground burn + litres x density; difference = gauged - expected, kg.

    The tolerance is the larger of a share of the uplift (reported practice: 3 to 5 %) and a fixed mass. The
    density is not gated here: `units.gated_density_kg_l` does that. Worked figure: 3,100 - 100 + 11,000 L x
    0.800 is 11,800; 11,950 on the gauges is 150 over, within 264.
    """
    for name, value in (
        ("arrival_kg", arrival_kg),
        ("ground_burn_kg", ground_burn_kg),
        ("uplift_l", uplift_l),
        ("gauged_kg", gauged_kg),
        ("tolerance_kg", tolerance_kg),
    ):
        within(f"uplift check: {name}", value, 0.0, MOST_KG)
    within("uplift check: density_kg_l", density_kg_l, 0.0, 100.0)
    within("uplift check: tolerance_share", tolerance_share, 0.0, 0.2)
    uplift_kg = uplift_l * density_kg_l
    expected_kg = arrival_kg - ground_burn_kg + uplift_kg
    return UpliftCheck(expected_kg, gauged_kg - expected_kg, max(tolerance_kg, tolerance_share * uplift_kg))

"""Jettison: how long it takes to a floor, and whether that is quick enough."""

from wetwing.physics.bounds import MOST_KG, within

ALLOWED_MIN = 15.0
"""14 CFR 25.1001(b)."""


def time_to_floor_min(from_kg: float, floor_kg: float, flow_kg_h: float, burn_kg_h: float = 0.0) -> float:
    """Time until the fuel is at the floor: t = 60 (m - m_floor) / (jettison + burn), minutes; zero at or
    below it.

    The floor is where the system stops by itself; 14 CFR 25.1001(e) keeps enough in the tanks for a climb to
    10,000 ft and 45 minutes of cruise after it. The flow counts as steady. Worked figure: 30,000 to 12,000 kg
    at 90,000 kg/h: 12 minutes.
    """
    within("jettison: from_kg", from_kg, 0.0, MOST_KG)
    within("jettison: floor_kg", floor_kg, 0.0, MOST_KG)
    within("jettison: burn_kg_h", burn_kg_h, 0.0, MOST_KG)
    within("jettison: flow_kg_h", flow_kg_h, 0.0, MOST_KG)
    if from_kg <= floor_kg:
        return 0.0
    if flow_kg_h + burn_kg_h <= 0.0:
        raise ValueError("jettison: flow_kg_h and burn_kg_h are 0; allowed is more, above the floor")
    return 60.0 * (from_kg - floor_kg) / (flow_kg_h + burn_kg_h)


def least_flow_kg_h(amount_kg: float, minutes: float = ALLOWED_MIN) -> float:
    """Jettison flow that sheds an amount in a time, kg/h. Worked figure: 18,000 kg in 15 minutes: 72,000."""
    within("jettison: amount_kg", amount_kg, 0.0, MOST_KG)
    return 60.0 * amount_kg / within("jettison: minutes", minutes, 0.1, 1440.0)


def is_quick_enough(amount_kg: float, flow_kg_h: float) -> bool:
    """Whether the amount that climb performance asks to shed leaves within 15 minutes, by jettison alone.

    The amount is down to the mass at which the climb of 25.119 and 25.121(d) can be flown, not to the
    floor. Source: 14 CFR 25.1001(b). Worked figure: 18,000 kg at 72,000 kg/h is just quick enough.
    """
    return flow_kg_h >= least_flow_kg_h(amount_kg)

"""A tank's heat balance: one temperature a tank, its skin, its neighbours, and what comes in; and the oil
that return flow cools.
"""

from wetwing.physics.fuel import (
    REFERENCE_C,
    SPECIFIC_HEAT_15C_J_KG_K,
    SPECIFIC_HEAT_SLOPE_J_KG_K2,
    enthalpy_j_kg,
)

EFFECTIVENESS = 0.9
"""Of the way from its own temperature to the oil's, how far fuel comes in the oil cooler: a parameter."""


def skin_w_k(area_u_w_k: float, fill: float) -> float:
    """Conductance of a tank's skin: U A (1 + fill), W/K, with A the plan area of its floor.

    The floor is wetted at any fill, the roof in proportion. `area_u_w_k` is U A. Range: fill 0 to 1. Worked
    figure: 19 W/m2K on 21.9 m2, full: 832 W/K, so 6,600 kg at 1,895 J/(kg K) have a time constant of 4.2 h.
    """
    return area_u_w_k * (1.0 + (fill if fill < 1.0 else 1.0))


def warming_k_s(
    temperature_c: float,
    watts: float,
    held_kg: float,
    structure_kj_k: float,
    heat_in_w: float,
    inflow_kg_s: float,
) -> float:
    """dT/dt = (Q + sum m_in h(T_in) - h(T) sum m_in) / (m c(T) + C), K/s.

    Q is what comes through skin and walls; `heat_in_w` is the sum of flow times enthalpy of what comes in.
    What leaves does so at T and changes nothing. C is the structure that shares the fuel's temperature.
    Source: first law for an open tank; at constant mass, 14 CFR 25 Appendix N's exponential.
    Worked figure: 5,000 kg at 15 °C with 100 kJ/K lose 0.0104 K/s to 100 kW.
    """
    above = temperature_c - REFERENCE_C
    own = above * (SPECIFIC_HEAT_15C_J_KG_K + 0.5 * SPECIFIC_HEAT_SLOPE_J_KG_K2 * above)
    specific = SPECIFIC_HEAT_15C_J_KG_K + SPECIFIC_HEAT_SLOPE_J_KG_K2 * above
    # A step that tries too far may come below an empty tank; it is taken back, but must not blow up before.
    held = held_kg if held_kg > 0.0 else 0.0
    return (watts + heat_in_w - inflow_kg_s * own) / (held * specific + 1000.0 * structure_kj_k)


def cooler_c(oil_c: float, feed_c: float) -> float:
    """Temperature at which fuel leaves the oil cooler: T_feed + 0.9 (T_oil - T_feed), °C.

    Source: effectiveness of a heat exchanger whose oil side hardly changes. Worked figure: oil 50 °C, fuel
    -10 °C: 44 °C.
    """
    return feed_c + EFFECTIVENESS * (oil_c - feed_c)


def oil_warming_k_s(
    oil_c: float, feed_c: float, heat_w: float, loss_w_k: float, return_kg_s: float, oil_kj_k: float
) -> float:
    """dT_oil/dt = (Q - loss (T_oil - T_feed) - m_return (h(T_cooler) - h(T_feed))) / C, K/s.

    Q is the generator's heat; the loss is to the engine's own fuel and the air; what the oil gives to the
    return flow is exactly what that brings to its tank. Worked figure: 20 kW, 160 W/K, 130 kJ/K, 600 kg/h of
    return flow, oil at 50 °C, fuel at -10 °C: -0.0518 K/s.
    """
    given_w = loss_w_k * (oil_c - feed_c)
    if return_kg_s > 0.0:
        given_w += return_kg_s * (enthalpy_j_kg(cooler_c(oil_c, feed_c)) - enthalpy_j_kg(feed_c))
    return (heat_w - given_w) / (1000.0 * oil_kj_k)

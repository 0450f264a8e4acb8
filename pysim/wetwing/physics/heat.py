"""A tank's heat balance: one temperature a tank, skin and inflow."""

STRUCTURE_KG = 15.0
"""Wetted structure that shares the fuel's temperature, as an equal mass of fuel; it keeps an empty tank's
temperature defined.
"""


def time_constant_s(full_h: float, low_h: float, fill: float) -> float:
    """Time constant towards the skin's recovery temperature, s: from `low_h` when nearly empty to `full_h`
    when full.

    Source: a straight line in the fill; public cold-soak reports give 1 to 2 h low and 3 to 5 h full for a
    wing tank.
    """
    return 3600.0 * (low_h + (full_h - low_h) * fill)


def warming_k_s(
    temperature_c: float,
    skin_c: float,
    time_constant_s: float,
    held_kg: float,
    inflow_kg_s_k: float,
    inflow_kg_s: float,
) -> float:
    """dT/dt = (T_skin - T)/tau + (sum m_in T_in - T sum m_in)/(m + m_structure), K/s.

    `inflow_kg_s_k` is the sum of flow times temperature of what comes in. What leaves does so at T and
    changes nothing. Source: 14 CFR 25 Appendix N, the exponential's differential form, with mixing. Worked
    figure: a full tank of tau 4.4 h at 12 °C under a skin of -33 °C cools at 10.2 K/h.
    """
    return (skin_c - temperature_c) / time_constant_s + (inflow_kg_s_k - inflow_kg_s * temperature_c) / (
        held_kg + STRUCTURE_KG
    )

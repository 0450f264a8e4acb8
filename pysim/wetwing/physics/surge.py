"""Pressure surge when a valve closes on moving fuel: why refuelling valves take seconds."""

from math import pi, sqrt

from wetwing.physics.bounds import within


def wave_speed_m_s(
    density_kg_m3: float, bulk_modulus_pa: float, bore_m: float, wall_m: float, wall_modulus_pa: float
) -> float:
    """Speed of a pressure wave in a pipe: a = sqrt(K / rho) / sqrt(1 + K D / (E e)), m/s.

    Range: thin walls, bore more than ten times the wall. A pipe that gives slows the wave. Source: Korteweg,
    1878. Worked figure: 800 kg/m³ and 1.35 GPa (1,299 m/s unconfined); 100 mm bore, 1.2 mm of aluminium at
    70 GPa: 805.
    """
    within("wave speed: density_kg_m3", density_kg_m3, 500.0, 1500.0)
    within("wave speed: bulk_modulus_pa", bulk_modulus_pa, 1e8, 1e10)
    within("wave speed: wall_modulus_pa", wall_modulus_pa, 1e6, 1e12)
    within("wave speed: bore_m", bore_m, 0.001, 1.0)
    within("wave speed: wall_m", wall_m, 1e-5, bore_m / 10.0)
    give = bulk_modulus_pa * bore_m / (wall_modulus_pa * wall_m)
    return sqrt(bulk_modulus_pa / density_kg_m3) / sqrt(1.0 + give)


def instant_rise_pa(density_kg_m3: float, wave_speed_m_s: float, speed_change_m_s: float) -> float:
    """Rise of pressure when flow stops at once: dp = rho a dv, Pa.

    Source: Joukowsky, 1898. Worked figure: 800 kg/m³, 1,200 m/s, 3.0 m/s: 2.88 MPa, about eight times the
    nominal refuelling pressure of 50 psi (0.345 MPa).
    """
    within("surge: density_kg_m3", density_kg_m3, 500.0, 1500.0)
    within("surge: wave_speed_m_s", wave_speed_m_s, 10.0, 2000.0)
    within("surge: speed_change_m_s", speed_change_m_s, 0.0, 50.0)
    return density_kg_m3 * wave_speed_m_s * speed_change_m_s


def closing_rise_pa(
    density_kg_m3: float, wave_speed_m_s: float, speed_m_s: float, length_m: float, closing_s: float
) -> float:
    """Highest rise at a valve that stops the flow evenly in a time: dp = 2 rho L v / t, Pa, and never above
    rho a v.

    Below t = 2 L / a, the wave's way there and back, the closing counts as instant. Friction is left out, and
    the flow is taken to fall in a straight line; many valves stop most of it late in their stroke, so a
    shorter time than the stroke is the honest figure. Source: Michaud, 1878. Worked figure: 800 kg/m³,
    1,200 m/s, 3.0 m/s in 15 m, 3 s: 24 kPa against 2.88 MPa.
    """
    instant_pa = instant_rise_pa(density_kg_m3, wave_speed_m_s, speed_m_s)
    within("surge: length_m", length_m, 0.0, 5000.0)
    within("surge: closing_s", closing_s, 0.0, 3600.0)
    if closing_s <= 2.0 * length_m / wave_speed_m_s:
        return instant_pa
    return 2.0 * density_kg_m3 * length_m * speed_m_s / closing_s


def pipe_speed_m_s(flow_l_min: float, bore_m: float) -> float:
    """Mean speed in a round pipe: v = Q / (pi D² / 4), m/s.

    Worked figure: 2,271 L/min (600 US gal) in 127 mm: 2.99.
    """
    within("pipe: flow_l_min", flow_l_min, 0.0, 100_000.0)
    within("pipe: bore_m", bore_m, 0.001, 1.0)
    return flow_l_min / 60_000.0 / (0.25 * pi * bore_m * bore_m)

"""Laws of flight and of suction feed, written anew for the tests: nothing here is the simulation's."""

from math import exp, sqrt

from tests.flight.flights import alder, day_sector
from wetwing.flight.record import Flight

G = 9.80665
FOOT_M = 0.3048
SEA_LEVEL_BAR = 1.01325
OSTWALD = 0.18


def pressure_pa(altitude_m: float) -> float:
    """The standard atmosphere below the tropopause, and 2 km above it."""
    if altitude_m <= 11_000.0:
        return 101_325.0 * float((1.0 - 0.0065 * altitude_m / 288.15) ** 5.25588)
    return 22_632.1 * exp(-G * (altitude_m - 11_000.0) / (287.05287 * 216.65))


def full_flow_kg_h() -> float:
    """One engine's flow at its whole thrust, kg/h."""
    return alder().airframe.static_flow_kg_h * 0.93756 * (1.0 - exp(-1.97676 * exp(1.39548)))


def flow_kg_h(
    altitude_m: float,
    mach: float,
    gross_kg: float,
    climb_m_s: float,
    mach_per_s: float,
    engines: int = 2,
    extra_drag: float = 0.0,
) -> float:
    """One engine's flow below the tropopause, kg/h: what the thrust asks for, be it less than idle gives."""
    frame = alder().airframe
    air_k = 288.15 - 0.0065 * altitude_m + day_sector().deviation_k
    sound_m_s = sqrt(1.4 * 287.05287 * air_k)
    load = 0.7 * pressure_pa(altitude_m) * mach * mach * frame.wing_area_m2
    drag = load * (frame.drag_zero_lift + extra_drag) + frame.drag_induced * (gross_kg * G) ** 2 / load
    # d(M a)/dt = a dM/dt + M da/dt, with a falling as the air cools.
    acceleration = mach_per_s * sound_m_s - mach * sound_m_s * 0.0065 * climb_m_s / (2.0 * air_k)
    thrust = drag + gross_kg * (G * climb_m_s / (mach * sound_m_s) + acceleration)
    share = thrust / (engines * frame.engine_thrust_n)
    return frame.static_flow_kg_h * 0.93756 * (1.0 - exp(-1.97676 * share * exp(1.39548 * share)))


def viscosity_mm2_s(celsius: float) -> float:
    """The published fit, T in kelvin."""
    kelvin = celsius + 273.15
    return 225697.23 * exp(-0.042631022 * kelvin) - 0.0030984177 * kelvin + 1.9017552


def thickness(celsius: float) -> float:
    """Viscosity over that at 15 °C."""
    return viscosity_mm2_s(celsius) / viscosity_mm2_s(15.0)


def loss_bar(linear: float, square: float, flow_kg_h: float, celsius: float = 15.0) -> float:
    """a Q + k Q², with a in proportion to viscosity; Q in t/h."""
    flow = flow_kg_h / 1000.0
    return (linear * thickness(celsius) + square * flow) * flow


def inlet_margin_bar(flight: Flight, user: str, node: str, tank: str, time_s: float) -> float:
    """What an engine or the APU has in hand before gas starves its pump, while one tank feeds it."""
    part = next(p for p in (*alder().engines, *alder().apus) if p.name == user)
    drawn = flight.quantity(f"{user}.flow_kg_h", time_s)
    celsius = flight.quantity(f"{tank}.temperature_c", time_s)
    side = {"engine-1": "left", "engine-2": "right"}.get(user)
    loss = 0.0
    if side:
        drawn += flight.quantity(f"return-{side}.flow_kg_h", time_s)
        filter_ = next(f for f in alder().filters if f.user == user)
        loss += loss_bar(filter_.linear_bar_h_t, filter_.square_bar_h2_t2, drawn, celsius)
    loss += loss_bar(part.line_linear_bar_h_t, part.line_square_bar_h2_t2, drawn, celsius)
    vapour_bar = 1e-5 * flight.script.light_ends * exp(21.281 - 4551.4 / (celsius + 273.15))
    air_bar = SEA_LEVEL_BAR * flight.quantity(f"{tank}.air_share", time_s)
    needed_bar = vapour_bar + OSTWALD * air_bar / (OSTWALD + part.inlet_gas_share)
    ambient_bar = 1e-5 * pressure_pa(flight.quantity("flight.altitude_ft", time_s) * FOOT_M)
    return ambient_bar + flight.quantity(f"{node}.pressure_bar", time_s) - loss - needed_bar

"""Published figures of fuel and of air."""

from tests.accuracy.figure import Figure
from wetwing.physics import air, dielectric, flammability, fuel, suction, vapour, viscosity

TABLES = "public Jet A-1 tables"
ISO = "ISO 2533, standard atmosphere"
BAND = "public table of the flammable band of Jet A vapour; taken as it stands"


def figures() -> list[Figure]:
    """List the figures of fuel, of the atmosphere, of flammability and of suction feed."""
    return [*_fuel(), *_air(), *_flammability(), *_suction()]


def _fuel() -> list[Figure]:
    found = [
        Figure("Fuel", name, published, computed, unit, allowed, source)
        for name, published, computed, unit, allowed, source in (
            ("dielectric constant at 800 kg/m³", 2.10, dielectric.dielectric_constant(800.0), "", 0.005,
             "Clausius and Mossotti, C = 0.335 cm³/g: public work on capacitance gauging"),
            ("specific heat at 15 °C", 1895.0, fuel.specific_heat_j_kg_k(15.0), "J/(kg K)", 0.5, TABLES),
        )
    ]  # fmt: skip
    for celsius, published, allowed in (
        (-40.0, 12.1, 0.05), (-20.0, 5.8, 0.05), (0.0, 3.0, 0.05), (15.0, 2.05, 0.005), (40.0, 1.29, 0.005)
    ):  # fmt: skip
        computed = viscosity.viscosity_mm2_s(celsius)
        name = f"viscosity at {celsius:g} °C"
        found.append(Figure("Fuel", name, published, computed, "mm²/s", allowed, TABLES))
    for celsius, published, allowed in (
        (-40.0, 5.8, 0.05), (0.0, 101.0, 0.5), (20.0, 316.0, 0.5), (40.0, 851.0, 0.5), (60.0, 2037.0, 0.5)
    ):  # fmt: skip
        computed = vapour.vapour_pressure_pa(celsius)
        name = f"vapour pressure at {celsius:g} °C"
        found.append(Figure("Fuel", name, published, computed, "Pa", allowed, TABLES))
    slope = fuel.density_kg_m3(804.0, 16.0) - fuel.density_kg_m3(804.0, 15.0)
    found += [
        Figure("Fuel", "change of density a kelvin", -0.74, slope, "kg/m³", 0.005, TABLES),
        Figure(
            "Fuel", "change of density a kelvin, second table", -0.70, slope, "kg/m³", 0.005,
            "a second public table",
            misses="two public tables differ, and the model follows the first: 2 kg/m³ at -40 °C",
        ),
        Figure(
            "Fuel", "specific heat at 15 °C, second source", 1895.0 * 1.035, fuel.specific_heat_j_kg_k(15.0),
            "J/(kg K)", 1895.0 * 0.015, "a second public table, 2 to 5 % higher",
            misses="two public tables differ, and the model follows the first",
        ),
    ]  # fmt: skip
    return found


def _air() -> list[Figure]:
    found = []
    for level, published in ((100, 69.7), (200, 46.6), (300, 30.1), (350, 23.8), (390, 19.7)):
        computed = air.flight_level_pressure_pa(level) / 1000.0
        found.append(Figure("Air", f"pressure at FL{level}", published, computed, "kPa", 0.05, ISO))
    static_k = air.ZERO_CELSIUS_K - 56.5
    total_c = air.total_temperature_k(static_k, 0.78) - air.ZERO_CELSIUS_K
    skin_c = air.recovery_temperature_k(static_k, 0.78) - air.ZERO_CELSIUS_K
    energy = "energy equation of compressible flow"
    skin_source = f"{energy}, recovery factor 0.9"
    found += [
        Figure("Air", "temperature at 11 km", 216.65, air.standard_temperature_k(11000.0), "K", 0.005, ISO),
        Figure("Air", "total temperature at -56.5 °C, Mach 0.78", -30.1, total_c, "°C", 0.05, energy),
        Figure("Air", "skin temperature at -56.5 °C, Mach 0.78", -32.8, skin_c, "°C", 0.05, skin_source),
    ]
    return found


def _flammability() -> list[Figure]:
    found = []
    for altitude_ft, lower_c, upper_c in (
        (0, 35.0, 85.0), (10000, 28.6, 74.1), (20000, 22.1, 63.2), (30000, 15.7, 52.3), (40000, 9.2, 41.4)
    ):  # fmt: skip
        altitude_m = altitude_ft * air.FOOT_M
        for side, published, computed in (
            ("lower", lower_c, flammability.lower_limit_c(altitude_m)),
            ("upper", upper_c, flammability.upper_limit_c(altitude_m)),
        ):
            name = f"{side} flammable limit at {altitude_ft:,} ft"
            found.append(Figure("Flammability", name, published, computed, "°C", 0.05, BAND))
    return found


def _suction() -> list[Figure]:
    # Fresh fuel of 25 °C, half a metre or so above the pump, through a line that loses 0.1 bar.
    ceiling_ft = suction.suction_ceiling_m(0.05, 0.10, vapour.vapour_pressure_bar(25.0), 1.0) / air.FOOT_M
    source = "general knowledge: 15,000 to 30,000 ft is typical"
    return [
        Figure(
            "Suction feed", "ceiling of fresh fuel, middle case", 22500.0, ceiling_ft, "ft", 7500.0, source
        )
    ]

"""The fields of the fuel plan, filled with the flight as it was flown."""

from wetwing.flight.record import Flight
from wetwing.physics.units import LEAST_KG_L, MOST_KG_L
from wetwing.teach.worksheets import way
from wetwing.teach.worksheets.sheet import Field

METHODS = (
    "5 % of the trip",
    "3 % of the trip, with an en-route alternate",
    "20 minutes of the trip's flow, with burn monitoring",
)


def fields(flight: Flight, time_s: float) -> tuple[Field, ...]:
    """The plan of the flight as flown; `time_s` is not asked."""
    script, limits = flight.script, flight.aircraft.limits
    plan = script.plan_kg
    start_s, off_s, down_s = way.taxi_start_s(flight), way.take_off_s(script), way.landing_s(flight)
    most_kg = limits.take_off_kg
    density_kg_l = script.density_15c_kg_m3 / 1000.0

    def mass(name: str, label: str, value: float, help_: str = "") -> Field:
        return Field(name, label, "mass", value, 0.0, most_kg, help_)

    return (
        mass("zero_fuel", "Mass without fuel", script.zero_fuel_kg, "The loaded aircraft before refuelling."),
        mass(
            "taxi",
            "Taxi",
            way.burned_kg(flight, start_s, off_s),
            "From the start of the APU or the first engine, whichever is first, to take-off.",
        ),
        mass(
            "trip",
            "Trip",
            way.burned_kg(flight, off_s, down_s),
            "Take-off to landing, as the simulation burns it.",
        ),
        Field(
            "hours",
            "Time of the trip",
            "minutes",
            (down_s - off_s) / 60.0,
            5.0,
            1440.0,
            "In minutes, or h:mm.",
        ),
        Field(
            "method",
            "Contingency by",
            "choice",
            0.0,
            0.0,
            2.0,
            "Which one is allowed is the operator's policy.",
            choices=METHODS,
        ),
        mass(
            "alternate",
            "Alternate",
            plan.get("alternate_kg", 0.0),
            "From the missed approach to the alternate's runway.",
        ),
        Field(
            "reserve",
            "Final reserve",
            "minutes",
            30.0,
            30.0,
            120.0,
            "Turbine engines: 30 minutes in the hold.",
        ),
        Field(
            "holding",
            "Holding flow",
            "flow",
            None,
            10.0,
            50_000.0,
            empty="Empty: worked out from the mass of arrival.",
        ),
        mass("additional", "Additional", 0.0, "For a failure at the worst point, where the rest won't do."),
        mass("extra", "Extra, wanted at landing", 0.0, "For a delay that is expected."),
        mass("discretionary", "Discretionary, wanted at landing", 0.0, "As the commander sees fit."),
        mass("remaining", "On board before refuelling", flight.quantity("total.gauged_kg", 0.0)),
        Field("density", "Density at 15 °C", "density", density_kg_l, LEAST_KG_L, MOST_KG_L),
        Field("temperature", "Fuel temperature", "temperature", script.uplift_temperature_c, -40.0, 50.0),
        Field(
            "performance",
            "Take-off limit of the day",
            "mass",
            None,
            100.0,
            2.0 * most_kg,
            empty="Empty: the structure's limit alone.",
        ),
    )

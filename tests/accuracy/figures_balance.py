"""Published figures of burn, mass and balance, planning, units and surge, beside what the physics gives."""

from tests.accuracy.figure import Figure
from wetwing.physics import balance, burn, planning, surge, units
from wetwing.physics.air import FOOT_M

TWIN = burn.Aeroplane(
    wing_area_m2=125.0,
    drag_zero_lift=0.020,
    induced_factor=0.041,
    static_thrust_n=120_000.0,
    static_flow_kg_h=4111.0,
)
MACH = 0.78
DATABANK = "public engine emissions databank, a 120 kN engine"
FORMULA = "published open performance model, coefficients of a fictional twin"


def figures() -> list[Figure]:
    """List every figure of this field, those that miss too."""
    return [
        *_cruise_flows(),
        *_databank(),
        *_carriage(),
        *_centres_of_gravity(),
        *_plan(),
        *_units(),
        *_surge(),
    ]


def _cruise_flows() -> list[Figure]:
    table = {
        70: {310: 2829, 350: 2659, 370: 2608},
        80: {310: 3077, 350: 2960, 370: 2940},
        90: {310: 3355, 350: 3296, 370: 3309},
    }
    return [
        Figure(
            "Cruise flow",
            f"two 120 kN engines, Mach 0.78, {gross_t} t, FL{level}",
            published,
            burn.cruise_flow_kg_h(TWIN, gross_t * 1000.0, level * 100.0 * FOOT_M, MACH),
            "kg/h",
            0.002 * published,
            f"{FORMULA}; the table's stated tolerance of 0.2 %",
        )
        for gross_t, row in table.items()
        for level, published in row.items()
    ]


def _databank() -> list[Figure]:
    at_rest = "the formula is for flight; the databank's engine stands on the ground"
    rows = (("take-off", 1.0, 4111), ("climb-out", 0.85, 3380), ("approach", 0.30, 1138), ("idle", 0.07, 367))
    return [
        Figure(
            "Static flow",
            f"{name}, {share * 100.0:.0f} % of the static thrust",
            published,
            burn.flow_kg_h(4111.0, share),
            "kg/h",
            0.5,
            DATABANK,
            misses=at_rest,
        )
        for name, share, published in rows
    ]


def _carriage() -> list[Figure]:
    low = "this is far below the best level of its mass, where lift costs least"
    rows = ((70, 310, low), (70, 350, ""), (80, 350, ""), (90, 350, ""), (90, 370, ""))
    return [
        Figure(
            "Carriage of extra fuel",
            f"burned an hour by an extra mass, {gross_t} t, FL{level}",
            3.25,
            100.0 * burn.carriage_share_h(TWIN, gross_t * 1000.0, level * 100.0 * FOOT_M, MACH),
            "%/h",
            0.75,
            "reported practice: 2.5 to 4 % of the extra mass an hour",
            misses=misses,
        )
        for gross_t, level, misses in rows
    ]


def _centres_of_gravity() -> list[Figure]:
    rows = (((6, 12, 2), 27.0), ((0, 12, 2), 28.1), ((0, 2, 2), 27.0), ((0, 2, 0), 25.3))
    zero_fuel = (62_000.0, balance.arm_of_percent_m(25.0, 4.5))
    loads = [[1000.0 * tonnes for tonnes in load] for load, _ in rows]
    travel = balance.travel_percent(zero_fuel, (0.60, 1.60, 3.60), loads, 4.5)
    return [
        Figure(
            "Centre of gravity",
            f"centre {load[0]} t, mains {load[1]} t, outboards {load[2]} t",
            published,
            computed,
            "% MAC",
            0.05,
            "worked example: zero fuel 62 t at 25 %, chord 4.5 m, arms 0.60, 1.60 and 3.60 m",
        )
        for (load, published), computed in zip(rows, travel, strict=True)
    ]


def _plan() -> list[Figure]:
    source = "worked example after CAT.OP.MPA.181"
    # The example's final reserve is 30 minutes' holding, so its hour's flow is twice that.
    contingency_kg = planning.contingency_kg(8900.0, 2.0 * 1170.0)
    plan = planning.Plan(270.0, 8900.0, contingency_kg, 1500.0, 1170.0)
    rows = (
        ("contingency, 5 % of the trip", 445, contingency_kg),
        ("block fuel", 12_285, plan.block_kg),
        ("planned landing fuel", 3115, plan.landing_kg),
    )
    return [
        Figure("Planning", name, published, computed, "kg", 0.5, source) for name, published, computed in rows
    ]


def _units() -> list[Figure]:
    exact = "definition of the pound and the US gallon"
    return [
        Figure(
            "Units", "0.800 kg/L in pounds a litre", 1.764, units.lb_l_of_kg_l(0.800), "lb/L", 0.0005, exact
        ),
        Figure(
            "Units",
            "0.800 kg/L in pounds a US gallon",
            6.676,
            units.lb_us_gal_of_kg_l(0.800),
            "lb/US gal",
            0.0005,
            exact,
        ),
        Figure(
            "Units",
            "600 US gal a minute at 0.800 kg/L",
            1.8,
            units.l_of_us_gal(600.0) * 0.800 / 1000.0,
            "t/min",
            0.05,
            "usual flow of pressure refuelling",
        ),
        Figure(
            "Units",
            "1.77 lb/L taken as kg/L: share of the need uplifted",
            45.0,
            100.0 * units.uplifted_share(1.77, units.kg_of_lb(1.77)),
            "%",
            0.5,
            "public report of a 1983 accident",
        ),
    ]


def _surge() -> list[Figure]:
    # The source gives no inputs; these are this project's.
    speed_m_s = surge.pipe_speed_m_s(units.l_of_us_gal(600.0), 0.127)
    return [
        Figure(
            "Surge",
            "instant closure of a valve on 600 US gal a minute in 127 mm, wave at 1,200 m/s",
            2.9,
            surge.instant_rise_pa(800.0, 1200.0, speed_m_s) / 1e6,
            "MPa",
            0.05,
            "Joukowsky's equation",
        )
    ]

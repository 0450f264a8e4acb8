"""Pounds, gallons, and the slips between units that a check of the density catches."""

from wetwing.physics.bounds import within

POUND_KG = 0.45359237
US_GALLON_L = 3.785411784
LEAST_KG_L = 0.775
MOST_KG_L = 0.840

_UNITS = (
    ("kg/L", 1.0),
    ("kg/m³", 1000.0),
    ("lb/L", 1.0 / POUND_KG),
    ("kg/US gal", US_GALLON_L),
    ("lb/US gal", US_GALLON_L / POUND_KG),
)


def kg_of_lb(mass_lb: float) -> float:
    """Pounds to kg: 0.45359237 exactly. Source: international yard and pound agreement, 1959. 10,000 lb is
    4,535.9 kg.
    """
    return mass_lb * POUND_KG


def lb_of_kg(mass_kg: float) -> float:
    """Kilograms to pounds. 10,000 kg is 22,046 lb."""
    return mass_kg / POUND_KG


def l_of_us_gal(volume_us_gal: float) -> float:
    """US gallons to litres: 3.785411784 exactly, 231 cubic inches. 600 US gal is 2,271.2 L."""
    return volume_us_gal * US_GALLON_L


def us_gal_of_l(volume_l: float) -> float:
    """Litres to US gallons. 10,000 L is 2,641.7 US gal."""
    return volume_l / US_GALLON_L


def lb_l_of_kg_l(density_kg_l: float) -> float:
    """Density in lb/L. 0.800 kg/L is 1.764 lb/L."""
    return density_kg_l / POUND_KG


def lb_us_gal_of_kg_l(density_kg_l: float) -> float:
    """Density in lb/US gal. 0.800 kg/L is 6.676 lb/US gal."""
    return density_kg_l * US_GALLON_L / POUND_KG


def gated_density_kg_l(figure: float) -> float:
    """Give back a density that can be Jet A-1 in kg/L at 15 °C, 0.775 to 0.840; refuse any other, and name
    the unit that it would fit.

    The gates of different units don't overlap, so a slip of units can't pass. Source: limits of density of
    the Jet A-1 specification. Worked figure: 1.77 is refused as lb/L.
    """
    if LEAST_KG_L <= figure <= MOST_KG_L:
        return figure
    unit = density_unit(figure)
    hint = f"; it would fit in {unit}" if unit else ""
    raise ValueError(
        f"density: {figure:g} kg/L is no Jet A-1; allowed is {LEAST_KG_L:.3f} to {MOST_KG_L:.3f}{hint}"
    )


def density_unit(figure: float) -> str | None:
    """Name the unit in which a figure is a density of Jet A-1, or None. 1.77 is lb/L, 6.7 lb/US gal, 804
    kg/m³.
    """
    return next(
        (unit for unit, factor in _UNITS if LEAST_KG_L * factor <= figure <= MOST_KG_L * factor), None
    )


def uplifted_share(figure_taken: float, density_kg_l: float) -> float:
    """Share of the needed mass that a wrong density figure brings on board: true density / figure taken.

    The need in kg is divided by the figure to give litres. Worked figure: 1.77 taken as kg/L where the fuel
    is 0.803 kg/L brings 45 %.
    """
    return density_kg_l / within("uplift: figure_taken", figure_taken, 1e-6, 1e6)

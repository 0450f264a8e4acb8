"""Refusing a figure that a formula can't take, in one wording: the place, what was found, what is allowed."""

MOST_KG = 1e6
"""More than any aeroplane weighs: a greater mass is a slip."""


def within(place: str, value: float, least: float, most: float, unit: str = "") -> float:
    """Give the value back if least <= value <= most; a ValueError says so otherwise, for not-a-number too.

    within("surge: length_m", -3, 0, 5000) raises "surge: length_m is -3; allowed is 0 to 5000".
    """
    if not least <= value <= most:
        mark = f" {unit}" if unit else ""
        raise ValueError(f"{place} is {value:g}{mark}; allowed is {least:g} to {most:g}{mark}")
    return value

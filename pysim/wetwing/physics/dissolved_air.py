"""Air dissolved in fuel: how much it holds, and how it comes out in a climb.

The amount is told as a share s: the pressure, over 101,325 Pa, of the air that it would be in equilibrium
with. Fuel that has stood open at sea level has s close to 1. By Henry's law the amount is proportional to s.
"""

from wetwing.physics.air import SEA_LEVEL_PA
from wetwing.physics.arithmetic import exp
from wetwing.physics.bounds import within
from wetwing.physics.vapour import PA_BAR

SEA_LEVEL_BAR = SEA_LEVEL_PA / PA_BAR
OSTWALD = 0.18
"""Volume of air, at its own pressure, that a volume of fuel dissolves. Public figures are 0.15 to 0.2."""

LEAST_OSTWALD = 0.1
MOST_OSTWALD = 0.3
MOST_SHARE = 1.2


def check_ostwald(place: str, ostwald: float) -> None:
    """Raise ValueError unless the Ostwald coefficient is within 0.1 to 0.3."""
    within(f"{place}: Ostwald coefficient", ostwald, LEAST_OSTWALD, MOST_OSTWALD)


def check_share(place: str, share: float) -> None:
    """Raise ValueError unless the share of dissolved air is within 0 to 1.2."""
    within(f"{place}: share of dissolved air", share, 0.0, MOST_SHARE)


def equilibrium_share(ambient_bar: float, vapour_bar: float) -> float:
    """Share in equilibrium with the air above the fuel: s = (p - p_v) / 1.01325 bar, never below zero.

    Only the air's part of the pressure dissolves; the vapour's part does not count. Range: p 0 to 1.2 bar,
    p_v 0 to 1 bar. Source: Henry's and Dalton's laws. Worked figure: 0.232 at 0.238 bar (FL350) and a vapour
    pressure of 0.003 bar.
    """
    within("dissolved air: ambient pressure", ambient_bar, 0.0, 1.2, "bar")
    within("dissolved air: vapour pressure", vapour_bar, 0.0, 1.0, "bar")
    return max(0.0, ambient_bar - vapour_bar) / SEA_LEVEL_BAR


def dissolved_volume_ratio(share: float, ostwald: float = OSTWALD) -> float:
    """Volume of dissolved air, brought to 1.01325 bar, in a volume of fuel: L s.

    Taken at its own pressure, the dissolved volume is L at every pressure; brought to one fixed pressure, it
    is proportional to s. Range: s 0 to 1.2, L 0.1 to 0.3. Source: Henry's and Boyle's laws. Worked figure:
    s = 1 and L = 0.18 give 180 L of air in 1000 L of fuel.
    """
    check_share("dissolved air", share)
    check_ostwald("dissolved air", ostwald)
    return ostwald * share


def share_rate_per_s(share: float, equilibrium: float, time_constant_s: float) -> float:
    """Release or uptake: ds/dt = (s_equilibrium - s) / tau, 1/s.

    Range: tau 1 s to 10⁶ s. Source: first-order lag; tau is a parameter. Pumps and sloshing shorten it, and
    still fuel takes up air more slowly than it gives it off. Worked figure: s = 1 over an equilibrium of 0.23
    with tau 3600 s falls by 0.77 an hour at first.
    """
    check_share("release of air", share)
    check_share("release of air: equilibrium", equilibrium)
    within("release of air: time constant", time_constant_s, 1.0, 1000000.0, "s")
    return (equilibrium - share) / time_constant_s


def share_after(share: float, equilibrium: float, time_constant_s: float, elapsed_s: float) -> float:
    """Share after a time at one pressure: s_eq + (s - s_eq) exp(-t/tau), the solution of `share_rate_per_s`.

    Range: t 0 to 500 tau. Worked figure: from 1 towards 0.23 with tau 3600 s: 0.513 after an hour.
    """
    share_rate_per_s(share, equilibrium, time_constant_s)  # its ranges are these
    within("release of air: elapsed time", elapsed_s, 0.0, 500.0 * time_constant_s, "s")
    return equilibrium + (share - equilibrium) * exp(-elapsed_s / time_constant_s)

"""Suction feed: the gas that reaches an engine's own pump, and the height at which that is too much.

Fuel in the tank holds air of share s (see `dissolved_air`), as if saturated at the air pressure p_s = s x
1.01325 bar. At the pump's inlet the pressure is p, and the air in equilibrium with the fuel there has
p_a = p - p_v, since vapour fills the rest. Of an amount L p_s in a volume of fuel, L p_a stays dissolved and
L (p_s - p_a) comes out. At its pressure p_a that gas has the volume, for each volume of fuel,

    V = L (p_s - p_a) / p_a,

zero where p_a is not below p_s, and without bound as p comes down to the vapour pressure: vapour lock. A
pump takes gas up to a limit X, so the lowest inlet pressure is p_v + L p_s / (L + X). That all the excess
comes out on the way to the pump is the safe side: a fast line leaves some of it dissolved.
"""

from math import inf

from wetwing.physics.air import GRAVITY_M_S2, HIGHEST_M, LOWEST_M, altitude_m, pressure_pa
from wetwing.physics.bounds import within
from wetwing.physics.dissolved_air import OSTWALD, SEA_LEVEL_BAR, check_ostwald, check_share
from wetwing.physics.fuel import check_density_kg_m3
from wetwing.physics.vapour import PA_BAR

GAS_LIMIT = 0.35
"""Volume of gas that an engine's pump takes with a volume of fuel; 0.3 to 0.45 is a usual order."""

LEAST_GAS_LIMIT = 0.05
MOST_GAS_LIMIT = 1.0


def column_bar(density_kg_m3: float, height_m: float) -> float:
    """Head of a column of fuel: rho g z, bar; negative where the tank lies below the pump.

    Range: 745 to 885 kg/m³, -20 to 20 m. Worked figure: 0.0788 at 804 kg/m³ and 1 m.
    """
    check_density_kg_m3("head of fuel", density_kg_m3)
    within("head of fuel: height", height_m, -20.0, 20.0, "m")
    return density_kg_m3 * GRAVITY_M_S2 * height_m / PA_BAR


def gas_volume_ratio(
    inlet_bar: float, vapour_bar: float, dissolved_share: float, ostwald: float = OSTWALD
) -> float:
    """Volume of gas with each volume of fuel at an inlet: V = L (p_s - p_a) / p_a, p_a = p - p_v.

    Zero if p_a is not below p_s; infinite at or below the vapour pressure. Range: p any, p_v 0 to 1 bar, s 0
    to 1.2, L 0.1 to 0.3. Source: Henry's, Dalton's and Boyle's laws, as derived above. Worked figure: 0.348
    for fuel saturated at sea level (s = 1, L = 0.18), inlet 0.350 bar, vapour 0.0045 bar.
    """
    _check_fuel("gas at the inlet", vapour_bar, dissolved_share, ostwald)
    air_bar = inlet_bar - vapour_bar
    if air_bar <= 0.0:
        return inf
    return ostwald * max(0.0, dissolved_share * SEA_LEVEL_BAR - air_bar) / air_bar


def lowest_inlet_bar(
    vapour_bar: float, dissolved_share: float, ostwald: float = OSTWALD, gas_limit: float = GAS_LIMIT
) -> float:
    """Lowest inlet pressure at which the gas keeps within a pump's limit X, bar: p = p_v + L p_s / (L + X).

    `gas_volume_ratio` solved for p at V = X. Range: X 0.05 to 1; the rest as there. Worked figure: 0.349 for
    s = 1, L = 0.18, X = 0.35, vapour 0.0045 bar.
    """
    _check_fuel("lowest inlet pressure", vapour_bar, dissolved_share, ostwald)
    within("lowest inlet pressure: gas limit", gas_limit, LEAST_GAS_LIMIT, MOST_GAS_LIMIT)
    return vapour_bar + ostwald * dissolved_share * SEA_LEVEL_BAR / (ostwald + gas_limit)


def suction_margin_bar(
    ambient_bar: float,
    head_bar: float,
    line_loss_bar: float,
    vapour_bar: float,
    dissolved_share: float,
    ostwald: float = OSTWALD,
    gas_limit: float = GAS_LIMIT,
) -> float:
    """Margin of suction feed: ambient + head - line loss - lowest inlet pressure, bar; below zero it fails.

    Range: ambient 0 to 1.2 bar, head -10 to 10 bar (a boost pump's pressure counts in it), loss 0 to 100 bar;
    the rest as in `lowest_inlet_bar`. Source: as derived above. Worked figure: -0.061 at 0.238 bar (FL350)
    with head 0.10, loss 0.05, vapour 0.0045 and fresh fuel (s = 1); +0.204 with s = 0.23.
    """
    within("suction feed: ambient pressure", ambient_bar, 0.0, 1.2, "bar")
    _check_line(head_bar, line_loss_bar)
    lowest = lowest_inlet_bar(vapour_bar, dissolved_share, ostwald, gas_limit)
    return ambient_bar + head_bar - line_loss_bar - lowest


def suction_ceiling_m(
    head_bar: float,
    line_loss_bar: float,
    vapour_bar: float,
    dissolved_share: float,
    ostwald: float = OSTWALD,
    gas_limit: float = GAS_LIMIT,
) -> float:
    """Pressure altitude at which `suction_margin_bar` is zero for fuel of one share of air, m.

    s = 1 is fresh fuel that climbed faster than its air came out, and the worst case. Range: as there; the
    result is kept within -1,000 and 20,000 m, which stand for never and for any altitude. Source: ISO 2533
    and the derivation above. Worked figure: 7,210 m (23,654 ft) with head 0.05, loss 0.10, vapour 0.0045 bar,
    s = 1, L = 0.18, X = 0.35.
    """
    _check_line(head_bar, line_loss_bar)
    lowest = lowest_inlet_bar(vapour_bar, dissolved_share, ostwald, gas_limit)
    return _altitude_of_need_m(lowest + line_loss_bar - head_bar)


def settled_ceiling_m(
    head_bar: float,
    line_loss_bar: float,
    vapour_bar: float,
    ostwald: float = OSTWALD,
    gas_limit: float = GAS_LIMIT,
) -> float:
    """Ceiling of fuel that has given off its air at the height where it is, m.

    With p_s = p - p_v the need is p = p_v + (loss - head) (L + X) / X. Range and source as
    `suction_ceiling_m`. Worked figure: 17,578 m with head 0.05, loss 0.10, vapour 0.0045 bar, L = 0.18,
    X = 0.35.
    """
    _check_line(head_bar, line_loss_bar)
    _check_fuel("settled ceiling", vapour_bar, 0.0, ostwald)
    within("settled ceiling: gas limit", gas_limit, LEAST_GAS_LIMIT, MOST_GAS_LIMIT)
    shortfall_bar = line_loss_bar - head_bar
    return _altitude_of_need_m(vapour_bar + max(0.0, shortfall_bar) * (ostwald + gas_limit) / gas_limit)


def _check_fuel(place: str, vapour_bar: float, dissolved_share: float, ostwald: float) -> None:
    within(f"{place}: vapour pressure", vapour_bar, 0.0, 1.0, "bar")
    check_share(place, dissolved_share)
    check_ostwald(place, ostwald)


def _check_line(head_bar: float, line_loss_bar: float) -> None:
    within("suction feed: head", head_bar, -10.0, 10.0, "bar")
    within("suction feed: line loss", line_loss_bar, 0.0, 100.0, "bar")


def _altitude_of_need_m(need_bar: float) -> float:
    need_pa = need_bar * PA_BAR
    if need_pa <= pressure_pa(HIGHEST_M):
        return HIGHEST_M
    return LOWEST_M if need_pa >= pressure_pa(LOWEST_M) else altitude_m(need_pa)

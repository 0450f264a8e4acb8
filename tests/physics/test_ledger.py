"""The fuel's book-keeping, unit slips, and what a growing difference points to."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wetwing.physics import ledger, units


def test_discrepancy_worked_figure() -> None:
    assert ledger.discrepancy_kg(12_000.0, 7400.0, 4250.0) == 350.0
    assert ledger.discrepancy_kg(12_000.0, 7900.0, 4250.0) == -150.0


@given(st.floats(0.0, 3000.0), st.floats(0.0, 4.0), st.floats(0.0, 2500.0))
def test_only_a_leak_before_the_meter_shows_as_missing(
    leak_kg_h: float, hours: float, flow_kg_h: float
) -> None:
    departure_kg = 30_000.0
    on_board_kg = departure_kg - (flow_kg_h + leak_kg_h) * hours
    before_kg = ledger.discrepancy_kg(departure_kg, on_board_kg, flow_kg_h * hours)
    after_kg = ledger.discrepancy_kg(departure_kg, on_board_kg, (flow_kg_h + leak_kg_h) * hours)
    assert before_kg == pytest.approx(leak_kg_h * hours, abs=1e-6)
    assert after_kg == pytest.approx(0.0, abs=1e-6)


def test_leak_flow() -> None:
    assert ledger.leak_flow_kg_h(350.0, 800.0, 0.5) == 900.0


@pytest.mark.parametrize(
    ("series_kg", "wanted"),
    [
        ((0, 90, 180, 270, 360), "leak"),
        ((0, 0, 60, 140, 230, 310), "leak"),
        ((0, 0, 350, 350, 350), "gauge"),
        ((0, 20, 220, 250, 330), "gauge"),
        ((0, 20, 180, 250, 330), "leak"),
        ((5, -5, 5, 345, 360), "gauge"),
        ((0, -90, -180, -270, -360), "gauge"),
        ((350, 350, 350, 350, 350), "gauge"),
        ((0, 40, 80, 120, 160), "agrees"),
        ((0, 900, 0, 20, -30), "agrees"),
    ],
)
def test_a_step_points_to_a_gauge_and_growth_to_a_leak(series_kg: tuple[float, ...], wanted: str) -> None:
    assert ledger.finding(series_kg, 200.0) == wanted


def test_uplift_check_worked_figure() -> None:
    check = ledger.uplift_check(3100.0, 100.0, 11_000.0, 0.800, 11_950.0)
    assert check.expected_kg == pytest.approx(11_800.0)
    assert check.difference_kg == pytest.approx(150.0)
    assert check.tolerance_kg == pytest.approx(264.0)
    assert check.agrees


def test_uplift_check_finds_a_gauge_that_reads_900_kg_over() -> None:
    check = ledger.uplift_check(3100.0, 100.0, 11_000.0, 0.800, 11_800.0 + 900.0)
    assert check.difference_kg == pytest.approx(900.0)
    assert not check.agrees
    assert not ledger.uplift_check(3100.0, 100.0, 11_000.0, 0.800, 11_800.0 - 900.0).agrees


def test_a_fixed_tolerance_governs_a_small_uplift() -> None:
    check = ledger.uplift_check(3100.0, 0.0, 1000.0, 0.800, 4050.0, tolerance_kg=200.0)
    assert check.tolerance_kg == 200.0
    assert check.agrees


def test_pounds_gallons_and_densities() -> None:
    assert units.lb_l_of_kg_l(0.800) == pytest.approx(1.764, abs=5e-4)
    assert units.lb_us_gal_of_kg_l(0.800) == pytest.approx(6.676, abs=5e-4)
    assert units.kg_of_lb(10_000.0) == pytest.approx(4535.9237, rel=1e-14)
    assert units.lb_of_kg(10_000.0) == pytest.approx(22_046.2, abs=0.05)
    assert units.l_of_us_gal(600.0) == pytest.approx(2271.2, abs=0.05)
    assert units.us_gal_of_l(10_000.0) == pytest.approx(2641.7, abs=0.05)
    # 1 US gallon is 231 cubic inches of 2.54 cm each.
    assert units.l_of_us_gal(1.0) == pytest.approx(231 * 2.54**3 / 1000.0, rel=1e-14)
    assert units.kg_of_lb(units.lb_of_kg(7321.0)) == pytest.approx(7321.0, rel=1e-14)


def test_refuelling_flow_of_600_us_gallons_a_minute() -> None:
    assert units.l_of_us_gal(600.0) * 0.800 / 1000.0 == pytest.approx(1.8, abs=0.05)


def test_pounds_a_litre_taken_as_kilograms_bring_45_percent() -> None:
    assert units.uplifted_share(1.77, 0.803) == pytest.approx(0.45, abs=0.005)
    # The figure is right in its own unit, so the share is the pound's, whatever the density.
    for density_kg_l in (0.775, 0.803, 0.840):
        taken = units.lb_l_of_kg_l(density_kg_l)
        assert units.uplifted_share(taken, density_kg_l) == pytest.approx(units.POUND_KG, rel=1e-14)


def test_the_density_gate_lets_jet_a_1_through() -> None:
    for figure in (0.775, 0.804, 0.840):
        assert units.gated_density_kg_l(figure) == figure


@pytest.mark.parametrize(
    ("figure", "unit"),
    [(1.77, "lb/L"), (6.7, "lb/US gal"), (804.0, "kg/m³"), (3.04, "kg/US gal")],
)
def test_the_density_gate_names_the_unit_of_a_slip(figure: float, unit: str) -> None:
    assert units.density_unit(figure) == unit
    with pytest.raises(ValueError, match=f"allowed is 0.775 to 0.840; it would fit in {unit}"):
        units.gated_density_kg_l(figure)


@pytest.mark.parametrize("figure", [0.775, 0.840])
def test_the_ends_of_the_gate_are_within_it(figure: float) -> None:
    assert units.density_unit(figure) == "kg/L"


@given(st.floats(0.775, 0.840))
def test_no_slip_of_units_passes_the_gate(density_kg_l: float) -> None:
    for slip in (1000.0, 1.0 / units.POUND_KG, units.US_GALLON_L, units.US_GALLON_L / units.POUND_KG):
        with pytest.raises(ValueError, match=r"is no Jet A-1"):
            units.gated_density_kg_l(density_kg_l * slip)


@pytest.mark.parametrize("figure", [0.0, -0.8, 0.774, 0.841, 1.0, float("nan")])
def test_a_density_that_fits_no_unit_is_refused(figure: float) -> None:
    assert units.density_unit(figure) is None
    with pytest.raises(ValueError, match=r"allowed is 0\.775 to 0\.840$"):
        units.gated_density_kg_l(figure)


def test_bad_input_is_refused() -> None:
    with pytest.raises(ValueError, match=r"ledger: used_kg is -1; allowed is 0 to"):
        ledger.discrepancy_kg(12_000.0, 7400.0, -1.0)
    with pytest.raises(ValueError, match=r"finding: number of readings is 2; allowed is 5 to"):
        ledger.finding((0.0, 500.0), 200.0)
    with pytest.raises(ValueError, match=r"leak: hours is 0"):
        ledger.leak_flow_kg_h(0.0, 100.0, 0.0)
    with pytest.raises(ValueError, match=r"uplift check: tolerance_share is 3; allowed is 0 to 0.2"):
        ledger.uplift_check(3100.0, 100.0, 11_000.0, 0.8, 11_800.0, tolerance_share=3.0)
    with pytest.raises(ValueError, match=r"uplift: figure_taken is 0"):
        units.uplifted_share(0.0, 0.8)

"""Tanks for the tests: boxes, and wing tanks such as an aircraft of this course has."""

from wetwing.physics.outline import Place
from wetwing.physics.tank_shape import TankShape

MAIN: tuple[Place, ...] = (
    (15.4, 2.6), (17.22, 6.5), (19.67, 11.4), (21.3, 11.4), (19.6, 6.5), (18.8, 2.6),
)  # fmt: skip
OUTBOARD: tuple[Place, ...] = ((19.97, 12.0), (22.12, 16.3), (23.0, 16.3), (21.5, 12.0))
CENTRE: tuple[Place, ...] = ((15.2, -1.8), (15.2, 1.8), (18.9, 1.8), (18.9, -1.8))


def main_tank() -> TankShape:
    """A swept main tank of hollow outline, its depth falling outboard."""
    return TankShape(MAIN, 0.2, 4.5, 0.54, 0.34, 8300.0)


def outboard_tank() -> TankShape:
    """A slender tank near the tip."""
    return TankShape(OUTBOARD, 0.94, 4.5, 0.36, 0.26, 1450.0)


def centre_tank() -> TankShape:
    """A box across the centre line."""
    return TankShape(CENTRE, -0.3, 0.0, 0.8, 0.8, 9500.0)


def box(length_m: float = 2.0, width_m: float = 3.0, depth_m: float = 0.5, share: float = 0.9) -> TankShape:
    """A box to the right of the centre line, from (10, 1), its floor at 0.2 m."""
    corners = ((10.0, 1.0), (10.0 + length_m, 1.0), (10.0 + length_m, 1.0 + width_m), (10.0, 1.0 + width_m))
    return TankShape(corners, 0.2, 0.0, depth_m, depth_m, 1000.0 * share * length_m * width_m * depth_m)

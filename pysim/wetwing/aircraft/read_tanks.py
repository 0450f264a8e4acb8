"""Tanks, vents, and what moves fuel between tanks, read from an aircraft's file."""

from typing import cast

from wetwing.aircraft import model
from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.section import Sections
from wetwing.aircraft.table import Table, check_name

LEAST_AREA_M2 = 0.01


def tanks(sections: Sections) -> tuple[model.Tank, ...]:
    """`[tanks.X]`."""
    shared: dict[frozenset[str], str] = {}
    found = [_tank(sections, name, table, shared) for name, table in sections.section("tanks")]
    if not found:
        raise Mistake(sections.top.at("tanks"), "no tank", "one tank or more")
    return tuple(found)


def _tank(sections: Sections, name: str, table: Table, shared: dict[frozenset[str], str]) -> model.Tank:
    capacity_l = table.number("capacity_l", 1, 1e6, "L")
    overflow = table.table("overflows")
    outline_m = table.points("outline_m")
    if outline_area_m2(outline_m) < LEAST_AREA_M2:
        raise Mistake(
            table.at("outline_m"),
            f"an area of {outline_area_m2(outline_m):g} m²",
            f"an outline that encloses {LEAST_AREA_M2:g} m² or more",
        )
    depth_m = table.number("depth_m", 0.01, 10, "m")
    tank = model.Tank(
        name=name,
        label=table.text("label"),
        kind="tank",
        states=("holding", "spilling"),
        settings=(),
        initial="holding",
        side=cast("model.Side", table.choice("side", ("left", "centre", "right"))),
        capacity_l=capacity_l,
        unusable_kg=table.number("unusable_kg", 0, capacity_l * 0.2, "kg"),
        bottom_m=table.number("bottom_m", -20, 20, "m"),
        depth_m=depth_m,
        depth_outboard_m=table.number("depth_outboard_m", 0.01, 10, "m", depth_m),
        dihedral_deg=table.number("dihedral_deg", 0, 15, "°", 0.0),
        heat_w_m2_k=table.number("heat_w_m2_k", 1, 100, "W/(m² K)"),
        structure_kj_k=table.number("structure_kj_k", 1, 10000, "kJ/K"),
        neighbours=_neighbours(sections, name, table, shared),
        overflow=model.Overflow(
            overflow.reference("to", "tank or vent", sections.named("tanks", "vents")),
            overflow.number("at_l", capacity_l * 0.5, capacity_l, "L"),
        ),
        outline_m=outline_m,
    )
    overflow.finish()
    table.finish()
    return tank


def _neighbours(
    sections: Sections, name: str, table: Table, shared: dict[frozenset[str], str]
) -> tuple[tuple[str, float], ...]:
    if not table.has("neighbours"):
        return ()
    inner = table.table("neighbours")
    others = tuple(other for other in sections.named("tanks") if other != name)
    found: list[tuple[str, float]] = []
    for other in inner.values:
        check_name(other, inner.at(other))
        inner.key(other, "tank", others)
        pair = frozenset((name, other))
        if pair in shared:
            raise Mistake(
                inner.at(other), f"this wall stands in {shared[pair]} already", "each pair of tanks once"
            )
        shared[pair] = f"tanks.{name}.neighbours"
        found.append((other, inner.number(other, 0.1, 10000, "W/K")))
    return tuple(found)


def outline_area_m2(outline_m: tuple[model.Point, ...]) -> float:
    """Area of a polygon by its corners, m²: half the sum of x1 y2 - x2 y1, without its sign.

    Worked figure: a square with sides of 2 m has 4 m².
    """
    doubled = 0.0
    for (x1, y1), (x2, y2) in zip(outline_m, (*outline_m[1:], outline_m[0]), strict=True):
        doubled += x1 * y2 - x2 * y1
    return abs(doubled) / 2.0


def mean_point_m(outline_m: tuple[model.Point, ...]) -> model.Point:
    """The mean of an outline's points: where a sensor stands of which the file says no more."""
    count = len(outline_m)
    return sum(x for x, _ in outline_m) / count, sum(y for _, y in outline_m) / count


def vents(sections: Sections) -> tuple[model.Vent, ...]:
    """`[vents.X]`."""
    found = []
    for name, table in sections.section("vents"):
        drains_to = sections.tank(table, "drains_to") if table.has("drains_to") else None
        drain_kg_h = table.number("drain_kg_h", 0, 20000, "kg/h", 0.0)
        if drain_kg_h and drains_to is None:
            raise Mistake(table.at("drains_to"), "missing beside drain_kg_h", "the tank that it drains to")
        found.append(
            model.Vent(
                name=name,
                label=table.text("label"),
                kind="vent",
                states=("dry", "holding", "spilling"),
                settings=(),
                initial="dry",
                surge_l=table.number("surge_l", 0, 5000, "L", 0.0),
                drains_to=drains_to,
                drain_kg_h=drain_kg_h,
                relief_bar=table.number("relief_bar", 0.005, 0.5, "bar", 0.05),
                at_m=table.point("at_m"),
            )
        )
        table.finish()
    return tuple(found)


def transfers(sections: Sections) -> tuple[model.Transfer, ...]:
    """`[transfers.X]`."""
    found = []
    for name, table in sections.section("transfers"):
        tail, tip = sections.tank_pair(table)
        valve = table.reference("valve", "valve", sections.named("valves")) if table.has("valve") else None
        found.append(
            model.Transfer(
                name=name,
                label=table.text("label"),
                kind="transfer",
                states=("resting", "flowing"),
                settings=(),
                initial="resting",
                from_tank=tail,
                to_tank=tip,
                valve=valve,
                area_m2=table.number("area_cm2", 0.01, 1000, "cm²") / 1e4,
                discharge=table.number("discharge", 0.05, 1, ""),
            )
        )
        table.finish()
    return tuple(found)


def returns(sections: Sections) -> tuple[model.Return, ...]:
    """`[returns.X]`."""
    found = []
    for name, table in sections.section("returns"):
        found.append(
            model.Return(
                name=name,
                label=table.text("label"),
                kind="return",
                states=("resting", "flowing"),
                settings=(),
                initial="resting",
                engine=table.reference("engine", "engine", sections.named("engines")),
                to_tank=sections.tank(table, "to"),
                valve=table.reference("valve", "valve", sections.named("valves")),
                flow_kg_h=table.number("flow_kg_h", 1, 20000, "kg/h"),
                heat_kw=table.number("heat_kw", 0, 500, "kW"),
                oil_kj_k=table.number("oil_kj_k", 1, 5000, "kJ/K"),
                oil_loss_w_k=table.number("oil_loss_w_k", 0, 5000, "W/K"),
            )
        )
        table.finish()
    return tuple(found)


def jet_pumps(sections: Sections) -> tuple[model.JetPump, ...]:
    """`[jet-pumps.X]`."""
    found = []
    for name, table in sections.section("jet-pumps"):
        tail, tip = sections.tank_pair(table)
        stops_l = table.number("stops_l", 0, 1e6, "L")
        found.append(
            model.JetPump(
                name=name,
                label=table.text("label"),
                kind="jet-pump",
                states=("resting", "flowing", "dry"),
                settings=(),
                initial="resting",
                from_tank=tail,
                to_tank=tip,
                motive=table.reference("motive", "pump", sections.named("pumps")),
                motive_kg_h_at_1_bar=table.number("motive_kg_h_at_1_bar", 1, 20000, "kg/h"),
                entrainment=table.number("entrainment", 0.01, 5, ""),
                stops_l=stops_l,
                recovers_l=table.number("recovers_l", stops_l + 1, 1e6 + 1, "L"),
                runs_when=table.optional_condition("runs_when"),
                at_m=table.point("at_m"),
            )
        )
        table.finish()
    return tuple(found)

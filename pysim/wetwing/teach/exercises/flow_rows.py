"""What a reader is given of the engines' fuel flow, by their meters."""

from collections.abc import Sequence

from wetwing.aircraft.model import Engine
from wetwing.flight.record import Moment
from wetwing.teach.exercises.numbers import rounded
from wetwing.teach.exercises.wording import figure

STEP_KG_H = 10.0


def metered_kg_h(engines: Sequence[Engine], moment: Moment) -> list[float]:
    """Each engine's flow as it is printed."""
    return [rounded(moment.quantity(f"{engine.name}.metered_kg_h"), STEP_KG_H) for engine in engines]


def flow_rows(engines: Sequence[Engine], flows_kg_h: Sequence[float]) -> list[tuple[str, str]]:
    """A row of a table for each engine."""
    named = zip(engines, flows_kg_h, strict=True)
    return [(f"{engine.label} fuel flow", figure(flow_kg_h, "kg/h")) for engine, flow_kg_h in named]

"""What people set and what the automatics do, read from an aircraft's file."""

from typing import Literal, cast

from wetwing.aircraft import model
from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.section import Sections
from wetwing.aircraft.table import HUGE

RULE_STATES = ("inactive", "active")
LEVELS = ("warning", "caution", "advisory")


def controls(sections: Sections) -> tuple[model.Control, ...]:
    """`[controls.X]`."""
    found = []
    for name, table in sections.section("controls"):
        label = table.text("label")
        if table.has("quantity"):
            inner = table.table("quantity")
            unit = inner.choice("unit", ("kg", "l", "percent", "c"))
            least = inner.number("least", 0, HUGE, unit)
            quantity = model.Quantity(unit, least, inner.number("most", least, HUGE, unit))
            inner.finish()
            found.append(model.Control(name, label, "control", (), (), f"{least:g} {unit}", quantity))
        else:
            settings = table.texts("settings")
            if len(settings) < 2 or len(set(settings)) != len(settings):
                raise Mistake(table.at("settings"), f"found {list(settings)}", "two different words or more")
            found.append(model.Control(name, label, "control", settings, settings, settings[0], None))
        table.finish()
    return tuple(found)


def buses(sections: Sections) -> tuple[model.Bus, ...]:
    """`[buses.X]`."""
    found = []
    for name, table in sections.section("buses"):
        label, powered_when = table.text("label"), table.condition("powered_when")
        found.append(model.Bus(name, label, "bus", ("powered", "dead"), (), "dead", powered_when))
        table.finish()
    return tuple(found)


def rules(sections: Sections) -> tuple[model.Rule, ...]:
    """`[rules.X]`."""
    found = []
    for name, table in sections.section("rules"):
        ends = table.optional_condition("ends")
        lasts_s = table.number("lasts_s", 0.1, 1e6, "s") if table.has("lasts_s") else None
        if ends is not None and lasts_s is not None:
            raise Mistake(table.at("lasts_s"), "found with ends", "either ends or lasts_s")
        found.append(
            model.Rule(
                name=name,
                label=table.text("label"),
                kind="rule",
                states=RULE_STATES,
                settings=(),
                initial="inactive",
                sentence=table.text("sentence"),
                starts=table.condition("starts"),
                ends=ends,
                after_s=table.number("after_s", 0, 1e5, "s", 0.0),
                lasts_s=lasts_s,
                bus=sections.bus(table),
            )
        )
        table.finish()
    return tuple(found)


def alerts(sections: Sections) -> tuple[model.Alert, ...]:
    """`[alerts.X]`."""
    found = []
    for name, table in sections.section("alerts"):
        level = table.choice("level", LEVELS)
        text = table.text("text")
        found.append(
            model.Alert(
                name=name,
                label=text,
                kind="alert",
                states=("off", "on"),
                settings=(),
                initial="off",
                level=cast("Literal['warning', 'caution', 'advisory']", level),
                text=text,
                when=table.condition("when"),
                after_s=table.number("after_s", 0, 1e5, "s", 0.0),
                note=table.text("note", ""),
            )
        )
        table.finish()
    return tuple(found)

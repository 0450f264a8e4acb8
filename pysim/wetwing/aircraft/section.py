"""What every reader of a file's sections shares: the names in each section, and the keys that come again."""

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.table import Table


class Sections:
    """The sections of one file. `named` knows every part's name before its section is read."""

    def __init__(self, top: Table) -> None:
        self.top = top

    def section(self, key: str) -> list[tuple[str, Table]]:
        """The named tables of a section; none where the file has not got it."""
        return self.top.tables(key)

    def named(self, *keys: str) -> tuple[str, ...]:
        """The names in these sections."""
        names: list[str] = []
        for key in keys:
            found = self.top.values.get(key, {})
            names += list(found) if isinstance(found, dict) else []
        return tuple(names)

    def bus(self, table: Table) -> str | None:
        """The bus that powers a part; None where nothing can cut its power."""
        return table.reference("bus", "bus", self.named("buses")) if table.has("bus") else None

    def tank(self, table: Table, key: str = "tank") -> str:
        """The tank that a key names."""
        return table.reference(key, "tank", self.named("tanks"))

    def tank_pair(self, table: Table) -> tuple[str, str]:
        """The two tanks of `from` and `to`."""
        tail, tip = self.tank(table, "from"), self.tank(table, "to")
        if tail == tip:
            raise Mistake(table.at("to"), f"'{tip}' at both ends", "two different tanks")
        return tail, tip


def resistance(table: Table) -> tuple[float, float]:
    """Pressure lost to flow: a linear and a square term."""
    # A linear term of nothing would make a branch at rest infinitely stiff, which no line is and no
    # solver likes.
    return (
        table.number("linear_bar_h_t", 1e-4, 100, "bar h/t"),
        table.number("square_bar_h2_t2", 0, 1000, "bar h²/t²"),
    )


def only_one(name: str, found: str, taken: dict[str, str], table: Table, key: str) -> None:
    """Refuse a second part where one is the most: `taken` maps what is served to the part that serves it."""
    if found in taken:
        raise Mistake(table.at(key), f"{found} has {taken[found]} already", f"one for each {key}")
    taken[found] = name

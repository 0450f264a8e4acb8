"""Reading one TOML table with every slip named: file, key, what was found, what is allowed."""

import re
from collections.abc import Mapping
from typing import cast

from wetwing.aircraft.condition import Condition, parse
from wetwing.aircraft.mistakes import Mistake, nearest, out_of_range, unknown

Value = object
_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
HUGE = 1e9


class Table:
    """A TOML table at `place` (file and keys so far). `finish()` refuses keys that nobody asked for."""

    def __init__(self, values: object, place: str) -> None:
        if not isinstance(values, dict):
            raise Mistake(place, f"found {_shown(values)}", "a table of keys")
        self.values = cast("dict[str, Value]", values)
        self.place = place
        self.asked: set[str] = set()

    def at(self, key: str) -> str:
        return f"{self.place}.{key}" if ": " in self.place else f"{self.place}: {key}"

    def has(self, key: str) -> bool:
        self.asked.add(key)
        return key in self.values

    def value(self, key: str) -> Value:
        self.asked.add(key)
        if key not in self.values:
            # A key written with another unit or a slip of the pen is the likeliest cause: name it.
            near = nearest(key, [k for k in self.values if k not in self.asked])
            raise Mistake(self.at(key), "missing", "this key is needed", f"found '{near}'" if near else None)
        return self.values[key]

    def text(self, key: str, default: str | None = None) -> str:
        if default is not None and not self.has(key):
            return default
        found = self.value(key)
        if not isinstance(found, str) or not found.strip():
            raise Mistake(self.at(key), f"found {_shown(found)}", "a text in quotes")
        return found.strip()

    def name(self, key: str) -> str:
        return check_name(self.text(key), self.at(key))

    def number(self, key: str, least: float, most: float, unit: str, default: float | None = None) -> float:
        if default is not None and not self.has(key):
            return default
        return number(self.value(key), self.at(key), least, most, unit)

    def flag(self, key: str, default: bool) -> bool:
        if not self.has(key):
            return default
        found = self.value(key)
        if not isinstance(found, bool):
            raise Mistake(self.at(key), f"found {_shown(found)}", ("true", "false"))
        return found

    def choice(self, key: str, allowed: tuple[str, ...]) -> str:
        found = self.text(key)
        if found not in allowed:
            raise unknown(self.at(key), "word", found, allowed)
        return found

    def reference(self, key: str, what: str, allowed: Mapping[str, object] | tuple[str, ...]) -> str:
        found = self.text(key)
        if found not in allowed:
            raise unknown(self.at(key), what, found, allowed)
        return found

    def key(self, key: str, what: str, allowed: tuple[str, ...]) -> None:
        """Check a key that is itself a name."""
        self.asked.add(key)
        if key not in allowed:
            raise unknown(self.place, what, key, allowed)

    def condition(self, key: str) -> Condition:
        return parse(self.text(key), self.at(key))

    def optional_condition(self, key: str) -> Condition | None:
        return self.condition(key) if self.has(key) else None

    def listed(self, key: str, default: bool = False) -> list[Value]:
        if default and not self.has(key):
            return []
        found = self.value(key)
        if not isinstance(found, list):
            raise Mistake(self.at(key), f"found {_shown(found)}", "a list in square brackets")
        return cast("list[Value]", found)

    def texts(self, key: str) -> tuple[str, ...]:
        found = self.listed(key)
        if not found or not all(isinstance(item, str) for item in found):
            raise Mistake(self.at(key), f"found {_shown(found)}", "a list of texts in quotes")
        return tuple(cast("list[str]", found))

    def point(self, key: str) -> tuple[float, float]:
        return point(self.value(key), self.at(key))

    def points(self, key: str) -> tuple[tuple[float, float], ...]:
        found = self.listed(key)
        if len(found) < 3:
            raise Mistake(self.at(key), f"found {len(found)} points", "three points or more")
        return tuple(point(item, f"{self.at(key)}[{i}]") for i, item in enumerate(found))

    def table(self, key: str) -> "Table":
        return Table(self.value(key), self.at(key))

    def tables(self, key: str) -> "list[tuple[str, Table]]":
        """Named tables under `key`, in the file's order; none where the key is missing."""
        if not self.has(key):
            return []
        section = self.table(key)
        return [
            (check_name(name, section.at(name)), Table(values, section.at(name)))
            for name, values in section.values.items()
        ]

    def finish(self) -> None:
        for key in self.values:
            if key not in self.asked:
                raise unknown(self.place, "key", key, sorted(self.asked))


def check_name(found: str, place: str) -> str:
    """A part's name: lower case words joined by hyphens."""
    if not _NAME.fullmatch(found):
        raise Mistake(
            place, f"name '{found[:60]}'", "lower-case letters, digits and single hyphens, a letter first"
        )
    return found


def number(found: object, place: str, least: float, most: float, unit: str) -> float:
    """A finite number within its range."""
    if isinstance(found, bool) or not isinstance(found, int | float):
        raise Mistake(place, f"found {_shown(found)}", f"a number from {least:g} to {most:g} {unit}".rstrip())
    try:
        value = float(found)
    except OverflowError:
        raise Mistake(
            place, "a number of hundreds of digits", f"{least:g} to {most:g} {unit}".rstrip()
        ) from None
    if not least <= value <= most:
        raise out_of_range(place, value, least, most, unit)
    return value


def point(found: object, place: str) -> tuple[float, float]:
    """A place on the plan: [aft, right] in metres."""
    if not isinstance(found, list) or len(found) != 2:
        raise Mistake(
            place,
            f"found {_shown(found)}",
            "two numbers in metres: [aft of the nose, right of the centre line]",
        )
    return number(found[0], f"{place}[0]", -10.0, 120.0, "m"), number(
        found[1], f"{place}[1]", -60.0, 60.0, "m"
    )


def _shown(found: object) -> str:
    try:
        text = f"'{found}'" if isinstance(found, str) else repr(found)
    except (RecursionError, ValueError):  # nested without end, or a number of thousands of digits
        return "something too large to show"
    return text if len(text) <= 60 else text[:57] + "..."

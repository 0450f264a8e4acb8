"""A script's values written as a TOML file, in the layout of the shipped ones: read back, they are equal.

The standard library reads TOML and does not write it. This writes what a script may hold: texts, numbers,
flags, lists and tables. Comments are no values, and so they are not kept.
"""

import re
from collections.abc import Mapping

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_SHORT = {"\\": "\\\\", '"': '\\"', "\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f", "\r": "\\r"}


def toml_text(values: Mapping[str, object], heading: str = "") -> str:
    """The text of a file with these values; `heading` is a comment above them. Raises TypeError for a value
    that no script has.
    """
    lines = [f"# {line}" for line in heading.splitlines()]
    lines += [f"{_key(key)} = {_value(value)}" for key, value in values.items() if _is_plain(value)]
    for key, value in values.items():
        if not _is_plain(value):
            lines += _section(_key(key), value)
    return "\n".join(lines) + "\n"


def _is_plain(value: object) -> bool:
    return not isinstance(value, Mapping) and not _is_rows(value)


def _is_rows(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(row, Mapping) for row in value)


def _section(name: str, value: object) -> list[str]:
    """`[name]` with its keys; `[[name]]` for each row of a list; tables of tables as `[name.inner]`."""
    if isinstance(value, list):
        return [line for row in value for line in ("", f"[[{name}]]", *_lines(row))]
    assert isinstance(value, Mapping)
    deeper = {key: inner for key, inner in value.items() if isinstance(inner, Mapping) and _is_deep(inner)}
    own = {key: inner for key, inner in value.items() if key not in deeper}
    # A table with no keys of its own needs no heading, unless it would vanish without one.
    found = ["", f"[{name}]", *_lines(own)] if own or not deeper else []
    for key, inner in deeper.items():
        found += _section(f"{name}.{_key(key)}", inner)
    return found


def _is_deep(inner: Mapping[str, object]) -> bool:
    """Whether a table in a table has a heading of its own, as `[initial.tanks]`; what one tank holds stands
    in one line, for its keys carry units.
    """
    return not inner or not all("_" in key and _is_plain(value) for key, value in inner.items())


def _lines(values: Mapping[str, object]) -> list[str]:
    return [f"{_key(key)} = {_value(value)}" for key, value in values.items()]


def _key(key: str) -> str:
    return key if _BARE.fullmatch(key) else _quoted(key)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, str):
        return _long(value) if "\n" in value else _quoted(value)
    if isinstance(value, Mapping):
        inside = ", ".join(_lines(value))
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, list):
        return f"[{', '.join(_value(item) for item in value)}]"
    raise TypeError(f"a script holds no {type(value).__name__}")


def _quoted(text: str) -> str:
    return f'"{"".join(map(_escaped, text))}"'


def _long(text: str) -> str:
    """A text of several lines; TOML drops the line end after the opening quotes."""
    inside = "".join("\n" if char == "\n" else _escaped(char) for char in text)
    return f'"""\n{inside}"""'


def _escaped(char: str) -> str:
    if char in _SHORT:
        return _SHORT[char]
    return f"\\u{ord(char):04X}" if ord(char) < 32 or ord(char) == 127 else char

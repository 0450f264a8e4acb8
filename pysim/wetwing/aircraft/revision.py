"""A revision of an aircraft: a file that gives only what differs from the aircraft that it is based on.

    based_on = "alder-165"
    remove = ["rules.slat-hold"]        taken away before the rest is laid over

Tables are merged key by key; a list, a text or a number takes the other's place.
"""

from collections.abc import Callable, Iterator
from typing import cast

from wetwing.aircraft.mistakes import Mistake, unknown
from wetwing.aircraft.table import Table, check_name

Fetch = Callable[[str, str], Table]
"""The top table of an aircraft by name; the second word is the place that asks for it."""
Values = dict[str, object]

OWN_KEYS = ("based_on", "remove")
MOST_FILES = 10


def merged(top: Table, fetch: Fetch) -> Table:
    """The table of `top` laid over those that it is based on; errors name `top`. Raises Mistake."""
    whole = Table(_merged(top, fetch, ()), top.place)
    whole.asked |= top.asked
    return whole


def _merged(top: Table, fetch: Fetch, trail: tuple[str, ...]) -> Values:
    if not top.has("based_on"):
        if top.has("remove"):
            raise Mistake(top.at("remove"), "found without based_on", "only in a file with based_on")
        return top.values
    # A base is named, and the trail of names is what a circle is seen by.
    own = check_name(top.text("name"), top.at("name"))
    base = check_name(top.text("based_on"), top.at("based_on"))
    trail = (*trail, own)
    if base in trail:
        circle = " → ".join((*trail[trail.index(base) :], base))
        raise Mistake(top.at("based_on"), f"a circle: {circle}", "a chain that ends at a whole aircraft")
    if len(trail) > MOST_FILES:
        raise Mistake(top.at("based_on"), f"a chain of {len(trail) + 1} files", f"at most {MOST_FILES}")
    below = _merged(fetch(base, top.at("based_on")), fetch, trail)
    left = _without(below, top)
    above = {key: value for key, value in top.values.items() if key not in OWN_KEYS}
    return _over(left, above)


def _without(values: Values, top: Table) -> Values:
    if not top.has("remove"):
        return values
    for entry in top.texts("remove"):
        known = tuple(_entries(values))
        if entry not in known:
            raise unknown(top.at("remove"), "entry", entry, known)
        values = _less(values, entry.split("."))
    return values


def _entries(values: Values, before: str = "") -> Iterator[str]:
    for key, value in values.items():
        if isinstance(value, dict):
            yield f"{before}{key}"
            yield from _entries(cast("Values", value), f"{before}{key}.")
        elif before:
            yield f"{before}{key}"


def _less(values: Values, path: list[str]) -> Values:
    key, *rest = path
    if not rest:
        return {name: value for name, value in values.items() if name != key}
    return {**values, key: _less(cast("Values", values[key]), rest)}


def _over(below: Values, above: Values) -> Values:
    found = dict(below)
    for key, value in above.items():
        under = found.get(key)
        if isinstance(value, dict) and isinstance(under, dict):
            found[key] = _over(cast("Values", under), cast("Values", value))
        else:
            found[key] = value
    return found

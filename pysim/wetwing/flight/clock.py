"""Times as people write them: h:mm:ss from the start of the flight."""

import re

from wetwing.aircraft.mistakes import Mistake

_TIME = re.compile(r"(\d{1,3}):([0-5]\d):([0-5]\d(?:\.\d{1,3})?)")
LONGEST_S = 60 * 3600.0


def seconds(text: str, place: str) -> float:
    """Seconds from `h:mm:ss` or `h:mm:ss.s`. Raises Mistake."""
    found = _TIME.fullmatch(text.strip())
    if not found:
        raise Mistake(place, f"time '{text[:40]}'", "h:mm:ss, such as 1:04:30")
    hours, minutes, rest = found.groups()
    value = int(hours) * 3600 + int(minutes) * 60 + float(rest)
    if value > LONGEST_S:
        raise Mistake(place, f"time '{text[:40]}'", f"at most {clock(LONGEST_S)}")
    return value


def clock(time_s: float, digits: int = 0) -> str:
    """`h:mm:ss`, with `digits` decimals of a second; rounded to the nearest."""
    unit = 10**digits
    ticks = int(time_s * unit + 0.5)
    whole, part = divmod(ticks, unit)
    minutes, second = divmod(whole, 60)
    hours, minute = divmod(minutes, 60)
    tail = f".{part:0{digits}d}" if digits else ""
    return f"{hours}:{minute:02d}:{second:02d}{tail}"

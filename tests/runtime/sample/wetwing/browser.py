"""The stand-in's door: same shape as the simulation's, with requests that misbehave."""

import json
import sys
import tomllib
from collections.abc import Generator
from importlib import resources


def answer(request: str) -> str:
    """Answer one request; `do` says how."""
    wish = json.loads(request)
    match wish.get("do"):
        case "stages":
            return json.dumps({"ok": True, "stages": wish["n"]})
        case "echo":
            return json.dumps({"ok": True, "echo": wish})
        case "data":
            text = resources.files("wetwing").joinpath("notes.toml").read_text("utf-8")
            return json.dumps({"ok": True, "greeting": tomllib.loads(text)["greeting"]})
        case "sum":
            return json.dumps({"ok": True, "sum": sum(n**0.5 / 3 for n in range(wish["n"]))})
        case "hash":
            return json.dumps({"ok": True, "hash": hash("fuel")})
        case "raise":
            raise ValueError("the stand-in raised on purpose")
        case "hang":
            while True:
                pass
        case "memory":
            return json.dumps({"ok": True, "held": len([0] * (1 << 29))})  # more than 32-bit memory can hold
        case other:
            return json.dumps({"ok": False, "error": f"unknown wish {other!r}", "python": sys.version})


left = 0


def answer_in_parts(request: str) -> Generator[str, None, str]:
    """Answer in parts: a first one, then `n` stages that could each be the last, then the answer.

    Those that are left before their end are counted.
    """
    global left
    wish = json.loads(request)
    if wish.get("do") == "stages":
        try:
            yield json.dumps({"ok": True, "first": wish["n"]})
            for _ in range(wish["n"]):
                sum(n**0.5 for n in range(1000))
                yield ""
        except GeneratorExit:
            left += 1
            raise
    if wish.get("do") == "left":
        return json.dumps({"ok": True, "left": left})
    return answer(request)

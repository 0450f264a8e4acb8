"""The simulation gives the same flight to the last bit in CPython and in the browser.

So it may use only what both do alike: the standard library's own data handling, and of floating-point
arithmetic the operations that IEEE 754 rounds correctly (+, -, *, /, square root). `exp`, `log`, `pow`, `sin`
and the like come from each platform's mathematics library and differ in the last bit. Clocks, chance, hashes
and files differ from run to run.
"""

import ast
import math
from pathlib import Path

import pytest

SIMULATION = Path(__file__).resolve().parents[2] / "pysim" / "wetwing"

ALLOWED_MODULES = {
    "__future__", "abc", "ast", "base64", "binascii", "bisect", "collections", "copy", "dataclasses",
    "difflib", "enum", "functools", "heapq", "html", "importlib.resources", "itertools", "json", "keyword",
    "math", "numbers", "operator", "re", "string", "struct", "textwrap", "tomllib", "types", "typing",
    "unicodedata", "urllib.parse", "warnings", "wetwing", "zlib",
}  # fmt: skip
ALLOWED_MATH = {
    "ceil", "comb", "copysign", "fabs", "factorial", "floor", "frexp", "fsum", "gcd", "inf", "isclose",
    "isfinite", "isinf", "isnan", "isqrt", "ldexp", "nan", "nextafter", "pi", "sqrt", "trunc",
}  # fmt: skip
# These read an author's file where a path is given instead of a name that ships.
READERS_OF_FILES = {"aircraft/read.py", "flight/script.py"}
FORBIDDEN_CALLS = {"__import__", "compile", "eval", "exec", "hash", "id", "input", "open", "pow", "print"}


def faults(source: str) -> list[str]:
    """List what in a module's source could differ between two runs or two platforms, as `line: reason`."""
    found: list[str] = []
    tree = ast.parse(source)
    math_names = {
        alias.asname or alias.name
        for node in ast.walk(tree)
        if isinstance(node, ast.Import)
        for alias in node.names
        if alias.name == "math"
    }
    for node in ast.walk(tree):
        if reason := _fault_of(node, math_names):
            found.append(f"{getattr(node, 'lineno', 0)}: {reason}")
    return found


def _fault_of(node: ast.AST, math_names: set[str]) -> str | None:
    match node:
        case ast.Import(names=names):
            outside = [alias.name for alias in names if not _is_allowed(alias.name)]
            return f"imports {', '.join(outside)}" if outside else None
        case ast.ImportFrom(module="math", names=names):
            outside = [alias.name for alias in names if alias.name not in ALLOWED_MATH]
            return f"takes {', '.join(outside)} from math" if outside else None
        case ast.ImportFrom(module=str(module), level=0, names=names):
            whole = all(_is_allowed(f"{module}.{alias.name}") for alias in names)
            return None if _is_allowed(module) or whole else f"imports {module}"
        case ast.Attribute(value=ast.Name(id=name), attr=attr) if (
            name in math_names and attr not in ALLOWED_MATH
        ):
            return f"uses math.{attr}"
        case ast.BinOp(op=ast.Pow(), left=left) if not _is_whole(left):  # 10**digits is exact
            return "raises to a power; multiply instead"
        case ast.AugAssign(op=ast.Pow()):
            return "raises to a power; multiply instead"
        case ast.Call(func=ast.Name(id=name)) if name in FORBIDDEN_CALLS:
            return f"calls {name}()"
        case ast.For(iter=ast.Set() | ast.SetComp()) | ast.comprehension(iter=ast.Set() | ast.SetComp()):
            return "walks through a set, whose order differs from run to run; sort it"
        case ast.For(iter=ast.Call(func=ast.Name(id="set" | "frozenset"))):
            return "walks through a set, whose order differs from run to run; sort it"
        case ast.comprehension(iter=ast.Call(func=ast.Name(id="set" | "frozenset"))):
            return "walks through a set, whose order differs from run to run; sort it"
    return None


def _is_allowed(module: str) -> bool:
    parts = module.split(".")
    return any(".".join(parts[:count]) in ALLOWED_MODULES for count in range(1, len(parts) + 1))


def _is_whole(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, int)


@pytest.mark.parametrize(
    "path", sorted(SIMULATION.rglob("*.py")), ids=lambda p: str(p.relative_to(SIMULATION))
)
def test_module_is_pure(path: Path) -> None:
    found = faults(path.read_text(encoding="utf-8"))
    if path.relative_to(SIMULATION).as_posix() in READERS_OF_FILES:
        found = [fault for fault in found if not fault.endswith("imports pathlib")]
    assert found == []


@pytest.mark.parametrize(
    ("source", "reason"),
    [
        ("import random", "imports random"),
        ("import time as clock", "imports time"),
        ("import os.path", "imports os.path"),
        ("import numpy", "imports numpy"),
        ("from wetwing_tools import cli", "imports wetwing_tools"),
        ("from datetime import datetime", "imports datetime"),
        ("import importlib", "imports importlib"),
        ("from urllib.request import urlopen", "imports urllib.request"),
        ("from math import exp, sqrt", "takes exp from math"),
        ("import math\nmath.log(2.0)", "uses math.log"),
        ("import math as m\nm.pow(2.0, 3.0)", "uses math.pow"),
        ("x = 1.5\ny = x**2", "raises to a power"),
        ("x = 0.1**2", "raises to a power"),
        ("x = 2\nx **= 2", "raises to a power"),
        ("pow(2.0, 0.5)", "calls pow()"),
        ("open('f')", "calls open()"),
        ("eval('1')", "calls eval()"),
        ("for name in {'a', 'b'}: pass", "walks through a set"),
        ("[n for n in set('ab')]", "walks through a set"),
    ],
)
def test_impure_source_is_found(source: str, reason: str) -> None:
    assert any(reason in fault for fault in faults(source))


@pytest.mark.parametrize(
    "source",
    [
        "from importlib import resources",
        "import importlib.resources",
        "from collections.abc import Mapping",
        "from . import condition",
        "from wetwing.physics.fuel import density_kg_m3",
        "import math\nmath.sqrt(2.0) + math.inf",
        "x = 10**6",
        "digits = 2\nx = 10**digits",
        "for name in sorted({'a', 'b'}): pass",
    ],
)
def test_pure_source_is_let_through(source: str) -> None:
    assert faults(source) == []


def test_allowed_mathematics_exists() -> None:
    assert [name for name in sorted(ALLOWED_MATH) if not hasattr(math, name)] == []

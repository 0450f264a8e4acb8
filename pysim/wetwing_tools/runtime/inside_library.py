"""Runs inside the browser's Python at build time: names the library files that the simulation can reach.

The result is the value of the last expression: a JSON object with `files` (paths inside the library's zip)
and `magic` (hex of the byte-code magic number of this very Python).
"""

import ast
import contextlib
import importlib
import importlib.resources
import importlib.util
import json
import sys
import traceback
from pathlib import Path

LIBRARY = f"/lib/python{sys.version_info.major}{sys.version_info.minor}.zip/"

# Text encodings that Python itself reaches by name at start, in error texts, and in file names of archives.
ENCODINGS = ("aliases", "ascii", "cp437", "idna", "latin_1", "unicode_escape", "utf_8", "utf_8_sig")

# Modules that library modules name only in their own self-tests.
TEST_TOOLS = frozenset({"doctest", "pdb", "test", "unittest"})


def named_imports(source: str) -> set[str]:
    """Return the dotted names of the standard library that a source text imports, at any depth of it."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module)
            names.update(f"{node.module}.{alias.name}" for alias in node.names)
    heads = sys.stdlib_module_names - TEST_TOOLS
    return {name for name in names if name.partition(".")[0] in heads}


def import_what_can_be(names: set[str]) -> None:
    """Import each name; what is no module (`math.floor`), or no module of this platform, is passed over."""
    for name in sorted(names):
        # Any exception: a module for another system fails in its own way.
        with contextlib.suppress(Exception):
            importlib.import_module(name)


def sources_of(package: str) -> list[str]:
    """Return the source text of every module of a package, imported or not."""
    spec = importlib.util.find_spec(package)
    if spec is None or not spec.submodule_search_locations:
        raise ModuleNotFoundError(f"no package {package} beside the library")
    folder = Path(spec.submodule_search_locations[0])
    return [path.read_text("utf-8") for path in sorted(folder.rglob("*.py"))]


def reachable_files() -> list[str]:
    """Import all that the simulation names, and one step further; return the library files now loaded.

    One step further means the imports that stand inside functions of the modules the simulation names: they
    run only when such a function is called, so loading alone does not show them.
    """
    wanted: set[str] = set()
    for source in sources_of("wetwing"):
        wanted |= named_imports(source)
    import_what_can_be(wanted)
    for name in sorted(wanted):
        module = sys.modules.get(name)
        spec = getattr(module, "__spec__", None)
        if spec and spec.origin and spec.origin.startswith(LIBRARY) and spec.loader:
            import_what_can_be(named_imports(spec.loader.get_source(name) or ""))

    import wetwing.browser

    warm_up = getattr(wetwing.browser, "warm_up", None)
    if warm_up is not None:
        warm_up()
    for request in ('{"ask": "hello"}', "not JSON"):
        try:
            wetwing.browser.answer(request)
        except Exception:  # the door should answer instead; the library's extent does not hang on it
            print(f"the package's door raised on {request!r}:\n{traceback.format_exc()}")
    # Reading a package's data reaches modules through the built-in importers, whose sources cannot be read
    # here.
    for entry in importlib.resources.files("wetwing").iterdir():
        if entry.is_file():
            entry.read_text("utf-8")
    import_what_can_be({f"encodings.{name}" for name in ENCODINGS})

    files = set()
    for module in list(sys.modules.values()):
        origin = getattr(getattr(module, "__spec__", None), "origin", None)
        if origin and origin.startswith(LIBRARY):
            files.add(origin.removeprefix(LIBRARY))
    return sorted(files)


json.dumps(
    {
        "files": reachable_files(),
        "magic": importlib.util.MAGIC_NUMBER.hex(),
    }
)

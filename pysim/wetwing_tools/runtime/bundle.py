"""Builds the runtime's folder: all that the page's Python needs, as scripts, named after its content.

    <version>/script-0.js             Pyodide's scripts and the worker's own source
    <version>/wasm-0.js …             the interpreter
    <version>/library-0.js …          standard library: what the simulation can reach, byte-compiled
    <version>/package-0.js            the simulation, byte-compiled, with its data files
    <version>/snapshot-0.js …         memory with the simulation loaded: the quick start, which may be missing
    <version>/worker.js               the same as `script`, plain: where a worker made in memory is refused
    <version>/manifest.json           what must be there, with checksums: for hosts and tests, never fetched

No network is used. The same inputs give the same bytes, and a build with unchanged inputs is a copy from the
cache.
"""

import contextlib
import hashlib
import json
import shutil
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from wetwing_tools.runtime import archives, parts
from wetwing_tools.runtime.node import Start
from wetwing_tools.runtime.sources import HERE, ROOT, Sources, find

FORMAT = 1
CACHE = ROOT / ".cache" / "runtime"
CACHE_KEEPS = 3

# The worker's own source comes first: Pyodide's loader begins with a directive that would put a whole file in
# strict mode, where its other script does not run.
WORKER_SCRIPTS = ("wheel.js", "worker.js")
PYODIDE_SCRIPTS = ("pyodide.asm.js", "pyodide.js")


@dataclass(frozen=True)
class BundleFile:
    """One file of the runtime's folder."""

    name: str
    size_bytes: int
    sha256: str


@dataclass(frozen=True)
class RuntimeBundle:
    """A built runtime: `path` holds the files; a page passes `manifest`, as JSON, to `startRuntime`."""

    path: Path
    folder: str
    files: tuple[BundleFile, ...]
    total_bytes: int
    manifest: dict[str, Any]


def build(out: Path, *, cache: Path | None = None, sources: Sources | None = None) -> RuntimeBundle:
    """Build the runtime into `out/<version>` and return what was built.

    Args:
        out: folder to put the versioned folder in; made if missing. Other folders in it are left alone.
        cache: folder for finished builds; `.cache/runtime` of the repository if not given.
        sources: what to build from; the repository's own if not given.

    Raises:
        MissingSource: a part is not installed, or of another version.
        ArchiveError: the package or the library could not be byte-compiled for the browser's Python.
        StartFailed: the browser's Python could not load the package.
    """
    sources = sources or find()
    cache = cache or CACHE
    kept = cache / sources.digest()
    if not (kept / "done").is_file():
        shutil.rmtree(kept, ignore_errors=True)
        cache.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=cache, prefix="making-") as scratch:
            made = Path(scratch) / "made"
            made.mkdir()
            (made / "done").write_text(_make(sources, Path(scratch), made), "utf-8")
            with contextlib.suppress(OSError):  # another build may have been quicker
                made.rename(kept)
    (kept / "done").touch()
    _prune(cache)
    version = (kept / "done").read_text("utf-8")
    target = out / version
    shutil.copytree(kept / version, target, dirs_exist_ok=True)
    return describe(target)


def describe(path: Path) -> RuntimeBundle:
    """Return the bundle in a built runtime's folder."""
    manifest = json.loads((path / "manifest.json").read_text("utf-8"))
    files = tuple(_file(file) for file in sorted(path.iterdir()))
    page_manifest = {key: manifest[key] for key in manifest if key != "sha256"}
    return RuntimeBundle(path, path.name, files, sum(file.size_bytes for file in files), page_manifest)


def _file(path: Path) -> BundleFile:
    content = path.read_bytes()
    return BundleFile(path.name, len(content), hashlib.sha256(content).hexdigest())


def _make(sources: Sources, scratch: Path, target: Path) -> str:
    """Make all files under `target/<version>`; return the version."""
    wheel = archives.write_wheel(
        scratch, "wetwing", sources.package_version, archives.package_files(sources.package)
    )
    whole_library = sources.pyodide / "python_stdlib.zip"
    found = json.loads(Start(sources, whole_library, wheel).run(HERE / "inside_library.py"))

    library_sources = scratch / "library.zip"
    archives.write_stored(library_sources, archives.read_files(whole_library, found["files"]))
    library = archives.byte_compile(library_sources, lean=True)
    package = archives.byte_compile(wheel, lean=True)
    for archive in (library, package):
        archives.check_magic(archive, bytes.fromhex(found["magic"]))

    snapshot = scratch / "snapshot"
    Start(sources, library, package).keep_memory(HERE / "inside_warm.py", snapshot)

    script = worker_script(sources)
    pieces = {
        "script": parts.split("script", script.encode("utf-8")),
        "wasm": parts.split("wasm", (sources.pyodide / "pyodide.asm.wasm").read_bytes()),
        "library": parts.split("library", library.read_bytes()),
        "package": parts.split("package", package.read_bytes()),
        "snapshot": parts.split("snapshot", snapshot.read_bytes()),
    }
    version = parts.version_of(pieces)
    folder = target / version
    folder.mkdir()
    for piece in pieces.values():
        for part in piece:
            (folder / part.file).write_text(parts.script(part, version), "ascii")
    (folder / "worker.js").write_text(script, "utf-8")
    manifest = {
        "format": FORMAT,
        "version": version,
        "release": json.loads((sources.pyodide / "pyodide-lock.json").read_text("utf-8"))["info"],
        "magic": found["magic"],
        "worker": "worker.js",
        "ownChars": len(own_script(sources)),
        "memoryBytes": snapshot.stat().st_size,
        "pieces": {name: [[part.file, part.chars] for part in piece] for name, piece in pieces.items()},
    }
    sums = {"sha256": {file.name: _file(file).sha256 for file in sorted(folder.iterdir())}}
    text = json.dumps({**manifest, **sums}, indent=1) + "\n"
    (folder / "manifest.json").write_text(text, "utf-8")
    return version


def worker_script(sources: Sources) -> str:
    """Return the whole source of the worker: our own, then Pyodide's, without its notes on source maps."""
    texts = [(sources.pyodide / name).read_text("utf-8") for name in PYODIDE_SCRIPTS]
    lines = "\n".join(texts).split("\n")  # not splitlines: the scripts hold other line breaks in strings
    kept = [line for line in lines if not line.startswith("//# sourceMappingURL=")]
    return own_script(sources) + "\n".join(kept) + "\n"


def own_script(sources: Sources) -> str:
    """Return our own part of the worker's source; alone it unpacks, but can't start Python."""
    return "\n".join((sources.page_scripts / name).read_text("utf-8") for name in WORKER_SCRIPTS) + "\n"


def _prune(cache: Path) -> None:
    """Keep the builds used last; remove older ones."""
    done = sorted(cache.glob("*/done"), key=lambda path: path.stat().st_mtime, reverse=True)
    for old in done[CACHE_KEEPS:]:
        shutil.rmtree(old.parent, ignore_errors=True)

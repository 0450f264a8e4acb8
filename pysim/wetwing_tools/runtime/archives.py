"""Makes the two archives that the browser's Python reads: the package's wheel and the trimmed standard
library.

Every archive written here has one fixed date, sorted names and stored (unpacked) entries: the same files give
the same bytes, and one gzip over the whole packs better than one an entry.
"""

import os
import subprocess
import sys
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path

FIXED_DATE = (1980, 1, 1, 0, 0, 0)
FIXED_MODE = 0o644 << 16

# Files of the package that are data, beside its modules.
DATA_SUFFIXES = frozenset({".toml", ".json", ".typed"})

# Byte-code begins with this many bytes that say which Python wrote it.
MAGIC_LENGTH = 4

type Files = Mapping[str, bytes]


class ArchiveError(Exception):
    """An archive could not be made, or does not fit the browser's Python."""


def package_files(package: Path) -> dict[str, bytes]:
    """Return the modules and data of a package folder by their path in a wheel, sorted.

    Raises:
        ArchiveError: the folder is no package.
    """
    if not (package / "__init__.py").is_file():
        raise ArchiveError(f"{package.name}: no package here (no __init__.py)")
    wanted = DATA_SUFFIXES | {".py"}
    paths = sorted(path for path in package.rglob("*") if path.suffix in wanted and path.is_file())
    return {path.relative_to(package.parent).as_posix(): path.read_bytes() for path in paths}


def write_stored(path: Path, files: Files) -> None:
    """Write files into a zip archive at `path`, stored, sorted and with one fixed date."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_STORED) as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name, FIXED_DATE)
            entry.external_attr = FIXED_MODE
            archive.writestr(entry, files[name])


def read_files(path: Path, only: Iterable[str] | None = None) -> dict[str, bytes]:
    """Return the files of a zip archive, or those named in `only`.

    Raises:
        ArchiveError: a named file is not in the archive.
    """
    with zipfile.ZipFile(path) as archive:
        held = [name for name in archive.namelist() if not name.endswith("/")]
        names = held if only is None else list(only)
        missing = sorted(set(names) - set(held))
        if missing:
            raise ArchiveError(f"{path.name}: {missing[0]} is not in the archive ({len(missing)} missing)")
        return {name: archive.read(name) for name in names}


def write_wheel(folder: Path, name: str, version: str, files: Files) -> Path:
    """Write a pure Python wheel of `files` into `folder` and return its path.

    The record of checksums is left out: nothing installs this wheel but our own start, and byte-compiling
    would make the record false.
    """
    info = f"{name}-{version}.dist-info"
    notes = {
        f"{info}/METADATA": f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\n".encode(),
        f"{info}/WHEEL": b"Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    path = folder / f"{name}-{version}-py3-none-any.whl"
    write_stored(path, {**files, **notes})
    return path


def byte_compile(archive: Path, *, lean: bool = False) -> Path:
    """Byte-compile every module of a wheel or zip with pyodide-build; return a new stored archive beside it.

    A process of its own, with fixed seeds, and byte-code that is tied to its source's hash instead of its
    date: the same sources give the same bytes. A wheel's notes (`.dist-info`) are left out of the result:
    Pyodide lists what it finds there in an object of the JavaScript side, and memory with such an object
    cannot be kept.

    Args:
        archive: the wheel or zip.
        lean: leave docstrings and `assert` out, which makes a library a quarter smaller.

    Raises:
        ArchiveError: pyodide-build failed, or left a module uncompiled.
    """
    work = archive.parent / f"{archive.stem}-compiled"
    work.mkdir()
    (work / archive.name).write_bytes(archive.read_bytes())
    env = {**os.environ, "SOURCE_DATE_EPOCH": "315532800", "PYTHONHASHSEED": "0"}
    env["PYTHONOPTIMIZE"] = "2" if lean else ""
    command = [sys.executable, "-m", "pyodide_cli", "py-compile", "--no-keep", "--compression-level=0", "."]
    done = subprocess.run(command, cwd=work, env=env, capture_output=True, text=True)
    results = sorted(work.iterdir())
    if done.returncode or len(results) != 1:
        raise ArchiveError(f"{archive.name}: byte-compiling failed:\n{done.stdout}{done.stderr}")
    files = read_files(results[0])
    left = [name for name in files if name.endswith(".py")]
    if left:
        raise ArchiveError(f"{archive.name}: {left[0]} was not byte-compiled")
    write_stored(results[0], {name: files[name] for name in files if ".dist-info/" not in name})
    return results[0]


def check_magic(archive: Path, magic: bytes) -> None:
    """Check that every compiled module begins with the browser's Python's magic number.

    Raises:
        ArchiveError: a module was compiled by another Python.
    """
    for name, content in read_files(archive).items():
        if name.endswith(".pyc") and content[:MAGIC_LENGTH] != magic:
            raise ArchiveError(
                f"{archive.name}: {name} was byte-compiled by another Python: found magic number "
                f"{content[:MAGIC_LENGTH].hex()}, the browser's Python wants {magic.hex()}. "
                f"Build with Python 3.13 (this is {sys.version_info.major}.{sys.version_info.minor})."
            )

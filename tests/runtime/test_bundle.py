"""The runtime's folder: what is in it, that equal inputs give equal bytes, and what its makers refuse."""

import dataclasses
import hashlib
import json
import shutil
import zipfile
from pathlib import Path

import pytest

from wetwing_tools.runtime import (
    ArchiveError,
    MissingSource,
    RuntimeBundle,
    StartFailed,
    archives,
    build,
    parts,
)
from wetwing_tools.runtime.bundle import own_script, worker_script
from wetwing_tools.runtime.node import Start
from wetwing_tools.runtime.sources import PYODIDE_FILES, Sources, find


def piece(bundle: RuntimeBundle, name: str) -> bytes:
    return parts.join(bundle.path, [file for file, _ in bundle.manifest["pieces"][name]])


def test_every_file_is_a_script_or_the_list_of_them(real_bundle: RuntimeBundle) -> None:
    names = {file.name for file in real_bundle.files}
    listed = {file for pieces in real_bundle.manifest["pieces"].values() for file, _ in pieces}
    assert names == listed | {"worker.js", "manifest.json"}
    assert all(name.endswith(".js") for name in listed)


def test_checksums_and_sizes_are_those_of_the_files(real_bundle: RuntimeBundle) -> None:
    sums = json.loads((real_bundle.path / "manifest.json").read_text("utf-8"))["sha256"]
    for file in real_bundle.files:
        content = (real_bundle.path / file.name).read_bytes()
        assert len(content) == file.size_bytes
        assert hashlib.sha256(content).hexdigest() == file.sha256
        if file.name != "manifest.json":
            assert sums[file.name] == file.sha256
    assert "sha256" not in real_bundle.manifest
    assert real_bundle.total_bytes == sum(file.size_bytes for file in real_bundle.files)


def test_no_budget_is_passed(real_bundle: RuntimeBundle) -> None:
    """What a reader downloads, base64 and all; the kept memory is the part that may be missing."""
    pieces = real_bundle.manifest["pieces"]
    total = sum(chars for files in pieces.values() for _, chars in files)
    memory = sum(chars for _, chars in pieces["snapshot"])
    assert total < 14_000_000
    assert total - memory < 7_200_000


def test_the_pieces_are_what_they_were_made_from(real_bundle: RuntimeBundle, sources: Sources) -> None:
    assert piece(real_bundle, "wasm") == (sources.pyodide / "pyodide.asm.wasm").read_bytes()
    script = piece(real_bundle, "script").decode("utf-8")
    assert script == worker_script(sources)
    assert (real_bundle.path / "worker.js").read_text("utf-8") == script
    assert "sourceMappingURL=" not in script
    units = script.encode("utf-16-le")  # a page counts and cuts text so
    assert units[: 2 * real_bundle.manifest["ownChars"]].decode("utf-16-le") == own_script(sources)


def test_no_path_of_this_machine_is_inside(real_bundle: RuntimeBundle, sources: Sources) -> None:
    here = str(sources.package.parents[1]).encode()
    for name in real_bundle.manifest["pieces"]:
        assert here not in piece(real_bundle, name), name


def test_the_package_is_whole_and_compiled(
    real_bundle: RuntimeBundle, sources: Sources, tmp_path: Path
) -> None:
    wheel = tmp_path / "package.whl"
    wheel.write_bytes(piece(real_bundle, "package"))
    with zipfile.ZipFile(wheel) as archive:
        held = set(archive.namelist())
        assert all(entry.compress_type == zipfile.ZIP_STORED for entry in archive.infolist())
    expected = {
        f"{name}c" if name.endswith(".py") else name for name in archives.package_files(sources.package)
    }
    assert held == expected
    archives.check_magic(wheel, bytes.fromhex(real_bundle.manifest["magic"]))


def test_the_library_is_trimmed_but_holds_what_the_package_names(
    real_bundle: RuntimeBundle, tmp_path: Path
) -> None:
    library = tmp_path / "library.zip"
    library.write_bytes(piece(real_bundle, "library"))
    names = set(archives.read_files(library))
    assert len(names) < 200
    assert {"json/__init__.pyc", "tomllib/__init__.pyc", "difflib.pyc", "traceback.pyc"} <= names
    assert {"pyodide/__init__.pyc", "_pyodide/__init__.pyc", "encodings/utf_8.pyc"} <= names
    assert not {name for name in names if name.startswith(("unittest/", "test/", "tkinter/"))}


def test_the_same_inputs_give_the_same_bytes(
    sample_bundle: RuntimeBundle, sample_sources: Sources, tmp_path: Path
) -> None:
    again = build(tmp_path / "out", cache=tmp_path / "cache", sources=sample_sources)
    assert again.folder == sample_bundle.folder
    assert again.files == sample_bundle.files


def test_an_unchanged_build_is_a_copy(sample_sources: Sources, tmp_path: Path) -> None:
    """With a cache that holds the build, nothing is run: a Node that does not exist is no hindrance."""
    build(tmp_path / "first", sources=sample_sources)
    without_node = dataclasses.replace(sample_sources, node=tmp_path / "no-node")
    assert build(tmp_path / "second", sources=without_node).path.is_dir()


def test_a_changed_package_is_another_version(sample_sources: Sources, tmp_path: Path) -> None:
    package = tmp_path / "wetwing"
    shutil.copytree(sample_sources.package, package)
    changed = dataclasses.replace(sample_sources, package=package)
    assert changed.digest() == sample_sources.digest()
    (package / "notes.toml").write_text('greeting = "another"\n', "utf-8")
    assert changed.digest() != sample_sources.digest()


def test_a_package_that_does_not_load_is_refused(sample_sources: Sources, tmp_path: Path) -> None:
    package = tmp_path / "wetwing"
    shutil.copytree(sample_sources.package, package)
    (package / "browser.py").write_text("import wetwing.nowhere\n", "utf-8")
    with pytest.raises(StartFailed, match=r"No module named 'wetwing\.nowhere'"):
        build(tmp_path / "out", cache=tmp_path, sources=dataclasses.replace(sample_sources, package=package))


def test_parts_give_back_what_they_were_given(tmp_path: Path) -> None:
    content = bytes(range(256)) * 9000 + hashlib.sha512(b"not to be packed").digest() * 40_000
    content += b"".join(hashlib.sha256(bytes([n % 256, n // 256])).digest() for n in range(65_000))
    made = parts.split("wasm", content)
    assert len(made) > 1
    assert all(part.chars == len(part.text) <= parts.PART_CHARS for part in made)
    for part in made:
        (tmp_path / part.file).write_text(parts.script(part, "0123456789abcdef"), "ascii")
    files = [part.file for part in made]
    assert parts.join(tmp_path, files) == content
    cut = tmp_path / files[0]
    cut.write_bytes(cut.read_bytes()[:-100])
    with pytest.raises(ValueError, match=r"wasm-0\.js: not a whole part"):
        parts.join(tmp_path, files)


def test_byte_code_of_another_python_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "x.whl"
    archives.write_stored(path, {"x.pyc": bytes.fromhex("a70d0d0a") + bytes(12)})
    with pytest.raises(
        ArchiveError, match=r"x\.pyc was byte-compiled by another Python: found magic number a70d0d0a"
    ):
        archives.check_magic(path, bytes.fromhex("f30d0d0a"))


def test_a_module_that_does_not_compile_is_refused(tmp_path: Path) -> None:
    wheel = archives.write_wheel(tmp_path, "wetwing", "1.0", {"wetwing/__init__.py": b"def (:\n"})
    with pytest.raises(ArchiveError, match="byte-compiling failed"):
        archives.byte_compile(wheel)


def test_a_name_that_the_library_lacks_is_refused(sources: Sources) -> None:
    with pytest.raises(ArchiveError, match=r"python_stdlib\.zip: nowhere\.py is not in the archive"):
        archives.read_files(sources.pyodide / "python_stdlib.zip", ["json/__init__.py", "nowhere.py"])


@pytest.mark.parametrize(
    ("version", "leave_out", "words"),
    [
        (
            "0.29.5",
            "python_stdlib.zip",
            r"node_modules/pyodide/python_stdlib\.zip is missing; run `make setup`",
        ),
        ("0.30.0", "", r"is version 0\.30\.0; the runtime is made for 0\.29\.5"),
    ],
)
def test_what_is_missing_is_named(tmp_path: Path, version: str, leave_out: str, words: str) -> None:
    folder = tmp_path / "node_modules" / "pyodide"
    folder.mkdir(parents=True)
    for name in PYODIDE_FILES:
        if name != leave_out:
            (folder / name).touch()
    (folder / "package.json").write_text(json.dumps({"version": version}), "utf-8")
    with pytest.raises(MissingSource, match=words):
        find(tmp_path)


def test_a_failure_under_node_is_told_in_its_own_words(sample_sources: Sources, tmp_path: Path) -> None:
    library = sample_sources.pyodide / "python_stdlib.zip"
    wheel = archives.write_wheel(tmp_path, "wetwing", "1.0", archives.package_files(sample_sources.package))
    script = tmp_path / "wrong.py"
    script.write_text("raise LookupError('told by the script')\n", "utf-8")
    with pytest.raises(StartFailed, match="LookupError: told by the script") as told:
        Start(sample_sources, library, wheel).run(script)
    assert len(str(told.value)) < 5000

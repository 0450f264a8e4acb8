"""What is installed is pinned, hashed, and named without an address: any registry or mirror can serve it."""

import json
import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.version import Version

ROOT = Path(__file__).resolve().parents[2]
REQUIREMENTS = sorted((ROOT / "requirements").glob("*.txt"))
PIN = re.compile(r"^(?P<name>[A-Za-z0-9._-]+)==(?P<version>[^\s;]+)(?: ;[^\\]*)? \\$")
HASH = re.compile(r"^    --hash=sha256:[0-9a-f]{64}(?: \\)?$")


def pins_of(path: Path) -> dict[str, Version]:
    """Read a hashed requirements file; anything in it but pins and their hashes is an error."""
    pins: dict[str, Version] = {}
    hashed: set[str] = set()
    name = ""
    for number, line in enumerate(path.read_text().splitlines(), 1):
        if pin := PIN.match(line):
            name = pin["name"]
            pins[name] = Version(pin["version"])
        else:
            assert HASH.match(line), f"{path.name}:{number}: neither a pin nor a hash: {line!r}"
            hashed.add(name)
    assert hashed == set(pins), f"{path.name}: without a hash: {set(pins) - hashed}"
    return pins


@pytest.mark.parametrize("path", REQUIREMENTS, ids=lambda path: path.name)
def test_every_python_part_is_pinned_and_hashed(path: Path) -> None:
    assert pins_of(path)


def test_pins_are_within_the_ranges_of_the_project() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())
    groups = project["dependency-groups"]
    wanted = {
        "desk": [*project["project"]["dependencies"], *groups["site"], *groups["test"]],
        "mutation": groups["mutation"],
        "node": groups["node"],
        "uv": groups["uv"],
    }
    assert {path.stem for path in REQUIREMENTS} == set(wanted)
    for stem, ranges in wanted.items():
        pins = pins_of(ROOT / "requirements" / f"{stem}.txt")
        for requirement in map(Requirement, ranges):
            assert pins[requirement.name.lower()] in requirement.specifier, f"{requirement} in {stem}.txt"


def test_every_node_part_is_pinned_and_hashed() -> None:
    lock = json.loads((ROOT / "package-lock.json").read_text())
    named = json.loads((ROOT / "package.json").read_text())
    assert lock["packages"][""]["devDependencies"] == named["devDependencies"]
    assert all(version[0].isdigit() for version in named["devDependencies"].values())
    for place, part in lock["packages"].items():
        assert "resolved" not in part, f"{place} records where it came from"
        assert place == "" or part["integrity"].startswith("sha512-"), f"{place} has no hash"


@pytest.mark.parametrize(
    "name", ["package.json", "package-lock.json", ".npmrc", "pyproject.toml", "Makefile"]
)
def test_no_file_of_the_tools_names_an_address_of_the_network(name: str) -> None:
    text = (ROOT / name).read_text().replace("http://127.0.0.1", "")
    assert "://" not in text
    assert not re.search(r"--(?:extra-)?index-url|--find-links|^registry", text, re.MULTILINE)

"""What the repository promises about itself."""

import json
import re
import subprocess
from pathlib import Path

import pytest

import wetwing

ROOT = Path(__file__).resolve().parents[2]
# Where a file was made says nothing to its reader, and is wrong on every other machine.
PATH_OF_A_MACHINE = re.compile(r"(?<![\w.:/])/(?:home|root|work|Users)/[\w.]+")
TEXT = {
    ".css",
    ".cfg",
    ".html",
    ".ini",
    ".js",
    ".json",
    ".md",
    ".mjs",
    ".py",
    ".svg",
    ".toml",
    ".txt",
    ".yml",
    "",
}


def files_of_the_repository() -> list[Path]:
    """List what git keeps or would keep; all files but the ignored ones."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    listed = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return [ROOT / name for name in listed.split("\0") if name and (ROOT / name).is_file()]


def test_no_file_names_a_path_of_a_machine() -> None:
    texts = [path for path in files_of_the_repository() if path.suffix in TEXT]
    assert len(texts) > 20
    found = [
        f"{path.relative_to(ROOT)}:{number}: {match[0]}"
        for path in texts
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1)
        if (match := PATH_OF_A_MACHINE.search(line))
    ]
    assert found == []


@pytest.mark.parametrize("folder", ["home", "root", "work", "Users"])
@pytest.mark.parametrize("line", ["see /{}/ann/x", '"/{}/.cache"', "open(/{}/a b)"])
def test_a_path_of_a_machine_would_be_found(line: str, folder: str) -> None:
    assert PATH_OF_A_MACHINE.search(line.format(folder))


@pytest.mark.parametrize(
    "name", ["uv.lock", ".venv/x", "node_modules/x", "site/index.html", "build/x", ".cache/x"]
)
def test_what_is_made_is_not_kept(name: str) -> None:
    assert subprocess.run(["git", "check-ignore", "-q", name], cwd=ROOT).returncode == 0


def test_the_readme_names_the_two_commands_and_the_machine_runs_the_same() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "make site" in readme
    assert "make test" in readme
    steps = [line for line in (ROOT / ".ci" / "run").read_text().splitlines() if line and line[0] != "#"]
    assert len(steps) == 1
    assert steps[0].endswith("exec make test")


def test_one_version_everywhere() -> None:
    assert json.loads((ROOT / "package.json").read_text())["version"] == wetwing.__version__
    assert f"## {wetwing.__version__}" in (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")


def test_the_folders_that_the_site_needs_are_in_a_clone() -> None:
    """Git keeps no empty folder, so one that the build asks for would be missing from every clone."""
    named = re.findall(
        r"^ *(?:docs_dir|custom_dir): *(\S+)$", (ROOT / "mkdocs.yml").read_text(), re.MULTILINE
    )
    kept = [path.relative_to(ROOT).as_posix() for path in files_of_the_repository()]
    assert "docs" in named
    assert [folder for folder in named if not any(name.startswith(f"{folder}/") for name in kept)] == []


def test_every_command_of_the_makefile_is_explained() -> None:
    text = (ROOT / "Makefile").read_text()
    (phony,) = re.findall(r"^\.PHONY: (.*)$", text, re.MULTILINE)
    explained = re.findall(r"^(\w+):.*## ", text, re.MULTILINE)
    assert sorted(phony.split()) == sorted(explained)
    for name in set(explained) - {"help", "picture"}:
        assert f"make {name}" in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"), name

"""What `make setup` decides. That it fills an empty clone is tried by every fresh run of the tests."""

import ast
import json
import sys
from pathlib import Path

import pytest

from wetwing_tools.desk import setup


def program(path: Path, says: str, code: int = 0) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"#!/bin/sh\necho '{says}'\nexit {code}\n")
    path.chmod(0o755)
    return path


@pytest.fixture
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A machine that has nothing, and a repository in which nothing was made."""
    monkeypatch.setattr(setup, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(setup, "PRIVATE_UV", tmp_path / "private")
    monkeypatch.setenv("PATH", str(tmp_path / "bin"))
    return tmp_path


def test_it_keeps_to_the_standard_library_of_python_3_11() -> None:
    tree = ast.parse(Path(setup.__file__).read_text(), feature_version=(3, 11))
    imported = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    imported |= {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert imported <= sys.stdlib_module_names


def test_a_uv_that_runs_is_taken(elsewhere: Path) -> None:
    found = program(elsewhere / "bin" / "uv", "uv 0.9.1 (abc)")
    assert setup._find_uv() == str(found)


@pytest.mark.parametrize(("says", "code"), [("not installed here", 127), ("uv 0.1.44", 0), ("", 0)])
def test_a_uv_that_refuses_or_is_too_old_is_passed_over(elsewhere: Path, says: str, code: int) -> None:
    program(elsewhere / "bin" / "uv", says, code)
    assert setup._find_uv() is None
    private = program(elsewhere / "private" / "bin" / "uv", "uv 0.13.9")
    assert setup._find_uv() == str(private)


@pytest.mark.parametrize(
    ("says", "good"), [("v22.1.0", True), ("v18.0.0", True), ("v16.20.2", False), ("", False)]
)
def test_node_must_be_new_enough(elsewhere: Path, says: str, good: bool) -> None:
    program(elsewhere / "bin" / "node", says)
    assert not setup._has_node(setup._path())  # npm is still missing
    program(elsewhere / "bin" / "npm", "10.0.0")
    assert setup._has_node(setup._path()) is good


def test_a_node_that_setup_brought_is_not_the_machines_own(
    elsewhere: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, says in (("node", "v24.1.0"), ("npm", "11.0.0")):
        program(elsewhere / ".venv" / "bin" / name, says)
    monkeypatch.setenv("PATH", f"{elsewhere / '.venv' / 'bin'}:{elsewhere / 'bin'}")
    assert setup._has_node(setup._path())
    assert not setup._has_node(setup._machine_path())


def test_a_moved_venv_is_seen(elsewhere: Path) -> None:
    assert not setup._was_moved()  # nothing was made yet
    made = program(elsewhere / ".venv" / "bin" / "wetwing", "")
    made.write_text(f"#!{elsewhere}/.venv/bin/python\n")
    assert not setup._was_moved()
    made.write_text("#!/elsewhere/.venv/bin/python\n")
    assert setup._was_moved()


def test_a_failed_step_says_what_to_do(tmp_path: Path) -> None:
    with pytest.raises(setup.SetupFailed, match="ended with code 4: the registry"):
        setup._run([str(program(tmp_path / "npm", "", 4))], "the registry could not be reached")
    with pytest.raises(setup.SetupFailed, match="could not be run"):
        setup._run([str(tmp_path / "nothing")], "the registry could not be reached")


def test_a_stamp_of_another_folder_or_of_other_pins_does_not_count(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stamp = tmp_path / "ready.json"
    monkeypatch.setattr(setup, "STAMP", stamp)
    assert not setup._is_ready("3.13")
    now = {"inputs": setup._hash_of_inputs(), "folder": str(setup.ROOT)}
    for told, expected in ((now, True), ({**now, "folder": "moved"}, False), ({**now, "inputs": "0"}, False)):
        stamp.write_text(json.dumps(told))
        assert setup._is_ready("3.13") is expected
    stamp.write_text(json.dumps(now)[:-3])
    assert not setup._is_ready("3.13")
